"""The units people write, US customary and metric, and what each is in SI.

Factors are exact by definition unless a line says otherwise: the international yard and pound
(1959: 1 ft = 0.3048 m, 1 lb = 0.45359237 kg), US liquid gallon = 231 cubic inches, imperial gallon
= 4.54609 L, standard gravity 9.80665 m/s2, conventional water of 1000 kg/m3 and mercury of
13 595.1 kg/m3 for columns (NIST Special Publication 811, appendix B; from memory; every factor is
checked in the tests against the general library pint).

A pressure is a gauge reading unless said otherwise: ``psi`` and ``bar`` mean above the air.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Final

from ramwright.errors import InputError
from ramwright.quantities.kinds import KINDS, Kind

_FT: Final = 0.3048
_IN: Final = 0.0254
_LB: Final = 0.45359237
_G: Final = 9.80665
_GAL: Final = 231.0 * _IN**3
_IMP_GAL: Final = 4.54609e-3
WATER_COLUMN_PA_PER_M: Final = 1000.0 * _G
"""Pressure under one metre of conventional water, Pa/m."""
_MERCURY_PA_PER_M: Final = 13595.1 * _G


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: SI value = (value + ``offset``) x ``factor``; ``symbol`` is how we print it."""

    symbol: str
    factor: float
    offset: float = 0.0

    def to_si(self, value: float) -> float:
        """SI value of ``value`` in this unit."""
        return (value + self.offset) * self.factor

    def from_si(self, value: float) -> float:
        """Value in this unit of an SI ``value``."""
        return value / self.factor - self.offset


