"""Water and air against IAPWS figures, the standard atmosphere and the notes' table."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS95
from iapws.iapws97 import _PSat_T

from ramwright.errors import InputError, LimitError
from ramwright.hydraulics import water

REFERENCE = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "hydraulics_water_and_waves.toml").read_text("utf-8")
)
temperatures = st.floats(min_value=0.0, max_value=40.0)


@pytest.mark.parametrize("celsius", [0.01, 4.0, 10.0, 20.0, 30.0, 40.0])
def test_properties_agree_with_iapws(celsius: float) -> None:
    """Library iapws (IAPWS-95, viscosity R12-08): density and sound to 0.01 %, viscosity to 0.1 %."""
    oracle = IAPWS95(T=celsius + 273.15, P=0.101325)
    assert abs(water.density(celsius) / oracle.rho - 1.0) < 1e-4
    assert abs(water.speed_of_sound(celsius) / oracle.w - 1.0) < 1e-4
    assert abs(water.dynamic_viscosity(celsius) / oracle.mu - 1.0) < 1e-3
    assert abs(water.kinematic_viscosity(celsius) / oracle.nu - 1.0) < 1e-3
    assert abs(water.bulk_modulus(celsius) / (oracle.rho * oracle.w**2) - 1.0) < 2e-4


@pytest.mark.parametrize("celsius", [0.01, 10.0, 25.0, 40.0])
def test_vapour_pressure_agrees_with_iapws(celsius: float) -> None:
    """Library iapws, IF-97 saturation equation 30."""
    oracle = 1e6 * _PSat_T(celsius + 273.15)
    assert abs(water.vapour_pressure(celsius) / oracle - 1.0) < 5e-4


@pytest.mark.parametrize("altitude", [0.0, 500.0, 1500.0, 3000.0, 5000.0])
def test_atmosphere_agrees_with_the_standard_atmosphere(altitude: float) -> None:
    """Library fluids, U.S. Standard Atmosphere 1976 (geometric altitude): within 0.1 %."""
    assert abs(water.atmospheric_pressure(altitude) / ATMOSPHERE_1976(altitude).P - 1.0) < 1e-3


def test_atmospheric_head_matches_the_notes_to_the_printed_digit() -> None:
    """Notes on trade practice 2.4 (derived)."""
    table = REFERENCE["atmospheric_head"]
    for altitude, head in zip(table["altitude_m"], table["head_m"], strict=True):
        assert abs(water.atmospheric_head(altitude, temperature_c=20.0) - head) <= 0.0055


def test_water_boils_when_the_gauge_head_is_the_air_head_short_of_vapour_head() -> None:
    """At 20 C and sea level.

    10.35 m of air (notes) less 0.239 m of vapour (2339 Pa, steam tables, memory).
    """
    assert abs(water.vapour_gauge_head(0.0, temperature_c=20.0) + (10.35 - 0.239)) < 0.01


@given(temperatures, temperatures)
def test_viscosity_falls_and_vapour_pressure_rises_with_warmth(first: float, second: float) -> None:
    cold, warm = sorted((first, second))
    assert water.dynamic_viscosity(warm) <= water.dynamic_viscosity(cold)
    assert water.vapour_pressure(warm) >= water.vapour_pressure(cold)


def test_all_properties_at_once_are_the_single_ones() -> None:
    bundle = water.water_at(12.0, altitude_m=800.0)
    assert bundle.density == water.density(12.0)
    assert bundle.atmospheric_pressure == water.atmospheric_pressure(800.0)
    assert bundle.vapour_gauge_head == water.vapour_gauge_head(800.0, temperature_c=12.0)


@pytest.mark.parametrize("celsius", [-0.1, 40.1, 100.0])
def test_outside_its_range_it_says_so(celsius: float) -> None:
    with pytest.raises(LimitError) as caught:
        water.density(celsius)
    assert caught.value.code == "hydraulics_beyond_source"
    assert caught.value.value == celsius


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_what_is_no_number_is_refused(bad: float) -> None:
    with pytest.raises(InputError, match="hydraulics_not_finite"):
        water.vapour_pressure(bad)
