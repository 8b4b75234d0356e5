"""A line with a hump above its grade: trickling over the crest, or running as a siphon."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from ramwright.errors import InputError
from ramwright.geometry.shape import Turn, summits
from ramwright.hydraulics._checks import finite
from ramwright.hydraulics.capacity import capacity
from ramwright.hydraulics.limits import Held, Side
from ramwright.hydraulics.line import (
    FullFlow,
    Line,
    Nodes,
    cut_up,
    full_flow,
    heads_of,
    rising_root,
    total_head_drop,
)
from ramwright.hydraulics.open_pipe import crest_flow
from ramwright.hydraulics.sweeping import jump_sweeping_flow, pocket_sweeping_velocity
from ramwright.hydraulics.water import Water


class Priming(StrEnum):
    """Whether and why a humped line fills itself."""

    BY_ITSELF = "by_itself"
    NO_TRICKLE = "no_trickle"
    TRICKLE_TOO_WEAK = "trickle_too_weak"
    OUTLET_OPEN = "outlet_open"
    NO_SIPHON_NEEDED = "no_siphon_needed"


@dataclass(frozen=True, slots=True, eq=False)
class HumpStates:
    """The two steady states of a line over its crest.

    ``crest`` the ruling summit; ``lift`` m of its axis above the source (below 0 where it lies under it);
    ``trickle_flow`` m3/s unprimed; ``siphon_flow`` m3/s primed; ``full`` that state's grade line;
    ``siphon_holds`` whether the crest keeps the practical limit; ``priming``; ``sweeping_flow`` m3/s the
    trickle must reach to carry the air off at the foot of the steepest slope behind the crest;
    ``sweeping_velocity`` m/s the siphon must reach to move pockets down it, and ``siphon_velocity`` m/s
    there; ``checks`` every number held, with its limit.
    """

    crest: Turn
    lift: float
    trickle_flow: float
    siphon_flow: float
    full: FullFlow
    siphon_holds: bool
    priming: Priming
    sweeping_flow: float
    sweeping_velocity: float
    siphon_velocity: float
    checks: tuple[Held, ...]


def trickle_over(line: Line, water: Water, *, crest: Turn, source_level: float) -> float:
    """Return the flow that runs over ``crest`` with air above it, m3/s.

    0 when the source does not reach its invert.

    The pipe full up to the crest, the flow critical on the invert there: source - invert = losses up to the
    crest + specific energy. ``source_level`` m. Energy equation with ``crest_flow``. Raises ``InputError``.
    """
    nodes = cut_up(line)
    at = int(np.flatnonzero(nodes.stations == crest.station)[-1])
    bore = line.segments[int(nodes.segment[at])].bore
    spare = finite("source_level", source_level) - (crest.level - bore / 2.0)
    if spare <= 0.0:
        return 0.0

    def miss(flow: float) -> float:
        lost, _ = total_head_drop(line, nodes, water, flow)
        return crest_flow(max(0.0, spare - float(lost[at])), bore=bore).flow - flow

    most = crest_flow(spare, bore=bore).flow
    return rising_root(miss, first_guess=most)


def hump_states(
    line: Line,
    water: Water,
    *,
    source_level: float,
    outlet_level: float | None = None,
    practical_siphon_lift: float,
    least_depth: float = 0.0,
) -> HumpStates | None:
    """Return both steady states of ``line`` over its ruling summit, or None when it has no summit.

    Levels as in ``full_flow``; summits shallower than ``least_depth`` m are passed over. The line primes by
    itself when the trickle carries the air off at the foot of the falling leg (Kalinske & Bliss) and the
    outlet lies under water; it stays primed while the siphon moves pockets down the leg (Wisner). Raises
    ``InputError``.
    """
    found = summits(line.profile, least_depth=least_depth)
    if not found:
        return None
    full = full_flow(
        line,
        water,
        source_level=source_level,
        outlet_level=outlet_level,
        practical_siphon_lift=practical_siphon_lift,
    )
    nodes = cut_up(line)
    crest = min(found, key=lambda t: float(np.interp(t.station, nodes.stations, full.grade.pressure_head)))
    elsewhere = capacity(
        line,
        water,
        source_level=source_level,
        outlet_level=outlet_level,
        skip=frozenset(t.station for t in found),
    )
    trickles = [trickle_over(line, water, crest=t, source_level=source_level) for t in found]
    trickle = min(elsewhere.flow, *trickles)
    angle, bore, area = _falling_leg(line, nodes, crest)
    needed_flow = jump_sweeping_flow(bore=bore, slope_angle=min(angle, math.radians(89.9)))
    needed_velocity = pocket_sweeping_velocity(bore=bore, slope_angle=angle)
    crest_head = float(np.min(full.grade.pressure_head[nodes.stations == crest.station]))
    checks = (
        Held("crest_pressure", crest_head, full.practical_head, Side.AT_LEAST, crest.station),
        Held("trickle_sweeps_air", trickle, needed_flow, Side.AT_LEAST, crest.station),
        Held("siphon_sweeps_air", full.flow / area, needed_velocity, Side.AT_LEAST, crest.station),
    )
    sealed = outlet_level is not None and outlet_level >= float(line.profile.levels[-1])
    return HumpStates(
        crest=crest,
        lift=crest.level - source_level,
        trickle_flow=trickle,
        siphon_flow=full.flow,
        full=full,
        siphon_holds=full.flow > 0.0 and checks[0].ok,
        priming=_priming(crest_head, trickle, needed_flow, sealed=sealed),
        sweeping_flow=needed_flow,
        sweeping_velocity=needed_velocity,
        siphon_velocity=full.flow / area,
        checks=checks,
    )


def _priming(crest_head: float, trickle: float, needed: float, *, sealed: bool) -> Priming:
    if crest_head >= 0.0:
        return Priming.NO_SIPHON_NEEDED
    if trickle <= 0.0:
        return Priming.NO_TRICKLE
    if trickle < needed:
        return Priming.TRICKLE_TOO_WEAK
    return Priming.BY_ITSELF if sealed else Priming.OUTLET_OPEN


def _falling_leg(line: Line, nodes: Nodes, crest: Turn) -> tuple[float, float, float]:
    """Return angle (rad), bore (m) and area (m2) of the steepest piece before the next rise or the end."""
    steepest, pipe = 0.0, line.segments[0]
    for i in np.flatnonzero((nodes.reach > 0.0) & (nodes.stations > crest.station)).tolist():
        fall = float(nodes.levels[i - 1] - nodes.levels[i])
        if fall < 0.0:
            break
        angle = math.asin(min(1.0, fall / float(nodes.reach[i])))
        if angle >= steepest:
            steepest, pipe = angle, line.segments[int(nodes.segment[i])]
    return steepest, pipe.bore, pipe.area


def crest_limited_flow(
    line: Line, water: Water, *, crest_station: float, source_level: float, crest_head: float
) -> float:
    """Return the flow at which the crest's gauge pressure head sinks to ``crest_head`` (m), m3/s.

    ``crest_station`` and ``source_level`` m.     With boiling or the practical limit as ``crest_head`` it
    is the most a siphon draws over that crest, however low its outlet. Energy equation up to the crest.
    Raises ``InputError`` for a station that is not a point of the line.
    """
    nodes = cut_up(line)
    where = np.flatnonzero(nodes.stations == crest_station)
    if where.size == 0:
        raise InputError("hydraulics_not_a_point", field="crest_station", value=crest_station)
    at = int(where[-1])
    spare = source_level - float(nodes.levels[at]) - crest_head

    def miss(flow: float) -> float:
        lost, _ = total_head_drop(line, nodes, water, flow)
        return spare - float(lost[at]) - float(heads_of(line, flow)[int(nodes.segment[at])])

    return rising_root(miss, first_guess=line.segments[0].area)
