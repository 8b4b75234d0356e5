"""The point a staff, hose or tape stood on, as it is written in a field book.

``"ram, seat"``, ``"water in the drive tank"``, ``"tank inlet"``, ``"peg 4"``: a place and, where it matters,
what was stood on there. A place that has several points and is named without one is kept as unstated:
0.15 m is a tenth of a 1.5 m fall, so it is never guessed in silence. Words are those in common use, from
memory; only general terms are listed.
"""

import re
from dataclasses import dataclass
from functools import cache
from typing import Any, Final

from pydantic import GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from ramwright.errors import InputError
from ramwright.site.fields import RefusedError

LONGEST: Final = 100
"""Characters of a point's name."""
DRIVE_TANK: Final = "drive tank"
INTAKE: Final = "intake"
RAM: Final = "ram"
TANK: Final = "tank"
TOP: Final = "highest point"
TAILWATER: Final = "tailwater"

MARK: Final = "mark"
UNSTATED: Final = "unstated"
WATER: Final = "water_surface"

# Place -> other words for it; "|" between them.
_PLACES: Final = {
    DRIVE_TANK: "feed tank|head tank|header tank|header|standpipe|stand pipe|drum|bucket|box",
    INTAKE: "intake pool|intake dam|dam|spring|creek at intake|offtake",
    RAM: "hydraulic ram|hydram|ram pump",
    TANK: "storage tank|delivery tank|cistern|header cistern",
    TOP: "high point|summit of delivery line|top of delivery line|top of line",
    TAILWATER: "tail water|water below ram|water in ram pit|pit water",
}
_WATER: Final = "water|water level|water surface|surface"
_GROUND: Final = "ground|ground level|soil|earth|bed|bottom|base|foot|pad|slab"
# Place -> what can be stood on there -> words for it. "" is any other place.
_STANDS: Final[dict[str, dict[str, str]]] = {
    RAM: {
        "ground": _GROUND,
        "ram_inlet": "inlet|drive pipe inlet|ram inlet|middle of inlet|drive pipe",
        "waste_valve_seat": "seat|waste valve seat|valve seat|waste valve|impetus valve seat|clack seat",
        "gauge": "gauge|pressure gauge",
        WATER: _WATER,
    },
    DRIVE_TANK: {
        "ground": _GROUND,
        "outlet_lip": "lip|outlet lip|overflow lip|overflow|notch|overflow notch",
        WATER: _WATER,
        "gauge": "gauge|pressure gauge",
    },
    INTAKE: {"ground": _GROUND, "outlet_lip": "lip|crest|overflow lip|crest of dam", WATER: _WATER},
    TANK: {
        "ground": _GROUND,
        "tank_inlet_top": "inlet|top inlet|inlet top|top of inlet|top|rim",
        "outlet_lip": "overflow|overflow lip|lip",
        WATER: _WATER,
        "gauge": "gauge|pressure gauge",
    },
    "": {"ground": _GROUND, WATER: _WATER, "gauge": "gauge|pressure gauge"},
}
# Points that need no place to be told.
_ALONE: Final = {
    **dict.fromkeys(_STANDS[RAM]["waste_valve_seat"].split("|"), (RAM, "waste_valve_seat")),
    "ram inlet": (RAM, "ram_inlet"),
    "tank inlet": (TANK, "tank_inlet_top"),
}
_TURNING: Final = re.compile(r"(?:tp|cp|turning point|change point)\s*(\d*[a-z]?)")
_DAM: Final = re.compile(r"\bdam (in|out)(?=\s*(?:[,;)]|$))|\bwith(?:out)? dam$")
_OF: Final = re.compile(r"(.+?) (?:in|at|of|on|by) (.+)")


@dataclass(frozen=True, slots=True)
class Spot:
    """A point of the field book: ``text`` as typed, its ``place`` and what was stood on there.

    ``dam`` is "in" or "out" where the point itself says so of the intake dam; ``turning`` marks a change
    point, which means nothing beyond its own run, and ``place`` is then its number or nothing.
    """

    text: str
    place: str
    stand: str
    dam: str | None = None
    turning: bool = False

    def __str__(self) -> str:
        """The point as typed."""
        return self.text


