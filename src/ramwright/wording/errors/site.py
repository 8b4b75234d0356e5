"""Sentences for sheets: what cannot be read, what is missing, and what was taken to be meant."""

from __future__ import annotations

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "sheet_errors": (
        "{sheet}: entries that cannot be used: {count}",
        "nothing was changed; mend these and try again",
    ),
    "sheet_missing": ("there is no file {sheet}", "check the name and the folder"),
    "sheet_unreadable": (
        "{sheet} cannot be read ({reason})",
        "check that it is a file and that you may read it",
    ),
    "sheet_too_large": (
        "{sheet} is larger than {most_kb} kB, so it is not a sheet",
        "a sheet is a short text file; choose another file",
    ),
    "sheet_empty": (
        "{sheet} has nothing in it",
        "start from the sheet that `ramwright sheet` writes",
    ),
    "sheet_not_utf8": (
        "{sheet} holds a letter (byte {byte}) that is not UTF-8",
        "save the file as UTF-8; where a ± is the trouble, +/- may be written instead",
    ),
    "sheet_utf16": ("{sheet} is saved as UTF-16", "save the file as UTF-8"),
    "too_nested": (
        "names or brackets stand inside one another more than {deepest} deep",
        "a sheet needs only [section], [[section]] and name = value",
    ),
    "too_many_entries": (
        "there are more than {most} entries up to here, so this is not a sheet",
        "choose another file",
    ),
    "toml_syntax": (
        "the sheet cannot be understood here: {value}",
        "every line is [section], [[section]], name = value or # a remark; a value is true, false, "
        "a whole number, or text in double quotes",
    ),
    "quotes_missing": (
        "the value has no quotes: {value}",
        'write it in double quotes: "{write}"',
    ),
    "inch_mark_in_quotes": (
        "the inch mark ends the text too early: {value}",
        'write "{write}" instead',
    ),
    "curly_quotes": (
        "there are curly quotes here: {value}",
        'write plain double quotes (")',
    ),
    "duplicate": (
        "{field} is written a second time; it stands in line {first} already",
        "keep one of the two; a further piece of pipe needs a heading of its own in double brackets",
    ),
    "schema_version": (
        "this sheet was not written for this ramwright, which knows schema_version {known}",
        "take a ramwright that is as new as the sheet, or write schema_version = {known}",
    ),
    "said_twice": (
        '"{value}" means the same as "{other}", and both are there',
        "keep one of the two",
    ),
    "unknown_entry_close": (
        'there is no entry "{entry}" here',
        'did you mean "{closest}"? If it is a remark, put a # before it',
    ),
    "unknown_entry_elsewhere": (
        'there is no entry "{entry}" here',
        "it belongs to another section: {closest}",
    ),
    "unknown_entry": (
        'there is no entry "{entry}" here',
        "entries here are: {allowed}. If it is a remark, put a # before it",
    ),
    "entry_missing": ("{entry} is missing", "write it, even as a rough reading with a wide spread"),
    "not_one_of": ('"{value}" is not one of the words for this', "choose one of: {allowed}"),
    "wrong_type_yes_no": ("this is neither true nor false", "write true or false, without quotes"),
    "wrong_type_text": ("this is not text", 'write it in double quotes, such as "text"'),
    "wrong_type_count": ("this is not a whole number", "write a number such as 2, without quotes or unit"),
    "wrong_type_section": (
        "this is a section, not a single entry",
        "put its name alone on a line in square brackets, and its entries below",
    ),
    "wrong_type_pieces": (
        "this is a row of pieces of pipe, not a single entry",
        "put its name alone on a line in double square brackets for each piece, and the entries below",
    ),
    "wrong_entry": ("this cannot be used here", "compare it with the starter sheet"),
    "text_empty": ("there is no text here", "write something, or take the entry out"),
    "text_too_long": ("this text is longer than {most} characters", "shorten it"),
    "text_unwritable": ("this text holds half a letter that no file can keep", "type it again"),
    "too_many_pieces": ("there are more than {most} pieces here", "put pieces of the same pipe together"),
    "count_out_of_range": ('"{value}" is not from {low} to {high}', "count them again"),
    "lift_below_fall": (
        'the lift of "{value}" is not above the fall of "{fall}"',
        "lift is measured upward from the waste-valve seat; if it really is that low, water runs there by "
        "itself and no ram is needed",
    ),
    "one_of_two": (
        '"{first}" and "{second}" say the same thing, and both are there',
        "keep the one you measured",
    ),
    "needs_other": ("this is of no use alone", 'write "{missing}" too'),
    "pipe_or_bore": (
        "nothing says which pipe this is",
        'write pipe = "series, size", such as "steel schedule 40, 2 in", or measure it: bore, wall, material',
    ),
    "pipe_text": (
        '"{value}" does not name a series and a size',
        'write both with a comma between, such as "steel schedule 40, 2 in"',
    ),
    "snifter_not_fitted": (
        "the snifter is said not to be there, yet has a diameter",
        "write fitted = true, or take the diameter out",
    ),
    "precharge_of_plain": (
        "a plain air vessel has no precharge",
        'write kind = "bladder", or take the precharge out',
    ),
    "profile_row": (
        "this is not a row of a profile",
        'write two numbers and, if you like, what stands there: [120, 14.5, "big alder"]',
    ),
    "profile_label": (
        "what stands at a point must be text of at most {most} characters",
        'write it in double quotes after the two numbers: [120, 14.5, "big alder"]',
    ),
    "profile_rows": (
        "these are not rows of a profile",
        "write rows = [[0, 0.0], [120, 14.5]], each row with station and level; at most {most}",
    ),
    "profile_too_long": (
        "the profile has more than {most} rows",
        "leave out points between which the ground is even, or put them into a file",
    ),
    "profile_short": ("a profile needs two points or more", "add the other end of the line"),
    "profile_backwards": (
        "station {value} does not lie beyond {before}",
        "list the points in the order the water meets them, each further along than the one before",
    ),
    "mount_and_held": (
        'the ram is said to be held so that it cannot move, and to be mounted as "{value}"',
        "keep the one that is true: held = true, or the mount",
    ),
    "unit_unsaid": (
        "nothing says which unit {value} is in",
        'write {entry} = "{metric}" (or "{us}") once above the readings, or the unit with each',
    ),
    "unit_unusable": (
        '"{value}" is not a unit of {wanted}',
        'write one such as "{metric}" or "{us}"',
    ),
    "spread_in_row": (
        'a ± has no place in a row or a list of repeats: "{value}"',
        "write spread = once for all of them, or leave it to the table of instruments",
    ),
    "row_too_long": (
        "this row has more than its {most} columns",
        'they are, in this order: {columns}; write "" for one that was not read',
    ),
    "row_expected": ("this is not a row", "write a list, in this order: {columns}"),
    "too_many_rows": ("there are more than {most} of these", "make two of it, each with its own heading"),
    "too_few_rows": ("there are fewer than {least} of these", "add the others, or take the whole out"),
    "wrong_type_rows": (
        "this is a row of several, not a single entry",
        "write a list in square brackets, or a heading in double square brackets for each",
    ),
    "stand_unknown": (
        'at the {place} nothing is called "{stand}"',
        "say what was stood on there: {known}",
    ),
    "dam_elsewhere": (
        '"{value}" notes the intake dam where no water at the intake was read',
        'note it as "intake, water, dam in", or once for the visit: intake_dam = "in"',
    ),
    "not_listed": ('"{value}" is not in the table', "write one of the words there, such as: {closest}"),
    "instrument_unfit": ('"{value}" cannot have taken these readings', "write one of: {fit}"),
    "date_unclear": ("this is not a date", 'write year, month and day: "2024-09-14"'),
    "facts_missing": (
        "these have not been measured yet: {missing}",
        "measure them and write them in the section [facts], or copy the readings into a [[visit]]",
    ),
    "note_other_word": ('"{value}" was taken for what is called "{ours}" here', "nothing has to be changed"),
    "note_supply_pipe": (
        '"{value}" was taken for the drive pipe, from the drive tank down to the ram',
        "if it is the pipe that fills the drive tank, write [[supply_line]]",
    ),
    "note_head": (
        '"{value}" was taken for the fall, from the drive-tank water level down to the waste-valve seat',
        "if it is the height to which water is lifted, write lift",
    ),
}
