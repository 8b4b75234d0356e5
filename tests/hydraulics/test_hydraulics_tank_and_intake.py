"""Drive tanks and intakes against the notes' settling table, agencies' screen examples, and continuity."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from ramwright.errors import InputError, LimitError
from ramwright.hydraulics import drive_tank as dt
from ramwright.hydraulics import intake, settling
from ramwright.hydraulics.limits import Held, Side, ruling
from ramwright.hydraulics.overflow import Overflow, OverflowKind, emptying_time
from ramwright.hydraulics.vortex import vortex_cover
from ramwright.hydraulics.water import kinematic_viscosity, water_at

REFERENCE = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "hydraulics_tanks_and_pipes.toml").read_text("utf-8")
)
G = 9.80665
RULES = dt.TankRules(
    vortex_coefficient=0.54,
    least_cover=0.3,
    turbulence_allowance=2.5,
    grain=2.5e-4,
    bubble=5e-4,
    hold_time=60.0,
    drawdown=0.05,
)
DRUM = dt.DriveTank(
    plan_area=0.25,
    outlet_bore=0.0525,
    outlet_cover=0.5,
    freeboard=0.1,
    overflow=Overflow(OverflowKind.SIDE_PIPE, 0.08, 0.6),
    sump_volume=0.02,
)
DUTY = dt.TankDuty(
    supply_flow=1.2e-3, drive_flow=1.0e-3, beat_volume=1.0e-3, draw_time=0.7, peak_velocity=1.2
)


def test_settling_velocities_match_the_notes() -> None:
    """Notes on trade practice 2.2 (derived from Ferguson & Church 2004), three digits."""
    table = REFERENCE["settling"]
    for at, grain in enumerate(table["grain_mm"]):
        for celsius, column in ((10.0, "at_10c_mm_s"), (20.0, "at_20c_mm_s")):
            found = settling.settling_velocity(
                grain / 1000.0, kinematic_viscosity=kinematic_viscosity(celsius)
            )
            assert abs(1000.0 * found / table[column][at] - 1.0) < 0.01


@given(st.floats(2e-7, 0.09))
def test_fine_grains_follow_stokes_and_coarse_ones_a_constant_drag(grain: float) -> None:
    """Limits of the relation.

    Stokes' law R g d^2 / 18 nu is never exceeded, nor the coarse sqrt(R g d / 0.75).
    """
    found = settling.settling_velocity(grain, kinematic_viscosity=1e-6)
    stokes = 1.65 * G * grain**2 / 18e-6
    coarse = math.sqrt(1.65 * G * grain / 0.75)
    assert found < stokes
    assert found < coarse
    if grain < 1e-6:
        assert abs(found / stokes - 1.0) < 0.01
    if grain > 0.02:
        assert abs(found / coarse - 1.0) < 0.01


@given(st.floats(1e-6, 1e-3))
def test_the_grain_that_settles_sinks_at_the_surface_load(grain: float) -> None:
    load = settling.settling_velocity(grain, kinematic_viscosity=1.3e-6)
    assert abs(settling.settled_grain(load, kinematic_viscosity=1.3e-6) / grain - 1.0) < 1e-6


def test_a_pail_stops_sand_not_silt() -> None:
    """1 L/s through 0.06 m2 of bucket: 16.7 mm/s.

    By the notes' table at 10 C a grain of some 0.18 mm, fine sand.
    """
    grain = settling.settled_grain(1e-3 / 0.06, kinematic_viscosity=kinematic_viscosity(10.0))
    assert 1.7e-4 < grain < 2.0e-4


def test_a_small_bubble_rises_as_seen_in_unclean_water() -> None:
    """Clift, Grace & Weber 1978 (memory)."""
    table = REFERENCE["rigid_sphere"]
    found = settling.bubble_rise_velocity(
        table["diameter_mm"] / 1000.0, kinematic_viscosity=kinematic_viscosity(20.0)
    )
    assert table["lowest_m_s"] < found < table["highest_m_s"]
    with pytest.raises(LimitError):
        settling.bubble_rise_velocity(5e-3, kinematic_viscosity=1e-6)


def test_vortex_cover_is_gordons_product() -> None:
    """0.54 x 2 m/s x sqrt(0.09 m) = 0.324 m (arithmetic); the least cover holds where it is less."""
    assert math.isclose(vortex_cover(velocity=2.0, bore=0.09, coefficient=0.54, least_cover=0.3), 0.324)
    assert vortex_cover(velocity=-1.0, bore=0.05, coefficient=0.54, least_cover=0.3) == 0.3


def test_drawdown_is_what_the_supply_does_not_bring_in_time() -> None:
    """2 L drawn in 0.5 s, 1 L/s supplied, 0.3 m2: (2 - 0.5)/300 = 5 mm (arithmetic)."""
    found = dt.drawdown_in_beat(beat_volume=2e-3, draw_time=0.5, supply_flow=1e-3, plan_area=0.3)
    assert math.isclose(found, 0.005)
    assert dt.drawdown_in_beat(beat_volume=1e-4, draw_time=1.0, supply_flow=1e-3, plan_area=0.3) == 0.0


def test_a_notch_passes_what_the_weir_formula_says() -> None:
    """Thin-plate weir, C 0.62, 0.2 m wide, 0.1 m head.

    1.83 b h^1.5 = 11.6 L/s (textbook constant 1.84 at C 0.623).
    """
    notch = Overflow(OverflowKind.NOTCH, 0.2, 0.623)
    assert abs(notch.flow(0.1) / (1.84 * 0.2 * 0.1**1.5) - 1.0) < 0.002


@pytest.mark.parametrize("kind", list(OverflowKind))
@given(st.floats(1e-5, 0.02))
def test_an_overflows_head_gives_back_its_flow(kind: OverflowKind, flow: float) -> None:
    overflow = Overflow(kind, 0.08, 0.6)
    head = overflow.head(flow)
    assert abs(overflow.flow(head) / flow - 1.0) < 1e-3
    assert overflow.flow(1.2 * head) >= overflow.flow(head)


def test_a_drowned_standpipe_is_an_orifice() -> None:
    """Torricelli with C 0.6: 0.6 x A x sqrt(2 g h)."""
    found = Overflow(OverflowKind.STANDPIPE, 0.05, 0.6).flow(0.5)
    assert math.isclose(found, 0.6 * math.pi / 4 * 0.05**2 * math.sqrt(2 * G * 0.5))


@pytest.mark.parametrize("inflow", [0.0, 0.5e-3])
def test_emptying_time_agrees_with_integrating_the_orifice_law(inflow: float) -> None:
    """scipy's solver on dh/dt = (Qin - C a sqrt(2 g h))/A."""
    k = 0.6 * math.pi / 4 * 0.04**2 * math.sqrt(2 * G)

    def slope(_: float, h: np.ndarray[tuple[int], np.dtype[np.float64]]) -> list[float]:
        return [(inflow - k * math.sqrt(max(float(h[0]), 0.0))) / 0.3]

    found = emptying_time(
        plan_area=0.3, bore=0.04, discharge_coefficient=0.6, start_depth=0.6, end_depth=0.1, inflow=inflow
    )
    run = solve_ivp(slope, (0.0, found), [0.6], rtol=1e-9, atol=1e-12)
    assert abs(float(run.y[0, -1]) - 0.1) < 1e-6
    assert (
        emptying_time(
            plan_area=0.3, bore=0.04, discharge_coefficient=0.6, start_depth=0.6, end_depth=0.1, inflow=1.0
        )
        == math.inf
    )


