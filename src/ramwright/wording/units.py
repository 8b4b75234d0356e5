"""Quantities in a person's language: the units whose sign is a word are said in it."""

from __future__ import annotations

from typing import Final

from ramwright.quantities import Kind, System, show_pair
from ramwright.wording.translate import translate

UNITS: Final = ("beats/min", "gal/day", "L/day", "m³/day", "days")
"""Units that are English words; every other sign is the same in all languages."""


def unit_word(symbol: str, language: str | None = None) -> str:
    """The sign of a unit as it is said in ``language``."""
    return translate(symbol, language) if symbol in UNITS else symbol


def shown_in(
    value: float,
    kind: Kind,
    system: System,
    language: str | None = None,
    *,
    per_day: bool = False,
    digits: int = 3,
) -> str:
    """Like ``quantities.show``, its unit in ``language``."""
    number, symbol = show_pair(value, kind, system, per_day=per_day, digits=digits)
    return f"{number}{symbol}" if symbol == "°" else f"{number} {unit_word(symbol, language)}".rstrip()
