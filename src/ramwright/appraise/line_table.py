"""The lines of a layout as tables: station, level, head and pressure, and what stands where."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise.installation import Installation
from ramwright.appraise.laid import LaidLine, LineName
from ramwright.appraise.layout import Layout
from ramwright.appraise.strength import Pressures
from ramwright.geometry import TurnKind, turns
from ramwright.hydraulics.line import GradeLine, cut_up, grade_line, total_head_drop

Array = NDArray[np.float64]
_SAME = 1e-6


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands at a point: a ``code`` and what fills its words. ``label`` is what the sheet calls it."""

    code: str
    values: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One point of a line, m: ``station`` from its upper end, ``level`` above the waste-valve seat.

    ``head`` is the level to which water would stand in a tube there, ``pressure`` that less ``level``;
    ``highest`` the highest pressure there at work and ``allowed`` what pipe and joints hold, where known.
    """

    station: float
    level: float
    head: float | None
    pressure: float | None
    highest: float | None
    allowed: float | None
    stands: tuple[Standing, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineTable:
    """One line: whether its way was ``surveyed``, its ``flow`` (m3/s; None where it does not run) and points.

    Heads are those of that flow: what a supply line can bring, a drive pipe just before the waste valve
    shuts, a delivery line at the likely delivery. ``state`` is a supply line's: open, primed or trickle.
    """

    name: LineName
    surveyed: bool
    poor: bool
    length: float
    flow: float | None
    state: str | None
    points: tuple[Point, ...]


def line_tables(i: Installation, layout: Layout) -> tuple[LineTable, ...]:
    """The tables of a layout's lines, in the order of the water; no supply line where none was judged."""
    return tuple(_tables(i, layout))


def _tables(i: Installation, layout: Layout) -> Iterator[LineTable]:
    supply = layout.supply
    if supply is not None:
        stations, heads = _supply_heads(i, layout)
        stands = _stands(supply.laid)
        if supply.state == "open":
            stands += [(supply.capacity.station, Standing("rules"))]
        hump = supply.hump
        if hump is not None and supply.state == "primed":
            crest = hump.checks[0]
            suction = Standing("suction", {"head": -crest.number})
            stands += [(crest.station or 0.0, suction)] if crest.number < 0.0 else []
        yield _table(supply.laid, stands, stations, heads, None, flow=supply.brings, state=supply.state)
    drive = layout.drive
    stations, heads = _of(drive.grade)
    stands = _stands(drive.laid)
    stands += [(hump.turn.station, Standing("hump", {"depth": hump.turn.depth})) for hump in drive.humps]
    flow = None
    if drive.closing_velocity is not None:
        flow = drive.closing_velocity * drive.laid.pieces[-1].area
    yield _table(drive.laid, stands, stations, heads, drive.pressures, flow=flow, state=None)
    delivery = layout.delivery
    stations, heads = _of(delivery.grade)
    stands = _stands(delivery.laid)
    if delivery.filling is not None:
        stands += [
            (pocket.summit, Standing("air", {"head": pocket.lost_head}))
            for pocket in delivery.filling.pockets
            if pocket.lost_head > 0.0
        ]
    lifted = delivery.flow if delivery.flow > 0.0 else None
    yield _table(delivery.laid, stands, stations, heads, delivery.pressures, flow=lifted, state=None)


def _of(grade: GradeLine | None) -> tuple[Array, Array]:
    nothing = np.empty(0)
    return (nothing, nothing) if grade is None else (grade.stations, grade.head)


def _supply_heads(i: Installation, layout: Layout) -> tuple[Array, Array]:
    """Grade line of the supply line in the state it is taken to be in: part full it lies at the pipe."""
    supply = layout.supply
    assert supply is not None
    if supply.state == "primed":
        return supply.full.grade.stations, supply.full.grade.head
    nodes = cut_up(supply.line)
    lost, heads = total_head_drop(supply.line, nodes, i.water, supply.brings)
    grade = grade_line(
        supply.line,
        nodes,
        lost=lost,
        velocity_heads=heads,
        flow=supply.brings,
        source_level=supply.source_level,
    )
    return grade.stations, np.maximum(grade.head, grade.levels)


def _stands(laid: LaidLine) -> list[tuple[float, Standing]]:
    """Labels, pipes where they begin, joints, summits and dips along a line."""
    found: list[tuple[float, Standing]] = []
    for station, label in zip(laid.profile.stations.tolist(), laid.profile.labels, strict=True):
        if label:
            found.append((station, Standing("label", {"label": label})))
    if not any(laid.profile.labels):
        ends = {
            "supply_line": ("intake", "drive_tank"),
            "drive_pipe": ("drive_tank", "ram"),
            "delivery_line": ("ram", "tank"),
        }[laid.name]
        found += [(0.0, Standing(ends[0])), (laid.profile.length, Standing(ends[1]))]
    for piece, start in zip(laid.pieces, laid.joints, strict=False):
        found.append((start, Standing("pipe", {"pipe": piece.name, "bore": piece.bore})))
    for turn in turns(laid.profile, least_depth=laid.least_summit):
        found.append((turn.station, Standing("summit" if turn.kind is TurnKind.SUMMIT else "dip")))
    return found


def _table(
    laid: LaidLine,
    stands: list[tuple[float, Standing]],
    graded: Array,
    heads: Array,
    held: Pressures | None,
    *,
    flow: float | None,
    state: str | None,
) -> LineTable:
    stations = np.unique(
        np.concatenate((laid.profile.stations, laid.joints, np.array([at for at, _ in stands])))
    )
    stations = stations[np.concatenate(([True], np.diff(stations) > _SAME))]
    end = float(laid.profile.stations[-1])
    points = []
    for station in np.minimum(stations, end).tolist():
        level = laid.profile.level_at(station)
        # the last of two points at one station: what holds beyond it
        head = _last(graded, heads, station) if graded.size else None
        points.append(
            Point(
                station=station,
                level=level,
                head=head,
                pressure=None if head is None else head - level,
                highest=_along(held, station, "peak_head"),
                allowed=_along(held, station, "allowed_head"),
                stands=tuple(what for at, what in stands if abs(at - station) <= _SAME),
            )
        )
    return LineTable(
        name=laid.name,
        surveyed=laid.surveyed,
        poor=laid.poor,
        length=laid.length,
        flow=flow,
        state=state,
        points=tuple(points),
    )


def _last(stations: Array, values: Array, at: float) -> float:
    k = int(np.searchsorted(stations, at + _SAME, side="right")) - 1
    if k >= 0 and abs(float(stations[k]) - at) <= _SAME:
        return float(values[k])
    return float(np.interp(at, stations, values))


def _along(held: Pressures | None, station: float, what: str) -> float | None:
    """A head of the pressure check at a station (m); None where nothing is known."""
    if held is None:
        return None
    value = float(np.interp(station, held.check.stations, getattr(held.check, what)))
    # An unrated pipe stands for any strength.
    return value if math.isfinite(value) and value < _UNKNOWN else None


_UNKNOWN = 1e6
