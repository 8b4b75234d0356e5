"""The moments of a beat are found where they are, and nothing is found where nothing beats."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.typing import NDArray

from ramwright.ram.events import MOMENTS, Event, find_events

Array = NDArray[np.float64]
STROKE = 0.008
#: Corners of one beat of 1 s: when each thing happens.
CLOSING, SHUT, DELIVERY_SHUTS, BACK, OPENS, WIDE = 0.60, 0.70, 0.76, 0.77, 0.80, 0.86


def beats(number: float, *, start: float = 0.0, per_beat: int = 1000) -> dict[str, Array]:
    """Straight-line beats of 1 s, beginning at ``start`` of a beat with the valve open."""
    time = np.arange(int(number * per_beat) + 1) / per_beat
    phase = (time + start) % 1.0
    opening = STROKE * np.interp(phase, [CLOSING, SHUT, OPENS, WIDE], [1.0, 0.0, 0.0, 1.0])
    delivery = np.where((phase >= SHUT) & (phase < DELIVERY_SHUTS), 1e-3, 0.0)
    back = np.where((phase >= BACK) & (phase < OPENS), -1e-4, 0.0)
    waste = np.where((phase < SHUT) | (phase >= OPENS), 1e-3, 0.0)
    return {"time": time, "opening": opening, "drive": waste + delivery + back, "delivery": delivery}


def times(events: tuple[Event, ...], key: str) -> list[float]:
    return [event.time_s for event in events if event.key == key]


@pytest.mark.parametrize(
    ("key", "at"),
    [
        ("closing", CLOSING), ("shut", SHUT), ("delivery_opens", SHUT), ("delivery_shuts", DELIVERY_SHUTS),
        ("turns_back", BACK), ("opens", OPENS), ("wide_open", WIDE),
    ],
)  # fmt: skip
def test_each_moment_is_found_in_each_beat(key: str, at: float) -> None:
    """Within two samples of the corner the trace was made with."""
    assert times(find_events(beats(3)), key) == pytest.approx([at, 1.0 + at, 2.0 + at], abs=0.002)


def test_numbers_rise_with_time_within_a_beat() -> None:
    found = find_events(beats(3))
    assert [event.number for event in found] == [1, 2, 3, 4, 5, 6, 7] * 3
    assert sorted(found) == list(found)


def test_numbers_follow_the_order_things_happen_in() -> None:
    """The delivery valve may lift a hair before the waste valve is down."""
    trace = beats(2)
    early = (trace["time"] % 1.0 >= SHUT - 0.01) & (trace["time"] % 1.0 < SHUT)
    trace["delivery"][early] = 1e-3
    order = [event.key for event in find_events(trace)][:3]
    assert order == ["closing", "delivery_opens", "shut"]


def test_a_trace_that_begins_shut_tells_the_rest_of_that_beat() -> None:
    """As the engine cuts it: from a closure to a closure."""
    found = find_events(beats(2, start=SHUT + 0.001))
    assert [event.key for event in found][:4] == ["delivery_shuts", "turns_back", "opens", "wide_open"]
    assert len(times(found, "shut")) == 2
    assert {e.key: e.number for e in found} == {e.key: e.number for e in find_events(beats(3))}


def test_what_lies_beyond_the_end_is_not_told() -> None:
    found = find_events(beats(0.73))
    assert [event.key for event in found] == ["closing", "shut", "delivery_opens"]


@pytest.mark.parametrize("opening", [STROKE, 0.3 * STROKE, 0.0])
def test_a_valve_that_stands_still_has_no_moments(opening: float) -> None:
    trace = beats(2)
    trace["opening"] = np.full_like(trace["opening"], opening)
    assert find_events(trace, stroke=STROKE) == ()
    assert find_events(trace) == ()


def test_chatter_is_no_beat() -> None:
    """A valve that opens and shuts by less than half its stroke."""
    trace = beats(2)
    trace["opening"] = 0.2 * STROKE * (1.0 + np.sin(60.0 * trace["time"]))
    assert find_events(trace, stroke=STROKE) == ()


def test_a_bounce_off_the_seat_is_not_the_opening() -> None:
    trace = beats(3)
    phase = trace["time"] % 1.0
    bounce = (phase > 0.72) & (phase < 0.74)
    trace["opening"][bounce] = 0.1 * STROKE
    found = find_events(trace)
    assert times(found, "opens") == pytest.approx([OPENS, 1.0 + OPENS, 2.0 + OPENS], abs=0.002)
    assert len(times(found, "shut")) == 3


def test_a_valve_that_leaves_its_stop_and_returns_closes_only_once() -> None:
    trace = beats(2)
    phase = trace["time"] % 1.0
    trace["opening"][(phase > 0.2) & (phase < 0.3)] = 0.8 * STROKE
    assert times(find_events(trace), "closing") == pytest.approx([CLOSING, 1.0 + CLOSING], abs=0.002)


def test_rows_that_are_no_numbers_are_passed_over() -> None:
    trace = beats(3)
    trace["opening"][200:260] = np.nan
    trace["drive"][1100:1120] = np.inf
    assert find_events(trace) == find_events(beats(3))


def test_no_rows_no_moments() -> None:
    assert find_events({name: np.empty(0) for name in ("time", "opening", "drive", "delivery")}) == ()


@given(data=st.data(), rows=st.integers(0, 60))
def test_any_trace_gives_moments_in_order_within_it(data: st.DataObject, rows: int) -> None:
    values = arrays(np.float64, rows, elements=st.floats(-1.0, 1.0))
    trace = {name: data.draw(values) for name in ("opening", "drive", "delivery")}
    trace["time"] = np.arange(rows) * 0.01
    found = find_events(trace)
    assert sorted(found) == list(found)
    assert all(0.0 <= event.time_s <= 0.01 * rows and event.key in MOMENTS for event in found)
    assert len({event.key for event in found}) == len({event.number for event in found})
    shuts, opens = times(found, "shut"), times(found, "opens")
    assert abs(len(shuts) - len(opens)) <= 1
