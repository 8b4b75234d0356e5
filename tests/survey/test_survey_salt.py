"""Salt dilution: a published worksheet, made waves, what must be said, and simulated truth."""

from __future__ import annotations

import csv
import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey import (
    Gauging,
    PlateauReadings,
    SaltCalibration,
    SaltRule,
    SlugReadings,
    area_over_background,
    constant_rate_flow,
    plateau_gauging,
    slug_flow,
    slug_gauging,
)

REFERENCE = Path(__file__).parents[1] / "reference"
FIGURES = tomllib.loads((REFERENCE / "survey_figures.toml").read_text("utf-8"))


def _codes(gauging: Gauging) -> set[str]:
    return {finding.code for finding in gauging.findings}


US_CM = 1e-4
SALT_RULE = SaltRule(
    most_edge_share=0.05,
    least_readings=10,
    least_peak=50.0,
    least_widths=15.0,
    most_constant_flow=0.1,
    most_constant_width=2.0,
    drift_limit=3.0,
)
# 0.486 mg cm / (uS L) is 4.86 kg/m3 per S/m.
FACTOR = FIGURES["salt"]["factor_mg_cm_per_uS_L"] * 1e-3 / US_CM
CALIBRATED = SaltCalibration(Estimate(FACTOR, 0.01 * FACTOR), True, "probe")


