"""Examples from the literature, appraised end to end: the page that tells of them does not lag."""

from __future__ import annotations

import math
from functools import cache

import pytest
from worked_examples import OWN, PAGE, page, reference

#: How far a figure may have moved before the page has to be made again, if more than one in its last digit.
_SHARE = 0.10


def figures(text: str) -> list[str]:
    """ramwright's own numbers, in order."""
    found: list[str] = OWN.findall(text)
    return found


def frame(text: str) -> str:
    """All else."""
    return OWN.sub("**#**", text)


@cache
def made() -> str:
    return page()


@pytest.mark.engine
def test_the_page_does_not_lag() -> None:
    """If it does: ``python tests/appraise/worked_examples.py``, and read what it says then."""
    kept = PAGE.read_text("utf-8")
    assert frame(kept) == frame(made())
    for before, now in zip(figures(kept), figures(made()), strict=True):
        last = 10.0 ** -len(before.partition(".")[2])
        assert abs(float(now) - float(before)) <= max(_SHARE * float(before), 1.01 * last), (before, now)


def cells(heading: str) -> list[list[float]]:
    """ramwright's numbers under a heading, row by row."""
    part = made().split(f"## {heading}", 1)[1].split("\n## ", 1)[0]
    return [[float(x) for x in OWN.findall(line)] for line in part.splitlines() if OWN.search(line)]


@pytest.mark.engine
def test_what_the_page_says_of_the_village_is_so() -> None:
    given = reference()["village"]
    (chance, litres), (sure, high) = cells("A village")
    assert chance < 5  # "most draws do not run"
    assert litres == 0.0
    assert sure >= 9
    assert 0.7 < high / given["derived_l_day_at_80"] < 0.9  # "about a fifth less"
    assert high < given["wanted_l_day"]


@pytest.mark.engine
def test_sipping_gives_back_more_than_drinking() -> None:
    for sips, sips_rankine, drinks, drinks_rankine in cells("Efficiency over lift"):
        assert sips > drinks
        assert sips_rankine <= sips
        assert drinks_rankine <= drinks


@pytest.mark.engine
def test_the_laboratory_s_figure_lies_between_both_efficiencies() -> None:
    percent = reference()["laboratory"]["efficiency_pct"]
    for _, daubuisson, rankine in cells("A ram of 51 mm"):
        assert rankine < percent < daubuisson


@pytest.mark.engine
def test_back_pressure_to_start_goes_with_the_fall() -> None:
    for _, _, times in cells("Back pressure to start"):
        assert 1.9 <= times <= 2.6


@pytest.mark.engine
def test_fewer_rams_for_the_same_flow_give_back_less() -> None:
    efficiencies = [row[1] for row in cells("A textbook exercise")]
    assert efficiencies == sorted(efficiencies)
    assert efficiencies[0] > reference()["exercise"]["daubuisson_pct"]


def test_the_sources_arithmetic_is_as_the_page_says() -> None:
    """By hand: the formula per day, the share of the spring, both efficiencies, the two shares, the loop."""
    given = reference()
    v, e, p, s = given["village"], given["exercise"], given["pocketbook"], given["start"]
    supply = v["spring_l_day"]
    assert abs(supply * v["fall_m"] * v["efficiency_works"] / v["lift_m"] - v["derived_l_day_at_23"]) < 20.0
    assert (
        abs(supply * v["fall_m"] * v["efficiency_works"] / v["table_lift_m"] - v["derived_l_day_at_80"]) < 5.0
    )
    assert 0.25 < v["wanted_l_day"] / v["derived_l_day_at_23"] < 0.30
    assert v["people"] * v["litres_a_head"] == v["wanted_l_day"]
    drive, delivery, fall, lift = (e[name] for name in ("drive_l_s", "delivery_l_s", "fall_m", "lift_m"))
    assert abs(100.0 * delivery * lift / (drive * fall) - e["daubuisson_pct"]) < 0.05
    assert abs(100.0 * delivery * (lift - fall) / ((drive - delivery) * fall) - e["rankine_pct"]) < 0.05
    for times, share in ((5.0, p["share_at_5"]), (10.0, p["share_at_10"])):
        assert abs(100.0 * times / share - p["derived_share_efficiency_pct"]) < 0.5
    for ratio, percent in zip(p["ratio"], p["efficiency_pct"], strict=True):
        assert abs(100.0 * 5.0 / 6.0 * (1.42 - 0.28 * math.sqrt(ratio)) - percent) < 1.0
    assert abs(s["head_ft"] / s["ft_per_psi"] - s["psi"]) < 0.05
    assert s["hill_ft"] + s["loop_ft"] == s["head_ft"]
