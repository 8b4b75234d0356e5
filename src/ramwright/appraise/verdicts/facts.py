"""The facts themselves: fall, lift, what has to stay in the creek, and what the field book shows."""

from __future__ import annotations

from collections.abc import Iterator

from ramwright.appraise.book_verdicts import survey_findings
from ramwright.appraise.verdict import Grade, Verdict
from ramwright.appraise.verdicts.case import SHEET, Case, Rule, against
from ramwright.catalogue import Row, table
from ramwright.site import Facts


def residual_takes_all(c: Case) -> Iterator[Verdict]:
    """Nothing is left for the ram once the creek has had its share."""
    if c.i.usable_flow <= 0.0:
        numbers: dict[str, object] = {"flow": c.i.source_flow.value, "residual": c.i.residual_flow}
        about = "facts.residual_flow"
        yield Verdict("residual_takes_all", "red", about, numbers, c.i.residual_flow, SHEET)


def _wanted(facts: Facts) -> Iterator[tuple[Row, float]]:
    """Flow each rule would leave in the creek, m3/s, as far as the sheet gives what it goes by."""
    rules = table("residual_flow_rules")
    if facts.mean_flow is not None:
        for name in ("tennant-survival", "tennant-good"):
            yield rules.row(name), rules.row(name).number("likely") * facts.mean_flow.value
    if facts.low_flow is not None:
        row = rules.row("hands-off-q95")
        yield row, row.number("likely") * facts.low_flow.value


def residual_below_rules(c: Case) -> Iterator[Verdict]:
    """What stays in the creek against rules that do not agree among themselves."""
    facts = c.layout.site.facts
    wanted = list(_wanted(facts)) if facts is not None else []
    missed = [(row, flow) for row, flow in wanted if c.i.residual_flow < flow]
    if not missed:
        return
    said = tuple(
        dict.fromkeys(
            f"{row.text('about') or row.text('what')} ({row.provenance.source.text})" for row, _ in missed
        )
    )
    least, most = min(flow for _, flow in missed), max(flow for _, flow in missed)
    kept = len(wanted) - len(missed)
    code, grade = ("residual_rules_disagree", "note") if kept else ("residual_below_rules", "amber")
    chosen: Grade = "note" if grade == "note" else "amber"
    strictest = max(missed, key=lambda pair: pair[1])[0]
    numbers: dict[str, object] = {"residual": c.i.residual_flow, "most": most, "said": said}
    if code == "residual_below_rules":
        numbers["least"] = least
    yield against(strictest, code, chosen, _about_residual(facts), most, **numbers)


def _about_residual(facts: Facts | None) -> str | None:
    return "facts.residual_flow" if facts is not None and facts.residual_flow is not None else None


def fall_small(c: Case) -> Iterator[Verdict]:
    """Falls that practice calls unworkable or doubtful."""
    steps: tuple[tuple[str, str, Grade], ...] = (
        ("fall_too_small", "least-fall", "red"),
        ("fall_doubtful", "doubtful-fall", "amber"),
    )
    for code, name, grade in steps:
        row = table("ram_limits").row(name)
        limit = row.number("low")
        if c.i.fall.value < limit:
            yield against(row, code, grade, "facts.fall", limit, value=c.i.fall.value, limit=limit)
            return


def lift_ratio(c: Case) -> Iterator[Verdict]:
    """Lift over fall beyond what is usual; never red, for the engine has run it."""
    ratio = c.i.lift.value / c.i.fall.value
    usual, doubtful = (table("ram_limits").row(name) for name in ("lift-over-fall", "lift-over-fall-warn"))
    least, most, warn = usual.number("low"), usual.number("high"), doubtful.number("high")
    if ratio > most:
        yield against(usual, "lift_over_fall_high", "amber", "facts.lift", most, ratio=ratio, limit=most)
    elif ratio > warn:
        yield against(
            doubtful, "lift_over_fall_doubtful", "note", "facts.lift", warn, ratio=ratio, limit=warn
        )
    elif ratio < least:
        yield against(usual, "lift_over_fall_low", "note", "facts.lift", least, ratio=ratio, limit=least)


def field_book(c: Case) -> Iterator[Verdict]:
    """What was noticed when the field book was turned into facts."""
    yield from survey_findings(c.i.found)


RULES: tuple[Rule, ...] = (residual_takes_all, fall_small, lift_ratio, residual_below_rules, field_book)
