"""What a field book's readings are judged by: rows of the catalogue, in the shape the survey takes them."""

from __future__ import annotations

from itertools import product

from ramwright.catalogue import Row, find_key, table
from ramwright.survey import (
    Access,
    Allowance,
    AllowanceKind,
    BucketRule,
    ContractionTable,
    FloatRule,
    IntakeDam,
    Judging,
    OffsetRange,
    SaltRule,
    Stand,
    VisitRule,
    WalkRule,
    WeirLimits,
)

# C[ft^0.5/s] = (2/3) Ce sqrt(2 g): what turns a coefficient of the table into Ce (standard gravity).
_TO_CE = 1.5 / (2.0 * 9.80665 / 0.3048) ** 0.5


def rule(name: str) -> float:
    """The figure applied for a rule of judging, or a spread that no instrument states; SI."""
    return table("survey_rules").row(name).number("likely")


def spread_of_instrument(given: str | None, usual: str, quantity: str) -> float | None:
    """Standard deviation (SI) of ``quantity`` with the instrument as ``given``, else the ``usual`` one.

    None where the table says nothing of it.
    """
    key = find_key("instruments", given or usual)
    rows = table("instruments").where(instrument=key, quantity=quantity)
    return rows[0].number("likely") if rows else None


def instrument_figure(given: str | None, usual: str, quantity: str) -> float:
    """Like ``spread_of_instrument``, where the table is known to say it of one of the two."""
    found = spread_of_instrument(given, usual, quantity)
    if found is None:
        found = spread_of_instrument(None, usual, quantity)
    assert found is not None, (usual, quantity)
    return found


def judging() -> Judging:
    """How strictly sets of readings are judged."""
    return Judging(significance=rule("significance"), residual_limit=rule("residual-limit"))


def book_allowance(*, with_lengths: bool) -> tuple[Allowance, Row]:
    """Allowed misclosure of level books and the row it comes from.

    By the root of the length where every sight's length was booked; else by the root of the set-ups.
    """
    rows = table("levelling_allowances")
    if with_lengths:
        row = next(each for each in rows.where(scales_with="root of length") if each.flag("used"))
        # the row's SI unit is m per root of a metre; the survey's is m per root of a kilometre
        return Allowance(AllowanceKind.PER_ROOT_KM, row.number("likely") * 1000.0**0.5), row
    row = rows.row("set-ups")
    return Allowance(AllowanceKind.PER_ROOT_SETUP, row.number("likely")), row


def run_allowance() -> Allowance:
    """How far a run out and a run back may differ, as a share of the height."""
    row = table("levelling_allowances").row("hand-level")
    return Allowance(AllowanceKind.SHARE_OF_HEIGHT, row.number("likely"))


def visit_rule(*, with_lengths: bool) -> VisitRule:
    """How all of a site's levels are judged."""
    return VisitRule(
        judging=judging(),
        allowance=book_allowance(with_lengths=with_lengths)[0],
        booking_tolerance=rule("booking-tolerance"),
        ranges=tuple(each for row in table("level_offsets") for each in _offset_ranges(row)),
    )


def _offset_ranges(row: Row) -> list[OffsetRange]:
    """A row of the table for every state of the intake dam that a water surface may have."""
    start, end = Stand(row.text("start")), Stand(row.text("end"))
    dams = [tuple(IntakeDam) if each is Stand.WATER_SURFACE else (IntakeDam.NONE,) for each in (start, end)]
    low, high = row.number("low"), row.number("high")
    return [OffsetRange(start, end, low, high, one, other) for one, other in product(*dams)]


def bucket_rule() -> BucketRule:
    """When fills are too few or too short."""
    rows = table("float_and_bucket_rules")
    return BucketRule(
        least_fills=round(rows.row("bucket-fills").number("likely")),
        least_time=rows.row("bucket-fill-time").number("low"),
        significance=rule("significance"),
    )


def float_rule() -> FloatRule:
    """When floats, sections or depths are too few or too short."""
    return FloatRule(
        least_runs=round(table("float_and_bucket_rules").row("float-runs").number("likely")),
        least_time=rule("float-least-time"),
        least_sections=round(rule("float-least-sections")),
        least_depths=round(rule("float-least-depths")),
        significance=rule("significance"),
        coefficient_share=rule("float-coefficient-share"),
    )


def v_notch_limits() -> WeirLimits:
    """Where the relation of the V-notch holds."""
    angle = table("weir_limits").row(weir="v-notch", rule="notch-angle")
    return WeirLimits(
        coefficient_share_sd=instrument_figure(None, "v-notch", "share of flow"),
        least_head=_limit("v-notch", "least-head", "low"),
        most_head_over_crest=_limit("v-notch", "most-head-over-crest", "high"),
        least_crest_height=_limit("v-notch", "least-crest-height", "low"),
        low_angle=angle.number("low"),
        high_angle=angle.number("high"),
        least_channel_width=_limit("v-notch", "least-width", "low"),
        least_gauge_heads=_limit("any", "gauge-distance-least", "low"),
        most_gauge_heads=_limit("any", "gauge-distance", "high"),
        least_free_fall=_limit("any", "least-free-fall", "low"),
    )


def rectangular_limits() -> WeirLimits:
    """Where the relations of rectangular weirs hold."""
    return WeirLimits(
        coefficient_share_sd=instrument_figure(None, "rectangular-weir", "share of flow"),
        least_head=_limit("rectangular", "least-head", "low"),
        most_head=_limit("rectangular", "most-head", "high"),
        most_head_over_crest=_limit("rectangular", "most-head-over-crest", "high"),
        most_head_over_length=_limit("rectangular", "most-head-over-length", "high"),
        least_crest_height=_limit("rectangular", "least-crest-height", "low"),
        least_length=_limit("rectangular", "least-width", "low"),
        least_end_margin_heads=_limit("rectangular", "least-end-margin", "low"),
        least_gauge_heads=_limit("any", "gauge-distance-least", "low"),
        most_gauge_heads=_limit("any", "gauge-distance", "high"),
        least_free_fall=_limit("any", "least-free-fall", "low"),
    )


def _limit(kind: str, name: str, end: str) -> float:
    return table("weir_limits").row(weir=kind, rule=name).number(end)


def contraction_table() -> ContractionTable:
    """Coefficients of the Kindsvater-Carter relation."""
    rows = table("weir_contraction").rows
    return ContractionTable(
        ratios=tuple(row.number("length_over_width") for row in rows),
        intercepts=tuple(row.number("c2") * _TO_CE for row in rows),
        slopes=tuple(row.number("c1") * _TO_CE for row in rows),
        width_corrections=tuple(row.number("kb_m") for row in rows),
    )


def salt_rule() -> SaltRule:
    """What a good salt gauging keeps to."""
    rows = table("salt_dilution")
    return SaltRule(
        most_edge_share=rule("salt-edge"),
        least_readings=round(rule("salt-readings")),
        least_peak=rule("salt-peak"),
        least_widths=rows.row("mixing-reach").number("low"),
        most_constant_flow=rows.row("constant-rate-flow").number("high"),
        most_constant_width=rows.row("constant-rate-width").number("high"),
        drift_limit=rule("salt-drift"),
    )


def walk_rule() -> WalkRule:
    """How pairs of places are ranked."""
    return WalkRule(
        least_fall=table("ram_limits").row("least-fall").number("low"),
        poorest_access=Access(round(rule("walk-access"))),
        margin=rule("walk-margin"),
    )
