"""Write a site as a sheet: the same words in the same order every time, readings as they were typed."""

from __future__ import annotations

import re
from typing import Final

from pydantic import BaseModel

from ramwright.quantities import Reading
from ramwright.site.booked import RowPart
from ramwright.site.models import Site

_SHORT: Final = {"\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r", '"': '\\"', "\\": "\\\\"}
_ESCAPED: Final = re.compile(r'[\x00-\x1f"\\\x7f]')


def write_sheet(site: Site) -> str:
    """The sheet of ``site`` as TOML; reading it again gives an equal site."""
    rows: list[str] = []
    _section(site, "", rows)
    return "\n".join(rows).strip("\n") + "\n"


def _section(part: BaseModel, name: str, rows: list[str]) -> None:
    """Entries of one part, then the parts inside it."""
    inside: list[tuple[str, BaseModel, str]] = []
    for entry in type(part).model_fields:
        value = getattr(part, entry)
        path = f"{name}.{entry}" if name else entry
        if isinstance(value, BaseModel):
            inside.append((path, value, f"[{path}]"))
        elif isinstance(value, tuple) and value and isinstance(value[0], Reading | RowPart):
            rows.extend(_listed(entry, value))
        elif isinstance(value, tuple):
            inside.extend((path, piece, f"[[{path}]]") for piece in value if isinstance(piece, BaseModel))
            listed = [f"  [{', '.join(map(_value, row))}]," for row in value if isinstance(row, tuple)]
            rows.extend([f"{entry} = [", *listed, "]"] if listed else [])
        elif value is not None:
            rows.append(f"{entry} = {_value(value)}")
    for path, piece, header in inside:
        rows.extend(["", header])
        _section(piece, path, rows)


def _listed(entry: str, values: tuple[Reading | RowPart, ...]) -> list[str]:
    """Repeats of a reading on one line, rows of a book each on its own."""
    lines: list[str] = []
    for value in values:
        if isinstance(value, Reading):
            return [f"{entry} = [{', '.join(map(_value, values))}]"]
        cells = [getattr(value, column) for column in type(value).model_fields]
        while cells and cells[-1] is None:
            cells.pop()
        lines.append(f"  [{', '.join(map(_cell, cells))}],")
    return [f"{entry} = [", *lines, "]"]


def _cell(value: object) -> str:
    """One column of a row, empty where nothing was read."""
    return '""' if value is None else _value(value)


def _value(value: object) -> str:
    """One entry's value: yes or no, a number, a text or a reading as typed."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    text = value.text if isinstance(value, Reading) else str(value)
    if "\n" in text:
        lines = (_ESCAPED.sub(_escape, line) for line in text.split("\n"))
        return '"""\n' + "\n".join(lines) + '"""'
    return f'"{_ESCAPED.sub(_escape, text)}"'


def _escape(found: re.Match[str]) -> str:
    letter = found.group()
    return _SHORT.get(letter) or f"\\u{ord(letter):04x}"
