"""Sentences for lines, tanks, intakes and pipes that cannot be reckoned with."""

from __future__ import annotations

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "hydraulics_not_finite": ("{field} is {value}", "give a number, or leave the entry out"),
    "hydraulics_not_positive": ("{field} is {value}", "give a number above zero"),
    "hydraulics_negative": ("{field} is {value}", "give zero or a positive number"),
    "hydraulics_out_of_bounds": (
        "{field} is {value}, outside {low} to {high}",
        "check the number and its unit",
    ),
    "hydraulics_beyond_source": (
        "{field} is {value}; the relation used is known from {low} to {high} only",
        "check the number; beyond that range no answer is given",
    ),
    "hydraulics_range_empty": (
        "{field} is {value}, which is not below the upper end {high}",
        "give the lower end first, then a higher one",
    ),
    "hydraulics_lengths_differ": (
        "{field} has {value} entries where the list beside it has {other}",
        "give one entry for each, and at least one",
    ),
    "hydraulics_no_segments": ("the line has no pipe", "say what pipe it is made of, from the upstream end"),
    "hydraulics_segments_do_not_fit": (
        "the pipes together are {value:length} long, the line {length:length}",
        "make the lengths of the pipes add up to the line's",
    ),
    "hydraulics_off_the_line": (
        "{field} is at {value:length}; the line runs from {start:length} to {end:length}",
        "give a place on the line",
    ),
    "hydraulics_not_a_point": (
        "there is no point of the line at {value:length}",
        "name a station where a level was taken, a fitting sits or two pipes meet",
    ),
    "hydraulics_no_such_summit": (
        "a vent is set at {value:length}, where no air is shut in",
        "set vents at summits that have a dip behind them",
    ),
    "hydraulics_flow_without_bound": (
        "no loss in the line limits its flow",
        "check the levels, lengths and bores; one of them is far out",
    ),
    "hydraulics_wall_too_thick": (
        "a wall of {value:small_length} leaves no bore in an outside diameter of {outside:small_length}",
        "check the wall and the outside diameter",
    ),
}
