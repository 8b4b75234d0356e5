"""Humps, siphons, air swept and air shut in: the notes' table, hand arithmetic, and what must follow."""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.geometry import Profile
from ramwright.hydraulics.air import fill
from ramwright.hydraulics.line import Line, Segment, single_pipe
from ramwright.hydraulics.siphon import HumpStates, Priming, crest_limited_flow, hump_states, trickle_over
from ramwright.hydraulics.sweeping import jump_sweeping_flow, pocket_sweeping_velocity
from ramwright.hydraulics.water import STANDARD_GRAVITY, water_at

TABLE = tomllib.loads((Path(__file__).parents[1] / "reference" / "hydraulics_lines.toml").read_text("utf-8"))[
    "sweeping"
]
WATER = water_at(15.0)


def line_of(stations: list[float], levels: list[float], bore: float = 0.05) -> Line:
    profile = Profile(stations=np.array(stations), levels=np.array(levels))
    return single_pipe(profile, bore=bore, roughness=1.5e-6)


def humped(source_level: float, outlet_level: float | None = 10.2) -> HumpStates:
    found = hump_states(
        line_of([0, 50, 100, 150], [20, 18, 21, 10]),
        WATER,
        source_level=source_level,
        outlet_level=outlet_level,
        practical_siphon_lift=8.0,
    )
    assert found is not None
    return found


def test_pocket_sweeping_velocity_matches_the_notes() -> None:
    """Notes on trade practice 2.3 (derived from Wisner 1975)."""
    for bore, velocity in zip(TABLE["bore_m"], TABLE["velocity_m_s"], strict=True):
        found = pocket_sweeping_velocity(bore=bore, slope_angle=math.radians(TABLE["slope_deg"]))
        assert abs(found - velocity) <= 0.0006


def test_jump_sweeping_flow_by_hand() -> None:
    """Kalinske & Bliss 1943.

    Bore 0.1 m, tan a = 0.2 -> Q = sqrt(0.707 x 0.2 x 9.80665 x 1e-5) = 3.724 L/s (arithmetic).
    """
    assert abs(jump_sweeping_flow(bore=0.1, slope_angle=math.atan(0.2)) - 3.7238e-3) < 1e-6


@given(st.floats(0.01, 0.3), st.floats(0.0, 1.5), st.floats(0.0, 1.5))
def test_steeper_and_wider_take_more_to_sweep(bore: float, first: float, second: float) -> None:
    flat, steep = sorted((first, second))
    assert pocket_sweeping_velocity(bore=bore, slope_angle=flat) <= pocket_sweeping_velocity(
        bore=bore, slope_angle=steep
    )
    assert jump_sweeping_flow(bore=bore, slope_angle=flat) <= jump_sweeping_flow(
        bore=2 * bore, slope_angle=steep
    )


def test_priming_follows_the_source_level() -> None:
    """Crest invert at 20.975 m: below it nothing trickles; the trickle must then reach the sweeping flow."""
    assert humped(20.97).priming is Priming.NO_TRICKLE
    assert humped(20.97).trickle_flow == 0.0
    weak = humped(21.05)
    assert weak.priming is Priming.TRICKLE_TOO_WEAK
    assert 0.0 < weak.trickle_flow < weak.sweeping_flow
    strong = humped(21.5)
    assert strong.priming is Priming.BY_ITSELF
    assert strong.trickle_flow >= strong.sweeping_flow
    assert humped(21.5, outlet_level=None).priming is Priming.OUTLET_OPEN


def test_a_siphon_draws_more_than_a_trickle_and_holds_while_the_crest_keeps_its_limit() -> None:
    found = humped(20.5)
    assert found.siphon_flow > found.trickle_flow
    assert found.siphon_holds
    assert found.lift == pytest.approx(0.5)
    assert found.siphon_velocity > found.sweeping_velocity
    broken = hump_states(
        line_of([0, 50, 100, 150], [20, 18, 27, 10]), WATER, source_level=20.5, practical_siphon_lift=8.0
    )
    assert broken is not None
    assert not broken.siphon_holds
    assert not broken.checks[0].ok


def test_a_hump_under_the_grade_needs_no_siphon() -> None:
    found = hump_states(
        line_of([0, 50, 100, 600], [20, 15, 16, 14]), WATER, source_level=20.5, practical_siphon_lift=8.0
    )
    assert found is not None
    assert found.priming is Priming.NO_SIPHON_NEEDED
    assert (
        hump_states(line_of([0, 100], [20, 14]), WATER, source_level=20.5, practical_siphon_lift=8.0) is None
    )


@given(st.floats(20.98, 22.0), st.floats(0.001, 0.5))
def test_the_trickle_rises_with_the_source(level: float, more: float) -> None:
    low, high = humped(level), humped(level + more)
    assert high.trickle_flow > low.trickle_flow > 0.0
    assert high.trickle_flow <= high.siphon_flow


