"""Round numbers, thinned traces and free places keep what they promise, whatever they are given."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from ramwright.drawings.canvas import Box, Style, text_width, wrap
from ramwright.drawings.place import Room, spread_out
from ramwright.drawings.profile_view import round_times
from ramwright.drawings.scales import extent, finite_runs, number, round_down, round_up, thin, ticks, window
from ramwright.drawings.settings import our_settings

NUMBERS = st.floats(-1e6, 1e6, allow_nan=False)
WIDTHS = st.floats(1e-6, 1e6)


@given(low=NUMBERS, width=WIDTHS, most=st.integers(1, 12))
def test_ticks_are_round_within_and_told_apart(low: float, width: float, most: int) -> None:
    high = low + width
    if high - low < 1e-9 * max(abs(low), abs(high)):
        return  # no room between the two that a float could name
    values, decimals = ticks(low, high, most)
    step = 3e-6 * width
    assert len(values) <= most + 1
    assert all(low - step <= value <= high + step for value in values)
    named = [number(value, decimals) for value in values]
    assert len(set(named)) == len(named)


@given(value=st.floats(1e-9, 1e9))
def test_round_numbers_bracket_the_value(value: float) -> None:
    """1, 2 or 5 times a power of ten, so neighbours are at most 2.5 apart."""
    low, high = round_down(value), round_up(value)
    assert low <= value * (1 + 1e-8)
    assert high >= value * (1 - 1e-8)
    assert high / low <= 2.5 + 1e-6
    for one in (low, high):
        leading = one / 10.0 ** math.floor(math.log10(one) + 1e-9)
        assert any(abs(leading - step) < 1e-6 for step in (1.0, 2.0, 5.0))


@pytest.mark.parametrize(
    ("most", "times"), [(0.3, 1.0), (1.0, 1.0), (1.4, 1.0), (3.9, 3.0), (7.0, 6.0), (26.0, 25.0)]
)
def test_heights_are_drawn_a_round_number_of_times_larger(most: float, times: float) -> None:
    assert round_times(most) == times


def test_numbers_carry_a_true_minus_and_no_minus_before_nothing() -> None:
    assert [number(value, 1) for value in (-2.5, -0.01, 0.0, 3.14)] == ["−2.5", "0.0", "0.0", "3.1"]


@given(values=arrays(np.float64, st.integers(0, 60), elements=st.floats(allow_nan=True, allow_infinity=True)))
def test_an_extent_always_has_room(values: np.ndarray) -> None:
    low, high = extent([values])
    assert math.isfinite(low)
    assert high > low
    known = values[np.abs(values) <= 1e15]
    if len(known):
        assert low <= known.min()
        assert high >= known.max()


@given(
    values=arrays(np.float64, st.integers(2, 3000), elements=st.floats(-100, 100)),
    width=st.floats(1.0, 300.0),
)
def test_thinning_keeps_ends_and_peaks(values: np.ndarray, width: float) -> None:
    x = np.linspace(0.0, width, len(values))
    kept_x, kept = thin(x, values)
    assert len(kept) <= max(4 * (width + 2), 4)
    assert (kept_x[0], kept_x[-1], kept[0], kept[-1]) == (x[0], x[-1], values[0], values[-1])
    assert (kept.min(), kept.max()) == (values.min(), values.max())
    assert np.all(np.diff(kept_x) > 0.0)


@given(good=arrays(np.bool_, st.integers(0, 80)))
def test_runs_cover_what_is_known_and_nothing_else(good: np.ndarray) -> None:
    covered = np.zeros(len(good), np.bool_)
    runs = finite_runs(np.where(good, 1.0, np.nan))
    for run in runs:
        covered[run] = True
    assert np.array_equal(covered, good)
    assert len(runs) == np.count_nonzero(np.diff(np.concatenate(([False], good)).astype(int)) == 1)


@given(low=st.floats(-1.0, 4.0), width=st.floats(0.01, 6.0))
def test_a_window_meets_its_edges_on_the_line(low: float, width: float) -> None:
    """y = 3x + 1 stays that line; nothing lies outside the window or the data."""
    x = np.linspace(0.0, 5.0, 23)
    at, cut = window(x, {"y": 3.0 * x + 1.0}, low, low + width)
    assert np.allclose(cut["y"], 3.0 * at + 1.0)
    if len(at):
        assert at[0] == pytest.approx(max(low, 0.0))
        assert at[-1] == pytest.approx(min(low + width, 5.0))


@given(wanted=st.lists(st.floats(0.0, 100.0), max_size=12), least=st.floats(0.1, 8.0))
def test_marks_keep_their_order_their_distance_and_the_sheet(wanted: list[float], least: float) -> None:
    wanted = sorted(wanted)
    places = spread_out(wanted, least, 0.0, 100.0)
    assert all(b - a >= least - 1e-6 for a, b in pairwise(places))
    assert all(-1e-6 <= place <= 100.0 + 1e-6 for place in places)
    if all(b - a >= least for a, b in pairwise(wanted)):
        assert places == pytest.approx(wanted)


def test_a_crowd_spreads_about_its_middle() -> None:
    assert spread_out([50.0, 50.0, 50.0], 10.0, 0.0, 100.0) == pytest.approx([40.0, 50.0, 60.0])


@given(text=st.text(max_size=80), width=st.floats(12.0, 400.0))
def test_wrapped_lines_fit_and_lose_no_letter(text: str, width: float) -> None:
    """Unless a single letter is wider than the line."""
    style = Style(13.5, "#000000")
    with our_settings():
        lines = wrap(text, style, width)
        assert all(text_width(line, 13.5) <= width or len(line) <= 2 for line in lines)
    if text.isprintable() and text.isascii():
        assert "".join("".join(lines).split()) == "".join(text.split())


def test_words_go_where_nothing_is_crossed() -> None:
    room = Room()
    room.take(Box(0.0, 0.0, 50.0, 20.0))
    room.avoid((0.0, 100.0), (40.0, 40.0))
    spots = [Box(10.0, 10.0, 60.0, 24.0), Box(10.0, 32.0, 60.0, 46.0), Box(10.0, 60.0, 60.0, 74.0)]
    assert [room.cost(box) > 0.0 for box in spots] == [True, True, False]
    assert room.best(spots) == (spots[2], 0.0)
    assert room.cost(spots[2]) > 0.0, "a place is given once"
