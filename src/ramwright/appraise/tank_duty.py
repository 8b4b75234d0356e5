"""The drive tank at work: its level within a beat, cover, overflow, air and silt."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from ramwright.appraise.installation import Installation
from ramwright.appraise.prediction import Prediction
from ramwright.catalogue import table
from ramwright.hydraulics.drive_tank import (
    DriveTank,
    DriveTankResult,
    TankDuty,
    TankRules,
    check_drive_tank,
    days_to_fill,
)
from ramwright.hydraulics.overflow import Overflow, OverflowKind
from ramwright.ram import Beat
from ramwright.site import Site

_KINDS: Final = {
    "notch": OverflowKind.NOTCH,
    "upright pipe": OverflowKind.STANDPIPE,
    "side pipe": OverflowKind.SIDE_PIPE,
}
#: An overflow nobody has described: wide enough for anything, so that it never rules.
_ANY: Final = 100.0


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TankJudged:
    """How the drive tank does.

    ``result`` as ``hydraulics.drive_tank`` has it, None in the open stream or where the ram does not beat;
    ``spill`` m3/s the overflow must pass while the ram stands still; ``overflow`` where the sheet describes
    it, ``freeboard`` m; ``days_to_fill`` days until silt fills the sump, None where nothing is known.
    """

    result: DriveTankResult | None
    spill: float
    overflow: Overflow | None
    freeboard: float | None
    days_to_fill: float | None


def _rule(name: str) -> float:
    return table("settling_rules").row(name).number("likely")


def tank_rules(fall: float) -> TankRules:
    """Numbers of the trade for a drive tank under a fall (m)."""
    layout = table("layout_rules")
    return TankRules(
        vortex_coefficient=_rule("vortex-straight"),
        least_cover=_rule("least-cover"),
        turbulence_allowance=_rule("turbulence-allowance"),
        grain=table("settling_rules").row("grain-to-remove").number("high"),
        bubble=layout.row("smallest-bubble").number("likely"),
        hold_time=table("settling_rules").row("drive-tank-time").number("low"),
        drawdown=layout.row("drawdown-over-fall").number("likely") * fall,
    )


def _overflow(site: Site) -> tuple[Overflow | None, float | None]:
    """The overflow on the sheet and its freeboard, m."""
    said = site.drive_tank.overflow if site.drive_tank is not None else None
    if said is None or said.kind is None or said.width is None:
        return None, said.freeboard.value if said is not None and said.freeboard is not None else None
    coefficient = table("layout_rules").row("overflow-coefficient").number("likely")
    found = Overflow(_KINDS[said.kind], said.width.value, coefficient)
    return found, said.freeboard.value if said.freeboard is not None else None


def judge_tank(site: Site, i: Installation, p: Prediction, beat: Beat | None) -> TankJudged:
    """Hold the drive tank against what the ram draws from it. ``beat``: one beat at the middle, in detail."""
    overflow, freeboard = _overflow(site)
    spill = i.supply.brings if i.supply is not None else i.reaching_flow
    result = None
    if beat is not None and math.isfinite(i.tank_area) and p.middle.drive > 0.0:
        swing = float(beat.trace["level"].max() - beat.trace["level"].min())
        tank = DriveTank(
            plan_area=i.tank_area,
            outlet_bore=i.drive_pipe[0].bore,
            outlet_cover=i.cover,
            freeboard=_ANY if freeboard is None else freeboard,
            overflow=overflow or Overflow(OverflowKind.NOTCH, _ANY, 1.0),
        )
        duty = TankDuty(
            supply_flow=spill,
            drive_flow=p.middle.drive * i.rams,
            # The engine has followed the level with what came in meanwhile.
            beat_volume=swing * i.tank_area,
            draw_time=0.0,
            peak_velocity=max(p.middle.closing_velocity, 0.0),
        )
        result = check_drive_tank(tank, duty, i.water, rules=tank_rules(i.fall.value))
    return TankJudged(
        result=result,
        spill=spill,
        overflow=overflow,
        freeboard=freeboard,
        days_to_fill=_days(site, i, p),
    )


def _days(site: Site, i: Installation, p: Prediction) -> float | None:
    silt = site.intake.silt if site.intake is not None else None
    sump = site.drive_tank.sump if site.drive_tank is not None else None
    if silt is None or sump is None or not math.isfinite(i.tank_area) or p.middle.drive <= 0.0:
        return None
    layout = table("layout_rules")
    return days_to_fill(
        sump_volume=i.tank_area * sump.value,
        flow=i.reaching_flow,
        silt=silt.value,
        trapped_share=layout.row("silt-caught").number("likely"),
        bulk_density=layout.row("silt-bulk").number("likely"),
    )
