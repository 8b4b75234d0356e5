"""From the level at which it runs by itself to the tank: how long, and what the sounding line tells."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Range
from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.startup.alone import RUNS_ALONE, STARVED, Alone
from ramwright.startup.bench import Bench
from ramwright.startup.presses import as_range
from ramwright.startup.way import Way

Array = NDArray[np.float64]
_STEPS = 41
#: Below this a ram delivers nothing worth timing, m3/s.
LEAST_FLOW = 1e-12


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Climb:
    """Self-running to the tank, over the truths that run alone.

    ``seconds`` from the first beat by itself until water arrives; ``volume`` m3 it has to bring;
    ``first_flow`` and ``last_flow`` m3/s of delivery at that level and at the tank. Arrays (m,) at the
    middle (at the first truth that runs, where the middle does not): ``times`` s, ``stations`` m along
    the line and ``levels`` m above the seat, up to which the line then sounds full.
    """

    seconds: Range
    volume: Range
    first_flow: Range
    last_flow: Range
    times: Array
    stations: Array
    levels: Array


def climb_one(bench: Bench, alone: Alone, k: int, *, start: float) -> tuple[Array, Array, Array]:
    """Times (s), water held (m3) and heads (m) from head ``start`` (m) to the full line, each (m,)."""
    way, stored = bench.ways[k], bench.stored(k)
    first = way.at_head(stored, start)
    held = np.linspace(first, float(stored[-1]), _STEPS)
    rising = np.append(np.diff(stored) > 0.0, True)
    heads = np.maximum(np.interp(held, stored[rising], way.heads[rising]), min(start, way.last_head))
    # Once one of several rams runs, the others are set going against the same line.
    flow = np.maximum(bench.installation.rams * alone.delivery(k, heads), LEAST_FLOW)
    slow = 1.0 / flow
    times = np.concatenate(([0.0], np.cumsum(0.5 * (slow[1:] + slow[:-1]) * np.diff(held))))
    return times, held, heads


def climb_to_tank(bench: Bench, alone: Alone) -> Climb | None:
    """Minutes to the tank over every truth that runs alone; None where none does.

    The delivery falls as the head rises: dV/dt = q(head(V)), with the engine's delivery between the
    heads it was run at.
    """
    ready = [k for k, code in enumerate(alone.outcome) if code in (RUNS_ALONE, STARVED)]
    if not ready:
        return None
    shown = ready[0]
    drawn = [k for k in ready if k > 0] or ready
    rows = []
    for k in drawn:
        times, held, heads = climb_one(bench, alone, k, start=float(alone.level[k]))
        ends = alone.delivery(k, heads[[0, -1]])
        rows.append((times[-1], held[-1] - held[0], ends[0], ends[1]))
    seconds, volume, first, last = np.array(rows).T
    way, stored = bench.ways[shown], bench.stored(shown)
    times, held, _ = climb_one(bench, alone, shown, start=float(alone.level[shown]))
    return Climb(
        seconds=as_range(seconds),
        volume=as_range(volume),
        first_flow=as_range(first),
        last_flow=as_range(last),
        times=times,
        stations=np.interp(held, stored, way.stations),
        levels=np.interp(held, stored, way.levels),
    )


@dataclass(frozen=True, slots=True)
class Sounding:
    """The line sounds full up to ``station`` (m of pipe from the ram) at ``time`` (s on any one clock)."""

    station: Estimate
    time: Estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundedFlow:
    """A reading of delivery flow (m3/s), the mean between two soundings; ``low_head`` and ``high_head`` m
    on the ram at them, ``volume`` m3 between them."""

    flow: Estimate
    low_head: float
    high_head: float
    volume: float


def flow_between(way: Way, one: Sounding, two: Sounding, *, stored: Array | None = None) -> SoundedFlow:
    """Delivery flow from two soundings of a filling line: the volume between them over the time.

    ``stored`` (n,) m3 in line and air vessel along ``way`` (the line alone if None). Spreads of places and
    times are added as independent, to first order. Raises ``InputError``: ``startup_off_the_line``,
    ``startup_soundings_order`` where the later one is not further up.
    """
    filled = way.volumes if stored is None else stored
    volumes, slopes, heads = [], [], []
    for name, sounding in (("first", one), ("second", two)):
        at = sounding.station.value
        if not 0.0 <= at <= way.length:
            raise InputError("startup_off_the_line", field=f"{name}.station", value=at, length=way.length)
        volumes.append(float(np.interp(at, way.stations, filled)))
        k = min(max(int(np.searchsorted(way.stations, at, side="right")), 1), len(way.stations) - 1)
        slopes.append(float((filled[k] - filled[k - 1]) / (way.stations[k] - way.stations[k - 1])))
        heads.append(float(np.interp(at, way.stations, way.heads)))
    seconds = two.time.value - one.time.value
    volume = volumes[1] - volumes[0]
    if seconds <= 0.0 or volume <= 0.0:
        raise InputError(
            "startup_soundings_order", field="second", value=two.station.value, before=one.station.value
        )
    flow = volume / seconds
    sd = math.hypot(
        slopes[0] * one.station.sd / seconds,
        slopes[1] * two.station.sd / seconds,
        flow * one.time.sd / seconds,
        flow * two.time.sd / seconds,
    )
    return SoundedFlow(
        flow=Estimate(flow, sd, "sounded"), low_head=heads[0], high_head=heads[1], volume=volume
    )
