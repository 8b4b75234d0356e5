"""What a line can pass without being primed, and what a supply line brings of a source."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from ramwright.geometry.shape import summits
from ramwright.hydraulics._checks import finite, not_negative
from ramwright.hydraulics.line import Line, cut_up, outlet_head, rising_root, total_head_drop
from ramwright.hydraulics.open_pipe import OpenFlow, normal_depth
from ramwright.hydraulics.water import Water


class Rules(StrEnum):
    """What sets a line's capacity."""

    ENTRANCE = "entrance"
    SUMMIT = "summit"
    GRADE_BREAK = "grade_break"
    WHOLE_FALL = "whole_fall"
    NO_HEAD = "no_head"


@dataclass(frozen=True, slots=True)
class Capacity:
    """The most a line passes with air free to leave it.

    ``flow`` m3/s; ``rules`` what sets it; ``station`` and ``level`` m of the ruling point; ``head`` m from
    the source to it (0 or less: no flow). With ``WHOLE_FALL`` the line runs full; else it runs full to the
    ruling point and part full beyond.
    """

    flow: float
    rules: Rules
    station: float
    level: float
    head: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """One straight piece of a line at the carried flow.

    ``start`` and ``end`` stations m; ``slope`` fall per metre of pipe, below 0 where it climbs;
    ``open_flow`` the normal part-full flow, or None where it runs full (also where it is level or climbs).
    """

    start: float
    end: float
    slope: float
    open_flow: OpenFlow | None


@dataclass(frozen=True, slots=True)
class Supply:
    """What a supply line brings: ``carried`` and ``overflow`` m3/s of ``source_flow``.

    ``capacity``; ``source_rules`` when the source, not the line, sets it; ``stretches`` along the line at
    the carried flow.
    """

    source_flow: float
    carried: float
    overflow: float
    capacity: Capacity
    source_rules: bool
    stretches: tuple[Stretch, ...]


def capacity(
    line: Line,
    water: Water,
    *,
    source_level: float,
    outlet_level: float | None = None,
    skip: frozenset[float] = frozenset(),
) -> Capacity:
    """Return the most ``line`` passes with no point below the air's pressure.

    The least, over all points, of the flow that the head from the source to that point drives through the
    resistance up to it, its velocity head there included: source - level(x) = losses(0..x) + V(x)^2/2g.
    ``source_level`` m, the water surface above the intake; ``outlet_level`` m, the water the outlet lies
    in, None in the open. Own statement of the energy equation; between points of a straight even pipe the
    flow so found changes one way only, so points suffice. ``skip``: stations (m) left out, for crests
    judged by what trickles over them (``siphon.trickle_over``); one half a bore above the source still
    passes a little. Raises ``InputError``.
    """
    nodes = cut_up(line)
    source, end = finite("source_level", source_level), outlet_head(line, outlet_level)
    levels = np.append(np.where(np.isin(nodes.stations, list(skip)), -math.inf, nodes.levels), end)

    def spare(flow: float) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        lost, heads = total_head_drop(line, nodes, water, flow)
        needed = np.append(lost + heads, lost[-1] + line.exit_loss * heads[-1])
        return np.asarray(source - levels - needed, dtype=np.float64)

    flow = rising_root(lambda q: float(np.min(spare(q))), first_guess=line.segments[-1].area)
    left = spare(flow)
    # the last of near-equals: where the grade line touches a whole stretch, its far end is what holds it
    close = np.flatnonzero(left <= float(np.min(left)) + 1e-9 * max(1.0, line.profile.length))
    at = int(close[-1])
    station = float(nodes.stations[min(at, nodes.stations.size - 1)])
    return Capacity(
        flow=flow,
        rules=_rules(line, at=at, last=nodes.stations.size - 1, station=station, flow=flow),
        station=station,
        level=float(levels[at]),
        head=source - float(levels[at]),
    )


def _rules(line: Line, *, at: int, last: int, station: float, flow: float) -> Rules:
    if any(t.station == station for t in summits(line.profile)):
        return Rules.SUMMIT
    if flow <= 0.0:
        return Rules.NO_HEAD
    if at >= last:
        return Rules.WHOLE_FALL
    if station == float(line.profile.stations[0]):
        return Rules.ENTRANCE
    return Rules.GRADE_BREAK


def supply(
    line: Line,
    water: Water,
    *,
    source_flow: float,
    source_level: float,
    outlet_level: float | None = None,
) -> Supply:
    """Return what the line brings of ``source_flow`` (m3/s): min(source flow, capacity); the rest overflows.

    Levels as in ``capacity``. Raises ``InputError``.
    """
    available = not_negative("source_flow", source_flow)
    most = capacity(line, water, source_level=source_level, outlet_level=outlet_level)
    carried = min(available, most.flow)
    return Supply(
        source_flow=available,
        carried=carried,
        overflow=available - carried,
        capacity=most,
        source_rules=available <= most.flow,
        stretches=stretches(line, water, flow=carried),
    )


def stretches(line: Line, water: Water, *, flow: float) -> tuple[Stretch, ...]:
    """Return how each straight piece of ``line`` carries ``flow`` (m3/s): normal depth, or full.

    Each piece by itself, as if long: back-water from a full piece below is not followed. Raises
    ``InputError``.
    """
    nodes = cut_up(line)
    found = []
    for i in np.flatnonzero(nodes.reach > 0.0).tolist():
        pipe = line.segments[int(nodes.segment[i])]
        slope = float(nodes.levels[i - 1] - nodes.levels[i]) / float(nodes.reach[i])
        part_full = None
        if slope > 0.0:
            part_full = normal_depth(
                flow,
                bore=pipe.bore,
                slope=slope,
                roughness=pipe.roughness,
                kinematic_viscosity=water.kinematic_viscosity,
            )
        found.append(
            Stretch(
                start=float(nodes.stations[i - 1]),
                end=float(nodes.stations[i]),
                slope=slope,
                open_flow=part_full,
            )
        )
    return tuple(found)
