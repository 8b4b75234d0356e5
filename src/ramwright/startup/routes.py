"""The ways of a site's lines, from its sheet: profiles, and the supply line that has to be primed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

import numpy as np

from ramwright.appraise.assume import Ledger, taken
from ramwright.appraise.stretches import stretches
from ramwright.catalogue import table
from ramwright.errors import InputError
from ramwright.geometry import Measured, Profile
from ramwright.geometry.gpx import profile_from_gpx
from ramwright.geometry.tables import MOST_BYTES, profile_from_csv, profile_from_rows
from ramwright.hydraulics.line import Fitting, Line, Segment
from ramwright.site import Route, Site
from ramwright.startup.priming import Means

LineName = Literal["supply_line", "drive_pipe", "delivery_line"]
#: A way and the pipe laid along it may differ by this share: both are taped in the field.
_TAPED = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyLine:
    """A supply line to prime: levels (m) in its profile's own datum; ``outlet_level`` None: in the open."""

    line: Line
    source_level: float
    outlet_level: float | None = None
    means: Means = field(default_factory=Means)


def route_profile(site: Site, name: LineName) -> Profile | None:
    """The profile a sheet gives for one of its lines, from where its water enters; None where it gives none.

    Raises ``InputError``: ``startup_route_file`` and ``startup_route_elsewhere`` for a file that cannot be
    read or does not lie beside the sheet, and those of ``geometry``.
    """
    route: Route | None = getattr(site.profiles, name) if site.profiles is not None else None
    if route is None:
        return None
    measured = Measured.HORIZONTAL if route.measured == "level" else Measured.SLOPE
    spread = route.level_spread.value if route.level_spread is not None else None
    if route.file is None:
        return profile_from_rows(route.rows, unit=route.unit or "m", measured=measured, level_sd=spread)
    where = f"profiles.{name}.file"
    data = _read(site, route.file, where)
    try:
        if route.file.lower().endswith(".gpx"):
            poor = table("instruments").row(instrument="phone-gps", quantity="height").number("likely")
            return profile_from_gpx(data, level_sd=poor if spread is None else spread).profile
        return profile_from_csv(data, unit=route.unit or "m", measured=measured, level_sd=spread)
    except InputError as error:
        # The line it names is one of that file, not of the sheet.
        error.field = f"{route.file}: {error.field}"
        raise


def _read(site: Site, name: str, where: str) -> bytes:
    """A file beside the sheet, and nowhere else."""
    path = Path(site.folder or ".") / name
    if Path(name).name != name:
        raise InputError("startup_route_elsewhere", field=where, value=name)
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except OSError as error:
        raise InputError("startup_route_file", field=where, value=name, reason=error.strerror) from None


def fitted(profile: Profile, lengths: Sequence[float], *, name: str) -> Profile:
    """``profile`` with its stations stretched to the length of the pipes laid along it (m), from zero.

    Raises ``InputError("startup_route_length")`` where they differ by more than a tenth.
    """
    pipes = math.fsum(lengths)
    share = pipes / profile.length
    if abs(share - 1.0) > _TAPED:
        raise InputError("startup_route_length", field=name, value=pipes, length=profile.length)
    stations = (profile.stations - profile.stations[0]) * share
    return replace(profile, stations=stations)


def supply_of(site: Site) -> SupplyLine | None:
    """A sheet's supply line with its way, ready to be primed; None where the sheet lacks either.

    Water stands over the start of the pipe by the intake's cover (the usual one where it is not said), and
    in the drive tank lower by the drop; without a drop its outlet is taken to lie in the open.
    """
    profile = route_profile(site, "supply_line")
    if profile is None or not site.supply_line:
        return None
    pieces = stretches(site.supply_line, "supply_line", Ledger())
    profile = fitted(profile, [s.length for s in pieces], name="supply_line")
    ends = np.cumsum([s.length for s in pieces]).tolist()
    last = float(profile.stations[-1])
    line = Line(
        profile=profile,
        segments=tuple(Segment(length=s.length, bore=s.bore, roughness=s.roughness) for s in pieces),
        fittings=tuple(
            Fitting(station=min(end, last), loss=s.loss, label=s.name)
            for s, end in zip(pieces, ends, strict=True)
            if s.loss > 0.0
        ),
    )
    intake = site.intake
    cover = intake.cover.value if intake is not None and intake.cover is not None else taken("cover").likely
    top = intake.level.value if intake is not None and intake.level is not None else float(profile.levels[0])
    drop = intake.drop.value if intake is not None and intake.drop is not None else None
    source = top + cover
    return SupplyLine(line=line, source_level=source, outlet_level=None if drop is None else source - drop)
