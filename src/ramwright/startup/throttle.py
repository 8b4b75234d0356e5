"""The throttled start: run against a nearly shut delivery valve, held open just so far."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from ramwright.appraise import Range
from ramwright.startup.alone import NEEDS_THROTTLE, RUNS_ALONE, STARVED, Alone
from ramwright.startup.bench import Bench
from ramwright.startup.climb import LEAST_FLOW, climb_one
from ramwright.startup.presses import Presses, PressTable, as_range, count_presses
from ramwright.startup.rules import least, rule

_G = 9.80665
#: Share of the full line's head that is held at most, where the ram runs without a throttle.
_NEARLY = 0.97
#: Least head held, over the feed level.
_OVER_FEED = 1.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """How far the valve is open when water stands to ``level`` (m) in the line: ``area`` m2, and
    ``share`` of the bore of the line."""

    level: float
    area: float
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Throttle:
    """A throttled start.

    ``hold`` m, the head to hold on the gauge at the ram; ``practice`` m, what practice names; ``flow``
    m3/s delivered meanwhile; ``openings`` of the valve as the line fills, at the middle; ``air_presses``
    hand presses that bring the air vessel to the head (None where not reached); ``seconds`` until the
    line stands to the head held, when the valve is opened fully (0 where that is never, see ``for_good``);
    ``full_seconds`` until water arrives at the tank. ``for_good``: the head to hold is above what the
    line itself gives, so the valve stays throttled.
    """

    hold: float
    practice: float
    flow: Range
    openings: tuple[Opening, ...]
    air_presses: Presses | None
    seconds: Range
    full_seconds: Range
    for_good: bool


def opening_area(flow: float, *, drop: float, coefficient: float) -> float:
    """Area (m2) of a sharp opening that passes ``flow`` (m3/s) at a head ``drop`` (m): Q / (C sqrt(2 g dH)).

    ``coefficient`` C. Torricelli with a discharge coefficient.
    """
    return flow / (coefficient * math.sqrt(2.0 * _G * drop))


def throttled_start(bench: Bench, alone: Alone, table: PressTable) -> Throttle | None:
    """The throttled start over all truths that run at some head; None where none does.

    The head held is the high end of where the ram runs by itself, and a margin.
    """
    ready = [
        k
        for k, code in enumerate(alone.outcome)
        if code in (RUNS_ALONE, STARVED, NEEDS_THROTTLE) and math.isfinite(alone.level[k])
    ]
    if not ready:
        return None
    drawn = [k for k in ready if k > 0] or ready
    needing = sum(alone.outcome[k] == NEEDS_THROTTLE for k in drawn)
    for_good = needing > 0.5 * len(drawn)
    last = bench.ways[ready[0]].last_head
    hold = as_range(alone.level[drawn]).high * rule("hold-over-alone").likely
    if not for_good:
        # Held higher than the line gives, the valve would never come open.
        hold = max(min(hold, _NEARLY * last), _OVER_FEED * float(bench.falls[ready[0]]))
    filling, full, flows = [], [], []
    for k in drawn:
        way, stored = bench.ways[k], bench.stored(k)
        flow = max(bench.installation.rams * float(alone.delivery(k, np.array([hold]))[0]), LEAST_FLOW)
        feed, top = way.at_head(stored, bench.falls[k]), way.at_head(stored, min(hold, way.last_head))
        flows.append(flow)
        filling.append((top - feed) / flow)
        rest = climb_one(bench, alone, k, start=hold)[0][-1] if hold < way.last_head else 0.0
        full.append(filling[-1] + rest)
    return Throttle(
        hold=hold,
        practice=least("back-pressure-head"),
        flow=as_range(flows),
        openings=_openings(bench, ready[0], hold, float(np.median(flows))),
        air_presses=count_presses(bench, alone, table, line=False),
        seconds=Range(0.0, 0.0, 0.0) if for_good else as_range(filling),
        full_seconds=as_range(full),
        for_good=for_good,
    )


def _openings(bench: Bench, k: int, hold: float, flow: float) -> tuple[Opening, ...]:
    """Openings at the feed level, half-way and three quarters of the way to the head held."""
    coefficient = rule("outlet-coefficient").likely
    bore = float(bench.ways[k].areas[0])
    feed, goal = float(bench.falls[k]), min(hold, bench.ways[k].last_head)
    found = []
    for share in (0.0, 0.5, 0.75):
        level = feed + share * (goal - feed)
        area = opening_area(flow, drop=hold - level, coefficient=coefficient)
        found.append(Opening(level=level, area=area, share=min(area / bore, 1.0)))
    return tuple(found)
