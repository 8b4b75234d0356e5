"""Small symbols as outlines in a unit square: one beside each colour that means something.

Drawn, not set in type, so that they look alike wherever the picture is shown. Each symbol is a tuple of
(points of shape (n, 2) within -1 .. 1, y down; whether it is cut out of what is below it).
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Shape = tuple[tuple[Array, bool], ...]


def _points(*pairs: tuple[float, float]) -> Array:
    return np.array(pairs, dtype=np.float64)


def _round(x: float, y: float, radius: float, *, start: float = 0.0, end: float = 360.0) -> Array:
    """Points on a circle from ``start`` to ``end`` degrees, clockwise on the page."""
    angles = np.radians(np.linspace(start, end, max(8, round((end - start) / 10.0))))
    return np.column_stack((x + radius * np.cos(angles), y + radius * np.sin(angles)))


def _regular(sides: int, turn: float, radius: float) -> Array:
    angles = turn + 2.0 * math.pi * np.arange(sides) / sides
    return radius * np.column_stack((np.cos(angles), np.sin(angles)))


def _bar(half_width: float, top: float, bottom: float) -> Array:
    return _points((-half_width, top), (half_width, top), (half_width, bottom), (-half_width, bottom))


#: A drop of water.
WATER: Final[Shape] = ((np.vstack((_points((0.0, -1.0)), _round(0, 0.32, 0.66, start=-30, end=210))), False),)
#: Take care: a triangle with a mark.
CAUTION: Final[Shape] = (
    (_points((0.0, -0.92), (1.0, 0.82), (-1.0, 0.82)), False),
    (_bar(0.11, -0.34, 0.3), True),
    (_round(0.0, 0.53, 0.13), True),
)
#: Stop: an octagon with a bar.
STOP: Final[Shape] = (
    (_regular(8, math.pi / 8, 1.0), False),
    (_points((-0.55, -0.16), (0.55, -0.16), (0.55, 0.16), (-0.55, 0.16)), True),
)
#: Well: a round with a tick.
GOOD: Final[Shape] = (
    (_round(0, 0, 0.95), False),
    (_points((-0.5, 0.02), (-0.34, -0.14), (-0.12, 0.1), (0.36, -0.4), (0.52, -0.24), (-0.12, 0.44)), True),
)
#: Air caught: a ring.
AIR: Final[Shape] = ((_round(0, 0, 0.8), False), (_round(0, 0, 0.42), True))
#: Symbols by the word the pictures use for them.
SYMBOLS: Final[dict[str, Shape]] = {
    "water": WATER,
    "caution": CAUTION,
    "stop": STOP,
    "good": GOOD,
    "air": AIR,
}
