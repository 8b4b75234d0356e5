"""From a sheet's file to its facts, as found and as plain data; and to its walk."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any

from ramwright.appraise import FactsFound, Reduction, facts_of, walk_of
from ramwright.appraise.book_verdicts import GRADES
from ramwright.errors import InputError
from ramwright.quantities import Estimate, System
from ramwright.site import Site, read_sheet
from ramwright.site.where import naming_lines
from ramwright.survey import Adjustment, Finding, LevelFact, WalkSheet
from ramwright.wording.findings import told

SCHEMA_VERSION = 1


@dataclass(frozen=True, slots=True)
class ReducedSheet:
    """A site and the facts its field book comes to."""

    site: Site
    found: FactsFound


@dataclass(frozen=True, slots=True)
class WalkedSheet:
    """A site and its first walk, ranked."""

    site: Site
    walk: WalkSheet


def reduce_sheet(path: Path) -> ReducedSheet:
    """Read a sheet and reduce its field book; a sheet with nothing but visits will do.

    Raises ``InputError`` for what cannot be used, and ``nothing_to_reduce``.
    """
    with naming_lines(path):
        site = read_sheet(path)
        if not site.visit and site.facts is None:
            raise InputError("nothing_to_reduce", field="visit")
        return ReducedSheet(site, facts_of(site))


def walk_sheet(path: Path) -> WalkedSheet:
    """Read a sheet and rank the places of its walk. Raises ``InputError`` for what cannot be used."""
    with naming_lines(path):
        site = read_sheet(path)
        return WalkedSheet(site, walk_of(site))


def reduction_schema() -> dict[str, Any]:
    """JSON Schema of ``reduction_answer``."""
    text = files("ramwright.services").joinpath("reduction.schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema


def reduction_answer(
    reduced: ReducedSheet, *, system: System = "metric", language: str | None = None
) -> dict[str, Any]:
    """The reduction as plain data, SI throughout; only the findings' sentences use ``system``."""
    found, reduction = reduced.found, reduced.found.reduction
    return {
        "schema_version": SCHEMA_VERSION,
        "site": reduced.site.site.name,
        "facts": {
            "fall_m": _maybe(found.fall),
            "lift_m": _maybe(found.lift),
            "source_flow_m3_s": _maybe(found.source_flow),
        },
        "levels": None if reduction is None else _levels(reduction),
        "books": [] if reduction is None else _books(reduction),
        "flows": [] if reduction is None else _flows(reduction),
        "disagreements": [] if reduction is None else _apart(reduction),
        "stages": None if reduction is None else _stages(reduction),
        "findings": [_finding(each, system, language) for each in found.findings],
    }


def _estimate(estimate: Estimate) -> dict[str, Any]:
    return {"value": estimate.value, "sd": estimate.sd, "origin": str(estimate.origin)}


def _maybe(estimate: Estimate | None) -> dict[str, Any] | None:
    return None if estimate is None else _estimate(estimate)


def _levels(reduction: Reduction) -> dict[str, Any] | None:
    facts = reduction.facts
    if facts.net is None:
        return None
    points = [point for point in facts.net.points if "#" not in point]
    return {
        "points": {point: _estimate(facts.net.level(point)) for point in points},
        "legs": [
            {
                "run": row.leg.label,
                "start": row.leg.start,
                "end": row.leg.end,
                "height_m": row.leg.height,
                "sd_m": row.leg.sd,
                "residual_m": row.residual,
                "normalised": row.normalised,
                "redundancy": row.redundancy,
            }
            for row in facts.net.legs
        ],
        "alone": {"fall_m": _alone(facts.fall), "lift_m": _alone(facts.lift)},
        "unchecked": {
            "fall": list(facts.fall.unchecked) if facts.fall is not None else [],
            "lift": list(facts.lift.unchecked) if facts.lift is not None else [],
        },
    }


def _alone(fact: LevelFact | None) -> dict[str, Any]:
    return {} if fact is None else {label: _estimate(each) for label, each in fact.alone}


def _books(reduction: Reduction) -> list[dict[str, Any]]:
    return [
        {
            "run": book.label,
            "rows": [
                {"point": row.point.key, "rise_m": row.rise, "level_m": row.level}
                for row in book.reduction.rows
            ],
            "setups": book.reduction.setups,
            "misclosure_m": None if book.misclosure is None else book.misclosure.value,
            "allowed_m": None if book.misclosure is None else book.misclosure.allowed,
        }
        for book in reduction.books
    ]


def _flows(reduction: Reduction) -> list[dict[str, Any]]:
    terms = {each.gauging.label: each.gauging.terms for each in reduction.gaugings}
    return [
        {
            "flow": flow.place.value,
            "stage": flow.stage or None,
            "m3_s": _estimate(flow.adjusted.estimate),
            "without_outlier_m3_s": _maybe(flow.adjusted.without),
            "gaugings": [
                {
                    "run": row.label,
                    "value": row.value,
                    "sd": row.sd,
                    "share": row.share,
                    "residual": row.residual,
                    "normalised": row.normalised,
                    "terms": {term.name: term.sd for term in terms[row.label]},
                }
                for row in flow.adjusted.rows
            ],
            "agrees": _agrees(flow.adjusted),
        }
        for flow in reduction.flows
    ]


def _agrees(adjusted: Adjustment) -> dict[str, Any]:
    return {
        "chi_square": adjusted.chi_square,
        "degrees": adjusted.degrees,
        "p_value": adjusted.p_value,
        "widened_by": adjusted.widened_by,
        "agrees": adjusted.agrees,
    }


def _apart(reduction: Reduction) -> list[dict[str, Any]]:
    return [
        {
            "fact": each.fact,
            "one": each.one,
            "other": each.other,
            "difference": each.difference,
            "sd": each.sd,
            "normalised": each.normalised,
        }
        for each in reduction.facts.disagreements
    ]


def _stages(reduction: Reduction) -> list[dict[str, Any]] | None:
    stages = reduction.stages
    if stages is None:
        return None
    return [
        {
            "stage": name,
            "creek_gauge_m": at.stage if stages.gauged else None,
            "feed_m": _estimate(at.feed),
            "fall_m": _estimate(at.fall),
            "drowned": at.drowned,
        }
        for name, at in zip(stages.names, stages.at, strict=True)
    ]


def _finding(finding: Finding, system: System, language: str | None) -> dict[str, Any]:
    said = told(finding, system, language)
    return {
        "code": finding.code,
        "grade": GRADES.get(finding.code),
        "about": finding.about,
        "names": list(finding.names),
        "numbers": {name: value if math.isfinite(value) else None for name, value in finding.numbers},
        "title": said.title,
        "why": said.why,
        "do": said.do,
    }