def read_spot(text: str) -> Spot:
    """The point a text means.

    A place of ours with a point it does not have raises ``InputError("stand_unknown")`` naming those it
    has, where the two are parted by a comma; any other name is a mark of its own.
    """
    plain = _plain(text)
    dam, plain = _without_dam(plain)
    if turning := _TURNING.fullmatch(plain):
        return Spot(text, turning[1], MARK, None, turning=True)
    place, stand = _place_and_stand(text, plain)
    if dam is not None and (place, stand) != (INTAKE, WATER):
        if (place, stand) != (INTAKE, UNSTATED):
            raise InputError("dam_elsewhere", value=text)
        stand = WATER  # the dam is only ever noted with the water it holds
    return Spot(text, place, stand, dam)


def _plain(text: str) -> str:
    """Capitals, hyphens and "the" do not matter."""
    words = re.sub(r"[-_\s]+", " ", text.strip().casefold()).replace("’", "'")
    return re.sub(r"\bthe ", "", words)


def _without_dam(plain: str) -> tuple[str | None, str]:
    found = _DAM.search(plain)
    if found is None:
        return None, plain
    state = found[1] or ("out" if "without" in found[0] else "in")
    rest = (plain[: found.start()] + plain[found.end() :]).strip(" ,:;()")
    # "dam in" alone is the water behind it
    return state, re.sub(r"\s*[,:;]\s*$|\(\s*\)", "", rest).strip() or INTAKE


def _place_and_stand(text: str, plain: str) -> tuple[str, str]:
    if plain in _ALONE:
        return _ALONE[plain]
    places = _places()
    if plain in places:
        place = places[plain]
        alone = {TAILWATER: WATER, TOP: MARK}
        return place, alone.get(place, UNSTATED)
    before, comma, after = (part.strip() for part in re.sub(r"[:;]", ",", plain).rpartition(","))
    if comma:
        if before in places:
            return _at(text, places[before], after)
        return (before, _stands("")[after]) if after in _stands("") else (plain, MARK)
    if found := _OF.fullmatch(plain):
        stand, where = found[1], found[2]
        if where in places and stand in _stands(places[where]):
            return _at(text, places[where], stand)
    for name in sorted(places, key=len, reverse=True):
        rest = plain.removeprefix(f"{name} ")
        if rest != plain and rest in _stands(places[name]):
            return _at(text, places[name], rest)
    return plain, MARK


def _at(text: str, place: str, stand: str) -> tuple[str, str]:
    if place == TOP:
        return place, MARK
    known = _stands(place)
    if stand not in known:
        says = tuple(words.partition("|")[0] for words in _STANDS.get(place, _STANDS[""]).values())
        raise InputError("stand_unknown", value=text, place=place, stand=stand, known=says)
    return place, known[stand]


@cache
def _places() -> dict[str, str]:
    """Every word for a place of ours -> the place."""
    return {word: place for place, others in _PLACES.items() for word in (place, *others.split("|"))}


@cache
def _stands(place: str) -> dict[str, str]:
    """Every word for what can be stood on at ``place`` -> the stand."""
    table = _STANDS.get(place, _STANDS[""])
    return {word: stand for stand, words in table.items() for word in words.split("|")}


class Standing:
    """Marks a field as a point of the field book."""

    @staticmethod
    def read(given: object) -> Spot:
        """The entry as a ``Spot``; raises ``RefusedError``."""
        if isinstance(given, Spot):
            return given
        if not isinstance(given, str):
            raise RefusedError(InputError("wrong_type_text"))
        if not given.strip(" ,:;-_"):
            raise RefusedError(InputError("text_empty"))
        if len(given) > LONGEST:
            raise RefusedError(InputError("text_too_long", most=LONGEST))
        if any("\ud800" <= letter <= "\udfff" for letter in given):
            raise RefusedError(InputError("text_unwritable"))
        try:
            return read_spot(given)
        except InputError as error:
            raise RefusedError(error) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        """Read on the way in, as typed on the way out."""
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(str)
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """A text."""
        return {"type": "string", "examples": ["ram, seat", "peg 1"], "x-point": True}
