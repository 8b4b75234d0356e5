"""Honest rounding, and reading back what was shown."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.quantities import (
    KINDS,
    Estimate,
    Kind,
    System,
    choose_unit,
    find_unit,
    parse_reading,
    show,
    show_pair,
    to_si,
)

FT = 0.3048


@pytest.mark.parametrize(
    ("value", "sd", "text"),
    [
        (6.5, 0.2, "6.5 ± 0.2"),
        (6.5432, 0.2, "6.5 ± 0.2"),
        (6.5432, 0.14, "6.54 ± 0.14"),
        (6.5432, 0.096, "6.54 ± 0.10"),
        (6.5432, 0.194, "6.54 ± 0.19"),
        (6.5432, 0.196, "6.5 ± 0.2"),
        (1234.0, 200.0, "1200 ± 200"),
        (1234.0, 30.0, "1230 ± 30"),
        (0.0, 0.3, "0.0 ± 0.3"),
        (0.3, 2.0, "0 ± 2"),
        (-6.54, 0.2, "−6.5 ± 0.2"),
        (-0.04, 0.2, "0.0 ± 0.2"),
        (6.5432, None, "6.54"),
        (9.9996, None, "10.0"),
        (654321.0, None, "654000"),
        (0.0123456, None, "0.0123"),
        (0.0, None, "0.00"),
        (6.5, 0.0, "6.50"),
        (6.54321987, 1e-9, "6.5432 ± 0.0001"),
    ],
)
def test_rounded_by_the_spread(value: float, sd: float | None, text: str) -> None:
    """The spread to one digit (two when it begins with 1), the value to the same place."""
    assert show(value, "number", "us", sd=sd) == text


def test_six_digits_never_come_from_a_bucket() -> None:
    """A bucket flow of 12.0487 gal/min known to 3 %."""
    flow = to_si(12.0487, "gpm", "flow")
    assert show(flow, "flow", "us", sd=0.03 * flow) == "12.0 ± 0.4 gal/min"
    assert show(flow, "flow", "metric", sd=0.03 * flow) == "45.6 ± 1.4 L/min"


@pytest.mark.parametrize(
    ("value", "kind", "system", "options", "text"),
    [
        (6.5 * FT, "length", "us", {}, "6.50 ft"),
        (0.5 * FT, "length", "us", {}, "6.00 in"),
        (0.05, "length", "metric", {}, "50.0 mm"),
        (0.5, "length", "metric", {}, "0.500 m"),
        (0.0351, "small_length", "us", {}, "1.38 in"),
        (0.0351, "small_length", "metric", {}, "35.1 mm"),
        (1.5e-3, "flow", "metric", {}, "1.50 L/s"),
        (0.9e-3, "flow", "metric", {}, "54.0 L/min"),
        (1e-5, "flow", "metric", {"per_day": True}, "864 L/day"),
        (1e-5, "flow", "us", {"per_day": True}, "228 gal/day"),
        (1e-3, "flow", "metric", {"per_day": True}, "86.4 m³/day"),
        (14.061, "head", "us", {"unit": "psi"}, "20.0 psi"),
        (14.061, "head", "us", {}, "46.1 ft"),
        (283.15, "temperature", "us", {}, "50.0 °F"),
        (283.15, "temperature", "metric", {}, "10.0 °C"),
        (0.917, "frequency", "us", {"digits": 2}, "55 beats/min"),
        (0.2618, "angle", "us", {}, "15.0°"),
        (0.15, "fraction", "metric", {}, "15.0 %"),
        (2.5, "number", "metric", {}, "2.50"),
        (0.0, "flow", "us", {}, "0.00 gal/min"),
        (0.0, "flow", "us", {"per_day": True}, "0.00 gal/day"),
        (FT * (1 - 1e-12), "length", "us", {}, "1.00 ft"),
    ],
)
def test_units_by_magnitude_and_as_asked(
    value: float, kind: Kind, system: System, options: dict[str, object], text: str
) -> None:
    """Feet or inches, litres a minute or a day, psi where asked."""
    assert show(value, kind, system, **options) == text  # type: ignore[arg-type]


def test_the_spread_of_a_temperature_has_no_offset() -> None:
    """Ten degrees Celsius give or take half a degree is 50 give or take 0.9 Fahrenheit."""
    assert show(283.15, "temperature", "us", sd=0.5) == "50.0 ± 0.9 °F"


def test_pairs_for_tables() -> None:
    """Number and unit apart; one unit for a column."""
    unit = choose_unit(1.5e-3, "flow", "metric")
    assert show_pair(1.5e-3, "flow", "metric", sd=1e-4, unit=unit) == ("1.50 ± 0.10", "L/s")
    assert show_pair(2e-4, "flow", "metric", sd=1e-5, unit=unit) == ("0.200 ± 0.010", "L/s")


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        ((float("nan"), "length", "us", None), "not_finite"),
        ((1.0, "length", "us", float("inf")), "not_finite"),
        ((1.0, "length", "us", -1.0), "negative_spread"),
        ((1.0, "length", "imperial", None), "unknown_system"),
        ((1.0, "lenght", "us", None), "unknown_kind"),
    ],
)
def test_what_cannot_be_shown(arguments: tuple[float, Kind, System, float | None], code: str) -> None:
    """Never "nan ft" on a page."""
    value, kind, system, sd = arguments
    with pytest.raises(InputError) as caught:
        show(value, kind, system, sd=sd)
    assert caught.value.code == code


def test_an_estimate_that_is_none_is_refused() -> None:
    """Estimates keep their own rules."""
    with pytest.raises(InputError) as caught:
        Estimate(1.0, -1.0)
    assert caught.value.code == "negative_spread"


SIZES = st.floats(min_value=1e-7, max_value=1e9)


def _last_place(number: str, symbol: str, kind: Kind) -> float:
    """Half a unit in the last place shown, in SI; trailing zeros of a whole number may be rounding."""
    coarsest = number.rpartition(" ± ")[2]  # the spread says how far the value is known
    whole, _, decimals = coarsest.lstrip("−").partition(".")
    zeros = len(whole) - len(whole.rstrip("0")) if not decimals else 0
    unit = find_unit(symbol, kind)
    assert unit is not None
    return 0.5 * 10.0 ** (zeros - len(decimals)) * unit.factor


@given(size=SIZES, sign=st.sampled_from([1.0, -1.0]), kind=st.sampled_from(get_args(Kind)), data=st.data())
def test_what_is_shown_reads_back(size: float, sign: float, kind: Kind, data: st.DataObject) -> None:
    """parse(show(x)) is x within the place shown, with and without a spread, in both systems."""
    system = data.draw(st.sampled_from(get_args(System)))
    value = sign * size
    sd = data.draw(st.one_of(st.none(), st.floats(min_value=1e-4, max_value=10.0).map(lambda r: r * size)))
    text = show(value, kind, system, sd=sd)
    back = parse_reading(text, kind)
    number, symbol = show_pair(value, kind, system, sd=sd)
    slack = 1e-9 * size + (1e-9 * 460.0 if KINDS[kind].dimension == "temperature" else 0.0)
    assert abs(back.value - value) <= _last_place(number, symbol, kind) * (1 + 1e-9) + slack
    assert (back.sd is None) == (sd is None)
    if back.sd is not None and sd is not None:
        # one significant digit, two when it begins with 1: at worst 2.5 -> 2
        assert 0.75 * sd <= back.sd <= 1.35 * sd or back.sd >= sd
        assert len(re.sub(r"[^\d]", "", number.split(" ± ")[1]).strip("0")) <= 2


@given(size=SIZES, kind=st.sampled_from(get_args(Kind)), system=st.sampled_from(get_args(System)))
def test_three_digits_without_a_spread(size: float, kind: Kind, system: System) -> None:
    """Never more than was known."""
    number, _ = show_pair(size, kind, system)
    assert len(re.sub(r"[^\d]", "", number).strip("0")) <= 3
