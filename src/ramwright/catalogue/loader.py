"""Read a table: a CSV file and the TOML file beside it that says what it is.

The TOML file of ``name.csv`` is ``name.toml``::

    title = "PVC pipe, schedules 40 and 80"
    source = "fluids-piping"      # a key of sources.toml, for rows that name none
    mark = "read"                 # read, derived, memory, practice or judgement, likewise
    rests_on = "memory"           # only for derived: the weakest mark it was computed from
    location = "table 14"         # where in the source
    valid = "water at 23 C"       # where it holds
    key = ["series", "size"]      # columns that tell rows apart
    [columns]
    series = { is = "series", kind = "text" }
    od_mm = { is = "outside diameter", min = 10, max = 200 }

A column is a number unless ``kind`` says ``text`` or ``flag`` (yes or no); ``optional = true`` allows
empty cells, ``choices`` lists the only texts. Columns ``source``, ``mark``, ``rests_on``, ``unit`` and
``about`` need no entry; ``unit`` is the unit of ``low``, ``likely`` and ``high``. A column
``rating_mark`` (with ``rating_source``) marks the ``rating`` apart from the rest of its row.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final

from ramwright.catalogue.provenance import Mark, Provenance, Source
from ramwright.catalogue.rows import Row, Table, Value
from ramwright.catalogue.units import UNITS, Unit, split_header
from ramwright.errors import InputError

DATA: Final = Path(__file__).with_name("data")
"""Where the published tables lie."""

_MARKS: Final = {mark.name.lower(): mark for mark in Mark}
_UNMARKED: Final = "none"
_RANGE: Final = ("low", "likely", "high")
_PLAIN_TEXT: Final = {"kind": "text", "optional": True}
_UNDECLARED: Final[dict[str, dict[str, Any]]] = {
    "source": _PLAIN_TEXT,
    "mark": _PLAIN_TEXT,
    "rests_on": _PLAIN_TEXT,
    "about": _PLAIN_TEXT,
    "unit": {"kind": "text"},
    **{part: {"optional": True} for part in _RANGE},
}
_ENTRIES: Final = {"title", "source", "mark", "rests_on", "location", "valid", "note", "key", "columns"}
_COLUMN_ENTRIES: Final = {"is", "kind", "optional", "choices", "min", "max"}


@dataclass(frozen=True, slots=True)
class _Column:
    """How the cells under one header are read."""

    header: str
    name: str
    unit: Unit
    rule: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class _Marks:
    """Turns the marks and sources written in ``table`` into provenances."""

    table: str
    works: Mapping[str, Source]

    def of_row(self, line: int, raw: Mapping[str, str], group: str, whole: Provenance) -> Provenance:
        """Provenance of a row, or of a ``group`` of its columns; the table's own where it says nothing."""
        mark, source = raw.get(f"{group}mark", ""), raw.get(f"{group}source", "")
        rests_on = raw.get(f"{group}rests_on", "")
        if not (mark or source or rests_on):
            return whole
        mark = mark or whole.mark.name.lower()
        if not source:
            source = _UNMARKED if mark in {"practice", "judgement"} else whole.source.key
        return self.provenance(mark, source, rests_on, line)

    def provenance(self, mark: str, source: str, rests_on: str, line: int | None = None) -> Provenance:
        """The provenance that these words mean."""
        for written in filter(None, (mark, rests_on)):
            if written not in _MARKS:
                known = tuple(_MARKS)
                raise InputError(
                    "catalogue_mark_unknown", field=self.table, line=line, value=written, known=known
                )
        if source not in self.works:
            near = closest(source, tuple(self.works))
            raise InputError(
                "catalogue_source_unknown", field=self.table, line=line, value=source, closest=near
            )
        meant = _MARKS[mark]
        if meant is Mark.DERIVED and not rests_on:
            raise InputError("catalogue_derived_from_what", field=self.table, line=line)
        basis = _MARKS[rests_on] if meant is Mark.DERIVED else meant
        if Mark.READ in {meant, basis} and not self.works[source].read:
            raise InputError("catalogue_source_not_read", field=self.table, line=line, value=source)
        return Provenance(meant, self.works[source], basis)


