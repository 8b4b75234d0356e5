"""Wave speeds against worked figures, Wood's minimum for bubbly water, and their limits."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.hydraulics import wave_speed as ws
from ramwright.hydraulics.water import water_at

REFERENCE = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "hydraulics_water_and_waves.toml").read_text("utf-8")
)
STEEL = ws.PipeWall(bore=0.05248, wall=0.00391, modulus=200e9, poisson=0.3)
RESTRAINTS = st.sampled_from(list(ws.Restraint))


def _thin_speed(row: dict[str, Any]) -> float:
    factor = ws.thin_wall_factor(ws.Restraint.EXPANSION_JOINTS, poisson=0.3)
    return ws.mixture_wave_speed(
        bulk_modulus=row["bulk_modulus_gpa"] * 1e9,
        density=998.2,
        wall_term=factor * row["bore_mm"] / (row["wall_mm"] * row["modulus_gpa"] * 1e9),
    )


@pytest.mark.parametrize("row", REFERENCE["joukowsky"], ids=lambda row: row["pipe"])
def test_joukowsky_figures_of_the_notes(row: dict[str, Any]) -> None:
    """Notes on trade practice 3.1 (derived), to their printed digit."""
    speed = _thin_speed(row)
    assert abs(speed - row["wave_speed_m_s"]) <= 1.0
    assert abs(ws.joukowsky_head(speed, 1.0) - row["head_m"]) <= 0.55


@pytest.mark.parametrize("row", REFERENCE["about"], ids=lambda row: row["pipe"])
def test_figures_of_the_closed_form_sheet(row: dict[str, Any]) -> None:
    """Closed-form sheet, last line, given as "about": within 0.5 %."""
    assert abs(_thin_speed(row) / row["wave_speed_m_s"] - 1.0) < 0.005


def test_bubbly_water_at_one_atmosphere_falls_to_twenty_metres_a_second() -> None:
    """Wood 1930 (from memory): isothermal air and water half and half at one atmosphere, about 20 m/s."""
    speed = ws.mixture_wave_speed(
        bulk_modulus=2.19e9, density=998.2, wall_term=0.0, air_fraction=0.5, air_modulus=101325.0
    )
    assert abs(speed - 20.1) < 0.2


def test_a_rigid_pipe_without_air_carries_the_speed_of_sound() -> None:
    """Definition of the speed of sound; 1482 m/s at 20 C (Marczak 1997)."""
    water = water_at(20.0)
    speed = ws.mixture_wave_speed(bulk_modulus=water.bulk_modulus, density=water.density, wall_term=0.0)
    assert abs(speed - 1482.3) < 0.5


def test_restraint_cases_of_a_steel_pipe_stay_within_two_per_cent() -> None:
    """Steel.

    K D/(E e) about 0.15, so a factor between 0.85 and 1 can move the speed by 1 % only (arithmetic).
    """
    speeds = [
        ws.wave_speed(STEEL, water_at(15.0), restraint=case, thin_wall=True).speed for case in ws.Restraint
    ]
    assert max(speeds) / min(speeds) - 1.0 < 0.02
    assert max(speeds) > min(speeds)


def test_thick_wall_factor_is_lames_hoop_strain_in_a_thick_tube() -> None:
    """Lame's thick cylinder (textbook, derived): open ends, bore strain (p/E)((b^2+a^2)/(b^2-a^2) + nu).

    Wall term = 2 x strain / p; with nu = 0.45, bore 51.4 mm, wall 5.8 mm the two agree exactly.
    """
    bore, wall, nu = 0.0514, 0.0058, 0.45
    a, b = bore / 2.0, bore / 2.0 + wall
    lame = 2.0 * ((b**2 + a**2) / (b**2 - a**2) + nu)
    factor = ws.thick_wall_factor(ws.Restraint.EXPANSION_JOINTS, poisson=nu, bore=bore, wall=wall)
    assert abs(factor * bore / wall / lame - 1.0) < 1e-12


@given(RESTRAINTS, st.floats(0.0, 0.5), st.floats(1e-6, 1e-5))
def test_thick_wall_factor_tends_to_the_thin_one(case: ws.Restraint, poisson: float, ratio: float) -> None:
    thick = ws.thick_wall_factor(case, poisson=poisson, bore=1.0, wall=ratio)
    assert abs(thick - ws.thin_wall_factor(case, poisson=poisson)) < 1e-4


@given(st.floats(0.0, 0.2), st.floats(0.0, 0.2), st.floats(1e5, 1e6))
def test_more_air_slows_and_pressure_squeezes_it(first: float, second: float, pressure: float) -> None:
    less, more = sorted((first, second))
    water = water_at(15.0)
    a = ws.wave_speed(STEEL, water, air_fraction=less, pressure=pressure)
    b = ws.wave_speed(STEEL, water, air_fraction=more, pressure=pressure)
    assert b.speed <= a.speed * (1.0 + 1e-12) <= a.speed_without_air * (1.0 + 2e-12)
    squeezed = ws.wave_speed(STEEL, water, air_fraction=more, pressure=2.0 * pressure)
    assert squeezed.air_fraction <= b.air_fraction


def test_boyles_law_keeps_the_mass_of_air() -> None:
    """One part of air to 99 of water at one bar is 0.1 to 99 at ten: 1/991 by volume (arithmetic)."""
    at_ten = ws.air_fraction_at(fraction=0.01, reference_pressure=1e5, pressure=1e6)
    assert abs(at_ten - 1.0 / 991.0) < 1e-12


@given(st.lists(st.tuples(st.floats(0.5, 50.0), st.floats(200.0, 1450.0)), min_size=1, max_size=6))
def test_composite_speed_keeps_the_travel_time(pipes: list[tuple[float, float]]) -> None:
    lengths, speeds = [p[0] for p in pipes], [p[1] for p in pipes]
    composite = ws.composite_wave_speed(lengths, speeds)
    assert math.isclose(sum(lengths) / composite, sum(x / a for x, a in pipes), rel_tol=1e-12)


def test_a_lining_as_stiff_as_the_pipe_adds_its_wall() -> None:
    assert math.isclose(ws.layered_wall([0.004, 0.002], [200e9, 200e9]), 0.006)
    assert math.isclose(ws.layered_wall([0.004, 0.02], [200e9, 20e9]), 0.006)


@pytest.mark.parametrize(
    ("field", "changes"),
    [
        ("bore", {"bore": 0.0}),
        ("wall", {"wall": -1.0}),
        ("modulus", {"modulus": math.nan}),
        ("poisson", {"poisson": 0.6}),
    ],
)
def test_impossible_pipes_are_refused_by_field(field: str, changes: dict[str, float]) -> None:
    good = {"bore": 0.05, "wall": 0.004, "modulus": 200e9, "poisson": 0.3}
    with pytest.raises(InputError) as caught:
        ws.PipeWall(**(good | changes))
    assert caught.value.field == field


def test_lists_of_unequal_length_are_refused() -> None:
    with pytest.raises(InputError, match="hydraulics_lengths_differ"):
        ws.composite_wave_speed([1.0], [1000.0, 900.0])
    with pytest.raises(InputError, match="hydraulics_lengths_differ"):
        ws.layered_wall([], [])
