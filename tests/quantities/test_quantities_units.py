"""Every factor against pint, and the spellings people use."""

from __future__ import annotations

import math
from typing import cast, get_args

import pint
import pytest

from ramwright.errors import InputError
from ramwright.quantities import KINDS, Kind, find_unit, from_si, to_si
from ramwright.quantities.units import _ROWS, closest_unit, dimension_of

PINT: pint.UnitRegistry[float] = pint.UnitRegistry()
SI_IN_PINT: dict[str, str] = {
    "length": "m",
    "area": "m**2",
    "volume": "m**3",
    "flow": "m**3/s",
    "velocity": "m/s",
    "mass": "kg",
    "force": "N",
    "pressure": "Pa",
    "temperature": "K",
    "time": "s",
    "frequency": "1/s",
    "angle": "rad",
    "conductance": "S",
    "fraction": "1",
    "slope": "1",
}
# our printed symbol -> pint's expression, where pint does not know ours or means another thing by it
IN_PINT: dict[str, str] = {
    "m²": "m**2",
    "cm²": "cm**2",
    "mm²": "mm**2",
    "ft²": "ft**2",
    "in²": "inch**2",
    "ha": "hectare",
    "acre": "43560*ft**2",
    "m³": "m**3",
    "imp gal": "imperial_gallon",
    "fl oz": "fluid_ounce",
    "ft³": "ft**3",
    "in³": "inch**3",
    "in": "inch",
    "h": "hour",
    "days": "day",
    "weeks": "week",
    "gal/min": "gallon/minute",
    "gal/h": "gallon/hour",
    "gal/day": "gallon/day",
    "imp gal/min": "imperial_gallon/minute",
    "ft³/s": "ft**3/s",
    "ft³/min": "ft**3/minute",
    "L/min": "L/minute",
    "L/s": "L/s",
    "ft/s": "ft/s",
    "mph": "mile/hour",
    "km/h": "km/hour",
    "lbf": "pound_force",
    "ozf": "ounce_force",
    "kgf": "kilogram_force",
    "gf": "gram_force",
    "ksi": "1000*psi",
    "mH2O": "100*cmH2O",
    "cmH2O": "cmH2O",
    "mmH2O": "0.1*cmH2O",
    "ftH2O": "ftH2O",
    "inH2O": "ftH2O/12",
    "inHg": "inHg",
    "mmHg": "0.1*cmHg",
    "°C": "delta_degC",
    "°F": "delta_degF",
    "Hz": "1/s",
    "beats/min": "1/minute",
    "°": "degree",
    "'": "arcminute",
    '"': "arcsecond",
    "%": "percent",
    "‰": "permille",
    "t": "tonne",
}
ROWS = [
    (dimension, row[0].split("|")[0], row[1])
    for dimension, rows in _ROWS.items()
    for row in rows
    if row[0].split("|")[0] and dimension != "count"
]


@pytest.mark.parametrize(("dimension", "symbol", "factor"), ROWS)
def test_factor_is_what_pint_says(dimension: str, symbol: str, factor: float) -> None:
    """Every row of the unit table, against an independent library."""
    name = {("length", "'"): "foot", ("length", '"'): "inch"}.get(
        (dimension, symbol), IN_PINT.get(symbol, symbol)
    )
    expected = PINT.Quantity(1.0, "") * PINT.parse_expression(name)
    # pint's water and mercury columns are rounded in the fifth figure
    loose = 2e-5 if any(fluid in name for fluid in ("H2O", "Hg")) else 1e-12
    assert factor == pytest.approx(expected.to(SI_IN_PINT[dimension]).magnitude, rel=loose)