def closest(given: str, known: list[str] | tuple[str, ...], count: int = 4) -> tuple[str, ...]:
    """The few ``known`` names most like ``given``, best first; the first few when none is like it."""
    import difflib  # only when something was not found

    lowered = {name.lower(): name for name in known}
    found = difflib.get_close_matches(given.lower(), lowered, n=count, cutoff=0.3)
    return tuple(lowered[name] for name in found) or tuple(known[:count])


def table_names() -> tuple[str, ...]:
    """Names of all tables, sorted."""
    return tuple(sorted(path.stem for path in DATA.glob("*.csv")))


@cache
def sources() -> Mapping[str, Source]:
    """Every work that figures come from, by key."""
    listed = _read_toml("sources", (DATA / "sources.toml").read_text(encoding="utf-8"))
    return {key: Source(key, entry["text"], bool(entry["read"])) for key, entry in listed.items()}


@cache
def table(name: str) -> Table:
    """The table ``name``, read once; ``InputError`` naming the closest tables when there is none."""
    if name not in table_names():
        raise InputError("catalogue_table_unknown", value=name, closest=closest(name, table_names()))
    return read_table(
        name,
        (DATA / f"{name}.csv").read_text(encoding="utf-8"),
        (DATA / f"{name}.toml").read_text(encoding="utf-8"),
    )


def read_table(
    name: str, rows: str, sidecar: str, known_sources: Mapping[str, Source] | None = None
) -> Table:
    """The table in the text of a CSV file and of its TOML file.

    Raises ``InputError`` naming table, column and line for the first cell that is missing, is not what
    its column says, lies outside its range, or claims to be read from a source that was not.
    """
    import csv  # here, so that importing the catalogue stays quick

    about = _about(name, sidecar)
    marks = _Marks(name, sources() if known_sources is None else known_sources)
    whole = marks.provenance(about["mark"], about["source"], about.get("rests_on", ""))
    lines = list(csv.reader(rows.splitlines()))
    if len(lines) < 2:
        raise InputError("catalogue_table_empty", field=name)
    columns = _columns(name, lines[0], about["columns"])
    found = tuple(
        _row(line, columns, cells, marks, whole) for line, cells in enumerate(lines[1:], start=2) if cells
    )
    key = tuple(split_header(header)[0] for header in about["key"])
    _check_key(name, key, found)
    notes = {entry: about.get(entry, "") for entry in ("location", "valid", "note")}
    return Table(name=name, title=about["title"], provenance=whole, key=key, rows=found, **notes)


def _read_toml(name: str, text: str) -> dict[str, Any]:
    import tomllib  # here, so that importing the catalogue stays quick

    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError("catalogue_sidecar_unreadable", field=name, reason=str(error)) from error


def _about(name: str, sidecar: str) -> dict[str, Any]:
    about = _read_toml(name, sidecar)
    for entry in ("title", "source", "mark", "key", "columns"):
        if not about.get(entry):
            raise InputError("catalogue_sidecar_incomplete", field=name, value=entry)
    for entry in about:
        if entry not in _ENTRIES:
            raise InputError(
                "catalogue_sidecar_entry", field=name, value=entry, known=tuple(sorted(_ENTRIES))
            )
    for header, rule in about["columns"].items():
        for entry in rule:
            if entry not in _COLUMN_ENTRIES:
                known = tuple(sorted(_COLUMN_ENTRIES))
                raise InputError(
                    "catalogue_sidecar_entry", field=f"{name}.{header}", value=entry, known=known
                )
    return about


