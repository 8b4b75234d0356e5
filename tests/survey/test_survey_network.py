"""The level network against published adjustments, and what holds whatever the readings."""

from __future__ import annotations

import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.survey import HeightDifference, HeightNet, Judging, adjust_heights
from ramwright.survey.level_graph import blocks_of, bridges_between, reached_from

NETWORKS: dict[str, Any] = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "survey_level_networks.toml").read_text("utf-8")
)
JUDGING = Judging(significance=0.05, residual_limit=3.0)


def test_the_published_level_net_of_six_legs() -> None:
    """Ghilani & Wolf 2006, example 12.1 (quoted), levels printed to 0.1 mm."""
    example = NETWORKS["ghilani_wolf"]
    net = adjust_heights(
        [HeightDifference(a, b, height, sd) for a, b, height, sd in example["legs"]],
        fixed=example["fixed"],
        judging=JUDGING,
    )
    for point, level in example["levels"].items():
        assert abs(net.level(point).value - level) <= 0.00006
    assert len(net.blocks) == 1
    assert net.blocks[0].degrees == example["degrees"]
    assert abs(net.blocks[0].chi_square - example["chi_square"]) < 1e-5
    assert net.blocks[0].agrees
    assert net.findings == ()


def test_a_loop_run_both_ways_against_another_programs_output() -> None:
    """Output of GNU Gama 1.5.09: levels to 0.01 mm, spreads to 0.1 mm, largest normalised residual."""
    example = NETWORKS["double_run_loop"]
    sd = example["leg_sd_mm"] / 1000.0
    legs = [HeightDifference(a, b, height, sd) for a, b, height in example["legs"]]
    net = adjust_heights(legs, fixed=example["fixed"], judging=JUDGING)
    for point, level in example["levels"].items():
        found = net.level(point)
        assert abs(found.value - level) <= 0.000006
        assert abs(found.sd * 1000.0 - example["sd_mm"][point]) <= 0.05
    squares = sum((leg.residual * 1000.0) ** 2 for leg in net.legs)
    assert abs(squares - example["sum_of_squares_mm2"]) < 1e-3
    assert net.blocks[0].degrees == example["degrees"]
    sizes = [abs(leg.normalised or 0.0) for leg in net.legs]
    assert sizes.index(max(sizes)) + 1 == example["largest_at_leg"]
    assert abs(max(sizes) - example["largest_normalised"]) <= 0.005


def test_a_second_run_of_one_leg_is_the_mean_of_both_with_root_two_of_the_spread() -> None:
    legs = [HeightDifference("a", "b", 1.00, 0.01), HeightDifference("a", "b", 1.02, 0.01)]
    net = adjust_heights(legs, fixed={"a": 0.0}, judging=JUDGING)
    assert abs(net.level("b").value - 1.01) < 1e-12
    assert abs(net.level("b").sd - 0.01 / 2**0.5) < 1e-12
    assert all(abs(leg.redundancy - 0.5) < 1e-12 for leg in net.legs)


def test_a_bad_line_to_the_tank_leaves_the_fall_as_sure_as_it_was() -> None:
    """Two loops that meet at the seat: only the one that does not close is widened."""
    fall = [HeightDifference("seat", "feed", 3.00, 0.01), HeightDifference("seat", "feed", 3.01, 0.01)]
    lift = [HeightDifference("seat", "tank", 20.0, 0.01), HeightDifference("seat", "tank", 20.5, 0.01)]
    alone = adjust_heights(fall, fixed={"seat": 0.0}, judging=JUDGING).level("feed")
    both = adjust_heights(fall + lift, fixed={"seat": 0.0}, judging=JUDGING)
    assert abs(both.level("feed").sd - alone.sd) < 1e-12
    assert both.level("tank").sd > 0.2
    assert {finding.code for finding in both.findings} == {"levels_disagree", "level_outlier_not_located"}


def test_a_blunder_among_three_runs_is_named_and_among_two_it_is_not() -> None:
    good = [HeightDifference("a", "b", 2.0, 0.01, f"run {i}") for i in range(2)]
    bad = HeightDifference("a", "b", 2.3, 0.01, "run 2")
    three = adjust_heights([*good, bad], fixed={"a": 0.0}, judging=JUDGING)
    assert [f.about for f in three.findings if f.code == "level_outlier"] == ["run 2"]
    two = adjust_heights([good[0], bad], fixed={"a": 0.0}, judging=JUDGING)
    codes = [finding.code for finding in two.findings]
    assert "level_outlier" not in codes
    assert two.findings[-1].names == ("run 0", "run 2")


