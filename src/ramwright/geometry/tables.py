"""Profiles from rows and from CSV files, whatever the spreadsheet made of them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass

from ramwright.errors import InputError
from ramwright.geometry.numbers import (
    DecimalMark,
    decimal_mark,
    is_length_unit,
    looks_like_number,
    parse_length,
)
from ramwright.geometry.profile import Measured, Profile

MOST_BYTES = 2_000_000
MOST_ROWS = 20_000
_LONGEST_LABEL = 200

_STATION_NAMES = frozenset(
    {
        "station",
        "stations",
        "sta",
        "stn",
        "chainage",
        "ch",
        "distance",
        "dist",
        "length",
        "along",
        "running distance",
    }
    | {"x", "s", "slope distance", "horizontal distance", "pipe length", "stationing"}
)
_LEVEL_NAMES = frozenset(
    {"level", "levels", "elevation", "elev", "ele", "height", "altitude", "alt", "z", "rl", "reduced level"}
)
_LABEL_NAMES = frozenset(
    {"label", "point", "name", "note", "notes", "remark", "remarks", "description", "comment", "id", "what"}
)


@dataclass(frozen=True, slots=True)
class _Columns:
    """Which cell of a row is what, and in which unit."""

    station: int
    level: int
    label: int | None
    station_unit: str
    level_unit: str
    measured: Measured


@dataclass(frozen=True, slots=True)
class _Row:
    """One data row: its line in the file, counted from 1, and its cells, stripped."""

    line: int
    cells: tuple[str, ...]


def profile_from_rows(
    rows: Sequence[Sequence[object]],
    *,
    unit: str = "m",
    measured: Measured = Measured.SLOPE,
    level_sd: float | None = None,
) -> Profile:
    """Return a profile from rows of (station, level) or (station, level, label): numbers or text as typed.

    ``unit`` of both numbers where a cell names none; ``measured`` how distances were taken; ``level_sd`` m.
    Errors name the row, counted from 1, as ``line``. Raises ``InputError``.
    """
    if len(rows) > MOST_ROWS:
        raise InputError("geometry_too_many_rows", field="rows", value=len(rows), most=MOST_ROWS)
    table = [
        _Row(line=i, cells=tuple("" if c is None else str(c).strip() for c in row))
        for i, row in enumerate(rows, start=1)
    ]
    columns = _Columns(0, 1, 2, _known_unit(unit), _known_unit(unit), measured)
    return _build([r for r in table if any(r.cells)], columns, comma_parts_cells=False, level_sd=level_sd)


def profile_from_csv(
    data: bytes | str,
    *,
    unit: str = "m",
    measured: Measured = Measured.SLOPE,
    level_sd: float | None = None,
    most_bytes: int = MOST_BYTES,
) -> Profile:
    """Return a profile from the text of a CSV file.

    Cells may be parted by comma, semicolon, tab or bar; decimals by point or comma; a first line of
    headings may name the columns in any order with units ("Chainage (ft)"), and a heading "horizontal
    distance" sets ``measured``. Lines starting with # and empty lines are passed over. ``unit`` is used
    where nothing names one. At most ``most_bytes``. Raises ``InputError`` with the line.
    """
    text = _decode(data, most_bytes)
    rows, delimiter = _read_rows(text)
    if not rows:
        raise InputError("geometry_file_empty", field="file")
    columns = _Columns(0, 1, 2, _known_unit(unit), _known_unit(unit), measured)
    first = rows[0]
    if not any(looks_like_number(c) for c in first.cells[:2]):
        columns = _read_headings(first, unit=unit, measured=measured)
        rows = rows[1:]
    return _build(rows, columns, comma_parts_cells=delimiter == ",", level_sd=level_sd)


def _decode(data: bytes | str, most_bytes: int) -> str:
    """Return the file's text; UTF-8 or UTF-16 with a mark, else Windows-1252, as spreadsheets write it."""
    if len(data) > most_bytes:
        raise InputError("geometry_file_too_big", field="file", value=len(data), most=most_bytes)
    if isinstance(data, str):
        return data.removeprefix("\ufeff")
    encoding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as cause:
        if encoding == "utf-16" or b"\0" in data:
            raise InputError("geometry_not_text", field="file") from cause
        return data.decode("cp1252", errors="replace")


def _read_rows(text: str) -> tuple[list[_Row], str]:
    """Return the rows that hold something, and the mark that parts their cells."""
    first, _, rest = text.partition("\n")
    named = re.fullmatch(r"\s*sep=(.)\s*", first, re.IGNORECASE)  # a spreadsheet's own note of the mark
    skipped = 1 if named else 0
    body = rest if named else text
    delimiter = named.group(1) if named else _delimiter(body)
    if delimiter in '"\r\n':
        raise InputError("geometry_file_unreadable", field="file", line=1)
    rows: list[_Row] = []
    reader = csv.reader(io.StringIO(body, newline=""), delimiter=delimiter, skipinitialspace=True)
    try:
        for cells in reader:
            stripped = tuple(c.strip() for c in cells)
            if not any(stripped) or stripped[0].startswith("#"):
                continue
            rows.append(_Row(line=reader.line_num + skipped, cells=stripped))
            if len(rows) > MOST_ROWS + 1:
                raise InputError("geometry_too_many_rows", field="file", value=len(rows), most=MOST_ROWS)
    except csv.Error as cause:
        raise InputError("geometry_file_unreadable", field="file", line=reader.line_num + skipped) from cause
    return rows, delimiter


