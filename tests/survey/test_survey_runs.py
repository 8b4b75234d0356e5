"""Hand levels, Abney lines, hose, gauge and raised pipe."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import iapws
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey import (
    Abney,
    Allowance,
    AllowanceKind,
    GaugeReadings,
    HandLevel,
    HandSight,
    HoseLine,
    HoseSetup,
    LevelPoint,
    PressureGauge,
    RaisedPipe,
    SlopeSight,
    Stand,
    eye_steps,
    gauge_height,
    hand_level_run,
    hose_legs,
    mark,
    raised_pipe,
    slope_run,
)

FIGURES = tomllib.loads((Path(__file__).parents[1] / "reference" / "survey_figures.toml").read_text("utf-8"))
A, B = mark("a"), mark("b")
SHARE = Allowance(AllowanceKind.SHARE_OF_HEIGHT, 0.03)
LEVEL = HandLevel(reading_sd=0.01, slope_sd=0.001, eye_sd=0.02, tilt_sd=0.003)
ABNEY = Abney(angle_sd=0.003, index_sd=0.005, length_sd=0.02, tape_share_sd=0.002)
WATER = LevelPoint("drive tank", Stand.WATER_SURFACE)
SEAT = LevelPoint("ram", Stand.WASTE_VALVE_SEAT)


def test_eye_height_stepping() -> None:
    """Four steps of 1.60 m, last reading 0.35 m on a staff (step size = eye height: read; sum derived)."""
    table = FIGURES["eye_height"]
    steps = eye_steps(table["steps"], eye=table["eye_m"], distance=10.0, last_reading=table["last_reading_m"])
    run = hand_level_run("steps", A, B, out=steps, level=LEVEL, allowance=SHARE)
    assert abs(run.rise.value - table["rise_m"]) < 1e-9
    assert [finding.code for finding in run.findings] == ["run_one_way"]
    by_hand = math.sqrt(4 * (0.01**2 + 0.01**2) + (4 * 0.02) ** 2 + (40.0 * 0.003) ** 2)
    assert abs(run.rise.sd - by_hand) < 1e-12


@given(st.floats(-0.1, 0.1), st.floats(-0.02, 0.02), st.lists(st.floats(-1.5, 1.5), min_size=1, max_size=8))
@settings(deadline=None)
def test_a_wrong_eye_height_and_a_tilt_cancel_out_and_back(
    eye_error: float, tilt: float, rises: list[float]
) -> None:
    """The observer believes the eye at 1.6 m and the level true; the mean is right and the sum shows both."""

    def sights(each: list[float]) -> list[HandSight]:
        # The line of sight climbs by tilt x distance from a real eye at 1.6 + error.
        return [HandSight(1.6, (1.6 + eye_error) + tilt * 12.0 - rise, 12.0) for rise in each]

    run = hand_level_run(
        "run",
        A,
        B,
        out=sights(rises),
        back=sights([-rise for rise in reversed(rises)]),
        level=LEVEL,
        allowance=SHARE,
    )
    assert abs(run.rise.value - sum(rises)) < 1e-9
    assert run.disagreement is not None
    assert abs(run.disagreement + 2 * len(rises) * (eye_error + tilt * 12.0)) < 1e-9


def test_a_run_that_disagrees_names_the_tilt_it_would_take() -> None:
    out = [HandSight(1.6, 0.6, 20.0)] * 5
    back = [HandSight(1.6, 2.4, 20.0)] * 5  # 0.2 m a sight short of coming back
    run = hand_level_run("run", A, B, out=out, back=back, level=LEVEL, allowance=SHARE)
    assert run.within is False
    finding = run.findings[0]
    assert finding.code == "run_disagrees"
    assert abs(finding.number("implied_tilt_rad") - 1.0 / 200.0) < 1e-12
    assert abs(finding.number("allowed_m") - 0.03 * 4.5) < 1e-12


def test_an_abney_line_of_thirty_degrees() -> None:
    """dz = slope length x sin(angle): 40 m at 30 degrees is 20 m (definition)."""
    out = [SlopeSight(20.0, math.radians(30.0))] * 2
    run = slope_run("abney", A, B, out=out, abney=ABNEY, allowance=SHARE)
    assert abs(run.rise.value - 20.0) < 1e-9


@given(st.floats(-0.03, 0.03), st.lists(st.tuples(st.floats(5, 30), st.floats(-0.5, 0.5)), min_size=1))
@settings(deadline=None)
def test_an_index_error_cancels_out_and_back_to_second_order(
    index: float, slopes: list[tuple[float, float]]
) -> None:
    out = [SlopeSight(length, angle + index) for length, angle in slopes]
    back = [SlopeSight(length, -angle + index) for length, angle in reversed(slopes)]
    run = slope_run("abney", A, B, out=out, back=back, abney=ABNEY, allowance=SHARE)
    true = sum(length * math.sin(angle) for length, angle in slopes)
    assert abs(run.rise.value - true * math.cos(index)) < 1e-9
    assert run.disagreement is not None
    reach = sum(length * math.cos(angle) for length, angle in slopes)
    assert abs(run.disagreement - 2.0 * reach * math.sin(index)) < 1e-9


def test_a_long_tape_does_not_cancel() -> None:
    """The spread keeps the tape's share of the whole height both ways (worked by hand)."""
    sights = [SlopeSight(20.0, 0.3)] * 3
    back = [SlopeSight(20.0, -0.3)] * 3
    steady = Abney(angle_sd=1e-9, index_sd=0.05, length_sd=0.0, tape_share_sd=0.01)
    run = slope_run("abney", A, B, out=sights, back=back, abney=steady, allowance=SHARE)
    assert abs(run.rise.sd - 0.01 * 60.0 * math.sin(0.3)) < 1e-6


