"""Guards on numbers given to this room: each returns the number as a float or raises ``InputError``."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import InputError


def finite(field: str, value: float, *, line: int | None = None) -> float:
    """Return ``value`` when it is a finite number; else raise ``InputError("survey_not_finite")``."""
    if not math.isfinite(value):
        raise InputError("survey_not_finite", field=field, value=value, line=line)
    return float(value)


def positive(field: str, value: float, *, line: int | None = None) -> float:
    """Return ``value`` when finite and above zero; else raise ``InputError("survey_not_positive")``."""
    if finite(field, value, line=line) <= 0.0:
        raise InputError("survey_not_positive", field=field, value=value, line=line)
    return float(value)


def not_negative(field: str, value: float, *, line: int | None = None) -> float:
    """Return ``value`` when finite and not below zero; else raise ``InputError("survey_negative")``."""
    if finite(field, value, line=line) < 0.0:
        raise InputError("survey_negative", field=field, value=value, line=line)
    return float(value)


def between(field: str, value: float, low: float, high: float) -> float:
    """Return ``value`` when within ``low`` to ``high``; else raise ``InputError("survey_out_of_bounds")``."""
    if not low <= finite(field, value) <= high:
        raise InputError("survey_out_of_bounds", field=field, value=value, low=low, high=high)
    return float(value)


def at_least(field: str, values: Sequence[object], least: int) -> None:
    """Raise ``InputError("survey_too_few")`` when ``values`` holds fewer than ``least``."""
    if len(values) < least:
        raise InputError("survey_too_few", field=field, value=len(values), least=least)


def column(field: str, values: Sequence[float], *, least: int = 1) -> NDArray[np.float64]:
    """``values`` as a float array, shape (n,), all finite and at least ``least`` of them; else
    ``InputError``.
    """
    at_least(field, values, least)
    array = np.asarray(values, dtype=np.float64)
    wrong = np.flatnonzero(~np.isfinite(array))
    if wrong.size:
        raise InputError("survey_not_finite", field=f"{field}[{wrong[0]}]", value=values[int(wrong[0])])
    return array


def rising(field: str, values: NDArray[np.float64]) -> None:
    """Raise ``InputError("survey_not_rising")`` when ``values`` do not rise from each to the next."""
    wrong = np.flatnonzero(np.diff(values) <= 0.0)
    if wrong.size:
        index = int(wrong[0]) + 1
        raise InputError("survey_not_rising", field=f"{field}[{index}]", value=float(values[index]))
