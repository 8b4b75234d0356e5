"""A reading as someone typed it: ``"6.5 ft ± 2 in"`` becomes a value and a spread in SI.

What is understood:

* a number (decimal, fraction or mixed fraction) and a unit: ``0.8 L/s``, ``1 1/2 in``, ``3/4"``;
* two parts of one measure: ``6 ft 5 1/2 in``, ``6' 5"``, ``2 lb 3 oz``, ``1 min 12 s``;
* a spread after ``±``, ``+/-`` or ``+-``: in a unit, in the reading's own unit when none is
  written, or in percent of the reading: ``6.5 ± 0.2 ft``, ``12 gal/min ± 10 %``.

**"±" means one standard deviation**: about two of three repeats fall within it. It is not a limit
of error. On a quantity itself written in percent, ``20 % ± 5 %`` means 15 to 25 percent.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Final

from ramwright.errors import InputError
from ramwright.quantities.bounds import Bounds, check_bounds
from ramwright.quantities.estimate import Estimate
from ramwright.quantities.kinds import KINDS, Kind
from ramwright.quantities.numerals import NUMBER, number_at, refuse_commas
from ramwright.quantities.units import Unit, closest_unit, dimension_of, find_unit

LONGEST_READING: Final = 200
"""Characters; a reading is one line of a sheet."""

_PLUS_MINUS: Final = re.compile(r"±|\+\s*/\s*[-−–]|\+\s*[-−–](?=\s*[\d.])")
_UNIT: Final = re.compile(
    r"(?:[Hh]2[Oo]|(?<=[A-Za-z])\^?[23²³](?![\d.A-Za-z])|[^\W\d_]|[°'\"′″’”%‰µ/*·() ]|(?<=[A-Za-z])\.(?!\d)"
    r"|(?<=[A-Za-z])-(?=[A-Za-z]))*"
)
_RATIO: Final = re.compile(r"(?i)\s*(\d+(?:\.\d+)?)\s*(?::|in(?!\w))\s*(\d+(?:\.\d+)?)\s*\Z")


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: ``text`` as typed, its ``kind``, ``value`` in SI and ``sd`` (one standard deviation, SI).

    ``sd`` is None when no spread was written: what the instrument is good for is then looked up by
    whoever uses the reading. ``origin`` says how it was got, when that is known.
    """

    text: str
    kind: Kind
    value: float
    sd: float | None = None
    origin: str = ""

    def __str__(self) -> str:
        """The reading as typed."""
        return self.text

    def estimate(self, *, default_sd: float | None = None, origin: str = "") -> Estimate:
        """The reading as an ``Estimate``; ``default_sd`` (SI) stands in for a spread that was not written.

        Raises ``InputError("no_spread")`` when neither is there.
        """
        sd = default_sd if self.sd is None else self.sd
        if sd is None:
            raise InputError("no_spread", field=origin or self.origin or None, value=self.text)
        return Estimate(self.value, sd, origin or self.origin)


@dataclass(frozen=True, slots=True)
class _At:
    """Where a reading stands, for its errors."""

    text: str
    kind: Kind
    field: str | None
    line: int | None

    def error(self, code: str, **details: object) -> InputError:
        return InputError(code, field=self.field, value=self.text, line=self.line, **details)


@dataclass(frozen=True, slots=True)
class _Part:
    """A number with the unit text written after it."""

    number: float
    unit: str


def parse_reading(
    text: str | float,
    kind: Kind,
    *,
    field: str | None = None,
    line: int | None = None,
    bounds: Bounds | None = None,
    origin: str = "",
) -> Reading:
    """Read ``text`` as a quantity of ``kind``.

    A bare number is accepted for kinds without a unit (``number``, ``fraction``, ``slope``).
    Raises ``InputError`` with one of the codes ``not_text``, ``empty_reading``, ``reading_too_long``,
    ``decimal_comma``, ``ambiguous_comma``, ``bad_number``, ``not_finite``, ``missing_unit``,
    ``unknown_unit``, ``wrong_kind``, ``bad_spread``, ``negative_spread``, ``must_be_positive``,
    ``must_not_be_negative`` or ``out_of_range``.
    """
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise InputError("not_text", field=field, value=text, line=line, example=KINDS[kind].examples[0])
    # repr of an integer of thousands of digits is itself an error, and no reading is that long
    if isinstance(text, int) and text.bit_length() > 600:
        raise InputError("not_finite", field=field, line=line)
    typed = text if isinstance(text, str) else repr(text)
    at = _At(typed, kind, field, line)
    if len(typed) > LONGEST_READING:
        raise InputError(
            "reading_too_long", field=field, value=typed[:40], line=line, longest=LONGEST_READING
        )
    if not typed.strip():
        raise at.error("empty_reading", example=KINDS[kind].examples[0])
    refuse_commas(typed, field=field, line=line)
    value, sd = _value_and_spread(at)
    reading = Reading(typed, kind, value, sd, origin)
    if bounds is not None:
        check_bounds(reading.value, kind, bounds, typed=typed, field=field, line=line)
    return reading


