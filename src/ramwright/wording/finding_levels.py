"""What is noticed about readings of level, in words: a title, why, and what to do."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    # Level books
    "book_open": Templates(
        "A level book does not close",
        "{about} ends elsewhere than it began, so nothing checks it.",
        "Level back to the first point, or to one whose level is known.",
    ),
    "book_ends_on_intermediate": Templates(
        "A level book ends on an intermediate sight",
        "The last reading of {about} was booked as intermediate; it was taken for the foresight.",
        "Book it as a foresight, or add the sights that are missing.",
    ),
    "booked_level_differs": Templates(
        "A level was worked out wrongly in the book",
        "At {about} the book says {booked_m:length} and its readings give {reduced_m:length}; the slip is "
        "{step_difference_m:length} from the row before.",
        "Nothing here uses the level worked out, only the readings; look at that row for a misread figure.",
    ),
    "misclosure_within": Templates(
        "A level book closes",
        "{about} closes to {misclosure_m:length}; {allowed_m:length} is allowed.",
        "",
    ),
    "misclosure_beyond": Templates(
        "A level book does not close well enough",
        "{about} misses its start by {misclosure_m:length}; {allowed_m:length} is allowed. What it misses is "
        "spread over its set-ups, and their spread is widened.",
        "Check the sums and the readings; if nothing is found, level that line again.",
    ),
    "misclosure_not_judged": Templates(
        "How a level book closes cannot be judged",
        "{about} misses its start by {misclosure_m:length}; what is allowed goes by the length, and not "
        "every distance was booked.",
        "Write the distances to the staff with the readings.",
    ),
    "sights_unequal": Templates(
        "Backsights and foresights differ in length",
        "In {about} their lengths differ by {difference_of_lengths_m:length} in all; a level out of "
        "adjustment could make {possible_error_m:length} of that.",
        "Keep the level half way between its two points, or make a two-peg test.",
    ),
    "tilt_not_corrected": Templates(
        "A known tilt of the level was not taken out",
        "In {about} not every distance was booked, so the tilt of {tilt_rad:slope} could not be corrected.",
        "Write the distances, or usual_distance once for the book.",
    ),
    # Hand levels, Abney lines
    "run_one_way": Templates(
        "A run was made one way only",
        "{about} was not run back, so a wrong eye height or a tilted level would not show.",
        "Run it back, sight for sight.",
    ),
    "run_agrees": Templates(
        "A run agrees out and back",
        "{about} out and back differ by {disagreement_m:length}; {allowed_m:length} is allowed.",
        "",
    ),
    "run_disagrees": Templates(
        "A run out and the run back differ too much",
        "{about} differ by {disagreement_m:length}; {allowed_m:length} is allowed. A level tilted by "
        "{implied_tilt_rad:slope} would do that.",
        "Run it again; check the level against a hose or on two pegs first.",
    ),
    # Hose, gauge, raised pipe
    "hose_setups_disagree": Templates(
        "Set-ups of the hose disagree",
        "Between {names} they differ by {spread_m:length}; {expected_m:length} would be usual. Most often a "
        "bubble is in the hose.",
        "Fill it again from one end until no bubble comes, and repeat.",
    ),
    "gauge_low_in_range": Templates(
        "The gauge was read low on its scale",
        "{about} reads {share_of_scale:fraction} of full scale, where the error of its class weighs most.",
        "Use a gauge on which the reading lies in the upper half.",
    ),
    "gauge_beyond_scale": Templates(
        "The gauge reads beyond its scale",
        "{about} reads {share_of_scale:fraction} of full scale; it may be damaged.",
        "Check the reading and the full scale; use a gauge of a higher range.",
    ),
    "gauge_zero_unchecked": Templates(
        "Nobody looked whether the gauge shows nothing in the open",
        "{about} may be out by {class_error_m:length} from its zero alone.",
        "Open it to the air at the height where it was read, and write zero.",
    ),
    "gauge_zero_off": Templates(
        "The gauge does not show nothing in the open",
        "{about} shows {zero_m:length} of water open to the air, more than its class allows "
        "({class_error_m:length}); it was taken out.",
        "Have it checked: a gauge that is off there may be off elsewhere too.",
    ),
    "gauge_air_not_purged": Templates(
        "Air may have been in the hose at the gauge",
        "It is not sure that all air was let out for {about}; a foot of air in a rising hose is a foot of "
        "level.",
        "Run water through until no bubble comes, and write air_purged = true.",
    ),
    "gauge_class_rules": Templates(
        "The class of the gauge rules its spread",
        "The error its class allows, {class_error_m:length}, is {share_of_head:fraction} of the height; "
        "reading it more often does not help.",
        "Use a finer gauge, or level it.",
    ),
    "raised_pipe_one_sided": Templates(
        "The pipe was raised but not lowered again",
        "For {about} only the height at which the flow stopped was read; the moving water carries on a "
        "little.",
        "Lower it until it just starts again, and write started.",
    ),
    "raised_pipe_hysteresis": Templates(
        "The pipe stops and starts at different heights",
        "For {about} they are {between_stop_and_start_m:length} apart; the middle was taken.",
        "Raise and lower it more slowly, and look for air at summits.",
    ),
    "raised_pipe_correction_unstated": Templates(
        "What holds the water back at the lip was not said",
        "For {about} the lip was taken to stand at water level; air at a summit or water bulging at the lip "
        "leaves it lower.",
        "Let the air out, and write held_back if you know it.",
    ),
    # Datum
    "datum_assumed": Templates(
        "A height between two points was assumed",
        "{about} was levelled and {names} is meant; nobody measured between. {used_m:length} was taken, "
        "which may be out by {possible_error_m:length}.",
        'Tape it, and write tape = [["from", "to", "height"]].',
    ),
    "datum_not_reducible": Templates(
        "A reading cannot be used for want of a height",
        "{about} was read, {names} is meant, and nothing says how far apart they are.",
        'Tape it, and write tape = [["from", "to", "height"]].',
    ),
    "dam_unstated": Templates(
        "Whether the intake dam stood was not said",
        "The water at the intake was levelled; with a dam it stands higher than without.",
        'Write intake_dam = "in", "out" or "none" in the visit.',
    ),
    "feed_is_not_drive_tank": Templates(
        "The fall was taken from the intake, not from a drive tank",
        "The water was levelled at {about}. A supply line down to a drive tank loses some of that fall.",
        "Level the water of the drive tank once it stands, or where it will be.",
    ),
    # Level network and the facts made from it
    "levels_disagree": Templates(
        "Readings of level do not fit together",
        "{names}: so poor a fit has a chance of {p_value:chance}. Their spread was widened "
        "{widened_by:number} times.",
        "Look for a misread staff or a point that is not what its name says.",
    ),
    "level_outlier": Templates(
        "One reading of level does not fit the rest",
        "{about}, between {names}: it is out by {residual_m:length}, {normalised:number} of its own spreads; "
        "without it the rest agree.",
        "Read that one again, or take it out.",
    ),
    "level_outlier_not_located": Templates(
        "Levels do not fit, and which reading is wrong cannot be told",
        "In {about} any of {count} readings may be the wrong one.",
        "Level one part again another way; a third reading shows which of two is wrong.",
    ),
    "fact_unchecked": Templates(
        "Part of a fact hangs on readings that nothing checks",
        "Of the {about}: {names}. A slip there would not show.",
        "Measure that part a second time, best by another method or another person.",
    ),
    "points_apart": Templates(
        "Some readings of level join nothing",
        "{names} hang together neither with the seat nor with anything tied to it; they were left out.",
        "Check the names of their points, or take a reading that joins them.",
    ),
    "fact_missing": Templates(
        "The readings do not give a fact",
        "Nothing joins {names}, so there is no {about}.",
        "Level between them, or write the {about} under [facts].",
    ),
    "fall_not_positive": Templates(
        "The fall is nothing or less",
        "The readings give {fall_m:length}: the ram would stand above its water.",
        "Two points may have changed places; check the book.",
    ),
    "lift_not_above_fall": Templates(
        "The lift is not above the fall",
        "The readings give a lift of {lift_m:length} and a fall of {fall_m:length}: water would run there by "
        "itself.",
        "Check which points were levelled; if it is so, lay a pipe and no ram.",
    ),
    "typed_level_disagrees": Templates(
        "A typed fact differs from the readings",
        "The {about} is typed as {typed_m:length} ± {typed_sd_m:length}; the visits give {found_m:length} ± "
        "{found_sd_m:length}. What is typed was used.",
        "Find out which is right and take the other out.",
    ),
}
"""Sentences by code of a finding."""
