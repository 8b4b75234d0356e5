"""A float timed over a measured reach, with the creek's cross-sections."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey._checks import at_least, column, not_negative, positive, rising
from ramwright.survey.consistency import repeat
from ramwright.survey.findings import Finding, found
from ramwright.survey.gaugings import Gauging, SpreadTerm, gauging


@dataclass(frozen=True, slots=True)
class CrossSection:
    """Depths across the creek: ``offsets`` m from a mark on one bank, rising, the two water edges included;
    ``depths`` m at them; ``along`` m from the head of the reach, None if not measured.
    """

    offsets: tuple[float, ...]
    depths: tuple[float, ...]
    along: float | None = None


@dataclass(frozen=True, slots=True)
class FloatSpread:
    """Spreads: ``offset_sd`` and ``depth_sd`` m each; ``length_share_sd`` of the reach; ``reaction_sd`` s;
    ``run_share_sd``, how far one float's time usually strays from the mean (share); ``section_share_sd``, how
    far one section's area usually strays from the reach's mean (share).
    """

    offset_sd: float
    depth_sd: float
    length_share_sd: float
    reaction_sd: float
    run_share_sd: float
    section_share_sd: float

    def __post_init__(self) -> None:
        positive("reaction_sd", self.reaction_sd)
        for name in ("offset_sd", "depth_sd", "length_share_sd", "run_share_sd", "section_share_sd"):
            not_negative(name, getattr(self, name))


@dataclass(frozen=True, slots=True)
class FloatCoefficient:
    """Mean over surface velocity: ``name`` of the bed it is for, with ``value`` and its spread.

    ``low`` and ``high`` are for a bed that was not stated: the range over all beds that may be meant.
    """

    name: str
    value: Estimate
    low: float | None = None
    high: float | None = None

    @property
    def stated(self) -> bool:
        """Whether the bed was stated."""
        return self.low is None or self.high is None


@dataclass(frozen=True, slots=True)
class FloatRule:
    """What is called too few runs, sections or depths, too short a run (s), scatter beyond chance, and a
    coefficient that makes most of the spread (share of the variance).
    """

    least_runs: int
    least_time: float
    least_sections: int
    least_depths: int
    significance: float
    coefficient_share: float


def bed_unstated(low: float, high: float) -> FloatCoefficient:
    """Coefficient where the bed was not stated: the middle of the range over all beds, spread width / sqrt
    12.

    Even chances over the range (GUM 4.3.7, from memory). Raises ``InputError`` unless 0 < low < high.
    """
    positive("low", low)
    if high <= low:
        raise InputError("survey_range_upside_down", field="high", value=high, low=low)
    middle = Estimate((low + high) / 2.0, (high - low) / math.sqrt(12.0), "bed not stated")
    return FloatCoefficient("unstated", middle, low, high)


def section_area(section: CrossSection, spread: FloatSpread) -> Estimate:
    """Area of a cross-section (m2) by trapezoids: sum of (x[i+1] - x[i]) (d[i] + d[i+1]) / 2.

    Its spread from each depth (times half the width about it) and each offset (times half the difference of
    the depths beside it). Raises ``InputError``: fewer than two points, offsets that do not rise, a depth
    below nought, no water.
    """
    x = column("offsets", section.offsets, least=2)
    d = column("depths", section.depths, least=2)
    if x.size != d.size:
        raise InputError("survey_columns_differ", field="depths", value=int(d.size), other=int(x.size))
    rising("offsets", x)
    for i, depth in enumerate(section.depths):
        not_negative(f"depths[{i}]", depth)
    area = float(np.sum(np.diff(x) * (d[:-1] + d[1:]) / 2.0))
    positive("area", area)
    # Weight of a point: half of what the point after it has over the point before it.
    by_depth = np.diff(np.concatenate(([x[0]], (x[:-1] + x[1:]) / 2.0, [x[-1]])))
    around = np.concatenate(([d[0]], d, [d[-1]]))
    by_offset = (around[:-2] - around[2:]) / 2.0
    by_offset[0] = -(d[0] + d[1]) / 2.0
    by_offset[-1] = (d[-2] + d[-1]) / 2.0
    variance = (spread.depth_sd * np.linalg.norm(by_depth)) ** 2
    variance += (spread.offset_sd * np.linalg.norm(by_offset)) ** 2
    return Estimate(area, math.sqrt(variance), "cross-section")


def mean_area(sections: Sequence[CrossSection], areas: NDArray[np.float64], length: float) -> float:
    """Mean area over the reach, m2.

    Where all sections say how far along they are, their areas are joined by straight lines and held level
    to the ends of the reach (``length`` m); else the plain mean. Raises ``InputError`` for sections outside
    the reach.
    """
    along = [section.along for section in sections]
    if len(sections) == 1 or any(each is None for each in along):
        return float(np.mean(areas))
    at = np.array([float(each) for each in along if each is not None])
    order = np.argsort(at)
    at, areas = at[order], areas[order]
    rising("along", at)
    if at[0] < 0.0 or at[-1] > length:
        raise InputError("survey_section_outside_reach", field="along", value=float(at[-1]), length=length)
    at = np.concatenate(([0.0], at, [length]))
    areas = np.concatenate(([areas[0]], areas, [areas[-1]]))
    return float(np.sum(np.diff(at) * (areas[:-1] + areas[1:]) / 2.0) / length)


def float_flow(
    label: str,
    *,
    length: float,
    times: Sequence[float],
    sections: Sequence[CrossSection],
    coefficient: FloatCoefficient,
    spread: FloatSpread,
    rule: FloatRule,
) -> Gauging:
    """Flow from floats: k x mean area x length / mean time, m3/s.

    A float's time over the reach is the integral of k A(x) / Q, so the mean area along the reach and the
    mean time give the flow exactly where velocity is even across. ``length`` m, ``times`` s, one a run. The
    float's coefficient k (mean over surface velocity) is no constant: its spread, shared by every gauging
    of that bed, usually rules. Raises ``InputError``.
    """
    positive("length", length)
    at_least(f"{label}.times", times, 1)
    for i, time in enumerate(times):
        positive(f"{label}.times[{i}]", time)
    at_least(f"{label}.sections", sections, 1)
    k = coefficient.value
    positive("coefficient", k.value)
    mean = math.fsum(times) / len(times)
    runs = repeat(
        column("times", times),
        expected=math.hypot(spread.reaction_sd, spread.run_share_sd * mean),
        significance=rule.significance,
    )
    each = [section_area(section, spread) for section in sections]
    areas = np.array([area.value for area in each])
    area = mean_area(sections, areas, length)
    read = math.sqrt(math.fsum(a.sd**2 for a in each)) / len(each)
    scatter = float(np.std(areas, ddof=1)) if areas.size > 1 else 0.0
    between = max(scatter, spread.section_share_sd * area) / math.sqrt(areas.size)
    flow = k.value * area * length / runs.mean
    terms = [
        SpreadTerm("coefficient", flow * k.sd / k.value, coefficient.name),
        SpreadTerm("timing", flow * runs.sd / runs.mean),
        SpreadTerm("depths", flow * read / area),
        SpreadTerm("sections", flow * between / area),
        SpreadTerm("reach length", flow * spread.length_share_sd),
    ]
    findings = _findings(label, times, sections, coefficient, rule)
    if runs.scattered:
        findings.append(found("float_runs_scatter", label, scatter_s=runs.scatter, expected_s=runs.expected))
    total = math.fsum(term.sd**2 for term in terms)
    share = terms[0].sd ** 2 / total if total > 0.0 else 0.0
    if share > rule.coefficient_share:
        findings.append(found("float_coefficient_rules", label, share_of_variance=share))
    return gauging(label, flow, f"float, {len(times)} runs", terms, findings)


def _findings(
    label: str,
    times: Sequence[float],
    sections: Sequence[CrossSection],
    coefficient: FloatCoefficient,
    rule: FloatRule,
) -> list[Finding]:
    out: list[Finding] = []
    if len(times) < rule.least_runs:
        out.append(found("float_few_runs", label, runs=len(times), least=rule.least_runs))
    if min(times) < rule.least_time:
        out.append(found("float_short_run", label, time_s=min(times), least_s=rule.least_time))
    if len(sections) < rule.least_sections:
        out.append(found("float_few_sections", label, sections=len(sections), least=rule.least_sections))
    fewest = min(len(section.depths) for section in sections)
    if fewest < rule.least_depths:
        out.append(found("float_few_depths", label, depths=fewest, least=rule.least_depths))
    if coefficient.low is not None and coefficient.high is not None:
        out.append(
            found(
                "float_bed_unstated",
                label,
                low=coefficient.low,
                high=coefficient.high,
                used=coefficient.value.value,
            )
        )
    return out