def _worksheet() -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
    lines = (REFERENCE / "survey_salt_slug_worksheet.csv").read_text("utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    times = np.array([float(row["time_min"]) * 60.0 for row in rows])
    return times, np.array([float(row["over_background_mg_L"]) * 1e-3 for row in rows])


def test_the_slug_of_a_published_worksheet() -> None:
    """Lancaster University (readings read, discharge derived): 900 g, area 20,130 mg s/L, 44.71 L/s."""
    times, over = _worksheet()
    area = area_over_background(times, over, 0.0, 0.0)
    assert abs(area - 20.130) < 1e-9
    assert abs(slug_flow(0.9, area) * 1000.0 - 44.7094) < 1e-3


def test_the_constant_rate_exercise() -> None:
    """1.8 L/s of 8,000 ppm into 58 ppm gives 250 ppm (read); 72.66 L/s (derived); salt balances."""
    table = FIGURES["constant_rate"]
    flow = constant_rate_flow(
        table["rate_L_s"] * 1e-3,
        solution=(table["solution_ppm"] - table["before_ppm"]) * 1e-3,
        plateau=(table["plateau_ppm"] - table["before_ppm"]) * 1e-3,
    )
    assert abs(flow * 1000.0 - table["flow_L_s"]) < 1e-3
    before = flow * table["before_ppm"] + 1.8e-3 * table["solution_ppm"]
    assert abs(before - (flow + 1.8e-3) * table["plateau_ppm"]) < 1e-9


def _wave(flow: float, *, factor: float, background: float = 0.01, drift: float = 0.0) -> SlugReadings:
    """A gamma-shaped wave of 2 kg in ``flow`` m3/s, read every 5 s for 20 minutes."""
    times = np.arange(0.0, 1200.0, 5.0)
    shape = (times / 60.0) ** 3 * np.exp(-times / 60.0)
    shape /= float(np.sum(np.diff(times) * (shape[:-1] + shape[1:]) / 2.0))
    values = background + drift * times / times[-1] + 2.0 / flow / factor * shape
    return SlugReadings(
        mass=Estimate(2.0, 0.005),
        times=tuple(times.tolist()),
        conductivities=tuple(values.tolist()),
        background=Estimate(background, 2e-5),
        background_after=Estimate(background + drift, 2e-5),
        reading_sd=5e-5,
        mixing_length=40.0,
        width=1.5,
    )


def test_a_made_wave_gives_its_flow_back() -> None:
    result = slug_gauging("salt", _wave(0.02, factor=FACTOR), calibration=CALIBRATED, rule=SALT_RULE)
    assert abs(result.estimate.value - 0.02) < 1e-9
    assert _codes(result) == set()


def test_a_drifting_background_is_taken_out_and_called() -> None:
    readings = _wave(0.02, factor=FACTOR, drift=5e-4)
    result = slug_gauging("salt", readings, calibration=CALIBRATED, rule=SALT_RULE)
    assert abs(result.estimate.value - 0.02) < 1e-9
    assert _codes(result) == {"salt_background_drift"}


def _changed(readings: SlugReadings, **changes: Any) -> SlugReadings:
    fields = {name: getattr(readings, name) for name in SlugReadings.__slots__}
    return SlugReadings(**{**fields, **changes})


@pytest.mark.parametrize(
    ("code", "start", "stop", "step", "changes"),
    [
        ("salt_tail_cut", 0, 60, 1, {}),
        ("salt_start_missed", 30, 240, 1, {}),
        ("salt_sampling_coarse", 0, 240, 24, {}),
        ("salt_peak_low", 0, 240, 1, {"reading_sd": 5e-3}),
        ("salt_mixing_short", 0, 240, 1, {"mixing_length": 10.0}),
    ],
)
def test_what_a_slug_must_tell(code: str, start: int, stop: int, step: int, changes: dict[str, Any]) -> None:
    whole = _wave(0.02, factor=FACTOR)
    part = _changed(
        whole,
        times=whole.times[start:stop:step],
        conductivities=whole.conductivities[start:stop:step],
        **changes,
    )
    result = slug_gauging("salt", part, calibration=CALIBRATED, rule=SALT_RULE)
    assert code in _codes(result)


def test_an_uncalibrated_probe_says_what_that_costs() -> None:
    """0.486 with +-2.8 % when not calibrated (Richardson et al. 2017, abstract read)."""
    share = FIGURES["salt"]["factor_share_percent"] / 100.0
    loose = SaltCalibration(Estimate(FACTOR, share * FACTOR), False, "probe")
    result = slug_gauging("salt", _wave(0.02, factor=FACTOR), calibration=loose, rule=SALT_RULE)
    assert _codes(result) == {"salt_not_calibrated"}
    assert abs(result.term("calibration") - share * result.estimate.value) < 1e-12


def test_a_background_out_by_its_spread_moves_the_flow_by_its_term() -> None:
    """A background read 0.02 mS/m high raises the flow by the term; two readings of it, root 2 less."""
    clean = _changed(_wave(0.02, factor=FACTOR), background_after=None)
    stated = slug_gauging("salt", clean, calibration=CALIBRATED, rule=SALT_RULE)
    high = _changed(clean, background=Estimate(clean.background.value + 2e-5, 2e-5))
    moved = slug_gauging("salt", high, calibration=CALIBRATED, rule=SALT_RULE)
    change = moved.estimate.value - stated.estimate.value
    assert abs(change / stated.term("background") - 1.0) < 0.01
    both = slug_gauging("salt", _wave(0.02, factor=FACTOR), calibration=CALIBRATED, rule=SALT_RULE)
    assert abs(both.term("background") * math.sqrt(2.0) - stated.term("background")) < 1e-12


def test_slugs_cover_the_truth_on_simulated_waves() -> None:
    """1,000 waves with noise, a wrong weight, factor and background (fixed seed)."""
    rng = np.random.default_rng(13)
    clean = _wave(0.02, factor=FACTOR)
    inside = 0
    for _ in range(1000):
        values = np.array(clean.conductivities) * (1.0 / (1.0 + rng.normal(0.0, 0.01)))
        base = float(values[0])
        readings = _changed(
            clean,
            conductivities=tuple((values + rng.normal(0.0, 5e-5, values.size)).tolist()),
            mass=Estimate(2.0 + rng.normal(0.0, 0.005), 0.005),
            background=Estimate(base + rng.normal(0.0, 2e-5), 2e-5),
            background_after=Estimate(base + rng.normal(0.0, 2e-5), 2e-5),
        )
        result = slug_gauging("salt", readings, calibration=CALIBRATED, rule=SALT_RULE)
        inside += abs(result.estimate.value - 0.02) <= 1.96 * result.estimate.sd
    assert 0.92 < inside / 1000 < 0.98


def test_a_slug_that_cannot_be_one_is_refused() -> None:
    whole = _wave(0.02, factor=FACTOR)
    for wrong in (
        _changed(whole, times=whole.times[:-1]),
        _changed(whole, times=whole.times[::-1]),
        _changed(whole, times=whole.times[:2], conductivities=whole.conductivities[:2]),
        _changed(whole, background=Estimate(1.0, 1e-5), background_after=None),
    ):
        with pytest.raises(InputError):
            slug_gauging("salt", wrong, calibration=CALIBRATED, rule=SALT_RULE)


def _plateau(**changes: Any) -> PlateauReadings:
    salt = 0.05e-3 * 100.0 / (0.02 + 0.05e-3)  # kg/m3 in a creek of 20 L/s
    rise = salt / FACTOR
    fields: dict[str, Any] = {
        "rate": Estimate(0.05e-3, 0.0005e-3),
        "concentration": Estimate(100.0, 0.5),
        "times": tuple(float(t) for t in range(0, 300, 30)),
        "plateau": (0.01 + rise,) * 10,
        "background": Estimate(0.01, 2e-5),
        "reading_sd": 5e-5,
        "mixing_length": 40.0,
        "width": 1.5,
    }
    return PlateauReadings(**{**fields, **changes})


def test_a_plateau_gives_its_flow_back() -> None:
    result = plateau_gauging("salt", _plateau(), calibration=CALIBRATED, rule=SALT_RULE)
    assert abs(result.estimate.value - 0.02) < 1e-9
    assert _codes(result) == set()


def test_each_term_of_a_plateau_is_what_its_spread_does_to_the_flow() -> None:
    """A plateau a quarter of the solution: each input moved by its spread moves the flow by its term."""
    salt = 25.0
    readings = _plateau(
        concentration=Estimate(100.0, 0.05),
        plateau=(0.01 + salt / FACTOR,) * 10,
        background=Estimate(0.01, 1e-4),
        reading_sd=1e-9,
        width=None,
    )

    def flow(**changes: Any) -> float:
        fields = {name: getattr(readings, name) for name in PlateauReadings.__slots__}
        factor = changes.pop("factor", CALIBRATED.factor.value)
        calibration = SaltCalibration(Estimate(factor, 0.01 * FACTOR), True, "probe")
        changed = PlateauReadings(**{**fields, **changes})
        return plateau_gauging("s", changed, calibration=calibration, rule=SALT_RULE).estimate.value

    result = plateau_gauging("s", readings, calibration=CALIBRATED, rule=SALT_RULE)
    moved = {
        "rate of injection": flow(rate=Estimate(0.05e-3 + 0.0005e-3, 0.0)),
        "solution": flow(concentration=Estimate(100.05, 0.0)),
        "calibration": flow(factor=1.01 * FACTOR),
        "plateau and background": flow(background=Estimate(0.01 + 1e-4, 0.0)),
    }
    for name, changed in moved.items():
        change = abs(changed - result.estimate.value)
        assert abs(change / result.term(name) - 1.0) < 0.02, name


def test_a_plateau_still_climbing_a_wide_stream_and_a_large_flow_are_called() -> None:
    climbing = tuple(each + 2e-5 * i for i, each in enumerate(_plateau().plateau))
    assert "salt_plateau_drift" in _codes(
        plateau_gauging("s", _plateau(plateau=climbing), calibration=CALIBRATED, rule=SALT_RULE)
    )
    large = _plateau(rate=Estimate(0.5e-3, 0.005e-3), width=2.5)
    assert {"salt_flow_large", "salt_stream_wide"} <= _codes(
        plateau_gauging("s", large, calibration=CALIBRATED, rule=SALT_RULE)
    )
    with pytest.raises(InputError):
        plateau_gauging("s", _plateau(plateau=(0.009,) * 10), calibration=CALIBRATED, rule=SALT_RULE)
