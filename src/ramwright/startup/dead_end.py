"""The dead-end test before the delivery line is joined: how high the gauge goes, how fast it leaks down."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Range
from ramwright.appraise.stretches import Stretch
from ramwright.catalogue import temperature_factor
from ramwright.errors import InputError, LimitError
from ramwright.hydraulics.water import Water
from ramwright.ram import AirVessel, run_many
from ramwright.startup.alone import Alone
from ramwright.startup.bench import Bench
from ramwright.startup.presses import as_range
from ramwright.startup.rules import rule
from ramwright.startup.vessel import Vessel

Array = NDArray[np.float64]
_G = 9.80665
#: The engine is run at this multiple of the shut-off head: it then beats and delivers nothing.
_BEYOND = 1.3
_STEPS = 200
LEAKS = ("leak-drip", "leak-thread")
VENT_STEPS = (
    "hold_waste_shut",
    "shut_drive_valve",
    "open_vent_slowly",
    "wait_gauge_zero",
    "tap_gauge",
    "press_waste_once",
    "loosen_last",
)
"""What is done before anything is undone, in order."""


@dataclass(frozen=True, slots=True)
class LeakDown:
    """A leak as the trade sees it (``code``, ``flow`` m3/s at the start) and the ``seconds`` in which the
    gauge then falls from ``head`` to ``until`` (m)."""

    code: str
    flow: float
    head: float
    until: float
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DeadEnd:
    """The dead-end test.

    ``highest`` m, the gauge's highest reading: the engine's highest pressure with nothing delivered,
    spread as fall + a V0/g is over the draws (``formula``); None for both where the ram does not beat.
    ``rated`` m, the class of the weakest stretch of drive pipe that has one (``pipe``, '' if none);
    ``over`` whether the high end is beyond it. ``stop_at`` m, where to stop the test: the lift's head at
    least, never over the class. ``leaks`` from ``stop_at``; ``vents`` codes of the steps before opening.
    """

    highest: Range | None
    formula: Range | None
    rated: float | None
    pipe: str
    over: bool
    stop_at: float
    leaks: tuple[LeakDown, ...]
    vents: tuple[str, ...] = VENT_STEPS


def class_head(stretch: Stretch, water: Water) -> float:
    """Head (m) a stretch is rated for at the water's temperature: infinite with no rating, 0 if too warm."""
    if stretch.rating is None:
        return math.inf
    try:
        factor = temperature_factor(stretch.material, water.temperature_c)
    except LimitError:
        return 0.0
    return stretch.rating * min(1.0, factor) / (water.density * _G)


def leak_down(vessel: Vessel, *, head: float, until: float, flow: float, back: float = 0.0) -> float:
    """Seconds in which a leak lets the gauge fall from ``head`` to ``until`` (m), nothing coming in.

    The leak passes ``flow`` (m3/s) at ``head`` and, as a hole does, less in proportion to the root of the
    head over ``back`` (m): 0 outside, the fall behind a delivery valve. The air vessel gives back what its
    air had squeezed in (Boyle): t = integral of dV_water/dh / q(h). Raises ``InputError``:
    ``startup_leak_heads``.
    """
    if not back < until < head or flow <= 0.0:
        raise InputError("startup_leak_heads", field="until", value=until, head=head, back=back)
    # Even steps of the root take out the steep end near ``back``.
    root = np.linspace(math.sqrt(until - back), math.sqrt(head - back), _STEPS)
    heads = back + root**2
    water = vessel.taken(heads)
    share = 0.5 * (root[1:] + root[:-1]) / root[-1]
    return float(np.sum(np.diff(water) / (flow * share)))


def leak_flow(vessel: Vessel, *, head: float, until: float, seconds: float, back: float = 0.0) -> float:
    """The leak (m3/s at ``head``) that lets the gauge fall from ``head`` to ``until`` (m) in ``seconds``.

    The inverse of ``leak_down``: a reading of the test. Raises as it does.
    """
    if seconds <= 0.0:
        raise InputError("startup_leak_time", field="seconds", value=seconds)
    return leak_down(vessel, head=head, until=until, flow=1.0, back=back) / seconds


def dead_end(bench: Bench, alone: Alone) -> DeadEnd:
    """What the dead-end test shows, over all truths."""
    i = bench.installation
    formula = alone.shutoff[np.isfinite(alone.shutoff)]
    drawn = alone.shutoff[1:][np.isfinite(alone.shutoff[1:])]
    spread = as_range(drawn) if len(drawn) else (as_range(formula) if len(formula) else None)
    highest = _highest(bench, float(np.median(formula)), spread) if spread is not None else None
    weakest = min(i.drive_pipe, key=lambda s: class_head(s, i.water))
    rated = class_head(weakest, i.water)
    stop = min(i.lift.value, rated)
    if highest is not None:
        stop = min(stop, highest.low)
    over = highest is not None and highest.high > rated
    return DeadEnd(
        highest=highest,
        formula=spread,
        rated=rated if math.isfinite(rated) else None,
        pipe=weakest.name if math.isfinite(rated) else "",
        over=over,
        stop_at=stop,
        leaks=tuple(_leaks(bench, stop)),
    )


def _highest(bench: Bench, middle: float, spread: Range) -> Range:
    """The formula's range moved to the pressure the engine reaches with nothing delivered."""
    system = bench.systems[0]
    beyond = _BEYOND * max(middle, system.delivery_line.lift_m)
    shut = replace(
        system,
        delivery_line=replace(system.delivery_line, lift_m=beyond),
        air_vessel=AirVessel(air_m3=float(bench.vessel.air(beyond)), exponent=system.air_vessel.exponent),
        drive_tank=replace(system.drive_tank, source_flow=math.inf),
    )
    peak = float(run_many([shut], workers=1).peak_head[0])
    share = peak / middle if math.isfinite(peak) else 1.0
    return Range(spread.low * share, spread.likely * share, spread.high * share)


def _leaks(bench: Bench, head: float) -> list[LeakDown]:
    """Leak-down times from ``head`` to half-way to the fall, through a leak to the outside."""
    vessel, fall = bench.vessel, float(bench.falls[0])
    until = 0.5 * (head + max(fall, 0.0))
    if until <= vessel.charge_head:
        until = 0.5 * (head + vessel.charge_head)
    if not 0.0 < until < head:
        return []
    found = []
    for code in LEAKS:
        flow = rule(code).likely
        seconds = leak_down(vessel, head=head, until=until, flow=flow)
        found.append(LeakDown(code.replace("-", "_"), flow, head, until, seconds))
    return found
