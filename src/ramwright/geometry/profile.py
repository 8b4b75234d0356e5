"""One line across the ground: how far along it, and how high."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import NoReturn

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ramwright.errors import InputError

FloatArray = NDArray[np.float64]


class Measured(StrEnum):
    """How distances were measured: with a tape laid along the slope, or level (map, GPX, stadia)."""

    SLOPE = "slope"
    HORIZONTAL = "horizontal"


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Stations along a line and the level at each, from its upstream end.

    ``stations`` (n,) float64, m of pipe along the line, rising, n at least 2; ``levels`` (n,) float64, m
    above any one datum; ``labels`` n strings, empty where a point has none; ``level_sd`` m, the standard
    deviation of each level by itself, or None when not stated. Between points the line is straight. Raises
    ``InputError``.
    """

    stations: FloatArray
    levels: FloatArray
    labels: tuple[str, ...] = ()
    level_sd: float | None = None

    def __post_init__(self) -> None:
        stations = _own_copy("stations", self.stations)
        levels = _own_copy("levels", self.levels)
        if stations.size != levels.size:
            raise InputError(
                "geometry_lengths_differ", field="levels", value=int(levels.size), stations=int(stations.size)
            )
        if stations.size < 2:
            raise InputError("geometry_too_few_points", field="stations", value=int(stations.size))
        steps, rises = np.diff(stations), np.diff(levels)
        if bool(np.any(steps <= 0.0)):
            _refuse("geometry_stations_not_rising", stations, int(np.argmax(steps <= 0.0)) + 1)
        # a micrometre of grace: levels and lengths are rounded before they come here
        steep = np.abs(rises) > steps + 1e-6
        if bool(np.any(steep)):
            at = int(np.argmax(steep)) + 1
            _refuse("geometry_steeper_than_upright", stations, at, rise=float(rises[at - 1]))
        if self.labels and len(self.labels) != stations.size:
            raise InputError(
                "geometry_lengths_differ", field="labels", value=len(self.labels), stations=int(stations.size)
            )
        if self.level_sd is not None and not (math.isfinite(self.level_sd) and self.level_sd >= 0.0):
            raise InputError("geometry_spread_impossible", field="level_sd", value=self.level_sd)
        object.__setattr__(self, "stations", stations)
        object.__setattr__(self, "levels", levels)
        object.__setattr__(self, "labels", tuple(self.labels) or ("",) * int(stations.size))

    def __eq__(self, other: object) -> bool:
        """Equal when every station, level, label and the spread are."""
        if not isinstance(other, Profile):
            return NotImplemented
        return (
            np.array_equal(self.stations, other.stations)
            and np.array_equal(self.levels, other.levels)
            and self.labels == other.labels
            and self.level_sd == other.level_sd
        )

    def __hash__(self) -> int:
        """Hash of the numbers and labels."""
        return hash((self.stations.tobytes(), self.levels.tobytes(), self.labels, self.level_sd))

    @classmethod
    def from_points(
        cls,
        distances: ArrayLike,
        levels: ArrayLike,
        *,
        measured: Measured = Measured.SLOPE,
        labels: Sequence[str] = (),
        level_sd: float | None = None,
    ) -> Profile:
        """Return a profile from running distances (m) and levels (m), shape (n,) each.

        Horizontal distances are turned into pipe length, sqrt(dx^2 + dz^2) a step; two points at one
        distance are then an upright pipe. Raises ``InputError``.
        """
        x, z = _own_copy("stations", distances), _own_copy("levels", levels)
        if measured is Measured.HORIZONTAL and x.size == z.size:
            dx, dz = np.diff(x), np.diff(z)
            if bool(np.any(dx < 0.0)):
                _refuse("geometry_stations_not_rising", x, int(np.argmax(dx < 0.0)) + 1)
            x = np.concatenate(([0.0], np.cumsum(np.hypot(dx, dz)))) if x.size else x
        return cls(stations=x, levels=z, labels=tuple(labels), level_sd=level_sd)

    @property
    def length(self) -> float:
        """Pipe length from end to end, m."""
        return float(self.stations[-1] - self.stations[0])

    @property
    def horizontal_distances(self) -> FloatArray:
        """Running horizontal distance of each point from the first, m, shape (n,)."""
        steps, rises = np.diff(self.stations), np.diff(self.levels)
        level = np.sqrt(np.maximum(steps**2 - rises**2, 0.0))
        return np.concatenate(([0.0], np.cumsum(level)))

    @property
    def fall(self) -> float:
        """Level of the first point less that of the last, m: above zero where the line runs downhill."""
        return float(self.levels[0] - self.levels[-1])

    def level_at(self, station: float) -> float:
        """Return the level (m) at ``station`` (m), straight between points.

        Raises ``InputError`` off the line.
        """
        if not self.stations[0] <= station <= self.stations[-1]:
            raise InputError(
                "geometry_off_the_line",
                field="station",
                value=station,
                start=float(self.stations[0]),
                end=float(self.stations[-1]),
            )
        return float(np.interp(station, self.stations, self.levels))

    def reversed(self) -> Profile:
        """Return the same line walked from the other end, its stations starting at zero."""
        return Profile(
            stations=self.stations[-1] - self.stations[::-1],
            levels=self.levels[::-1],
            labels=self.labels[::-1],
            level_sd=self.level_sd,
        )


def _own_copy(field: str, values: ArrayLike) -> FloatArray:
    """Return ``values`` as a read-only float64 array of its own, shape (n,), all finite."""
    try:
        array = np.array(values, dtype=np.float64)
    except (TypeError, ValueError, OverflowError) as cause:
        raise InputError("geometry_not_numbers", field=field) from cause
    if array.ndim != 1:
        raise InputError("geometry_not_a_list", field=field, value=array.ndim)
    bad = ~np.isfinite(array)
    if bool(np.any(bad)):
        at = int(np.argmax(bad))
        raise InputError("geometry_not_finite", field=f"{field}[{at}]", value=float(array[at]))
    array.flags.writeable = False
    return array


def _refuse(code: str, stations: FloatArray, at: int, **details: float) -> NoReturn:
    """Raise ``InputError(code)`` for point ``at``, counted from 0, naming the station before it."""
    error = InputError(code, field=f"stations[{at}]", value=float(stations[at]), point=at)
    error.details |= {"before": float(stations[at - 1]), **details}
    raise error
