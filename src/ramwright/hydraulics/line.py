"""Steady flow in a line that runs full: losses, the flow two levels drive, and the grade line.

Levels in m above one datum, stations in m of pipe from the upstream end. A profile's levels are those of
the pipe's axis.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

import numpy as np

from ramwright.errors import InputError
from ramwright.geometry.profile import FloatArray, Profile
from ramwright.hydraulics._checks import finite, not_negative, positive
from ramwright.hydraulics.friction import loss_per_metre
from ramwright.hydraulics.water import STANDARD_GRAVITY, Water, siphon_limit


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of one pipe.

    ``length`` m of pipe, ``bore`` m, ``roughness`` m (of the bore, as Darcy takes it).
    """

    length: float
    bore: float
    roughness: float

    def __post_init__(self) -> None:
        positive("segment.length", self.length)
        positive("segment.bore", self.bore)
        not_negative("segment.roughness", self.roughness)

    @property
    def area(self) -> float:
        """Cross-section of the bore, m2."""
        return math.pi / 4.0 * self.bore**2


@dataclass(frozen=True, slots=True)
class Fitting:
    """A local loss: ``station`` m, ``loss`` K in velocity heads of the pipe it sits in, ``label``."""

    station: float
    loss: float
    label: str = ""

    def __post_init__(self) -> None:
        finite("fitting.station", self.station)
        not_negative("fitting.loss", self.loss)


@dataclass(frozen=True, slots=True)
class Line:
    """A line.

    Its ``profile``, its ``segments`` in order (together as long as the profile), and its ``fittings``.

    ``entrance_loss`` and ``exit_loss`` are K in velocity heads of the first and the last segment: a pipe
    end loses its whole velocity head, 1, into a tank as into the open. Losses where the bore changes are
    added by ``fluids`` (sharp edges) unless ``joint_losses`` is off. Raises ``InputError``.
    """

    profile: Profile
    segments: tuple[Segment, ...]
    fittings: tuple[Fitting, ...] = ()
    entrance_loss: float = 0.5
    exit_loss: float = 1.0
    joint_losses: bool = True

    def __post_init__(self) -> None:
        not_negative("entrance_loss", self.entrance_loss)
        not_negative("exit_loss", self.exit_loss)
        joint_stations(self.profile, [s.length for s in self.segments], field="segments")
        start, end = float(self.profile.stations[0]), float(self.profile.stations[-1])
        for at, fitting in enumerate(self.fittings):
            if not start <= fitting.station <= end:
                raise InputError(
                    "hydraulics_off_the_line",
                    field=f"fittings[{at}].station",
                    value=fitting.station,
                    start=start,
                    end=end,
                )

    @property
    def joints(self) -> FloatArray:
        """Stations where segments meet, both ends included, m, shape (segments + 1,)."""
        return joint_stations(self.profile, [s.length for s in self.segments], field="segments")


def joint_stations(profile: Profile, lengths: Sequence[float], *, field: str) -> FloatArray:
    """Return where pipes of ``lengths`` (m) along ``profile`` meet, both ends included, m, shape (n + 1,).

    Raises ``InputError`` naming ``field`` when there is none, or when they do not add up to the line.
    """
    if not lengths:
        raise InputError("hydraulics_no_segments", field=field, value=0)
    total = sum(lengths)
    # a millimetre in ten metres: lengths are typed rounded
    if abs(total - profile.length) > 1e-4 * profile.length + 1e-6:
        raise InputError("hydraulics_segments_do_not_fit", field=field, value=total, length=profile.length)
    ends = np.concatenate(([0.0], np.cumsum(lengths))) * (profile.length / total) + profile.stations[0]
    ends[-1] = profile.stations[-1]
    return np.asarray(ends, dtype=np.float64)


