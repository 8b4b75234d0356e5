"""What is noticed about readings of flow, stages and the walk, in words: a title, why, and what to do."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    # Several measurements of one fact
    "methods_disagree": Templates(
        "Gaugings of one flow disagree",
        "{names}: so poor a fit has a chance of {p_value:chance}. The spread was widened {widened_by:number} "
        "times.",
        "Gauge again with the method you trust most; look first at what two of them share.",
    ),
    "outlier": Templates(
        "One gauging does not fit the rest",
        "{names} is out by {residual:flow}, {normalised:number} of its own spreads; without it the {about} "
        "is {value_without:flow} ± {sd_without:flow}.",
        "Repeat that one, or take it out.",
    ),
    "outlier_not_located": Templates(
        "Gaugings disagree, and which is wrong cannot be told",
        "Of the {about} any of {names} may be the wrong one.",
        "Gauge once more: a third shows which of two is wrong.",
    ),
    "typed_flow_disagrees": Templates(
        "The typed source flow differs from the readings",
        "Typed is {typed_m3_s:flow} ± {typed_sd_m3_s:flow}; the visits give {found_m3_s:flow} ± "
        "{found_sd_m3_s:flow}. What is typed was used.",
        "If one is of another season, say so with stage =; else find out which is right.",
    ),
    "flow_not_low": Templates(
        "The creek was not gauged when it was low",
        "The only gaugings are of {names} water; a dry month brings less.",
        "Gauge again in a dry month before anything is bought.",
    ),
    "flow_stage_unstated": Templates(
        "How the creek stood was not said",
        "Nothing tells whether the flow gauged is that of a dry month.",
        'Write stage = "low", "normal" or "flood" in the visit.',
    ),
    # Bucket
    "bucket_few_fills": Templates(
        "Few fills of the bucket",
        "{about} has {fills}; {least} or more show how far they scatter.",
        "Time a few more.",
    ),
    "bucket_short_fill": Templates(
        "The bucket filled fast",
        "The shortest fill of {about} took {shortest_s:time}; below {least_s:time} the watch rules.",
        "Use a larger bucket, or fill it several times over without stopping the watch.",
    ),
    "bucket_fills_scatter": Templates(
        "Fills of the bucket scatter",
        "The times of {about} scatter by {scatter_s:time}; {expected_s:time} would be usual.",
        "See that all the water goes in every time, and the flow is steady.",
    ),
    "bucket_catch_incomplete": Templates(
        "Not all the water went into the bucket",
        "For {about} {share_caught:fraction} of the flow was caught, give or take {sd:fraction}.",
        "Dam it so that all goes through one pipe.",
    ),
    # Float
    "float_few_runs": Templates(
        "Few floats",
        "{about} has {runs}; {least} or more are usual.",
        "Time a few more.",
    ),
    "float_short_run": Templates(
        "The float's run is short",
        "The fastest float of {about} took {time_s:time}; below {least_s:time} the watch rules.",
        "Measure a longer reach.",
    ),
    "float_few_sections": Templates(
        "Few cross-sections",
        "{about} has {sections}; {least} or more show how the reach widens and narrows.",
        "Measure another at the other end of the reach.",
    ),
    "float_few_depths": Templates(
        "Few depths in a cross-section",
        "A section of {about} has {depths}; {least} or more are usual.",
        "Measure the depth at more places across.",
    ),
    "float_runs_scatter": Templates(
        "Floats scatter",
        "The times of {about} scatter by {scatter_s:time}; {expected_s:time} would be usual.",
        "Choose a straighter reach without eddies, and leave out floats that were caught.",
    ),
    "float_bed_unstated": Templates(
        "The bed was not said, and the float's coefficient is a guess",
        "From {low} to {high} would be possible; {used} was used for {about}.",
        'Say what the bed is like: bed = "very shallow rocky stream". Better, gauge with a bucket or a weir.',
    ),
    "float_coefficient_unfit": Templates(
        "The float's coefficient does not fit the bed",
        "{coefficient} was typed for {about}; for such a bed {low} to {high} is usual. "
        "On a rocky creek too high a coefficient makes two or three times the flow there is.",
        "Leave the coefficient out and say what the bed is like, or gauge with a bucket or a weir.",
    ),
    "float_coefficient_rules": Templates(
        "The float's coefficient makes most of the spread",
        "{share_of_variance:fraction} of the variance of {about}; more floats do not help.",
        "Gauge with a bucket, a weir or salt where the flow matters.",
    ),
    # Weirs
    "weir_head_low": Templates(
        "The head on the weir is low",
        "{about} has {head_m:length}; below {least_m:length} the water clings to the board.",
        "Use a narrower notch.",
    ),
    "weir_head_high": Templates(
        "The head on the weir is high",
        "{about} has {head_m:length}; the relation is known to {most_m:length}.",
        "Use a wider board.",
    ),
    "weir_head_over_crest": Templates(
        "The pool above the weir is shallow for the head",
        "{about}: the head is {head_over_crest:number} of the height of the crest over the bed; up to "
        "{most} the relation holds.",
        "Dig the pool deeper or set the board higher.",
    ),
    "weir_head_over_length": Templates(
        "The head is high for the width of the crest",
        "{about}: it is {head_over_length:number} of the crest; above {most} accuracy falls.",
        "Use a wider board, or a V-notch for small flows.",
    ),
    "weir_crest_low": Templates(
        "The crest stands low over the bed",
        "{about} has {crest_m:length}; {least_m:length} or more is wanted.",
        "Set the board higher or dig the pool deeper.",
    ),
    "weir_crest_short": Templates(
        "The crest is short",
        "{about} has {length_m:length}; the relation is known from {least_m:length}.",
        "Use a V-notch for such a flow.",
    ),
    "weir_channel_narrow": Templates(
        "The pool is narrow for the notch",
        "{about} has {channel_m:length}; {least_m:length} or more is wanted for full contraction.",
        "Widen the pool, or take the flow with caution.",
    ),
    "weir_contraction_partial": Templates(
        "Too little water beside the notch",
        "{about} leaves {margin_m:length} at each side; {least_m:length} is wanted for the water to contract "
        "fully.",
        "Widen the pool, use a narrower notch, or a relation for such boards.",
    ),
    "weir_angle_outside": Templates(
        "The angle of the notch is outside the relation",
        "{about} has {angle_deg} degrees; it is known from {low_deg} to {high_deg}.",
        "Use a notch of 60 or 90 degrees.",
    ),
    "weir_gauge_close": Templates(
        "The head was read too near the board",
        "{about}: {distance_m:length} upstream; nearer than {least_m:length} the water already dips.",
        "Read it further upstream, in still water.",
    ),
    "weir_gauge_far": Templates(
        "The head was read far from the board",
        "{about}: {distance_m:length} upstream, where {most_m:length} would do; the creek may slope between.",
        "Read it nearer to the board.",
    ),
    "weir_gauge_place_unstated": Templates(
        "Where the head was read was not said",
        "For {about} nothing tells how far upstream of the board it was.",
        "Write gauge_distance.",
    ),
    "weir_nappe_not_free": Templates(
        "The water hardly falls free of the weir",
        "{about}: the water below stands {tailwater_below_crest_m:length} under the crest; {least_m:length} "
        "or more lets air behind it.",
        "Raise the board, or clear what holds the water up below.",
    ),
    "weir_submerged": Templates(
        "The weir is drowned",
        "{about}: water below stands at {ratio:fraction} of the head; {reduction:fraction} was taken off for "
        "it.",
        "Raise the board: a drowned weir is a poor measure.",
    ),
    "weir_tailwater_unstated": Templates(
        "The water below the weir was not noted",
        "For {about} it was taken to fall free.",
        "Write tailwater, minus where it lies under the crest.",
    ),
    "relation_from_memory": Templates(
        "A relation from memory was used",
        "The coefficients for {about} are from memory; they agree with printed tables to about one in a "
        "hundred.",
        "",
    ),
    "weir_heads_scatter": Templates(
        "Heads on the weir scatter",
        "The readings of {about} scatter by {scatter_m:length}; {expected_m:length} would be usual.",
        "Wait until the pool is steady, and shield the gauge from waves.",
    ),
    # Salt
    "salt_tail_cut": Templates(
        "The salt log ends too soon",
        "{about} ends at {last_share_of_peak:fraction} of the peak; the flow comes out too large.",
        "Log until the background is back.",
    ),
    "salt_start_missed": Templates(
        "The salt log begins too late",
        "{about} begins at {first_share_of_peak:fraction} of the peak; the flow comes out too large.",
        "Start the log before the salt goes in.",
    ),
    "salt_sampling_coarse": Templates(
        "The salt log is coarse",
        "{about} has {readings_across_wave} readings across the wave; {least} or more are wanted.",
        "Log every 5 seconds.",
    ),
    "salt_peak_low": Templates(
        "The salt wave is weak",
        "The peak of {about} is {peak_over_noise:number} times the spread of a reading; {least} is wanted.",
        "Use more salt, or a shorter reach.",
    ),
    "salt_background_drift": Templates(
        "The background moved while the salt passed",
        "For {about} by {drift_S_m:conductivity}; {expected_S_m:conductivity} would be usual.",
        "Log longer before and after; try again when the creek is steady.",
    ),
    "salt_mixing_short": Templates(
        "The reach is short for the salt to mix",
        "{about}: {widths:number} widths of the creek; {least} or more are wanted.",
        "Put the salt in further upstream.",
    ),
    "salt_not_calibrated": Templates(
        "The salt was not calibrated with this creek's water",
        "For {about} the usual factor was taken, known to {share_sd:fraction}.",
        "Calibrate: known salt in a known volume of the creek's water.",
    ),
    "salt_plateau_drift": Templates(
        "The conductivity had not become steady",
        "For {about} it still moved by {drift_S_m:conductivity}; {expected_S_m:conductivity} would be usual.",
        "Wait longer before reading.",
    ),
    "salt_flow_large": Templates(
        "The creek is large for brine at a constant rate",
        "{about} gives {flow_m3_s:flow}; the method is for less than {most_m3_s:flow}.",
        "Throw the salt in at once instead.",
    ),
    "salt_stream_wide": Templates(
        "The creek is wide for brine at a constant rate",
        "{about}: {width_m:length}; the method is for less than {most_m:length}.",
        "Throw the salt in at once instead.",
    ),
    # Stages and the four flows
    "outlet_drowned": Templates(
        "The waste outlet is drowned at one stage",
        "At {about} water the creek stands {tailwater_above_outlet_m:length} over it; the fall is then "
        "{fall_m:length}.",
        "Set the ram higher, or expect it to stop then; it does not start again by itself.",
    ),
    "outlet_drowns_at": Templates(
        "From some stage on the waste outlet drowns",
        "The creek reaches it when its gauge shows {stage:length}.",
        "Know that mark, and look after the ram when the creek has been above it.",
    ),
    "outlet_drowns_between": Templates(
        "From some stage on the waste outlet drowns",
        "The creek reaches it between these stages: {names}.",
        "Set a mark in the creek at that level, and look after the ram when the water has been above it.",
    ),
    "outlet_near_drowning": Templates(
        "Whether the waste outlet drowns is not sure",
        "At {about} water {margin_m:length} are left, give or take {margin_sd_m:length}.",
        "Measure both levels again.",
    ),
    "fall_gone": Templates(
        "At one stage no fall is left",
        "At {about} water the fall is {fall_m:length}: the ram stands still.",
        "Set the ram higher, and close its drive pipe before a flood.",
    ),
    "supply_exceeds_creek": Templates(
        "The supply line seems to bring more than the creek has",
        "By {excess_m3_s:flow}, give or take {sd_m3_s:flow}.",
        "Gauge both on one day, one after the other.",
    ),
    "drive_exceeds_supply": Templates(
        "The ram seems to drink more than the supply line brings",
        "By {excess_m3_s:flow}, give or take {sd_m3_s:flow}.",
        "Gauge both on one day; see whether the drive tank runs down.",
    ),
    "delivery_exceeds_drive": Templates(
        "More seems to be delivered than the ram drinks",
        "By {excess_m3_s:flow}, give or take {sd_m3_s:flow}.",
        "Gauge both on one day; waste and delivery together are the drive flow.",
    ),
    "residual_short": Templates(
        "Too little is left in the creek",
        "Between intake and drive tank {residual_m3_s:flow} is left; {required_m3_s:flow} has to stay.",
        "Take {short_m3_s:flow} less into the supply line.",
    ),
    "residual_unsure": Templates(
        "Whether enough is left in the creek is not sure",
        "Between intake and drive tank {residual_m3_s:flow} is left, give or take {sd_m3_s:flow}; "
        "{required_m3_s:flow} has to stay.",
        "Gauge the creek below the intake.",
    ),
    # Site walk
    "no_fall": Templates(
        "A pair of places has too little fall",
        "{about}: {fall_m:length}; below {least_m:length} no ram is worth building.",
        "",
    ),
    "ram_below_flood": Templates(
        "The ram would stand below the flood mark",
        "{about}: by {below_m:length}.",
        "Look for a place higher up the bank.",
    ),
    "flood_mark_unknown": Templates(
        "No flood mark was noted",
        "For {about} nothing tells how high the creek rises.",
        "Look for debris in bushes and ask who lives there.",
    ),
    "access_poor": Templates(
        "Hard to get there",
        "{about}: {names}. Pipe and cement have to be carried.",
        "Look at the way before choosing it.",
    ),
    "access_unknown": Templates(
        "How one gets there was not noted",
        "For one of the places of {about}.",
        "Write access: road, track, on foot or climb.",
    ),
    "gravity_would_serve": Templates(
        "Water would run there by itself",
        "{about} lies {tank_below_intake_m:length} below {names}.",
        "Lay a pipe and no ram, if the levels hold.",
    ),
    "near_tie": Templates(
        "Two pairs of places are too near to tell apart",
        "{about} and {names} differ by {difference_per_length:slope} of fall for their length, give or take "
        "{sd:slope}.",
        "Level both before choosing.",
    ),
}
"""Sentences by code of a finding."""
