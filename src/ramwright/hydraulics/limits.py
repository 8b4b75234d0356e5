"""A number held against a limit: what every result of this room names as ruling."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Side(StrEnum):
    """Which way a limit holds."""

    AT_MOST = "at_most"
    AT_LEAST = "at_least"


@dataclass(frozen=True, slots=True)
class Held:
    """One number against its limit, both in one SI unit.

    ``code`` says what was held (fixed words, for sentences); ``number`` and ``limit``; ``side`` whether the
    number may be at most or must be at least the limit; ``station`` m along the line, None when it has no
    place.
    """

    code: str
    number: float
    limit: float
    side: Side
    station: float | None = None

    @property
    def ok(self) -> bool:
        """Whether the limit is kept."""
        return self.number <= self.limit if self.side is Side.AT_MOST else self.number >= self.limit

    @property
    def use(self) -> float:
        """Share of the limit used up, not negative.

        Above 1 exactly when the limit is broken, infinite past all measure.
        """
        number, limit = (
            (self.number, self.limit) if self.side is Side.AT_MOST else (-self.number, -self.limit)
        )
        # now number may be at most limit; where the limit lies below zero, nearer to zero is worse
        if limit > 0.0:
            return max(number, 0.0) / limit
        if limit < 0.0:
            return limit / number if number < 0.0 else math.inf
        return math.inf if number > 0.0 else 0.0


def ruling(held: Iterable[Held]) -> Held:
    """Return the one that uses most of its limit, the first of equals; ``held`` must not be empty."""
    return max(held, key=lambda h: h.use)
