"""Level books against worked examples, their checks and misclosures."""

from __future__ import annotations

import csv
import tomllib
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.survey import (
    Allowance,
    AllowanceKind,
    ArithmeticCheck,
    BookRow,
    Judging,
    LevelBook,
    SightSpread,
    adjust_book,
    adjust_heights,
    book_misclosure,
    mark,
    reduce_book,
    two_peg_tilt,
)

REFERENCE = Path(__file__).parents[1] / "reference"
FIGURES = tomllib.loads((REFERENCE / "survey_figures.toml").read_text("utf-8"))
JUDGING = Judging(significance=0.05, residual_limit=3.0)
PLAIN = SightSpread(0.002)


def _rows() -> list[dict[str, str]]:
    lines = (REFERENCE / "survey_level_book.csv").read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def _number(text: str) -> float | None:
    return float(text) if text else None


def _example(**changes: Any) -> LevelBook:
    rows = tuple(
        BookRow(
            mark(row["point"]),
            backsight=_number(row["backsight_m"]),
            intermediate=_number(row["intermediate_m"]),
            foresight=_number(row["foresight_m"]),
            line=i + 2,
        )
        for i, row in enumerate(_rows())
    )
    return LevelBook("example", changes.get("rows", rows), changes.get("sight", PLAIN))


def test_a_worked_book_reduces_to_its_printed_levels_both_ways() -> None:
    """Universiti Sains Malaysia teaching page: levels and lines of sight printed to the millimetre."""
    reduced = reduce_book(_example(), start_level=29.23)
    level = 29.23
    for printed, row in zip(_rows(), reduced.rows, strict=True):
        assert abs(row.level - float(printed["initial_level_m"])) < 1e-9
        level += row.rise or 0.0
        assert abs(level - row.level) < 1e-9, "rise and fall and height of collimation part"
        if printed["collimation_m"]:
            at = next(r for r in reduced.rows if r.point == row.point)
            opened = at.level + float(printed["backsight_m"])
            assert abs(opened - float(printed["collimation_m"])) < 1e-9
    assert abs(reduced.check.sum_backsights - 8.133) < 1e-9
    assert abs(reduced.check.sum_foresights - 7.693) < 1e-9
    assert reduced.check.agrees(1e-9)


def test_the_example_closes_ten_millimetres_high_and_is_spread_two_a_setup() -> None:
    """Same page: 10 mm spread evenly; least squares with like set-ups gives that at every turning point."""
    reduced = reduce_book(_example(), start_level=29.23)
    closing = book_misclosure(
        reduced, allowance=Allowance(AllowanceKind.PER_ROOT_SETUP, 0.005), end_level=29.66
    )
    assert closing is not None
    assert abs(closing.value - 0.010) < 1e-9
    assert closing.within is True
    fixed = {mark("OBM1").key: 29.23, mark("OBM2").key: 29.66}
    net = adjust_heights(reduced.legs(), fixed=fixed, judging=JUDGING)
    for printed in _rows():
        if printed["backsight_m"]:
            corrected = float(printed["initial_level_m"]) + float(printed["adjustment_mm"]) / 1000.0
            assert abs(net.level(mark(printed["point"]).key).value - corrected) < 1e-9


def test_an_intermediate_sight_takes_half_of_its_setups_share() -> None:
    """The page gives A all of its set-up's 2 mm; equal backsight and foresight share them: 1 mm (derived)."""
    reduced = reduce_book(_example(), start_level=29.23)
    net = adjust_heights(
        reduced.legs(), fixed={mark("OBM1").key: 29.23, mark("OBM2").key: 29.66}, judging=JUDGING
    )
    assert abs(net.level(mark("A").key).value - (29.515 - 0.001)) < 1e-9


def test_the_three_sums_of_a_printed_check_agree() -> None:
    """Booking and reduction of levels (read): 5.620 - 4.950 = 1.37 - 0.70 = 100.67 - 100.00 = 0.67."""
    printed = FIGURES["arithmetic_check"]
    sums = {name: float(value) for name, value in printed.items() if name != "difference"}
    check = ArithmeticCheck(**sums)
    assert check.agrees(1e-9)
    assert abs(check.differences[0] - printed["difference"]) < 1e-9
    assert not ArithmeticCheck(**{**sums, "last_level": 100.76}).agrees(1e-3)


def test_a_bookers_slip_is_named_where_it_happened_only() -> None:
    rows = [
        BookRow(mark("a"), backsight=1.5, booked_level=10.0),
        BookRow(mark("b"), intermediate=1.2, booked_level=10.3),
        BookRow(mark("c"), intermediate=1.0, booked_level=10.6),  # 10.5 is right
        BookRow(mark("d"), foresight=0.7, booked_level=10.9),
    ]
    for start in (10.0, 0.0):  # whatever level the reduction starts from
        reduced = reduce_book(LevelBook("b", tuple(rows), PLAIN), start_level=start, booking_tolerance=0.0005)
        slips = [finding for finding in reduced.findings if finding.code == "booked_level_differs"]
        assert [slip.about for slip in slips] == ["c"]
        assert abs(slips[0].number("step_difference_m") - 0.1) < 1e-9


