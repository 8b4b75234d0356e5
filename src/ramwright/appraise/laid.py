"""The lines of a site as laid: the way each goes, level above the waste-valve seat, and its pipe."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final, Literal

import numpy as np

from ramwright.appraise.stretches import Stretch
from ramwright.catalogue import table
from ramwright.errors import InputError
from ramwright.geometry import Measured, Profile
from ramwright.hydraulics.line import Fitting, Line, Segment
from ramwright.site import Route, Site

LineName = Literal["supply_line", "drive_pipe", "delivery_line"]
#: A pipe and the way it is said to go along are not the same line when they differ by more than this.
_ANOTHER_LINE: Final = 0.3
#: A pipe is never laid quite upright; an even line of unknown way is not drawn steeper than this.
_STEEPEST: Final = 0.999
_LONGEST_FILE: Final = 2_000_000


@dataclass(frozen=True, slots=True)
class Surveyed:
    """A way as the sheet gives it, on its own datum: ``poor`` where its heights are a telephone's."""

    profile: Profile
    poor: bool


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class LaidLine:
    """One line from where its water enters.

    ``profile``: stations in m of pipe from 0, levels of the pipe's axis in m above the waste-valve seat;
    ``pieces`` of pipe in order. ``surveyed``: whether the sheet gives its way, else it is taken as even;
    ``poor``: whether its heights are a telephone's; ``route_length`` m, along the way as given.
    """

    name: LineName
    profile: Profile
    pieces: tuple[Stretch, ...]
    surveyed: bool = False
    poor: bool = False
    route_length: float

    @property
    def length(self) -> float:
        """Length of its pipe, m."""
        return math.fsum(piece.length for piece in self.pieces)

    @property
    def least_summit(self) -> float:
        """Height (m) from which a summit counts: a part of the bore, and beyond the levels' own spread."""
        share = table("layout_rules").row("summit-over-bore").number("likely")
        bore = max(piece.bore for piece in self.pieces)
        return max(share * bore, self.profile.level_sd or 0.0)

    @property
    def joints(self) -> tuple[float, ...]:
        """Stations where pieces begin and end, m, both ends of the line included."""
        ends = np.cumsum([0.0, *(piece.length for piece in self.pieces)]) * self.profile.length / self.length
        return tuple(ends.tolist())

    def hydraulic(self, *, entrance_loss: float, exit_loss: float = 1.0) -> Line:
        """The line for hydraulics; the fittings of a piece stand at its middle."""
        ends = self.joints
        segments = tuple(Segment(length=p.length, bore=p.bore, roughness=p.roughness) for p in self.pieces)
        fittings = tuple(
            Fitting(station=0.5 * (start + end), loss=piece.loss)
            for piece, start, end in zip(self.pieces, ends, ends[1:], strict=False)
            if piece.loss > 0.0
        )
        return Line(self.profile, segments, fittings, entrance_loss=entrance_loss, exit_loss=exit_loss)


def route_profile(site: Site, name: LineName) -> Surveyed | None:
    """The way the sheet gives for one of its lines, on its own datum; None where it gives none.

    Raises ``InputError``: ``profile_file_...`` for a file that cannot be read or does not lie beside the
    sheet, and those of ``geometry``, about the row of the sheet or the line of the file.
    """
    route: Route | None = getattr(site.profiles, name) if site.profiles is not None else None
    if route is None:
        return None
    measured = Measured.HORIZONTAL if route.measured == "level" else Measured.SLOPE
    spread = route.level_spread.value if route.level_spread is not None else None
    poor = table("instruments").row(instrument="phone-gps", quantity="height").figure
    if route.file is None:
        profile = _from_rows(route, f"profiles.{name}", measured, spread)
        return Surveyed(profile, poor=spread is not None and spread >= poor.low)
    data = _read(site, route.file, f"profiles.{name}.file")
    try:
        if route.file.lower().endswith(".gpx"):
            from ramwright.geometry.gpx import profile_from_gpx

            sd = poor.likely if spread is None else spread
            return Surveyed(profile_from_gpx(data, level_sd=sd).profile, poor=True)
        from ramwright.geometry.tables import profile_from_csv

        profile = profile_from_csv(data, unit=route.unit or "m", measured=measured, level_sd=spread)
    except InputError as error:
        error.field = route.file  # its line is one of that file
        raise
    return Surveyed(profile, poor=spread is not None and spread >= poor.low)


def _from_rows(route: Route, where: str, measured: Measured, spread: float | None) -> Profile:
    from ramwright.geometry.tables import profile_from_rows

    try:
        return profile_from_rows(route.rows, unit=route.unit or "m", measured=measured, level_sd=spread)
    except InputError as error:
        row = "" if error.line is None else f"[{error.line - 1}]"
        error.field, error.line = f"{where}.rows{row}", None
        raise


def _read(site: Site, name: str, field: str) -> bytes:
    """A file that lies beside the sheet or below it, and nowhere else."""
    if site.folder is None:
        raise InputError("profile_file_no_sheet", field=field, value=name)
    try:
        folder = Path(site.folder).resolve()
        path = (folder / name).resolve()
        if not path.is_relative_to(folder):
            raise InputError("profile_file_apart", field=field, value=name)
        with path.open("rb") as file:
            return file.read(_LONGEST_FILE + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else None
        raise InputError(
            "profile_file_unread", field=field, value=name, reason=reason or type(error).__name__
        ) from None


def along(
    site: Site, name: LineName, pieces: tuple[Stretch, ...], *, start: float, end: float, anchor: float = 1.0
) -> LaidLine:
    """Lay ``pieces`` along the way the sheet gives, or evenly from ``start`` to ``end`` (m above the seat).

    A way on a datum whose ``seat`` is known is shifted by it; another is hung up by its upper or lower end
    (``anchor`` 0 the first point, 1 the last) at the level known there. Poor heights are pinned at both
    ends. Stations are stretched to the length of the pipe. Raises ``InputError`` ``profile_other_line``
    where that is out of the question, and as ``route_profile``.
    """
    length = math.fsum(piece.length for piece in pieces)
    found = route_profile(site, name)
    if found is None:
        steepest = _STEEPEST * length
        rise = min(max(end - start, -steepest), steepest)
        ends = (end - rise, end) if anchor else (start, start + rise)
        straight = Profile(stations=np.array([0.0, length]), levels=np.array(ends))
        return LaidLine(name=name, profile=straight, pieces=pieces, route_length=length)
    given = found.profile
    stations = given.stations - given.stations[0]
    share = length / given.length
    if abs(share - 1.0) > _ANOTHER_LINE:
        raise InputError("profile_other_line", field=f"profiles.{name}", value=given.length, pipe=length)
    seat = site.profiles.seat if site.profiles is not None else None
    if found.poor:
        off = np.interp(stations, [0.0, stations[-1]], [start - given.levels[0], end - given.levels[-1]])
        levels = given.levels + off
    elif seat is not None:
        levels = given.levels - seat.value
    else:
        levels = given.levels + (end - given.levels[-1] if anchor else start - given.levels[0])
    try:
        profile = replace(given, stations=stations * share, levels=levels)
    except InputError as error:
        raise InputError(
            "profile_other_line", field=f"profiles.{name}", value=given.length, pipe=length
        ) from error
    return LaidLine(
        name=name,
        profile=profile,
        pieces=pieces,
        surveyed=True,
        poor=found.poor,
        route_length=given.length,
    )
