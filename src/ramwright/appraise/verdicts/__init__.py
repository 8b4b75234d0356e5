"""Verdicts: each a small rule giving a code, how grave it is, its numbers, its limit and its source.

A file a subject; each holds its rules in ``RULES``, in the order in which equals are told.
"""

from __future__ import annotations

from typing import Final

from ramwright.appraise.installation import Installation
from ramwright.appraise.layout import Layout
from ramwright.appraise.prediction import Prediction
from ramwright.appraise.setting import Setting
from ramwright.appraise.verdict import Grade, Verdict
from ramwright.appraise.verdicts import (
    delivery,
    drive_pipe,
    drive_tank,
    facts,
    holding,
    intake,
    outcomes,
    safety,
    supply,
)
from ramwright.appraise.verdicts.case import Case, Rule

__all__ = ["RULES", "Case", "Rule", "Verdict", "judge"]

_ORDER: Final[dict[Grade, int]] = {"red": 0, "amber": 1, "note": 2}
RULES: Final[tuple[Rule, ...]] = (
    *outcomes.RULES,
    *facts.RULES,
    *safety.RULES,
    *supply.RULES,
    *drive_tank.RULES,
    *drive_pipe.RULES,
    *holding.RULES,
    *delivery.RULES,
    *intake.RULES,
)
"""Every rule but the cautions, which are told last."""


def judge(i: Installation, p: Prediction, s: Setting | None, layout: Layout) -> tuple[Verdict, ...]:
    """Every verdict, gravest first; among equals in the order of ``RULES``; cautions last."""
    case = Case(i, p, s, layout)
    found = tuple(verdict for rule in RULES for verdict in rule(case))
    found += tuple(safety.rests_on_memory(found))
    return (*sorted(found, key=lambda v: _ORDER[v.grade]), *safety.cautions(case))
