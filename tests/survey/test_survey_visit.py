"""A whole visit: the facts, what is said of them, and that they cover the truth."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey import (
    Allowance,
    AllowanceKind,
    BookRow,
    Bucket,
    BucketRule,
    Facts,
    Feed,
    Fill,
    FlowPlace,
    FlowReading,
    GaugeReadings,
    HandLevel,
    HandSight,
    HoseLine,
    HoseSetup,
    IntakeDam,
    Judging,
    LevelBook,
    LevelPoint,
    OffsetRange,
    PressureGauge,
    RaisedPipe,
    Roles,
    SightSpread,
    Stand,
    TapedOffset,
    VisitReadings,
    VisitRule,
    bucket_flow,
    gauge_height,
    hand_level_run,
    mark,
    raised_pipe,
    reduce_visit,
)

FEED = LevelPoint("drive tank", Stand.WATER_SURFACE)
SEAT = LevelPoint("ram", Stand.WASTE_VALVE_SEAT)
GROUND = LevelPoint("ram", Stand.GROUND)
TOP = LevelPoint("tank", Stand.TANK_INLET_TOP)
ROLES = Roles(FEED, SEAT, TOP, Feed.DRIVE_TANK)
JUDGING = Judging(significance=0.05, residual_limit=3.0)
SHARE = Allowance(AllowanceKind.SHARE_OF_HEIGHT, 0.03)
RULE = VisitRule(
    judging=JUDGING,
    allowance=Allowance(AllowanceKind.PER_ROOT_SETUP, 0.005),
    booking_tolerance=0.0005,
    ranges=(
        OffsetRange(Stand.GROUND, Stand.WASTE_VALVE_SEAT, 0.10, 0.40),
        OffsetRange(Stand.UNSTATED, Stand.WASTE_VALVE_SEAT, -0.30, 0.40),
    ),
)
SIGHT = SightSpread(0.002)


def _book(label: str, stops: list[LevelPoint], levels: list[float], noise: Any = None) -> LevelBook:
    """A book along ``stops`` at true ``levels``, a set-up between each two; ``noise`` of each reading."""
    error = noise or (lambda: 0.0)
    rows = []
    sights = [max(pair) + 1.0 for pair in pairwise(levels)]
    for i, stop in enumerate(stops):
        ahead = None if i == 0 else sights[i - 1] - levels[i] + error()
        back = None if i == len(stops) - 1 else sights[i] - levels[i] + error()
        rows.append(BookRow(stop, backsight=back, foresight=ahead))
    return LevelBook(label, tuple(rows), SIGHT)


LOOP = [FEED, mark("peg"), SEAT, mark("stump"), TOP, mark("gate"), FEED]
LEVELS = [3.0, 1.0, 0.0, 9.0, 18.0, 10.0, 3.0]


def _visit(**changes: Any) -> Facts:
    rule = changes.pop("rule", RULE)
    fields: dict[str, Any] = {"roles": ROLES, "books": (_book("book", LOOP, LEVELS),)}
    return reduce_visit(VisitReadings(**{**fields, **changes}), rule=rule)


def _codes(facts: Facts) -> list[str]:
    return [finding.code for finding in facts.findings]


def _flow(label: str, litres: float, pail: str = "pail") -> FlowReading:
    bucket = Bucket(pail, volume_share_sd=0.01, fill_sd=1e-4, reaction_sd=0.2)
    fills = [Fill(litres * 8.0 / 1000.0, 8.0)] * 4
    return FlowReading(
        FlowPlace.CREEK, bucket_flow(label, fills, bucket=bucket, rule=BucketRule(3, 5.0, 0.05))
    )


def test_one_closed_book_gives_fall_and_lift() -> None:
    facts = _visit()
    assert facts.fall is not None
    assert facts.lift is not None
    assert abs(facts.fall.estimate.value - 3.0) < 1e-9
    assert abs(facts.lift.estimate.value - 18.0) < 1e-9
    assert facts.fall.estimate.origin == "book"
    assert _codes(facts) == ["misclosure_within"]
    assert facts.source_flow is None


def test_a_book_from_a_bench_mark_is_compared_with_its_bookers_levels() -> None:
    rows = tuple(
        BookRow(row.point, row.backsight, None, row.foresight, booked_level=level + 100.0)
        for row, level in zip(_book("book", LOOP, LEVELS).rows, LEVELS, strict=True)
    )
    facts = _visit(books=(LevelBook("book", rows, SIGHT),))
    assert "booked_level_differs" not in _codes(facts)


def test_the_seat_is_taken_from_the_ground_by_tape() -> None:
    """Ground 0.25 m under the seat: fall 3.25 - 0.25 = 3.0 m; and the tape is unchecked."""
    stops = [GROUND if stop == SEAT else stop for stop in LOOP]
    levels = [level - 0.25 if stop == GROUND else level for stop, level in zip(stops, LEVELS, strict=True)]
    tape = TapedOffset(GROUND, SEAT, Estimate(0.25, 0.005))
    facts = _visit(books=(_book("book", stops, levels),), offsets=(tape,))
    assert facts.fall is not None
    assert abs(facts.fall.estimate.value - 3.0) < 1e-9
    assert facts.fall.estimate.sd > 0.005
    assert facts.fall.unchecked == ("tape",)
    assert "datum_assumed" not in _codes(facts)


def test_an_untaped_seat_is_assumed_openly_with_the_size_of_the_possible_error() -> None:
    stops = [GROUND if stop == SEAT else stop for stop in LOOP]
    facts = _visit(books=(_book("book", stops, LEVELS),))
    finding = next(f for f in facts.findings if f.code == "datum_assumed")
    assert finding.about == "ram/ground"
    assert abs(finding.number("possible_error_m") - 0.15) < 1e-12
    assert facts.fall is not None
    assert abs(facts.fall.estimate.value - (3.0 - 0.25)) < 1e-9
    assert facts.fall.estimate.sd > 0.08, "0.3 m of even chances is 0.087 m"


def test_without_a_range_the_reading_is_not_reduced_and_that_is_said() -> None:
    stops = [GROUND if stop == SEAT else stop for stop in LOOP]
    rule = VisitRule(JUDGING, RULE.allowance, 0.0005, ())
    facts = _visit(books=(_book("book", stops, LEVELS),), rule=rule)
    assert facts.fall is None
    assert facts.lift is None
    codes = _codes(facts)
    assert codes.count("fact_missing") == 2
    assert "datum_not_reducible" in codes
    assert "points_apart" in codes


def test_a_stand_that_nobody_stated_costs_more_than_one_that_was() -> None:
    def fall(stand: Stand) -> Estimate:
        stops = [LevelPoint("ram", stand) if stop == SEAT else stop for stop in LOOP]
        facts = _visit(books=(_book("book", stops, LEVELS),))
        assert facts.fall is not None
        return facts.fall.estimate

    assert fall(Stand.UNSTATED).sd > 2.0 * fall(Stand.GROUND).sd


def test_a_seat_and_the_ground_read_from_one_setup_need_no_tape() -> None:
    rows = (
        BookRow(FEED, backsight=1.0),
        BookRow(GROUND, intermediate=4.25),
        BookRow(SEAT, intermediate=4.0),
        BookRow(FEED, foresight=1.0),
    )
    facts = _visit(books=(LevelBook("book", rows, SIGHT),))
    assert facts.fall is not None
    assert abs(facts.fall.estimate.value - 3.0) < 1e-9
    assert "datum_assumed" not in _codes(facts)
    assert _codes(facts).count("fact_missing") == 1, "the lift was not levelled"


def test_the_ground_levelled_on_to_the_seat_by_way_of_a_peg_needs_no_tape() -> None:
    stops = [FEED, GROUND, mark("stone"), SEAT, mark("gate"), FEED]
    facts = _visit(books=(_book("book", stops, [3.0, -0.2, 0.3, 0.0, 1.0, 3.0]),))
    assert "datum_assumed" not in _codes(facts)


def test_the_ground_reached_only_by_way_of_the_feed_is_not_tied_to_the_seat() -> None:
    """One stood on the seat, another on the ground: 0.25 m is assumed between, and their falls compared."""
    first = _book("first", [FEED, SEAT, FEED], [3.0, 0.0, 3.0])
    second = _book("second", [FEED, GROUND, FEED], [3.0, -0.25, 3.0])
    facts = _visit(books=(first, second))
    assert "datum_assumed" in _codes(facts)
    assert facts.fall is not None
    alone = dict(facts.fall.alone)
    assert abs(alone["second"].value - 3.0) < 1e-9
    assert alone["second"].sd > 10.0 * alone["first"].sd


def test_water_with_the_dam_out_is_not_water_with_the_dam_in() -> None:
    dam_in = LevelPoint("pool", Stand.WATER_SURFACE, IntakeDam.IN)
    dam_out = LevelPoint("pool", Stand.WATER_SURFACE, IntakeDam.OUT)
    roles = Roles(dam_in, SEAT, TOP, Feed.INTAKE)
    stops = [dam_out if stop == FEED else stop for stop in LOOP]
    book = _book("book", stops, LEVELS)
    unsaid = _visit(roles=roles, books=(book,))
    assert unsaid.fall is None
    assert "datum_not_reducible" in _codes(unsaid)
    raised = TapedOffset(dam_out, dam_in, Estimate(0.4, 0.01))
    facts = _visit(roles=roles, books=(book,), offsets=(raised,))
    assert facts.fall is not None
    assert abs(facts.fall.estimate.value - 3.4) < 1e-9
    assert "feed_is_not_drive_tank" in _codes(facts)
    ranged = OffsetRange(Stand.WATER_SURFACE, Stand.WATER_SURFACE, 0.2, 0.6, IntakeDam.OUT, IntakeDam.IN)
    rule = VisitRule(JUDGING, RULE.allowance, 0.0005, (ranged,))
    assumed = _visit(roles=roles, books=(book,), rule=rule)
    assert assumed.fall is not None
    assert abs(assumed.fall.estimate.value - 3.4) < 1e-9
    assert assumed.fall.estimate.sd > 0.1


def test_a_range_is_used_the_right_way_up_whichever_way_it_is_stated() -> None:
    upward = OffsetRange(Stand.GROUND, Stand.WASTE_VALVE_SEAT, 0.1, 0.4)
    downward = OffsetRange(Stand.WASTE_VALVE_SEAT, Stand.GROUND, -0.4, -0.1)
    stops = [GROUND if stop == SEAT else stop for stop in LOOP]
    falls = []
    for each in (upward, downward):
        rule = VisitRule(JUDGING, RULE.allowance, 0.0005, (each,))
        facts = _visit(books=(_book("book", stops, LEVELS),), rule=rule)
        assert facts.fall is not None
        falls.append(facts.fall.estimate.value)
    assert abs(falls[0] - falls[1]) < 1e-9


def _many_methods(gauge_pressure: float) -> Facts:
    steps = [HandSight(1.6, 2.6, 12.0)] * 3
    back = [HandSight(1.6, 0.6, 12.0)] * 3
    hand = hand_level_run(
        "hand level",
        FEED,
        SEAT,
        out=steps,
        back=back,
        level=HandLevel(0.01, 0.001, 0.02, 0.003),
        allowance=SHARE,
    )
    gauge = gauge_height(
        GaugeReadings(
            "gauge",
            SEAT,
            FEED,
            (gauge_pressure,),
            PressureGauge(60e3, 1.0, 200.0),
            Estimate(0.0, 0.002),
            zero=0.0,
            air_purged=True,
        ),
        density=Estimate(1000.0, 1.0),
        least_share=0.5,
        significance=0.05,
    )
    pipe = raised_pipe(
        RaisedPipe("pipe", SEAT, FEED, (2.99, 2.98), 0.01, held_back=Estimate(0.01, 0.01)),
        significance=0.05,
    )
    hose = HoseLine("hose", (HoseSetup(FEED, SEAT, 0.2, 3.2),), 0.004)
    return _visit(runs=(hand,), water_heights=(gauge, pipe), hoses=(hose,))


def test_every_way_of_levelling_meets_in_one_fall() -> None:
    facts = _many_methods(3.0 * 1000.0 * 9.80665)
    assert facts.fall is not None
    assert [label for label, _ in facts.fall.alone] == ["book", "hose", "hand level", "gauge", "pipe"]
    assert abs(facts.fall.estimate.value - 3.0) < 0.005
    assert facts.disagreements == ()
    assert "levels_disagree" not in _codes(facts)
    assert facts.fall.unchecked == ()
    book_alone = dict(facts.fall.alone)["book"]
    assert facts.fall.estimate.sd < book_alone.sd


def test_a_gauge_that_disagrees_with_the_rest_is_named_against_each_of_them() -> None:
    facts = _many_methods(3.6 * 1000.0 * 9.80665)
    outlier = next(f for f in facts.findings if f.code == "level_outlier")
    assert outlier.about == "gauge"
    others = {d.one if d.other == "gauge" else d.other for d in facts.disagreements}
    assert {"book", "hose", "hand level", "pipe"} == others
    assert all(abs(d.normalised) > 3.0 for d in facts.disagreements)


def test_flows_of_one_place_are_adjusted_and_places_kept_apart() -> None:
    supply = FlowReading(FlowPlace.SUPPLY, _flow("spout", 0.9).gauging)
    facts = _visit(flows=(_flow("first", 1.50), _flow("second", 1.51, "churn"), supply))
    flows = dict(facts.flows)
    assert set(flows) == {FlowPlace.CREEK, FlowPlace.SUPPLY}
    assert facts.source_flow is not None
    assert 1.50e-3 < facts.source_flow.value < 1.51e-3
    assert abs(flows[FlowPlace.SUPPLY].estimate.value - 0.9e-3) < 1e-12


def test_flows_that_disagree_are_named_both() -> None:
    facts = _visit(flows=(_flow("first", 1.50), _flow("second", 2.20, "churn")))
    assert [(d.one, d.other) for d in facts.disagreements] == [("first", "second")]
    assert "methods_disagree" in _codes(facts)


def test_flows_within_the_limit_are_not_called_disagreeing() -> None:
    """1.50 and 1.55 L/s of 1.7 % each: two spreads apart (by hand), limit three."""
    facts = _visit(flows=(_flow("first", 1.50), _flow("second", 1.57, "churn")))
    gap = 0.07e-3 / (2.0**0.5 * facts.flows[0][1].rows[0].sd)
    assert 1.0 < gap < 3.0
    assert facts.disagreements == ()


def test_sense_of_the_facts() -> None:
    low = [3.0, 1.0, 0.0, 1.0, 2.0, 1.0, 3.0]
    assert "lift_not_above_fall" in _codes(_visit(books=(_book("book", LOOP, low),)))
    up = [-1.0, 1.0, 0.0, 9.0, 18.0, 10.0, -1.0]
    assert "fall_not_positive" in _codes(_visit(books=(_book("book", LOOP, up),)))


def test_an_open_book_says_that_nothing_checks_it() -> None:
    facts = _visit(books=(_book("book", LOOP[:5], LEVELS[:5]),))
    codes = _codes(facts)
    assert "book_open" in codes
    assert codes.count("fact_unchecked") == 2


def test_two_runs_of_one_name_are_refused() -> None:
    with pytest.raises(InputError) as refused:
        _visit(books=(_book("book", LOOP, LEVELS), _book("book", LOOP, LEVELS)))
    assert refused.value.code == "survey_label_twice"


def test_offsets_between_two_places_or_without_a_spread_are_refused() -> None:
    for offset in (
        TapedOffset(GROUND, TOP, Estimate(0.25, 0.005)),
        TapedOffset(GROUND, SEAT, Estimate(0.25, 0.0)),
    ):
        with pytest.raises(InputError):
            _visit(offsets=(offset,))


def test_no_readings_give_no_facts() -> None:
    facts = reduce_visit(VisitReadings(ROLES), rule=RULE)
    assert facts.fall is None
    assert facts.net is None
    assert _codes(facts) == ["fact_missing", "fact_missing"]


def test_the_order_of_runs_does_not_matter() -> None:
    rng = np.random.default_rng(4)
    books = [_book(f"b{i}", LOOP, LEVELS, lambda: float(rng.normal(0.0, 0.002))) for i in range(3)]
    one, other = _visit(books=tuple(books)), _visit(books=tuple(reversed(books)))
    assert one.fall is not None
    assert other.fall is not None
    assert abs(one.fall.estimate.value - other.fall.estimate.value) < 1e-9
    assert sorted(_codes(one)) == sorted(_codes(other))


def test_facts_cover_the_truth_on_simulated_visits() -> None:
    """400 visits of two people's loops and a hose, 2 and 4 mm a reading (fixed seed)."""
    rng = np.random.default_rng(2)
    inside = {"fall": 0, "lift": 0}
    for _ in range(400):
        books = tuple(_book(f"b{i}", LOOP, LEVELS, lambda: float(rng.normal(0.0, 0.002))) for i in range(2))
        ends = rng.normal(0.0, 0.004, 2)
        hose = HoseLine("hose", (HoseSetup(FEED, SEAT, 0.2 + ends[0], 3.2 + ends[1]),), 0.004)
        facts = _visit(books=books, hoses=(hose,))
        for name, fact, truth in (("fall", facts.fall, 3.0), ("lift", facts.lift, 18.0)):
            assert fact is not None
            inside[name] += abs(fact.estimate.value - truth) <= 1.96 * fact.estimate.sd
    for name, count in inside.items():
        assert 0.92 < count / 400 < 0.985, name