def test_a_drum_is_judged_on_every_count() -> None:
    """By hand: draws (1 - 0.84) L / 0.25 m2 = 0.64 mm; load 4 mm/s; holds 125 s; needs 0.3 m of cover."""
    found = dt.check_drive_tank(DRUM, DUTY, water_at(10.0), rules=RULES)
    by_code = {c.code: c for c in found.checks}
    assert abs(found.drawdown - 0.00064) < 1e-9
    assert math.isclose(found.surface_load, 0.004)
    assert math.isclose(by_code["hold_time"].number, 125.0)
    assert math.isclose(by_code["cover"].limit, 0.3)
    assert by_code["cover"].ok
    assert found.minutes_to_empty is None
    assert found.rules is ruling(found.checks)
    # 2.5 x 4 mm/s: the notes' table at 10 C puts a grain between 0.1 and 0.2 mm there
    assert 1e-4 < found.settled_grain < 2e-4


def test_a_tank_that_is_drawn_faster_than_filled_runs_down() -> None:
    """0.25 m2 x 0.5 m over a shortage of 0.5 L/s: 250 s (arithmetic)."""
    short = dt.TankDuty(
        supply_flow=0.5e-3, drive_flow=1.0e-3, beat_volume=1e-3, draw_time=0.7, peak_velocity=1.2
    )
    found = dt.check_drive_tank(DRUM, short, water_at(10.0), rules=RULES)
    assert found.minutes_to_empty is not None
    assert abs(found.minutes_to_empty - 250.0 / 60.0) < 1e-9
    assert not next(c for c in found.checks if c.code == "supply").ok
    assert found.rules.use > 1.0


@given(st.floats(0.01, 2.0), st.floats(0.01, 2.0))
def test_a_wider_tank_keeps_back_finer_grain(first: float, second: float) -> None:
    small, large = sorted((first, second))
    grains = []
    for area in (small, large):
        tank = dt.DriveTank(area, 0.0525, 0.5, 0.1, DRUM.overflow)
        grains.append(dt.check_drive_tank(tank, DUTY, water_at(10.0), rules=RULES).settled_grain)
    assert grains[1] <= grains[0] * (1.0 + 1e-9)


