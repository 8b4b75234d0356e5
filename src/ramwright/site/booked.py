"""Readings as a wet hand writes them: the unit once for a whole book, and rows instead of names.

``unit = "m"`` above the rows of a book is the unit of every length in it that has none of its own. A row is
a list in the order of its columns, ``["peg 1", 1.10, "", 2.31]``, or the same by name,
``{ point = "peg 1", backsight = 1.10, foresight = 2.31 }``.
"""

from dataclasses import dataclass
from functools import cache
from typing import Any, ClassVar, Final, get_args

from pydantic import BaseModel, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from ramwright.errors import InputError
from ramwright.quantities import KINDS, Kind, Reading, find_unit, parse_reading
from ramwright.site.fields import Quantity, RefusedError
from ramwright.site.parts import Part

UNIT_ENTRIES: Final = {
    "length": "unit",
    "time": "time_unit",
    "angle": "angle_unit",
    "pressure": "pressure_unit",
    "conductivity": "conductivity_unit",
}
"""Dimension -> the entry that says once which unit its readings are in."""
BLANKS: Final = frozenset({"", "-", "–", "—"})
"""What stands in a column of a row that was not read."""


@dataclass(frozen=True, slots=True)
class Bare:
    """A reading whose unit may stand once for all: ``entry`` is where, ``unit`` what stands there.

    ``single`` readings may have a ± of their own; rows and repeats have theirs once for all.
    """

    given: object
    unit: object
    entry: str
    single: bool

    def __str__(self) -> str:
        """The reading as typed."""
        return str(self.given)

    @property
    def blank(self) -> bool:
        """Whether nothing was read."""
        return isinstance(self.given, str) and self.given.strip() in BLANKS


@dataclass(frozen=True, slots=True)
class Noted(Quantity):
    """Like ``Quantity``, for readings whose unit may stand once for a whole section."""

    def read(self, given: object) -> Reading | str:
        """The reading in its own unit or in that of its section; raises ``RefusedError``."""
        if not isinstance(given, Bare):
            return super(Noted, self).read(given)
        try:
            reading = self._in_unit(given)
        except InputError as error:
            raise RefusedError(error) from None
        if not given.single and reading.sd is not None:
            raise RefusedError(InputError("spread_in_row", value=reading.text))
        return super(Noted, self).read(reading)

    def _in_unit(self, bare: Bare) -> Reading:
        try:
            return self._parse(bare.given)
        except InputError as error:
            if error.code != "missing_unit":
                raise
            if not isinstance(bare.unit, str):
                us, metric = (find.rpartition(" ")[2] for find in KINDS[self.kind].examples)
                raise InputError(
                    "unit_unsaid", value=error.value, entry=bare.entry, us=us, metric=metric
                ) from None
        typed = bare.given if isinstance(bare.given, str) else repr(bare.given)
        reading = parse_reading(f"{typed} {bare.unit}", self.kind)
        return Reading(typed, self.kind, reading.value, reading.sd)

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """A text or a plain number; the unit may stand elsewhere."""
        return {
            "type": ["string", "number"],
            "examples": [*dict.fromkeys(KINDS[self.kind].examples)],
            "x-quantity": self.kind,
        }


@dataclass(frozen=True, slots=True)
class UnitOf:
    """Marks a field as the name of a unit of ``kind``."""

    kind: Kind

    def read(self, given: object) -> str:
        """The unit as typed; raises ``RefusedError``."""
        if not isinstance(given, str):
            raise RefusedError(InputError("wrong_type_text"))
        if given.strip() and find_unit(given, self.kind) is not None:
            return given
        us, metric = (example.rpartition(" ")[2] for example in KINDS[self.kind].examples)
        wanted = KINDS[self.kind].dimension
        raise RefusedError(InputError("unit_unusable", value=given, wanted=wanted, us=us, metric=metric))

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        """Checked on the way in, as typed on the way out."""
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(str)
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """The name of a unit."""
        units = [example.rpartition(" ")[2] for example in KINDS[self.kind].examples]
        return {"type": "string", "examples": [*dict.fromkeys(units)]}


@dataclass(frozen=True, slots=True)
class _Field:
    """How a field is read: ``mark`` of its readings, or the part inside it; ``many`` of them in a list."""

    mark: Noted | None
    inside: type["Booked"] | None
    many: bool


