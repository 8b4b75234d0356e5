"""Every line that carries water, judged at what was predicted: one frozen result for verdicts and papers."""

from __future__ import annotations

from dataclasses import dataclass

from ramwright.appraise.delivery import DeliveryLaid, delivery_line
from ramwright.appraise.drive_line import DriveLine, drive_line
from ramwright.appraise.holding import Held, holding
from ramwright.appraise.installation import Installation
from ramwright.appraise.intake_duty import IntakeJudged, judge_intake
from ramwright.appraise.prediction import Prediction
from ramwright.appraise.supply import SupplyLine
from ramwright.appraise.tank_duty import TankJudged, judge_tank
from ramwright.appraise.vessel_duty import VesselJudged, judge_vessel
from ramwright.ram import Beat, Grid, run_beat
from ramwright.site import Site


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Layout:
    """The lines of a site and what stands along them, from the intake to the tank.

    ``supply`` is None where the sheet has no supply line, or says neither its way nor its drop; ``beat``
    one beat at the middle in detail, None where the ram does not beat.
    """

    site: Site
    supply: SupplyLine | None
    intake: IntakeJudged | None
    tank: TankJudged
    drive: DriveLine
    vessel: VesselJudged
    delivery: DeliveryLaid
    held: Held
    beat: Beat | None


def lay_out(site: Site, installation: Installation, prediction: Prediction) -> Layout:
    """Judge every line of a site with its ram predicted.

    Raises ``InputError`` for a profile that cannot be used, or a material nobody knows.
    """
    i, p = installation, prediction
    beating = p.middle.beats_per_min > 0.0
    # The engine's usual grid is fine enough for the level of the drive tank.
    beat = run_beat(p.system, grid=Grid(), beats=2.0) if beating else None
    return Layout(
        site=site,
        supply=i.supply,
        intake=judge_intake(site, i),
        tank=judge_tank(site, i, p, beat),
        drive=drive_line(site, i, p),
        vessel=judge_vessel(site, i, p),
        delivery=delivery_line(site, i, p),
        held=holding(i, p),
        beat=beat,
    )
