"""Operating chart: one ram over a range of lift, fall, valve weight or stroke, and where it stops."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, get_args

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import InputError
from ramwright.ram.grid import Grid
from ramwright.ram.layout import OUTCOMES
from ramwright.ram.result import ManyResults
from ramwright.ram.run import Progress, run_many
from ramwright.ram.system import RamSystem

Vary = Literal["lift", "fall", "weight", "stroke"]
_BETWEEN: Final = 7
_ROUNDS: Final = 2


def _weight(system: RamSystem, times: float) -> RamSystem:
    valve = system.waste_valve
    pull0, pull1, pull2 = valve.opening_force
    force = (pull0 * times, pull1 * times, pull2 * times)
    return replace(system, waste_valve=replace(valve, mass_kg=valve.mass_kg * times, opening_force=force))


def _stroke(system: RamSystem, stroke: float) -> RamSystem:
    return replace(system, waste_valve=replace(system.waste_valve, stroke_m=stroke))


def _lift(system: RamSystem, lift: float) -> RamSystem:
    return replace(system, delivery_line=replace(system.delivery_line, lift_m=lift))


def _fall(system: RamSystem, fall: float) -> RamSystem:
    return replace(system, fall_m=fall)


_CHANGES: Final[dict[Vary, Callable[[RamSystem, float], RamSystem]]] = {
    "lift": _lift,
    "fall": _fall,
    "weight": _weight,
    "stroke": _stroke,
}


def varied(system: RamSystem, what: Vary, value: float) -> RamSystem:
    """The system with one thing changed: ``lift``, ``fall`` or ``stroke`` in m, ``weight`` times its own.

    Raises ``InputError`` for what is no such thing, or a value the system cannot have.
    """
    if what not in get_args(Vary):
        raise InputError("vary_unknown", field="what", value=what, known=get_args(Vary))
    return _CHANGES[what](system, value)


@dataclass(frozen=True, slots=True)
class Edge:
    """Where the ram stops lifting water: the value, and the outcomes just below and just above it."""

    value: float
    below: str
    above: str


@dataclass(frozen=True, slots=True)
class Chart:
    """Results of one ram over ``values`` of ``what`` (shape (n,), rising), and the edges between them."""

    what: Vary
    values: NDArray[np.float64]
    results: ManyResults
    edges: tuple[Edge, ...]

    def best(self) -> int | None:
        """Index of the value that delivers most, or None if it never lifts water."""
        lifts = self.results.lifts_water()
        if not lifts.any():
            return None
        return int(np.argmax(np.where(lifts, self.results.delivery, -1.0)))

    def sharpness(self) -> float:
        """How sharp the best is: the share of the span where delivery is within 5 % of it; NaN if none."""
        best = self.best()
        if best is None:
            return math.nan
        near = self.results.lifts_water() & (self.results.delivery >= 0.95 * self.results.delivery[best])
        first, last = best, best
        while first > 0 and near[first - 1]:
            first -= 1
        while last < len(near) - 1 and near[last + 1]:
            last += 1
        span = float(self.values[-1] - self.values[0])
        return float(self.values[last] - self.values[first]) / span if span > 0.0 else math.nan


def chart(
    system: RamSystem,
    what: Vary,
    values: Sequence[float] | NDArray[np.float64],
    *,
    grid: Grid | None = None,
    workers: int | None = None,
    progress: Progress | None = None,
) -> Chart:
    """Run ``system`` over ``values`` (any number, sorted here) of ``what`` and find where it stops.

    ``grid``, ``workers`` and ``progress`` as in ``run_many``; raises like it and like ``varied``. Between
    neighbours of which one lifts water and the other does not, the edge is found to 1/64 of their gap; a
    second edge inside one gap is not looked for.
    """
    points = np.array(sorted(float(v) for v in values))
    if not len(points):
        raise InputError("chart_empty", field="values", value=0)
    results = run_many(
        [varied(system, what, v) for v in points], grid=grid, workers=workers, progress=progress
    )
    lifts = results.lifts_water()
    gaps = [
        (float(points[i]), float(points[i + 1])) for i in range(len(points) - 1) if lifts[i] != lifts[i + 1]
    ]
    codes = [
        (OUTCOMES[int(results.outcome[i])], OUTCOMES[int(results.outcome[i + 1])])
        for i in range(len(points) - 1)
        if lifts[i] != lifts[i + 1]
    ]
    for _ in range(_ROUNDS):
        inner = [np.linspace(low, high, _BETWEEN + 2)[1:-1] for low, high in gaps]
        tried = run_many(
            [varied(system, what, float(v)) for row in inner for v in row], grid=grid, workers=workers
        )
        for k, row in enumerate(inner):
            gaps[k], codes[k] = _narrow(gaps[k], codes[k], row, tried, k * _BETWEEN)
    edges = tuple(
        Edge(0.5 * (low + high), below, above)
        for (low, high), (below, above) in zip(gaps, codes, strict=True)
    )
    return Chart(what, points, results, edges)


def _narrow(
    gap: tuple[float, float],
    codes: tuple[str, str],
    inner: NDArray[np.float64],
    tried: ManyResults,
    first: int,
) -> tuple[tuple[float, float], tuple[str, str]]:
    """The part of a gap that holds the edge nearest to its lower end, from runs at ``inner``."""
    lifts = tried.lifts_water()
    begins = codes[0] in ("runs", "no_period")
    low, below = gap[0], codes[0]
    for k, value in enumerate(inner):
        code = OUTCOMES[int(tried.outcome[first + k])]
        if bool(lifts[first + k]) != begins:
            return (low, float(value)), (below, code)
        low, below = float(value), code
    return (low, gap[1]), (below, codes[1])