@pytest.mark.parametrize("i", range(3))
def test_allowed_misclosure_by_the_root_of_the_length(i: int) -> None:
    """x sqrt(km) mm, x 5, 10 or 15 (read)."""
    table = FIGURES["misclosure"]
    allowance = Allowance(AllowanceKind.PER_ROOT_KM, table["x_mm"][i] / 1000.0)
    allowed = allowance.allowed(length=table["km"] * 1000.0, setups=4, height=1.0)
    assert allowed is not None
    assert abs(allowed * 1000.0 - table["allowed_mm"][i]) < 1e-9


def test_a_misclosure_by_length_is_not_judged_when_lengths_were_not_booked() -> None:
    rows = (BookRow(mark("a"), backsight=1.0), BookRow(mark("b"), foresight=1.2, backsight=1.3))
    loop = LevelBook("loop", (*rows, BookRow(mark("a"), foresight=1.09)), PLAIN)
    reduced = reduce_book(loop, start_level=0.0)
    by_length = book_misclosure(reduced, allowance=Allowance(AllowanceKind.PER_ROOT_KM, 0.01))
    by_setup = book_misclosure(reduced, allowance=Allowance(AllowanceKind.PER_ROOT_SETUP, 0.005))
    assert by_length is not None
    assert by_setup is not None
    assert by_length.within is None
    assert by_setup.within is False
    assert [finding.code for finding in by_setup.findings] == ["misclosure_beyond"]
    assert abs(by_setup.value - 0.01) < 1e-9


@pytest.mark.parametrize("sight", [SightSpread(1e-7, root_length_sd=0.001), SightSpread(0.001)])
def test_a_misclosure_is_spread_by_length_or_by_setup(sight: SightSpread) -> None:
    """40 mm over set-ups of 20 and 60 m: 10 and 30 mm by length, 20 and 20 mm by set-up (by hand)."""
    rows = (
        BookRow(mark("a"), backsight=1.0, backsight_distance=10.0),
        BookRow(mark("b"), foresight=2.0, distance=10.0, backsight=1.0, backsight_distance=30.0),
        BookRow(mark("c"), foresight=2.0, distance=30.0),
    )
    reduced = reduce_book(LevelBook("b", rows, sight), start_level=0.0)
    net = adjust_book(reduced, start_level=0.0, end_level=-1.96, judging=JUDGING)
    share = 0.010 if sight.root_length_sd else 0.020
    assert abs(net.level(mark("b").key).value - (-1.0 + share)) < 1e-6
    assert abs(net.level(mark("c").key).value + 1.96) < 1e-12


def test_a_book_that_ends_elsewhere_has_no_misclosure() -> None:
    rows = (BookRow(mark("a"), backsight=1.0), BookRow(mark("b"), foresight=1.2))
    reduced = reduce_book(LevelBook("open", rows, PLAIN), start_level=0.0)
    assert book_misclosure(reduced, allowance=Allowance(AllowanceKind.PER_ROOT_SETUP, 0.005)) is None


REFUSED: dict[str, tuple[BookRow, ...]] = {
    "survey_book_empty": (),
    "survey_book_no_backsight": (BookRow(mark("a"), foresight=1.0), BookRow(mark("b"), foresight=1.0)),
    "survey_book_starts_twice": (
        BookRow(mark("a"), backsight=1.0, foresight=1.0),
        BookRow(mark("b"), foresight=1.0),
    ),
    "survey_book_no_second_row": (BookRow(mark("a"), backsight=1.0),),
    "survey_book_row_unread": (
        BookRow(mark("a"), backsight=1.0),
        BookRow(mark("b")),
        BookRow(mark("c"), foresight=1.0),
    ),
    "survey_book_row_two_sights": (
        BookRow(mark("a"), backsight=1.0),
        BookRow(mark("b"), intermediate=1.0, foresight=1.0),
    ),
    "survey_book_turn_unread": (
        BookRow(mark("a"), backsight=1.0),
        BookRow(mark("b"), backsight=1.0),
        BookRow(mark("c"), foresight=1.0),
    ),
    "survey_book_turn_without_backsight": (
        BookRow(mark("a"), backsight=1.0),
        BookRow(mark("b"), foresight=1.0),
        BookRow(mark("c"), foresight=1.0),
    ),
    "survey_book_ends_on_backsight": (
        BookRow(mark("a"), backsight=1.0),
        BookRow(mark("b"), foresight=1.0, backsight=1.0),
    ),
    "survey_not_finite": (
        BookRow(mark("a"), backsight=1.0),
        BookRow(mark("b"), foresight=float("nan")),
    ),
}


@pytest.mark.parametrize("code", REFUSED)
def test_a_book_that_cannot_be_one_is_refused(code: str) -> None:
    with pytest.raises(InputError) as refused:
        reduce_book(LevelBook("wrong", REFUSED[code], PLAIN), start_level=0.0)
    assert refused.value.code == code