# dimension -> rows of (spellings, the first is the printed one; factor; offset)
_ROWS: Final[dict[str, tuple[tuple[str, float, float], ...]]] = {
    "length": (
        ("m|metre|metres|meter|meters|mtr", 1.0, 0.0),
        ("mm|millimetre|millimetres|millimeter|millimeters", 1e-3, 0.0),
        ("cm|centimetre|centimetres|centimeter|centimeters", 1e-2, 0.0),
        ("km|kilometre|kilometres|kilometer|kilometers", 1e3, 0.0),
        ("ft|feet|foot|'|′|’", _FT, 0.0),
        ("in|inch|inches|\"|″|''|”", _IN, 0.0),
        ("yd|yard|yards|yds", 3 * _FT, 0.0),
        ("mi|mile|miles", 5280 * _FT, 0.0),
    ),
    "area": (
        ("m²|m2|sq m|square metre|square metres|square meter|square meters", 1.0, 0.0),
        ("cm²|cm2|sq cm", 1e-4, 0.0),
        ("mm²|mm2|sq mm", 1e-6, 0.0),
        ("ft²|ft2|sq ft|sqft|square foot|square feet", _FT**2, 0.0),
        ("in²|in2|sq in|sqin|square inch|square inches", _IN**2, 0.0),
        ("ha|hectare|hectares", 1e4, 0.0),
        ("acre|acres|ac", 43560 * _FT**2, 0.0),
    ),
    "volume": (
        ("m³|m3|cu m|cubic metre|cubic metres|cubic meter|cubic meters", 1.0, 0.0),
        ("L|l|litre|litres|liter|liters|dm3|ltr", 1e-3, 0.0),
        ("mL|ml|millilitre|millilitres|milliliter|milliliters|cm3|cc", 1e-6, 0.0),
        ("gal|gals|gallon|gallons|us gal|us gallon|us gallons|gal us|gallon us|gallons us", _GAL, 0.0),
        ("imp gal|imp gallon|imp gallons|imperial gallon|imperial gallons|gal imp|uk gal", _IMP_GAL, 0.0),
        ("qt|qts|quart|quarts|us qt", _GAL / 4, 0.0),
        ("pt|pint|pints|us pt", _GAL / 8, 0.0),
        ("fl oz|floz|fluid ounce|fluid ounces", _GAL / 128, 0.0),
        ("ft³|ft3|cu ft|cuft|cubic foot|cubic feet|cf", _FT**3, 0.0),
        ("in³|in3|cu in|cubic inch|cubic inches", _IN**3, 0.0),
    ),
    "flow": (
        ("gal/min|gpm|usgpm|us gpm", _GAL / 60, 0.0),
        ("gal/h|gph", _GAL / 3600, 0.0),
        ("gal/day|gpd", _GAL / 86400, 0.0),
        ("imp gal/min|imp gpm|igpm", _IMP_GAL / 60, 0.0),
        ("ft³/s|ft3/s|cfs|cusec|cusecs", _FT**3, 0.0),
        ("ft³/min|ft3/min|cfm", _FT**3 / 60, 0.0),
        ("L/min|lpm", 1e-3 / 60, 0.0),
        ("L/s|lps", 1e-3, 0.0),
    ),
    "velocity": (("ft/s|fps", _FT, 0.0), ("mph", 5280 * _FT / 3600, 0.0), ("km/h|kph|kmh", 1 / 3.6, 0.0)),
    "mass": (
        ("kg|kgs|kilo|kilos|kilogram|kilograms|kilogramme|kilogrammes", 1.0, 0.0),
        ("g|gram|grams|gramme|grammes", 1e-3, 0.0),
        ("mg|milligram|milligrams", 1e-6, 0.0),
        ("t|tonne|tonnes", 1e3, 0.0),
        ("lb|lbs|pound|pounds|lbm", _LB, 0.0),
        ("oz|ounce|ounces", _LB / 16, 0.0),
    ),
    # A spring balance reads a force in pounds or kilograms; where a force is wanted, that is what is meant.
    "force": (
        ("N|newton|newtons", 1.0, 0.0),
        ("kN|kilonewton|kilonewtons", 1e3, 0.0),
        ("lbf|lb|lbs|pound|pounds|pounds force", _LB * _G, 0.0),
        ("ozf|oz|ounce|ounces", _LB / 16 * _G, 0.0),
        ("kgf|kg|kp|kilogram|kilograms", _G, 0.0),
        ("gf|g|gram|grams", 1e-3 * _G, 0.0),
    ),
    "pressure": (
        ("Pa|pascal|pascals", 1.0, 0.0),
        ("kPa|kilopascal|kilopascals", 1e3, 0.0),
        ("MPa|megapascal|megapascals", 1e6, 0.0),
        ("GPa|gigapascal|gigapascals", 1e9, 0.0),
        ("bar|bars|barg|bar g", 1e5, 0.0),
        ("mbar|millibar|millibars|hPa", 1e2, 0.0),
        ("psi|psig|lb/in2|lbs/in2|pounds/square inch", _LB * _G / _IN**2, 0.0),
        ("ksi|kpsi", 1e3 * _LB * _G / _IN**2, 0.0),
        ("mH2O|m H2O|m of water|m water|m head|m of head|mwc|mWS", WATER_COLUMN_PA_PER_M, 0.0),
        ("cmH2O|cm H2O|cm of water|cm water", 1e-2 * WATER_COLUMN_PA_PER_M, 0.0),
        ("mmH2O|mm H2O|mm of water|mm water", 1e-3 * WATER_COLUMN_PA_PER_M, 0.0),
        (
            "ftH2O|ft H2O|ft of water|ft water|ft head|ft of head|feet of water|feet of head|feet head",
            _FT * WATER_COLUMN_PA_PER_M,
            0.0,
        ),
        ("inH2O|in H2O|in of water|in water|inches of water|iwc", _IN * WATER_COLUMN_PA_PER_M, 0.0),
        ("mmHg|mm Hg|mm of mercury", 1e-3 * _MERCURY_PA_PER_M, 0.0),
        ("inHg|in Hg|in of mercury|inches of mercury", _IN * _MERCURY_PA_PER_M, 0.0),
        ("atm", 101325.0, 0.0),
    ),
    "head": (),
    "temperature": (
        ("K|kelvin", 1.0, 0.0),
        ("°C|C|deg C|degC|celsius|degrees C|degree C|degrees celsius", 1.0, 273.15),
        ("°F|F|deg F|degF|fahrenheit|degrees F|degree F|degrees fahrenheit", 5.0 / 9.0, 459.67),
    ),
    "time": (
        ("s|sec|secs|second|seconds", 1.0, 0.0),
        ("ms|millisecond|milliseconds", 1e-3, 0.0),
        ("min|mins|minute|minutes", 60.0, 0.0),
        ("h|hr|hrs|hour|hours", 3600.0, 0.0),
        ("days|day|d", 86400.0, 0.0),
        ("weeks|week|wk", 7 * 86400.0, 0.0),
    ),
    "frequency": (("Hz|hertz", 1.0, 0.0), ("beats/min|bpm", 1.0 / 60.0, 0.0)),
    "angle": (
        ("°|deg|degs|degree|degrees", math.pi / 180.0, 0.0),
        ("rad|radian|radians", 1.0, 0.0),
        ("'|′|’|arcmin", math.pi / 10800.0, 0.0),
        ("\"|″|”|''|arcsec", math.pi / 648000.0, 0.0),
    ),
    "density": (),
    "stiffness": (),
    "conductance": (
        ("S|siemens", 1.0, 0.0),
        ("mS|millisiemens", 1e-3, 0.0),
        ("µS|uS|microsiemens|mmho", 1e-6, 0.0),
    ),
    "conductivity": (),
    "count": (("|beats|beat|strokes|stroke|cycles|cycle|1", 1.0, 0.0),),
    "fraction": (("%|percent|per cent|pct", 1e-2, 0.0), ("", 1.0, 0.0), ("‰|per mille", 1e-3, 0.0)),
    "slope": (("%|percent|per cent|pct", 1e-2, 0.0), ("", 1.0, 0.0), ("‰|per mille", 1e-3, 0.0)),
    "number": (("", 1.0, 0.0),),
}
# dimension -> (numerator, denominator): "gal/day" is any volume over any time
_RATIOS: Final[dict[str, tuple[str, str]]] = {
    "flow": ("volume", "time"),
    "velocity": ("length", "time"),
    "pressure": ("force", "area"),
    "density": ("mass", "volume"),
    "stiffness": ("force", "length"),
    "conductivity": ("conductance", "length"),
    "frequency": ("count", "time"),
    "slope": ("length", "length"),
}
# A head may be read as a height of water or as a pressure.
_VIA: Final[dict[str, tuple[tuple[str, float], ...]]] = {
    "head": (("length", 1.0), ("pressure", 1.0 / WATER_COLUMN_PA_PER_M))
}
# A different case is another unit here (megapascal, megalitre), so it is not guessed at.
_CASE_MATTERS: Final = frozenset({"mPa", "ML", "Mg", "MS"})
# Tried in this order to tell someone what their unit would have been.
_SEARCHED: Final = (
    "length",
    "area",
    "volume",
    "flow",
    "velocity",
    "mass",
    "force",
    "pressure",
    "temperature",
    "time",
    "frequency",
    "angle",
    "density",
    "stiffness",
    "conductivity",
    "fraction",
)
_CLEAN: Final = str.maketrans({"²": "2", "³": "3", "μ": "µ", "^": None, "(": " ", ")": " ", "·": " "})


