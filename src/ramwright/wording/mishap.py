"""What to say when ramwright itself is at fault."""

from __future__ import annotations

from collections.abc import Sequence

from ramwright.wording.blanks import fill
from ramwright.wording.translate import translate


def apology(kind: str, message: str, written: Sequence[str], language: str | None = None) -> str:
    """An unexpected error in a few lines: its ``kind`` and ``message``, and what is kept of the work.

    ``written`` names the files this command finished before it stopped.
    """
    lines = ["Sorry: ramwright met something it was not made for and stopped ({kind}: {message})."]
    if written:
        lines.append("Kept: {written}. Nothing else was written.")
    else:
        lines.append("No file was written or changed.")
    lines.append(
        "This is a fault in ramwright, not in your sheet. RAMWRIGHT_DEBUG=1 before the command shows where."
    )
    values = {"kind": kind, "message": message or "-", "written": list(written)}
    return "\n".join(fill(translate(line, language), values, "us") for line in lines)
