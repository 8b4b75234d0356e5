"""How long a plastic drive pipe lives under the beat: cycles, stress, and the allowed range."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from ramwright.errors import InputError
from ramwright.hydraulics._checks import between, finite, positive
from ramwright.hydraulics._constants import MINUTES_PER_YEAR
from ramwright.hydraulics.limits import Held, Side, ruling


class Measure(StrEnum):
    """Which stress a relation counts: the highest in a cycle, or from lowest to highest."""

    PEAK = "peak"
    RANGE = "range"


@dataclass(frozen=True, slots=True)
class CyclicStrength:
    """A published relation N = ``coefficient`` x (stress / ``stress_unit``)^-``exponent`` for one material.

    ``measure`` of the stress; ``stress_unit`` Pa (6894.757 for psi, 1e6 for MPa); ``from_cycles`` to
    ``to_cycles`` the extent of its tests; ``mark`` read or memory, and ``source`` its key, from the
    catalogue.
    """

    measure: Measure
    coefficient: float
    exponent: float
    stress_unit: float
    from_cycles: float
    to_cycles: float
    mark: str
    source: str

    def __post_init__(self) -> None:
        for field in ("coefficient", "exponent", "stress_unit", "from_cycles", "to_cycles"):
            positive(f"strength.{field}", getattr(self, field))

    def cycles(self, stress: float) -> float:
        """Return the cycles to failure at ``stress`` (Pa), infinite at none. Raises ``InputError``."""
        amount = finite("stress", stress)
        if amount <= 0.0:
            return math.inf
        log_cycles = math.log(self.coefficient) - self.exponent * math.log(amount / self.stress_unit)
        return math.exp(log_cycles) if log_cycles < 700.0 else math.inf

    def stress(self, cycles: float) -> float:
        """Return the stress (Pa) that ``cycles`` bring to failure. Raises ``InputError``."""
        return self.stress_unit * math.pow(self.coefficient / positive("cycles", cycles), 1.0 / self.exponent)


@dataclass(frozen=True, slots=True)
class FatigueLife:
    """How long a pipe lasts.

    ``cycles_per_year``; ``stress`` Pa that counts (peak or range); ``cycles_to_failure`` and ``years``,
    factor on stress included; ``allowed_stress`` Pa for the years wanted; ``stretched`` whether the answer
    lies beyond the tests of the relation; ``mark`` of the relation; ``rules`` stress against allowed
    stress.
    """

    cycles_per_year: float
    stress: float
    cycles_to_failure: float
    years: float
    allowed_stress: float
    stretched: bool
    mark: str
    rules: Held


def cycles_per_year(beats_per_minute: float, *, running_share: float = 1.0) -> float:
    """Return beats in a year of 365.25 days; ``running_share`` of the time it runs, 0 to 1.

    Raises ``InputError``.
    """
    share = between("running_share", running_share, 0.0, 1.0)
    return positive("beats_per_minute", beats_per_minute) * MINUTES_PER_YEAR * share


def hoop_stress(pressure: float, *, outside: float, wall: float) -> float:
    """Return the mean hoop stress of a pressurised pipe, Pa: p (Do - e) / (2 e).

    ``pressure`` Pa gauge; ``outside`` diameter and ``wall`` m. Thin-wall form of plastic pipe standards
    (ISO 161; from memory). Raises ``InputError``.
    """
    d, e = positive("outside", outside), positive("wall", wall)
    if 2.0 * e >= d:
        raise InputError("hydraulics_wall_too_thick", field="wall", value=e, outside=d)
    return finite("pressure", pressure) * (d - e) / (2.0 * e)


def fatigue_life(
    strength: CyclicStrength,
    *,
    peak_pressure: float,
    lowest_pressure: float,
    outside: float,
    wall: float,
    beats_per_minute: float,
    running_share: float = 1.0,
    years: float,
    stress_factor: float = 1.0,
) -> FatigueLife:
    """Return how long a pipe lasts under the same swing of pressure at every beat.

    From ``lowest_pressure`` to ``peak_pressure``, Pa gauge; ``outside`` diameter and ``wall`` m;
    ``running_share`` 0 to 1; ``years`` wanted; ``stress_factor`` on the stress, for joints and doubt. Every
    beat counts as one full cycle; ripples within it are left out. Raises ``InputError``.
    """
    if finite("lowest_pressure", lowest_pressure) > finite("peak_pressure", peak_pressure):
        raise InputError(
            "hydraulics_range_empty", field="lowest_pressure", value=lowest_pressure, high=peak_pressure
        )
    yearly = cycles_per_year(beats_per_minute, running_share=running_share)
    swing = peak_pressure - (lowest_pressure if strength.measure is Measure.RANGE else 0.0)
    stress = positive("stress_factor", stress_factor) * hoop_stress(
        max(swing, 0.0), outside=outside, wall=wall
    )
    wanted = yearly * positive("years", years)
    failing = strength.cycles(stress)
    allowed = strength.stress(wanted) if wanted > 0.0 else math.inf
    return FatigueLife(
        cycles_per_year=yearly,
        stress=stress,
        cycles_to_failure=failing,
        years=failing / yearly if yearly > 0.0 else math.inf,
        allowed_stress=allowed,
        stretched=wanted > strength.to_cycles or failing < strength.from_cycles,
        mark=strength.mark,
        rules=Held(f"cyclic_{strength.measure.value}", stress, allowed, Side.AT_MOST),
    )


def swing_against_rating(
    *,
    peak_pressure: float,
    lowest_pressure: float,
    rating: float,
    swing_share: float,
    peak_share: float,
) -> Held:
    """Return which rules of two rules of thumb: swing over the static rating, or peak over it.

    Pressures and ``rating`` Pa gauge; ``swing_share`` and ``peak_share`` allowed, from the catalogue.
    Raises ``InputError``.
    """
    hold = positive("rating", rating)
    swing = finite("peak_pressure", peak_pressure) - finite("lowest_pressure", lowest_pressure)
    return ruling(
        (
            Held("cyclic_swing", swing, positive("swing_share", swing_share) * hold, Side.AT_MOST),
            Held("cyclic_peak", peak_pressure, positive("peak_share", peak_share) * hold, Side.AT_MOST),
        )
    )
