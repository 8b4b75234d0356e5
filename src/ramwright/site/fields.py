"""The kinds of entry a sheet has: readings with a unit, choices, counts and texts."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, Final, get_args

from pydantic import Field, StrictBool, StrictInt, StrictStr
from pydantic_core import CoreSchema, core_schema

from ramwright.errors import InputError
from ramwright.quantities import KINDS, Kind, Reading, check_bounds, parse_reading
from ramwright.site.ranges import bounds

if TYPE_CHECKING:  # slow to import, and only annotations need them
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic.json_schema import JsonSchemaValue

MOST_PIECES: Final = 100
"""Pipes in one line; more is a slip."""
MOST_ROWS: Final = 2000
"""Points of one profile; an instrument that logs more gives a file."""
FARTHEST: Final = 1e6
LONGEST_LABEL: Final = 100
_DAY_S: Final = 86400.0
_NOMINAL: Final = re.compile(r"\s*DN\s*(\d{1,4})\s*\Z", re.IGNORECASE)


class RefusedError(ValueError):
    """Carries an ``InputError`` through pydantic, which collects only its own kinds of error.

    ``at`` leads from the part that refuses to the entry refused, where that is not one of its own.
    """

    def __init__(self, error: InputError, at: tuple[str | int, ...] = ()) -> None:
        self.error = error
        self.at = at or ((error.field,) if error.field else ())
        super().__init__(error.code)


@dataclass(frozen=True, slots=True)
class Quantity:
    """Marks a field as a reading of ``kind`` within the plausible range named ``limits``.

    ``word`` is a word allowed instead (``"tune"``). ``form`` admits one more way of writing it:
    ``"nominal"`` a size such as ``DN 32``; ``"daily"`` a volume, meant per day.
    """

    kind: Kind
    limits: str
    word: str = ""
    form: str = ""

    def read(self, given: object) -> Reading | str:
        """The entry as a ``Reading`` (or the allowed word); raises ``RefusedError``."""
        if self.word and isinstance(given, str) and given.strip().casefold() == self.word:
            return self.word
        try:
            reading = given if isinstance(given, Reading) else self._parse(given)
            if reading.kind != self.kind:
                wanted = KINDS[self.kind]
                us, metric = wanted.examples
                raise InputError(
                    "wrong_kind",
                    value=reading.text,
                    given=KINDS[reading.kind].dimension,
                    wanted=wanted.dimension,
                    us=us,
                    metric=metric,
                )
            check_bounds(reading.value, self.kind, bounds(self.limits, self.kind), typed=reading.text)
        except InputError as error:
            raise RefusedError(error) from None
        return reading

    def _parse(self, given: object) -> Reading:
        if self.form == "nominal" and isinstance(given, str) and (nominal := _NOMINAL.match(given)):
            return Reading(given, self.kind, int(nominal[1]) / 1000.0)
        try:
            return parse_reading(given, self.kind)  # type: ignore[arg-type]  # it refuses what is not text
        except InputError as error:
            if self.form == "daily" and error.details.get("given") == "volume":
                day = parse_reading(given, "volume")  # type: ignore[arg-type]
                sd = None if day.sd is None else day.sd / _DAY_S
                return Reading(day.text, self.kind, day.value / _DAY_S, sd)
            raise

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Read on the way in, as typed on the way out."""
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(str)
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """A text with a unit; plain numbers where there is no unit."""
        bare = KINDS[self.kind].dimension in ("number", "fraction", "slope")
        return {
            "type": ["string", "number"] if bare else "string",
            "examples": [*dict.fromkeys(KINDS[self.kind].examples), *([self.word] if self.word else [])],
            "x-quantity": self.kind,
        }


@dataclass(frozen=True, slots=True)
class Choice:
    """Marks a field as one of a few words; capitals, hyphens and spaces do not matter."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """The word as we write it, when it is one of them."""
        words = {_plain(word): word for word in get_args(source)}

        def same(given: object) -> object:
            return words.get(_plain(given), given) if isinstance(given, str) else given

        return core_schema.no_info_before_validator_function(same, handler(source))


def _plain(word: str) -> str:
    return re.sub(r"[-_\s]+", " ", word.strip().casefold())


def _read_row(given: object) -> tuple[int | float | str, ...]:
    """A row of a profile: two plain numbers, and perhaps what stands there; raises ``RefusedError``."""
    cells = tuple(given) if isinstance(given, list | tuple) else ()
    numbers, label = cells[:2], cells[2:]
    whole = len(numbers) == 2 and all(isinstance(n, int | float) and not isinstance(n, bool) for n in numbers)
    # written so that not-a-number fails too
    if not (whole and len(label) <= 1 and all(-FARTHEST <= n <= FARTHEST for n in numbers)):
        raise RefusedError(InputError("profile_row"))
    if label and not (isinstance(label[0], str) and len(label[0]) <= LONGEST_LABEL):
        raise RefusedError(InputError("profile_label", most=LONGEST_LABEL))
    if label and any("\ud800" <= letter <= "\udfff" for letter in str(label[0])):
        raise RefusedError(InputError("text_unwritable"))
    return cells


class _Row:
    """Marks a field as a row of a profile."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Checked on the way in, as typed on the way out."""
        return core_schema.no_info_plain_validator_function(
            _read_row, serialization=core_schema.plain_serializer_function_ser_schema(list)
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """Two numbers and perhaps a text."""
        number, text = {"type": "number"}, {"type": "string"}
        return {"type": "array", "prefixItems": [number, number, text], "minItems": 2, "maxItems": 3}


Row = Annotated[tuple[int | float | str, ...], _Row()]
"""Station, level and perhaps a label, as typed."""
Name = Annotated[StrictStr, Field(min_length=1, max_length=200, pattern=r"\S")]
Text = Annotated[StrictStr, Field(max_length=20_000)]
Count = Annotated[StrictInt, Field(ge=0, le=200)]
Rams = Annotated[StrictInt, Field(ge=1, le=20)]
Holes = Annotated[StrictInt, Field(ge=1, le=100_000)]
YesNo = StrictBool