def _delimiter(text: str) -> str:
    """Return the mark that parts the cells.

    The first of tab, semicolon, bar found outside quotes, else comma.
    """
    plain = re.sub(r'"[^"\n]*"', "", "\n".join(line for line in text.splitlines()[:50] if line[:1] != "#"))
    return next((mark for mark in ("\t", ";", "|") if mark in plain), ",")


def _read_headings(row: _Row, *, unit: str, measured: Measured) -> _Columns:
    """Return which column is what, from headings such as ``Chainage (ft), Ground level [m], Note``."""
    found: dict[str, tuple[int, str]] = {}
    for at, cell in enumerate(row.cells):
        name, cell_unit = _split_heading(cell)
        if name in _STATION_NAMES:
            kind = "station"
            if name == "horizontal distance":
                measured = Measured.HORIZONTAL
            elif name in ("slope distance", "pipe length"):
                measured = Measured.SLOPE
        elif name in _LEVEL_NAMES or name.split(" ")[-1] in _LEVEL_NAMES:
            kind = "level"
        elif name in _LABEL_NAMES:
            kind = "label"
        else:
            continue
        if kind in found and kind != "label":
            raise InputError("geometry_heading_twice", field=kind, value=cell[:_LONGEST_LABEL], line=row.line)
        found.setdefault(kind, (at, cell_unit or unit))
    for kind in ("station", "level"):
        if kind not in found:
            headings = ", ".join(row.cells)[:_LONGEST_LABEL]
            raise InputError("geometry_heading_missing", field=kind, value=headings, line=row.line)
    return _Columns(
        station=found["station"][0],
        level=found["level"][0],
        label=found["label"][0] if "label" in found else None,
        station_unit=_known_unit(found["station"][1], line=row.line),
        level_unit=_known_unit(found["level"][1], line=row.line),
        measured=measured,
    )


def _split_heading(cell: str) -> tuple[str, str]:
    """Return a heading's name and unit, both lower case.

    ``Level [m]``, ``level, m``, ``level_m`` -> level, m.
    """
    text = re.sub(r"\s+", " ", cell.strip().lower().replace("_", " "))
    bracket = re.fullmatch(r"(.*?)\s*[(\[]\s*([^)\]]*?)\s*[)\]]", text)
    if bracket:
        return bracket.group(1), bracket.group(2)
    words = re.split(r"[ ,/]+", text)
    if len(words) > 1 and is_length_unit(words[-1]):
        return " ".join(words[:-1]), words[-1]
    return text, ""


def _known_unit(unit: str, *, line: int | None = None) -> str:
    """Return ``unit`` when it names a unit of length."""
    if not is_length_unit(unit):
        raise InputError("geometry_unit_unknown", field="unit", value=unit[:_LONGEST_LABEL], line=line)
    return unit


def _build(
    rows: Sequence[_Row], columns: _Columns, *, comma_parts_cells: bool, level_sd: float | None
) -> Profile:
    """Return the profile of the rows; errors of one point are told with its line."""
    needed = max(columns.station, columns.level)
    for row in rows:
        if len(row.cells) <= needed:
            raise InputError("geometry_row_short", field="row", value=len(row.cells), line=row.line)
    pairs = [(r.cells[columns.station], r.cells[columns.level]) for r in rows]
    numbered = ((row.line, cell) for row, pair in zip(rows, pairs, strict=True) for cell in pair)
    mark = decimal_mark(numbered, comma_parts_cells=comma_parts_cells)
    distances, levels, labels = [], [], []
    for row, (station, level) in zip(rows, pairs, strict=True):
        distances.append(_number(station, mark, columns.station_unit, "station", row.line))
        levels.append(_number(level, mark, columns.level_unit, "level", row.line))
        has_label = columns.label is not None and columns.label < len(row.cells)
        labels.append(row.cells[columns.label or 0][:_LONGEST_LABEL] if has_label else "")
    try:
        return Profile.from_points(
            distances, levels, measured=columns.measured, labels=labels, level_sd=level_sd
        )
    except InputError as error:
        point = error.details.get("point")
        if not isinstance(point, int):
            raise
        error.line = rows[point].line
        raise


def _number(cell: str, mark: DecimalMark, unit: str, field: str, line: int) -> float:
    """Return one cell's length, m, or say that it is empty."""
    if not cell:
        raise InputError("geometry_cell_empty", field=field, line=line)
    return parse_length(cell, mark=mark, unit=unit, field=field, line=line)
