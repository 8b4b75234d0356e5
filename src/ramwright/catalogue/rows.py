"""Rows and tables as the rest of the project sees them: SI figures that know where they come from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from ramwright.catalogue.provenance import Figure, Mark, Provenance
from ramwright.errors import InputError

Value: TypeAlias = float | str | bool | None


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table: values by their SI name, the line it stands on, and its provenance.

    A row with a range has ``low``, ``likely`` and ``high`` in the SI unit named by ``unit``.
    """

    table: str
    line: int
    values: Mapping[str, Value]
    provenance: Provenance
    more_provenance: Mapping[str, Provenance] = field(default_factory=dict)

    def _get(self, name: str) -> Value:
        if name not in self.values:
            raise InputError(
                "catalogue_column_unknown", field=self.table, value=name, known=tuple(self.values)
            )
        return self.values[name]

    def number(self, name: str) -> float:
        """The number in column ``name``, SI; ``InputError`` where the row has none."""
        value = self._get(name)
        if isinstance(value, bool) or not isinstance(value, float):
            raise InputError("catalogue_no_number", field=f"{self.table}.{name}", value=value, line=self.line)
        return value

    def maybe(self, name: str) -> float | None:
        """The number in column ``name``, SI, or None where the cell is empty."""
        return None if self._get(name) is None else self.number(name)

    def text(self, name: str) -> str:
        """The text in column ``name``, '' where the cell is empty."""
        value = self._get(name)
        return "" if value is None else str(value)

    def flag(self, name: str) -> bool:
        """The yes or no in column ``name``."""
        return self._get(name) is True

    def provenance_of(self, group: str) -> Provenance:
        """Provenance of a group of columns that has its own (``"rating"``), else the row's."""
        return self.more_provenance.get(group, self.provenance)

    @property
    def figure(self) -> Figure:
        """``low``, ``likely`` and ``high`` as a figure; a missing low or high is the likely value.

        Raises ``InputError`` where the row has no likely value (a rule that only states limits).
        """
        likely = self.number("likely")
        low, high = self.maybe("low"), self.maybe("high")
        return Figure(
            likely if low is None else low,
            likely,
            likely if high is None else high,
            self.text("unit"),
            self.provenance,
        )


@dataclass(frozen=True, slots=True)
class Table:
    """A published table, or a list of practice: what it is, where from, and its rows."""

    name: str
    title: str
    provenance: Provenance
    location: str
    valid: str
    note: str
    key: tuple[str, ...]
    rows: tuple[Row, ...]

    def __iter__(self) -> Iterator[Row]:
        return iter(self.rows)

    def __len__(self) -> int:
        return len(self.rows)

    def where(self, **wanted: Value) -> tuple[Row, ...]:
        """The rows whose columns hold just these values, in the table's order; perhaps none."""
        return tuple(
            row for row in self.rows if all(row.values.get(name) == value for name, value in wanted.items())
        )

    def row(self, key: Value = None, /, **wanted: Value) -> Row:
        """The only row whose columns hold just these values; a bare ``key`` is for the first key column.

        ``table("materials").row("pvc")``, ``table("shop_rams").row(size="2 in", valve="any",
        quantity="bore")``. Raises ``InputError`` when no row or several rows match, naming what there is.
        """
        if key is not None:
            wanted = {self.key[0]: key, **wanted}
        found = self.where(**wanted)
        if len(found) == 1:
            return found[0]
        given = ", ".join(str(value) for value in wanted.values())
        columns = [name for name in self.key if name in wanted] or list(self.key)
        known = dict.fromkeys(" ".join(str(row.values[name]) for name in columns) for row in self.rows)
        if found:
            raise InputError("catalogue_row_unclear", field=self.name, value=given, known=tuple(known))
        raise InputError("catalogue_row_unknown", field=self.name, value=given, known=tuple(known))

    @property
    def marks(self) -> frozenset[Mark]:
        """Every mark that stands in the table."""
        return frozenset(row.provenance.mark for row in self.rows)