def test_no_run_is_blamed_when_the_rest_disagree_without_it() -> None:
    """2.00 and 2.03 m of 10 mm each: chi-square 4.5, 3 % likely with one degree of freedom (by hand)."""
    legs = [HeightDifference("a", "b", height, 0.01, f"run {height}") for height in (2.00, 2.03, 2.30)]
    net = adjust_heights(legs, fixed={"a": 0.0}, judging=JUDGING)
    assert not net.blocks[0].agrees
    assert net.blocks[0].suspects == ()


def test_a_leg_that_nothing_checks_says_so() -> None:
    legs = [
        HeightDifference("a", "b", 1.0, 0.01, "loop"),
        HeightDifference("b", "a", -1.01, 0.01, "loop"),
        HeightDifference("b", "c", 2.0, 0.01, "spur"),
    ]
    net = adjust_heights(legs, fixed={"a": 0.0}, judging=JUDGING)
    assert net.legs[2].normalised is None
    assert net.legs[2].redundancy == 0.0
    edges = [(leg.start, leg.end) for leg in legs]
    blocks = [block.legs for block in net.blocks]
    assert bridges_between("a", "c", edges, blocks) == [2]
    assert bridges_between("a", "b", edges, blocks) == []


@pytest.mark.parametrize(
    ("code", "legs", "fixed"),
    [
        ("survey_too_few", [], {"a": 0.0}),
        ("survey_no_fixed_point", [HeightDifference("a", "b", 1.0, 0.1)], {}),
        ("survey_leg_to_itself", [HeightDifference("a", "a", 1.0, 0.1)], {"a": 0.0}),
        ("survey_not_positive", [HeightDifference("a", "b", 1.0, 0.0)], {"a": 0.0}),
        (
            "survey_points_apart",
            [HeightDifference("a", "b", 1.0, 0.1), HeightDifference("c", "d", 1.0, 0.1)],
            {"a": 0.0},
        ),
    ],
)
def test_a_network_that_cannot_be_one_is_refused(
    code: str, legs: list[HeightDifference], fixed: dict[str, float]
) -> None:
    with pytest.raises(InputError) as refused:
        adjust_heights(legs, fixed=fixed, judging=JUDGING)
    assert refused.value.code == code


def test_an_unknown_point_is_refused() -> None:
    net = adjust_heights([HeightDifference("a", "b", 1.0, 0.1)], fixed={"a": 0.0}, judging=JUDGING)
    with pytest.raises(InputError) as refused:
        net.level("z")
    assert refused.value.code == "survey_point_unknown"


POINTS = "abcdef"
LEGS = st.lists(
    st.tuples(
        st.sampled_from(POINTS), st.sampled_from(POINTS), st.floats(-5.0, 5.0), st.floats(0.002, 0.1)
    ).filter(lambda leg: leg[0] != leg[1]),
    max_size=12,
).map(
    lambda legs: (
        [HeightDifference(a, b, 1.0, 0.05) for a, b in pairwise(POINTS)]
        + [HeightDifference(*leg) for leg in legs]
    )
)


def _net(legs: list[HeightDifference], judging: Judging = JUDGING) -> HeightNet:
    return adjust_heights(legs, fixed={"a": 10.0}, judging=judging)


@given(LEGS, st.sets(st.sampled_from(POINTS), min_size=1, max_size=3))
@settings(deadline=None)
def test_elimination_along_the_graph_is_the_dense_solution(
    legs: list[HeightDifference], held: set[str]
) -> None:
    """Normal equations solved whole by numpy (general library): levels and all covariances."""
    fixed = {point: 10.0 + i for i, point in enumerate(sorted(held))}
    net = adjust_heights(legs, fixed=fixed, judging=Judging(significance=0.0, residual_limit=1e9))
    free = [point for point in net.points if point not in fixed]
    at = {point: i for i, point in enumerate(free)}
    design = np.zeros((len(legs), len(free)))
    right = np.array([leg.height for leg in legs])
    for i, leg in enumerate(legs):
        for point, sign in ((leg.end, 1.0), (leg.start, -1.0)):
            if point in fixed:
                right[i] -= sign * fixed[point]
            else:
                design[i, at[point]] += sign
    weights = np.diag([1.0 / leg.sd**2 for leg in legs])
    normal = design.T @ weights @ design
    levels = np.linalg.solve(normal, design.T @ weights @ right)
    covariance = np.linalg.inv(normal)
    rows = [net.index[point] for point in free]
    assert np.allclose(net.levels[rows], levels, rtol=0.0, atol=1e-9)
    assert np.allclose(net.covariance[np.ix_(rows, rows)], covariance, rtol=1e-8, atol=1e-12)