@pytest.mark.parametrize(("text", "celsius"), [("32 degF", 0.0), ("212 degF", 100.0), ("50 degF", 10.0)])
def test_fahrenheit_has_the_right_zero(text: str, celsius: float) -> None:
    """The ice and steam points, and pint's own offset conversion."""
    value = float(text.split(maxsplit=1)[0])
    assert to_si(value, "F", "temperature") == pytest.approx(celsius + 273.15, abs=1e-9)
    assert to_si(value, "F", "temperature") == pytest.approx(PINT.Quantity(value, "degF").to("K").magnitude)


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("gpm", "flow", "gallon/minute"),
        ("GPM", "flow", "gallon/minute"),
        ("U.S. gal/min", "flow", "gallon/minute"),
        ("gal (US) per minute", "flow", "gallon/minute"),
        ("gallons per day", "flow", "gallon/day"),
        ("imp. gal/h", "flow", "imperial_gallon/hour"),
        ("m3/h", "flow", "m**3/hour"),
        ("m³ / day", "flow", "m**3/day"),
        ("cu. ft./sec.", "flow", "ft**3/s"),
        ("quarts/min", "flow", "quart/minute"),
        ("litres per second", "flow", "L/s"),
        ("ml/min", "flow", "mL/minute"),
        ("mm/day", "velocity", "mm/day"),
        ("feet per second", "velocity", "ft/s"),
        ("lb/in", "stiffness", "pound_force/inch"),
        ("N/mm", "stiffness", "N/mm"),
        ("kg/cm", "stiffness", "kilogram_force/cm"),
        ("lb/cu ft", "density", "pound/ft**3"),
        ("mg/L", "density", "mg/L"),
        ("g/cm^3", "density", "g/cm**3"),
        ("lbs/sq. in.", "pressure", "psi"),
        ("kg/cm2", "pressure", "kilogram_force/cm**2"),
        ("N/mm2", "modulus", "N/mm**2"),
        ("uS/cm", "conductivity", "microsiemens/cm"),
        ("μS/cm", "conductivity", "microsiemens/cm"),
        ("in/ft", "slope", "inch/ft"),
        ("mm/m", "slope", "mm/m"),
        ("strokes per minute", "frequency", "1/minute"),
        ("/min", "frequency", "1/minute"),
    ],
)
def test_spellings_people_use(text: str, kind: Kind, expected: str) -> None:
    """Compound units are built from their parts; the factor is pint's."""
    unit = find_unit(text, kind)
    assert unit is not None
    si = {"density": "kg/m**3", "stiffness": "N/m", "conductivity": "S/m", "modulus": "Pa"} | SI_IN_PINT
    assert unit.factor == pytest.approx(PINT.parse_expression(expected).to(si[kind]).magnitude, rel=1e-9)


@pytest.mark.parametrize("text", ["ftH2O", "psi", "ft of water", "bar"])
def test_a_head_may_be_read_as_a_pressure(text: str) -> None:
    """One unit of pressure as a height of conventional water: p/(rho g), pint's p."""
    pascals = PINT.parse_expression({"ft of water": "ftH2O"}.get(text, text)).to("Pa").magnitude
    assert to_si(1.0, text, "head") == pytest.approx(pascals / (1000.0 * 9.80665), rel=2e-5)


def test_the_rule_of_thumb_of_the_trade() -> None:
    """2.31 ft of water = 1 psi (British Columbia factsheet 590.304-5, 2006, read)."""
    assert from_si(to_si(1.0, "psi", "head"), "ft", "head") == pytest.approx(2.31, abs=0.005)


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_printed_unit_can_be_read_and_round_trips(kind: Kind) -> None:
    """Whatever show() may print is a unit of its own kind, and there and back changes nothing."""
    info = KINDS[kind]
    for symbol in (*(s for s, _ in (*info.us, *info.metric)), info.usual_us, info.usual_metric):
        assert find_unit(symbol, kind) is not None, symbol
        assert to_si(from_si(7.25, symbol, kind), symbol, kind) == pytest.approx(7.25, rel=1e-12)


def test_ladders_rise_from_zero() -> None:
    """A magnitude always finds a unit, and a larger one never a smaller unit."""
    for info in KINDS.values():
        for ladder in (info.us, info.metric):
            leasts = [least for _, least in ladder]
            assert leasts[0] == 0.0
            assert leasts == sorted(leasts)


@pytest.mark.parametrize("text", ["mPa", "ML/day", "Mg"])
def test_a_case_that_is_another_unit_is_not_guessed_at(text: str) -> None:
    """Millipascal is not megapascal, megalitre not millilitre: a thousand million apart."""
    for kind in get_args(Kind):
        assert find_unit(text, cast(Kind, kind)) is None
        assert closest_unit(text, cast(Kind, kind)) is None


def test_unknown_units_are_refused_with_what_was_typed() -> None:
    """A program asking for a unit that does not exist hears which."""
    with pytest.raises(InputError) as caught:
        to_si(1.0, "cubits", "length")
    assert (caught.value.code, caught.value.details["unit"]) == ("unknown_unit", "cubits")


def test_dimension_of_names_what_was_written() -> None:
    """So that the error can say "a flow where a length is wanted"."""
    assert dimension_of("gpm") == "flow"
    assert dimension_of("psi") == "pressure"
    assert dimension_of("cubits") is None


def test_an_angle_may_be_in_minutes_and_feet_in_primes() -> None:
    """The same mark means minutes of arc in an angle and feet in a length."""
    assert to_si(60.0, "'", "angle") == pytest.approx(math.radians(1.0))
    assert to_si(1.0, "'", "length") == pytest.approx(0.3048)
