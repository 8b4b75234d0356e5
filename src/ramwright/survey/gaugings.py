"""What every way of gauging a flow ends as: a value, and where its spread comes from."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.quantities import Estimate
from ramwright.survey.adjust import Adjustment, Measured, combine
from ramwright.survey.consistency import Judging
from ramwright.survey.findings import Finding


@dataclass(frozen=True, slots=True)
class SpreadTerm:
    """One source of spread: ``name``, and what it adds to the flow's standard deviation (``sd``, m3/s).

    ``shared`` names the instrument or coefficient that makes it; gaugings that share one are wrong
    together, so two people with one bucket or one guess of the bed do not halve it.
    """

    name: str
    sd: float
    shared: str = ""


@dataclass(frozen=True, slots=True)
class Gauging:
    """A gauged flow: ``estimate`` m3/s, its ``terms`` of spread, and what was noticed."""

    label: str
    estimate: Estimate
    terms: tuple[SpreadTerm, ...]
    findings: tuple[Finding, ...]

    def term(self, name: str) -> float:
        """Standard deviation (m3/s) of the term called ``name``; 0 when there is none."""
        return math.fsum(term.sd for term in self.terms if term.name == name)


def gauging(
    label: str, flow: float, origin: str, terms: Sequence[SpreadTerm], findings: Sequence[Finding]
) -> Gauging:
    """Put a gauging together: sd = root of the sum of the squared terms (m3/s)."""
    sd = math.sqrt(math.fsum(term.sd**2 for term in terms))
    return Gauging(label, Estimate(flow, sd, origin), tuple(terms), tuple(findings))


def slope(relation: Callable[[float], float], at: float, step: float) -> float:
    """Derivative of ``relation`` at ``at`` by central difference over +- ``step`` (same unit, above 0)."""
    return (relation(at + step) - relation(at - step)) / (2.0 * step)


def shared_covariance(gaugings: Sequence[Gauging]) -> NDArray[np.float64]:
    """Covariance of gaugings (m6/s2), shape (n, n): the product of two terms wherever both share one
    source.
    """
    count = len(gaugings)
    out = np.zeros((count, count))
    for i, one in enumerate(gaugings):
        out[i, i] = one.estimate.sd**2
        for j, other in enumerate(gaugings[:i]):
            out[i, j] = out[j, i] = math.fsum(
                a.sd * b.sd
                for a in one.terms
                for b in other.terms
                if a.shared and a.name == b.name and a.shared == b.shared
            )
    return out


def combine_gaugings(gaugings: Sequence[Gauging], *, judging: Judging, about: str) -> Adjustment:
    """Adjust several gaugings of one flow, with what they share; see ``combine``."""
    measured = [Measured(each.label, each.estimate) for each in gaugings]
    return combine(measured, judging=judging, about=about, covariance=shared_covariance(gaugings))
