"""Where words can stand: clear of other words, and of the lines drawn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from ramwright.drawings.canvas import Box

Array = NDArray[np.float64]
_APART = 3.0


class Room:
    """What is taken on a sheet, and the search for a free place."""

    def __init__(self) -> None:
        self._boxes: list[Box] = []
        self._points = np.empty((0, 3))

    def take(self, box: Box) -> None:
        """Mark a box as taken."""
        self._boxes.append(box)

    def avoid(self, x: Array | Sequence[float], y: Array | Sequence[float], *, weight: float = 1.0) -> None:
        """Mark a line as one that words should not cross, the less so the greater its ``weight``."""
        xs, ys = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
        if not len(xs):
            return
        length = np.concatenate(([0.0], np.cumsum(np.nan_to_num(np.hypot(np.diff(xs), np.diff(ys))))))
        at = np.linspace(0.0, length[-1], max(2, int(length[-1] / 2.0)))
        across, down = np.interp(at, length, xs), np.interp(at, length, ys)
        dense = np.column_stack((across, down, np.full_like(at, weight)))
        self._points = np.vstack((self._points, dense[np.isfinite(dense).all(axis=1)]))

    def cost(self, box: Box) -> float:
        """How badly a box stands here: shared area counts most, then the lines that cross it."""
        near = box.grown(_APART)
        shared = sum(near.overlap(other) for other in self._boxes)
        x, y, weight = self._points.T
        crossed = (x > near.left) & (x < near.right) & (y > near.top) & (y < near.bottom)
        return 1e3 * shared + float(weight[crossed].sum())

    def best(self, candidates: Iterable[Box], *, order: float = 0.0) -> tuple[Box, float]:
        """Take the candidate that stands best, and say at what cost.

        Each costs ``order`` more than the one before it; at the same cost the earlier is taken.
        """
        found = min(((self.cost(box) + i * order, i, box) for i, box in enumerate(candidates)))
        self.take(found[2])
        return found[2], found[0]


def spread_out(wanted: Sequence[float], least: float, low: float, high: float) -> list[float]:
    """Places near ``wanted`` (rising), at least ``least`` apart, within ``low`` .. ``high`` if they fit.

    Least moved in the mean: neighbours that touch are moved together about their middle.
    """
    least = min(least, (high - low) / max(len(wanted) - 1, 1)) if high > low else 0.0
    groups: list[tuple[float, int]] = []  # (sum of wanted places less their offsets, how many)
    for place in wanted:
        total, count = place, 1
        while groups:
            before, n = groups[-1]
            if before / n + n * least <= total / count:
                break
            groups.pop()
            total, count = before + total - count * n * least, count + n
        groups.append((total, count))
    places: list[float] = []
    for total, count in groups:
        first = total / count
        places += [first + k * least for k in range(count)]
    return _held(places, least, low, high)


def _held(places: list[float], least: float, low: float, high: float) -> list[float]:
    """Push places in from both ends, keeping them ``least`` apart."""
    for i in range(len(places)):
        places[i] = max(places[i], low + i * least)
    for i in range(len(places)):
        k = len(places) - 1 - i
        places[k] = min(places[k], high - i * least)
    return places
