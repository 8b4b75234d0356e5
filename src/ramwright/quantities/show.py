"""Honest rounding: a number is printed no finer than its spread allows.

The spread is rounded to one significant digit, or to two when the first is a 1 (so that rounding
never changes it by more than a third), and the value to the same place: ``6.5 ± 0.2 ft``. Without
a spread a value is printed with three significant digits. (Common practice; the rule of the
Particle Data Group differs in keeping two digits up to 35.)
"""

from __future__ import annotations

import math
from typing import Final

from ramwright.errors import InputError
from ramwright.quantities.kinds import KINDS, PER_DAY, SYSTEMS, Kind, System
from ramwright.quantities.units import Unit, require_unit

MOST_DIGITS: Final = 5
"""No field reading is better than this, whatever spread it is given."""


def show(
    value: float,
    kind: Kind,
    system: System,
    *,
    sd: float | None = None,
    unit: str | None = None,
    per_day: bool = False,
    digits: int = 3,
) -> str:
    """``value`` (SI, of ``kind``) as text in the units of ``system``, with its spread ``sd`` (SI) if given.

    ``unit`` fixes the unit (``show(14.1, "head", "us", unit="psi")``); ``per_day`` prints a flow as a
    day's amount; ``digits`` are the significant digits kept without a spread.
    """
    number, symbol = show_pair(value, kind, system, sd=sd, unit=unit, per_day=per_day, digits=digits)
    return f"{number}{symbol}" if symbol == "°" else f"{number} {symbol}".rstrip()


def show_pair(
    value: float,
    kind: Kind,
    system: System,
    *,
    sd: float | None = None,
    unit: str | None = None,
    per_day: bool = False,
    digits: int = 3,
) -> tuple[str, str]:
    """Like ``show``, as number text and unit text apart: for aligned tables."""
    if not math.isfinite(value) or (sd is not None and not math.isfinite(sd)):
        raise InputError("not_finite", value=value if sd is None or math.isfinite(sd) else sd)
    if sd is not None and sd < 0.0:
        raise InputError("negative_spread", value=sd)
    chosen = require_unit(
        unit or choose_unit(max(abs(value), sd or 0.0), kind, system, per_day=per_day), kind
    )
    symbol = chosen.symbol if unit is None else unit
    return _number_text(value, sd, chosen, digits), symbol


def choose_unit(size: float, kind: Kind, system: System, *, per_day: bool = False) -> str:
    """The unit a magnitude ``size`` (SI) of ``kind`` is printed in: one for a whole table, say."""
    if system not in SYSTEMS:
        raise InputError("unknown_system", value=system)
    if kind not in KINDS:
        raise InputError("unknown_kind", value=kind)
    info = KINDS[kind]
    ladder = PER_DAY[system] if per_day and kind == "flow" else info.ladder(system)
    if size == 0.0 and not (per_day and kind == "flow"):
        return info.usual(system)
    # a hair of slack: 1 ft less a rounding error is still a foot
    return next((s for s, least in reversed(ladder) if size >= least * (1.0 - 1e-9)), ladder[0][0])


def _number_text(value: float, sd: float | None, unit: Unit, digits: int) -> str:
    """Value and spread in ``unit``, rounded to the same place."""
    shown = unit.from_si(value)
    if not sd:
        return _fixed(shown, digits - 1 - _exponent(float(f"{shown:.{digits - 1}e}")))
    spread = sd / unit.factor
    decimals = _spread_decimals(spread)
    # a spread too fine for any reading: keep MOST_DIGITS and never print the spread smaller than it is
    finest = MOST_DIGITS - 1 - _exponent(shown)
    if decimals > finest and shown != 0.0:
        decimals = finest
        spread = math.ceil(spread * 10.0**finest * (1.0 - 1e-9)) * 10.0**-finest
    return f"{_fixed(shown, decimals)} ± {_fixed(spread, decimals)}"


def _spread_decimals(spread: float) -> int:
    """Decimals that leave one significant digit of ``spread``, two when the first is a 1."""
    two = float(f"{spread:.1e}")
    exponent = _exponent(two)
    leading = round(two / 10.0**exponent, 1)
    return 1 - exponent if leading < 2.0 else -exponent


def _exponent(value: float) -> int:
    """Power of ten of the first digit; of 1.0 for zero."""
    return math.floor(math.log10(abs(value))) if value != 0.0 else 0


def _fixed(value: float, decimals: int) -> str:
    """``value`` rounded to ``decimals`` places (tens and hundreds when negative), with a true minus sign."""
    text = f"{round(value, decimals):.{max(decimals, 0)}f}"
    if text.startswith("-"):
        text = text[1:] if not text.strip("-0.") else "−" + text[1:]
    return text
