"""Part-full round pipes against Chow's table, the library fluids, and textbook extremes."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest
from fluids.open_flow import V_Manning
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.hydraulics import open_pipe
from ramwright.hydraulics.friction import loss_per_metre

REFERENCE = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "hydraulics_lines.toml").read_text("utf-8")
)
NU = 1.1e-6
G = 9.80665


def test_sections_match_chows_table() -> None:
    """Chow 1959 appendix A (memory), printed to four decimals."""
    table = REFERENCE["circle"]
    for at, fill in enumerate(table["fill"]):
        cut = open_pipe.section(bore=1.0, depth=fill)
        assert abs(cut.area - table["area"][at]) < 1e-4
        assert abs(cut.wetted_perimeter - table["perimeter"][at]) < 1e-4
        assert abs(cut.hydraulic_radius - table["radius"][at]) < 1e-4
        assert abs(cut.surface_width - table["width"][at]) < 1e-4
        critical = open_pipe.critical_flow(fill, bore=1.0)
        assert abs(critical.flow / math.sqrt(G) / table["critical"][at] - 1.0) < 0.006
        assert abs(critical.froude - 1.0) < 1e-12


def test_manning_agrees_with_fluids_and_peaks_where_textbooks_say() -> None:
    """Library fluids V_Manning.

    Greatest flow at 0.938, 1.076 of full; greatest velocity at 0.813 (memory).
    """
    facts = REFERENCE["manning_extremes"]
    fills = np.linspace(0.01, 1.0, 1981)
    cuts = [open_pipe.section(bore=1.0, depth=float(f)) for f in fills]
    velocities = np.array(
        [
            open_pipe.manning_velocity(hydraulic_radius=c.hydraulic_radius, slope=0.01, manning_n=0.012)
            for c in cuts
        ]
    )
    assert abs(velocities[500] / V_Manning(cuts[500].hydraulic_radius, 0.01, 0.012) - 1.0) < 1e-12
    flows = velocities * np.array([c.area for c in cuts])
    assert abs(fills[np.argmax(flows)] - facts["fill_of_most_flow"]) < 0.001
    assert abs(flows.max() / flows[-1] - facts["most_flow_over_full"]) < 0.001
    assert abs(fills[np.argmax(velocities)] - facts["fill_of_most_velocity"]) < 0.001


@given(st.floats(0.02, 0.3), st.floats(1e-6, 0.3), st.floats(0.0, 3e-4))
def test_a_pipe_just_full_runs_as_fast_open_as_closed(bore: float, slope: float, roughness: float) -> None:
    """At R = D/4 the open-channel form must lose the pipe's own friction slope (both Colebrook)."""
    velocity = open_pipe.colebrook_velocity(
        hydraulic_radius=bore / 4.0, slope=slope, roughness=roughness, kinematic_viscosity=NU
    )
    back = loss_per_metre(velocity, bore=bore, roughness=roughness, kinematic_viscosity=NU)
    assert abs(back / slope - 1.0) < 1e-3


def test_colebrook_agrees_with_strickler_where_the_wall_rules() -> None:
    """Rival relation: Strickler 1923, V = 8.1 (R/k)^(1/6) sqrt(g R S) (memory), within 6 % at R/k = 200."""
    radius, slope, rough = 0.05, 0.01, 2.5e-4
    ours = open_pipe.colebrook_velocity(
        hydraulic_radius=radius, slope=slope, roughness=rough, kinematic_viscosity=NU
    )
    rival = 8.1 * (radius / rough) ** (1 / 6) * math.sqrt(G * radius * slope)
    assert abs(ours / rival - 1.0) < 0.06


@given(st.floats(0.02, 0.3), st.floats(1e-4, 0.5), st.floats(0.02, 0.95))
def test_normal_depth_gives_back_its_flow(bore: float, slope: float, share: float) -> None:
    full_area = math.pi / 4 * bore**2
    most = full_area * open_pipe.colebrook_velocity(
        hydraulic_radius=bore / 4, slope=slope, roughness=1e-4, kinematic_viscosity=NU
    )
    flow = share * most
    found = open_pipe.normal_depth(flow, bore=bore, slope=slope, roughness=1e-4, kinematic_viscosity=NU)
    assert found is not None
    cut = open_pipe.section(bore=bore, depth=found.depth)
    back = cut.area * open_pipe.colebrook_velocity(
        hydraulic_radius=cut.hydraulic_radius, slope=slope, roughness=1e-4, kinematic_viscosity=NU
    )
    assert abs(back / flow - 1.0) < 1e-6
    assert (
        open_pipe.normal_depth(1.5 * most, bore=bore, slope=slope, roughness=1e-4, kinematic_viscosity=NU)
        is None
    )


@given(st.floats(0.02, 0.3), st.floats(1e-6, 0.3), st.floats(1.001, 3.0))
def test_uniform_flow_quickens_with_slope_and_with_size(radius: float, slope: float, more: float) -> None:
    """Through laminar, transition and turbulent flow alike."""

    def velocity(r: float, s: float) -> float:
        return open_pipe.colebrook_velocity(
            hydraulic_radius=r / 4, slope=s, roughness=1e-4, kinematic_viscosity=NU
        )

    assert velocity(radius, slope * more) > velocity(radius, slope)
    assert velocity(radius * more, slope) > velocity(radius, slope)


def test_half_full_carries_half() -> None:
    """Same hydraulic radius half full as full, so the same velocity and half the flow (geometry)."""
    bore, slope = 0.1, 0.02
    velocity = open_pipe.colebrook_velocity(
        hydraulic_radius=bore / 4, slope=slope, roughness=1e-4, kinematic_viscosity=NU
    )
    found = open_pipe.normal_depth(
        velocity * math.pi / 8 * bore**2, bore=bore, slope=slope, roughness=1e-4, kinematic_viscosity=NU
    )
    assert found is not None
    assert abs(found.fill - 0.5) < 1e-6


@given(st.floats(0.02, 0.3), st.floats(0.01, 1.0))
def test_crest_flow_has_the_energy_it_was_given(bore: float, share: float) -> None:
    """Specific energy of critical flow: y + V^2/2g (definition)."""
    energy = share * bore
    found = open_pipe.crest_flow(energy, bore=bore)
    assert abs(found.depth + found.velocity**2 / (2 * G) - energy) < 1e-9
    assert found.flow < open_pipe.crest_flow(1.1 * energy, bore=bore).flow


def test_a_slight_energy_over_a_wide_invert_is_a_broad_weir() -> None:
    """Parabolic weir in the limit of small depth: Q -> sqrt(27/64... ) by its own closed form, y = 3/4 E."""
    energy, bore = 1e-3, 1.0
    found = open_pipe.crest_flow(energy, bore=bore)
    assert abs(found.depth / energy - 0.75) < 1e-3


def test_wrong_depths_are_refused() -> None:
    with pytest.raises(InputError, match="hydraulics_out_of_bounds"):
        open_pipe.section(bore=0.1, depth=0.11)
    with pytest.raises(InputError, match="hydraulics_out_of_bounds"):
        open_pipe.critical_flow(0.0, bore=0.1)
    assert open_pipe.crest_flow(0.0, bore=0.1).flow == 0.0
    assert (
        open_pipe.colebrook_velocity(hydraulic_radius=0.02, slope=0.0, roughness=0.0, kinematic_viscosity=NU)
        == 0.0
    )
