"""Filling a line that dips: air shut in behind its summits, what it costs, and where to let it out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ramwright.errors import InputError
from ramwright.geometry.profile import FloatArray
from ramwright.geometry.shape import Turn, TurnKind, turns
from ramwright.hydraulics._checks import finite, not_negative
from ramwright.hydraulics.line import Line
from ramwright.hydraulics.sweeping import pocket_sweeping_velocity
from ramwright.hydraulics.water import STANDARD_GRAVITY, Water


@dataclass(frozen=True, slots=True)
class Pocket:
    """Air shut in between a summit and the dip after it, once water stands at the end of the line.

    ``summit`` and ``dip`` stations m; ``free_volume`` m3 at the air's pressure; ``pressure_head`` gauge m
    it is squeezed to; ``length`` m of pipe it then fills down from the summit; ``lost_head`` m, its height:
    what it takes from the line; ``sweeping_velocity`` m/s that would carry it down the steepest slope of
    its leg; ``vented``.
    """

    summit: float
    dip: float
    free_volume: float
    pressure_head: float
    length: float
    lost_head: float
    sweeping_velocity: float
    vented: bool


@dataclass(frozen=True, slots=True)
class Filling:
    """Whether a line filled from its source starts by itself.

    ``starts``; ``spare_head`` m at the point that rules (below 0: it stops there); ``ruling_station`` m and
    ``ruling_level`` m that water must reach; ``lost_head`` m of all pockets when it must; ``pockets`` in
    order; ``vents`` stations m of the summits to vent, costliest pocket first, added until it starts;
    ``vents_enough`` False when no vent helps, because a summit or the end lies above the source.
    """

    starts: bool
    spare_head: float
    ruling_station: float
    ruling_level: float
    lost_head: float
    pockets: tuple[Pocket, ...]
    vents: tuple[float, ...]
    vents_enough: bool


@dataclass(frozen=True, slots=True)
class _Leg:
    """The falling leg behind a summit: points from summit to dip and the pipe volume up to each."""

    summit: Turn
    dip: Turn
    stations: FloatArray
    levels: FloatArray
    volumes: FloatArray

    def foot(self, volume: float) -> float:
        """Return the level (m) down to which ``volume`` (m3) of air reaches from the summit."""
        return float(np.interp(volume, self.volumes, self.levels)) if volume > 0.0 else self.summit.level


@dataclass(frozen=True, slots=True)
class _Stage:
    """Filling up to one point.

    Each pocket's gauge head and squeezed volume, and the head left at the source.
    """

    station: float
    level: float
    heads: tuple[float, ...]
    volumes: tuple[float, ...]
    heights: tuple[float, ...]
    spare: float


def fill(
    line: Line,
    water: Water,
    *,
    source_level: float,
    least_depth: float = 0.0,
    vented: Sequence[float] = (),
) -> Filling:
    """Return whether water from ``source_level`` (m) gets through ``line`` against the air it shuts in.

    Water runs over each summit in turn and seals the dip behind it; the air of the falling leg, squeezed by
    Boyle's law, holds up the water beyond by its own height. Water reaches a point when source - (heights
    of all pockets before it) is above that point. Summits and dips shallower than ``least_depth`` m are
    passed over; summits at the stations ``vented`` let their air out. At rest, no air dissolved or carried
    off, water running down under the air left out: the worst case. Method of lost heads after Jordan 1984
    (from memory), with the squeeze added. Raises ``InputError``.
    """
    source = finite("source_level", source_level)
    not_negative("least_depth", least_depth)
    bends = turns(line.profile, least_depth=least_depth)
    legs = [
        _leg(line, summit, dip)
        for summit, dip in pairwise(bends)
        if summit.kind is TurnKind.SUMMIT and dip.kind is TurnKind.DIP
    ]
    given = frozenset(finite("vented", v) for v in vented)
    for station in sorted(given - {leg.summit.station for leg in legs}):
        raise InputError("hydraulics_no_such_summit", field="vented", value=station)
    worst = _worst_stage(line, water, bends, legs, source=source, given=given)
    chosen: list[float] = []
    then, enough = worst, True
    while then.spare < 0.0:
        closed = [leg.summit.station for leg in legs if leg.summit.station not in given | set(chosen)]
        costs = dict(zip((leg.summit.station for leg in legs), then.heights, strict=False))
        useful = [s for s in closed if costs.get(s, 0.0) > 0.0]
        if not useful:
            enough = False
            break
        chosen.append(max(useful, key=lambda s: costs[s]))
        then = _worst_stage(line, water, bends, legs, source=source, given=given | set(chosen))
    last, top = float(line.profile.stations[-1]), float(line.profile.levels[-1])
    end = _stage(legs, water, last, top, source=source, given=given)
    return Filling(
        starts=worst.spare >= 0.0,
        spare_head=worst.spare,
        ruling_station=worst.station,
        ruling_level=worst.level,
        lost_head=sum(worst.heights),
        pockets=tuple(
            _pocket(line, leg, head, volume, vented=leg.summit.station in given)
            for leg, head, volume in zip(legs, end.heads, end.volumes, strict=True)
        ),
        vents=tuple(chosen) if enough else (),
        vents_enough=enough,
    )


def _worst_stage(
    line: Line,
    water: Water,
    bends: Sequence[Turn],
    legs: Sequence[_Leg],
    *,
    source: float,
    given: frozenset[float],
) -> _Stage:
    """Return the first point water does not reach, else the one it reaches with least to spare."""
    points = [(t.station, t.level) for t in bends if t.kind is TurnKind.SUMMIT]
    points.append((float(line.profile.stations[-1]), float(line.profile.levels[-1])))
    stages = [_stage(legs, water, station, level, source=source, given=given) for station, level in points]
    failed = next((s for s in stages if s.spare < 0.0), None)
    return failed or min(stages, key=lambda s: s.spare)


def _stage(
    legs: Sequence[_Leg],
    water: Water,
    station: float,
    level: float,
    *,
    source: float,
    given: frozenset[float],
) -> _Stage:
    """Return what the pockets before ``station`` hold when water stands at ``level`` there.

    Worked back from it.
    """
    before = [leg for leg in legs if leg.dip.station < station]
    heads, volumes = [0.0] * len(before), [0.0] * len(before)
    needed = level  # the level water must be able to reach, just beyond the leg in hand
    for i in reversed(range(len(before))):
        leg = before[i]
        if leg.summit.station in given:
            needed = max(
                leg.summit.level, needed
            )  # the air has left: water stands through, as in an open pipe
            continue
        heads[i], volumes[i] = _squeeze(leg, water, needed)
        needed = leg.summit.level + heads[i]
    heights = tuple(leg.summit.level - leg.foot(v) for leg, v in zip(before, volumes, strict=True))
    return _Stage(station, level, tuple(heads), tuple(volumes), heights, source - needed)


def _squeeze(leg: _Leg, water: Water, beyond: float) -> tuple[float, float]:
    """Return the pocket's gauge head (m) and its volume (m3) when water beyond it must reach ``beyond`` (m).

    Solves P = beyond - foot(P), where foot is the level down to which the air, squeezed to (p_air + P),
    reaches.
    """
    air_head = water.atmospheric_pressure / (water.density * STANDARD_GRAVITY)
    total = float(leg.volumes[-1])

    def volume(head: float) -> float:
        return total * air_head / (air_head + head)

    most = beyond - leg.dip.level
    if most <= 0.0:
        return 0.0, total
    from scipy.optimize import brentq

    head = float(brentq(lambda p: beyond - leg.foot(volume(p)) - p, 0.0, most, xtol=1e-12))
    return head, volume(head)


def _leg(line: Line, summit: Turn, dip: Turn) -> _Leg:
    joints = line.joints
    inside = np.concatenate((line.profile.stations, joints))
    stations = np.unique(inside[(inside >= summit.station) & (inside <= dip.station)])
    pipe = np.clip(np.searchsorted(joints, stations[1:], side="left") - 1, 0, len(line.segments) - 1)
    areas = np.array([s.area for s in line.segments])[pipe]
    return _Leg(
        summit=summit,
        dip=dip,
        stations=stations,
        levels=np.interp(stations, line.profile.stations, line.profile.levels),
        volumes=np.concatenate(([0.0], np.cumsum(areas * np.diff(stations)))),
    )


def _pocket(line: Line, leg: _Leg, head: float, volume: float, *, vented: bool) -> Pocket:
    drops = -np.diff(leg.levels) / np.diff(leg.stations)
    angle = math.asin(float(np.clip(np.max(drops), 0.0, 1.0)))
    bore = max(
        s.bore
        for s, start, end in zip(line.segments, line.joints[:-1], line.joints[1:], strict=True)
        if start < leg.dip.station and end > leg.summit.station
    )
    return Pocket(
        summit=leg.summit.station,
        dip=leg.dip.station,
        free_volume=float(leg.volumes[-1]),
        pressure_head=head,
        length=float(np.interp(volume, leg.volumes, leg.stations)) - leg.summit.station,
        lost_head=leg.summit.level - leg.foot(volume),
        sweeping_velocity=pocket_sweeping_velocity(bore=bore, slope_angle=angle),
        vented=vented,
    )
