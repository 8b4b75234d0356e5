"""Where a figure comes from, and how far it may be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from ramwright.quantities import Estimate


class Mark(StrEnum):
    """How a figure got into the catalogue."""

    READ = "read"
    """Seen in a copy of the source."""
    DERIVED = "derived"
    """Computed by a stated formula; :attr:`Provenance.rests_on` says what from."""
    MEMORY = "memory"
    """Recalled from the named work, not seen again."""
    PRACTICE = "common practice, no source"
    """What the trade commonly does; nobody to point at."""
    JUDGEMENT = "judgement"
    """A guess of ours, with a wide range."""


# Low and high are values exceeded nine times and once in ten: 10 % and 90 % of a bell curve lie
# 1.2816 standard deviations either side of its middle (normal tables, from memory).
_SD_BETWEEN_LOW_AND_HIGH: Final = 2.0 * 1.2815515655446004


@dataclass(frozen=True, slots=True)
class Source:
    """A work that figures come from; ``read`` when a copy of the passage was seen."""

    key: str
    text: str
    read: bool


@dataclass(frozen=True, slots=True)
class Provenance:
    """Mark and source of a figure; for a derived one, the mark of what it was computed from."""

    mark: Mark
    source: Source
    rests_on: Mark

    @property
    def firm(self) -> bool:
        """Whether it was read, or computed from what was read. A verdict resting on less says so."""
        return self.rests_on is Mark.READ


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure with its range, in the SI unit named by ``unit`` ("1" for none)."""

    low: float
    likely: float
    high: float
    unit: str
    provenance: Provenance

    def estimate(self) -> Estimate:
        """The likely value with the standard deviation that low and high stand for.

        Low and high are taken as exceeded nine times and once in ten, so the standard deviation is
        (high - low) / 2.563; a lopsided range keeps its likely value and loses its lean.
        """
        from ramwright.quantities import Estimate  # here, so that reading a table stays quick

        return Estimate(self.likely, (self.high - self.low) / _SD_BETWEEN_LOW_AND_HIGH, self.provenance.mark)

    def scaled(self, factor: float, unit: str | None = None) -> Figure:
        """The figure times a ``factor`` that is not negative, in ``unit`` (the same when None)."""
        return Figure(
            self.low * factor,
            self.likely * factor,
            self.high * factor,
            unit or self.unit,
            self.provenance,
        )
