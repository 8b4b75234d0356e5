"""Fill the named blanks of a sentence.

A blank is a name, or a name and a kind of quantity: ``{count}`` shows a plain number or text,
``{limit:length}`` shows a number in SI as a length in the reader's units (kinds: ``quantities.KINDS``),
``{share:chance}`` a share as so many in a hundred, ``{demand:daily}`` a flow in m3/s as a day's amount.
What the user typed is text and is shown as typed. A value given once for each unit system, as
``low_us`` and ``low_metric``, fills ``{low}`` in the reader's.
"""

from __future__ import annotations

import math
import string
from collections.abc import Iterable, Mapping
from typing import Final, cast

from ramwright.quantities import KINDS, Kind, System
from ramwright.wording.translate import translate
from ramwright.wording.units import shown_in

_DIGITS: Final = 4
CHANCE: Final = "chance"
"""Kind of a blank that shows a share as so many in a hundred."""
DAILY: Final = "daily"
"""Kind of a blank that shows a flow as a day's amount."""
CHANCES: Final = ("{count} in 100", "fewer than 1 in 100", "more than 99 in 100")
"""How a share is said: as a count, and where a count would say never or always."""


class _Filler(string.Formatter):
    """``str.format`` without attribute or index look-ups, and with kinds of quantity as format."""

    def __init__(self, system: System, language: str | None) -> None:
        self._system = system
        self._language = language

    def get_field(self, field_name: str, args: object, kwargs: Mapping[str, object]) -> tuple[object, str]:  # noqa: ARG002
        return kwargs[field_name], field_name

    def format_field(self, value: object, format_spec: str) -> str:
        if format_spec == CHANCE and isinstance(value, int | float):
            return chance(float(value), self._language)
        if format_spec and isinstance(value, int | float) and math.isfinite(value):
            daily = format_spec == DAILY
            kind = "flow" if daily else cast(Kind, format_spec)
            # Nothing is 0, not 0.00.
            digits = 3 if value else 1
            return shown_in(float(value), kind, self._system, self._language, per_day=daily, digits=digits)
        return plain(value)


def chance(share: float, language: str | None = None) -> str:
    """A share as so many in a hundred; never "0" for what may happen, nor "100" for what may not."""
    counted, few, most = (translate(words, language) for words in CHANCES)
    if 0.0 < share < 0.01:
        return few
    return most if 0.99 < share < 1.0 else counted.replace("{count}", f"{100 * share:.0f}")


def plain(value: object) -> str:
    """A number to four digits, a list with commas, anything else as its text."""
    if isinstance(value, float):
        return f"{value:.{_DIGITS}g}"
    if isinstance(value, Iterable) and not isinstance(value, str | bytes | Mapping):
        return ", ".join(plain(item) for item in value)
    return str(value)


def blanks(template: str) -> dict[str, str]:
    """Names of the blanks in ``template``, each with its kind of quantity ('' for none).

    Raises ``ValueError`` when a brace is left open, or a kind does not exist.
    """
    found: dict[str, str] = {}
    for _, name, kind, conversion in string.Formatter().parse(template):
        if name is None:
            continue
        if not name.isidentifier() or conversion:
            raise ValueError(f"not a plain blank: {name!r} in {template!r}")
        if kind and kind not in (CHANCE, DAILY) and kind not in KINDS:
            raise ValueError(f"no kind of quantity {kind!r} in {template!r}")
        found[name] = kind or ""
    return found


def fill(template: str, values: Mapping[str, object], system: System, language: str | None = None) -> str:
    """``template`` with its blanks filled from ``values`` (SI), quantities in the units of ``system``.

    ``language`` is the template's own. A blank with nothing to fill it is shown as ``?``: a sentence with
    a hole says more than a crash.
    """
    given = {name: values.get(name, values.get(f"{name}_{system}", "?")) for name in blanks(template)}
    return _Filler(system, language).vformat(template, (), given)
