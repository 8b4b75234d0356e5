"""Friction against worked figures, Hagen-Poiseuille, Colebrook's own equation, and Hazen-Williams."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.hydraulics import friction
from ramwright.hydraulics.water import kinematic_viscosity

TABLE = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "hydraulics_water_and_waves.toml").read_text("utf-8")
)["friction"]
NU = 1.0e-6
velocities = st.floats(min_value=0.0, max_value=6.0)
bores = st.floats(min_value=0.01, max_value=0.3)


def test_worked_losses_of_the_notes() -> None:
    """Notes on trade practice 3.3 (derived): 0.5 L/s in 100 m of 26.64 mm bore at 20 C."""
    velocity = TABLE["flow_m3_s"] / (math.pi / 4.0 * TABLE["bore_m"] ** 2)
    assert abs(velocity - TABLE["velocity_m_s"]) < 5e-4
    for roughness, loss in zip(TABLE["roughness_m"], TABLE["loss_m"], strict=True):
        slope = friction.loss_per_metre(
            velocity,
            bore=TABLE["bore_m"],
            roughness=roughness,
            kinematic_viscosity=kinematic_viscosity(20.0),
        )
        assert abs(slope * TABLE["length_m"] - loss) <= 0.0055


def test_hazen_williams_reads_about_seven_per_cent_low_on_small_smooth_pipe() -> None:
    """A rival relation: Hazen-Williams (SI, 10.67 L Q^1.852 / (C^1.852 D^4.87)), C 150 and 120, notes 3.3."""
    flow, bore, length = TABLE["flow_m3_s"], TABLE["bore_m"], TABLE["length_m"]
    for c, printed, roughness in zip(
        TABLE["hazen_williams_c"], TABLE["hazen_williams_loss_m"], (1.5e-6, 0.15e-3), strict=True
    ):
        rival = 10.67 * length * flow**1.852 / (c**1.852 * bore**4.87)
        assert abs(rival / printed - 1.0) < 0.01
        velocity = flow / (math.pi / 4.0 * bore**2)
        ours = length * friction.loss_per_metre(
            velocity, bore=bore, roughness=roughness, kinematic_viscosity=kinematic_viscosity(20.0)
        )
        assert -0.09 < rival / ours - 1.0 < 0.02


@given(st.floats(4000.0, 1e7), st.floats(0.0, 0.05))
def test_turbulent_factor_solves_colebrooks_equation(reynolds: float, rough: float) -> None:
    """Colebrook & White 1939: 1/sqrt(f) = -2 log10(k/(3.7 D) + 2.51/(Re sqrt(f)))."""
    f = friction.darcy_factor(reynolds, rough)
    right = -2.0 * math.log10(rough / 3.7 + 2.51 / (reynolds * math.sqrt(f)))
    assert abs(math.sqrt(f) * right - 1.0) < 1e-3


@given(st.floats(1e-4, 1999.0))
def test_laminar_loss_is_hagen_poiseuille(reynolds: float) -> None:
    """Hagen-Poiseuille: slope = 32 nu V / (g D^2) and f = 64/Re (textbook)."""
    bore = 0.02
    velocity = reynolds * NU / bore
    slope = friction.loss_per_metre(velocity, bore=bore, roughness=1e-5, kinematic_viscosity=NU)
    assert math.isclose(slope, 32.0 * NU * velocity / (9.80665 * bore**2), rel_tol=1e-12)
    assert math.isclose(friction.darcy_factor(reynolds, 0.0), 64.0 / reynolds, rel_tol=1e-12)


@given(velocities, velocities, bores, st.floats(0.0, 4e-4))
def test_loss_rises_with_velocity_through_every_regime(
    first: float, second: float, bore: float, roughness: float
) -> None:
    slow, fast = sorted((first, second))
    a = friction.loss_per_metre(slow, bore=bore, roughness=roughness, kinematic_viscosity=NU)
    b = friction.loss_per_metre(fast, bore=bore, roughness=roughness, kinematic_viscosity=NU)
    assert 0.0 <= a <= b + 1e-15
    assert math.isclose(
        friction.loss_per_metre(-fast, bore=bore, roughness=roughness, kinematic_viscosity=NU), -b
    )


@pytest.mark.parametrize("edge", [friction.LAMINAR_REYNOLDS, friction.TURBULENT_REYNOLDS])
def test_the_factor_has_no_jump_at_the_regime_ends(edge: float) -> None:
    below, above = (
        friction.darcy_factor(edge * (1 - 1e-9), 0.001),
        friction.darcy_factor(edge * (1 + 1e-9), 0.001),
    )
    assert abs(above / below - 1.0) < 1e-6


@given(st.floats(0.012, 0.15), st.floats(0.0, 3e-4), st.floats(0.1, 1.0), st.floats(1.2, 5.0))
def test_the_two_term_fit_never_strays_further_than_it_says(
    bore: float, roughness: float, low: float, high: float
) -> None:
    fit = friction.fit_two_term(
        bore=bore,
        roughness=roughness,
        kinematic_viscosity=NU,
        lowest_velocity=low,
        highest_velocity=high,
        samples=24,
    )
    assert fit.linear >= 0.0
    assert fit.quadratic >= 0.0
    for share in (0.0, 0.13, 0.5, 0.77, 1.0):
        v = low + share * (high - low)
        true = friction.loss_per_metre(v, bore=bore, roughness=roughness, kinematic_viscosity=NU)
        assert abs(fit.loss_per_metre(v) / true - 1.0) <= fit.worst_relative_error * 1.05 + 1e-3
        assert math.isclose(fit.loss_per_metre(-v), -fit.loss_per_metre(v))


def test_a_purely_laminar_range_is_fitted_by_the_linear_term_alone() -> None:
    fit = friction.fit_two_term(
        bore=0.02, roughness=0.0, kinematic_viscosity=NU, lowest_velocity=0.01, highest_velocity=0.09
    )
    assert math.isclose(fit.linear, 32.0 * NU / (9.80665 * 0.02**2), rel_tol=1e-6)
    assert fit.worst_relative_error < 1e-6


def test_a_rough_steel_drive_pipe_is_fitted_within_two_per_cent_over_a_beat() -> None:
    """A target of ours, not a published figure: 0.3 to 3 m/s, 2 in pipe, 0.15 mm roughness."""
    fit = friction.fit_two_term(
        bore=0.0525, roughness=1.5e-4, kinematic_viscosity=1.3e-6, lowest_velocity=0.3, highest_velocity=3.0
    )
    assert fit.worst_relative_error < 0.02


def test_wrong_ranges_and_walls_are_refused() -> None:
    with pytest.raises(InputError, match="hydraulics_range_empty"):
        friction.fit_two_term(
            bore=0.05, roughness=0.0, kinematic_viscosity=NU, lowest_velocity=1.0, highest_velocity=1.0
        )
    with pytest.raises(InputError, match="hydraulics_out_of_bounds"):
        friction.loss_per_metre(1.0, bore=0.01, roughness=0.001, kinematic_viscosity=NU)
    with pytest.raises(InputError, match="hydraulics_negative"):
        friction.loss_per_metre(1.0, bore=0.01, roughness=-0.001, kinematic_viscosity=NU)
