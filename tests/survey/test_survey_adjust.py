"""Adjusting several measurements of one fact: against scipy, published widening, and simulated truth."""

from __future__ import annotations

import itertools
import math
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey import (
    Judging,
    Measured,
    chi_square_tail,
    combine,
    repeat,
    widening,
)
from ramwright.survey.consistency import small_sample_factor

FIGURES = tomllib.loads((Path(__file__).parents[1] / "reference" / "survey_figures.toml").read_text("utf-8"))
JUDGING = Judging(significance=0.05, residual_limit=3.0)


def _measured(*pairs: tuple[float, float]) -> list[Measured]:
    return [Measured(f"m{i}", Estimate(value, sd)) for i, (value, sd) in enumerate(pairs)]


@pytest.mark.parametrize("degrees", [1, 2, 3, 4, 7, 10, 31, 100])
@pytest.mark.parametrize("value", [0.01, 0.5, 1.0, 3.84, 9.0, 40.0, 130.0])
def test_the_chi_square_tail_against_scipy(value: float, degrees: int) -> None:
    expected = float(stats.chi2.sf(value, degrees))
    assert abs(chi_square_tail(value, degrees) - expected) <= 1e-12 + 1e-9 * expected


def test_the_chi_square_tail_at_its_ends() -> None:
    assert chi_square_tail(0.0, 3) == 1.0
    assert chi_square_tail(5.0, 0) == 1.0
    assert chi_square_tail(1e6, 5) == 0.0


@pytest.mark.parametrize("i", range(2))
def test_small_sets_are_widened_as_published(i: int) -> None:
    """Bodnar & Elster 2014 (abstract read): 73 % more for n = 4, 13 % for n = 10."""
    table = FIGURES["small_sample"]
    factor = small_sample_factor(table["readings"][i] - 1)
    assert abs((factor - 1.0) * 100.0 - table["increase_percent"][i]) < 0.5


def test_two_of_like_spread_give_the_mean_and_root_two_less_spread() -> None:
    result = combine(_measured((3.00, 0.02), (3.02, 0.02)), judging=JUDGING, about="fall")
    assert abs(result.estimate.value - 3.01) < 1e-12
    assert abs(result.estimate.sd - 0.02 / math.sqrt(2.0)) < 1e-12
    assert result.agrees
    assert result.findings == ()
    assert abs(sum(row.share for row in result.rows) - 1.0) < 1e-12


def test_a_poor_method_that_disagrees_is_named_and_kept_in_the_table() -> None:
    """Three good levels at 3.0 m and a gauge 0.6 m off that claims 0.05 m."""
    measured = [
        Measured("level, first", Estimate(3.00, 0.01)),
        Measured("level, second", Estimate(3.01, 0.01)),
        Measured("hose", Estimate(3.00, 0.02)),
        Measured("gauge", Estimate(3.60, 0.05)),
    ]
    result = combine(measured, judging=JUDGING, about="fall")
    assert result.outlier == "gauge"
    assert result.without is not None
    assert abs(result.without.value - 3.0047) < 1e-3
    assert len(result.rows) == 4
    outlier = next(finding for finding in result.findings if finding.code == "outlier")
    assert outlier.names == ("gauge",)
    assert abs(outlier.number("residual") - (3.60 - result.estimate.value)) < 1e-12
    assert result.widened_by > 1.0


def test_of_two_that_disagree_neither_is_blamed() -> None:
    result = combine(_measured((3.0, 0.01), (3.2, 0.01)), judging=JUDGING, about="fall")
    assert not result.agrees
    assert result.outlier is None
    assert result.suspects == ("m0", "m1")
    assert {finding.code for finding in result.findings} == {"methods_disagree", "outlier_not_located"}
    # Wide enough that both lie within two spreads.
    assert abs(result.estimate.value - 3.0) < 2.0 * result.estimate.sd


def test_no_one_is_blamed_when_the_rest_disagree_without_him() -> None:
    """3.00 and 3.03 of 0.01 each: chi-square 4.5, 3 % likely with their one degree of freedom (by hand)."""
    result = combine(_measured((3.00, 0.01), (3.03, 0.01), (3.30, 0.01)), judging=JUDGING, about="fall")
    assert not result.agrees
    assert result.suspects == ()


