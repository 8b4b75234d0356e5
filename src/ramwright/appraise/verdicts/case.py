"""What a rule of judgement looks at, and how it says that a limit of the catalogue is not kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from ramwright.appraise.installation import Installation
from ramwright.appraise.layout import Layout
from ramwright.appraise.prediction import Prediction
from ramwright.appraise.setting import Setting
from ramwright.appraise.verdict import Grade, Verdict
from ramwright.catalogue import Figure, Mark, Provenance, Row, table

OWN: Final = "simulated runs"
SHEET: Final = "the sheet"
PRACTICE: Final = "common practice"


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """Everything a rule may look at: installation ``i``, prediction ``p``, setting ``s`` and the layout."""

    i: Installation
    p: Prediction
    s: Setting | None
    layout: Layout


Rule = Callable[[Case], Iterator[Verdict]]


def rule(name: str) -> Row:
    """A rule of ours for laying out lines."""
    return table("layout_rules").row(name)


def against(
    row: Row | Figure, code: str, grade: Grade, about: str | None, limit: float, /, **numbers: object
) -> Verdict:
    """A verdict that rests on a row or figure of the catalogue: its source and mark go along."""
    where: Provenance = row.provenance
    return Verdict(code, grade, about, numbers, limit, where.source.text, where.mark)


def computed(
    code: str, grade: Grade, about: str | None, limit: float | None = None, /, **numbers: object
) -> Verdict:
    """A verdict of our own computation."""
    return Verdict(code, grade, about, numbers, limit, OWN)


def practised(code: str, grade: Grade, about: str | None, /, **numbers: object) -> Verdict:
    """A verdict of common practice that no number limits."""
    return Verdict(code, grade, about, numbers, None, PRACTICE, Mark.PRACTICE)
