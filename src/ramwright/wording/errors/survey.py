"""Sentences for readings of level and flow that cannot be what they say."""

from __future__ import annotations

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "survey_not_finite": ("{field} is {value}", "write the number that was read, or leave the reading out"),
    "survey_not_positive": ("{field} is {value}", "write a number above zero"),
    "survey_negative": ("{field} is {value}", "write zero or a positive number"),
    "survey_out_of_bounds": (
        "{field} is {value}, outside {low} to {high}",
        "check the reading and its unit",
    ),
    "survey_beyond_source": (
        "{field} is {value}; the relation is known from {low} to {high} only",
        "use another relation, or another way of gauging",
    ),
    "survey_too_few": ("{field} has {value} entries", "give at least {least}"),
    "survey_columns_differ": (
        "{field} has {value} entries where the column beside it has {other}",
        "give one entry for each",
    ),
    "survey_not_rising": (
        "{field} is {value}, not above the one before it",
        "list them in rising order, none twice",
    ),
    "survey_range_upside_down": (
        "the range runs from {low} to {value}",
        "give the smaller number first, the larger second",
    ),
    "survey_label_twice": (
        "{value} is the name of two entries in {field}",
        "give each person, run or place a name of its own",
    ),
    "survey_spread_missing": (
        "{value} in {field} has no spread, so it cannot be weighed against the rest",
        "say how closely it was read",
    ),
    "survey_covariance_wrong": (
        "the covariance of {field} has shape {value} and does not fit {count} measurements",
        "give a symmetric, positive one with a row and a column for each",
    ),
    "survey_place_unnamed": ("a point has no place name", "name the place it is at"),
    "survey_dam_without_water": (
        "a dam ({value}) is noted at {place} where no water surface was read",
        "note the dam with a water level only",
    ),
    "survey_offset_two_places": (
        "{field} joins two places, the second of them {value}",
        "tape a height between two points of one place; enter anything longer as levels",
    ),
    "survey_no_fixed_point": ("no point has a known level", "hold one point, such as the seat at zero"),
    "survey_leg_to_itself": ("{field} runs from {value} to itself", "check the names of its two ends"),
    "survey_points_apart": (
        "nothing joins these points to a known one: {value}",
        "take a reading that joins them, or leave them out",
    ),
    "survey_point_unknown": ("{value} was not levelled", "check the name of the point"),
    "survey_book_empty": ("{field} has no rows", "enter its readings, or take it out"),
    "survey_book_no_backsight": (
        "the book starts at {value} without a backsight",
        "enter the first reading as a backsight",
    ),
    "survey_book_starts_twice": (
        "the first row, {value}, holds more than a backsight",
        "enter each later reading on a row of its own",
    ),
    "survey_book_no_second_row": (
        "the book holds the backsight at {value} and nothing else",
        "enter the readings taken after it",
    ),
    "survey_book_row_unread": ("the row for {value} holds no reading", "enter its reading, or take it out"),
    "survey_book_row_two_sights": (
        "the row for {value} holds an intermediate sight and a foresight",
        "keep one of them: the foresight if the level was moved next",
    ),
    "survey_book_turn_unread": (
        "the level was moved at {value} without a foresight to it",
        "enter the foresight taken before the level was moved",
    ),
    "survey_book_turn_without_backsight": (
        "after the foresight to {value} there is no backsight to it",
        "enter the backsight taken after the level was moved, or book the sight as intermediate",
    ),
    "survey_book_ends_on_backsight": (
        "the book ends with a backsight to {value}",
        "enter the readings taken from that last set-up, or take the backsight out",
    ),
    "survey_sight_length_missing": (
        "a sight has no length, and this level's spread grows with it",
        "enter the distance to the staff, or a usual length for the level",
    ),
    "survey_two_peg_same_distance": (
        "both pegs are {value:length} away, so a tilt cannot show",
        "read once from half way and once from beside one of the pegs",
    ),
    "survey_section_outside_reach": (
        "a cross-section lies {value:length} along a reach of {length:length}",
        "measure from the head of the reach, and check its length",
    ),
    "survey_tailwater_over_head": (
        "the tailwater, {value:length} over the crest, is not below the head of {head:length}",
        "check both readings; a weir that deep under water cannot be gauged",
    ),
    "survey_weir_not_full_width": (
        "{field}, {value:length} wide, does not fill its channel, and this relation is for one that does",
        "choose a relation for contracted weirs",
    ),
    "survey_weir_table_missing": (
        "{field} is to be read with a table of contraction coefficients, and has none",
        "name the table, or choose another relation",
    ),
    "survey_plateau_over_solution": (
        "the plateau, {value} kg/m3, is not below the solution's {solution} kg/m3",
        "check the units of both",
    ),
    "survey_no_salt_wave": (
        "{field} shows no rise over the background",
        "check the background, and that the log covers the wave",
    ),
    "survey_stage_outside": (
        "{field} {value} is outside the stages surveyed, {low} to {high}",
        "survey the water levels at that stage; they are not guessed",
    ),
    "survey_length_missing": (
        "nobody gave the distance from {field} to {value}",
        "pace it, or give both places a distance along the creek",
    ),
}
