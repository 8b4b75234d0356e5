"""Read a sheet: a file, a text, or entries from a form, into a ``Site``, or all that is wrong with it."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path as FilePath
from typing import Any

from pydantic import ValidationError

from ramwright.errors import InputError
from ramwright.site.lines import Lines
from ramwright.site.models import SCHEMA_VERSION, Site
from ramwright.site.problems import gather, together
from ramwright.site.syntax import LARGEST_BYTES, decode, entries
from ramwright.site.words import Ours


def read_sheet(path: str | os.PathLike[str]) -> Site:
    """Read the sheet in the file ``path``.

    Raises ``InputError``: ``sheet_missing`` or ``sheet_unreadable`` for the file, one of the codes of
    ``syntax`` for its text, or ``SheetErrors`` with everything wrong in its entries.
    """
    name = os.fspath(path)
    try:
        with FilePath(name).open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)  # never more, whatever the file says its size is
    except FileNotFoundError:
        raise InputError("sheet_missing", sheet=name) from None
    except (OSError, ValueError) as error:  # a folder, no permission; a name with a zero byte in it
        reason = error.strerror if isinstance(error, OSError) else None
        raise InputError("sheet_unreadable", sheet=name, reason=reason or type(error).__name__) from None
    site = read_sheet_bytes(data, name)
    site._folder = os.path.dirname(os.path.abspath(name))
    return site


def read_sheet_bytes(data: bytes, name: str) -> Site:
    """Read a sheet as it was sent; ``name`` is what to call it in errors. Raises as ``read_sheet``."""
    return read_sheet_text(decode(data, sheet=name), name)


def read_sheet_text(text: str, name: str) -> Site:
    """Read a sheet from its text; ``name`` is what to call it in errors. Raises as ``read_sheet``."""
    raw, lines = entries(text, sheet=name)
    return _site(raw, lines, name)


def site_from_entries(raw: Mapping[str, Any], name: str = "") -> Site:
    """A ``Site`` from entries that were never a text (a form, a program), checked in the same way."""
    return _site(raw, Lines(), name)


def _site(raw: Mapping[str, Any], lines: Lines, name: str) -> Site:
    _check_version(raw.get("schema_version", SCHEMA_VERSION), lines)
    ours = Ours(raw, lines)
    try:
        site = Site.model_validate(ours.entries)
    except ValidationError as found:
        raise gather(found, ours, name) from None
    if ours.errors:
        raise together(ours.errors, name)
    site._notes_on_input = tuple(ours.notes)
    return site


def _check_version(version: object, lines: Lines) -> None:
    """Only a known version is read: guessing at a later one would lose what it says."""
    if type(version) is not int or version != SCHEMA_VERSION:
        shown = version if type(version) is int and version.bit_length() < 64 else None
        line = lines.line(("schema_version",))
        raise InputError(
            "schema_version", field="schema_version", value=shown, line=line, known=SCHEMA_VERSION
        )
