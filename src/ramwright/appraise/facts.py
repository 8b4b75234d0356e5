"""From a site's sheet to its facts: fall, lift and source flow, typed or reduced from the field book.

This is the only translator from the sheet's visits to the survey. Nothing found here is stored: the same
readings give the same facts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ramwright import survey
from ramwright.appraise.assume import spread_of
from ramwright.appraise.book_findings import noticed
from ramwright.appraise.book_flows import GaugedFlow, gauged_flows
from ramwright.appraise.book_levels import LevelReadings, level_readings
from ramwright.appraise.book_rules import book_allowance, judging, rule, visit_rule
from ramwright.appraise.book_runs import STAGES, Run, naming, runs_of
from ramwright.appraise.book_stages import Stages, stages_of
from ramwright.errors import InputError
from ramwright.quantities import Estimate, Reading
from ramwright.site import Site
from ramwright.survey import Adjustment, Finding, FlowPlace

NEEDED: Final = ("fall", "lift", "source_flow")
"""Facts without which nothing can be said about a ram."""


@dataclass(frozen=True, slots=True)
class BookFound:
    """A level book reduced, the row its allowed misclosure comes from, and how it closes (None: open)."""

    label: str
    reduction: survey.BookReduction
    misclosure: survey.Misclosure | None


@dataclass(frozen=True, slots=True)
class StageFlow:
    """A flow adjusted from the gaugings of one place at one stage of the creek ("" where not stated)."""

    stage: str
    place: FlowPlace
    adjusted: Adjustment


@dataclass(frozen=True, slots=True)
class Reduction:
    """What the visits come to.

    ``runs`` what was read, in order; ``facts`` from all levels together and the flows of the lowest stage
    gauged; ``levels`` as they went in; ``books`` one by one; ``gaugings`` all of them; ``flows`` adjusted
    by place and stage, lowest first; ``stages`` fall over stage, None for fewer than two; ``balance`` of
    the four flows, None unless all four were gauged at one stage.
    """

    runs: tuple[Run, ...]
    facts: survey.Facts
    levels: LevelReadings
    books: tuple[BookFound, ...]
    gaugings: tuple[GaugedFlow, ...]
    flows: tuple[StageFlow, ...]
    stages: Stages | None
    balance: survey.FlowBalance | None


@dataclass(frozen=True, slots=True)
class FactsFound:
    """The facts of a site: each a value with a spread and an origin, None where nobody measured it.

    The origin is ``typed``, ``spread_assumed`` (typed, with the usual spread), or the labels of the runs it
    was reduced from. ``reduction`` is None for a sheet without visits; ``findings`` are all there are.
    """

    fall: Estimate | None
    lift: Estimate | None
    source_flow: Estimate | None
    reduction: Reduction | None
    findings: tuple[Finding, ...]

    def missing(self) -> tuple[str, ...]:
        """Names of the needed facts that nobody measured."""
        return tuple(name for name in NEEDED if getattr(self, name) is None)


def facts_of(site: Site) -> FactsFound:
    """The facts of ``site``: what is typed under [facts] wins over the visits, and a finding says so where
    the two differ beyond their spreads.

    Raises ``InputError`` about the entry of the field book that cannot be used.
    """
    typed = _typed(site)
    if not (site.visit or site.stage):
        return FactsFound(typed["fall"], typed["lift"], typed["source_flow"], None, ())
    reduction, findings = _reduce(site, typed)
    found = _reduced(reduction)
    findings += _typed_against(typed, found)
    chosen = {name: typed[name] if typed[name] is not None else found[name] for name in NEEDED}
    return FactsFound(chosen["fall"], chosen["lift"], chosen["source_flow"], reduction, tuple(findings))


def needed_facts(found: FactsFound) -> tuple[Estimate, Estimate, Estimate]:
    """Fall, lift and source flow of a site that is to be appraised.

    Raises ``InputError``: ``facts_missing`` naming what nobody measured; ``fall_reduced``,
    ``lift_reduced`` for a field book that cannot be right.
    """
    fall, lift, flow = found.fall, found.lift, found.source_flow
    if fall is None or lift is None or flow is None:
        raise InputError("facts_missing", field="facts", missing=found.missing())
    if fall.value <= 0.0:
        raise InputError("fall_reduced", field="visit", fall=fall.value)
    if lift.value <= fall.value:
        raise InputError("lift_reduced", field="visit", fall=fall.value, lift=lift.value)
    return fall, lift, flow


def _typed(site: Site) -> dict[str, Estimate | None]:
    facts = site.facts
    spreads = {
        "fall": ("fall_spread", "fall_spread_least"),
        "lift": ("lift_spread", "lift_spread_least"),
        "source_flow": ("source_flow_spread", None),
    }
    typed: dict[str, Estimate | None] = {}
    for name, (share, least) in spreads.items():
        reading: Reading | None = getattr(facts, name) if facts is not None else None
        typed[name] = None if reading is None else spread_of(reading, share, least)
    return typed


def _reduce(site: Site, typed: dict[str, Estimate | None]) -> tuple[Reduction, list[Finding]]:
    runs = runs_of(site)
    levels = level_readings(runs)
    gaugings = gauged_flows(runs)
    stage = _flow_stage(gaugings)
    with naming(runs):
        facts = survey.reduce_visit(
            survey.VisitReadings(
                roles=levels.roles,
                books=levels.books,
                hoses=levels.hoses,
                runs=levels.runs,
                water_heights=levels.water_heights,
                offsets=levels.offsets,
                flows=tuple(
                    survey.FlowReading(each.place, each.gauging) for each in gaugings if each.stage == stage
                ),
            ),
            rule=visit_rule(with_lengths=levels.with_lengths),
        )
        books = _books(levels)
    flows = _stage_flows(gaugings, facts, stage)
    findings = [each for each in facts.findings if not _beside_the_point(each, levels, typed)]
    if levels.any and typed["fall"] is None and levels.roles.feed.dam is survey.IntakeDam.UNSTATED:
        findings.append(noticed("dam_unstated", levels.roles.feed.key))
    findings += _about_stage(gaugings, stage, typed)
    for each in gaugings:
        findings += each.gauging.findings if each.stage != stage else ()
    for flow in flows:
        findings += flow.adjusted.findings if flow.stage != stage else ()
    stages = stages_of(site, facts, levels, typed["fall"])
    balance = _balance(site, facts)
    findings += stages.findings if stages is not None else ()
    findings += balance.findings if balance is not None else ()
    return Reduction(runs, facts, levels, books, gaugings, flows, stages, balance), findings


def _books(levels: LevelReadings) -> tuple[BookFound, ...]:
    allowance, _ = book_allowance(with_lengths=levels.with_lengths)
    found: list[BookFound] = []
    for book in levels.books:
        reduced = survey.reduce_book(book, start_level=0.0, booking_tolerance=rule("booking-tolerance"))
        found.append(BookFound(book.label, reduced, survey.book_misclosure(reduced, allowance=allowance)))
    return tuple(found)


def _flow_stage(gaugings: Sequence[GaugedFlow]) -> str:
    """The lowest stage at which the creek was gauged, else the lowest of any gauging."""
    creek = [each.stage for each in gaugings if each.place is FlowPlace.CREEK]
    return min(creek or [each.stage for each in gaugings] or [""], key=STAGES.index)


def _stage_flows(gaugings: Sequence[GaugedFlow], facts: survey.Facts, stage: str) -> tuple[StageFlow, ...]:
    flows = [StageFlow(stage, place, adjusted) for place, adjusted in facts.flows]
    for other in STAGES:
        for place in FlowPlace:
            here = [each.gauging for each in gaugings if (each.stage, each.place) == (other, place)]
            if here and other != stage:
                about = f"flow, {place.value}"
                adjusted = survey.combine_gaugings(here, judging=judging(), about=about)
                flows.append(StageFlow(other, place, adjusted))
    return tuple(flows)


def _beside_the_point(finding: Finding, levels: LevelReadings, typed: dict[str, Estimate | None]) -> bool:
    """A fact the visits do not give is no finding where it was typed, or where no level was read at all."""
    missing = finding.code == "fact_missing"
    return missing and (not levels.any or typed.get(finding.about) is not None)


def _about_stage(
    gaugings: Sequence[GaugedFlow], stage: str, typed: dict[str, Estimate | None]
) -> list[Finding]:
    """What a ram lives on is the creek's low flow: say when it was gauged at another."""
    if stage == "low" or typed["source_flow"] is not None:
        return []
    if not any(each.place is FlowPlace.CREEK for each in gaugings):
        return []
    if not stage:
        return [noticed("flow_stage_unstated", "source_flow")]
    return [noticed("flow_not_low", "source_flow", names=(stage,))]


