"""The intake at work: its screen, its cover, and how long until it clogs."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.appraise.installation import Installation
from ramwright.catalogue import Row, table
from ramwright.hydraulics.intake import (
    IntakeResult,
    IntakeRules,
    Screen,
    check_intake,
    clogging_rate,
    days_to_clog,
    screen_area_needed,
)
from ramwright.hydraulics.vortex import vortex_cover
from ramwright.site import Intake, Site


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class IntakeJudged:
    """How the intake does at the flow that passes it.

    ``flow`` m3/s; ``screen`` and ``result`` where the sheet gives its size and openings; ``passage`` m, the
    narrowest way through the ram's valves; ``opening`` m; ``cover`` and ``cover_needed`` m;
    ``days_to_clog`` and the ``debris`` row it rests on (None: on a look at the screen itself).
    """

    flow: float
    screen: Screen | None
    result: IntakeResult | None
    passage: float
    opening: float | None
    cover: float | None
    cover_needed: float
    days_to_clog: float | None
    debris: Row | None


def approach_rules(intake: Intake) -> tuple[Row, Row]:
    """The two agencies' approach velocities for a screen of this kind, the lower one first."""
    nmfs = "active-approach" if intake.self_cleaning else "passive-approach"
    rows = (table("screen_rules").row(nmfs), table("screen_rules").row("california-approach"))
    low, high = sorted(rows, key=lambda row: row.number("likely"))
    return low, high


def open_area(intake: Intake) -> float | None:
    """All openings of the screen together, m2, where the sheet tells."""
    if intake.open_area is not None:
        return intake.open_area.value
    if intake.screen_area is not None and intake.open_share is not None:
        return intake.screen_area.value * intake.open_share.value
    if intake.holes is not None and intake.opening is not None:
        return intake.holes * math.pi * intake.opening.value**2 / 4.0
    return None


def _screen(intake: Intake) -> Screen | None:
    openings = open_area(intake)
    if openings is None or intake.opening is None:
        return None
    area = intake.screen_area.value if intake.screen_area is not None else openings
    return Screen(area=area, open_share=min(openings / area, 1.0), opening=intake.opening.value)


def judge_intake(site: Site, i: Installation) -> IntakeJudged | None:
    """Hold the sheet's intake against what passes it; None where there is none, or no water to pass."""
    intake = site.intake
    flow = i.reaching_flow
    if intake is None or flow <= 0.0:
        return None
    bore = i.supply_pipe[0].bore if i.supply_pipe else i.drive_pipe[0].bore
    passage = min(i.valve.stroke.value, i.delivery_bore)
    coefficient = table("settling_rules").row("vortex-straight").number("likely")
    least = table("settling_rules").row("least-cover").number("likely")
    needed = vortex_cover(
        velocity=flow / (math.pi * bore**2 / 4.0), bore=bore, coefficient=coefficient, least_cover=least
    )
    screen = _screen(intake)
    strict, _ = approach_rules(intake)
    result = None
    if screen is not None:
        result = check_intake(
            screen,
            flow=flow,
            bore=bore,
            valve_passage=passage,
            cover=intake.cover.value if intake.cover is not None else needed,
            rules=IntakeRules(
                approach_velocity=strict.number("likely"),
                open_over_bore=table("screen_rules").row("open-to-bore").number("low"),
                opening_over_passage=table("screen_rules").row("valve-passage").number("likely"),
                vortex_coefficient=coefficient,
                least_cover=least,
            ),
        )
    days, debris = _days(intake, screen, flow, bore)
    return IntakeJudged(
        flow=flow,
        screen=screen,
        result=result,
        passage=passage,
        opening=intake.opening.value if intake.opening is not None else None,
        cover=intake.cover.value if intake.cover is not None else None,
        cover_needed=needed,
        days_to_clog=days,
        debris=debris,
    )


def _days(intake: Intake, screen: Screen | None, flow: float, bore: float) -> tuple[float | None, Row | None]:
    """Days until the screen lets too little through, and the row behind it.

    Until the approach velocity of the laxer rule is reached, or the open area has shrunk to the bore's.
    """
    if screen is None:
        return None, None
    row = None
    if intake.blocked_share is not None and intake.blocked_after is not None:
        days = intake.blocked_after.value / 86400.0
        rate = clogging_rate(blocked_share=intake.blocked_share.value, days=days, flow=flow, area=screen.area)
    elif intake.debris is not None:
        row = table("debris").row(intake.debris)
        rate = row.number("likely")
    else:
        return None, None
    _, lax = approach_rules(intake)
    needed = max(
        screen_area_needed(flow, approach_velocity=lax.number("likely")),
        math.pi * bore**2 / 4.0 / screen.open_share,
    )
    return days_to_clog(rate=rate, flow=flow, area=screen.area, area_needed=needed), row
