"""The intake: its screen against fish, trash and the ram's own valves, and its cover."""

from __future__ import annotations

from collections.abc import Iterator

from ramwright.appraise.intake_duty import approach_rules
from ramwright.appraise.verdict import Verdict
from ramwright.appraise.verdicts.case import Case, Rule, against, computed, practised
from ramwright.catalogue import table

_WEEK_DAYS = 7.0
#: A rule of thumb for a depth is not missed by what nobody can tape.
_TAPED = 0.98


def approach(c: Case) -> Iterator[Verdict]:
    """Water that presses on the screen: two agencies' rules, which do not agree."""
    intake, judged = c.layout.site.intake, c.layout.intake
    if intake is None or judged is None or judged.result is None or intake.fish == "none":
        return
    strict, lax = approach_rules(intake)
    velocity = judged.result.approach_velocity
    low, high = strict.number("likely"), lax.number("likely")
    if velocity > high:
        yield against(
            lax,
            "screen_too_fast",
            "amber",
            "intake",
            high,
            velocity=velocity,
            limit=high,
            area=judged.flow / low,
        )
    elif velocity > low:
        said = tuple(f"{row.text('about')} ({row.provenance.source.text})" for row in (strict, lax))
        yield against(
            strict,
            "screen_rules_disagree",
            "note",
            "intake",
            low,
            velocity=velocity,
            low=low,
            high=high,
            said=said,
        )


def openings(c: Case) -> Iterator[Verdict]:
    """Openings too coarse for the ram or the fish, and too little of them."""
    judged, intake = c.layout.intake, c.layout.site.intake
    if judged is None or intake is None or judged.opening is None:
        return
    rules = table("screen_rules")
    row = rules.row("valve-passage")
    most = row.number("likely") * judged.passage
    if judged.opening > most:
        yield against(
            row,
            "screen_too_coarse",
            "amber",
            "intake.opening",
            most,
            opening=judged.opening,
            limit=most,
            passage=judged.passage,
        )
    if intake.fish in ("fry", "fingerlings"):
        row = rules.row("fry-hole" if intake.fish == "fry" else "fingerling-hole")
        most = row.number("likely")
        if judged.opening > most:
            yield against(
                row,
                "screen_lets_fish_in",
                "amber",
                "intake.opening",
                most,
                opening=judged.opening,
                limit=most,
            )


def open_area(c: Case) -> Iterator[Verdict]:
    """Too little open area for the bore behind it, or too little of the screen open."""
    judged, intake = c.layout.intake, c.layout.site.intake
    if judged is None or intake is None or judged.result is None or judged.screen is None:
        return
    row = table("screen_rules").row("open-to-bore")
    least = row.number("low")
    ratio = judged.result.open_over_bore
    if ratio < least:
        yield against(row, "screen_too_little_open", "amber", "intake", least, ratio=ratio, limit=least)
    row = table("screen_rules").row("open-area-least")
    share = row.number("low")
    if intake.screen_area is not None and intake.fish != "none" and judged.screen.open_share < share:
        yield against(
            row, "screen_mostly_shut", "note", "intake", share, share=judged.screen.open_share, limit=share
        )


def depth(c: Case) -> Iterator[Verdict]:
    """Too little water over the intake in the driest season."""
    judged = c.layout.intake
    if judged is not None and judged.cover is not None and judged.cover < _TAPED * judged.cover_needed:
        yield against(
            table("settling_rules").row("vortex-straight"),
            "intake_cover",
            "amber",
            "intake.cover",
            judged.cover_needed,
            cover=judged.cover,
            needed=judged.cover_needed,
        )


def clogging(c: Case) -> Iterator[Verdict]:
    """How often the screen wants cleaning."""
    judged = c.layout.intake
    if judged is None or judged.days_to_clog is None or judged.days_to_clog > 365.0:
        return
    often = judged.days_to_clog < _WEEK_DAYS
    time = judged.days_to_clog * 86400.0
    code = "screen_clogs_fast" if often else "screen_clogs"
    grade = "amber" if often else "note"
    if judged.debris is None:
        yield computed(code, "amber" if often else "note", "intake", None, time=time)
    else:
        yield against(
            judged.debris,
            f"{code}_guessed",
            "amber" if grade == "amber" else "note",
            "intake.debris",
            _WEEK_DAYS * 86400.0,
            time=time,
        )


def unmeasured(c: Case) -> Iterator[Verdict]:
    """A screen whose size or openings nobody gives."""
    judged, intake = c.layout.intake, c.layout.site.intake
    if (
        judged is not None
        and intake is not None
        and judged.screen is None
        and intake.kind not in (None, "open end")
    ):
        yield practised("screen_unmeasured", "note", "intake")
    elif intake is not None and intake.kind == "open end":
        yield practised("intake_without_screen", "amber", "intake.kind")


RULES: tuple[Rule, ...] = (openings, open_area, approach, depth, clogging, unmeasured)
