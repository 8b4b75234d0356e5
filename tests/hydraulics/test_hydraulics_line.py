"""Full lines against Swamee and Jain's explicit formula, the library fluids, and the energy equation."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest
from fluids.core import K_from_f
from fluids.fittings import contraction_sharp
from fluids.friction import friction_factor
from hypothesis import assume, given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.geometry import Profile
from ramwright.hydraulics.line import (
    Fitting,
    Line,
    LineState,
    Segment,
    cut_up,
    full_flow,
    joint_loss,
    single_pipe,
    total_head_drop,
)
from ramwright.hydraulics.water import siphon_limit, water_at

FOLDER = Path(__file__).parents[1] / "reference"
SIPHON = tomllib.loads((FOLDER / "hydraulics_lines.toml").read_text("utf-8"))["siphon"]
FRICTION = tomllib.loads((FOLDER / "hydraulics_water_and_waves.toml").read_text("utf-8"))["friction"]
WATER = water_at(15.0)
G = 9.80665


def straight(length: float, drop: float) -> Profile:
    return Profile(stations=np.array([0.0, length]), levels=np.array([drop, 0.0]))


@st.composite
def lines(draw: st.DrawFn) -> Line:
    """A falling or humped line of one to three pipes with a few fittings; its first point at 50 m."""
    steps = draw(st.lists(st.floats(2.0, 80.0), min_size=2, max_size=6))
    grades = draw(st.lists(st.floats(-0.25, 0.12), min_size=len(steps), max_size=len(steps)))
    stations = np.concatenate(([0.0], np.cumsum(steps)))
    levels = 50.0 + np.concatenate(([0.0], np.cumsum(np.diff(stations) * np.array(grades))))
    profile = Profile(stations=stations, levels=levels)
    count = draw(st.integers(1, 3))
    segments = tuple(
        Segment(
            length=profile.length / count,
            bore=draw(st.floats(0.015, 0.11)),
            roughness=draw(st.floats(0.0, 2e-4)),
        )
        for _ in range(count)
    )
    shares = draw(st.lists(st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 8.0)), max_size=3))
    fittings = tuple(Fitting(station=s * profile.length, loss=k) for s, k in shares)
    return Line(profile=profile, segments=segments, fittings=fittings)


def test_flow_through_the_notes_worked_pipe_comes_back_from_its_loss() -> None:
    """Notes on trade practice 3.3 (derived).

    0.5 L/s loses 3.84, 3.92, 5.36 m in 100 m of 26.64 mm at 20 C.
    """
    for roughness, loss in zip(FRICTION["roughness_m"], FRICTION["loss_m"], strict=True):
        line = single_pipe(
            straight(FRICTION["length_m"], 1.0),
            bore=FRICTION["bore_m"],
            roughness=roughness,
            entrance_loss=0.0,
            exit_loss=0.0,
        )
        result = full_flow(line, water_at(20.0), source_level=loss, practical_siphon_lift=8.0)
        assert abs(result.flow / FRICTION["flow_m3_s"] - 1.0) < 0.001


@pytest.mark.parametrize("bore", [0.03, 0.0525, 0.1])
@pytest.mark.parametrize("roughness", [1e-5, 1.5e-4])
@pytest.mark.parametrize("head", [1.0, 12.0])
def test_flow_agrees_with_swamee_and_jain(bore: float, roughness: float, head: float) -> None:
    """Swamee & Jain 1976 (memory), explicit discharge, a rival relation said to be within about 2 %."""
    length, nu = 200.0, WATER.kinematic_viscosity
    line = single_pipe(
        straight(length, 0.5), bore=bore, roughness=roughness, entrance_loss=0.0, exit_loss=0.0
    )
    ours = full_flow(line, WATER, source_level=head, practical_siphon_lift=8.0).flow
    argument = roughness / (3.7 * bore) + math.sqrt(3.17 * nu**2 * length / (G * bore**3 * head))
    theirs = -0.965 * bore**2 * math.sqrt(G * bore * head / length) * math.log(argument)
    assert abs(ours / theirs - 1.0) < 0.03


def test_two_sizes_and_fittings_against_the_library_fluids() -> None:
    """Head rebuilt by fluids (Colebrook factor, K_from_f, contraction_sharp) at the flow found."""
    profile = Profile(stations=np.array([0.0, 60.0, 140.0]), levels=np.array([9.0, 6.0, 0.0]))
    line = Line(
        profile=profile,
        segments=(Segment(60.0, 0.0779, 4.5e-5), Segment(80.0, 0.0525, 4.5e-5)),
        fittings=(Fitting(30.0, 0.9, "bend"), Fitting(100.0, 6.0, "valve")),
    )
    flow = full_flow(line, WATER, source_level=10.0, practical_siphon_lift=8.0).flow
    head = 0.0
    for length, bore, extra in ((60.0, 0.0779, 0.5 + 0.9), (80.0, 0.0525, 6.0 + 1.0)):
        velocity = flow / (math.pi / 4 * bore**2)
        f = friction_factor(velocity * bore / WATER.kinematic_viscosity, 4.5e-5 / bore, Method="Colebrook")
        head += (K_from_f(f, length, bore) + extra) * velocity**2 / (2 * G)
    small = flow / (math.pi / 4 * 0.0525**2)
    head += contraction_sharp(0.0779, 0.0525) * small**2 / (2 * G)
    assert abs(head / 10.0 - 1.0) < 2e-4


def test_a_sudden_widening_loses_by_borda_and_carnot() -> None:
    """Borda-Carnot: (1 - (d/D)^2)^2 velocity heads of the smaller pipe (textbook)."""
    assert math.isclose(joint_loss(0.05, 0.1), (1 - 0.25) ** 2, rel_tol=1e-12)
    assert joint_loss(0.05, 0.05) == 0.0
    assert 0.0 < joint_loss(0.1, 0.05) < 0.6


@given(lines(), st.floats(0.05, 20.0))
def test_the_energy_along_the_grade_line_closes(line: Line, above: float) -> None:
    source = float(line.profile.levels.max()) + above
    result = full_flow(line, WATER, source_level=source, practical_siphon_lift=8.0)
    assert math.isclose(
        result.friction_loss + result.local_loss + result.exit_loss, result.head, rel_tol=1e-9, abs_tol=1e-9
    )
    grade = result.grade
    assert np.all(np.diff(grade.total_head) <= 1e-12)
    assert np.allclose(grade.total_head - grade.head, grade.velocity**2 / (2 * G), atol=1e-12)
    assert np.allclose(grade.pressure_head, grade.head - grade.levels)
    # a full pipe ends in the open at the air's pressure
    assert abs(grade.pressure_head[-1]) < 1e-8 * max(1.0, result.head)


@given(lines(), st.floats(0.05, 10.0), st.floats(0.001, 5.0))
def test_more_head_more_flow(line: Line, above: float, more: float) -> None:
    source = float(line.profile.levels[-1]) + above
    low = full_flow(line, WATER, source_level=source, practical_siphon_lift=8.0).flow
    high = full_flow(line, WATER, source_level=source + more, practical_siphon_lift=8.0).flow
    assert high > low > 0.0


@given(lines(), st.floats(0.5, 10.0), st.floats(0.1, 5.0))
def test_water_over_the_outlet_costs_flow(line: Line, above: float, drowned: float) -> None:
    end = float(line.profile.levels[-1])
    assume(above > drowned)
    free = full_flow(line, WATER, source_level=end + above, practical_siphon_lift=8.0)
    under = full_flow(
        line, WATER, source_level=end + above, outlet_level=end + drowned, practical_siphon_lift=8.0
    )
    assert under.flow < free.flow
    assert math.isclose(float(under.grade.pressure_head[-1]), drowned, rel_tol=1e-6, abs_tol=1e-7)


@given(lines(), st.floats(0.0, 0.01))
def test_losses_only_grow_along_the_line(line: Line, flow: float) -> None:
    lost, heads = total_head_drop(line, cut_up(line), WATER, flow)
    assert np.all(np.diff(lost) >= 0.0)
    assert np.all(heads >= 0.0)


def test_nodes_stand_twice_where_something_is_lost() -> None:
    line = Line(
        profile=straight(10.0, 1.0),
        segments=(Segment(4.0, 0.1, 0.0), Segment(6.0, 0.05, 0.0)),
        fittings=(Fitting(8.0, 2.0),),
    )
    nodes = cut_up(line)
    assert nodes.stations.tolist() == [0.0, 0.0, 4.0, 4.0, 8.0, 8.0, 10.0]
    assert nodes.segment.tolist() == [0, 0, 0, 1, 1, 1, 1]
    assert nodes.reach.sum() == pytest.approx(10.0)
    assert nodes.local.tolist()[1] == 0.5
    assert nodes.local.tolist()[5] == 2.0


def test_no_head_no_flow_and_its_name() -> None:
    result = full_flow(
        single_pipe(straight(50.0, 1.0), bore=0.05, roughness=0.0),
        WATER,
        source_level=-0.5,
        practical_siphon_lift=8.0,
    )
    assert result.flow == 0.0
    assert result.state is LineState.NO_HEAD


@pytest.mark.parametrize(
    ("crest", "state"),
    [
        (9.0, LineState.ABOVE_AIR),
        (14.0, LineState.BELOW_AIR),
        (18.7, LineState.BEYOND_PRACTICAL),
        (21.0, LineState.BOILS),
    ],
)
def test_the_crest_pressure_names_the_state(crest: float, state: LineState) -> None:
    """Nearly no flow (fine throttle at the end): crest gauge head is source less crest, by hydrostatics."""
    profile = Profile(stations=np.array([0.0, 30.0, 60.0]), levels=np.array([9.0, crest, 5.0]))
    line = single_pipe(profile, bore=0.05, roughness=0.0, fittings=[Fitting(60.0, 1e7)])
    result = full_flow(line, water_at(20.0), source_level=10.0, practical_siphon_lift=8.0)
    if crest > 9.0:
        assert abs(result.lowest_pressure_head - (10.0 - crest)) < 0.01
    assert result.state is state


def test_the_siphon_limit_keeps_its_reserve_over_boiling_at_altitude() -> None:
    """Notes 2.4 (derived air heads): at each altitude the lift shrinks by what the air weighs less."""
    sea = SIPHON["air_head_m"][0]
    for altitude, air in zip(SIPHON["altitude_m"], SIPHON["air_head_m"], strict=True):
        limit = siphon_limit(water_at(20.0, altitude_m=altitude), practical_lift=SIPHON["practical_lift_m"])
        assert abs(limit - (SIPHON["practical_lift_m"] - (sea - air))) < 0.015
    cold, warm = (siphon_limit(water_at(t), practical_lift=8.0) for t in (10.0, 35.0))
    assert warm < cold
    assert siphon_limit(water_at(40.0, altitude_m=6000.0), practical_lift=1.0) == 0.0


def test_lines_that_cannot_be_are_refused() -> None:
    with pytest.raises(InputError, match="hydraulics_segments_do_not_fit"):
        Line(profile=straight(10.0, 1.0), segments=(Segment(9.0, 0.05, 0.0),))
    with pytest.raises(InputError, match="hydraulics_no_segments"):
        Line(profile=straight(10.0, 1.0), segments=())
    with pytest.raises(InputError, match="hydraulics_off_the_line"):
        single_pipe(straight(10.0, 1.0), bore=0.05, roughness=0.0, fittings=[Fitting(10.1, 1.0)])
    with pytest.raises(InputError, match="hydraulics_not_positive"):
        Segment(1.0, 0.0, 0.0)
