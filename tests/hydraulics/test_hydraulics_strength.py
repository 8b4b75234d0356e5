"""Pressure, anchoring and fatigue against the notes' figures, the beam equation, and statics."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.geometry import Profile
from ramwright.hydraulics import anchor, fatigue, pressure
from ramwright.hydraulics.water import water_at

REFERENCE = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "hydraulics_tanks_and_pipes.toml").read_text("utf-8")
)
PSI = 6894.757
WATER = water_at(15.0)
G = 9.80665
LINE = Profile(stations=np.array([0.0, 40.0, 100.0]), levels=np.array([30.0, 20.0, 0.0]))


def test_derated_ratings_of_the_handbook() -> None:
    """Notes 3.3: PVC at 120 and 140 F (read there), rounded to the psi."""
    table = REFERENCE["pressure"]
    for rating, factor, left in zip(
        table["rating_psi"], table["temperature_factor"], table["left_psi"], strict=True
    ):
        pipe = pressure.RatedPipe(10.0, rating * PSI, temperature_factor=factor)
        assert abs(pipe.allowed_pressure / PSI - left) < 0.5
        assert pressure.RatedPipe(
            10.0, rating * PSI, temperature_factor=factor, joint_factor=0.5
        ).allowed_pressure == pytest.approx(0.5 * pipe.allowed_pressure)


def test_shut_off_head_is_fall_and_joukowsky() -> None:
    """Notes 3.1: 1 m/s stopped in 2 in steel is 141 m; with 3 m of fall 144 m."""
    table = REFERENCE["shut_off"]
    found = pressure.shut_off_head(fall=3.0, wave_speed=table["wave_speed_m_s"], velocity=1.0)
    assert abs(found - (3.0 + table["head_per_m_s"])) < 0.5


def test_the_weakest_place_is_found_where_the_pipe_changes() -> None:
    """By hydrostatics.

    Strong pipe low down, weak pipe to station 40 (level 20): 30 m standing over 25 m allowed.
    """
    weak = 25.0 * WATER.density * G
    pipes = [pressure.RatedPipe(40.0, weak), pressure.RatedPipe(60.0, 4.0 * weak)]
    found = pressure.check_pressure(LINE, pipes, WATER, standing_level=50.0)
    assert found.rules.station == 40.0
    assert math.isclose(found.rules.number, 30.0)
    assert math.isclose(found.rules.limit, 25.0, rel_tol=1e-9)
    assert found.static_alone
    assert not found.rules.ok


def test_surge_is_added_everywhere_and_taken_off_for_the_lowest() -> None:
    pipe = [pressure.RatedPipe(100.0, 16e5)]
    found = pressure.check_pressure(LINE, pipe, WATER, standing_level=50.0, surge_head=60.0, drop_head=35.0)
    assert np.allclose(found.static_head, 50.0 - np.array([30.0, 20.0, 0.0]))
    assert np.allclose(found.peak_head, found.static_head + 60.0)
    assert found.lowest.number == pytest.approx(20.0 - 35.0)
    assert found.lowest.station == 0.0
    assert not found.lowest.ok  # below boiling
    assert found.rules.ok
    assert not found.static_alone


@given(st.floats(10.0, 100.0), st.floats(0.0, 100.0), st.floats(0.1, 50.0))
def test_more_surge_uses_more_of_the_rating(level: float, surge: float, more: float) -> None:
    pipe = [pressure.RatedPipe(100.0, 10e5)]
    low = pressure.check_pressure(LINE, pipe, WATER, standing_level=level, surge_head=surge)
    high = pressure.check_pressure(LINE, pipe, WATER, standing_level=level, surge_head=surge + more)
    assert high.rules.use > low.rules.use
    assert high.lowest.number < low.lowest.number


def test_pipes_must_add_up_to_the_line() -> None:
    with pytest.raises(InputError, match="hydraulics_segments_do_not_fit"):
        pressure.check_pressure(LINE, [pressure.RatedPipe(90.0, 1e6)], WATER, standing_level=50.0)
    with pytest.raises(InputError, match="hydraulics_no_segments"):
        pressure.check_pressure(LINE, [], WATER, standing_level=50.0)
    with pytest.raises(InputError, match="hydraulics_out_of_bounds"):
        pressure.RatedPipe(1.0, 1e6, temperature_factor=1.1)


def test_bend_thrust_of_the_notes() -> None:
    """Notes 3.2 (derived): 1,626 N; which density was used is not said, so within 0.3 %."""
    table = REFERENCE["bend"]
    found = anchor.bend_thrust(
        pressure=1000.0 * G * table["head_m"],
        bore=table["bore_m"],
        bend_angle=math.radians(table["angle_deg"]),
    )
    assert abs(found / table["thrust_n"] - 1.0) < 0.003


def test_a_half_turn_takes_the_thrust_of_two_ends_and_flow_adds_its_momentum() -> None:
    """Statics: U-bend = 2 p A; momentum flux rho V^2 adds to p (textbook)."""
    end = anchor.end_thrust(pressure=1e6, bore=0.05)
    assert math.isclose(anchor.bend_thrust(pressure=1e6, bore=0.05, bend_angle=math.pi), 2.0 * end)
    moving = anchor.bend_thrust(pressure=0.0, bore=0.05, bend_angle=math.pi, velocity=2.0)
    assert math.isclose(moving, 2.0 * 1000.0 * 4.0 * math.pi / 4 * 0.05**2)
    assert anchor.bend_thrust(pressure=1e6, bore=0.05, bend_angle=0.0) == 0.0


PIPE = anchor.SpanPipe(bore=0.0525, wall=0.00391, modulus=2.8e9, density=1400.0)


@pytest.mark.parametrize("support", list(anchor.Support))
def test_sag_and_stress_agree_with_the_beam_equation_integrated(support: anchor.Support) -> None:
    """E I y'''' = w integrated as a polynomial with the ends' conditions, by numpy."""
    span = 2.0
    found = anchor.free_span(PIPE, span, support=support, sag_share=1 / 240, bending_stress=5e6)
    w, ei = PIPE.mass_per_metre * G, PIPE.modulus * PIPE.second_moment
    x = span
    # y = w x^4/24 + c3 x^3 + c2 x^2 + c1 x (all over EI), y(0) = y(L) = 0; y'' or y' zero at both ends
    if support is anchor.Support.RESTING:
        rows = np.array([[x**3, x**2, x], [0.0, 2.0, 0.0], [6.0 * x, 2.0, 0.0]])
        right = np.array([-w * x**4 / 24, 0.0, -w * x**2 / 2])
    else:
        rows = np.array([[x**3, x**2, x], [0.0, 0.0, 1.0], [3 * x**2, 2 * x, 1.0]])
        right = np.array([-w * x**4 / 24, 0.0, -w * x**3 / 6])
    c3, c2, c1 = np.linalg.solve(rows, right)
    at = np.linspace(0.0, x, 2001)
    shape = w * at**4 / 24 + c3 * at**3 + c2 * at**2 + c1 * at
    moment = w * at**2 / 2 + 6 * c3 * at + 2 * c2
    assert abs(found.deflection / (np.abs(shape).max() / ei) - 1.0) < 1e-6
    stress = np.abs(moment).max() * PIPE.outside / (2 * PIPE.second_moment)
    assert abs(found.stress / stress - 1.0) < 1e-6


def test_the_first_frequency_of_a_resting_span() -> None:
    """Euler-Bernoulli: (pi/2) sqrt(EI/(m L^4)) (textbook)."""
    found = anchor.free_span(PIPE, 2.0, sag_share=1 / 240, bending_stress=5e6)
    stiff = PIPE.modulus * PIPE.second_moment
    assert math.isclose(found.frequency, math.pi / 2 * math.sqrt(stiff / (PIPE.mass_per_metre * 16.0)))


@given(st.floats(0.5, 6.0), st.sampled_from(list(anchor.Support)))
def test_the_longest_span_is_where_the_ruling_limit_is_just_used_up(
    span: float, support: anchor.Support
) -> None:
    found = anchor.free_span(PIPE, span, support=support, sag_share=1 / 300, bending_stress=4e6)
    at_limit = anchor.free_span(PIPE, found.longest, support=support, sag_share=1 / 300, bending_stress=4e6)
    assert math.isclose(at_limit.rules.use, 1.0, rel_tol=1e-9)
    assert found.rules.ok == (span <= found.longest)


def test_weight_holds_by_friction_and_not_on_a_slope_steeper_than_it() -> None:
    """Level ground, mu 0.5: F = 981 N needs 200 kg (F/(mu g), g 9.81: within 0.1 %)."""
    found = anchor.mass_to_hold(981.0, friction=0.5, present_mass=50.0)
    assert abs(found.mass - 200.0) < 0.2
    assert abs(found.missing - 150.0) < 0.2
    assert not found.held
    assert anchor.mass_to_hold(10.0, friction=0.5, slope_angle=math.radians(27.0)).mass == math.inf
    downhill = anchor.mass_to_hold(981.0, friction=0.5, slope_angle=math.radians(10.0))
    assert downhill.mass > found.mass


@given(st.floats(100.0, 5000.0), st.floats(1.0, 400.0))
def test_slide_in_a_pulse_obeys_the_work_of_friction(force: float, mass: float) -> None:
    """Energy: force x way under it = friction x whole way (work), the way under it from s = a t^2/2."""
    duration, mu = 0.02, 0.5
    slide = anchor.slide_in_pulse(force, duration=duration, mass=mass, friction=mu)
    gain = force / mass - mu * G
    if gain <= 0.0:
        assert slide == 0.0
    else:
        pushed = gain * duration**2 / 2.0
        assert math.isclose(force * pushed, mu * mass * G * slide, rel_tol=1e-9)


def test_weight_goes_first_where_most_force_is_not_held() -> None:
    points = [
        anchor.ThrustPoint(10.0, bend_angle=math.radians(45.0)),
        anchor.ThrustPoint(5.0, bend_angle=math.radians(10.0)),
        anchor.ThrustPoint(12.0),
        anchor.ThrustPoint(0.0, bend_angle=math.radians(90.0), present_mass=1e6),
    ]
    ranked = anchor.rank_thrusts(points, pressure=8e5, bore=0.0525, friction=0.5)
    assert [r.point.station for r in ranked] == [12.0, 10.0, 5.0, 0.0]
    assert math.isclose(sum(r.share for r in ranked), 1.0)
    assert ranked[-1].holding.held


def test_a_year_of_beats() -> None:
    """60 a minute is 31.6 million a year (notes on the physics, derived)."""
    table = REFERENCE["cycles"]
    found = fatigue.cycles_per_year(table["beats_per_minute"])
    assert abs(found / 1e6 - table["million_per_year"]) < 0.05
    assert math.isclose(fatigue.cycles_per_year(60.0, running_share=0.5), found / 2.0)


def test_hoop_stress_at_the_rating_is_the_design_stress() -> None:
    """Notes 3.3 (derived): PVC Schedule 40 ratings from S = 2000 psi, printed to the psi."""
    table = REFERENCE["rating"]
    for outside, wall, rating in zip(table["outside_mm"], table["wall_mm"], table["rating_psi"], strict=True):
        found = fatigue.hoop_stress(rating, outside=outside / 1000.0, wall=wall / 1000.0)
        assert abs(found / table["stress_psi"] - 1.0) < 0.003


# Round numbers of no material: N = 1e6 at 10 MPa, falling with the fourth power.
MADE_UP = fatigue.CyclicStrength(fatigue.Measure.RANGE, 1e10, 4.0, 1e6, 1e4, 1e7, "memory", "none")


@given(st.floats(1e4, 1e9))
def test_stress_and_cycles_are_each_others_inverse(cycles: float) -> None:
    assert math.isclose(MADE_UP.cycles(MADE_UP.stress(cycles)), cycles, rel_tol=1e-9)


def test_fatigue_life_by_hand() -> None:
    """Range 10 MPa gives 1e10/1e4 = 1e6 cycles; at 60 a minute 11.6 days (arithmetic)."""
    outside, wall = 0.06, 0.005
    pressure_range = 10e6 * 2.0 * wall / (outside - wall)
    found = fatigue.fatigue_life(
        MADE_UP,
        peak_pressure=pressure_range + 2e5,
        lowest_pressure=2e5,
        outside=outside,
        wall=wall,
        beats_per_minute=60.0,
        years=5.0,
    )
    assert math.isclose(found.stress, 10e6, rel_tol=1e-9)
    assert math.isclose(found.cycles_to_failure, 1e6, rel_tol=1e-9)
    assert abs(found.years * 365.25 - 1e6 / 86400.0) < 1e-6
    assert found.stretched  # five years lie beyond the tests
    assert not found.rules.ok
    assert found.mark == "memory"


@given(st.floats(1e5, 2e6), st.floats(1.01, 3.0))
def test_a_wider_swing_and_a_faster_beat_shorten_the_life(swing: float, more: float) -> None:
    def years(peak: float, beats: float) -> float:
        return fatigue.fatigue_life(
            MADE_UP,
            peak_pressure=peak,
            lowest_pressure=0.0,
            outside=0.06,
            wall=0.005,
            beats_per_minute=beats,
            years=10.0,
        ).years

    base = years(swing, 50.0)
    assert years(swing * more, 50.0) < base
    assert years(swing, 50.0 * more) < base


def test_peak_relations_ignore_the_low_end_and_range_relations_count_it() -> None:
    peak = fatigue.CyclicStrength(fatigue.Measure.PEAK, 1e10, 4.0, 1e6, 1e4, 1e7, "read", "none")
    stresses = [
        fatigue.fatigue_life(
            strength,
            peak_pressure=1e6,
            lowest_pressure=-5e4,
            outside=0.06,
            wall=0.005,
            beats_per_minute=60.0,
            years=1.0,
        ).stress
        for strength in (peak, MADE_UP)
    ]
    assert math.isclose(stresses[1] / stresses[0], 1.05)


def test_swing_against_a_share_of_the_rating() -> None:
    """Half the rating for the swing, all of it for the peak.

    6 bar swing on 10 bar rules over a 9 bar peak.
    """
    found = fatigue.swing_against_rating(
        peak_pressure=9e5, lowest_pressure=3e5, rating=10e5, swing_share=0.5, peak_share=1.0
    )
    assert (found.code, found.ok) == ("cyclic_swing", False)


def test_impossible_walls_and_swings_are_refused() -> None:
    with pytest.raises(InputError, match="hydraulics_wall_too_thick"):
        fatigue.hoop_stress(1e5, outside=0.02, wall=0.01)
    with pytest.raises(InputError, match="hydraulics_range_empty"):
        fatigue.fatigue_life(
            MADE_UP,
            peak_pressure=0.0,
            lowest_pressure=1.0,
            outside=0.06,
            wall=0.005,
            beats_per_minute=60.0,
            years=1.0,
        )
