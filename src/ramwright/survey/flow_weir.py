"""A weir board's readings: flow, where its spread comes from, and every limit it breaks."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from ramwright.errors import InputError
from ramwright.survey._checks import column, not_negative, positive
from ramwright.survey.consistency import repeat
from ramwright.survey.findings import Finding, found
from ramwright.survey.gaugings import Gauging, SpreadTerm, gauging, slope
from ramwright.survey.weir import (
    ContractionTable,
    contraction_margin,
    francis_flow,
    kindsvater_carter_flow,
    notch_coefficients,
    rehbock_flow,
    submergence_factor,
    v_notch_flow,
)


class RectangularRelation(StrEnum):
    """Which relation a rectangular weir is read with."""

    FRANCIS = "francis"
    REHBOCK = "rehbock"
    KINDSVATER_CARTER = "kindsvater_carter"


@dataclass(frozen=True, slots=True)
class VNotch:
    """A V-notch board: ``angle`` rad and its ``angle_sd``; ``crest_height`` m of the bottom of the notch over
    the pool's bed; ``channel_width`` m of the pool.
    """

    name: str
    angle: float
    angle_sd: float
    crest_height: float
    channel_width: float


@dataclass(frozen=True, slots=True)
class RectangularWeir:
    """A rectangular board: crest ``width`` m and its ``width_sd``; ``crest_height`` m over the pool's bed;
    ``channel_width`` m; ``contractions`` 0, 1 or 2; the ``relation`` to read it with, and its ``table`` where
    that is Kindsvater-Carter's.
    """

    name: str
    width: float
    width_sd: float
    crest_height: float
    channel_width: float
    contractions: int
    relation: RectangularRelation
    table: ContractionTable | None = None


@dataclass(frozen=True, slots=True)
class HeadReadings:
    """``heads`` m over the crest, repeats; ``reading_sd`` m each; ``zero_sd`` m, how well the crest's own
    level on the gauge is known (the same in all); ``gauge_distance`` m upstream of the board; ``tailwater``
    m over the crest, below nought where the nappe falls free; None where not said.
    """

    heads: tuple[float, ...]
    reading_sd: float
    zero_sd: float
    gauge_distance: float | None = None
    tailwater: float | None = None


@dataclass(frozen=True, slots=True)
class WeirLimits:
    """Limits of a relation; m, or ratios. A None is a limit its source does not state.

    ``coefficient_share_sd`` the spread of the coefficient inside its limits (share of the flow).
    """

    coefficient_share_sd: float
    least_head: float | None = None
    most_head: float | None = None
    most_head_over_crest: float | None = None
    most_head_over_length: float | None = None
    least_crest_height: float | None = None
    least_length: float | None = None
    least_channel_width: float | None = None
    least_end_margin_heads: float | None = None
    low_angle: float | None = None
    high_angle: float | None = None
    least_gauge_heads: float | None = None
    most_gauge_heads: float | None = None
    least_free_fall: float | None = None


def v_notch_gauging(
    label: str, notch: VNotch, readings: HeadReadings, *, limits: WeirLimits, significance: float
) -> Gauging:
    """Flow over a V-notch by the Kindsvater-Shen relation, drowned by Villemonte's where tailwater is up.

    Spread by propagation: dQ/dh times the spread of the head (repeats) and of the crest's zero, dQ/dangle
    times that of the angle, and the coefficient's own. The coefficients are from memory: a finding says so.
    Raises ``InputError``; ``LimitError`` for an angle outside 20 to 100 degrees.
    """
    positive("angle", notch.angle)
    coefficients = notch_coefficients(notch.angle)

    def flow(head: float) -> float:
        return v_notch_flow(head, angle=notch.angle, coefficients=coefficients)

    # tan(angle/2): d ln Q / d angle = 1 / sin(angle), the coefficients' own change being far smaller.
    shape = not_negative("angle_sd", notch.angle_sd) / math.sin(notch.angle)
    board = _Board(notch.name, flow, 2.5, ("angle", shape), notch.crest_height, "V-notch")
    result = _gauge(label, board, readings, limits, significance)
    head = _mean_head(readings)
    extra = (found("relation_from_memory", label), *_v_limits(label, notch, head, limits))
    return Gauging(label, result.estimate, result.terms, result.findings + extra)


def rectangular_gauging(
    label: str, weir: RectangularWeir, readings: HeadReadings, *, limits: WeirLimits, significance: float
) -> Gauging:
    """Flow over a rectangular weir by the relation it names, drowned by Villemonte's where tailwater is up.

    Spread as for the V-notch, with the crest's width in place of the angle. Raises ``InputError``, also for a
    full-width relation on a crest narrower than its channel.
    """
    relation = _relation(weir)
    origin = f"rectangular weir, {weir.relation.value}"
    shape = not_negative("width_sd", weir.width_sd) / positive("width", weir.width)
    board = _Board(weir.name, relation, 1.5, ("width", shape), weir.crest_height, origin)
    result = _gauge(label, board, readings, limits, significance)
    head = _mean_head(readings)
    extra = _rectangular_limits(label, weir, head, limits)
    return Gauging(label, result.estimate, result.terms, result.findings + extra)


@dataclass(frozen=True, slots=True)
class _Board:
    """A board reduced to what reading it needs: its free flow by head, and the share spread of its shape."""

    name: str
    flow: Callable[[float], float]
    exponent: float
    shape: tuple[str, float]
    crest_height: float
    origin: str


def _mean_head(readings: HeadReadings) -> float:
    heads = column("heads", readings.heads)
    return float(heads.mean())


def _relation(weir: RectangularWeir) -> Callable[[float], float]:
    if weir.relation is RectangularRelation.FRANCIS:
        return lambda head: francis_flow(head, length=weir.width, contractions=weir.contractions)
    if weir.relation is RectangularRelation.REHBOCK:
        if weir.contractions or abs(weir.channel_width - weir.width) > weir.width_sd:
            raise InputError("survey_weir_not_full_width", field=weir.name, value=weir.width)
        return lambda head: rehbock_flow(head, width=weir.width, crest_height=weir.crest_height)
    table = weir.table
    if table is None:
        raise InputError("survey_weir_table_missing", field=weir.name)
    return lambda head: kindsvater_carter_flow(
        head,
        width=weir.width,
        channel_width=weir.channel_width,
        crest_height=weir.crest_height,
        table=table,
    )


def _gauge(
    label: str,
    board: _Board,
    readings: HeadReadings,
    limits: WeirLimits,
    significance: float,
) -> Gauging:
    for i, value in enumerate(readings.heads):
        positive(f"{label}.heads[{i}]", value)
    positive("reading_sd", readings.reading_sd)
    not_negative("zero_sd", readings.zero_sd)
    heads = repeat(
        column(f"{label}.heads", readings.heads), expected=readings.reading_sd, significance=significance
    )
    tail = readings.tailwater if readings.tailwater is not None else 0.0

    def flow(head: float) -> float:
        return board.flow(head) * submergence_factor(head, tail, exponent=board.exponent)

    value = flow(heads.mean)
    # A step well inside what is left above the tailwater, small against the head.
    step = 1e-4 * (heads.mean - max(tail, 0.0))
    by_head = slope(flow, heads.mean, step)
    terms = [
        SpreadTerm("head", abs(by_head) * heads.sd),
        SpreadTerm("crest zero", abs(by_head) * readings.zero_sd, board.name),
        SpreadTerm(board.shape[0], value * board.shape[1], board.name),
        SpreadTerm("coefficient", value * limits.coefficient_share_sd, board.name),
    ]
    if tail > 0.0:
        by_tail = slope(
            lambda each: submergence_factor(heads.mean, each, exponent=board.exponent),
            tail,
            1e-4 * min(tail, heads.mean - tail),
        )
        terms.append(SpreadTerm("tailwater", abs(by_tail) * board.flow(heads.mean) * readings.reading_sd))
    findings = _head_findings(label, heads.mean, readings, limits, board)
    if heads.scattered:
        findings.append(
            found("weir_heads_scatter", label, scatter_m=heads.scatter, expected_m=heads.expected)
        )
    return gauging(label, value, board.origin, terms, findings)


def _head_findings(
    label: str, head: float, readings: HeadReadings, limits: WeirLimits, board: _Board
) -> list[Finding]:
    out: list[Finding] = []
    if limits.least_head is not None and head < limits.least_head:
        out.append(found("weir_head_low", label, head_m=head, least_m=limits.least_head))
    if limits.most_head is not None and head > limits.most_head:
        out.append(found("weir_head_high", label, head_m=head, most_m=limits.most_head))
    ratio = head / positive("crest_height", board.crest_height)
    if limits.most_head_over_crest is not None and ratio > limits.most_head_over_crest:
        out.append(
            found("weir_head_over_crest", label, head_over_crest=ratio, most=limits.most_head_over_crest)
        )
    if limits.least_crest_height is not None and board.crest_height < limits.least_crest_height:
        out.append(
            found("weir_crest_low", label, crest_m=board.crest_height, least_m=limits.least_crest_height)
        )
    return (
        out
        + _place_findings(label, head, readings, limits)
        + _tail_findings(label, head, readings, limits, board)
    )


def _place_findings(label: str, head: float, readings: HeadReadings, limits: WeirLimits) -> list[Finding]:
    near, far, at = limits.least_gauge_heads, limits.most_gauge_heads, readings.gauge_distance
    if at is None:
        return [found("weir_gauge_place_unstated", label)] if near is not None else []
    if near is not None and at < near * head:
        return [found("weir_gauge_close", label, distance_m=at, least_m=near * head)]
    if far is not None and at > far * head:
        return [found("weir_gauge_far", label, distance_m=at, most_m=far * head)]
    return []


def _tail_findings(
    label: str, head: float, readings: HeadReadings, limits: WeirLimits, board: _Board
) -> list[Finding]:
    tail = readings.tailwater
    if tail is None:
        return [found("weir_tailwater_unstated", label)]
    if tail > 0.0:
        factor = submergence_factor(head, tail, exponent=board.exponent)
        return [found("weir_submerged", label, ratio=tail / head, reduction=1.0 - factor)]
    if limits.least_free_fall is not None and -tail < limits.least_free_fall:
        return [
            found(
                "weir_nappe_not_free",
                label,
                tailwater_below_crest_m=-tail,
                least_m=limits.least_free_fall,
            )
        ]
    return []


def _v_limits(label: str, notch: VNotch, head: float, limits: WeirLimits) -> tuple[Finding, ...]:
    out: list[Finding] = []
    low, high = limits.low_angle, limits.high_angle
    if low is not None and high is not None and not low <= notch.angle <= high:
        out.append(
            found(
                "weir_angle_outside",
                label,
                angle_deg=math.degrees(notch.angle),
                low_deg=math.degrees(low),
                high_deg=math.degrees(high),
            )
        )
    if limits.least_channel_width is not None and notch.channel_width < limits.least_channel_width:
        out.append(
            found(
                "weir_channel_narrow",
                label,
                channel_m=notch.channel_width,
                least_m=limits.least_channel_width,
            )
        )
    surface = 2.0 * head * math.tan(notch.angle / 2.0)
    return tuple(out) + _margin(label, surface, notch.channel_width, head, limits)


def _rectangular_limits(
    label: str, weir: RectangularWeir, head: float, limits: WeirLimits
) -> tuple[Finding, ...]:
    out: list[Finding] = []
    ratio = head / weir.width
    if limits.most_head_over_length is not None and ratio > limits.most_head_over_length:
        out.append(
            found("weir_head_over_length", label, head_over_length=ratio, most=limits.most_head_over_length)
        )
    if limits.least_length is not None and weir.width < limits.least_length:
        out.append(found("weir_crest_short", label, length_m=weir.width, least_m=limits.least_length))
    if weir.contractions and weir.relation is RectangularRelation.FRANCIS:
        return tuple(out) + _margin(label, weir.width, weir.channel_width, head, limits)
    return tuple(out)


def _margin(label: str, width: float, channel: float, head: float, limits: WeirLimits) -> tuple[Finding, ...]:
    """Too little channel beside the water for the nappe to contract fully."""
    if limits.least_end_margin_heads is None:
        return ()
    margin = contraction_margin(width, max(channel, width))
    least = limits.least_end_margin_heads * head
    return (
        (found("weir_contraction_partial", label, margin_m=margin, least_m=least),) if margin < least else ()
    )
