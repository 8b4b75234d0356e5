"""The point a staff, tape, hose or gauge stood on. 0.15 m is a tenth of a 1.5 m fall, so it is never
guessed.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from ramwright.errors import InputError


class Stand(StrEnum):
    """What was stood on."""

    GROUND = "ground"
    RAM_INLET = "ram_inlet"
    WASTE_VALVE_SEAT = "waste_valve_seat"
    OUTLET_LIP = "outlet_lip"
    WATER_SURFACE = "water_surface"
    TANK_INLET_TOP = "tank_inlet_top"
    GAUGE = "gauge"
    MARK = "mark"
    UNSTATED = "unstated"


class IntakeDam(StrEnum):
    """Whether the intake dam stood when a water surface was read; ``NONE`` where there is no dam."""

    NONE = "none"
    IN = "in"
    OUT = "out"
    UNSTATED = "unstated"


@dataclass(frozen=True, slots=True)
class LevelPoint:
    """One point that has a level: a place, and what was stood on there.

    The same place with another stand, or a water surface with the dam in and out, are different points; what
    lies between them is measured or is a stated range. Raises ``InputError`` for a place without a name, or a
    dam where no water surface was read.
    """

    place: str
    stand: Stand
    dam: IntakeDam = IntakeDam.NONE

    def __post_init__(self) -> None:
        if not self.place.strip():
            raise InputError("survey_place_unnamed", field="place", value=self.place)
        if self.dam is not IntakeDam.NONE and self.stand is not Stand.WATER_SURFACE:
            raise InputError("survey_dam_without_water", field="dam", value=self.dam.value, place=self.place)

    @property
    def key(self) -> str:
        """Its name in a level network."""
        dam = "" if self.dam is IntakeDam.NONE else f"/dam_{self.dam.value}"
        return f"{self.place}/{self.stand.value}{dam}"


def mark(name: str) -> LevelPoint:
    """A peg, bench mark or turning point that has no other meaning."""
    return LevelPoint(name, Stand.MARK)
