"""Capacity of unprimed lines against a point-by-point search, and the sharing of a source."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from ramwright.geometry import Profile, resample
from ramwright.hydraulics.capacity import Rules, capacity, supply
from ramwright.hydraulics.friction import loss_per_metre
from ramwright.hydraulics.line import Line, Segment, cut_up, full_flow, single_pipe, total_head_drop
from ramwright.hydraulics.water import water_at

WATER = water_at(15.0)
G = 9.80665


def profile_of(steps: list[float], grades: list[float]) -> Profile:
    stations = np.concatenate(([0.0], np.cumsum(steps)))
    levels = 50.0 + np.concatenate(([0.0], np.cumsum(np.diff(stations) * np.array(grades))))
    return Profile(stations=stations, levels=levels)


@st.composite
def supply_lines(draw: st.DrawFn) -> Line:
    steps = draw(st.lists(st.floats(2.0, 60.0), min_size=2, max_size=5))
    grades = draw(st.lists(st.floats(-0.2, 0.05), min_size=len(steps), max_size=len(steps)))
    profile = profile_of(steps, grades)
    half = profile.length / 2.0
    first, second = draw(st.floats(0.02, 0.1)), draw(st.floats(0.02, 0.1))
    return Line(profile=profile, segments=(Segment(half, first, 1e-5), Segment(half, second, 1e-5)))


def point_by_point(line: Line, source: float) -> float:
    """Least flow over a hundred points of each piece, each solved by itself from the energy equation."""
    fine = Line(profile=resample(line.profile, step=line.profile.length / 100.0), segments=line.segments)
    nodes = cut_up(fine)
    least = math.inf
    for i in range(nodes.stations.size):

        def miss(flow: float, at: int = i) -> float:
            lost, heads = total_head_drop(fine, nodes, WATER, flow)
            return source - float(nodes.levels[at]) - float(lost[at]) - float(heads[at])

        if miss(0.0) <= 0.0:
            return 0.0
        if miss(least if math.isfinite(least) else 1.0) < 0.0:
            least = float(brentq(miss, 0.0, least if math.isfinite(least) else 1.0, xtol=1e-12))
    return least


@settings(max_examples=25)
@given(supply_lines(), st.floats(0.02, 2.0))
def test_capacity_is_the_least_over_all_points(line: Line, above: float) -> None:
    source = float(line.profile.levels[0]) + above
    ours = capacity(line, WATER, source_level=source)
    assert math.isclose(ours.flow, point_by_point(line, source), rel_tol=1e-6, abs_tol=1e-9)


@given(supply_lines(), st.floats(0.02, 5.0), st.floats(0.01, 2.0))
def test_capacity_is_below_full_flow_and_rises_with_the_source(line: Line, above: float, more: float) -> None:
    source = float(line.profile.levels[0]) + above
    low = capacity(line, WATER, source_level=source)
    full = full_flow(line, WATER, source_level=source, practical_siphon_lift=8.0)
    assert low.flow <= full.flow * (1.0 + 1e-9)
    assert capacity(line, WATER, source_level=source + more).flow >= low.flow
    if low.rules is Rules.WHOLE_FALL:
        assert math.isclose(low.flow, full.flow, rel_tol=1e-6)
        assert full.lowest_pressure_head >= -1e-6


def test_a_flat_start_rules_by_its_own_head() -> None:
    """By hand: 0.4 m drives the first 20 m; the 5 m of fall beyond add nothing."""
    line = single_pipe(profile_of([20.0, 40.0, 40.0], [-0.005, -0.05, -0.08]), bore=0.05, roughness=1.5e-6)
    found = capacity(line, WATER, source_level=50.3)
    velocity = found.flow / (math.pi / 4 * 0.05**2)
    slope = loss_per_metre(
        velocity, bore=0.05, roughness=1.5e-6, kinematic_viscosity=WATER.kinematic_viscosity
    )
    assert math.isclose(20.0 * slope + 1.5 * velocity**2 / (2 * G), 0.4, rel_tol=1e-9)
    assert (found.rules, found.station) == (Rules.GRADE_BREAK, 20.0)
    assert found.head == pytest.approx(0.4)


def test_a_summit_rules_and_one_above_the_source_stops_all() -> None:
    line = single_pipe(profile_of([30.0, 30.0, 60.0], [-0.05, 0.02, -0.1]), bore=0.05, roughness=1.5e-6)
    found = capacity(line, WATER, source_level=50.2)
    assert (found.rules, found.station) == (Rules.SUMMIT, 60.0)
    high = single_pipe(profile_of([30.0, 30.0, 60.0], [-0.02, 0.06, -0.1]), bore=0.05, roughness=1.5e-6)
    stopped = capacity(high, WATER, source_level=50.2)
    assert stopped.flow == 0.0
    assert stopped.rules is Rules.SUMMIT
    assert stopped.head == pytest.approx(-1.0)


def test_an_even_fall_runs_full_and_a_steep_one_is_held_by_its_entrance() -> None:
    """A straight fall steeper than its friction is held at the entrance.

    V^2/2g (1 + K) = cover (orifice law).
    """
    steep = single_pipe(profile_of([50.0], [-0.3]), bore=0.05, roughness=1.5e-6)
    found = capacity(steep, WATER, source_level=50.1)
    velocity = found.flow / (math.pi / 4 * 0.05**2)
    assert found.rules is Rules.ENTRANCE
    assert math.isclose(1.5 * velocity**2 / (2 * G), 0.1, rel_tol=1e-9)
    gentle = single_pipe(profile_of([50.0], [-0.002]), bore=0.05, roughness=1.5e-6)
    assert capacity(gentle, WATER, source_level=50.1).rules is Rules.WHOLE_FALL


def test_a_fall_that_just_equals_friction_runs_full_all_the_way() -> None:
    """By hand.

    Slope J(V) and 1.5 V^2/2g of cover: the grade line lies in the pipe from end to end, so the end rules.
    """
    velocity = 0.9
    slope = loss_per_metre(velocity, bore=0.05, roughness=1e-5, kinematic_viscosity=WATER.kinematic_viscosity)
    line = single_pipe(profile_of([50.0], [-slope]), bore=0.05, roughness=1e-5)
    found = capacity(line, WATER, source_level=50.0 + 1.5 * velocity**2 / (2 * G))
    assert math.isclose(found.flow, velocity * math.pi / 4 * 0.05**2, rel_tol=1e-6)
    assert found.rules is Rules.WHOLE_FALL


def test_a_source_below_the_intake_brings_nothing() -> None:
    line = single_pipe(profile_of([50.0], [-0.1]), bore=0.05, roughness=0.0)
    assert capacity(line, WATER, source_level=49.9).rules is Rules.NO_HEAD


@given(supply_lines(), st.floats(0.02, 2.0), st.floats(0.0, 0.02))
def test_a_supply_line_carries_the_lesser_and_spills_the_rest(line: Line, above: float, flow: float) -> None:
    source = float(line.profile.levels[0]) + above
    found = supply(line, WATER, source_flow=flow, source_level=source)
    assert found.carried == min(flow, found.capacity.flow)
    assert found.carried + found.overflow == pytest.approx(flow)
    assert found.source_rules == (flow <= found.capacity.flow)
    assert found.stretches[0].start == 0.0
    assert found.stretches[-1].end == pytest.approx(line.profile.length)


def test_a_steep_stretch_beyond_the_ruling_point_runs_part_full() -> None:
    line = single_pipe(profile_of([20.0, 40.0], [-0.005, -0.1]), bore=0.05, roughness=1.5e-6)
    found = supply(line, WATER, source_flow=0.1, source_level=50.3)
    assert not found.source_rules
    assert found.stretches[0].open_flow is None
    below = found.stretches[1].open_flow
    assert below is not None
    assert below.fill < 0.94
    assert below.froude > 1.0
