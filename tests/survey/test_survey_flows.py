"""Buckets, floats and the four flows: worked examples, what must be said, and simulated truth."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey import (
    Bucket,
    BucketRule,
    CreekFlow,
    CrossSection,
    DeliveryFlow,
    DriveFlow,
    Fill,
    FloatCoefficient,
    FloatRule,
    FloatSpread,
    Gauging,
    Judging,
    SupplyFlow,
    bed_unstated,
    bucket_flow,
    combine_gaugings,
    float_flow,
    flow_balance,
    mean_area,
    section_area,
    shared_covariance,
)

REFERENCE = Path(__file__).parents[1] / "reference"
FIGURES = tomllib.loads((REFERENCE / "survey_figures.toml").read_text("utf-8"))
JUDGING = Judging(significance=0.05, residual_limit=3.0)
PAIL = Bucket("pail", volume_share_sd=0.01, fill_sd=1e-4, reaction_sd=0.2)
PAIL_RULE = BucketRule(least_fills=3, least_time=5.0, significance=0.05)


def _codes(gauging: Gauging) -> set[str]:
    return {finding.code for finding in gauging.findings}


def test_a_bucket_is_its_volume_over_the_mean_time() -> None:
    """12 L in 8, 8.2, 7.8 s: 12/8 = 1.5 L/s (definition; FAO takes the mean of the times)."""
    result = bucket_flow("a", [Fill(0.012, t) for t in (8.0, 8.2, 7.8)], bucket=PAIL, rule=PAIL_RULE)
    assert abs(result.estimate.value - 0.0015) < 1e-12
    assert _codes(result) == set()


def test_few_and_short_fills_and_scatter_are_called() -> None:
    few = bucket_flow("a", [Fill(0.012, 8.0)] * 2, bucket=PAIL, rule=PAIL_RULE)
    short = bucket_flow("a", [Fill(0.012, 4.9)] * 3, bucket=PAIL, rule=PAIL_RULE)
    wild = bucket_flow("a", [Fill(0.012, t) for t in (6.0, 8.0, 10.0)], bucket=PAIL, rule=PAIL_RULE)
    assert _codes(few) == {"bucket_few_fills"}
    assert _codes(short) == {"bucket_short_fill"}
    assert _codes(wild) == {"bucket_fills_scatter"}
    assert wild.term("timing") > 4.0 * few.term("timing")


def test_what_missed_the_bucket_is_added_back_with_its_spread() -> None:
    fills = [Fill(0.012, 8.0)] * 4
    whole = bucket_flow("a", fills, bucket=PAIL, rule=PAIL_RULE)
    part = bucket_flow("a", fills, bucket=PAIL, rule=PAIL_RULE, caught=Estimate(0.8, 0.05))
    assert abs(part.estimate.value - whole.estimate.value / 0.8) < 1e-12
    assert "bucket_catch_incomplete" in _codes(part)
    assert abs(part.term("share caught") - part.estimate.value * 0.05 / 0.8) < 1e-12


@pytest.mark.parametrize("fills", [[], [Fill(0.012, 0.0)], [Fill(-0.012, 8.0)], [Fill(0.012, math.nan)]])
def test_an_impossible_fill_is_refused(fills: list[Fill]) -> None:
    with pytest.raises(InputError):
        bucket_flow("a", fills, bucket=PAIL, rule=PAIL_RULE)


def test_buckets_cover_the_truth_on_simulated_fills() -> None:
    """2,000 simulated visits of 3 to 8 fills, 1.5 L/s: 95 % within 1.96 spreads (fixed seed)."""
    rng = np.random.default_rng(5)
    inside = 0
    for _ in range(2000):
        volume = 0.012 * (1.0 + rng.normal(0.0, 0.01))
        count = int(rng.integers(3, 9))
        times = (volume + rng.normal(0.0, 1e-4, count)) / 0.0015 + rng.normal(0.0, 0.2, count)
        result = bucket_flow("a", [Fill(0.012, float(t)) for t in times], bucket=PAIL, rule=PAIL_RULE)
        inside += abs(result.estimate.value - 0.0015) <= 1.96 * result.estimate.sd
    assert 0.94 < inside / 2000 < 0.985


def test_two_people_with_one_bucket_do_not_halve_its_mistake() -> None:
    one = bucket_flow("first", [Fill(0.012, 8.0)] * 9, bucket=PAIL, rule=PAIL_RULE)
    two = bucket_flow("second", [Fill(0.012, 8.0)] * 9, bucket=PAIL, rule=PAIL_RULE)
    other = Bucket("churn", volume_share_sd=0.01, fill_sd=1e-4, reaction_sd=0.2)
    apart = bucket_flow("second", [Fill(0.012, 8.0)] * 9, bucket=other, rule=PAIL_RULE)
    same = combine_gaugings([one, two], judging=JUDGING, about="creek").estimate.sd
    different = combine_gaugings([one, apart], judging=JUDGING, about="creek").estimate.sd
    assert abs(shared_covariance([one, two])[0, 1] - one.term("bucket volume") ** 2) < 1e-18
    assert abs(different - one.estimate.sd / math.sqrt(2.0)) < 1e-9
    assert same > one.term("bucket volume")


SPREAD = FloatSpread(
    offset_sd=0.02,
    depth_sd=0.01,
    length_share_sd=0.005,
    reaction_sd=0.3,
    run_share_sd=0.08,
    section_share_sd=0.1,
)
FLOAT_RULE = FloatRule(
    least_runs=5,
    least_time=20.0,
    least_sections=3,
    least_depths=4,
    significance=0.05,
    coefficient_share=0.5,
)
BED = FloatCoefficient("shallow, rough", Estimate(0.6, 0.1))
SECTION = CrossSection((0.0, 0.5, 1.0, 1.5), (0.0, 0.3, 0.2, 0.0))


def _float(**changes: Any) -> Gauging:
    fields: dict[str, Any] = {
        "length": 10.0,
        "times": FIGURES["float_example"]["times_s"],
        "sections": [SECTION] * 3,
        "coefficient": BED,
        "spread": SPREAD,
        "rule": FLOAT_RULE,
    }
    return float_flow("float", **{**fields, **changes})


def test_the_mean_of_five_published_runs() -> None:
    """FAO, runs of 50, 47, 51, 48 and 54 s (read): 50.0 s, so 0.2 m/s over 10 m, k 0.6, 0.25 m2: 30 L/s."""
    assert (
        abs(float(np.mean(FIGURES["float_example"]["times_s"])) - FIGURES["float_example"]["mean_s"]) < 1e-9
    )
    assert abs(_float().estimate.value - 0.6 * 0.25 * 10.0 / 50.0) < 1e-12


def test_a_section_by_trapezoids() -> None:
    """0.5 x (0 + 0.3)/2 + 0.5 x (0.3 + 0.2)/2 + 0.5 x (0.2 + 0)/2 = 0.25 m2 (worked by hand)."""
    assert abs(section_area(SECTION, SPREAD).value - 0.25) < 1e-12


def test_the_spread_of_an_area_is_that_of_simulated_readings() -> None:
    """5,000 sections read with the stated errors, fixed seed: to 4 %."""
    rng = np.random.default_rng(9)
    areas = []
    for _ in range(5000):
        x = np.array(SECTION.offsets) + rng.normal(0.0, 0.02, 4)
        d = np.array(SECTION.depths) + rng.normal(0.0, 0.01, 4)
        areas.append(float(np.sum(np.diff(x) * (d[:-1] + d[1:]) / 2.0)))
    assert abs(float(np.std(areas)) / section_area(SECTION, SPREAD).sd - 1.0) < 0.04


def test_three_sections_read_the_depths_root_three_closer() -> None:
    one = _float(sections=[SECTION])
    three = _float()
    area = section_area(SECTION, SPREAD)
    assert abs(one.term("depths") - one.estimate.value * area.sd / area.value) < 1e-12
    assert abs(three.term("depths") - one.term("depths") / math.sqrt(3.0)) < 1e-12


def test_the_mean_area_along_a_reach_weighs_sections_by_where_they_are() -> None:
    """Areas 1 and 3 at the ends, 3 again in the middle of 10 m: (2 x 5 + 3 x 5)/10 = 2.5 m2 (by hand)."""
    sections = [
        CrossSection((0.0, 1.0), (1.0, 1.0), along=0.0),
        CrossSection((0.0, 3.0), (1.0, 1.0), along=10.0),
        CrossSection((0.0, 3.0), (1.0, 1.0), along=5.0),
    ]
    assert abs(mean_area(sections, np.array([1.0, 3.0, 3.0]), 10.0) - 2.5) < 1e-12
    assert abs(mean_area(sections[:1], np.array([1.0]), 10.0) - 1.0) < 1e-12
    with pytest.raises(InputError):
        mean_area(sections, np.array([1.0, 3.0, 3.0]), 9.0)


def test_mean_area_is_exact_for_a_float_carried_by_the_mean_velocity() -> None:
    """Time over the reach = integral of k A / Q: a creek narrowing from 0.4 to 0.2 m2 over 10 m (by hand)."""
    flow, k = 0.03, 0.6
    time = k * (0.4 + 0.2) / 2.0 * 10.0 / flow
    sections = [
        CrossSection((0.0, 1.0), (0.4, 0.4), along=0.0),
        CrossSection((0.0, 1.0), (0.2, 0.2), along=10.0),
    ]
    result = _float(times=[time] * 5, sections=sections)
    assert abs(result.estimate.value - flow) < 1e-12


@pytest.mark.parametrize(
    ("code", "changes"),
    [
        ("float_few_runs", {"times": [50.0, 51.0]}),
        ("float_short_run", {"times": [10.0, 10.5, 9.8, 10.2, 10.1]}),
        ("float_few_sections", {"sections": [SECTION]}),
        ("float_few_depths", {"sections": [SECTION, SECTION, CrossSection((0.0, 1.0), (0.2, 0.3))]}),
        ("float_runs_scatter", {"times": [30.0, 50.0, 70.0, 50.0, 40.0]}),
        ("float_bed_unstated", {"coefficient": bed_unstated(0.25, 0.85)}),
    ],
)
def test_what_a_float_must_tell(code: str, changes: dict[str, Any]) -> None:
    assert code in _codes(_float(**changes))
    assert code not in _codes(_float())


def test_the_coefficient_usually_rules_and_says_so() -> None:
    result = _float()
    assert "float_coefficient_rules" in _codes(result)
    assert result.term("coefficient") == max(term.sd for term in result.terms)


def test_an_unstated_bed_takes_the_middle_and_the_width() -> None:
    """0.25 to 0.85: 0.55 and 0.6 / sqrt 12 (even chances, by hand)."""
    bed = bed_unstated(0.25, 0.85)
    assert abs(bed.value.value - 0.55) < 1e-12
    assert abs(bed.value.sd - 0.6 / math.sqrt(12.0)) < 1e-12
    assert not bed.stated
    with pytest.raises(InputError):
        bed_unstated(0.85, 0.25)


@pytest.mark.parametrize(
    "section",
    [
        CrossSection((0.0,), (0.1,)),
        CrossSection((0.0, 1.0), (0.1,)),
        CrossSection((1.0, 0.0), (0.1, 0.1)),
        CrossSection((0.0, 1.0), (-0.1, 0.1)),
        CrossSection((0.0, 1.0), (0.0, 0.0)),
    ],
)
def test_a_section_that_cannot_be_one_is_refused(section: CrossSection) -> None:
    with pytest.raises(InputError):
        section_area(section, SPREAD)


FLOWS = st.floats(1e-4, 1e-2)


@given(FLOWS, FLOWS, FLOWS, FLOWS)
@settings(deadline=None)
def test_water_balances_and_the_reach_that_pays_is_above_the_drive_tank(
    creek: float, supply: float, drive: float, delivery: float
) -> None:
    result = flow_balance(
        CreekFlow(Estimate(creek, 0.0)),
        SupplyFlow(Estimate(supply, 0.0)),
        DriveFlow(Estimate(drive, 0.0)),
        DeliveryFlow(Estimate(delivery, 0.0)),
        required_residual=0.0,
        sure_by=1.0,
    )
    upper = result.intake_to_tank.estimate.value
    assert abs(upper + result.overflow.value - result.tank_to_ram.estimate.value) < 1e-15
    lower = result.tank_to_ram.estimate.value + result.waste.value
    assert abs(lower - result.below_ram.estimate.value) < 1e-15
    codes = {finding.code for finding in result.findings}
    assert ("supply_exceeds_creek" in codes) == (supply > creek)
    assert ("drive_exceeds_supply" in codes) == (drive > supply)
    assert ("delivery_exceeds_drive" in codes) == (delivery > drive)


def test_a_residual_flow_that_falls_short_or_may_do() -> None:
    def codes(required: float) -> set[str]:
        result = flow_balance(
            CreekFlow(Estimate(0.003, 0.0002)),
            SupplyFlow(Estimate(0.002, 0.0)),
            DriveFlow(Estimate(0.0018, 0.0)),
            DeliveryFlow(Estimate(0.0002, 0.0)),
            required_residual=required,
            sure_by=1.0,
        )
        return {finding.code for finding in result.findings}

    assert codes(0.0005) == set()
    assert codes(0.0009) == {"residual_unsure"}
    assert codes(0.0015) == {"residual_short"}
