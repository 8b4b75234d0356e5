"""What each piece of a line may hold, pipe and joint, and what it has to hold, station by station."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise.laid import LaidLine
from ramwright.appraise.stretches import Stretch
from ramwright.catalogue import Figure, joint_pressure, pipe_pressure
from ramwright.errors import LimitError
from ramwright.hydraulics.pressure import PressureCheck, RatedPipe, check_pressure
from ramwright.hydraulics.water import STANDARD_GRAVITY, Water

#: Rating given to a pipe that says none, Pa: no ram reaches it, so it never rules.
_UNRATED: Final = 1e12
_NOTHING: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Strength:
    """What a piece may hold at the water's temperature, m of water.

    ``pipe`` is infinite where the sheet gives only measures; ``joint`` and ``joint_low`` (the joint badly
    made) are infinite where it names no joint. ``joint_figure`` is where the joint's figure comes from.
    """

    piece: Stretch
    pipe: float
    joint: float
    joint_low: float
    joint_figure: Figure | None

    @property
    def weakest(self) -> float:
        """What pipe and joint together hold, m of water."""
        return min(self.pipe, self.joint)


def strength(piece: Stretch, water: Water) -> Strength:
    """What ``piece`` may hold; nothing where it is warmer than its table goes."""
    weight = water.density * STANDARD_GRAVITY
    pipe = math.inf
    figure = low = None
    try:
        if piece.pipe is not None:
            pipe = pipe_pressure(piece.pipe, temperature_c=water.temperature_c).likely / weight
        kind = piece.joint
        if kind is not None and piece.pipe is not None:
            figure = joint_pressure(kind, piece.pipe, temperature_c=water.temperature_c)
        elif kind is not None and kind.basis == "pressure":
            figure = kind.holds
    except LimitError:
        pipe = 0.0
    joint = figure.likely / weight if figure is not None else math.inf
    low = figure.low / weight if figure is not None else math.inf
    return Strength(piece, pipe, joint, low, figure)


@dataclass(frozen=True, slots=True, eq=False)
class Pressures:
    """A line's pieces against what they see, m of water, piece by piece.

    ``peaks``: the highest head in each at work; ``shut`` with the delivery shut off; ``check`` the same
    along the line at work, station by station, joints included.
    """

    strengths: tuple[Strength, ...]
    peaks: tuple[float, ...]
    shut: tuple[float, ...]
    check: PressureCheck


def pressures(
    laid: LaidLine, water: Water, *, standing: float, surge: float, drop: float, shut_off: float
) -> Pressures:
    """Hold a line against its pressures.

    ``standing`` the level water stands to at rest, ``surge`` and ``drop`` on top of and below it at work,
    ``shut_off`` the level with the delivery shut; all m, above the seat.
    """
    strengths = tuple(strength(piece, water) for piece in laid.pieces)
    rated = [
        RatedPipe(
            length=length,
            rated_pressure=max(_rating(each, water), _NOTHING),
        )
        for each, length in zip(strengths, np.diff(laid.joints).tolist(), strict=True)
    ]
    check = check_pressure(
        laid.profile,
        rated,
        water,
        standing_level=standing,
        surge_head=max(surge, 0.0),
        drop_head=max(drop, 0.0),
    )
    deepest = tuple(
        _deepest(laid, start, end) for start, end in zip(laid.joints, laid.joints[1:], strict=False)
    )
    return Pressures(
        strengths,
        peaks=tuple(standing + max(surge, 0.0) - level for level in deepest),
        shut=tuple(shut_off - level for level in deepest),
        check=check,
    )


def _rating(each: Strength, water: Water) -> float:
    held = each.weakest * water.density * STANDARD_GRAVITY
    return held if math.isfinite(held) else _UNRATED


def _deepest(laid: LaidLine, start: float, end: float) -> float:
    """Lowest level of a line between two stations, m."""
    stations: NDArray[np.float64] = laid.profile.stations
    inside = laid.profile.levels[(stations > start) & (stations < end)]
    last = float(stations[-1])
    ends = (laid.profile.level_at(min(start, last)), laid.profile.level_at(min(end, last)))
    return min(*ends, float(np.min(inside)) if inside.size else math.inf)
