"""Sentences for profiles and the files they are read from."""

from __future__ import annotations

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "geometry_lengths_differ": (
        "{field} has {value} entries for {stations} stations",
        "give one entry for each station",
    ),
    "geometry_too_few_points": (
        "the line has {value} points",
        "a line needs at least its two ends, each with a distance and a level",
    ),
    "geometry_stations_not_rising": (
        "the distance {value:length} does not lie beyond the one before it, {before:length}",
        "list the points in order from the upstream end, each distance measured from the first point",
    ),
    "geometry_steeper_than_upright": (
        "{before:length} to {value:length}: the level changes by {rise:length}, more than the pipe is long",
        "check that level and distance; if distances were measured level (map, GPX), say so",
    ),
    "geometry_spread_impossible": (
        "the spread of the levels is given as {value}",
        "give the standard deviation of one level as zero or a positive number",
    ),
    "geometry_not_numbers": ("{field} holds something that is not a number", "give numbers only"),
    "geometry_not_a_list": ("{field} is not a plain list of numbers", "give one number for each point"),
    "geometry_not_finite": (
        "{field} is {value}",
        "give the number that was measured, or leave the point out",
    ),
    "geometry_off_the_line": (
        "{value:length} is not on the line, which runs from {start:length} to {end:length}",
        "give a distance between the two ends",
    ),
    "geometry_depth_impossible": (
        "the least depth of a summit or dip is given as {value}",
        "give zero or a positive length",
    ),
    "geometry_step_impossible": ("the spacing is given as {value}", "give a length above zero"),
    "geometry_step_too_fine": (
        "a spacing of {value:length} would make more than {most} points",
        "give a wider spacing",
    ),
    "geometry_decimals_mixed": (
        '"{value}" and "{other}" use different decimal marks in one table',
        "write all numbers of the table with a point, or all with a comma",
    ),
    "geometry_number_ambiguous": (
        '"{value}" may be a thousand or may have three decimals',
        "write decimals with a point, and thousands without a mark",
    ),
    "geometry_unit_unknown": (
        'the unit "{value}" is not a length known here',
        "use m, ft, km, cm, mm, in or yd",
    ),
    "geometry_too_many_rows": (
        "the table has {value} rows or more; at most {most} are read",
        "leave out points between which the ground runs straight",
    ),
    "geometry_file_empty": ("there are no points in the file", "give a distance and a level on each line"),
    "geometry_file_too_big": (
        "the file has {value} bytes; at most {most} are read",
        "export only the one line, or leave out points",
    ),
    "geometry_not_text": (
        "the file is not a table written as text",
        "export the table as CSV and give that file",
    ),
    "geometry_file_unreadable": (
        "the table cannot be read as CSV",
        "look for a quotation mark that is never closed, or export the table again",
    ),
    "geometry_heading_twice": (
        'two columns are headed as a {field}; the second is "{value}"',
        "rename or remove the one that does not belong to the line",
    ),
    "geometry_heading_missing": (
        'no column is headed as a {field}; the headings are "{value}"',
        'head the columns "distance" and "level", with the unit in brackets',
    ),
    "geometry_row_short": (
        "this line has only {value} cells",
        "give at least a distance and a level on each line",
    ),
    "geometry_cell_empty": ("the {field} is empty", "write the number, or take the line out"),
    "geometry_not_a_number": ('"{value}" is not a number', "correct {field} in the file"),
    "geometry_gpx_no_heights": (
        "only {value} points of the track have a height",
        "record the track again with heights, or give the levels as a table",
    ),
    "geometry_gpx_stands_still": (
        "all {value} points of the track lie within {spacing:length} of the first",
        "choose the track that was walked along the line",
    ),
    "geometry_gpx_unreadable": (
        "the file is not well-formed GPX",
        "export it again from the device or program it came from",
    ),
    "geometry_gpx_forbidden": (
        "the file declares a document type, entities or very deep nesting, which no GPX needs",
        "export it again as plain GPX 1.1",
    ),
    "geometry_not_gpx": (
        'the file is XML but not GPX: it begins with "{value}"',
        "export the line as GPX 1.1",
    ),
    "geometry_too_many_points": (
        "the track has {value} points; at most {most} are read",
        "export the track with fewer points",
    ),
    "geometry_gpx_no_line": (
        "the file holds no track and no route",
        "export the walk along the line as a track",
    ),
    "geometry_gpx_several_lines": (
        "the file holds {value} tracks or routes ({names})",
        "say which one, counted from 0",
    ),
    "geometry_gpx_no_such_line": (
        "there is no track or route {value} in the file",
        "choose a number from 0 to {most}",
    ),
    "geometry_off_the_globe": (
        'the coordinate "{value}" is beyond {most} either way',
        "check {field} in the file",
    ),
}
