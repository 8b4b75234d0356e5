"""The walk: pairs ranked by fall per length, and only truly beaten pairs dropped."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey import Access, IntakeSpot, RamSpot, TankSpot, WalkRule, WalkSheet, walk_sheet

RULE = WalkRule(least_fall=0.5, poorest_access=Access.TRACK, margin=1.0)


def _level(value: float, sd: float = 0.3) -> Estimate:
    return Estimate(value, sd)


def _sheet(**changes: Any) -> WalkSheet:
    fields: dict[str, Any] = {
        "intakes": [
            IntakeSpot("pool", _level(10.0), along=0.0, access=Access.TRACK),
            IntakeSpot("bend", _level(9.0), along=40.0, access=Access.TRACK),
        ],
        "rams": [
            RamSpot("flat", _level(5.0), along=100.0, flood_mark=4.0, access=Access.TRACK),
            RamSpot("bank", _level(7.0), along=60.0, flood_mark=7.5, access=Access.ON_FOOT),
        ],
        "tanks": [TankSpot("barn", _level(25.0)), TankSpot("meadow", _level(8.0))],
    }
    rule = changes.pop("rule", RULE)
    lengths = changes.pop("lengths", None)
    given_spots = {**fields, **changes}
    return walk_sheet(
        given_spots["intakes"], given_spots["rams"], given_spots["tanks"], lengths=lengths, rule=rule
    )


def test_pairs_are_ranked_by_fall_per_length() -> None:
    """bend - bank 2/20, bend - flat 4/60, pool - flat 5/100, pool - bank 3/60 m a metre (by hand)."""
    sheet = _sheet()
    ratios = [(pair.label, round(pair.per_length, 6)) for pair in sheet.ranked]
    assert ratios[0] == ("bend - bank", 0.1)
    assert [ratio for _, ratio in ratios] == sorted((r for _, r in ratios), reverse=True)
    assert abs(dict(ratios)["pool - flat"] - 0.05) < 1e-9
    assert dict(sheet.ranked[0].lifts)["barn"].value == 18.0


def test_a_beaten_pair_is_dropped_with_its_reason() -> None:
    """pool - bank has 3 m in 60 m; bend - flat has 4 m in 60 m, better ground and no flood."""
    sheet = _sheet()
    dropped = {each.pair.label: each for each in sheet.dropped}
    assert set(dropped) == {"pool - bank"}
    assert dropped["pool - bank"].beaten_by == "bend - flat"
    assert set(dropped["pool - bank"].better_in) == {"fall", "flood_margin", "access"}


def test_findings_name_flood_access_gravity_and_ties() -> None:
    sheet = _sheet()
    bank = next(pair for pair in sheet.ranked if pair.ram == "bank")
    codes = {finding.code: finding for finding in bank.findings}
    assert set(codes) == {"ram_below_flood", "access_poor"}
    assert abs(codes["ram_below_flood"].number("below_m") - 0.5) < 1e-12
    gravity = [finding for finding in sheet.findings if finding.code == "gravity_would_serve"]
    assert {(f.about, f.names[0]) for f in gravity} == {("meadow", "pool"), ("meadow", "bend")}


def test_the_unknown_is_named_and_beats_nothing() -> None:
    rams = [
        RamSpot("known", _level(5.0), along=100.0, flood_mark=4.0, access=Access.ROAD),
        RamSpot("unknown", _level(4.0), along=90.0),
    ]
    sheet = _sheet(rams=rams)
    assert sheet.dropped == ()
    unknown = next(pair for pair in sheet.ranked if pair.ram == "unknown")
    assert {finding.code for finding in unknown.findings} == {"flood_mark_unknown", "access_unknown"}


def test_more_fall_on_worse_ground_beats_nothing() -> None:
    rams = [
        RamSpot("easy", _level(6.0), along=100.0, flood_mark=4.0, access=Access.ROAD),
        RamSpot("steep", _level(3.0), along=90.0, flood_mark=1.0, access=Access.CLIMB),
    ]
    assert _sheet(rams=rams).dropped == ()
    alike = [rams[0], RamSpot("steep", _level(3.0), along=90.0, flood_mark=0.5, access=Access.ROAD)]
    beaten = {each.pair.ram for each in _sheet(rams=alike, intakes=_sheet_pool()).dropped}
    assert beaten == {"easy"}


def _sheet_pool() -> list[IntakeSpot]:
    return [IntakeSpot("pool", _level(10.0), along=0.0, access=Access.ROAD)]


def test_a_difference_within_the_rough_levels_drops_nothing_and_is_called_a_tie() -> None:
    rams = [RamSpot("a", _level(5.0, 0.5), along=100.0), RamSpot("b", _level(5.1, 0.5), along=100.0)]
    sheet = _sheet(rams=rams, intakes=[IntakeSpot("pool", _level(10.0), along=0.0)])
    assert sheet.dropped == ()
    assert "near_tie" in {finding.code for finding in sheet.findings}


def test_no_fall_is_named_and_left_out() -> None:
    sheet = _sheet(rams=[RamSpot("up", _level(9.8), along=100.0)])
    assert sheet.ranked == ()
    assert [f.about for f in sheet.findings if f.code == "no_fall"] == ["pool - up", "bend - up"]


def test_a_paced_length_goes_before_the_distance_along_the_creek() -> None:
    sheet = _sheet(lengths={("bend", "bank"): 200.0})
    pairs = {pair.label: pair for pair in (*sheet.ranked, *(each.pair for each in sheet.dropped))}
    assert pairs["bend - bank"].length == 200.0
    assert pairs["bend - flat"].length == 60.0


def test_a_missing_length_or_a_name_used_twice_is_refused() -> None:
    with pytest.raises(InputError) as refused:
        _sheet(rams=[RamSpot("flat", _level(5.0))])
    assert refused.value.code == "survey_length_missing"
    with pytest.raises(InputError) as refused:
        _sheet(tanks=[TankSpot("pool", _level(25.0))])
    assert refused.value.code == "survey_label_twice"


SPOT = st.tuples(
    st.floats(0.0, 10.0),
    st.floats(0.0, 100.0),
    st.one_of(st.none(), st.floats(0.0, 8.0)),
    st.one_of(st.none(), st.sampled_from(list(Access))),
)


@given(st.lists(SPOT, min_size=1, max_size=7), st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_best_stays_and_order_does_not_matter(spots: list[Any], random: Any) -> None:
    rams = [
        RamSpot(f"r{i}", _level(level), along=101.0 + along, flood_mark=flood, access=access)
        for i, (level, along, flood, access) in enumerate(spots)
    ]
    intakes = [IntakeSpot("pool", _level(12.0), along=0.0, access=Access.ROAD)]
    sheet = _sheet(rams=rams, intakes=intakes)
    shuffled = list(rams)
    random.shuffle(shuffled)
    other = _sheet(rams=shuffled, intakes=intakes)
    assert sheet.ranked == other.ranked
    kept = {pair.label for pair in sheet.ranked}
    assert kept
    assert all(each.beaten_by in kept for each in sheet.dropped)
    # The greatest fall is never dropped for less: whoever beats it has as much.
    best = max((*sheet.ranked, *(each.pair for each in sheet.dropped)), key=lambda pair: pair.fall.value)
    assert any(pair.fall.value >= best.fall.value for pair in sheet.ranked)
