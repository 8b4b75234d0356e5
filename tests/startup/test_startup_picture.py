"""The picture of a start, drawn from plain data: whole, with gaps, and with nothing to show."""

from __future__ import annotations

import math
from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from ramwright.drawings import DARK, LIGHT, Theme
from ramwright.drawings.picture import Width
from ramwright.drawings.start_picture import StartData, StartLabels, start_picture
from ramwright.errors import InputError

LABELS = StartLabels(
    title="Starting the ram",
    description="Level against presses, then against minutes.",
    caption="13 presses",
    level="Level",
    press="Press",
    time="Minutes",
    water="water in the line",
    head="head on the ram",
    feed="drive tank",
    alone="runs by itself",
    tank="tank",
    pressing="By hand",
    climbing="By itself",
)


def data(presses: int = 14, *, air: float = 0.0, climbing: bool = True) -> StartData:
    number = np.arange(1.0, presses + 1.0)
    level = 2.0 + 0.1 * number
    return StartData(
        number=number,
        level=level,
        head=level + air,
        times=np.linspace(0.0, 600.0, 40 if climbing else 0),
        levels=np.linspace(3.4, 14.0, 40 if climbing else 0),
        feed=2.0,
        alone_low=3.0,
        alone_likely=3.3,
        alone_high=3.6,
        tank=14.0,
    )


def words(found: StartData, *, units: str = "metric", width: Width = "desktop", theme: Theme = LIGHT) -> str:
    svg = start_picture(
        found, LABELS, units="us" if units == "us" else "metric", width=width, theme=theme
    ).svg()
    return " | ".join(t.text or "" for t in ET.fromstring(svg).iter() if t.tag.endswith("text"))


@pytest.mark.parametrize("theme", [LIGHT, DARK])
@pytest.mark.parametrize("width", ["desktop", "phone"])
def test_both_panels_are_told(width: Width, theme: Theme) -> None:
    told = words(data(), width=width, theme=theme)
    for word in ("Starting the ram", "By hand: Level, m", "By itself: Level, m", "Press", "Minutes", "tank"):
        assert word in told
    assert "head on the ram" not in told, "where it is the level itself, it is drawn once"


def test_units_are_the_reader_s() -> None:
    assert "By hand: Level, ft" in words(data(), units="us")


def test_the_head_shows_where_air_makes_it_another() -> None:
    assert "head on the ram" in words(data(air=1.0))


def test_where_it_may_take_many_presses_that_shows_too() -> None:
    slow = replace(data(), slow_number=np.arange(1.0, 30.0), slow_level=np.linspace(2.0, 3.6, 29))
    told = start_picture(slow, replace(LABELS, slow="if it takes many presses"), width="phone").svg()
    assert "if it takes many presses" in told
    assert "if it takes many presses" not in words(data())


def test_one_press_needs_no_panel_of_presses() -> None:
    told = words(data(1))
    assert "By hand" not in told
    assert "By itself: Level, m" in told


def test_nothing_to_show_is_still_a_picture() -> None:
    assert words(data(0, climbing=False)) == "Starting the ram | 13 presses"


def test_gaps_and_unknown_levels_are_left_out() -> None:
    found = data()
    found.level[3:5] = math.nan
    holed = StartData(
        number=found.number, level=found.level, head=found.head, times=found.times, levels=found.levels,
        feed=2.0, alone_low=math.nan, alone_likely=math.nan, alone_high=math.nan, tank=14.0,
    )  # fmt: skip
    assert "nan" not in start_picture(holed, LABELS).svg()


def test_the_same_bytes_each_time() -> None:
    assert start_picture(data(), LABELS).svg() == start_picture(data(), LABELS).svg()
    assert start_picture(data(), LABELS).png()[:4] == b"\x89PNG"


def test_arrays_of_different_lengths_are_refused() -> None:
    with pytest.raises(InputError) as refused:
        StartData(
            number=np.arange(3.0), level=np.arange(2.0), head=np.arange(3.0), times=np.empty(0),
            levels=np.empty(0), feed=2.0, alone_low=3.0, alone_likely=3.0, alone_high=3.0, tank=9.0,
        )  # fmt: skip
    assert refused.value.code == "picture_lengths_differ"