@given(LEGS, st.randoms(use_true_random=False))
@settings(deadline=None)
def test_order_of_readings_does_not_matter(legs: list[HeightDifference], random: Any) -> None:
    shuffled = list(legs)
    random.shuffle(shuffled)
    one, other = _net(legs), _net(shuffled)
    for point in POINTS:
        assert abs(one.level(point).value - other.level(point).value) < 1e-9
        assert abs(one.level(point).sd - other.level(point).sd) < 1e-9
    assert sorted(f.code for f in one.findings) == sorted(f.code for f in other.findings)


@given(LEGS)
@settings(deadline=None)
def test_turning_a_leg_round_does_not_matter(legs: list[HeightDifference]) -> None:
    turned = [HeightDifference(leg.end, leg.start, -leg.height, leg.sd, leg.label) for leg in legs]
    one, other = _net(legs), _net(turned)
    for point in POINTS:
        assert abs(one.level(point).value - other.level(point).value) < 1e-9


@given(LEGS)
@settings(deadline=None)
def test_adjusted_legs_close_exactly_and_residuals_balance(legs: list[HeightDifference]) -> None:
    """Normal equations: at every point that is not held the weighted residuals sum to nought."""
    net = _net(legs, Judging(significance=0.0, residual_limit=1e9))
    balance = dict.fromkeys(POINTS, 0.0)
    size = 0.0
    for row in net.legs:
        adjusted = row.leg.height - row.residual
        assert abs(net.difference(row.leg.start, row.leg.end).value - adjusted) < 1e-9
        pull = row.residual / row.leg.sd**2
        balance[row.leg.end] += pull
        balance[row.leg.start] -= pull
        size += abs(pull)
    for point in POINTS[1:]:
        assert abs(balance[point]) <= 1e-9 * (1.0 + size)


@given(LEGS, st.sampled_from(POINTS), st.sampled_from(POINTS), st.floats(0.002, 0.1))
@settings(deadline=None)
def test_one_more_reading_never_widens_a_set_that_agrees(
    legs: list[HeightDifference], start: str, end: str, sd: float
) -> None:
    if start == end:
        return
    free = Judging(significance=0.0, residual_limit=1e9)  # nothing is widened: the plain spreads
    before = _net(legs, free)
    agreeing = HeightDifference(start, end, before.difference(start, end).value, sd)
    after = _net([*legs, agreeing], free)
    for point in POINTS:
        assert abs(after.level(point).value - before.level(point).value) < 1e-9
        assert after.level(point).sd <= before.level(point).sd * (1.0 + 1e-9)


@given(LEGS)
@settings(deadline=None)
def test_redundancy_numbers_sum_to_the_degrees_of_freedom(legs: list[HeightDifference]) -> None:
    """Legs less unknown points, over all blocks; and each block's own count (graph theory)."""
    net = _net(legs)
    assert sum(block.degrees for block in net.blocks) == len(legs) - (len(POINTS) - 1)
    for block in net.blocks:
        points = {point for i in block.legs for point in legs[i][:2]}
        assert block.degrees == len(block.legs) - (len(points) - 1)


@given(LEGS)
@settings(deadline=None)
def test_blocks_are_what_deleting_a_leg_shows(legs: list[HeightDifference]) -> None:
    """A leg is a block by itself exactly when taking it away parts its ends."""
    edges = [(leg.start, leg.end) for leg in legs]
    blocks = blocks_of(edges, {"a"})
    assert sorted(i for block in blocks for i in block) == list(range(len(edges)))
    alone = {block[0] for block in blocks if len(block) == 1}
    for i, (a, b) in enumerate(edges):
        rest = edges[:i] + edges[i + 1 :]
        assert (b not in reached_from({a}, rest)) == (i in alone)


def test_a_long_line_does_not_exhaust_the_stack() -> None:
    legs = [HeightDifference(f"p{i}", f"p{i + 1}", 1.0, 0.01) for i in range(1200)]
    net = adjust_heights(legs, fixed={"p0": 0.0}, judging=JUDGING)
    assert abs(net.level("p1200").value - 1200.0) < 1e-6
    assert abs(net.level("p1200").sd - 0.01 * np.sqrt(1200.0)) < 1e-6
