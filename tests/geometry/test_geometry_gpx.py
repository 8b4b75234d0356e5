"""GPX against the library gpxpy and degree lengths of the ellipsoid; bombs are refused unread."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path

import gpxpy.gpx
import numpy as np
import pytest
from gpxpy.geo import EARTH_RADIUS as GPXPY_RADIUS
from gpxpy.geo import haversine_distance
from hypothesis import given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.geometry.gpx import EARTH_RADIUS, haversine, profile_from_gpx

REFERENCE = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "geometry_gpx_and_earth.toml").read_text("utf-8")
)


def _file(
    points: Sequence[tuple[float, float, float | None]], *, name: str = "supply", copies: int = 1
) -> bytes:
    """A GPX file as the library gpxpy writes it."""
    gpx = gpxpy.gpx.GPX()
    for _ in range(copies):
        track = gpxpy.gpx.GPXTrack(name=name)
        segment = gpxpy.gpx.GPXTrackSegment()
        segment.points.extend(gpxpy.gpx.GPXTrackPoint(lat, lon, elevation=h) for lat, lon, h in points)
        track.segments.append(segment)
        gpx.tracks.append(track)
    return str(gpx.to_xml()).encode()


WALK = [(-12.3 + 1e-4 * i, 33.2 - 2e-4 * i, 1000.0 - 0.5 * i) for i in range(20)]


@given(st.floats(-80, 80), st.floats(-179, 178), st.floats(-0.01, 0.01), st.floats(-0.01, 0.01))
def test_distances_agree_with_gpxpy(lat: float, lon: float, north: float, east: float) -> None:
    """Library gpxpy, haversine on its own (equatorial) radius."""
    ours = float(haversine(np.array(lat), np.array(lon), np.array(lat + north), np.array(lon + east)))
    theirs = haversine_distance(lat, lon, lat + north, lon + east) * EARTH_RADIUS / GPXPY_RADIUS
    assert abs(ours - theirs) <= 1e-6 * theirs + 1e-5


@pytest.mark.parametrize("row", REFERENCE["degree"], ids=lambda row: f"{row['latitude_deg']}")
def test_a_degree_is_as_long_as_on_the_ellipsoid_within_the_stated_error(row: dict[str, float]) -> None:
    """Lengths of a degree, WGS 84 (memory): the sphere is within 0.6 %."""
    at = row["latitude_deg"]
    north = float(haversine(np.array(at - 0.5), np.array(0.0), np.array(at + 0.5), np.array(0.0)))
    east = 10.0 * float(haversine(np.array(at), np.array(0.0), np.array(at), np.array(0.1)))
    assert abs(north / row["along_meridian_m"] - 1.0) < 0.006
    assert abs(east / row["along_parallel_m"] - 1.0) < 0.006


def test_mean_radius_is_that_of_the_ellipsoid() -> None:
    """(2a + b)/3 of WGS 84."""
    axes = REFERENCE["wgs84"]
    assert abs(EARTH_RADIUS - (2 * axes["a_m"] + axes["b_m"]) / 3) < 0.1


def test_a_track_written_by_gpxpy_comes_back_whole() -> None:
    line = profile_from_gpx(_file(WALK), level_sd=5.0)
    assert (line.name, line.points, line.points_used, line.pieces) == ("supply", 20, 20, 1)
    assert line.profile.level_sd == 5.0
    assert np.allclose(line.profile.levels, [h for _, _, h in WALK])
    flat = sum(haversine_distance(*a[:2], *b[:2]) for a, b in pairwise(WALK)) * (EARTH_RADIUS / GPXPY_RADIUS)
    assert abs(line.profile.horizontal_distances[-1] / flat - 1.0) < 1e-6
    assert line.profile.length > flat


def test_missing_heights_are_filled_along_the_line_and_counted() -> None:
    holed = [(lat, lon, None if i in (0, 5, 6) else h) for i, (lat, lon, h) in enumerate(WALK)]
    line = profile_from_gpx(_file(holed), level_sd=5.0)
    assert line.points_without_height == 3
    assert np.allclose(line.profile.levels[1:], [h for _, _, h in WALK[1:]], atol=1e-3)


def test_a_device_standing_still_does_not_lengthen_the_line() -> None:
    jitter = [WALK[0], *((WALK[0][0] + 2e-6 * (i % 2), WALK[0][1], 1000.0) for i in range(50)), *WALK[1:]]
    line = profile_from_gpx(_file(jitter), level_sd=5.0, least_spacing=1.0)
    assert abs(line.profile.length - profile_from_gpx(_file(WALK), level_sd=5.0).profile.length) < 0.5


def test_one_of_several_tracks_is_chosen_by_number() -> None:
    two = _file(WALK, copies=2)
    with pytest.raises(InputError, match="geometry_gpx_several_lines"):
        profile_from_gpx(two, level_sd=5.0)
    assert profile_from_gpx(two, level_sd=5.0, track=1).points == 20
    with pytest.raises(InputError, match="geometry_gpx_no_such_line"):
        profile_from_gpx(two, level_sd=5.0, track=2)


def test_routes_and_prefixed_names_are_read() -> None:
    text = (
        '<?xml version="1.0"?><g:gpx xmlns:g="http://www.topografix.com/GPX/1/0" version="1.0"><g:rte>'
        '<g:rtept lat="0" lon="0"><g:ele>10</g:ele></g:rtept>'
        '<g:rtept lat="0.001" lon="0"><g:ele>5</g:ele></g:rtept></g:rte></g:gpx>'
    )
    assert profile_from_gpx(text.encode(), level_sd=5.0).profile.fall == pytest.approx(5.0)


BOMB = (
    b'<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'
    b'<gpx version="1.1"><trk><name>&b;</name></trk></gpx>'
)
OUTSIDE = b'<!DOCTYPE gpx [<!ENTITY x SYSTEM "file:///etc/hostname">]><gpx><trk><name>&x;</name></trk></gpx>'


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (BOMB, "geometry_gpx_forbidden"),
        (OUTSIDE, "geometry_gpx_forbidden"),
        (b"<!DOCTYPE gpx><gpx/>", "geometry_gpx_forbidden"),
        (b"<gpx>" + b"<a>" * 200_000 + b"</a>" * 200_000 + b"</gpx>", "geometry_gpx_forbidden"),
        (b"", "geometry_gpx_unreadable"),
        (b"<gpx", "geometry_gpx_unreadable"),
        (b'<?xml version="1.0" encoding="no-such"?><gpx/>', "geometry_gpx_unreadable"),
        (b"<kml/>", "geometry_not_gpx"),
        (b"<gpx/>", "geometry_gpx_no_line"),
        (b"<gpx><trk/></gpx>", "geometry_too_few_points"),
        (_file([(0.0, 0.0, None), (0.0, 1.0, None)]), "geometry_gpx_no_heights"),
        (_file([(0.0, 0.0, 1.0)] * 3), "geometry_gpx_stands_still"),
        (
            _file([(1.5, 0.0, 1.0), (1.5, 0.001, 1.0)]).replace(b'lat="1.5"', b'lat="91"'),
            "geometry_off_the_globe",
        ),
        (
            _file([(1.5, 0.0, 1.0), (1.5, 0.001, 1.0)]).replace(b'lat="1.5"', b'lat="nan"'),
            "geometry_off_the_globe",
        ),
        (_file([(1.5, 0.0, 1.0), (1.5, 0.001, 1.0)]).replace(b'lat="1.5"', b""), "geometry_not_a_number"),
    ],
)
def test_hostile_and_broken_files_are_refused(data: bytes, code: str) -> None:
    with pytest.raises(InputError) as caught:
        profile_from_gpx(data, level_sd=5.0)
    assert caught.value.code == code


def test_size_is_capped() -> None:
    with pytest.raises(InputError, match="geometry_file_too_big"):
        profile_from_gpx(_file(WALK), level_sd=5.0, most_bytes=100)


GOOD = _file(WALK[:3])


@given(st.one_of(st.binary(max_size=200), st.tuples(st.integers(0, len(GOOD) - 1), st.binary(max_size=6))))
def test_no_file_makes_anything_but_a_line_or_an_input_error(data: bytes | tuple[int, bytes]) -> None:
    if isinstance(data, tuple):
        at, patch = data
        data = GOOD[:at] + patch + GOOD[at + len(patch) :]
    try:
        line = profile_from_gpx(data, level_sd=5.0)
    except InputError:
        return
    assert line.points_used >= 2
