"""What is said when the catalogue has no such pipe, joint or table, or a table of it is wrong."""

from typing import Final

_TABLE: Final = "mend the table {field} or its .toml file"

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    # What a person asked for
    "pipe_word_unknown": (
        "“{value}” has words that say nothing about pipe here: {words}",
        "write it like one of these: {closest}",
    ),
    "pipe_unknown": ("there is no pipe “{value}” in the catalogue", "the closest are: {closest}"),
    "pipe_stuff_missing": (
        "“{value}” does not say what kind of pipe it is",
        "name it, for example: {choices}",
    ),
    "pipe_ambiguous": ("“{value}” may be several kinds of pipe", "choose one of: {choices}"),
    "pipe_size_missing": ("“{value}” has no size", "{series} comes in: {sizes}"),
    "pipe_sizes_several": ("“{value}” gives more than one size", "give one; {series} comes in: {sizes}"),
    "pipe_size_unknown": ("“{value}” is not a size in the catalogue", "{series} comes in: {sizes}"),
    "joint_not_for_pipe": (
        "the joint “{value}” is not used on {pipe}",
        "choose a joint for that pipe, or another pipe",
    ),
    "shop_ram_unknown": (
        "there is no shop-built ram of the size “{value}” in the catalogue",
        "sizes: {known}",
    ),
    "waste_valve_unknown": ("there is no waste valve of the kind “{value}”", "choose one of: {choices}"),
    "catalogue_name_unknown": ("“{value}” is not in the catalogue", "the closest are: {closest}"),
    "material_too_warm": (
        "nothing is known of this pipe at {value:temperature}: its table ends at {highest:temperature}",
        "use pipe that stands the warmth, or lay it cooler",
    ),
    # What code asked for
    "catalogue_table_unknown": ("there is no table “{value}”", "the closest are: {closest}"),
    "catalogue_row_unknown": ("the table {field} has no row “{value}”", "it has: {known}"),
    "catalogue_row_unclear": ("the table {field} has several rows “{value}”", "say which; it has: {known}"),
    "catalogue_column_unknown": ("the table {field} has no column “{value}”", "it has: {known}"),
    "catalogue_no_number": ("{field} holds no number ({value})", "ask for a row that has one"),
    # What is wrong with a table
    "catalogue_sidecar_unreadable": ("the .toml file of {field} cannot be read: {reason}", _TABLE),
    "catalogue_sidecar_incomplete": ("the .toml file of {field} lacks “{value}”", _TABLE),
    "catalogue_sidecar_entry": (
        "the .toml file of {field} has an entry “{value}” that means nothing",
        "it may have: {known}",
    ),
    "catalogue_table_empty": ("the table {field} has no rows", _TABLE),
    "catalogue_column_undeclared": (
        "the table {field} has a column “{value}” that its .toml file says nothing about",
        _TABLE,
    ),
    "catalogue_column_absent": ("the table {field} lacks the column “{value}”", _TABLE),
    "catalogue_column_twice": ("the table {field} has two columns that both become “{value}”", _TABLE),
    "catalogue_row_length": ("there are {value} cells where {expected} belong", _TABLE),
    "catalogue_cell_missing": ("a cell is empty", "fill it, or let the .toml file say it is optional"),
    "catalogue_cell_not_a_number": ("“{value}” is not a number", _TABLE),
    "catalogue_cell_not_a_flag": ("“{value}” is neither yes nor no", _TABLE),
    "catalogue_cell_not_a_choice": ("“{value}” may not stand here", "choose one of: {choices}"),
    "catalogue_cell_out_of_range": ("{value} is not between {low} and {high}", _TABLE),
    "catalogue_range_out_of_order": ("low, likely and high are out of order: {value}", _TABLE),
    "catalogue_unit_unknown": ("“{value}” is not a unit of these tables", "units: {known}"),
    "catalogue_mark_unknown": ("“{value}” is not a mark", "marks: {known}"),
    "catalogue_source_unknown": ("“{value}” is not among the sources", "the closest are: {closest}"),
    "catalogue_source_not_read": (
        "a figure is marked as read, but its source “{value}” was not",
        "mark it memory, or read the source and say so in sources.toml",
    ),
    "catalogue_derived_from_what": (
        "a derived figure does not say what it rests on",
        "give rests_on the weakest mark it was computed from",
    ),
    "catalogue_row_repeated": ("the row {value} stands already in line {first}", _TABLE),
}