def test_one_measurement_is_returned_as_it_is() -> None:
    result = combine([Measured("bucket", Estimate(0.002, 1e-5, "pail"))], judging=JUDGING, about="flow")
    assert result.estimate == Estimate(0.002, 1e-5, "pail")
    assert result.p_value == 1.0
    assert result.rows[0].share == 1.0


def test_a_shared_mistake_is_not_worn_away() -> None:
    """Four readings with 0.1 of their own and 0.3 in common: sd = sqrt(0.01/4 + 0.09) (derived)."""
    covariance = np.full((4, 4), 0.09) + np.eye(4) * 0.01
    measured = _measured(*[(1.0, 0.31622776601683794)] * 4)
    result = combine(measured, judging=JUDGING, about="flow", covariance=covariance)
    assert abs(result.estimate.sd - math.sqrt(0.01 / 4.0 + 0.09)) < 1e-12


@pytest.mark.parametrize(
    ("code", "measured", "covariance"),
    [
        ("survey_too_few", [], None),
        ("survey_spread_missing", _measured((1.0, 0.0), (2.0, 0.1)), None),
        ("survey_label_twice", [Measured("a", Estimate(1, 1)), Measured("a", Estimate(1, 1))], None),
        ("survey_covariance_wrong", _measured((1.0, 0.1), (2.0, 0.1)), np.eye(3)),
        (
            "survey_covariance_wrong",
            _measured((1.0, 0.1), (2.0, 0.1)),
            np.array([[1.0, 2.0], [2.0, 1.0]]),
        ),
    ],
)
def test_a_set_that_cannot_be_adjusted_is_refused(code: str, measured: Any, covariance: Any) -> None:
    with pytest.raises(InputError) as refused:
        combine(measured, judging=JUDGING, about="fall", covariance=covariance)
    assert refused.value.code == code


PAIRS = st.lists(st.tuples(st.floats(-5.0, 5.0), st.floats(0.01, 1.0)), min_size=1, max_size=8)


@given(PAIRS, st.randoms(use_true_random=False))
@settings(deadline=None)
def test_order_does_not_matter(pairs: list[tuple[float, float]], random: Any) -> None:
    measured = _measured(*pairs)
    shuffled = list(measured)
    random.shuffle(shuffled)
    one = combine(measured, judging=JUDGING, about="x")
    other = combine(shuffled, judging=JUDGING, about="x")
    assert abs(one.estimate.value - other.estimate.value) < 1e-9
    assert abs(one.estimate.sd - other.estimate.sd) < 1e-9
    assert sorted(one.suspects) == sorted(other.suspects)


@given(PAIRS)
@settings(deadline=None)
def test_least_squares_is_least(pairs: list[tuple[float, float]]) -> None:
    """No other value has a smaller weighted sum of squares; weighted residuals sum to nought."""
    result = combine(_measured(*pairs), judging=JUDGING, about="x")

    def squares(value: float) -> float:
        return sum(((v - value) / sd) ** 2 for v, sd in pairs)

    best = squares(result.estimate.value)
    assert abs(best - result.chi_square) <= 1e-6 * (1.0 + best)
    for step in (1e-3, -1e-3):
        assert squares(result.estimate.value + step) >= best
    pull = sum(row.residual / row.sd**2 for row in result.rows)
    assert abs(pull) <= 1e-9 * sum((1.0 + abs(row.residual)) / row.sd**2 for row in result.rows)


@given(PAIRS, st.floats(-0.5, 0.5), st.floats(0.01, 1.0))
@settings(deadline=None)
def test_another_agreeing_measurement_never_widens_a_set_that_agrees(
    pairs: list[tuple[float, float]], off: float, sd: float
) -> None:
    before = combine(_measured(*pairs), judging=JUDGING, about="x")
    assume(before.p_value >= JUDGING.significance)
    more = [*_measured(*pairs), Measured("more", Estimate(before.estimate.value + off * sd, sd))]
    after = combine(more, judging=JUDGING, about="x")
    assume(after.p_value >= JUDGING.significance)
    assert after.estimate.sd <= before.estimate.sd * (1.0 + 1e-12)


