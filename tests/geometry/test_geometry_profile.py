"""Profiles: lengths, levels, summits and dips against arithmetic done by hand."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.geometry import Measured, Profile, TurnKind, dips, highest_point, resample, summits, turns
from ramwright.geometry.shape import look_over

WALK = Profile(
    stations=np.array([0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0]),
    levels=np.array([100.0, 98.0, 99.0, 99.0, 95.0, 95.1, 94.0]),
    labels=("intake", "", "rise", "", "", "", "tank"),
)


@st.composite
def profiles(draw: st.DrawFn) -> Profile:
    """Any line of 2 to 30 points, up to upright."""
    steps = draw(st.lists(st.floats(0.01, 100.0), min_size=1, max_size=29))
    grades = draw(st.lists(st.floats(-1.0, 1.0), min_size=len(steps), max_size=len(steps)))
    stations = np.concatenate(([0.0], np.cumsum(steps)))
    levels = np.concatenate(([0.0], np.cumsum(np.diff(stations) * np.array(grades))))
    return Profile(stations=stations, levels=levels)


def test_horizontal_distances_become_pipe_length_by_pythagoras() -> None:
    """Two 3-4-5 triangles and an upright pipe of 2 m (arithmetic)."""
    line = Profile.from_points([0, 4, 8, 8], [10, 7, 10, 12], measured=Measured.HORIZONTAL)
    assert np.allclose(line.stations, [0, 5, 10, 12])
    assert np.allclose(line.horizontal_distances, [0, 4, 8, 8])
    assert line.length == pytest.approx(12.0)
    assert line.fall == pytest.approx(-2.0)


@given(profiles())
def test_slope_length_and_horizontal_distance_are_each_others_inverse(line: Profile) -> None:
    again = Profile.from_points(line.horizontal_distances, line.levels, measured=Measured.HORIZONTAL)
    assert np.allclose(again.stations, line.stations, rtol=1e-9, atol=1e-4)


@given(profiles())
def test_walking_back_and_back_again_is_the_same_line(line: Profile) -> None:
    twice = line.reversed().reversed()
    assert np.allclose(twice.stations, line.stations - line.stations[0])
    assert np.array_equal(twice.levels, line.levels)
    assert math.isclose(line.reversed().fall, -line.fall)


def test_levels_between_points_lie_on_the_straight_line() -> None:
    assert WALK.level_at(5.0) == pytest.approx(99.0)
    assert WALK.level_at(60.0) == 94.0
    with pytest.raises(InputError, match="geometry_off_the_line"):
        WALK.level_at(60.1)


def test_summits_and_dips_of_a_walk() -> None:
    """Read off the list of levels by eye."""
    found = [(t.kind, t.station, t.level) for t in turns(WALK)]
    assert found == [
        (TurnKind.DIP, 10.0, 98.0),
        (TurnKind.SUMMIT, 20.0, 99.0),
        (TurnKind.DIP, 40.0, 95.0),
        (TurnKind.SUMMIT, 50.0, 95.1),
    ]
    assert [t.station for t in summits(WALK, least_depth=0.2)] == [20.0]
    assert [t.depth for t in dips(WALK, least_depth=0.2)] == [pytest.approx(1.0)]
    assert highest_point(WALK).label == "intake"


@given(profiles(), st.floats(0.0, 20.0))
def test_summits_and_dips_alternate_and_are_as_deep_as_asked(line: Profile, depth: float) -> None:
    found = turns(line, least_depth=depth)
    assert all(t.depth > depth for t in found)
    assert all(a.kind != b.kind and a.station < b.station for a, b in pairwise(found))
    assert all(0 < t.index < line.stations.size - 1 for t in found)


@given(profiles())
def test_every_strict_peak_is_a_summit_when_any_depth_counts(line: Profile) -> None:
    """A point above both neighbours is a summit by its meaning."""
    z = line.levels
    peaks = [i for i in range(1, z.size - 1) if z[i] > z[i - 1] and z[i] > z[i + 1]]
    assert set(peaks) <= {t.index for t in summits(line)}


@given(profiles(), st.floats(0.5, 50.0))
def test_resampling_keeps_points_length_and_levels(line: Profile, step: float) -> None:
    fine = resample(line, step=step)
    assert np.max(np.diff(fine.stations)) <= step * (1.0 + 1e-9)
    assert set(line.stations.tolist()) <= set(fine.stations.tolist())
    assert np.allclose(np.interp(line.stations, fine.stations, fine.levels), line.levels)
    assert fine.length == line.length


def test_resampling_too_fine_is_refused() -> None:
    with pytest.raises(InputError, match="geometry_step_too_fine"):
        resample(WALK, step=1e-4)
    with pytest.raises(InputError, match="geometry_step_impossible"):
        resample(WALK, step=0.0)


def test_a_profile_cannot_be_changed_behind_its_back() -> None:
    given_levels = np.array([1.0, 0.0])
    line = Profile(stations=np.array([0.0, 2.0]), levels=given_levels)
    given_levels[0] = 9.0
    assert line.levels[0] == 1.0
    with pytest.raises(ValueError, match="read-only"):
        line.levels[0] = 5.0
    assert line == Profile(stations=np.array([0.0, 2.0]), levels=np.array([1.0, 0.0]))
    assert hash(line) == hash(Profile(stations=np.array([0.0, 2.0]), levels=np.array([1.0, 0.0])))
    assert line != WALK


@pytest.mark.parametrize(
    ("code", "stations", "levels"),
    [
        ("geometry_too_few_points", [0.0], [1.0]),
        ("geometry_lengths_differ", [0.0, 1.0], [1.0]),
        ("geometry_stations_not_rising", [0.0, 5.0, 5.0], [1.0, 1.0, 1.0]),
        ("geometry_stations_not_rising", [0.0, 5.0, 4.0], [1.0, 1.0, 1.0]),
        ("geometry_steeper_than_upright", [0.0, 5.0], [10.0, 4.9]),
        ("geometry_not_finite", [0.0, math.nan], [1.0, 1.0]),
        ("geometry_not_a_list", [[0.0, 1.0]], [[1.0, 1.0]]),
        ("geometry_not_numbers", [0.0, "x"], [1.0, 1.0]),
    ],
)
def test_lines_that_cannot_be_are_refused(code: str, stations: list[float], levels: list[float]) -> None:
    with pytest.raises(InputError) as caught:
        Profile.from_points(stations, levels)
    assert caught.value.code == code


def test_points_worth_a_second_look_are_named() -> None:
    line = Profile(stations=np.array([0.0, 200.0, 210.0]), levels=np.array([50.0, 49.0, 41.0]), level_sd=5.0)
    notes = [(n.code, n.station) for n in look_over(line, poor_height_sd=1.0, long_step=100.0, steep=0.7)]
    assert notes == [("heights_poor", None), ("step_long", 0.0), ("step_steep", 200.0)]
