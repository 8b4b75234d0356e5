"""Units that table headers and unit cells may carry, and what each becomes in SI.

Tables keep figures as their source prints them (``rating_psi`` 450, ``od_mm`` 33.40), so that a row
can be held against its source; the loader turns them into SI, and the header's unit with them
(``rating_pa``, ``od_m``). Factors are exact by definition (NIST SP 811, from memory; checked in the
tests against the general library pint).
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple


class Unit(NamedTuple):
    """SI = value x ``up`` / ``down`` + ``offset``, in the SI unit named ``si``."""

    si: str
    up: float = 1.0
    down: float = 1.0
    offset: float = 0.0

    def to_si(self, value: float) -> float:
        """The SI value of ``value`` in this unit."""
        if self.up == self.down and not self.offset:
            return value
        return value * self.up / self.down + self.offset


_PSI: Final = 6894.757293168361  # lbf/in2: 0.45359237 kg x 9.80665 m/s2 / (0.0254 m)2
_GAL_UM3: Final = 3785.411784  # US liquid gallon, 231 in3, in cubic centimetres
_DAY: Final = 86400.0

UNITS: Final[dict[str, Unit]] = {
    "m": Unit("m"),
    "mm": Unit("m", 1, 1e3),
    "cm": Unit("m", 1, 1e2),
    "km": Unit("m", 1e3),
    "in": Unit("m", 254, 1e4),
    "ft": Unit("m", 3048, 1e4),
    "m2": Unit("m2"),
    "m3": Unit("m3"),
    "l": Unit("m3", 1, 1e3),
    "pa": Unit("pa"),
    "kpa": Unit("pa", 1e3),
    "mpa": Unit("pa", 1e6),
    "gpa": Unit("pa", 1e9),
    "bar": Unit("pa", 1e5),
    "psi": Unit("pa", _PSI),
    "kg": Unit("kg"),
    "g": Unit("kg", 1, 1e3),
    "kg_m3": Unit("kg_m3"),
    "n": Unit("n"),
    "n_m": Unit("n_m"),
    "s": Unit("s"),
    "ms": Unit("s", 1, 1e3),
    "min": Unit("s", 60),
    "day": Unit("s", _DAY),
    "year": Unit("s", 365.25 * _DAY),
    "m_s": Unit("m_s"),
    "mm_s": Unit("m_s", 1, 1e3),
    "ft_s": Unit("m_s", 3048, 1e4),
    "m3_s": Unit("m3_s"),
    "l_s": Unit("m3_s", 1, 1e3),
    "l_min": Unit("m3_s", 1, 6e4),
    "gpm": Unit("m3_s", _GAL_UM3, 6e7),
    "l_day": Unit("m3_s", 1, 1e3 * _DAY),
    "gal_day": Unit("m3_s", _GAL_UM3, 1e6 * _DAY),
    "mm_day": Unit("m_s", 1, 1e3 * _DAY),
    "in_week": Unit("m_s", 254, 1e4 * 7 * _DAY),
    "per_min": Unit("per_s", 1, 60),
    "per_s": Unit("per_s"),
    "per_k": Unit("per_k"),
    "per_m": Unit("per_m"),
    "c": Unit("c"),
    "f": Unit("c", 5, 9, -160 / 9),
    "deg": Unit("rad", math.pi, 180),
    "rad": Unit("rad"),
    # Misclosure coefficient: so many mm times the square root of the run in km.
    "mm_sqrt_km": Unit("m_sqrt_m", 1, 1e3 * math.sqrt(1e3)),
    "m_sqrt_m": Unit("m_sqrt_m"),
    # Salt tracer: mg of salt a litre for each microsiemens a centimetre; left as the field uses it.
    "mg_l_per_us_cm": Unit("mg_l_per_us_cm"),
    "us_cm": Unit("s_m", 1, 1e4),
    "pct": Unit("1", 1, 100),
    "1": Unit("1"),
}
"""Unit as written in a header's ending or in a unit cell -> its SI unit and factor."""

_ENDINGS: Final = sorted((u for u in UNITS if u not in {"1", "pct"}), key=len, reverse=True)


def split_header(header: str) -> tuple[str, Unit]:
    """Name in SI and unit of a numeric column: ``od_mm`` -> ``("od_m", mm)``; no ending, no unit.

    A percentage (``x_pct``) becomes the plain fraction ``x``.
    """
    if header.endswith("_pct"):
        return header.removesuffix("_pct"), UNITS["pct"]
    for ending in _ENDINGS:
        if header.endswith(f"_{ending}"):
            unit = UNITS[ending]
            return f"{header.removesuffix(ending)}{unit.si}", unit
    return header, UNITS["1"]
