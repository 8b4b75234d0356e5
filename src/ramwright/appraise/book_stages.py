"""Water levels by stage: what is typed under [[stage]], and what the visits of that stage found."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from ramwright import survey
from ramwright.appraise.book_findings import noticed
from ramwright.appraise.book_levels import LevelReadings
from ramwright.appraise.book_rules import judging, rule
from ramwright.errors import InputError
from ramwright.quantities import Estimate, Reading
from ramwright.site import Site
from ramwright.site.points import DRIVE_TANK, TAILWATER
from ramwright.site.visit_models import StageWater
from ramwright.survey import Finding, LevelPoint, StageFall, StageLevels, Stand

_ORDER = {"low": 0.0, "normal": 1.0, "flood": 2.0}


@dataclass(frozen=True, slots=True)
class Stages:
    """Fall by stage: ``names`` from low to flood, the fall ``at`` each, the ``curve`` through them.

    ``gauged``: the curve's stages are readings of a staff in the creek (m), else only an order.
    """

    names: tuple[str, ...]
    at: tuple[StageFall, ...]
    curve: survey.StageCurve
    gauged: bool
    findings: tuple[Finding, ...]


def stages_of(
    site: Site, facts: survey.Facts, levels: LevelReadings, typed_fall: Estimate | None
) -> Stages | None:
    """Fall over stage, levels counted from the waste-valve seat; None for fewer than two stages.

    A feed level not typed is the one read at that stage, else the fall itself (a drive tank that spills
    keeps its level); a tailwater not typed is the one read, else it is taken to lie below the seat. Raises
    ``InputError``.
    """
    if len(site.stage) < 2:
        return None
    _check(site.stage)
    found = facts.fall.estimate if facts.fall is not None else None
    usual = typed_fall if typed_fall is not None else found
    gauged = all(stage.creek_gauge is not None for stage in site.stage)
    rows: list[StageLevels] = []
    for i, stage in enumerate(site.stage):
        feed = _typed(stage.feed) or _read(facts, levels, DRIVE_TANK, stage.name) or usual
        if feed is None:
            raise InputError("stage_feed_missing", field=f"stage[{i}].feed")
        rows.append(
            StageLevels(
                stage.name,
                stage.creek_gauge.value if gauged and stage.creek_gauge else _ORDER[stage.name],
                feed,
                _typed(stage.tailwater) or _read(facts, levels, TAILWATER, stage.name),
            )
        )
    rows.sort(key=lambda row: row.stage)
    curve = survey.stage_curve(rows, seat=Estimate(0.0, 0.0, "seat"), outlet=None, judging=judging())
    names = tuple(row.name for row in rows)
    findings = tuple(each if gauged else _between(each, names) for each in curve.findings)
    return Stages(names, tuple(curve.fall(row.stage) for row in rows), curve, gauged, findings)


def _between(finding: Finding, names: tuple[str, ...]) -> Finding:
    """Without a creek gauge the stage from which the outlet drowns is only known to lie between two."""
    if finding.code != "outlet_drowns_at":
        return finding
    stage = finding.number("stage")
    pairs = [(low, high) for low, high in pairwise(names) if _ORDER[low] <= stage <= _ORDER[high]]
    return noticed("outlet_drowns_between", finding.about, names=pairs[0] if pairs else names[:1])


def _check(stages: tuple[StageWater, ...]) -> None:
    """Each stage once, and a creek gauge that rises with the water."""
    seen: dict[str, float | None] = {}
    for i, stage in enumerate(stages):
        if stage.name in seen:
            raise InputError("stage_twice", field=f"stage[{i}].name", value=stage.name)
        seen[stage.name] = stage.creek_gauge.value if stage.creek_gauge is not None else None
    shown = [(name, seen[name]) for name in _ORDER if seen.get(name) is not None]
    for (lower, one), (higher, other) in pairwise(shown):
        if one is not None and other is not None and other <= one:
            i = next(i for i, stage in enumerate(stages) if stage.name == higher)
            raise InputError("stage_gauge_order", field=f"stage[{i}].creek_gauge", value=higher, lower=lower)


def _typed(reading: Reading | None) -> Estimate | None:
    return None if reading is None else reading.estimate(default_sd=rule("stage-level"), origin="typed")


def _read(facts: survey.Facts, levels: LevelReadings, place: str, stage: str) -> Estimate | None:
    """A water level that the visits of a stage tied to the seat."""
    named = place if levels.stage == stage else f"{place} ({stage})"
    key = LevelPoint(named, Stand.WATER_SURFACE).key
    if facts.net is None or key not in facts.net.index:
        return None
    return facts.net.level(key, origin="read")
