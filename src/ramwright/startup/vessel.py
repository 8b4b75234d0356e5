"""The air vessel while the line fills: how much air it holds at a head, and what it takes in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import overload

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Installation
from ramwright.site import Site

_G = 9.80665
Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Vessel:
    """``volume`` m3; ``charge`` the absolute head (m of water) its air was shut in at; ``atmosphere`` m.

    A plain one, drained before the start, shuts in outside air. A bladder is charged, and takes in
    nothing until the head on the ram is above its charge.
    """

    volume: float
    charge: float
    atmosphere: float

    @overload
    def air(self, head: float) -> float: ...
    @overload
    def air(self, head: Array) -> Array: ...
    def air(self, head: float | Array) -> float | Array:
        """Air room (m3) at a head (m) on the ram, squeezed slowly: Boyle, p V constant."""
        room = self.volume * np.minimum(self.charge / (self.atmosphere + np.asarray(head)), 1.0)
        return room if isinstance(head, np.ndarray) else float(room)

    @overload
    def taken(self, head: float) -> float: ...
    @overload
    def taken(self, head: Array) -> Array: ...
    def taken(self, head: float | Array) -> float | Array:
        """Water (m3) in it at a head (m) on the ram."""
        return self.volume - self.air(head)

    @property
    def charge_head(self) -> float:
        """Head (m) it was charged to, 0 for a plain one."""
        return max(self.charge - self.atmosphere, 0.0)

    def felt(self, head: float) -> float:
        """Head (m) the ram pumps against when water stands to ``head`` (m) in the line.

        A bladder that is not yet squeezed gives no cushion: the beat's water cannot set the column in
        the line moving within the beat, so it lifts the bladder, at its charge or more. Own reasoning
        from the column's inertia; holds while the line is long against the drive pipe.
        """
        return max(head, self.charge_head)


def vessel_of(site: Site | None, installation: Installation) -> Vessel:
    """The air vessel of an installation; ``site`` says whether it is a bladder (None: plain)."""
    weight = installation.water.density * _G
    atmosphere = installation.water.atmospheric_pressure / weight
    charge = atmosphere
    if site is not None and site.air_vessel is not None and site.air_vessel.kind == "bladder":
        # The installation knows the squeezed volume only; at the lift it obeys the same law.
        squeezed = installation.air_m3 * (atmosphere + installation.lift.value)
        charge = max(squeezed / installation.vessel_volume, atmosphere)
    return Vessel(volume=installation.vessel_volume, charge=charge, atmosphere=atmosphere)
