"""What a field book shows as verdicts: each finding that a reader of the facts must know, graded.

How grave a finding is stands in one table; a finding that only says all is well has no grade.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from ramwright.appraise.book_rules import book_allowance
from ramwright.appraise.facts import FactsFound
from ramwright.appraise.verdict import Grade, Verdict
from ramwright.catalogue import Row, table
from ramwright.survey import Finding

_RED: Final = ("fall_not_positive", "lift_not_above_fall", "fact_missing", "fall_gone", "ram_below_flood")
_AMBER: Final = (
    # levels
    *("booked_level_differs", "misclosure_beyond", "run_disagrees", "hose_setups_disagree"),
    *("gauge_low_in_range", "gauge_beyond_scale", "gauge_zero_unchecked", "gauge_air_not_purged"),
    *("raised_pipe_hysteresis", "raised_pipe_correction_unstated"),
    *("datum_assumed", "datum_not_reducible", "dam_unstated", "feed_is_not_drive_tank", "points_apart"),
    *("levels_disagree", "level_outlier", "level_outlier_not_located", "typed_level_disagrees"),
    # flows
    *("methods_disagree", "outlier", "outlier_not_located", "typed_flow_disagrees", "flow_not_low"),
    *("bucket_fills_scatter", "float_runs_scatter", "float_bed_unstated", "float_coefficient_unfit"),
    *("weir_head_low", "weir_head_high", "weir_head_over_crest", "weir_head_over_length"),
    *("weir_crest_low", "weir_crest_short", "weir_channel_narrow", "weir_contraction_partial"),
    *("weir_angle_outside", "weir_gauge_close", "weir_nappe_not_free", "weir_submerged"),
    "weir_heads_scatter",
    *("salt_tail_cut", "salt_start_missed", "salt_sampling_coarse", "salt_peak_low"),
    *("salt_background_drift", "salt_mixing_short", "salt_plateau_drift", "salt_flow_large"),
    "salt_stream_wide",
    # stages and the four flows
    *("outlet_drowned", "supply_exceeds_creek", "drive_exceeds_supply", "delivery_exceeds_drive"),
    "residual_short",
    # the walk
    *("access_poor", "gravity_would_serve"),
)
_NOTE: Final = (
    *("book_open", "book_ends_on_intermediate", "misclosure_not_judged", "sights_unequal"),
    *("tilt_not_corrected", "run_one_way", "gauge_zero_off", "gauge_class_rules"),
    *("raised_pipe_one_sided", "fact_unchecked", "flow_stage_unstated"),
    *("bucket_few_fills", "bucket_short_fill", "bucket_catch_incomplete"),
    *("float_few_runs", "float_short_run", "float_few_sections", "float_few_depths"),
    *("float_coefficient_rules", "weir_gauge_far", "weir_gauge_place_unstated"),
    *("weir_tailwater_unstated", "relation_from_memory", "salt_not_calibrated"),
    *("outlet_drowns_at", "outlet_drowns_between", "outlet_near_drowning", "residual_unsure"),
    *("no_fall", "flood_mark_unknown", "access_unknown", "near_tie"),
)
_OWN: Final = "the field book"
GRADES: Final[MappingProxyType[str, Grade]] = MappingProxyType(
    {
        **dict.fromkeys(_RED, "red"),
        **dict.fromkeys(_AMBER, "amber"),
        **dict.fromkeys(_NOTE, "note"),
    }
)
"""Code of a finding -> how grave it is."""
WELL: Final = frozenset({"misclosure_within", "run_agrees"})
"""Findings that say all is well."""

# Number of a finding that it was held against -> whether it may be one; the first that a finding has counts.
_LIMITS: Final = (
    *("allowed_m", "limit", "least", "most", "least_m", "most_m", "least_s", "least_share", "most_m3_s"),
    *("high", "high_deg", "required_m3_s"),
)
# How a finding's code begins -> the table its limit stands in, and a row where there are several sources.
_SOURCES: Final = (
    ("weir_head_high", "weir_limits", {"weir": "rectangular", "rule": "most-head"}),
    ("weir_head_over_length", "weir_limits", {"weir": "rectangular", "rule": "most-head-over-length"}),
    ("weir_crest_short", "weir_limits", {"weir": "rectangular", "rule": "least-width"}),
    ("weir_contraction_partial", "weir_limits", {"weir": "rectangular", "rule": "least-end-margin"}),
    ("weir_angle_outside", "weir_limits", {"weir": "v-notch", "rule": "notch-angle"}),
    ("weir_gauge_close", "weir_limits", {"weir": "any", "rule": "gauge-distance-least"}),
    ("weir_gauge_far", "weir_limits", {"weir": "any", "rule": "gauge-distance"}),
    ("weir_nappe_not_free", "weir_limits", {"weir": "any", "rule": "least-free-fall"}),
    ("weir_channel_narrow", "weir_limits", {"weir": "v-notch", "rule": "least-width"}),
    ("bucket_few_fills", "float_and_bucket_rules", {"rule": "bucket-fills"}),
    ("bucket_short_fill", "float_and_bucket_rules", {"rule": "bucket-fill-time"}),
    ("float_few_runs", "float_and_bucket_rules", {"rule": "float-runs"}),
    ("float_bed_unstated", "float_coefficients", {"bed": "very-shallow-rocky"}),
    ("float_coefficient_unfit", "float_coefficients", {"bed": "very-shallow-rocky"}),
    ("salt_mixing_short", "salt_dilution", {"rule": "mixing-reach"}),
    ("salt_flow_large", "salt_dilution", {"rule": "constant-rate-flow"}),
    ("run_disagrees", "levelling_allowances", {"rule": "hand-level"}),
    ("gauge_low_in_range", "survey_rules", {"rule": "gauge-least-share"}),
)


def survey_findings(found: FactsFound) -> Iterator[Verdict]:
    """A verdict ``survey_<code>`` for every finding about the facts that has a grade."""
    # level books were judged by their length, or by their set-ups
    with_lengths = found.reduction is not None and found.reduction.levels.with_lengths
    runs = found.reduction.runs if found.reduction is not None else ()
    paths = {run.label: run.path for run in runs}
    for finding in found.findings:
        grade = GRADES.get(finding.code)
        if grade is None:
            continue
        numbers: dict[str, object] = {**dict(finding.numbers), "about": finding.about, "names": finding.names}
        limit = next((value for name, value in finding.numbers if name in _LIMITS), None)
        row = _row(finding, with_lengths=with_lengths)
        yield Verdict(
            f"survey_{finding.code}",
            grade,
            _about(finding, paths),
            numbers,
            limit,
            row.provenance.source.text if row.provenance.source.key != "none" else _OWN,
            row.provenance.mark,
        )


def _row(finding: Finding, *, with_lengths: bool) -> Row:
    """The row of the catalogue a finding rests on; that of the residual test for most."""
    if finding.code == "misclosure_beyond":
        return book_allowance(with_lengths=with_lengths)[1]
    for code, name, key in _SOURCES:
        if finding.code == code:
            return table(name).row(**key)
    if finding.code.startswith("weir_"):  # both kinds of weir have these limits, of one mark
        return table("weir_limits").row(weir="v-notch", rule="least-head")
    return table("survey_rules").row("residual-limit")


def _about(finding: Finding, paths: Mapping[str, str]) -> str:
    """The entry of the sheet a finding is about, as far as its name tells."""
    if finding.about in paths:
        return paths[finding.about]
    if finding.about in ("fall", "lift"):
        return f"facts.{finding.about}"
    if finding.about == "source_flow" or finding.about.startswith("flow, "):
        return "facts.source_flow"
    return "stage" if finding.about in ("low", "normal", "flood", "stages") else "visit"
