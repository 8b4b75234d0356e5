"""What to say when ramwright itself is at fault."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from ramwright.wording.blanks import fill
from ramwright.wording.translate import translate

APOLOGY: Final = {
    "sorry": "Sorry: ramwright met something it was not made for and stopped ({kind}: {message}).",
    "kept": "Kept: {written}. Nothing else was written.",
    "nothing": "No file was written or changed.",
    "fault": "This is a fault in ramwright, not in your sheet. RAMWRIGHT_DEBUG=1 before the command shows "
    "where.",
}
WROTE: Final = "Wrote {name}."
STARTED: Final = "Wrote {name}. Fill it in, then: {command}"


def wrote(name: object, language: str | None = None) -> str:
    """That a file was written."""
    return fill(translate(WROTE, language), {"name": str(name)}, "us")


def started(name: object, command: str, language: str | None = None) -> str:
    """That a sheet to be filled in was written, and the ``command`` that comes next."""
    return fill(translate(STARTED, language), {"name": str(name), "command": command}, "us")


def apology(kind: str, message: str, written: Sequence[str], language: str | None = None) -> str:
    """An unexpected error in a few lines: its ``kind`` and ``message``, and what is kept of the work.

    ``written`` names the files this command finished before it stopped.
    """
    lines = [APOLOGY["sorry"], APOLOGY["kept" if written else "nothing"], APOLOGY["fault"]]
    values = {"kind": kind, "message": message or "-", "written": list(written)}
    return "\n".join(fill(translate(line, language), values, "us") for line in lines)