@pytest.mark.parametrize("angle", [2.0, -1.6, float("nan")])
def test_an_angle_beyond_upright_is_refused(angle: float) -> None:
    with pytest.raises(InputError):
        slope_run("abney", A, B, out=[SlopeSight(10.0, angle)], abney=ABNEY, allowance=SHARE)


def test_a_hose_carried_down_in_two_setups() -> None:
    """0.30 m at the top end, 1.55 m at the bottom: the bottom point lies 1.25 m lower; twice, 2.50 m."""
    middle = mark("m")
    line = HoseLine("hose", (HoseSetup(A, middle, 0.30, 1.55), HoseSetup(middle, B, 0.30, 1.55)), 0.003)
    legs, findings = hose_legs(line, significance=0.05)
    assert abs(sum(leg.height for leg in legs) + 2.50) < 1e-12
    assert abs(legs[0].sd - 0.003 * 2**0.5) < 1e-12
    assert findings == ()


def test_hose_setups_that_differ_are_called_out_whichever_end_was_first() -> None:
    line = HoseLine("hose", (HoseSetup(A, B, 0.30, 1.55), HoseSetup(B, A, 1.45, 0.30)), 0.003)
    _, findings = hose_legs(line, significance=0.05)
    assert [finding.code for finding in findings] == ["hose_setups_disagree"]
    agreeing = HoseLine("hose", (HoseSetup(A, B, 0.30, 1.55), HoseSetup(B, A, 1.55, 0.30)), 0.003)
    assert hose_legs(agreeing, significance=0.05)[1] == ()


GAUGE = PressureGauge(full_scale=100e3, class_percent=1.6, reading_sd=500.0)
DENSITY = Estimate(999.0, 1.0)


def _gauge(**changes: object) -> GaugeReadings:
    fields: dict[str, object] = {
        "label": "gauge",
        "point": SEAT,
        "water": WATER,
        "pressures": (60e3,),
        "gauge": GAUGE,
        "gauge_above_point": Estimate(0.12, 0.005),
        "zero": 0.0,
        "air_purged": True,
    }
    return GaugeReadings(**{**fields, **changes})  # type: ignore[arg-type]


def test_a_gauge_reading_becomes_a_height_over_the_seat() -> None:
    """p/(rho g) + the gauge's own height, water density from IAPWS-95 at 15 C."""
    water = iapws.IAPWS95(T=288.15, P=0.101325)
    result = gauge_height(_gauge(), density=Estimate(water.rho, 0.5), least_share=0.5, significance=0.05)
    assert abs(result.height.value - (60e3 / (water.rho * 9.80665) + 0.12)) < 1e-9


def test_the_class_error_is_sixteen_centimetres_and_rules_the_spread() -> None:
    """Class 1.6 on 0-100 kPa: +-1.6 kPa, 0.16 m (EN 837-1, memory); even chances make it 0.094 m."""
    table = FIGURES["gauge"]
    gauge = PressureGauge(table["full_scale_kPa"] * 1e3, table["class_percent"], 500.0)
    result = gauge_height(
        _gauge(gauge=gauge, pressures=(60e3,) * 9), density=DENSITY, least_share=0.5, significance=0.05
    )
    finding = next(f for f in result.findings if f.code == "gauge_class_rules")
    assert abs(finding.number("class_error_m") - table["class_error_m"]) < 0.005
    assert 0.0943 < result.height.sd < 0.12, "nine readings must not wear the class error away"