@given(PAIRS)
@settings(deadline=None)
def test_widening_never_narrows(pairs: list[tuple[float, float]]) -> None:
    result = combine(_measured(*pairs), judging=JUDGING, about="x")
    plain = 1.0 / math.sqrt(sum(1.0 / sd**2 for _, sd in pairs))
    assert result.estimate.sd >= plain * (1.0 - 1e-9)


def test_repeats_never_claim_more_than_the_instrument() -> None:
    same = repeat(np.array([5.0, 5.0, 5.0, 5.0]), expected=0.2, significance=0.05)
    assert abs(same.sd - 0.1) < 1e-12
    wide = repeat(np.array([4.0, 6.0, 5.0, 5.0]), expected=0.2, significance=0.05)
    assert wide.scattered
    assert wide.sd >= wide.scatter / 2.0
    assert abs(wide.mean - 5.0) < 1e-12


def test_the_stated_spread_covers_the_truth_when_the_methods_are_honest() -> None:
    """3,000 sets of 2 to 6: 95 % within 1.96 spreads, one in twenty called disagreeing (fixed seed)."""
    rng = np.random.default_rng(7)
    inside = flagged = 0
    trials = 3000
    for _ in range(trials):
        sds = rng.uniform(0.01, 0.2, rng.integers(2, 7))
        measured = _measured(*((float(rng.normal(3.0, sd)), float(sd)) for sd in sds))
        result = combine(measured, judging=JUDGING, about="fall")
        inside += abs(result.estimate.value - 3.0) <= 1.96 * result.estimate.sd
        flagged += result.p_value < JUDGING.significance
    assert abs(inside / trials - 0.95) < 0.015
    assert abs(flagged / trials - 0.05) < 0.013


@pytest.mark.parametrize("count", [2, 3, 5, 8])
def test_widening_saves_most_of_the_cover_when_spreads_are_three_times_too_small(count: int) -> None:
    """2,000 sets whose methods claim a third of their real spread (fixed seed)."""
    rng = np.random.default_rng(count)
    inside = plain = 0
    trials = 2000
    for _ in range(trials):
        measured = _measured(*((float(rng.normal(3.0, 0.15)), 0.05) for _ in range(count)))
        result = combine(measured, judging=JUDGING, about="fall")
        error = abs(result.estimate.value - 3.0)
        inside += error <= 1.96 * result.estimate.sd
        plain += error <= 1.96 * result.estimate.sd / result.widened_by
    assert abs(plain / trials - 0.487) < 0.04, "normal law: P(|z| < 1.96/3)"
    assert inside / trials > {2: 0.72, 3: 0.82, 5: 0.90, 8: 0.93}[count]


def test_a_planted_blunder_is_named_and_the_innocent_are_not() -> None:
    """1,500 sets of five, one of them ten spreads off (fixed seed)."""
    rng = np.random.default_rng(11)
    named = wrong = 0
    trials = 1500
    for _ in range(trials):
        values = rng.normal(3.0, 0.05, 5)
        values[3] += 0.5
        result = combine(_measured(*((float(v), 0.05) for v in values)), judging=JUDGING, about="fall")
        named += result.outlier == "m3"
        wrong += result.outlier not in {None, "m3"}
    assert named / trials > 0.9
    assert wrong == 0


def test_every_reading_stays_in_the_table_whatever_happens() -> None:
    for spread, off in itertools.product((0.01, 0.1), (0.0, 1.0, 50.0)):
        result = combine(
            _measured((1.0, spread), (1.0 + off, spread), (1.0, spread)), judging=JUDGING, about="x"
        )
        assert [row.label for row in result.rows] == ["m0", "m1", "m2"]
        assert abs(sum(row.share * row.value for row in result.rows) - result.estimate.value) < 1e-9


def test_widening_is_one_below_the_limit_and_the_birge_ratio_above() -> None:
    """9 degrees: ratio sqrt(36/9) = 2, small-sample factor sqrt(9/7) (derived)."""
    assert widening(9.0, 9, 0.05) == 1.0
    assert abs(widening(36.0, 9, 0.05) - 2.0 * math.sqrt(9.0 / 7.0)) < 1e-12