class Booked(Part):
    """A section whose readings may have their unit once, at its top."""

    single: ClassVar[bool] = True
    """Whether readings of its own may each have a ±; False for the rows of a book."""

    @model_validator(mode="before")
    @classmethod
    def _with_units(cls, given: Any) -> Any:
        """Every reading with the unit that stands for all."""
        given = cls.by_name(given)
        if not isinstance(given, dict):
            return given
        return {name: _wrapped(cls, given, name, value) for name, value in given.items()}

    @classmethod
    def by_name(cls, given: Any) -> Any:
        """Entries by name; a section always has them so."""
        return given


class RowPart(Booked):
    """A row of a book: a list in the order of its fields, or its entries by name."""

    single = False

    @classmethod
    def by_name(cls, given: Any) -> Any:
        """Entries by name, what was not read left out; raises ``RefusedError`` for a row too long."""
        columns = tuple(cls.model_fields)
        if isinstance(given, list | tuple):
            if len(given) > len(columns):
                raise RefusedError(InputError("row_too_long", most=len(columns), columns=columns))
            given = dict(zip(columns, given, strict=False))
        if not isinstance(given, dict):
            raise RefusedError(InputError("row_expected", columns=columns))
        return {name: value for name, value in given.items() if not _blank(value)}

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """A list in the order of the columns, or a table."""
        table = handler.resolve_ref_schema(handler(schema))
        needed = len(table.get("required", ()))
        cells = [{"anyOf": [cell, {"enum": sorted(BLANKS)}]} for cell in table["properties"].values()]
        row = {"type": "array", "prefixItems": cells, "items": False, "minItems": needed}
        named = {key: value for key, value in table.items() if key != "description"}
        told = table.get("description", "")
        return {"description": told, "x-row": list(cls.model_fields), "anyOf": [row, named]}


def _blank(value: Any) -> bool:
    if isinstance(value, Bare):
        return value.blank
    return isinstance(value, str) and value.strip() in BLANKS


def _wrapped(cls: type[Booked], given: dict[str, Any], name: str, value: Any) -> Any:
    """``value`` of the entry ``name`` with the units of ``given``."""
    field = _fields(cls).get(name)
    if field is None:
        return value
    if field.mark is not None:
        if field.many and isinstance(value, list | tuple):
            return [_bare(field.mark, given, each, single=False) for each in value]
        return _bare(field.mark, given, value, single=cls.single)
    inside = field.inside
    assert inside is not None
    if field.many and isinstance(value, list | tuple):
        return [_handed_down(inside, given, each) for each in value]
    return _handed_down(inside, given, value)


def _bare(mark: Noted, given: dict[str, Any], value: Any, *, single: bool) -> Any:
    entry = UNIT_ENTRIES.get(KINDS[mark.kind].dimension)
    plain = isinstance(value, str | int | float) and not isinstance(value, bool)
    return Bare(value, given.get(entry), entry, single) if entry is not None and plain else value


def _handed_down(inside: type[Booked], given: dict[str, Any], value: Any) -> Any:
    """What stands inside, with the units said around it where it does not say its own."""
    units = {entry: given[entry] for entry in UNIT_ENTRIES.values() if entry in given}
    if issubclass(inside, RowPart):
        return _row(inside, units, value)
    if not isinstance(value, dict):
        return value
    return {**{entry: unit for entry, unit in units.items() if entry in inside.model_fields}, **value}


def _row(row: type[RowPart], units: dict[str, Any], value: Any) -> Any:
    names = tuple(row.model_fields)
    if isinstance(value, list | tuple):
        named = [(names[i] if i < len(names) else "", each) for i, each in enumerate(value)]
        return [_wrapped(row, units, name, each) for name, each in named]
    if isinstance(value, dict):
        return {name: _wrapped(row, units, name, each) for name, each in value.items()}
    return value


@cache
def _fields(cls: type[Booked]) -> dict[str, _Field]:
    """The fields of ``cls`` that hold readings, or parts that do."""
    found: dict[str, _Field] = {}
    for name, info in cls.model_fields.items():
        field = _field(info.annotation, list(info.metadata))
        if field is not None:
            found[name] = field
    return found


def _field(annotation: Any, marks: list[Any], many: bool = False) -> _Field | None:
    marks = [*marks, *getattr(annotation, "__metadata__", ())]
    mark = next((one for one in marks if isinstance(one, Noted)), None)
    if mark is not None:
        return _Field(mark, None, many)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return _Field(None, annotation, many) if issubclass(annotation, Booked) else None
    many = many or get_args(annotation)[1:] == (...,)
    inner = (one for one in get_args(annotation) if one not in (type(None), ...))
    return next((found for one in inner if (found := _field(one, [], many)) is not None), None)