def single_pipe(
    profile: Profile,
    *,
    bore: float,
    roughness: float,
    fittings: Sequence[Fitting] = (),
    entrance_loss: float = 0.5,
    exit_loss: float = 1.0,
) -> Line:
    """Return a line of one pipe along ``profile``: ``bore`` and ``roughness`` in m. Raises ``InputError``."""
    return Line(
        profile=profile,
        segments=(Segment(length=profile.length, bore=bore, roughness=roughness),),
        fittings=tuple(fittings),
        entrance_loss=entrance_loss,
        exit_loss=exit_loss,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Nodes:
    """A line cut up for arithmetic.

    Where something is lost at a point, the point stands twice, before and after.

    All arrays (n,): ``stations`` and ``levels`` m; ``segment`` the index of the pipe whose velocity holds
    at the node; ``reach`` m of that pipe since the node before (0 at a doubled point); ``local`` K lost
    since the node before, in velocity heads of pipe ``local_segment``.
    """

    stations: FloatArray
    levels: FloatArray
    segment: np.ndarray[tuple[int], np.dtype[np.int64]]
    reach: FloatArray
    local: FloatArray
    local_segment: np.ndarray[tuple[int], np.dtype[np.int64]]


def cut_up(line: Line) -> Nodes:
    """Return the nodes of ``line``.

    Profile points, joints and fittings, the entrance loss taken at the first.
    """
    joints = line.joints
    where = np.unique(
        np.concatenate((line.profile.stations, joints, np.array([f.station for f in line.fittings])))
    )
    lost = _local_losses(line, joints)
    rows: list[tuple[float, int, float, float, int]] = []
    before, count = float(where[0]), len(line.segments)
    for station in where.tolist():
        left = min(max(int(np.searchsorted(joints, station, side="left")) - 1, 0), count - 1)
        right = min(max(int(np.searchsorted(joints, station, side="right")) - 1, 0), count - 1)
        rows.append((station, left, station - before, 0.0, left))
        rows.extend((station, right, 0.0, k, of) for k, of in lost.get(station, ()))
        before = station
    stations = np.array([r[0] for r in rows])
    return Nodes(
        stations=stations,
        levels=np.interp(stations, line.profile.stations, line.profile.levels),
        segment=np.array([r[1] for r in rows], dtype=np.int64),
        reach=np.array([r[2] for r in rows]),
        local=np.array([r[3] for r in rows]),
        local_segment=np.array([r[4] for r in rows], dtype=np.int64),
    )


def _local_losses(line: Line, joints: FloatArray) -> dict[float, list[tuple[float, int]]]:
    """Return station -> (K, segment whose velocity head it counts in): entrance, joints and fittings."""
    lost: dict[float, list[tuple[float, int]]] = {float(joints[0]): [(line.entrance_loss, 0)]}
    for at, (up, down) in enumerate(pairwise(line.segments)):
        if up.bore != down.bore:
            k = joint_loss(up.bore, down.bore) if line.joint_losses else 0.0
            smaller = at if up.bore < down.bore else at + 1
            lost.setdefault(float(joints[at + 1]), []).append((k, smaller))
    for fitting in line.fittings:
        at = int(
            np.clip(np.searchsorted(joints, fitting.station, side="left") - 1, 0, len(line.segments) - 1)
        )
        lost.setdefault(fitting.station, []).append((fitting.loss, at))
    return lost


def joint_loss(upstream_bore: float, downstream_bore: float) -> float:
    """Return K of a sharp change of bore, in velocity heads of the smaller pipe; bores in m.

    Widening: Borda-Carnot; narrowing: Rennels & Hudson 2012; both from ``fluids.fittings``. Raises
    ``InputError``.
    """
    up, down = positive("upstream_bore", upstream_bore), positive("downstream_bore", downstream_bore)
    from fluids.fittings import contraction_sharp, diffuser_sharp

    if up == down:
        return 0.0
    return float(diffuser_sharp(up, down) if up < down else contraction_sharp(up, down))


def total_head_drop(line: Line, nodes: Nodes, water: Water, flow: float) -> tuple[FloatArray, FloatArray]:
    """Return the total head lost from the source to each node, and the velocity head there.

    Both m, shape (n,). ``flow`` m3/s, not negative. Darcy-Weisbach along each reach and K V^2/2g at each
    local loss. The exit loss is not in it.
    """
    velocity = np.array([flow / s.area for s in line.segments])
    slope = np.array(
        [
            loss_per_metre(
                v, bore=s.bore, roughness=s.roughness, kinematic_viscosity=water.kinematic_viscosity
            )
            for v, s in zip(velocity.tolist(), line.segments, strict=True)
        ]
    )
    heads = velocity**2 / (2.0 * STANDARD_GRAVITY)
    lost = np.cumsum(slope[nodes.segment] * nodes.reach + nodes.local * heads[nodes.local_segment])
    return lost, heads[nodes.segment]


class LineState(StrEnum):
    """What a full line's lowest pressure means."""

    ABOVE_AIR = "above_air"
    BELOW_AIR = "below_air"
    BEYOND_PRACTICAL = "beyond_practical"
    BOILS = "boils"
    NO_HEAD = "no_head"


@dataclass(frozen=True, slots=True, eq=False)
class GradeLine:
    """Heads along a line; all arrays (n,), a station standing twice where something is lost at a point.

    ``stations`` m; ``levels`` of the axis m; ``total_head`` m above the datum (energy); ``head`` m, the
    level to which water would stand in a tube there; ``pressure_head`` m of water, head less level;
    ``velocity`` m/s.
    """

    stations: FloatArray
    levels: FloatArray
    total_head: FloatArray
    head: FloatArray
    pressure_head: FloatArray
    velocity: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class FullFlow:
    """A line running full.

    ``flow`` m3/s; ``head`` m from source to outlet; ``friction_loss``, ``local_loss`` and ``exit_loss`` m,
    together the head; ``grade`` the grade line; ``lowest_pressure_head`` m and ``lowest_station`` m;
    ``boiling_head`` and ``practical_head`` m, the gauge heads it is held against; ``state`` what follows.
    """

    flow: float
    head: float
    friction_loss: float
    local_loss: float
    exit_loss: float
    grade: GradeLine
    lowest_pressure_head: float
    lowest_station: float
    boiling_head: float
    practical_head: float
    state: LineState


def rising_root(miss: Callable[[float], float], *, first_guess: float) -> float:
    """Return where the falling function ``miss`` of a flow (m3/s) crosses zero.

    0 when it is not above zero at rest.
    """
    if miss(0.0) <= 0.0:
        return 0.0
    from scipy.optimize import brentq

    high = first_guess
    for _ in range(200):
        if miss(high) <= 0.0:
            return float(brentq(miss, 0.0, high, xtol=1e-24, rtol=1e-13, maxiter=300))
        high *= 2.0
    raise InputError("hydraulics_flow_without_bound", field="line", value=high)


def full_flow(
    line: Line,
    water: Water,
    *,
    source_level: float,
    outlet_level: float | None = None,
    practical_siphon_lift: float,
) -> FullFlow:
    """Return the flow that two levels drive through ``line`` running full, and its grade line.

    ``source_level`` m, the water surface above the intake; ``outlet_level`` m, the water surface the outlet
    lies in, or None for an outlet in the open (then the axis at the last station);
    ``practical_siphon_lift`` m, the lift a siphon is trusted with at sea level and 20 C (see
    ``siphon_limit``). Energy equation with Darcy-Weisbach. Raises ``InputError``.
    """
    nodes = cut_up(line)
    source, end = finite("source_level", source_level), outlet_head(line, outlet_level)
    last = line.segments[-1]

    def spare(flow: float) -> float:
        lost, heads = total_head_drop(line, nodes, water, flow)
        return source - end - float(lost[-1]) - line.exit_loss * float(heads[-1])

    flow = rising_root(spare, first_guess=last.area)
    lost, heads = total_head_drop(line, nodes, water, flow)
    grade = grade_line(line, nodes, lost=lost, velocity_heads=heads, flow=flow, source_level=source)
    lowest = int(np.argmin(grade.pressure_head))
    practical = -siphon_limit(water, practical_lift=practical_siphon_lift)
    exit_loss = line.exit_loss * float(heads[-1])
    k_loss = float(np.sum(nodes.local * heads_of(line, flow)[nodes.local_segment]))
    return FullFlow(
        flow=flow,
        head=source - end,
        friction_loss=float(lost[-1]) - k_loss,
        local_loss=k_loss,
        exit_loss=exit_loss,
        grade=grade,
        lowest_pressure_head=float(grade.pressure_head[lowest]),
        lowest_station=float(grade.stations[lowest]),
        boiling_head=water.vapour_gauge_head,
        practical_head=practical,
        state=_state(flow, float(grade.pressure_head[lowest]), practical, water.vapour_gauge_head),
    )


def heads_of(line: Line, flow: float) -> FloatArray:
    """Return each segment's velocity head at ``flow`` (m3/s), m, shape (segments,)."""
    return np.array([(flow / s.area) ** 2 / (2.0 * STANDARD_GRAVITY) for s in line.segments])


def grade_line(
    line: Line,
    nodes: Nodes,
    *,
    lost: FloatArray,
    velocity_heads: FloatArray,
    flow: float,
    source_level: float,
) -> GradeLine:
    """Return the grade line from the heads lost up to each node (``total_head_drop``); m and m3/s."""
    total = source_level - lost
    head = total - velocity_heads
    areas = np.array([s.area for s in line.segments])
    return GradeLine(
        stations=nodes.stations,
        levels=nodes.levels,
        total_head=total,
        head=head,
        pressure_head=head - nodes.levels,
        velocity=flow / areas[nodes.segment],
    )


def outlet_head(line: Line, outlet_level: float | None) -> float:
    """Return the level the outlet works against: its own axis, or the water above it."""
    axis = float(line.profile.levels[-1])
    return axis if outlet_level is None else max(axis, finite("outlet_level", outlet_level))


def _state(flow: float, lowest: float, practical: float, boiling: float) -> LineState:
    if flow <= 0.0:
        return LineState.NO_HEAD
    if lowest <= boiling:
        return LineState.BOILS
    if lowest < practical:
        return LineState.BEYOND_PRACTICAL
    # an open end stands at the air's pressure but for rounding: a micrometre of head is nothing
    return LineState.BELOW_AIR if lowest < -1e-6 else LineState.ABOVE_AIR