@cache
def _table(dimension: str) -> tuple[dict[str, Unit], dict[str, Unit]]:
    """Exact and case-folded look-up of one dimension's spellings."""
    exact: dict[str, Unit] = {}
    folded: dict[str, Unit] = {}
    for spellings, factor, offset in _ROWS[dimension]:
        names = spellings.split("|")
        unit = Unit(names[0], factor, offset)
        for name in names:
            exact.setdefault(clean(name), unit)
            folded.setdefault(clean(name).casefold(), unit)
    return exact, folded


def clean(text: str) -> str:
    """A unit's spelling with exponents, dots, spaces and "per" made alike: "ft.³ per min" is "ft3/min"."""
    text = re.sub(r"\.(?!\d)", "", text.translate(_CLEAN))
    text = re.sub(r"\bper\b(?!\s*(?:cent|mille))", "/", text, flags=re.IGNORECASE)
    text = re.sub(r"\bUS\s|\bU S\s", "us ", " ".join(text.split()))
    return re.sub(r"\s*/\s*", "/", text).strip()


def _lookup(dimension: str, text: str) -> Unit | None:
    """Unit of one dimension by its cleaned spelling, or None."""
    exact, folded = _table(dimension)
    unit = exact.get(text)
    if unit is None and text not in _CASE_MATTERS:
        unit = folded.get(text.casefold())
    if unit is not None:
        return unit
    for other, scale in _VIA.get(dimension, ()):
        unit = _lookup(other, text)
        if unit is not None:
            return Unit(unit.symbol, unit.factor * scale)
    if dimension in _RATIOS and text.count("/") == 1:
        above, below = text.split("/")
        upper, lower = (_lookup(d, t) for d, t in zip(_RATIOS[dimension], (above, below), strict=True))
        # a unit without a name never stands below the line
        if upper is not None and lower is not None and lower.symbol:
            per = lower.symbol.removesuffix("s") if len(lower.symbol) > 2 else lower.symbol
            return Unit(f"{upper.symbol}/{per}", upper.factor / lower.factor)
    return None


