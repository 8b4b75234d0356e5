"""Profiles from a GPX track or route: horizontal distances fair, heights poor."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ramwright.errors import InputError
from ramwright.geometry.profile import FloatArray, Measured, Profile

MOST_BYTES = 10_000_000
MOST_POINTS = 50_000
_DEEPEST = 30
EARTH_RADIUS = 6_371_008.8
"""Mean radius of the WGS 84 ellipsoid, (2a + b)/3, m (definition)."""


@dataclass(frozen=True, slots=True)
class GpxLine:
    """A line read from GPX.

    ``profile`` its stations and levels, whose ``level_sd`` is the spread given; ``name`` of the track;
    ``points`` as read; ``points_used`` after thinning; ``points_without_height`` filled in along the line;
    ``pieces`` the track segments joined end to end.
    """

    profile: Profile
    name: str
    points: int
    points_used: int
    points_without_height: int
    pieces: int


@dataclass(frozen=True, slots=True)
class _Path:
    """One track or route as read.

    Its name, points as (latitude, longitude, height or None), and its pieces.
    """

    name: str
    points: tuple[tuple[float, float, float | None], ...]
    pieces: int


def haversine(
    latitudes: FloatArray, longitudes: FloatArray, to_latitudes: FloatArray, to_longitudes: FloatArray
) -> FloatArray:
    """Return great-circle distances on a sphere of the mean radius, m; all arrays in degrees, one shape.

    Haversine formula (textbook); against the ellipsoid it is off by at most 0.6 %.
    """
    phi, to_phi = np.radians(latitudes), np.radians(to_latitudes)
    half_phi = (to_phi - phi) / 2.0
    half_lambda = np.radians(to_longitudes - longitudes) / 2.0
    h = np.sin(half_phi) ** 2 + np.cos(phi) * np.cos(to_phi) * np.sin(half_lambda) ** 2
    return np.asarray(2.0 * EARTH_RADIUS * np.arcsin(np.sqrt(np.clip(h, 0.0, 1.0))), dtype=np.float64)


def profile_from_gpx(
    data: bytes,
    *,
    level_sd: float,
    track: int | None = None,
    least_spacing: float = 1.0,
    most_bytes: int = MOST_BYTES,
) -> GpxLine:
    """Return the line of a GPX file's track (or route, where it holds no track).

    ``level_sd`` m, the spread of the device's heights (several metres: they never make a fall); ``track``
    which of several, counted from 0; ``least_spacing`` m, points nearer to the last one kept are dropped,
    as a device standing still wanders. Files that declare a document type or entities are refused unread.
    Raises ``InputError``.
    """
    root = _safe_root(data, most_bytes)
    path = _choose(_paths(root), track)
    if len(path.points) < 2:
        raise InputError("geometry_too_few_points", field="file", value=len(path.points))
    lat = np.array([p[0] for p in path.points])
    lon = np.array([p[1] for p in path.points])
    heights = np.array([np.nan if p[2] is None else p[2] for p in path.points])
    missing = ~np.isfinite(heights)
    if int(np.count_nonzero(~missing)) < 2:
        raise InputError("geometry_gpx_no_heights", field="file", value=int(np.count_nonzero(~missing)))
    kept = _thin(lat, lon, least_spacing)
    if len(kept) < 2:
        raise InputError(
            "geometry_gpx_stands_still", field="file", value=len(path.points), spacing=least_spacing
        )
    running = np.concatenate(([0.0], np.cumsum(haversine(lat[:-1], lon[:-1], lat[1:], lon[1:]))))
    heights = np.interp(running, running[~missing], heights[~missing])
    lat, lon, heights = lat[kept], lon[kept], heights[kept]
    steps = haversine(lat[:-1], lon[:-1], lat[1:], lon[1:])
    profile = Profile.from_points(
        np.concatenate(([0.0], np.cumsum(steps))), heights, measured=Measured.HORIZONTAL, level_sd=level_sd
    )
    return GpxLine(
        profile=profile,
        name=path.name,
        points=len(path.points),
        points_used=len(kept),
        points_without_height=int(np.count_nonzero(missing)),
        pieces=path.pieces,
    )


def _thin(lat: FloatArray, lon: FloatArray, least_spacing: float) -> list[int]:
    """Return the indices kept: the first, then each at least ``least_spacing`` (m) from the last kept."""
    spacing = max(least_spacing, 1e-3)
    kept = [0]
    for i in range(1, lat.size):
        k = kept[-1]
        if float(haversine(lat[k], lon[k], lat[i], lon[i])) >= spacing:
            kept.append(i)
    return kept


def _safe_root(data: bytes, most_bytes: int) -> ET.Element:
    """Return the root of XML that declares no document type or entity and is neither big nor deep."""
    from defusedxml import DefusedXmlException
    from defusedxml import ElementTree as SafeTree

    if len(data) > most_bytes:
        raise InputError("geometry_file_too_big", field="file", value=len(data), most=most_bytes)
    try:
        root: ET.Element = SafeTree.fromstring(data, forbid_dtd=True)
    except ET.ParseError as cause:
        raise InputError("geometry_gpx_unreadable", field="file", line=cause.position[0]) from cause
    except DefusedXmlException as cause:
        raise InputError("geometry_gpx_forbidden", field="file") from cause
    except (ValueError, LookupError) as cause:  # an encoding nobody knows, a byte outside it
        raise InputError("geometry_gpx_unreadable", field="file") from cause
    level: Sequence[ET.Element] = [root]
    for _ in range(_DEEPEST):
        level = [child for element in level for child in element]
        if not level:
            return root
    raise InputError("geometry_gpx_forbidden", field="file")


def _local(element: ET.Element) -> str:
    """Return the element's name without its namespace; comments and instructions have none."""
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