def test_water_temperature_is_small_against_the_gauge() -> None:
    """What the docstring says: 0.3 % of the head over 5 to 25 C, checked on IAPWS-95."""
    cold, warm = (iapws.IAPWS95(T=273.15 + t, P=0.101325).rho for t in (5.0, 25.0))
    assert abs((cold - warm) / cold - 0.003) < 0.0005


@pytest.mark.parametrize(
    ("code", "changes"),
    [
        ("gauge_low_in_range", {"pressures": (30e3,)}),
        ("gauge_beyond_scale", {"pressures": (120e3,)}),
        ("gauge_zero_unchecked", {"zero": None}),
        ("gauge_zero_off", {"zero": 3e3}),
        ("gauge_air_not_purged", {"air_purged": None}),
        ("gauge_air_not_purged", {"air_purged": False}),
    ],
)
def test_what_a_gauge_reading_must_tell(code: str, changes: dict[str, object]) -> None:
    def codes(**given: object) -> list[str]:
        result = gauge_height(_gauge(**given), density=DENSITY, least_share=0.5, significance=0.05)
        return [finding.code for finding in result.findings]

    assert code in codes(**changes)
    assert code not in codes()


def test_a_fine_gauge_does_not_have_its_class_called() -> None:
    fine = PressureGauge(full_scale=100e3, class_percent=0.1, reading_sd=500.0)
    result = gauge_height(_gauge(gauge=fine), density=DENSITY, least_share=0.5, significance=0.05)
    assert result.findings == ()


def test_a_zero_reading_is_taken_off() -> None:
    plain = gauge_height(_gauge(), density=DENSITY, least_share=0.5, significance=0.05)
    off = gauge_height(
        _gauge(zero=2e3, pressures=(62e3,)), density=DENSITY, least_share=0.5, significance=0.05
    )
    assert abs(plain.height.value - off.height.value) < 1e-12


def test_a_raised_pipe_stands_at_feed_level_plus_what_held_it_back() -> None:
    readings = RaisedPipe(
        "pipe", SEAT, WATER, stopped=(3.02, 3.00, 3.01), reading_sd=0.01, held_back=Estimate(0.02, 0.01)
    )
    result = raised_pipe(readings, significance=0.05)
    assert abs(result.height.value - 3.03) < 1e-12
    assert abs(result.height.sd - math.hypot(0.01 / math.sqrt(3.0), 0.01)) < 1e-12
    assert result.leg().height == result.height.value
    assert (result.leg().start, result.leg().end) == (SEAT.key, WATER.key)


def test_a_raised_pipe_with_stop_and_start_takes_the_middle_and_says_how_far_apart() -> None:
    readings = RaisedPipe("pipe", SEAT, WATER, stopped=(3.05,), started=(2.95,), reading_sd=0.01)
    result = raised_pipe(readings, significance=0.05)
    assert abs(result.height.value - 3.00) < 1e-12
    assert result.height.sd > 0.05
    codes = {finding.code for finding in result.findings}
    assert codes == {"raised_pipe_hysteresis", "raised_pipe_correction_unstated"}


def test_no_reading_is_refused() -> None:
    with pytest.raises(InputError):
        raised_pipe(RaisedPipe("pipe", SEAT, WATER, stopped=(), reading_sd=0.01), significance=0.05)
    with pytest.raises(InputError):
        gauge_height(_gauge(pressures=()), density=DENSITY, least_share=0.5, significance=0.05)


def test_spreads_of_out_and_back_runs_hold_on_simulated_truth() -> None:
    """4,000 simulated runs: the stated spread is the real one to 5 % (fixed seed)."""
    rng = np.random.default_rng(20)
    rises = np.array([1.0, 0.8, 1.2, 0.5])
    errors, said = [], 0.0
    for _ in range(4000):
        eye, tilt = rng.normal(0.0, LEVEL.eye_sd), rng.normal(0.0, LEVEL.tilt_sd)
        ways = []
        for way, distance in ((rises, 15.0), (-rises[::-1], 10.0)):
            noise = rng.normal(0.0, math.hypot(LEVEL.reading_sd, LEVEL.slope_sd * distance), way.size)
            ways.append(
                [
                    HandSight(1.6, 1.6 + eye + tilt * distance - rise + e, distance)
                    for rise, e in zip(way, noise, strict=True)
                ]
            )
        run = hand_level_run("r", A, B, out=ways[0], back=ways[1], level=LEVEL, allowance=SHARE)
        errors.append(run.rise.value - rises.sum())
        said = run.rise.sd
    assert abs(float(np.std(errors)) / said - 1.0) < 0.05
    assert abs(float(np.mean(errors))) < 4.0 * said / math.sqrt(4000.0)
