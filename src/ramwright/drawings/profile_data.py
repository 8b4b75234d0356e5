"""What a profile is drawn from: lines, ground, places and heights in SI, and words."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ramwright.drawings.scales import clean, same_length

Array = NDArray[np.float64]
LineKind = Literal["supply", "drive", "delivery"]
PlaceKind = Literal["intake", "drive_tank", "ram", "tank", "air"]


def _none() -> Array:
    return np.empty(0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ProfileLine:
    """One line of pipe: ``stations`` along the whole way and ``levels`` of the pipe, m, shape (n,).

    ``grade_stations`` and ``grade_levels``, shape (k,), are its hydraulic grade line, if known; where
    that lies below the pipe, the water is under suction. Raises ``InputError("picture_lengths_differ")``.
    """

    kind: LineKind
    stations: Array
    levels: Array
    grade_stations: Array = field(default_factory=_none)
    grade_levels: Array = field(default_factory=_none)

    def __post_init__(self) -> None:
        same_length(stations=self.stations, levels=self.levels)
        same_length(grade_stations=self.grade_stations, grade_levels=self.grade_levels)

    def pipe(self) -> tuple[Array, Array]:
        """Rising stations and levels of the pipe."""
        return rising(self.stations, self.levels)

    def grade(self) -> tuple[Array, Array]:
        """Rising stations and levels of the grade line."""
        return rising(self.grade_stations, self.grade_levels)

    def suction(self) -> tuple[Array, Array, Array]:
        """Stations, levels of the pipe and of the grade line, the last not-a-number unless below the pipe."""
        (x, pipe), (at, grade) = self.pipe(), self.grade()
        if len(x) < 2 or len(at) < 2:
            return _none(), _none(), _none()
        both = np.union1d(x, at)
        both = both[(both >= max(x[0], at[0])) & (both <= min(x[-1], at[-1]))]
        upper, lower = np.interp(both, x, pipe), np.interp(both, at, grade)
        below = lower < upper
        crossing = np.flatnonzero(below[1:] != below[:-1])
        share = (upper - lower)[crossing] / ((upper - lower)[crossing] - (upper - lower)[crossing + 1])
        extra = both[crossing] + share * np.diff(both)[crossing]
        every = np.union1d(both, extra)
        upper, lower = np.interp(every, x, pipe), np.interp(every, at, grade)
        hair = 1e-9 * (1.0 + np.abs(upper))
        below = lower < upper - hair
        # and the points where such a stretch begins and ends
        beside = np.append(below[1:], False) | np.insert(below[:-1], 0, False)
        return every, upper, np.where(below | (beside & (lower <= upper + hair)), lower, np.nan)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfilePlace:
    """Something that stands at a ``station`` and ``level`` (m), with its name.

    The level is that of the water in a drive tank, of the waste-valve seat for a ram, of the top inlet
    for a tank, of the pipe for trapped air.
    """

    kind: PlaceKind
    station: float
    level: float
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfileHeight:
    """A height to be told: ``words`` (``{value}`` in them is the height) between two points, m.

    The upright stands at ``station``; thin lines lead to it from where the two levels are.
    """

    words: str
    station: float
    low: float
    low_station: float
    high: float
    high_station: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ProfileData:
    """A profile: ``lines`` in the order of the water, the ground (shape (n,), m), places and heights."""

    lines: tuple[ProfileLine, ...]
    ground_stations: Array = field(default_factory=_none)
    ground_levels: Array = field(default_factory=_none)
    places: tuple[ProfilePlace, ...] = ()
    heights: tuple[ProfileHeight, ...] = ()

    def __post_init__(self) -> None:
        same_length(ground_stations=self.ground_stations, ground_levels=self.ground_levels)

    def ground(self) -> tuple[Array, Array]:
        """Rising stations and levels of the ground."""
        return rising(self.ground_stations, self.ground_levels)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfileLabels:
    """Words of a profile; an empty one is left out.

    ``supply``, ``drive``, ``delivery`` name the lines; ``ground``, ``grade``, ``suction`` and ``air`` go into
    the key. ``larger`` (with a blank ``{times}``) says how much larger heights are drawn than lengths,
    ``true`` that they are drawn alike. ``closer`` heads the closer view of the drive pipe.
    """

    title: str
    description: str
    larger: str
    true: str
    supply: str = ""
    drive: str = ""
    delivery: str = ""
    ground: str = ""
    grade: str = ""
    suction: str = ""
    air: str = ""
    closer: str = ""
    caption: str = ""


def rising(stations: Array, levels: Array) -> tuple[Array, Array]:
    """Points with both numbers known, by rising station; of several at one station all are kept in order."""
    x, y = clean(stations), clean(levels)
    rows = np.flatnonzero(np.isfinite(x) & np.isfinite(y))
    rows = rows[np.argsort(x[rows], kind="stable")]
    return x[rows], y[rows]
