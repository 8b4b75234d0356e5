"""Timed bucket fills."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ramwright.quantities import Estimate
from ramwright.survey._checks import at_least, between, not_negative, positive
from ramwright.survey.consistency import chi_square_tail, small_sample_factor
from ramwright.survey.findings import Finding, found
from ramwright.survey.gaugings import Gauging, SpreadTerm, gauging


@dataclass(frozen=True, slots=True)
class Fill:
    """One fill: ``volume`` m3 to the mark, ``time`` s."""

    volume: float
    time: float
    line: int | None = None


@dataclass(frozen=True, slots=True)
class Bucket:
    """``name`` of the bucket; ``volume_share_sd`` how well its mark is known (share, the same in every fill);
    ``fill_sd`` m3, how closely it is filled to the mark; ``reaction_sd`` s, watch and hand together, a fill.
    """

    name: str
    volume_share_sd: float
    fill_sd: float
    reaction_sd: float

    def __post_init__(self) -> None:
        not_negative("volume_share_sd", self.volume_share_sd)
        not_negative("fill_sd", self.fill_sd)
        positive("reaction_sd", self.reaction_sd)


@dataclass(frozen=True, slots=True)
class BucketRule:
    """What is called too few fills, too short a fill (s), and scatter beyond chance."""

    least_fills: int
    least_time: float
    significance: float


def bucket_flow(
    label: str,
    fills: Sequence[Fill],
    *,
    bucket: Bucket,
    rule: BucketRule,
    caught: Estimate | None = None,
) -> Gauging:
    """Flow from timed fills: sum of volumes / sum of times / share caught, m3/s.

    For one volume that is the volume over the mean time, as FAO has it. A fill's time is out by its
    reaction and its filling: s_i^2 = reaction^2 + (fill_sd / Q)^2. The repeats' own scatter about volume /
    Q takes over where it is larger. The bucket's mark is wrong alike in every fill and repeats do not
    lessen it. ``caught``: the share of the flow that went into the bucket, with its spread. Raises
    ``InputError``.
    """
    at_least(f"{label}.fills", fills, 1)
    for i, fill in enumerate(fills):
        positive(f"{label}[{i}].volume", fill.volume, line=fill.line)
        positive(f"{label}[{i}].time", fill.time, line=fill.line)
    share = 1.0 if caught is None else between(f"{label}.caught", caught.value, 1e-6, 1.0)
    volume = math.fsum(fill.volume for fill in fills)
    time = math.fsum(fill.time for fill in fills)
    into = volume / time
    count = len(fills)
    expected = math.hypot(bucket.reaction_sd, bucket.fill_sd / into)
    squares = math.fsum((fill.time - fill.volume / into) ** 2 for fill in fills)
    scatter = math.sqrt(squares / (count - 1)) if count > 1 else 0.0
    scattered = chi_square_tail(squares / expected**2, count - 1) < rule.significance
    single = max(expected, scatter * (small_sample_factor(count - 1) if scattered else 1.0))
    flow = into / share
    terms = [
        SpreadTerm("timing", flow * single * math.sqrt(count) / time),
        SpreadTerm("bucket volume", flow * bucket.volume_share_sd, bucket.name),
    ]
    findings: list[Finding] = []
    if caught is not None:
        terms.append(SpreadTerm("share caught", flow * caught.sd / share))
        if share < 1.0:
            findings.append(found("bucket_catch_incomplete", label, share_caught=share, sd=caught.sd))
    if count < rule.least_fills:
        findings.append(found("bucket_few_fills", label, fills=count, least=rule.least_fills))
    shortest = min(fill.time for fill in fills)
    if shortest < rule.least_time:
        findings.append(found("bucket_short_fill", label, shortest_s=shortest, least_s=rule.least_time))
    if scattered:
        findings.append(found("bucket_fills_scatter", label, scatter_s=scatter, expected_s=expected))
    return gauging(label, flow, f"bucket, {count} fills", terms, findings)