def test_a_trickle_is_critical_over_the_invert_when_the_way_to_it_is_short() -> None:
    """Source 25 mm over the invert of a 50 mm pipe, no losses.

    By hand y_c where y + A/2T = E (half the bore).
    """
    line = Line(
        profile=Profile(stations=np.array([0.0, 0.01, 1.0]), levels=np.array([20.995, 21.0, 20.5])),
        segments=(Segment(1.0, 0.05, 0.0),),
        entrance_loss=0.0,
    )
    found = hump_states(line, WATER, source_level=21.0, practical_siphon_lift=8.0)
    assert found is not None
    flow = trickle_over(line, WATER, crest=found.crest, source_level=21.0)
    theta = 2.0 * math.acos(1.0 - 2.0 * 0.0183 / 0.05)
    area, width = 0.05**2 / 8 * (theta - math.sin(theta)), 0.05 * math.sin(theta / 2)
    assert abs(0.0183 + area / (2 * width) - 0.025) < 1e-4  # the depth used is the critical one
    assert abs(flow / (area * math.sqrt(STANDARD_GRAVITY * area / width)) - 1.0) < 0.02


def test_crest_limited_flow_gives_the_crest_head_it_was_asked_for() -> None:
    line = line_of([0, 50, 100, 150], [20, 18, 21, 10])
    full = humped(20.9).full
    at_crest = float(np.min(full.grade.pressure_head[full.grade.stations == 100.0]))
    again = crest_limited_flow(line, WATER, crest_station=100.0, source_level=20.9, crest_head=at_crest)
    assert math.isclose(again, full.flow, rel_tol=1e-9)
    with pytest.raises(InputError, match="hydraulics_not_a_point"):
        crest_limited_flow(line, WATER, crest_station=99.0, source_level=20.9, crest_head=-5.0)


def test_one_pocket_squeezed_by_boyle_against_its_closed_form() -> None:
    """Leg falling 5 m from 10 to 5, outlet at 9.

    P = 9 - (10 - 5 x), x = Pa/(Pa + P): a quadratic in P (arithmetic).
    """
    line = line_of([0, 20, 40, 50, 60], [12, 6, 10, 5, 9])
    air = WATER.atmospheric_pressure / (WATER.density * STANDARD_GRAVITY)
    b, c = air + 1.0, air - 5.0 * air
    pressure = (-b + math.sqrt(b**2 - 4.0 * c)) / 2.0
    found = fill(line, WATER, source_level=12.5)
    assert len(found.pockets) == 1
    pocket = found.pockets[0]
    assert math.isclose(pocket.pressure_head, pressure, rel_tol=1e-9)
    assert math.isclose(pocket.lost_head, 10.0 - 9.0 + pressure, rel_tol=1e-9)
    assert math.isclose(pocket.length, 10.0 * air / (air + pressure), rel_tol=1e-9)
    assert math.isclose(pocket.free_volume, 10.0 * math.pi / 4 * 0.05**2, rel_tol=1e-9)
    assert not found.starts
    assert math.isclose(found.spare_head, 12.5 - 10.0 - pressure, rel_tol=1e-6)
    assert found.vents == (40.0,)


def test_lost_heads_add_up_when_air_is_not_squeezed() -> None:
    """Jordan's method.

    Under an air so heavy that pockets keep their volume, each costs its whole leg: 6 + 5 m.
    """
    heavy = replace(WATER, atmospheric_pressure=1e12)
    line = line_of([0, 20, 40, 60, 80, 100, 120], [20, 8, 14, 8, 13, 8, 12])
    found = fill(line, heavy, source_level=20.5)
    assert np.allclose([p.lost_head for p in found.pockets], [6.0, 5.0], atol=1e-4)
    assert found.ruling_level == 12.0
    assert math.isclose(found.lost_head, 11.0, rel_tol=1e-6)
    assert math.isclose(found.spare_head, 20.5 - 12.0 - 11.0, rel_tol=1e-6)
    assert found.vents == (40.0,)
    again = fill(line, heavy, source_level=20.5, vented=found.vents)
    assert again.starts


def test_a_summit_above_the_source_is_not_cured_by_vents() -> None:
    found = fill(line_of([0, 20, 40, 60, 80], [20, 15, 21, 10, 12]), WATER, source_level=20.5)
    assert not found.starts
    assert not found.vents_enough
    assert (found.ruling_station, found.vents) == (40.0, ())
    with pytest.raises(InputError, match="hydraulics_no_such_summit"):
        fill(line_of([0, 20], [20, 15]), WATER, source_level=20.5, vented=[5.0])


def test_a_line_falling_all_the_way_shuts_in_no_air() -> None:
    found = fill(line_of([0, 50, 100], [20, 10, 5]), WATER, source_level=20.1)
    assert found.starts
    assert found.pockets == ()
    assert found.spare_head == pytest.approx(15.1)


@st.composite
def wavy(draw: st.DrawFn) -> Line:
    legs = draw(st.integers(1, 4))
    levels = [20.0]
    for _ in range(legs):
        levels += [draw(st.floats(2.0, 9.0)), draw(st.floats(9.5, 19.0))]
    return line_of([20.0 * i for i in range(len(levels))], levels)


@given(wavy(), st.floats(20.0, 60.0))
def test_vents_as_advised_start_the_line_and_never_make_it_worse(line: Line, source: float) -> None:
    found = fill(line, WATER, source_level=source)
    assert found.starts == (found.spare_head >= 0.0)
    assert all(p.lost_head >= 0.0 and p.pressure_head >= 0.0 for p in found.pockets)
    # all summits lie under 20 m here, so venting always suffices
    assert found.vents_enough
    again = fill(line, WATER, source_level=source, vented=found.vents)
    assert again.starts
    assert again.spare_head >= found.spare_head - 1e-9
