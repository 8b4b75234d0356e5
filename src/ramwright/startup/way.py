"""The way water climbs in the delivery line: level, head on the ram and volume as it fills."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Installation
from ramwright.errors import InputError
from ramwright.geometry import Profile
from ramwright.hydraulics.air import Filling, fill
from ramwright.hydraulics.friction import fit_two_term
from ramwright.hydraulics.line import Line, Segment, joint_stations
from ramwright.hydraulics.water import Water
from ramwright.startup.routes import fitted, least_summit

Array = NDArray[np.float64]
_G = 9.80665
_POINTS = 65
#: A profile whose top misses the lift by more than this many standard deviations is another line's.
_FAR_OFF = 4.0
_SLOWEST, _FASTEST = 0.1, 3.0


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """Points along the delivery line, from the ram up; all arrays (n,), SI.

    ``stations`` m of pipe from the ram; ``levels`` of the pipe's axis, m above the waste-valve seat;
    ``pockets`` m, heights of the air pockets shut in behind the front when it stands there; ``volumes``
    m3 of pipe up to there; ``inertia`` s2/m2, ``r1`` and ``r2`` what a full line up to there has (head
    lost is r1 Q + r2 Q|Q|); ``areas`` m2 of the bore there. It ends at the line's highest point.
    """

    stations: Array
    levels: Array
    pockets: Array
    volumes: Array
    inertia: Array
    r1: Array
    r2: Array
    areas: Array

    @property
    def heads(self) -> Array:
        """Head (m) on the ram when the front stands at each point: the highest level passed, and pockets."""
        return np.maximum.accumulate(self.levels) + self.pockets

    @property
    def lift(self) -> float:
        """Level of the highest point, m above the waste-valve seat."""
        return float(np.max(self.levels))

    @property
    def last_head(self) -> float:
        """Head on the ram when the line is full, m: the lift and what air in it costs."""
        return float(self.heads[-1])

    @property
    def length(self) -> float:
        """Length of the line, m."""
        return float(self.stations[-1])

    @property
    def volume(self) -> float:
        """What the line holds, m3."""
        return float(self.volumes[-1])

    def to_lift(self, lift: float) -> Way:
        """The same ground stretched upwards so that its highest point lies ``lift`` (m) above the seat."""
        return replace(self, levels=self.levels * (lift / self.lift))

    def at_head(self, values: Array, head: float) -> float:
        """``values`` (n,) at the first point where the head on the ram reaches ``head`` (m)."""
        heads = self.heads
        k = int(np.searchsorted(heads, head))
        if k == 0:
            return float(values[0])
        if k >= len(heads):
            return float(values[-1])
        share = (head - heads[k - 1]) / (heads[k] - heads[k - 1])
        return float(values[k - 1] + share * (values[k] - values[k - 1]))


def way_of(installation: Installation, profile: Profile | None = None) -> tuple[Way, Filling | None]:
    """The way of an installation's delivery line, and what its humps do to the air in it.

    ``profile`` runs from the ram to the tank, in any datum; its first point is taken to lie at the
    waste-valve seat. Without one the line rises evenly. Raises ``InputError``: ``startup_profile_top``
    where its rise is not the lift, ``startup_route_length`` where its length is not the line's.
    """
    i = installation
    if profile is None:
        stations = np.linspace(0.0, math.fsum(s.length for s in i.delivery_line), _POINTS)
        levels = np.linspace(0.0, i.lift.value, _POINTS)
        return _along(i, stations, levels, np.zeros(_POINTS)), None
    rise = float(np.max(profile.levels) - profile.levels[0])
    loose = max(_FAR_OFF * math.hypot(i.lift.sd, profile.level_sd or 0.0), 0.02 * i.lift.value)
    if abs(rise - i.lift.value) > loose:
        raise InputError("startup_profile_top", field="profiles.delivery_line", value=rise, lift=i.lift.value)
    lengths = [s.length for s in i.delivery_line]
    profile = fitted(profile, lengths, name="profiles.delivery_line")
    joints = joint_stations(profile, lengths, field="delivery_line")
    every = np.linspace(0.0, profile.length, _POINTS)
    stations = np.unique(np.concatenate((every, profile.stations, joints)))
    levels = np.interp(stations, profile.stations, profile.levels) - profile.levels[0]
    # Beyond the highest point water runs by itself.
    top = int(np.argmax(levels))
    filling = _filling(i, profile)
    pockets = np.zeros(len(stations))
    for pocket in filling.pockets:
        # The pocket is squeezed as the water beyond it climbs out of the dip.
        climbed = np.maximum.accumulate(np.where(stations > pocket.dip, levels, -np.inf))
        dip = float(np.interp(pocket.dip, stations, levels))
        pockets += np.clip(climbed - dip, 0.0, pocket.lost_head)
    cut = slice(0, top + 1)
    return _along(i, stations[cut], levels[cut], pockets[cut]), filling


def _filling(i: Installation, profile: Profile) -> Filling:
    """What filling the line from below does to the air in it: pockets and their heights."""
    segments = tuple(Segment(length=s.length, bore=s.bore, roughness=s.roughness) for s in i.delivery_line)
    line = Line(profile=profile, segments=segments)
    low = least_summit(profile, max(s.bore for s in i.delivery_line))
    return fill(line, i.water, source_level=float(np.max(profile.levels)), least_depth=low)


def _along(i: Installation, stations: Array, levels: Array, pockets: Array) -> Way:
    """A way from stations and levels (m above the seat), scaled to end at the installation's lift."""
    ends = np.cumsum([s.length for s in i.delivery_line])
    middles = 0.5 * (stations[1:] + stations[:-1])
    which = np.clip(np.searchsorted(ends, middles), 0, len(ends) - 1)
    steps = np.diff(stations)
    laws = [_laws(s.bore, s.roughness, s.loss / s.length, i.water) for s in i.delivery_line]
    area, r1, r2 = (np.array([law[k] for law in laws])[which] for k in range(3))
    return Way(
        stations=stations,
        levels=levels * (i.lift.value / float(np.max(levels))),
        pockets=pockets,
        volumes=_sums(area * steps),
        inertia=_sums(steps / (_G * area)),
        r1=_sums(r1 * steps),
        r2=_sums(r2 * steps),
        areas=np.append(area[:1], area),
    )


def _laws(bore: float, roughness: float, loss_per_m: float, water: Water) -> tuple[float, float, float]:
    """Area (m2), and the linear and quadratic head lost per metre of pipe on the flow (s/m3, s2/m6)."""
    area = math.pi * bore**2 / 4.0
    law = fit_two_term(
        bore=bore,
        roughness=roughness,
        kinematic_viscosity=water.kinematic_viscosity,
        lowest_velocity=_SLOWEST,
        highest_velocity=_FASTEST,
    )
    return area, law.linear / area, (law.quadratic + loss_per_m / (2.0 * _G)) / area**2


def _sums(steps: Sequence[float] | Array) -> Array:
    return np.concatenate(([0.0], np.cumsum(steps)))
