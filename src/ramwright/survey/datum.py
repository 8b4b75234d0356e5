"""From the point stood on to the point meant: seat, gauge and water-level corrections, measured or assumed.

A correction that nobody measured is never silently nought. Either a stated range is used, its middle as value
and its width as spread, with a finding that gives the size of the possible error; or the reading cannot be
reduced, and a finding says that.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey._checks import finite
from ramwright.survey.findings import Finding, found
from ramwright.survey.level_graph import reached_from
from ramwright.survey.level_net import HeightDifference
from ramwright.survey.points import IntakeDam, LevelPoint, Stand


@dataclass(frozen=True, slots=True)
class TapedOffset:
    """A measured height of ``end`` over ``start`` (m), at one place: seat over ground, gauge over seat, water
    over outlet lip, water with the dam in over water with it out.
    """

    start: LevelPoint
    end: LevelPoint
    height: Estimate
    label: str = "tape"

    def leg(self) -> HeightDifference:
        """As a difference of level; raises ``InputError`` for two places or a spread of nought."""
        if self.start.place != self.end.place:
            raise InputError("survey_offset_two_places", field=self.label, value=self.end.place)
        if self.height.sd <= 0.0:
            raise InputError("survey_spread_missing", field=self.label, value=self.height.value)
        return HeightDifference(self.start.key, self.end.key, self.height.value, self.height.sd, self.label)


@dataclass(frozen=True, slots=True)
class OffsetRange:
    """How far apart two stands may be when nobody measured: ``end`` over ``start`` between ``low`` and
    ``high`` m.

    With water surfaces the dam states tell which two are meant.
    """

    start: Stand
    end: Stand
    low: float
    high: float
    start_dam: IntakeDam = IntakeDam.NONE
    end_dam: IntakeDam = IntakeDam.NONE

    def __post_init__(self) -> None:
        finite("low", self.low)
        if finite("high", self.high) <= self.low:
            raise InputError("survey_range_upside_down", field="high", value=self.high, low=self.low)

    @property
    def middle(self) -> float:
        """Middle of the range, m."""
        return (self.low + self.high) / 2.0

    @property
    def sd(self) -> float:
        """Standard deviation (m) of even chances over the range: width / sqrt 12 (GUM 4.3.7, from memory)."""
        return (self.high - self.low) / math.sqrt(12.0)

    def between(self, start: LevelPoint, end: LevelPoint) -> bool:
        """Whether this range is for these two points, in this order."""
        return (self.start, self.start_dam, self.end, self.end_dam) == (
            start.stand,
            start.dam,
            end.stand,
            end.dam,
        )


@dataclass(frozen=True, slots=True)
class DatumCorrection:
    """Legs that had to be assumed, and what was noticed."""

    legs: tuple[HeightDifference, ...]
    findings: tuple[Finding, ...]


def bridge_to(
    target: LevelPoint,
    *,
    others: Iterable[LevelPoint],
    points: Iterable[LevelPoint],
    legs: Sequence[HeightDifference],
    ranges: Sequence[OffsetRange],
) -> DatumCorrection:
    """Tie every other point read at the target's place to the target.

    ``points`` all points read; ``legs`` all measured legs, tapes among them; ``others`` the other points
    the facts are between. A point that tape or levels tie to the target, other than by way of those, needs
    nothing. Else the matching range is used and reported (``datum_assumed``), or the reading stays untied
    and that is reported (``datum_not_reducible``).
    """
    every = list(dict.fromkeys(points))
    far = {other.place for other in others} - {target.place}
    away = {point.key for point in every if point.place in far}
    ties = [(leg.start, leg.end) for leg in legs if leg.start not in away and leg.end not in away]
    tied = reached_from({target.key}, ties)
    assumed: list[HeightDifference] = []
    findings: list[Finding] = []
    for point in sorted(every, key=lambda each: each.key):
        if point.place != target.place or point.key in tied or point.stand is Stand.MARK:
            continue
        chosen = _range_for(point, target, ranges)
        if chosen is None:
            findings.append(found("datum_not_reducible", point.key, names=(target.key,)))
            continue
        middle = chosen.middle if chosen.between(point, target) else -chosen.middle
        assumed.append(HeightDifference(point.key, target.key, middle, chosen.sd, "assumed"))
        findings.append(
            found(
                "datum_assumed",
                point.key,
                names=(target.key,),
                low_m=chosen.low,
                high_m=chosen.high,
                used_m=middle,
                possible_error_m=(chosen.high - chosen.low) / 2.0,
            )
        )
    return DatumCorrection(tuple(assumed), tuple(findings))


def _range_for(point: LevelPoint, target: LevelPoint, ranges: Sequence[OffsetRange]) -> OffsetRange | None:
    for each in ranges:
        if each.between(point, target) or each.between(target, point):
            return each
    return None