def _columns(name: str, headers: list[str], declared: Mapping[str, Any]) -> list[_Column]:
    columns = []
    for header in headers:
        stem = next((end for end in ("source", "mark", "rests_on") if header.endswith(f"_{end}")), header)
        rule = declared.get(header, _UNDECLARED.get(stem))
        if rule is None:
            raise InputError("catalogue_column_undeclared", field=name, value=header)
        numeric = rule.get("kind", "number") == "number"
        si_name, unit = split_header(header) if numeric else (header, UNITS["1"])
        columns.append(_Column(header, si_name, unit, rule))
    names = [column.name for column in columns]
    twice = next((one for one in names if names.count(one) > 1), None)
    if twice is not None:
        raise InputError("catalogue_column_twice", field=name, value=twice)
    absent = tuple(header for header in declared if header not in headers)
    if absent:
        raise InputError("catalogue_column_absent", field=name, value=absent[0])
    return columns


def _row(line: int, columns: list[_Column], cells: list[str], marks: _Marks, whole: Provenance) -> Row:
    name = marks.table
    if len(cells) != len(columns):
        raise InputError(
            "catalogue_row_length", field=name, line=line, value=len(cells), expected=len(columns)
        )
    raw = {column.header: cell.strip() for column, cell in zip(columns, cells, strict=True)}
    values: dict[str, Value] = {c.name: _cell(f"{name}.{c.header}", line, c, raw[c.header]) for c in columns}
    if "unit" in raw:
        _apply_unit(name, line, raw["unit"], values)
    present = [number for number in map(values.get, _RANGE) if isinstance(number, float)]
    if present != sorted(present):
        raise InputError("catalogue_range_out_of_order", field=name, line=line, value=tuple(present))
    groups = [column.header.removesuffix("_mark") for column in columns if column.header.endswith("_mark")]
    return Row(
        name,
        line,
        values,
        marks.of_row(line, raw, "", whole),
        {group: marks.of_row(line, raw, f"{group}_", whole) for group in groups},
    )


def _cell(field: str, line: int, column: _Column, cell: str) -> Value:
    rule = column.rule
    kind = rule.get("kind", "number")
    if not cell:
        if not rule.get("optional", False):
            raise InputError("catalogue_cell_missing", field=field, line=line)
        return None
    if kind == "text":
        choices = rule.get("choices")
        if choices and cell not in choices:
            raise InputError(
                "catalogue_cell_not_a_choice", field=field, line=line, value=cell, choices=tuple(choices)
            )
        return cell
    if kind == "flag":
        if cell not in {"yes", "no"}:
            raise InputError("catalogue_cell_not_a_flag", field=field, line=line, value=cell)
        return cell == "yes"
    try:
        number = float(cell)
    except ValueError:
        number = math.nan
    if not math.isfinite(number):
        raise InputError("catalogue_cell_not_a_number", field=field, line=line, value=cell)
    low, high = rule.get("min", -math.inf), rule.get("max", math.inf)
    if not low <= number <= high:
        raise InputError(
            "catalogue_cell_out_of_range", field=field, line=line, value=cell, low=low, high=high
        )
    return column.unit.to_si(number)


def _apply_unit(name: str, line: int, written: str, values: dict[str, Value]) -> None:
    """Turn the row's range into SI by its unit cell."""
    unit = UNITS.get(written)
    if unit is None:
        raise InputError("catalogue_unit_unknown", field=name, line=line, value=written, known=tuple(UNITS))
    for part in _RANGE:
        number = values.get(part)
        if isinstance(number, float):
            values[part] = unit.to_si(number)
    values["unit"] = unit.si


def _check_key(name: str, key: tuple[str, ...], rows: tuple[Row, ...]) -> None:
    seen: dict[tuple[Value, ...], int] = {}
    for row in rows:
        for column in key:
            if column not in row.values:
                raise InputError("catalogue_column_absent", field=name, value=column)
        values = tuple(row.values[column] for column in key)
        if values in seen:
            raise InputError(
                "catalogue_row_repeated", field=name, line=row.line, value=values, first=seen[values]
            )
        seen[values] = row.line
