"""Guards on numbers given to this room: each returns the number as a float or raises ``InputError``."""

from __future__ import annotations

import math

from ramwright.errors import InputError, LimitError


def finite(field: str, value: float) -> float:
    """Return ``value`` when it is a finite number; else raise ``InputError("hydraulics_not_finite")``."""
    if not math.isfinite(value):
        raise InputError("hydraulics_not_finite", field=field, value=value)
    return float(value)


def positive(field: str, value: float) -> float:
    """Return ``value`` when finite and above zero; else raise ``InputError("hydraulics_not_positive")``."""
    if finite(field, value) <= 0.0:
        raise InputError("hydraulics_not_positive", field=field, value=value)
    return float(value)


def not_negative(field: str, value: float) -> float:
    """Return ``value`` when finite and not below zero; else raise ``InputError("hydraulics_negative")``."""
    if finite(field, value) < 0.0:
        raise InputError("hydraulics_negative", field=field, value=value)
    return float(value)


def between(field: str, value: float, low: float, high: float) -> float:
    """Return ``value`` when within ``low`` to ``high``.

    Else raise ``InputError("hydraulics_out_of_bounds")``.
    """
    if not low <= finite(field, value) <= high:
        raise InputError("hydraulics_out_of_bounds", field=field, value=value, low=low, high=high)
    return float(value)


def within_source(field: str, value: float, low: float, high: float) -> float:
    """Return ``value`` when inside a relation's stated range.

    Else raise ``LimitError("hydraulics_beyond_source")``.
    """
    if not low <= finite(field, value) <= high:
        raise LimitError("hydraulics_beyond_source", field=field, value=value, low=low, high=high)
    return float(value)
