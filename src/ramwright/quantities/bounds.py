"""Limits a reading has to keep."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from ramwright.errors import InputError
from ramwright.quantities.kinds import Kind
from ramwright.quantities.show import show

_ROUNDING: Final = 1e-12
"""What turning a unit into another may add or take, as a share of the value."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """Least and greatest SI value allowed; ``above`` makes the least itself too little."""

    low: float | None = None
    high: float | None = None
    above: bool = False


POSITIVE: Final = Bounds(low=0.0, above=True)
NOT_NEGATIVE: Final = Bounds(low=0.0)


def check_bounds(
    value: float,
    kind: Kind,
    bounds: Bounds,
    *,
    typed: object = None,
    field: str | None = None,
    line: int | None = None,
) -> None:
    """Raise ``InputError`` when ``value`` (SI, of ``kind``) is outside ``bounds``.

    Codes: ``must_be_positive`` and ``must_not_be_negative`` when the sign alone is wrong, else
    ``out_of_range``, ``too_small`` or ``too_large`` with the limits in both unit systems.
    """
    low, high = bounds.low, bounds.high
    # 104 °F comes out a hair above 40 °C: what is typed at a limit is within it
    slack = _ROUNDING * abs(value)
    too_low = low is not None and (value <= low if bounds.above else value < low - slack)
    too_high = high is not None and value > high + slack
    if not (too_low or too_high):
        return
    if low is not None and low >= 0.0 and value <= 0.0 and (low > 0.0 or bounds.above):
        raise InputError("must_be_positive", field=field, value=typed, line=line)
    if low is not None and low == 0.0 and value < 0.0:
        raise InputError("must_not_be_negative", field=field, value=typed, line=line)
    limits = {
        f"{name}_{system}": show(limit, kind, system)
        for name, limit in (("low", low), ("high", high))
        if limit is not None
        for system in ("us", "metric")
    }
    code = "out_of_range" if len(limits) == 4 else ("too_small" if high is None else "too_large")
    raise InputError(code, field=field, value=typed, line=line, **limits)