@lru_cache(maxsize=1024)
def find_unit(text: str, kind: Kind) -> Unit | None:
    """The unit someone wrote, read as a unit of ``kind``; None when no such unit is known."""
    return _lookup(KINDS[kind].dimension, clean(text))


def dimension_of(text: str) -> str | None:
    """The first dimension a spelling belongs to, or None: what stands where something else was wanted."""
    spelled = clean(text)
    return next((d for d in _SEARCHED if spelled and _lookup(d, spelled) is not None), None)


def spellings(kind: Kind) -> tuple[str, ...]:
    """Every plain spelling of a kind's units, for suggestions."""
    dimension = KINDS[kind].dimension
    found = [name for d in (dimension, *(v for v, _ in _VIA.get(dimension, ()))) for name in _table(d)[0]]
    for system_ladder in (KINDS[kind].us, KINDS[kind].metric):
        found.extend(clean(symbol) for symbol, _ in system_ladder)
    if dimension in _RATIOS:
        above, below = _RATIOS[dimension]
        shorts = [n for n in _table(below)[0] if n][:40]
        found.extend(f"{a}/{b}" for a in _table(above)[0] if a for b in shorts)
    return tuple(dict.fromkeys(name for name in found if name))


def closest_unit(text: str, kind: Kind) -> str | None:
    """The known spelling nearest to what was typed, or None when nothing is near."""
    from difflib import get_close_matches

    if any(part in _CASE_MATTERS for part in re.split(r"[/ ]", clean(text))):
        return None
    wanted = {name.casefold(): name for name in reversed(spellings(kind))}
    near = get_close_matches(clean(text).casefold()[:40], list(wanted), n=1, cutoff=0.6)
    return wanted[near[0]] if near else None


def require_unit(text: str, kind: Kind) -> Unit:
    """The unit named by a program (not by a user); raises ``InputError("unknown_unit")`` if it is not one."""
    unit = find_unit(text, kind)
    if unit is None:
        us, metric = KINDS[kind].examples
        wanted = KINDS[kind].dimension
        raise InputError("unknown_unit", value=text, unit=text, wanted=wanted, us=us, metric=metric)
    return unit


def to_si(value: float, unit: str, kind: Kind) -> float:
    """``value`` in ``unit``, in the SI unit of ``kind`` (a temperature in kelvin)."""
    return require_unit(unit, kind).to_si(value)


def from_si(value: float, unit: str, kind: Kind) -> float:
    """An SI ``value`` of ``kind``, in ``unit``."""
    return require_unit(unit, kind).from_si(value)
