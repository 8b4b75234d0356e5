"""Purging the drive pipe of air: run it with the waste valve held open, if that is fast enough."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Range
from ramwright.geometry import Profile
from ramwright.geometry.shape import TurnKind, turns
from ramwright.hydraulics.line import joint_stations
from ramwright.hydraulics.sweeping import pocket_sweeping_velocity
from ramwright.ram import RamSystem
from ramwright.startup.bench import Bench
from ramwright.startup.gravity import quasi_steady_flow
from ramwright.startup.presses import as_range
from ramwright.startup.routes import fitted, least_summit
from ramwright.startup.rules import rule

Array = NDArray[np.float64]
_G = 9.80665


@dataclass(frozen=True, slots=True, kw_only=True)
class SweptStretch:
    """One stretch of drive pipe: velocity at the middle, and what sweeps its air down (both m/s)."""

    field: str
    velocity: float
    needed: float

    @property
    def swept(self) -> bool:
        """Whether the water carries the air along."""
        return self.velocity >= self.needed


@dataclass(frozen=True, slots=True, kw_only=True)
class HumpPocket:
    """Air caught at a hump of the drive pipe at ``station`` (m from the drive tank); m/s as above."""

    station: float
    velocity: float
    needed: float

    @property
    def swept(self) -> bool:
        """Whether the water carries the pocket down behind the hump."""
        return self.velocity >= self.needed


@dataclass(frozen=True, slots=True, kw_only=True)
class Purge:
    """Running the drive pipe off with the waste valve held open.

    ``velocity`` m/s in the last stretch and ``flow`` m3/s; ``litres`` m3 to run off and ``seconds`` that
    takes, ``pipe`` m3 in the pipe; ``stretches``; ``humps``. ``outcome``: ``swept`` (the water carries the
    air out), ``rises`` (it does not, but nothing keeps the air from rising back to the drive tank),
    ``trapped`` (a hump holds it: vent there). ``tank_seconds`` until the drive tank is drawn down to the
    top of its cover (infinite where the source keeps up).
    """

    outcome: str
    velocity: Range
    flow: Range
    litres: float
    seconds: Range
    pipe: float
    stretches: tuple[SweptStretch, ...]
    humps: tuple[HumpPocket, ...]
    tank_seconds: float


def open_flow(system: RamSystem) -> float:
    """Steady flow (m3/s) with the waste valve held wide open: fall = losses of pipe and valve.

    The engine's own two-term friction, entrance with velocity head, valve loss K on its port.
    """
    linear = math.fsum(s.c1 * s.length_m / s.area for s in system.drive_pipe)
    square = math.fsum((s.c2 * s.length_m + s.loss / (2.0 * _G)) / s.area**2 for s in system.drive_pipe)
    square += (1.0 + system.drive_tank.entrance_loss) / (2.0 * _G * system.drive_pipe[0].area ** 2)
    valve = system.waste_valve
    square += valve.loss_at(valve.stroke_m) / (2.0 * _G * valve.port_area**2)
    fall = np.array([system.fall_m - system.tailwater_m])
    return float(quasi_steady_flow(fall, np.array([linear]), np.array([square]))[0])


def purge_drive_pipe(bench: Bench, profile: Profile | None = None) -> Purge:
    """Purging over all truths; ``profile`` of the drive pipe from tank to ram (None: an even fall).

    Air is swept where the velocity exceeds Wisner's for the steepest slope of the stretch; behind a hump
    for the slope below it. Raises ``InputError`` for a profile not as long as the pipe.
    """
    i = bench.installation
    if profile is not None:
        profile = fitted(profile, [s.length for s in i.drive_pipe], name="profiles.drive_pipe")
    flows = np.array([open_flow(s) for s in bench.systems])
    drawn = flows[1:] if len(flows) > 1 else flows
    pipe = math.fsum(s.length * math.pi * s.bore**2 / 4.0 for s in i.drive_pipe)
    last = math.pi * i.drive_pipe[-1].bore ** 2 / 4.0
    litres = rule("sweep-volumes").likely * pipe
    stretches = _stretches(bench, float(flows[0]), profile)
    humps = _humps(bench, float(flows[0]), profile)
    trapped = any(not hump.swept for hump in humps)
    swept = all(stretch.swept for stretch in stretches)
    spare = float(flows[0]) - i.reaching_flow / i.rams
    held = i.tank_area * i.cover if math.isfinite(i.tank_area) else math.inf
    return Purge(
        outcome="trapped" if trapped else "swept" if swept else "rises",
        velocity=as_range(drawn / last),
        flow=as_range(drawn),
        litres=litres,
        seconds=as_range(litres / drawn),
        pipe=pipe,
        stretches=stretches,
        humps=humps,
        tank_seconds=held / spare if spare > 0.0 else math.inf,
    )


def _stretches(bench: Bench, flow: float, profile: Profile | None) -> tuple[SweptStretch, ...]:
    i = bench.installation
    even = math.asin(min(1.0, i.fall.value / i.drive_length))
    slopes = [even] * len(i.drive_pipe)
    if profile is not None:
        joints = joint_stations(profile, [s.length for s in i.drive_pipe], field="drive_pipe")
        slopes = [_steepest(profile, float(a), float(b)) for a, b in pairwise(joints)]
    return tuple(
        SweptStretch(
            field=s.field,
            velocity=flow / (math.pi * s.bore**2 / 4.0),
            needed=pocket_sweeping_velocity(bore=s.bore, slope_angle=slope),
        )
        for s, slope in zip(i.drive_pipe, slopes, strict=True)
    )


def _steepest(profile: Profile, start: float, end: float) -> float:
    """Angle (rad below level) of the steepest fall between two stations, 0 where it only climbs."""
    inside = (profile.stations > start) & (profile.stations < end)
    stations = np.concatenate(([start], profile.stations[inside], [end]))
    levels = np.interp(stations, profile.stations, profile.levels)
    steepest = float(np.max(-np.diff(levels) / np.diff(stations)))
    return math.asin(min(max(steepest, 0.0), 1.0))


def _humps(bench: Bench, flow: float, profile: Profile | None) -> tuple[HumpPocket, ...]:
    """Humps of the drive pipe: each with the water's speed and what carries its air down the far side."""
    if profile is None:
        return ()
    i = bench.installation
    joints = joint_stations(profile, [s.length for s in i.drive_pipe], field="drive_pipe")
    bends = turns(profile, least_depth=least_summit(profile, max(s.bore for s in i.drive_pipe)))
    found = []
    for at, turn in enumerate(bends):
        if turn.kind is not TurnKind.SUMMIT:
            continue
        end = bends[at + 1].station if at + 1 < len(bends) else float(profile.stations[-1])
        piece = int(
            np.clip(np.searchsorted(joints, turn.station, side="right") - 1, 0, len(i.drive_pipe) - 1)
        )
        bore = i.drive_pipe[piece].bore
        found.append(
            HumpPocket(
                station=turn.station,
                velocity=flow / (math.pi * bore**2 / 4.0),
                needed=pocket_sweeping_velocity(bore=bore, slope_angle=_steepest(profile, turn.station, end)),
            )
        )
    return tuple(found)
