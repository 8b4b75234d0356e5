"""On which line of a sheet an entry stands, for what is found wrong with it after it was read."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path as FilePath

from ramwright.errors import InputError, RamwrightError
from ramwright.site.lines import Path
from ramwright.site.syntax import LARGEST_BYTES, decode, entries
from ramwright.site.words import Ours

_PART = re.compile(r"\[(\d+)\]|([^.\[\]]+)")


def entry_line(path: str | os.PathLike[str], field: str) -> int | None:
    """Line of the entry ``field`` (dotted: ``drive_pipe[0].length``), or of what it belongs to.

    None where neither stands on the sheet, or where the sheet cannot be read.
    """
    name = os.fspath(path)
    try:
        with FilePath(name).open("rb") as file:
            text = decode(file.read(LARGEST_BYTES + 1), sheet=name)
        return Ours(*entries(text, sheet=name)).line(_parts(field))
    except (OSError, ValueError, InputError):
        return None


def _parts(field: str) -> Path:
    return tuple(int(index) if index else name for index, name in _PART.findall(field))


@contextmanager
def naming_lines(path: str | os.PathLike[str]) -> Iterator[None]:
    """Errors raised inside get the line of their entry on the sheet at ``path``, where they have none."""
    try:
        yield
    except RamwrightError as error:
        if error.line is None and error.field:
            error.line = entry_line(path, error.field)
        raise
