"""Whatever comes out of a logger or an engine that went astray, there is a picture and it can be read."""

from __future__ import annotations

import math
from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from drawings_samples import (
    BEAT_LABELS,
    CURVE_LABELS,
    PROFILE_LABELS,
    SPREAD_LABELS,
    beat_data,
    beat_trace,
    profile_data,
)
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numpy.typing import NDArray

from ramwright.drawings import (
    BeatData,
    CurveData,
    Outcome,
    Picture,
    ProfileData,
    ProfileLine,
    ProfilePlace,
    SpreadData,
    beat_picture,
    curve_picture,
    profile_picture,
    spread_picture,
)
from ramwright.errors import InputError

Array = NDArray[np.float64]
ANY = st.one_of(
    st.floats(-1e3, 1e3),
    st.sampled_from([0.0, -0.0, math.nan, math.inf, -math.inf, 1e300, -1e300, 1e-300, 5e-324, 7.0]),
)
quick = settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def columns(names: int) -> st.SearchStrategy[list[Array]]:
    """As many columns as asked for, all of one length from none to forty, of any numbers or one."""
    sizes = st.integers(0, 40)
    return sizes.flatmap(
        lambda n: st.lists(arrays(np.float64, n, elements=ANY), min_size=names, max_size=names)
    )


def check(picture: Picture) -> None:
    """The SVG can be parsed, holds no number that is none, and stays within a sensible size."""
    svg = picture.svg()
    ET.fromstring(svg)
    assert not {"nan", "inf"} & set(svg.lower().replace('"', " ").split())
    assert 50 < picture.height < 3000


@quick
@given(columns=columns(7), fall=ANY, lift=ANY, events=st.lists(st.tuples(ANY, st.integers(1, 7)), max_size=9))
def test_any_trace_gives_a_picture(
    columns: list[Array], fall: float, lift: float, events: list[tuple[float, int]]
) -> None:
    keys = list(BEAT_LABELS.events)
    data = BeatData(
        time=columns[0], head=columns[1], vessel_head=columns[2], drive=columns[3], waste=columns[4],
        delivery=columns[5], opening=columns[6], fall=fall, lift=lift,
        events=tuple((at, mark, keys[mark - 1]) for at, mark in events),
    )  # fmt: skip
    check(beat_picture(data, BEAT_LABELS, width="phone"))


@quick
@given(columns=columns(6), station=ANY, level=ANY)
def test_any_profile_gives_a_picture(columns: list[Array], station: float, level: float) -> None:
    data = ProfileData(
        lines=(
            ProfileLine(
                kind="supply", stations=columns[0], levels=columns[1],
                grade_stations=columns[2], grade_levels=columns[3],
            ),
            ProfileLine(kind="drive", stations=columns[2], levels=columns[3]),
        ),
        ground_stations=columns[4],
        ground_levels=columns[5],
        places=(ProfilePlace(kind="ram", station=station, level=level, words="ram"),),
    )  # fmt: skip
    check(profile_picture(data, PROFILE_LABELS))


@quick
@given(columns=columns(4), edges=st.tuples(ANY, ANY, ANY, ANY))
def test_any_curve_gives_a_picture(columns: list[Array], edges: tuple[float, float, float, float]) -> None:
    data = CurveData(
        x=columns[0], low=columns[1], likely=columns[2], high=columns[3], x_kind="length", y_kind="flow",
        stops_below=edges[0], stops_above=edges[1], here=edges[2], wanted=edges[3],
    )  # fmt: skip
    check(curve_picture(data, CURVE_LABELS))


@quick
@given(low=ANY, likely=ANY, high=ANY, wanted=st.none() | ANY, shares=st.lists(ANY, max_size=5))
def test_any_spread_gives_a_picture(
    low: float, likely: float, high: float, wanted: float | None, shares: list[float]
) -> None:
    outcomes = tuple(Outcome(words="something", share=share) for share in shares)
    data = SpreadData(low=low, likely=likely, high=high, kind="flow", wanted=wanted, outcomes=outcomes)
    check(spread_picture(data, SPREAD_LABELS, width="phone"))


@pytest.mark.parametrize("rows", [0, 1, 2])
def test_hardly_any_rows_give_a_picture(rows: int) -> None:
    trace = {name: values[:rows] for name, values in beat_trace().items()}
    check(beat_picture(beat_data(trace), BEAT_LABELS))


def test_a_gap_is_left_open() -> None:
    """The line stops before the gap and goes on after it: two lines more than without."""
    trace = beat_trace()
    whole = beat_picture(beat_data(trace), BEAT_LABELS)
    head = trace["head"].copy()
    head[1500:1600] = np.nan
    broken = beat_picture(replace(beat_data(trace), head=head), BEAT_LABELS)
    lines = [picture.svg().count('stroke-width="1.7"') for picture in (whole, broken)]
    assert lines[1] == lines[0] + 2, "one in the panel of heads, one in that of the opening"


def test_a_ram_that_does_not_beat_is_shown_without_marks() -> None:
    trace = beat_trace()
    trace["opening"] = np.full_like(trace["opening"], 0.006)
    svg = beat_picture(beat_data(trace), BEAT_LABELS).svg()
    assert BEAT_LABELS.closer not in svg
    assert BEAT_LABELS.events["shut"] not in svg
    assert BEAT_LABELS.open in svg


@given(text=st.text(max_size=60))
@settings(max_examples=30, deadline=None)
@pytest.mark.filterwarnings("error")
def test_any_words_end_up_in_the_picture_as_they_are(text: str) -> None:
    """Markup, dollar signs, letters the font lacks: none of it is obeyed, all of it is kept."""
    labels = replace(SPREAD_LABELS, title=text, description=text, wanted=text)
    data = SpreadData(low=1.0, likely=2.0, high=3.0, kind="length", wanted=1.5)
    picture = spread_picture(data, labels, width="phone")
    root = ET.fromstring(picture.svg())
    assert (root[0].text or "") == picture.title
    assert picture.png()


@pytest.mark.parametrize(
    "words", ["<b>&amp;</b>", "$x_2$ costs $3", "ピストン", "كبش", "\x00\x1b[31m", "a" * 300, r"\alpha"]
)
def test_awkward_words(words: str) -> None:
    labels = replace(BEAT_LABELS, title=words, head=words, ram_head=words, events={"shut": words}, peak=words)
    picture = beat_picture(beat_data(), labels, width="phone")
    root = ET.fromstring(picture.svg())
    assert root[0].text == picture.title or not picture.title
    assert picture.png()


def test_columns_of_different_length_are_refused() -> None:
    with pytest.raises(InputError) as caught:
        CurveData(
            x=np.zeros(3), low=np.zeros(3), likely=np.zeros(2), high=np.zeros(3),
            x_kind="length", y_kind="flow",
        )  # fmt: skip
    assert caught.value.code == "picture_lengths_differ"
    assert caught.value.value == "x 3, low 3, likely 2, high 3"
    with pytest.raises(InputError):
        replace(beat_data(), head=np.zeros(4))
    with pytest.raises(InputError):
        replace(profile_data(), ground_levels=np.zeros(4))


def test_a_profile_of_one_level_is_drawn_true() -> None:
    flat = np.array([0.0, 10.0])
    data = ProfileData(lines=(ProfileLine(kind="drive", stations=flat, levels=np.zeros(2)),))
    check(profile_picture(data, PROFILE_LABELS))
