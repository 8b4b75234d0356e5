"""What is drawn is what was given: lengths in the SVG are measured and turned back into the data."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree import ElementTree as ET

import numpy as np
import pint
import pytest
from drawings_samples import KINDS, beat_data, curve_data, profile_data, sample, spread_data
from numpy.typing import NDArray

from ramwright.drawings import LIGHT, THEMES, Picture
from ramwright.quantities import SYSTEMS, System

Array = NDArray[np.float64]
UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
SVG = "{http://www.w3.org/2000/svg}"
RING = {"fill": LIGHT.ground, "stroke": LIGHT.ink}


def paths(picture: Picture, **wanted: str | None) -> list[Array]:
    """Points, shape (n, 2), of every path with these attributes, in the order they are drawn."""
    names = {name.replace("_", "-"): value for name, value in wanted.items()}
    found = []
    for path in ET.fromstring(picture.svg()).iter(f"{SVG}path"):
        if all(path.get(name) == value for name, value in names.items()):
            numbers = [float(part) for part in re.findall(r"-?[\d.]+", path.get("d", ""))]
            found.append(np.array(numbers).reshape(-1, 2))
    return found


def words(picture: Picture) -> list[str]:
    return [text.text or "" for text in ET.fromstring(picture.svg()).iter(f"{SVG}text")]


def middle(points: Array) -> Array:
    return np.asarray(0.5 * (points.min(axis=0) + points.max(axis=0)))


def value_at(pixel: float, known: Iterable[tuple[float, float]]) -> float:
    """The value a pixel stands for, on the straight line through two known (pixel, value)."""
    (a, low), (b, high) = known
    return low + (pixel - a) / (b - a) * (high - low)


@pytest.mark.parametrize("units", SYSTEMS)
def test_the_ring_stands_at_the_highest_head(units: System) -> None:
    """Measured between the lines of the fall and of the lift."""
    data, picture = beat_data(), sample("beat", units)
    lift, fall = (
        paths(picture, stroke=LIGHT.soft, stroke_width="1.4", stroke_dasharray=dash)[0][0, 1]
        for dash in ("8.4,4.2", "2.1,3.5")
    )
    ring = middle(paths(picture, stroke_width="1.8", **RING)[-1])
    assert value_at(ring[1], [(fall, 1.85), (lift, 13.72)]) == pytest.approx(data.head.max(), rel=0.01)
    heads = [path for path in paths(picture, stroke=LIGHT.ink, stroke_width="1.7") if path[:, 1].min() < fall]
    assert len(heads) == 2, "one line a view, up to the ring and down to the recoil"
    for drawn in heads:
        assert drawn[:, 1].min() == pytest.approx(ring[1], abs=1.0)
        lowest = value_at(drawn[:, 1].max(), [(fall, 1.85), (lift, 13.72)])
        assert lowest == pytest.approx(data.head.min(), abs=0.05)
    shown = UNITS.Quantity(data.head.max(), "m").to("ft" if units == "us" else "m")
    assert f"highest {shown.magnitude:.3g} {shown.units:~}" in words(picture)


def test_delivery_fills_the_volume_it_has() -> None:
    """Share of the blue area in the closer view: what is delivered over what went to waste before."""
    data, picture = beat_data(), sample("beat")
    blue = [p for p in paths(picture, fill=LIGHT.water) if np.ptp(p[:, 1]) > 40.0][-1]
    x, y = blue[:, 0], blue[:, 1]
    area = 0.5 * abs(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1]) + x[-1] * y[0] - x[0] * y[-1])
    marks = [path[0, 0] for path in paths(picture, stroke=LIGHT.soft, stroke_width="0.8")]
    moments = [at for at, _, _ in data.events][-7:]
    per_second = (marks[-1] - marks[0]) / (moments[-1] - moments[0])
    zero, top = y.max(), y.min()
    volume = area / per_second / (zero - top) * data.delivery.max()
    inside = data.delivery[(data.time >= moments[0]) & (data.time <= moments[-1])]
    assert volume == pytest.approx(inside.sum() * (data.time[1] - data.time[0]), rel=0.02)


@pytest.mark.parametrize("units", SYSTEMS)
def test_a_profile_is_to_scale(units: System) -> None:
    """Of the whole view: lengths, heights, how much larger these are said to be, and both bars."""
    picture = sample("profile", units)
    line = profile_data().lines[2]
    drawn = paths(picture, stroke=LIGHT.water, stroke_width="2.4")[1]
    assert len(drawn) == len(line.stations)
    across, left = np.polyfit(line.stations, drawn[:, 0], 1)
    down, base = np.polyfit(line.levels, drawn[:, 1], 1)
    assert np.abs(left + across * line.stations - drawn[:, 0]).max() < 0.1
    assert np.abs(base + down * line.levels - drawn[:, 1]).max() < 0.1
    told = next(text for text in words(picture) if text.startswith("heights drawn"))
    assert -down / across == pytest.approx(float(told.split()[2]), rel=1e-3)
    corner = next(path for path in paths(picture, stroke=LIGHT.ink, stroke_width="1.6") if len(path) == 3)
    bars = [text for text in words(picture) if re.fullmatch(r"[\d.]+ (ft|m)", text)]
    for length, text in ((np.ptp(corner[:, 1]) / -down, bars[0]), (np.ptp(corner[:, 0]) / across, bars[1])):
        assert length == pytest.approx(UNITS.Quantity(text).to("m").magnitude, rel=5e-3), text
        assert text.lstrip("0.")[0] in "125"


def test_suction_is_marked_where_the_grade_line_lies_below_the_pipe() -> None:
    """By the two straight lines of the example: above 8.6 ft at 30 ft, 7.2 ft of head there."""
    picture = sample("profile")
    line = profile_data().lines[0]
    across, left = np.polyfit(
        line.stations, paths(picture, stroke=LIGHT.water, stroke_width="2.4")[0][:, 0], 1
    )
    stripes = [path[0, 0] for path in paths(picture, stroke=LIGHT.caution, stroke_width="1.2")]
    stations = (np.array(stripes) - left) / across / 0.3048
    stations = stations[(stations > 1.0) & (stations < 59.0)]  # the key has some of its own
    # pipe 6.9 + 1.7/15 (x - 15) meets grade 8.0 - 1.6/60 x; falls again by 2.0/18 a foot
    rises = (8.0 - 6.9 + 1.7) / (1.7 / 15.0 + 1.6 / 60.0)
    falls = (8.0 - 8.6 - 30.0 * 2.0 / 18.0) / (1.6 / 60.0 - 2.0 / 18.0)
    step = 4.0 / across / 0.3048
    assert stations.min() == pytest.approx(rises, abs=step)
    assert stations.max() == pytest.approx(falls, abs=step)


def test_no_suction_is_marked_where_there_is_none() -> None:
    line = profile_data().lines[2]
    assert not np.isfinite(line.suction()[2]).any()


def test_the_dot_of_a_curve_stands_on_it() -> None:
    """Measured between the two edges and between zero and what is wanted."""
    data, picture = curve_data(), sample("curve")
    ring = middle(paths(picture, stroke_width="2", **RING)[0])
    edges = [path[0, 0] for path in paths(picture, stroke=LIGHT.stop, stroke_width="2.2")]
    x = value_at(ring[0], zip(edges, (data.stops_below or 0.0, data.stops_above or 0.0), strict=True))
    assert x == pytest.approx(data.here, rel=0.005)
    wanted = next(
        path for path in paths(picture, stroke=LIGHT.ink, stroke_width="1.4") if np.ptp(path[:, 0]) > 300.0
    )[0, 1]
    # a line one pixel wide needs no width written; the level of zero is the first of the soft ones
    zero = paths(picture, stroke=LIGHT.soft, stroke_width=None)[0][0, 1]
    y = value_at(ring[1], [(zero, 0.0), (wanted, data.wanted or 0.0)])
    assert y == pytest.approx(5.2e-5 * np.exp(-(((0.0066 - 0.0085) / 0.0062) ** 2)), rel=0.01)


def test_nothing_is_drawn_where_the_ram_stops() -> None:
    data, picture = curve_data(), sample("curve")
    edges = [path[0, 0] for path in paths(picture, stroke=LIGHT.stop, stroke_width="2.2")]
    curve = paths(picture, stroke=LIGHT.water, stroke_width="2.6")[0]
    assert edges[0] <= curve[:, 0].min() < curve[:, 0].max() <= edges[1]
    assert data.x.min() < 0.0026, "the data go on"


def test_bars_of_a_spread_are_as_long_as_they_say() -> None:
    data, picture = spread_data(), sample("spread")
    bar = paths(picture, fill=LIGHT.mid_water)[0]
    zero = paths(picture, stroke=LIGHT.soft, stroke_width="1.4")[0][0, 0]
    low, high = bar[:, 0].min() - zero, bar[:, 0].max() - zero
    assert low / high == pytest.approx(data.low / data.high, rel=1e-3)
    parts = [
        np.ptp(path[:, 0])
        for colour in (LIGHT.water, LIGHT.caution, LIGHT.stop)
        for path in paths(picture, fill=colour)
        if np.ptp(path[:, 1]) == pytest.approx(12.0)
    ]
    assert np.array(parts) / 904.0 == pytest.approx([outcome.share for outcome in data.outcomes], abs=0.003)


@pytest.mark.parametrize("kind", KINDS)
def test_units_change_the_numbers_and_not_the_shapes(kind: str) -> None:
    """Where scales are round in either system the curves may move, but a picture has the same lines."""
    us, metric = (words(sample(kind, units)) for units in SYSTEMS)
    assert us != metric
    assert len(THEMES) == 2
    assert sample(kind).height == sample(kind, theme="dark").height
