"""An appraisal as one JSON object: kept stable for other people's scripts (``answer.schema.json``)."""

from __future__ import annotations

import json
import math
from importlib.resources import files
from typing import Any

from ramwright.appraise import Appraisal, Range, Verdict
from ramwright.appraise.sensitivity import Decider, decides
from ramwright.quantities import Estimate, System
from ramwright.site import Site
from ramwright.wording.verdicts import words

SCHEMA_VERSION = 1
_RANGES = (
    ("delivery_m3_s", "delivery"),
    ("waste_m3_s", "waste"),
    ("drive_m3_s", "drive"),
    ("beats_per_min", "beats_per_min"),
    ("efficiency_daubuisson", "efficiency_daubuisson"),
    ("efficiency_rankine", "efficiency_rankine"),
    ("peak_head_m", "peak_head"),
    ("lowest_head_m", "lowest_head"),
    ("shutoff_head_m", "shutoff_head"),
)


def answer_schema() -> dict[str, Any]:
    """JSON Schema of ``answer``."""
    text = files("ramwright.services").joinpath("answer.schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema


def answer(appraisal: Appraisal, *, system: System = "metric", language: str | None = None) -> dict[str, Any]:
    """The appraisal as plain data, SI throughout; only the verdicts' sentences use ``system``."""
    i, p = appraisal.installation, appraisal.prediction
    return {
        "schema_version": SCHEMA_VERSION,
        "site": appraisal.site.site.name,
        "facts": {
            "fall_m": _estimate(i.fall),
            "lift_m": _estimate(i.lift),
            "source_flow_m3_s": _estimate(i.source_flow),
            "residual_flow_m3_s": {"value": i.residual_flow, "sd": 0.0, "origin": _residual(appraisal.site)},
        },
        "outcomes": dict(p.outcomes),
        "prediction": {name: _range(getattr(p, field)) for name, field in _RANGES},
        "setting": None
        if appraisal.setting is None
        else {
            "what": appraisal.setting.what,
            "value": appraisal.setting.value,
            "drive_m3_s": appraisal.setting.drive,
            "fits_low_flow": appraisal.setting.fits,
        },
        "model_spread": p.model,
        "deciders": [_decider(d) for d in decides(p)],
        "verdicts": [_verdict(v, system, language) for v in appraisal.verdicts],
        "assumptions": [
            {"field": a.field, "value": a.value, "kind": a.kind, "mark": str(a.mark)} for a in i.assumptions
        ],
        "cross_check": {
            "label": "closed form, a cross-check only",
            "delivery_m3_s": p.check.delivery * i.rams,
            "waste_m3_s": p.check.waste * i.rams,
            "beats_per_min": 60.0 / p.check.beat_time,
            "hangs_open": p.check.hangs_open,
        },
        "draws": p.draws,
    }


def _estimate(estimate: Estimate) -> dict[str, float | str]:
    return {"value": estimate.value, "sd": estimate.sd, "origin": str(estimate.origin)}


def _residual(site: Site) -> str:
    stated = site.facts is not None and site.facts.residual_flow is not None
    return "typed" if stated else "none stated"


def _range(found: Range | None) -> dict[str, float] | None:
    return None if found is None else {"p10": found.low, "p50": found.likely, "p90": found.high}


def _decider(d: Decider) -> dict[str, Any]:
    return {
        "name": d.name,
        "delivery_share": d.delivery_share,
        "running_share": d.running_share,
        "known_twice_as_well": {
            "narrowing": d.narrowing,
            "delivery_m3_s": _range(d.delivery),
            "runs": d.runs,
        },
    }


def _plain(value: object) -> object:
    """Numbers that JSON has no word for become null."""
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return list(value) if isinstance(value, tuple) else value


def _verdict(v: Verdict, system: System, language: str | None) -> dict[str, Any]:
    said = words(v.code, v.numbers, system, language)
    return {
        "code": v.code,
        "grade": v.grade,
        "about": v.about,
        "title": said.title,
        "why": said.why,
        "do": said.do,
        "numbers": {name: _plain(value) for name, value in v.numbers.items()},
        "limit": _plain(v.limit),
        "source": v.source,
        "mark": str(v.mark),
    }