def _named(element: ET.Element, name: str) -> list[ET.Element]:
    """Return the children called ``name`` in any namespace (GPX 1.0 and 1.1 differ only there)."""
    return [child for child in element if _local(child) == name]


def _paths(root: ET.Element) -> list[_Path]:
    """Return the tracks, or where there are none the routes."""
    if _local(root) != "gpx":
        raise InputError("geometry_not_gpx", field="file", value=_local(root)[:80])
    paths = []
    for line, piece, point in (("trk", "trkseg", "trkpt"), ("rte", "", "rtept")):
        for element in _named(root, line):
            pieces = _named(element, piece) if piece else [element]
            points = [_point(p, at) for part in pieces for at, p in enumerate(_named(part, point))]
            if len(points) > MOST_POINTS:
                raise InputError(
                    "geometry_too_many_points", field="file", value=len(points), most=MOST_POINTS
                )
            filled = sum(1 for part in pieces if _named(part, point))
            paths.append(_Path(name=_text(element, "name")[:200], points=tuple(points), pieces=filled))
        if paths:
            break
    return paths


def _text(element: ET.Element, name: str) -> str:
    """Return the text of the first child called ``name``, stripped; empty where there is none."""
    found = _named(element, name)
    return (found[0].text or "").strip() if found else ""


def _point(element: ET.Element, at: int) -> tuple[float, float, float | None]:
    """Return a point's latitude, longitude (degrees) and height (m), refusing what is off the globe."""
    lat = _coordinate(element.get("lat", ""), "lat", at, 90.0)
    lon = _coordinate(element.get("lon", ""), "lon", at, 180.0)
    height = _text(element, "ele")
    return lat, lon, _coordinate(height, "ele", at, 10_000.0) if height else None


def _coordinate(text: str, field: str, at: int, most: float) -> float:
    """Return the number in ``text``, within ``most`` either way of zero."""
    try:
        number = float(text)
    except ValueError as cause:
        raise InputError("geometry_not_a_number", field=f"{field}[{at}]", value=text[:40]) from cause
    if not abs(number) <= most:
        raise InputError("geometry_off_the_globe", field=f"{field}[{at}]", value=text[:40], most=most)
    return number


def _choose(paths: list[_Path], track: int | None) -> _Path:
    """Return the one asked for, or the only one."""
    if not paths:
        raise InputError("geometry_gpx_no_line", field="file")
    if track is None:
        if len(paths) > 1:
            names = ", ".join(f"{i}: {p.name}" for i, p in enumerate(paths[:20]))
            raise InputError("geometry_gpx_several_lines", field="track", value=len(paths), names=names)
        return paths[0]
    if not 0 <= track < len(paths):
        raise InputError("geometry_gpx_no_such_line", field="track", value=track, most=len(paths) - 1)
    return paths[track]