def test_an_error_names_the_line_in_the_file() -> None:
    rows = (
        BookRow(mark("a"), backsight=1.0, line=7),
        BookRow(mark("b"), line=8),
        BookRow(mark("c"), foresight=1.0),
    )
    with pytest.raises(InputError) as refused:
        reduce_book(LevelBook("wrong", rows, PLAIN), start_level=0.0)
    assert refused.value.line == 8


def test_a_last_reading_booked_as_intermediate_counts_as_the_foresight() -> None:
    rows = (BookRow(mark("a"), backsight=1.5), BookRow(mark("b"), intermediate=1.0))
    reduced = reduce_book(LevelBook("b", rows, PLAIN), start_level=0.0)
    assert [finding.code for finding in reduced.findings] == ["book_ends_on_intermediate"]
    assert reduced.check.agrees(1e-12)
    assert abs(reduced.rows[-1].level - 0.5) < 1e-12


def test_a_two_peg_test_finds_a_planted_tilt() -> None:
    """Pegs 0.30 m apart in height, line of sight 0.4 mm a metre up (worked by hand)."""
    tilt = two_peg_tilt(
        middle_a=1.200 + 0.008,
        middle_b=1.500 + 0.008,
        end_a=1.300 + 0.0004 * 42.0,
        end_b=1.600 + 0.0004 * 2.0,
        to_a=42.0,
        to_b=2.0,
        reading_sd=0.001,
    )
    assert abs(tilt.value - 0.0004) < 1e-9
    assert abs(tilt.sd - 2.0 * 0.001 / 40.0) < 1e-12
    with pytest.raises(InputError):
        two_peg_tilt(middle_a=1, middle_b=1, end_a=1, end_b=1, to_a=5, to_b=5, reading_sd=0.001)


def test_a_known_tilt_is_taken_out_of_unequal_sights() -> None:
    """1 m fall over one set-up, 10 m back and 50 m ahead, tilt 0.5 mm a metre up (worked by hand)."""
    sight = SightSpread(0.001, tilt=0.0005)
    rows = (
        BookRow(mark("a"), backsight=1.0 + 0.005, backsight_distance=10.0),
        BookRow(mark("b"), foresight=2.0 + 0.025, distance=50.0),
    )
    reduced = reduce_book(LevelBook("b", rows, sight), start_level=0.0)
    assert abs(reduced.rows[-1].level + 1.0) < 1e-12


def test_unequal_sights_with_an_untested_level_are_called_out_with_the_size() -> None:
    sight = SightSpread(0.001, tilt_sd=0.0005)
    rows = (
        BookRow(mark("a"), backsight=1.0, backsight_distance=10.0),
        BookRow(mark("b"), foresight=2.0, distance=50.0),
    )
    reduced = reduce_book(LevelBook("b", rows, sight), start_level=0.0)
    assert [finding.code for finding in reduced.findings] == ["sights_unequal"]
    assert abs(reduced.findings[0].number("possible_error_m") - 0.020) < 1e-12


def test_a_sight_spread_that_grows_needs_a_length() -> None:
    sight = SightSpread(0.001, slope_sd=1e-4)
    assert abs(sight.sd(30.0) - (0.001**2 + 0.003**2) ** 0.5) < 1e-12
    with pytest.raises(InputError) as refused:
        sight.sd(None)
    assert refused.value.code == "survey_sight_length_missing"
    assert abs(SightSpread(0.001, slope_sd=1e-4, usual_length=30.0).sd(None) - sight.sd(30.0)) < 1e-15


READINGS = st.floats(0.1, 4.0).map(lambda value: round(value, 3))


@given(st.lists(st.tuples(READINGS, READINGS), min_size=2, max_size=12))
@settings(deadline=None)
def test_a_loop_with_its_misclosure_taken_out_is_left_alone(setups: list[tuple[float, float]]) -> None:
    """Misclosure nought: adjusted levels are the reduced ones; and adjusted rises always sum to nought."""
    stops = [mark(f"p{i}") for i in range(len(setups))]
    missed = sum(back - ahead for back, ahead in setups)
    rows = [
        BookRow(stops[0], backsight=setups[0][0]),
        *(
            BookRow(stops[i], foresight=setups[i - 1][1], backsight=setups[i][0])
            for i in range(1, len(setups))
        ),
    ]
    for closed in (True, False):
        last = BookRow(stops[0], foresight=setups[-1][1] + (missed if closed else 0.0))
        reduced = reduce_book(LevelBook("loop", (*rows, last), PLAIN), start_level=5.0)
        assert reduced.check.agrees(1e-9)
        net = adjust_heights(
            reduced.legs(), fixed={stops[0].key: 5.0}, judging=Judging(significance=0.0, residual_limit=1e9)
        )
        around = [net.level(stop.key).value for stop in [*stops, stops[0]]]
        assert abs(sum(b - a for a, b in pairwise(around))) < 1e-9
        if closed:
            for stop, row in zip(stops, reduced.rows[:-1], strict=True):
                assert abs(net.level(stop.key).value - row.level) < 1e-9
            assert all(abs(leg.residual) < 1e-9 for leg in net.legs)
