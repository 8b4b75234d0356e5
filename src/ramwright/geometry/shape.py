"""What the shape of a profile says: its highest point, summits and dips, and points at even spacing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from ramwright.errors import InputError
from ramwright.geometry.profile import Profile

MOST_POINTS = 100_000


class TurnKind(StrEnum):
    """A summit has lower ground on both sides, a dip higher."""

    SUMMIT = "summit"
    DIP = "dip"


@dataclass(frozen=True, slots=True)
class Turn:
    """A summit or dip between the ends of a line.

    ``index`` of the profile point (the first of a level stretch), counted from 0; ``station`` and ``level``
    m; ``depth`` m, by how much the lower of the two climbs (or falls) beside it reaches away from it.
    """

    kind: TurnKind
    index: int
    station: float
    level: float
    depth: float


@dataclass(frozen=True, slots=True)
class ProfilePoint:
    """One point of a profile: ``index`` counted from 0, ``station`` and ``level`` m, ``label`` as written."""

    index: int
    station: float
    level: float
    label: str


@dataclass(frozen=True, slots=True)
class ProfileNote:
    """Something about a profile worth a second look.

    ``code`` one of ``heights_poor`` (number: their spread, m), ``step_long`` (the step, m) and
    ``step_steep`` (rise over length); ``station`` m where, None when it holds for all; ``limit`` what it
    was held against.
    """

    code: str
    station: float | None
    number: float
    limit: float


def highest_point(profile: Profile) -> ProfilePoint:
    """Return the highest point of the line, the first of several equals."""
    at = int(np.argmax(profile.levels))
    return ProfilePoint(
        index=at,
        station=float(profile.stations[at]),
        level=float(profile.levels[at]),
        label=profile.labels[at],
    )


def turns(profile: Profile, *, least_depth: float = 0.0) -> tuple[Turn, ...]:
    """Return the summits and dips between the ends, in order, each deeper than ``least_depth`` (m).

    A turn counts once the line has gone back by more than ``least_depth`` on both sides, so that the spread
    of the levels does not make summits. Raises ``InputError``.
    """
    if not (math.isfinite(least_depth) and least_depth >= 0.0):
        raise InputError("geometry_depth_impossible", field="least_depth", value=least_depth)
    extremes = _extremes(profile.levels.tolist(), least_depth)
    found = []
    for before, at, after in zip(extremes, extremes[1:], extremes[2:], strict=False):
        level = float(profile.levels[at])
        left, right = float(profile.levels[before]), float(profile.levels[after])
        kind = TurnKind.SUMMIT if level > left else TurnKind.DIP
        depth = min(abs(level - left), abs(level - right))
        found.append(Turn(kind=kind, index=at, station=float(profile.stations[at]), level=level, depth=depth))
    return tuple(found)


def summits(profile: Profile, *, least_depth: float = 0.0) -> tuple[Turn, ...]:
    """Return only the summits of ``turns``."""
    return tuple(t for t in turns(profile, least_depth=least_depth) if t.kind is TurnKind.SUMMIT)


def dips(profile: Profile, *, least_depth: float = 0.0) -> tuple[Turn, ...]:
    """Return only the dips of ``turns``."""
    return tuple(t for t in turns(profile, least_depth=least_depth) if t.kind is TurnKind.DIP)


def _extremes(levels: list[float], least_depth: float) -> list[int]:
    """Return the indices of start, alternating turns and end of a zigzag whose legs exceed ``least_depth``.

    The first leg starts at the lowest (or highest) point before it, which may lie behind the start of the
    line.
    """
    high = low = 0
    going = 0  # +1 rising, -1 falling, 0 not yet known
    found: list[int] = []
    for i, level in enumerate(levels):
        if level > levels[high]:
            high = i
        if level < levels[low]:
            low = i
        if going >= 0 and levels[high] - level > least_depth:
            found.append(high)
            going, low = -1, i
        elif going <= 0 and level - levels[low] > least_depth:
            found.append(low)
            going, high = 1, i
    if going:
        found.append(high if going > 0 else low)
    return found


def resample(profile: Profile, *, step: float) -> Profile:
    """Return the line with points at most ``step`` (m) apart.

    Every given point is kept, new ones carry no label.

    Raises ``InputError`` for a step not above zero or one that would make more than 100,000 points.
    """
    if not (math.isfinite(step) and step > 0.0):
        raise InputError("geometry_step_impossible", field="step", value=step)
    if profile.length / step + profile.stations.size > MOST_POINTS:
        raise InputError("geometry_step_too_fine", field="step", value=step, most=MOST_POINTS)
    stations: list[float] = []
    labels: list[str] = []
    for left, right, label in zip(
        profile.stations[:-1].tolist(), profile.stations[1:].tolist(), profile.labels[:-1], strict=True
    ):
        parts = max(1, math.ceil((right - left) / step * (1.0 - 1e-12)))
        stations.extend(left + (right - left) * k / parts for k in range(parts))
        labels.extend([label] + [""] * (parts - 1))
    stations.append(float(profile.stations[-1]))
    labels.append(profile.labels[-1])
    return Profile(
        stations=np.array(stations),
        levels=np.interp(stations, profile.stations, profile.levels),
        labels=tuple(labels),
        level_sd=profile.level_sd,
    )


def look_over(
    profile: Profile, *, poor_height_sd: float, long_step: float, steep: float
) -> tuple[ProfileNote, ...]:
    """Return what deserves a second look, heights first, then along the line.

    ``poor_height_sd`` m: heights spread at least so much are poor; ``long_step`` m: a longer step may hide
    a summit; ``steep``: rise over length above which a step is likelier a slip of the pen (0 to 1). Limits
    are the caller's.
    """
    notes = []
    if profile.level_sd is not None and profile.level_sd >= poor_height_sd:
        notes.append(ProfileNote("heights_poor", None, profile.level_sd, poor_height_sd))
    steps = np.diff(profile.stations)
    grades = np.abs(np.diff(profile.levels)) / steps
    for station, length, grade in zip(
        profile.stations[:-1].tolist(), steps.tolist(), grades.tolist(), strict=True
    ):
        if length > long_step:
            notes.append(ProfileNote("step_long", station, length, long_step))
        if grade > steep:
            notes.append(ProfileNote("step_steep", station, grade, steep))
    return tuple(notes)