def _balance(site: Site, facts: survey.Facts) -> survey.FlowBalance | None:
    flows = {place: adjusted.estimate for place, adjusted in facts.flows}
    if len(flows) < len(FlowPlace):
        return None
    required = site.facts.residual_flow if site.facts is not None else None
    return survey.flow_balance(
        survey.CreekFlow(flows[FlowPlace.CREEK]),
        survey.SupplyFlow(flows[FlowPlace.SUPPLY]),
        survey.DriveFlow(flows[FlowPlace.DRIVE]),
        survey.DeliveryFlow(flows[FlowPlace.DELIVERY]),
        required_residual=required.value if required is not None else 0.0,
        sure_by=rule("sure-by"),
    )


def _reduced(reduction: Reduction) -> dict[str, Estimate | None]:
    facts = reduction.facts
    return {
        "fall": facts.fall.estimate if facts.fall is not None else None,
        "lift": facts.lift.estimate if facts.lift is not None else None,
        "source_flow": facts.source_flow,
    }


def _typed_against(typed: dict[str, Estimate | None], found: dict[str, Estimate | None]) -> list[Finding]:
    """Where a fact was typed and reduced too, and the two differ beyond chance."""
    out: list[Finding] = []
    for name in NEEDED:
        one, other = typed[name], found[name]
        if one is None or other is None:
            continue
        square = (one.value - other.value) ** 2 / (one.sd**2 + other.sd**2)
        if survey.chi_square_tail(square, 1) >= rule("significance"):
            continue
        pairs = (one.value, one.sd, other.value, other.sd)
        out.append(_flows_differ(name, *pairs) if name == "source_flow" else _levels_differ(name, *pairs))
    return out


def _flows_differ(name: str, typed: float, typed_sd: float, found: float, found_sd: float) -> Finding:
    return noticed(
        "typed_flow_disagrees",
        name,
        typed_m3_s=typed,
        typed_sd_m3_s=typed_sd,
        found_m3_s=found,
        found_sd_m3_s=found_sd,
    )


def _levels_differ(name: str, typed: float, typed_sd: float, found: float, found_sd: float) -> Finding:
    return noticed(
        "typed_level_disagrees",
        name,
        typed_m=typed,
        typed_sd_m=typed_sd,
        found_m=found,
        found_sd_m=found_sd,
    )