def _value_and_spread(at: _At) -> tuple[float, float | None]:
    """SI value and standard deviation of a typed reading."""
    halves = _PLUS_MINUS.split(at.text.strip())
    if len(halves) > 2:
        raise at.error("bad_spread")
    main, spread = halves[0].strip(), (halves[1].strip() if len(halves) == 2 else None)
    enclosed = re.fullmatch(r"\((.*)", main) if spread is not None else None
    if enclosed and spread is not None and ")" in spread:  # "(6.5 ± 0.2) ft"
        main, spread = enclosed[1], spread.replace(")", " ", 1)
    if spread is None and at.kind == "slope" and (ratio := _RATIO.match(main)):
        return _slope(at, float(ratio[1]), float(ratio[2])), None
    parts = _parts(at, main)
    wide = _parts(at, spread, spread=True) if spread is not None else []
    if len(wide) > 1:
        raise at.error("bad_spread")
    # "6.5 ± 0.2 ft": one unit for both
    if wide and len(parts) == 1 and not parts[0].unit and wide[0].unit and not _is_percent(at, wide[0].unit):
        parts = [_Part(parts[0].number, wide[0].unit)]
    units = [_unit(at, part.unit) for part in parts]
    value = _sum(at, parts, units)
    if not wide:
        return value, None
    return value, _spread(at, wide[0], value, units)


def _slope(at: _At, rise: float, run: float) -> float:
    """``"1:20"`` and ``"1 in 20"``: rise over run."""
    if run == 0.0:
        raise at.error("bad_number", number=at.text.strip())
    return rise / run


def _parts(at: _At, text: str, *, spread: bool = False) -> list[_Part]:
    """Split ``"6 ft 5 1/2 in"`` into its numbers, each with the unit text after it."""
    found: list[_Part] = []
    position = 0
    while position < len(text):
        if found and text[position] in "-–":  # 6'-5 1/2"
            position += 1
        match = NUMBER.match(text, position)
        if match is None or (found and match["sign"]):
            raise at.error("bad_spread" if spread else "bad_number", number=text[position:])
        number = number_at(match, value=at.text, field=at.field, line=at.line)
        unit = _UNIT.match(text, match.end())
        end = unit.end() if unit else match.end()
        found.append(_Part(number, text[match.end() : end].strip()))
        position = end
    if not found or len(found) > 2:
        raise at.error("bad_spread" if spread else "bad_number", number=text)
    return found


def _unit(at: _At, text: str) -> Unit:
    """The unit a text names, or the error that says why not."""
    unit = find_unit(text, at.kind)
    if unit is not None:
        return unit
    us, metric = KINDS[at.kind].examples
    wanted = KINDS[at.kind].dimension
    if not text:
        raise at.error("missing_unit", wanted=wanted, us=us, metric=metric)
    given = dimension_of(text)
    if given is not None:
        raise at.error("wrong_kind", wanted=wanted, given=given, us=us, metric=metric)
    near = closest_unit(text, at.kind)
    if near is None:
        raise at.error("unknown_unit", unit=text, wanted=wanted, us=us, metric=metric)
    raise at.error("unknown_unit_close", unit=text, wanted=wanted, closest=near, us=us, metric=metric)


def _sum(at: _At, parts: list[_Part], units: list[Unit]) -> float:
    """SI value of one part, or of two whose second is in a smaller unit and less than one of the first."""
    value = units[0].to_si(parts[0].number)
    if len(parts) == 2:
        smaller = units[1].to_si(parts[1].number)
        if units[1].factor >= units[0].factor or at.kind == "temperature" or smaller >= units[0].factor:
            raise at.error("bad_number", number=at.text.strip())
        value += math.copysign(smaller, parts[0].number)
    if not math.isfinite(value):
        raise at.error("not_finite")
    return value


def _is_percent(at: _At, unit: str) -> bool:
    """A spread in percent of the reading (percent points where the reading itself is in percent)."""
    return at.kind not in ("fraction", "slope") and find_unit(unit, "fraction") is not None and unit != ""


def _spread(at: _At, part: _Part, value: float, units: list[Unit]) -> float:
    """SI standard deviation from the text after the ±."""
    if part.number < 0.0:
        raise at.error("negative_spread")
    if _is_percent(at, part.unit):
        if at.kind == "temperature":  # ten percent of a temperature means nothing
            raise at.error("bad_spread")
        share = find_unit(part.unit, "fraction")
        sd = abs(value) * (share.to_si(part.number) if share else 0.0)
    elif not part.unit and len(units) == 1:
        sd = part.number * units[0].factor
    elif not part.unit:  # "6 ft 5 in ± 1": of what?
        raise at.error("spread_without_unit")
    else:
        sd = part.number * _unit(at, part.unit).factor
    if not math.isfinite(sd):
        raise at.error("not_finite")
    return sd
