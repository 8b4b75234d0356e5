"""Scales, round ticks and round lengths, and traces thinned to what a picture can show."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ramwright.errors import InputError

Array = NDArray[np.float64]
_HUGE = 1e15
_NOTHING = 1e-12
_STEPS = (1.0, 2.0, 5.0)


@dataclass(frozen=True, slots=True)
class Scale:
    """Straight line from ``low`` .. ``high`` of the data to ``start`` .. ``end`` in pixels."""

    low: float
    high: float
    start: float
    end: float

    @property
    def per_unit(self) -> float:
        """Pixels for one unit of the data."""
        return (self.end - self.start) / (self.high - self.low)

    def __call__(self, value: float) -> float:
        """Pixel at which a value stands."""
        return self.start + (value - self.low) * self.per_unit

    def all(self, values: Array) -> Array:
        """Pixels at which an array of values stands; not-a-numbers stay what they are."""
        return self.start + (values - self.low) * self.per_unit


def clean(values: ArrayLike) -> Array:
    """An array of floats in which what cannot be drawn (infinite, beyond 1e15) is not-a-number."""
    array = np.array(values, dtype=np.float64).reshape(-1)
    array[~(np.abs(array) <= _HUGE)] = np.nan
    return array


def known(value: float | None) -> bool:
    """Whether there is a number that can be drawn."""
    return value is not None and abs(value) <= _HUGE


def same_length(**columns: Array) -> None:
    """Raise ``InputError`` unless all columns have the same number of values."""
    lengths = {name: len(values) for name, values in columns.items()}
    if len(set(lengths.values())) > 1:
        told = ", ".join(f"{name} {length}" for name, length in lengths.items())
        raise InputError("picture_lengths_differ", value=told)


def extent(values: Iterable[Any]) -> tuple[float, float]:
    """Least and greatest of all numbers given (arrays or single ones); (0, 1) if there are none.

    A single value gets room on both sides, so that a scale can be laid through it.
    """
    flat = np.concatenate([clean(value) for value in values] or [np.empty(0)])
    flat = flat[np.isfinite(flat)]
    if not len(flat):
        return 0.0, 1.0
    low, high = float(flat.min()), float(flat.max())
    if high - low <= max(1e-9 * max(abs(low), abs(high)), _NOTHING):
        room = 0.1 * abs(high) if abs(high) > _NOTHING else 1.0
        return low - room, high + room
    return low, high


def round_up(value: float) -> float:
    """The least of 1, 2, 5 times a power of ten that is not less than a positive ``value``."""
    power = 10.0 ** math.floor(math.log10(value))
    return next((s * power for s in _STEPS if s * power >= value * (1 - 1e-9)), 10.0 * power)


def round_down(value: float) -> float:
    """The greatest of 1, 2, 5 times a power of ten that is not more than a positive ``value``."""
    power = 10.0 ** math.floor(math.log10(value))
    return next((s * power for s in reversed(_STEPS) if s * power <= value * (1 + 1e-9)), power)


def ticks(low: float, high: float, most: int) -> tuple[list[float], int]:
    """Round numbers within ``low`` .. ``high``, at most ``most`` and one, and the decimals they need."""
    step = round_up((high - low) / max(most, 1))
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    first, last = math.ceil(low / step - 1e-6), math.floor(high / step + 1e-6)
    return [k * step for k in range(first, last + 1)], decimals


def number(value: float, decimals: int) -> str:
    """A tick's number, with a true minus sign."""
    text = f"{value:.{decimals}f}"
    return "−" + text[1:] if text.startswith("-") and text.strip("-0.") else text.removeprefix("-")


def finite_runs(*columns: Array) -> list[slice]:
    """Stretches over which every column has a number."""
    good = np.logical_and.reduce([np.isfinite(column) for column in columns])
    edges = np.flatnonzero(np.diff(np.concatenate(([0], good.astype(np.int8), [0]))))
    return [slice(int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True)]


def thin(x: Array, y: Array) -> tuple[Array, Array]:
    """The line x, y (x rising, in pixels) with no more than four points a pixel: first, least, most, last.

    What is drawn is the same; peaks stay.
    """
    if len(x) <= 4.0 * (x[-1] - x[0]):
        return x, y
    column = np.floor(x - x[0]).astype(np.int64)
    starts = np.flatnonzero(np.diff(column, prepend=column[0] - 1))
    ends = np.append(starts[1:], len(x))
    keep: set[int] = set()
    for a, b in zip(starts.tolist(), ends.tolist(), strict=True):
        keep |= {a, b - 1, a + int(np.argmin(y[a:b])), a + int(np.argmax(y[a:b]))}
    rows = np.array(sorted(keep))
    return x[rows], y[rows]


def window(x: Array, columns: dict[str, Array], low: float, high: float) -> tuple[Array, dict[str, Array]]:
    """What lies within ``low`` .. ``high`` of a rising x, its ends met by straight lines between samples."""
    inner = (x > low) & (x < high)
    ends = [(x[:1] <= end) & (end <= x[-1:]) for end in (low, high)]
    at = np.concatenate((np.array([low])[ends[0]], x[inner], np.array([high])[ends[1]]))

    def cut(values: Array) -> Array:
        first, last = np.interp([low, high], x, values) if len(x) else (np.nan, np.nan)
        return np.concatenate((np.array([first])[ends[0]], values[inner], np.array([last])[ends[1]]))

    return at, {name: cut(values) for name, values in columns.items()}
