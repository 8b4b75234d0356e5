"""What an appraisal takes where the sheet says nothing: every such value is on record."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from ramwright.catalogue import Figure, Mark, ShopRam, shop_ram, shop_ram_sizes, table
from ramwright.quantities import Estimate, Kind, Reading

_KELVIN = 273.15


@dataclass(frozen=True, slots=True)
class Assumption:
    """One value taken: the field of the sheet it stands for, the value (SI) and how it is known."""

    field: str
    value: float
    kind: Kind
    mark: Mark


@dataclass(slots=True)
class Ledger:
    """Collects assumptions while an installation is put together."""

    entries: list[Assumption] = field(default_factory=list)

    def take(self, name: str, figure: Figure, kind: Kind) -> Estimate:
        """Take a figure for the field ``name`` and put it on record; its value with its spread (SI)."""
        self.entries.append(Assumption(name, figure.likely, kind, figure.provenance.mark))
        return figure.estimate()

    def reading(self, reading: Reading | None, name: str, figure: Figure, kind: Kind) -> float:
        """The reading's value, or the figure's likely one, put on record."""
        return reading.value if reading is not None else self.take(name, figure, kind).value


def taken(what: str) -> Figure:
    """The figure of the appraisal's table for ``what``, SI."""
    return table("appraisal").row(what).figure


def in_kelvin(figure: Figure) -> Figure:
    """A temperature of the catalogue, degrees C, in K as every quantity is shown from."""
    low, likely, high = (celsius + _KELVIN for celsius in (figure.low, figure.likely, figure.high))
    return Figure(low, likely, high, "k", figure.provenance)


def spread_of(reading: Reading, share: str, least: str | None = None) -> Estimate:
    """A reading with the spread stated on the sheet, or else the usual share of its value."""
    if reading.sd is not None:
        return Estimate(reading.value, reading.sd, "typed")
    sd = taken(share).likely * abs(reading.value)
    if least is not None:
        sd = max(sd, taken(least).likely)
    return Estimate(reading.value, sd, "spread_assumed")


def nearest_shop_ram(nominal_m: float) -> ShopRam:
    """The shop-built ram of the catalogue nearest to a nominal size in metres."""
    near = min(shop_ram_sizes(), key=lambda size: abs(math.log(shop_ram(size).bore_m.likely / nominal_m)))
    return shop_ram(near)
