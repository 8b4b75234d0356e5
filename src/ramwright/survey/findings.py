"""What the survey notices: a code, what it is about, and numbers. The sentences are made in ``wording``.

A finding never changes a value by itself; it says what a reader of the facts must know.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

# Code -> the names of its numbers, in order. Units stand in the names; none means a plain number.
FINDINGS: Final = MappingProxyType(
    {
        # Level books
        "book_open": ("setups",),
        "book_ends_on_intermediate": (),
        "booked_level_differs": ("booked_m", "reduced_m", "step_difference_m"),
        "misclosure_within": ("misclosure_m", "allowed_m"),
        "misclosure_beyond": ("misclosure_m", "allowed_m"),
        "misclosure_not_judged": ("misclosure_m",),
        "sights_unequal": ("difference_of_lengths_m", "possible_error_m"),
        "tilt_not_corrected": ("tilt_rad",),
        # Hand levels, Abney lines
        "run_one_way": ("rise_m",),
        "run_agrees": ("disagreement_m", "allowed_m"),
        "run_disagrees": ("disagreement_m", "allowed_m", "implied_tilt_rad"),
        # Hose, gauge, raised pipe
        "hose_setups_disagree": ("spread_m", "expected_m"),
        "gauge_low_in_range": ("share_of_scale", "least_share"),
        "gauge_beyond_scale": ("share_of_scale",),
        "gauge_zero_unchecked": ("class_error_m",),
        "gauge_zero_off": ("zero_m", "class_error_m"),
        "gauge_air_not_purged": ("head_m",),
        "gauge_class_rules": ("class_error_m", "share_of_head"),
        "raised_pipe_one_sided": ("height_m",),
        "raised_pipe_hysteresis": ("between_stop_and_start_m",),
        "raised_pipe_correction_unstated": (),
        # Datum
        "datum_assumed": ("low_m", "high_m", "used_m", "possible_error_m"),
        "datum_not_reducible": (),
        "feed_is_not_drive_tank": (),
        # Level network and the facts made from it
        "levels_disagree": ("chi_square", "degrees", "p_value", "widened_by"),
        "level_outlier": ("residual_m", "normalised", "limit"),
        "level_outlier_not_located": ("count", "largest_normalised"),
        "fact_unchecked": ("unchecked_legs",),
        "points_apart": (),
        "fact_missing": (),
        "fall_not_positive": ("fall_m",),
        "lift_not_above_fall": ("fall_m", "lift_m"),
        # Several measurements of one fact
        "methods_disagree": ("chi_square", "degrees", "p_value", "widened_by"),
        "outlier": ("residual", "normalised", "limit", "value_without", "sd_without"),
        "outlier_not_located": ("count", "largest_normalised"),
        # Flow: bucket
        "bucket_few_fills": ("fills", "least"),
        "bucket_short_fill": ("shortest_s", "least_s"),
        "bucket_fills_scatter": ("scatter_s", "expected_s"),
        "bucket_catch_incomplete": ("share_caught", "sd"),
        # Flow: float
        "float_few_runs": ("runs", "least"),
        "float_short_run": ("time_s", "least_s"),
        "float_few_sections": ("sections", "least"),
        "float_few_depths": ("depths", "least"),
        "float_runs_scatter": ("scatter_s", "expected_s"),
        "float_bed_unstated": ("low", "high", "used"),
        "float_coefficient_rules": ("share_of_variance",),
        # Flow: weirs
        "weir_head_low": ("head_m", "least_m"),
        "weir_head_high": ("head_m", "most_m"),
        "weir_head_over_crest": ("head_over_crest", "most"),
        "weir_head_over_length": ("head_over_length", "most"),
        "weir_crest_low": ("crest_m", "least_m"),
        "weir_crest_short": ("length_m", "least_m"),
        "weir_channel_narrow": ("channel_m", "least_m"),
        "weir_contraction_partial": ("margin_m", "least_m"),
        "weir_angle_outside": ("angle_deg", "low_deg", "high_deg"),
        "weir_gauge_close": ("distance_m", "least_m"),
        "weir_gauge_far": ("distance_m", "most_m"),
        "weir_gauge_place_unstated": (),
        "weir_nappe_not_free": ("tailwater_below_crest_m", "least_m"),
        "weir_submerged": ("ratio", "reduction"),
        "weir_tailwater_unstated": (),
        "relation_from_memory": (),
        "weir_heads_scatter": ("scatter_m", "expected_m"),
        # Flow: salt
        "salt_tail_cut": ("last_share_of_peak", "most"),
        "salt_start_missed": ("first_share_of_peak", "most"),
        "salt_sampling_coarse": ("readings_across_wave", "least"),
        "salt_peak_low": ("peak_over_noise", "least"),
        "salt_background_drift": ("drift_S_m", "expected_S_m"),
        "salt_mixing_short": ("widths", "least"),
        "salt_not_calibrated": ("share_sd",),
        "salt_plateau_drift": ("drift_S_m", "expected_S_m"),
        "salt_flow_large": ("flow_m3_s", "most_m3_s"),
        "salt_stream_wide": ("width_m", "most_m"),
        # Stages and the four flows
        "outlet_drowned": ("stage", "tailwater_above_outlet_m", "fall_m"),
        "outlet_drowns_at": ("stage",),
        "outlet_near_drowning": ("stage", "margin_m", "margin_sd_m"),
        "fall_gone": ("stage", "fall_m"),
        "supply_exceeds_creek": ("excess_m3_s", "sd_m3_s"),
        "drive_exceeds_supply": ("excess_m3_s", "sd_m3_s"),
        "delivery_exceeds_drive": ("excess_m3_s", "sd_m3_s"),
        "residual_short": ("residual_m3_s", "required_m3_s", "short_m3_s"),
        "residual_unsure": ("residual_m3_s", "required_m3_s", "sd_m3_s"),
        # Site walk
        "no_fall": ("fall_m", "least_m"),
        "ram_below_flood": ("below_m",),
        "flood_mark_unknown": (),
        "access_poor": (),
        "access_unknown": (),
        "gravity_would_serve": ("tank_below_intake_m",),
        "near_tie": ("difference_per_length", "sd"),
    }
)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing noticed.

    ``code`` is a key of ``FINDINGS``; ``about`` names the fact, run, point or row; ``numbers`` are pairs of
    a name and an SI number, as ``FINDINGS`` lists them; ``names`` are the labels it involves.
    """

    code: str
    about: str
    numbers: tuple[tuple[str, float], ...] = ()
    names: tuple[str, ...] = ()

    def number(self, name: str) -> float:
        """The number called ``name``; raises ``KeyError`` when this finding has none of that name."""
        return dict(self.numbers)[name]


def found(code: str, about: str, *, names: tuple[str, ...] = (), **numbers: float) -> Finding:
    """Make a finding with the numbers its code calls for.

    Raises ``ValueError`` when they are not those ``FINDINGS`` lists (a fault in the caller, not in the data).
    """
    if FINDINGS.get(code) != tuple(numbers):
        raise ValueError(f"finding {code!r} takes {FINDINGS.get(code)}, not {tuple(numbers)}")
    return Finding(code, about, tuple((name, float(value)) for name, value in numbers.items()), names)