def test_days_to_fill_with_silt() -> None:
    """20 L at 1300 kg/m3 = 26 kg.

    1 L/s with 0.05 kg/m3, 30 % caught: 1.296 kg a day: 20.06 days (arithmetic).
    """
    days = dt.days_to_fill(sump_volume=0.02, flow=1e-3, silt=0.05, trapped_share=0.3, bulk_density=1300.0)
    assert abs(days - 26.0 / 1.296) < 1e-6
    assert (
        dt.days_to_fill(sump_volume=0.02, flow=1e-3, silt=0.0, trapped_share=0.3, bulk_density=1300.0)
        == math.inf
    )


def test_screen_areas_of_the_agencies_examples() -> None:
    """NMFS passive rule at 200 L/min; California's own example (notes 2.1)."""
    table = REFERENCE["screen"]
    area = intake.screen_area_needed(
        table["flow_l_min"] / 60000.0, approach_velocity=table["approach_ft_s"] * 0.3048
    )
    assert abs(area - table["area_m2"]) < 5e-5
    example = intake.screen_area_needed(
        table["example_flow_cfs"] * 0.3048**3, approach_velocity=table["example_approach_ft_s"] * 0.3048
    )
    assert abs(example / 0.3048**2 - table["example_area_ft2"]) < 0.05


def test_an_intake_is_judged_on_area_opening_and_cover() -> None:
    """By hand: 1 L/s, 0.02 m2, 40 % open: 0.05 m/s before, 0.125 m/s through; 8e-3/2.165e-3 = 3.70 bores."""
    rules = intake.IntakeRules(0.061, 4.0, 0.5, 0.54, 0.3)
    found = intake.check_intake(
        intake.Screen(area=0.02, open_share=0.4, opening=0.004),
        flow=1e-3,
        bore=0.0525,
        valve_passage=0.01,
        cover=0.4,
        rules=rules,
    )
    by_code = {c.code: c for c in found.checks}
    assert math.isclose(found.approach_velocity, 0.05)
    assert math.isclose(found.slot_velocity, 0.125)
    assert abs(found.open_over_bore - 3.695) < 0.002
    assert [by_code[c].ok for c in ("approach_velocity", "open_over_bore", "opening", "cover")] == [
        True,
        False,
        True,
        True,
    ]
    assert found.rules.code == "open_over_bore"
    assert math.isclose(found.area_needed, 1e-3 / 0.061)


def test_days_to_clog_follow_from_one_look_at_the_screen() -> None:
    """A fifth blocked after 2 days; half may be lost: 5 days (proportion)."""
    rate = intake.clogging_rate(blocked_share=0.2, days=2.0, flow=1e-3, area=0.02)
    assert abs(intake.days_to_clog(rate=rate, flow=1e-3, area=0.02, area_needed=0.01) - 5.0) < 1e-9
    assert abs(intake.days_to_clog(rate=rate, flow=2e-3, area=0.02, area_needed=0.01) - 2.5) < 1e-9
    assert intake.days_to_clog(rate=rate, flow=1e-3, area=0.02, area_needed=0.03) == 0.0
    assert intake.days_to_clog(rate=0.0, flow=1e-3, area=0.02, area_needed=0.01) == math.inf


def test_the_ruling_number_is_the_one_that_uses_most_of_its_limit() -> None:
    rows = (
        Held("a", 1.0, 2.0, Side.AT_MOST),
        Held("b", 2.0, 1.8, Side.AT_LEAST),
        Held("c", 0.0, 1.0, Side.AT_LEAST),
    )
    assert [r.ok for r in rows] == [True, True, False]
    assert ruling(rows).code == "c"
    assert ruling(rows[:2]).code == "b"
    assert Held("d", -1.0, -2.0, Side.AT_LEAST).ok


@given(st.integers(-9, 9), st.integers(-9, 9), st.sampled_from(list(Side)))
def test_more_than_the_whole_limit_is_used_exactly_when_it_is_broken(
    number: int, limit: int, side: Side
) -> None:
    held = Held("x", float(number), float(limit), side)
    assert held.use >= 0.0
    assert held.ok == (held.use <= 1.0)
    assert (number <= limit if side is Side.AT_MOST else number >= limit) == held.ok


def test_impossible_tanks_and_screens_are_refused() -> None:
    with pytest.raises(InputError, match="hydraulics_not_positive"):
        dt.DriveTank(0.0, 0.05, 0.3, 0.1, DRUM.overflow)
    with pytest.raises(InputError, match="hydraulics_out_of_bounds"):
        intake.Screen(area=0.02, open_share=1.4, opening=0.004)
    with pytest.raises(InputError, match="hydraulics_not_positive"):
        Overflow(OverflowKind.NOTCH, 0.1, 0.0)
