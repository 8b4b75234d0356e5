"""What holds ram and drive pipe: what a loose ram costs, and the weight that would hold it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ramwright.appraise.installation import Installation
from ramwright.appraise.prediction import Prediction
from ramwright.catalogue import table
from ramwright.hydraulics.anchor import RankedThrust, ThrustPoint, rank_thrusts
from ramwright.hydraulics.water import STANDARD_GRAVITY
from ramwright.ram import RunResult, run_one


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Held:
    """How ram and drive pipe are held.

    ``fast``: they cannot move. ``if_fast``: the ram at its middle if it could not, None where it cannot.
    ``thrusts``: what pushes at the peak of a beat, the most of it first: the ram (no bend angle) and one
    bend of each angle in each piece.
    """

    fast: bool
    if_fast: RunResult | None
    thrusts: tuple[RankedThrust, ...]

    def loss(self, p: Prediction) -> float | None:
        """Share of the delivery that the loose ram loses, 0 to 1; None where nothing is lost or known."""
        if self.if_fast is None or not self.if_fast.delivery > 0.0:
            return None
        return max(0.0, 1.0 - max(p.middle.delivery, 0.0) / self.if_fast.delivery)


def holding(i: Installation, p: Prediction) -> Held:
    """Compare the ram as held with one that cannot move, and weigh what would hold it."""
    fixed = run_one(replace(p.system, mount=None)) if p.system.mount is not None else None
    return Held(fast=i.mount is None, if_fast=fixed, thrusts=_thrusts(i, p))


def _thrusts(i: Installation, p: Prediction) -> tuple[RankedThrust, ...]:
    if p.peak_head is None:
        return ()
    layout = table("layout_rules")
    friction = layout.row("ground-friction").number("likely")
    factor = layout.row("holding-factor").number("likely")
    pressure = p.peak_head.high * i.water.density * STANDARD_GRAVITY
    found: list[RankedThrust] = []
    end = math.fsum(piece.length for piece in i.drive_pipe)
    points = [(ThrustPoint(end), i.drive_pipe[-1].bore)]
    upto = 0.0
    for piece in i.drive_pipe:
        middle = upto + 0.5 * piece.length
        points += [(ThrustPoint(middle, bend_angle=angle), piece.bore) for angle, _ in piece.bends]
        upto += piece.length
    for point, bore in points:
        found += rank_thrusts([point], pressure=pressure, bore=bore, friction=friction, factor=factor)
    return tuple(sorted(found, key=lambda r: (-r.force, r.point.station)))
