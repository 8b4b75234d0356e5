"""Fall as a function of stage: low, normal and flood water, and the tailwater that drowns the waste
outlet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey._checks import at_least, column, finite, rising
from ramwright.survey.consistency import Judging
from ramwright.survey.findings import Finding, found


@dataclass(frozen=True, slots=True)
class StageLevels:
    """Water levels at one stage (m, all over one datum).

    ``name`` (low, normal, flood, or the user's own); ``stage`` any number that rises with the water, such
    as a reading on the creek's gauge (m); ``feed`` the drive-tank water level; ``tailwater`` the level at
    the waste outlet, None where it is known to lie below it.
    """

    name: str
    stage: float
    feed: Estimate
    tailwater: Estimate | None = None


@dataclass(frozen=True, slots=True)
class StageFall:
    """Fall at one stage: ``fall`` m, whether the outlet is ``drowned``, and the levels it lies between
    (m).
    """

    stage: float
    fall: Estimate
    drowned: bool
    feed: Estimate
    lower: Estimate


@dataclass(frozen=True, slots=True, eq=False)
class StageCurve:
    """Levels over stage, joined by straight lines: fall at any stage between the first and the last.

    ``stages``, ``feeds``, ``tails`` and their standard deviations are arrays of shape (n,), m; a tailwater
    known only to lie below the waste outlet counts as standing at it, the highest it may be. ``seat`` and
    ``outlet`` m; ``findings``.
    """

    stages: NDArray[np.float64]
    feeds: NDArray[np.float64]
    feed_sds: NDArray[np.float64]
    tails: NDArray[np.float64]
    tail_sds: NDArray[np.float64]
    seat: Estimate
    outlet: Estimate
    findings: tuple[Finding, ...] = ()

    def fall(self, stage: float) -> StageFall:
        """Fall at ``stage``: feed level less seat, or less tailwater once that stands over the waste outlet.

        Raises ``InputError`` outside the stages surveyed; nothing is extrapolated into a flood.
        """
        feed = self._at(stage, self.feeds, self.feed_sds, "feed level")
        tail = self._at(stage, self.tails, self.tail_sds, "tailwater")
        drowned = tail.value > self.outlet.value
        to_tail = drowned and tail.value > self.seat.value
        lower = tail if to_tail else self.seat
        origin = "feed to tailwater" if to_tail else "feed to seat"
        fall = Estimate(feed.value - lower.value, math.hypot(feed.sd, lower.sd), origin)
        return StageFall(stage, fall, drowned, feed, lower)

    def drowning_stage(self) -> float | None:
        """Lowest stage at which tailwater stands at the waste outlet and goes on rising; None if it never
        does.
        """
        over = self.tails - self.outlet.value
        if over[0] > 0.0:
            return float(self.stages[0])
        for i in range(1, over.size):
            if over[i] > 0.0:
                share = -over[i - 1] / (over[i] - over[i - 1])
                return float(self.stages[i - 1] + share * (self.stages[i] - self.stages[i - 1]))
        return None

    def _at(
        self, stage: float, levels: NDArray[np.float64], sds: NDArray[np.float64], origin: str
    ) -> Estimate:
        """Straight line between the two stages beside it; their spreads are taken as independent."""
        low, high = float(self.stages[0]), float(self.stages[-1])
        if not low <= finite("stage", stage) <= high:
            raise InputError("survey_stage_outside", field="stage", value=stage, low=low, high=high)
        i = min(int(np.searchsorted(self.stages, stage, side="right")) - 1, self.stages.size - 2)
        share = float((stage - self.stages[i]) / (self.stages[i + 1] - self.stages[i]))
        value = levels[i] * (1.0 - share) + levels[i + 1] * share
        sd = math.hypot(sds[i] * (1.0 - share), sds[i + 1] * share)
        return Estimate(float(value), sd, origin)


def stage_curve(
    levels: Sequence[StageLevels], *, seat: Estimate, outlet: Estimate | None, judging: Judging
) -> StageCurve:
    """Fall over stage from levels at two stages or more, and what to know about drowning.

    ``seat`` the waste-valve seat's level, ``outlet`` the level at which tailwater drowns the waste outlet
    (None: the seat's own), m over the same datum. Findings: the stage from which the outlet drowns, each
    surveyed stage that is drowned, whose margin is within chance (``judging.residual_limit`` spreads), or
    that leaves no fall. Raises ``InputError``: fewer than two stages, or two with one number.
    """
    at_least("levels", levels, 2)
    rows = sorted(levels, key=lambda each: each.stage)
    stages = column("stages", [row.stage for row in rows])
    rising("stages", stages)
    drowns = outlet if outlet is not None else seat
    tails = [row.tailwater if row.tailwater is not None else drowns for row in rows]
    curve = StageCurve(
        stages,
        np.array([row.feed.value for row in rows]),
        np.array([row.feed.sd for row in rows]),
        np.array([tail.value for tail in tails]),
        np.array([tail.sd for tail in tails]),
        seat,
        drowns,
    )
    return replace(curve, findings=_findings(curve, rows, judging))


def _findings(curve: StageCurve, rows: Sequence[StageLevels], judging: Judging) -> tuple[Finding, ...]:
    out: list[Finding] = []
    drowns_at = curve.drowning_stage()
    if drowns_at is not None:
        out.append(found("outlet_drowns_at", "stages", stage=drowns_at))
    for row in rows:
        at = curve.fall(row.stage)
        if at.fall.value <= 0.0:
            out.append(found("fall_gone", row.name, stage=row.stage, fall_m=at.fall.value))
        if row.tailwater is None:
            continue
        margin = curve.outlet.value - row.tailwater.value
        sd = math.hypot(curve.outlet.sd, row.tailwater.sd)
        if abs(margin) < judging.residual_limit * sd:
            out.append(
                found("outlet_near_drowning", row.name, stage=row.stage, margin_m=margin, margin_sd_m=sd)
            )
        if at.drowned:
            out.append(
                found(
                    "outlet_drowned",
                    row.name,
                    stage=row.stage,
                    tailwater_above_outlet_m=-margin,
                    fall_m=at.fall.value,
                )
            )
    return tuple(out)
