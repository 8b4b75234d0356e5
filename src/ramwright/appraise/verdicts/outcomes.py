"""Whether it runs, what it drinks, and whether the water wanted comes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ramwright.appraise.verdict import Grade, Verdict
from ramwright.appraise.verdicts.case import OWN, SHEET, Case, Rule, against, computed
from ramwright.catalogue import table

#: An outcome that fewer draws than this share show is not worth a line.
RARE: Final = 0.02
LIKELY: Final = 0.5


def outcomes(c: Case) -> Iterator[Verdict]:
    """What may keep the ram from running, by how likely it is."""
    for code, share in c.p.outcomes.items():
        if code == "runs" or (c.p.uneven if code == "no_period" else share) < RARE:
            continue
        grade: Grade = "red" if share >= LIKELY and code != "no_period" else "amber"
        yield Verdict(f"may_{code}", grade, None, {"share": share}, RARE, OWN)


def setting_drinks_too_much(c: Case) -> Iterator[Verdict]:
    """No setting of the valve runs on the flow there is on a low day."""
    if c.s is not None and not c.s.fits:
        flow = c.i.reaching_flow / c.i.rams
        yield computed(
            "setting_drinks_too_much", "amber", "facts.source_flow", flow, drive=c.s.drive, flow=flow
        )


def demand(c: Case) -> Iterator[Verdict]:
    """Whether the water wanted will come, and how surely."""
    wanted, delivery = c.i.demand, c.p.delivery
    if wanted is None:
        return
    about = "facts.demand_per_day"
    if delivery.high < wanted:
        numbers: dict[str, object] = {"demand": wanted, "delivery": delivery.likely}
        yield Verdict("demand_not_met", "red", about, numbers, wanted, SHEET)
    elif delivery.low < wanted:
        yield Verdict("demand_unsure", "amber", about, {"demand": wanted, "low": delivery.low}, wanted, SHEET)


def source_against_delivery(c: Case) -> Iterator[Verdict]:
    """The old rule that a source gives seven times what is lifted."""
    row = table("ram_limits").row("source-over-delivery")
    times = row.number("low")
    if c.p.delivery.likely > 0.0 and c.i.source_flow.value < times * c.p.delivery.likely:
        yield against(
            row,
            "source_below_rule",
            "note",
            "facts.source_flow",
            times,
            flow=c.i.source_flow.value,
            delivery=c.p.delivery.likely,
            times=times,
        )


RULES: tuple[Rule, ...] = (outcomes, setting_drinks_too_much, demand, source_against_delivery)
