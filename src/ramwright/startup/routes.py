"""The ways of a site's lines for a start: profiles as the sheet gives them, and the supply line to prime."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from ramwright.appraise import Installation
from ramwright.appraise.laid import LaidLine, along
from ramwright.catalogue import table
from ramwright.errors import InputError
from ramwright.geometry import Profile
from ramwright.hydraulics.line import Line
from ramwright.site import Site
from ramwright.startup.priming import Means

#: A way and the pipe laid along it may differ by this share: both are taped in the field.
_TAPED = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyLine:
    """A supply line to prime: levels (m) in its profile's own datum; ``outlet_level`` None: in the open.

    Summits lower than ``least_summit`` (m) are none.
    """

    line: Line
    source_level: float
    outlet_level: float | None = None
    least_summit: float = 0.0
    means: Means = field(default_factory=Means)


@dataclass(frozen=True, slots=True, eq=False)
class Ways:
    """What is known of the ways of an installation's lines; None: taken as even, or no supply line.

    ``delivery`` runs from the ram to the tank and ``drive`` from the drive tank to the ram.
    """

    delivery: Profile | None = None
    drive: Profile | None = None
    supply: SupplyLine | None = None


def ways_of(site: Site, installation: Installation) -> Ways:
    """The ways a sheet gives, above the waste-valve seat. Raises ``InputError`` as ``appraise.laid`` does."""
    i = installation
    drive = along(site, "drive_pipe", i.drive_pipe, start=i.fall.value - i.cover, end=0.0)
    delivery = along(site, "delivery_line", i.delivery_line, start=0.0, end=i.lift.value)
    supply = None
    if i.supply is not None:
        supply = SupplyLine(
            line=i.supply.line,
            source_level=i.supply.source_level,
            outlet_level=i.supply.outlet_level,
            least_summit=i.supply.laid.least_summit,
        )
    return Ways(_given(delivery), _given(drive), supply)


def _given(laid: LaidLine) -> Profile | None:
    return laid.profile if laid.surveyed else None


def least_summit(profile: Profile, bore: float) -> float:
    """Height (m) from which a summit counts: a part of the ``bore`` (m), and beyond the levels' spread."""
    share = table("layout_rules").row("summit-over-bore").number("likely")
    return max(share * bore, profile.level_sd or 0.0)


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
