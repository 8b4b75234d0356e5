"""Each mistake in a sheet is told with its field, line and value, and how to mend it."""

from __future__ import annotations

from typing import Any

import pytest

from ramwright.errors import InputError
from ramwright.site import SheetErrors, read_sheet_text
from ramwright.wording.errors import sentence

ROUTE = '[profiles.supply_line]\nunit = "m"\n'
PLACE = '[site]\nname = "Test"\n'


def one_error(text: str) -> InputError:
    """The only error of a sheet, with a sentence that has no holes."""
    with pytest.raises(InputError) as caught:
        read_sheet_text(text, "test.toml")
    error = caught.value
    if isinstance(error, SheetErrors):
        assert len(error.errors) == 1, str(error)
        error = error.errors[0]
    said = sentence(error, "us", "en")
    assert "{" not in said
    assert "?" not in said.replace("did you mean", "").replace('"?', "").replace("Did you mean", "")
    return error


ENTRIES: list[tuple[str, str, str, int, object, dict[str, Any]]] = [
    # entry, code, field, line, value as typed, some details
    ('[facts]\nfall = "6.5"', "missing_unit", "facts.fall", 4, "6.5", {}),
    ("[facts]\nfall = 6.5", "missing_unit", "facts.fall", 4, "6.5", {}),
    ("[facts]\nfall = true", "not_text", "facts.fall", 4, "true", {}),
    ("[facts]\nfall = 2020-01-01", "not_text", "facts.fall", 4, "2020-01-01", {}),
    ('[facts]\nfall = ["6 ft"]', "not_text", "facts.fall", 4, None, {}),
    ('[facts]\nfall = ""', "empty_reading", "facts.fall", 4, "", {}),
    ('[facts]\nfall = "nan ft"', "not_finite", "facts.fall", 4, "nan ft", {}),
    ("[facts]\nfall = nan", "not_finite", "facts.fall", 4, "nan", {}),
    ('[facts]\nfall = "2,5 m"', "decimal_comma", "facts.fall", 4, "2,5 m", {"write": "2.5 m"}),
    ('[facts]\nfall = "6 gpm"', "wrong_kind", "facts.fall", 4, "6 gpm", {"given": "flow"}),
    ('[facts]\nfall = "6 fet"', "unknown_unit_close", "facts.fall", 4, "6 fet", {"closest": "feet"}),
    ('[facts]\nfall = "300 ft"', "out_of_range", "facts.fall", 4, "300 ft", {"high_metric": "50.0 m"}),
    ('[facts]\nsource_flow = "-3 gpm"', "must_be_positive", "facts.source_flow", 4, "-3 gpm", {}),
    ('[facts]\nsource_flow = "0 gpm"', "must_be_positive", "facts.source_flow", 4, "0 gpm", {}),
    (
        '[facts]\nresidual_flow = "-3 gpm"',
        "must_not_be_negative",
        "facts.residual_flow",
        4,
        "-3 gpm",
        {},
    ),
    (
        '[facts]\nfall = "6 ft"\n\nlift = "5 ft"',
        "lift_below_fall",
        "facts.lift",
        6,
        "5 ft",
        {"fall": "6 ft"},
    ),
    ('[facts]\nfal = "6 ft"', "unknown_entry_close", "facts.fal", 4, None, {"closest": "fall"}),
    ('[facts]\nelevatoin = "6 ft"', "unknown_entry_close", "facts.elevatoin", 4, None, {"closest": "lift"}),
    (
        '[facts]\nstroke = "6 mm"',
        "unknown_entry_elsewhere",
        "facts.stroke",
        4,
        None,
        {"closest": "ram.waste_valve.stroke"},
    ),
    (
        '[clack]\nstroke = "6 mm"',
        "unknown_entry_elsewhere",
        "clack",
        3,
        None,
        {"closest": "ram.waste_valve"},
    ),
    ("[facts]\nzzz = 1", "unknown_entry", "facts.zzz", 4, None, {}),
    ("[zzz]\na = 1", "unknown_entry", "zzz", 3, None, {}),
    ('[ram.waste_valve]\nkind = "gate"', "not_one_of", "ram.waste_valve.kind", 4, "gate", {}),
    ('[site.more]\nx = "1"', "unknown_entry", "site.more", 3, None, {}),
    ('[[drive_pipe]]\nlength = "1 m"', "pipe_or_bore", "drive_pipe[0].pipe", 3, None, {}),
    ('[[drive_pipe]]\npipe = "a, b"', "entry_missing", "drive_pipe[0].length", 3, None, {"entry": "length"}),
    (
        '[[drive_pipe]]\npipe = "steel"\nlength = "1 m"',
        "pipe_text",
        "drive_pipe[0].pipe",
        4,
        "steel",
        {},
    ),
    (
        '[[drive_pipe]]\npipe = "a, b"\nlength = "1 m"\n'
        '[[drive_pipe]]\npipe = "a, b"\nlength = "1 m"\nbore = "9 mm"',
        "one_of_two",
        "drive_pipe[1].bore",
        9,
        None,
        {"first": "pipe", "second": "bore"},
    ),
    (
        '[[drive_pipe]]\npipe = "a, b"\nlength = "1 m"\nbends_45 = "2"',
        "wrong_type_count",
        "drive_pipe[0].bends_45",
        6,
        "2",
        {},
    ),
    (
        '[[drive_pipe]]\npipe = "a, b"\nlength = "1 m"\nbends_45 = -2',
        "count_out_of_range",
        "drive_pipe[0].bends_45",
        6,
        "-2",
        {},
    ),
    ('drive_pipe = "steel, 2 in"', "unknown_entry_elsewhere", "site.drive_pipe", 3, None, {}),
    ("[drive_pipe_support]\nheld = 1", "wrong_type_yes_no", "drive_pipe_support.held", 4, "1", {}),
    ("[drive_pipe_support]", "entry_missing", "drive_pipe_support.held", 3, None, {"entry": "held"}),
    (
        '[ram.snifter]\nfitted = false\ndiameter = "1 mm"',
        "snifter_not_fitted",
        "ram.snifter.diameter",
        5,
        "1 mm",
        {},
    ),
    ('[air_vessel]\nheight = "1 m"', "needs_other", "air_vessel.height", 4, None, {"missing": "diameter"}),
    (
        '[air_vessel]\nvolume = "1 L"\nheight = "1 m"',
        "one_of_two",
        "air_vessel.height",
        5,
        None,
        {"first": "volume"},
    ),
    (
        '[air_vessel]\nkind = "plain"\nprecharge = "1 bar"',
        "precharge_of_plain",
        "air_vessel.precharge",
        5,
        "1 bar",
        {},
    ),
    (f"{ROUTE}rows = [[0, 1], [5]]", "profile_row", "profiles.supply_line.rows[1]", 5, None, {}),
    (
        f'{ROUTE}rows = [\n  [0, 1],\n  ["5 m", 1],\n]',
        "profile_row",
        "profiles.supply_line.rows[1]",
        7,
        None,
        {},
    ),
    (f"{ROUTE}rows = [[0, nan], [5, 1]]", "profile_row", "profiles.supply_line.rows[0]", 5, None, {}),
    (f"{ROUTE}rows = [[0, true], [5, 1]]", "profile_row", "profiles.supply_line.rows[0]", 5, None, {}),
    (f"{ROUTE}rows = [[0, 1, 7], [5, 1]]", "profile_label", "profiles.supply_line.rows[0]", 5, None, {}),
    (f"{ROUTE}rows = [[0, 1]]", "profile_short", "profiles.supply_line.rows", 5, None, {}),
    (
        f"{ROUTE}rows = [\n  [0, 1],\n  [9, 2],\n  [9, 3],\n]",
        "profile_backwards",
        "profiles.supply_line.rows[2]",
        8,
        "9",
        {"before": "9"},
    ),
    (f'{ROUTE}rows = "0 1"', "profile_rows", "profiles.supply_line.rows", 5, None, {}),
    (
        f"{ROUTE}rows = [{'[0, 1], ' * 2001}]",
        "profile_too_long",
        "profiles.supply_line.rows",
        5,
        None,
        {"most": 2000},
    ),
    (
        "[profiles.drive_pipe]\nunit = 'm'",
        "needs_other",
        "profiles.drive_pipe.rows",
        3,
        None,
        {"missing": "file"},
    ),
    (
        "[profiles.drive_pipe]\nrows = [[0, 1], [2, 0]]",
        "needs_other",
        "profiles.drive_pipe.rows",
        4,
        None,
        {"missing": "unit"},
    ),
    (
        f"{ROUTE}file = 'a.csv'\nrows = [[0, 1], [2, 0]]",
        "one_of_two",
        "profiles.supply_line.file",
        5,
        None,
        {"first": "rows"},
    ),
    ("[intake]\nholes = 40", "needs_other", "intake.holes", 4, None, {"missing": "opening"}),
    (
        '[intake]\nholes = 0\nopening = "3 mm"',
        "count_out_of_range",
        "intake.holes",
        4,
        "0",
        {"low": 1, "high": 100_000},
    ),
    ("[ram]\ncount = 21", "count_out_of_range", "ram.count", 4, "21", {"low": 1, "high": 20}),
    (
        '[intake]\nscreen_area = "1 m2"\nopen_share = "40 %"\nopen_area = "1 m2"',
        "one_of_two",
        "intake.open_area",
        6,
        None,
        {"first": "open_share"},
    ),
    (
        '[intake]\nblocked_share = "40 %"',
        "needs_other",
        "intake.blocked_share",
        4,
        None,
        {"missing": "blocked_after"},
    ),
    (
        '[drive_pipe_support]\nheld = true\n[ram]\nmount = "driven stakes"',
        "mount_and_held",
        "ram.mount",
        6,
        "driven stakes",
        {},
    ),
    (
        '[drive_tank]\ncover = "1 m"\n[drive_tank.overflow]\nheight = "1 m"',
        "one_of_two",
        "drive_tank.overflow.height",
        6,
        None,
        {"first": "cover"},
    ),
    ('[drive_tank]\nvolume = "1 m3"', "needs_other", "drive_tank.volume", 4, None, {"missing": "height"}),
    (
        '[drive_tank]\nplan_area = "1 m2"\ndiameter = "1 m"',
        "one_of_two",
        "drive_tank.diameter",
        5,
        None,
        {"first": "plan_area"},
    ),
]


@pytest.mark.parametrize("case", ENTRIES, ids=lambda case: f"{case[1]}-{case[2]}")
def test_each_mistake_is_told_with_field_line_value_and_mending(
    case: tuple[str, str, str, int, object, dict[str, Any]],
) -> None:
    """One wrong entry in an otherwise good sheet (the place takes lines 1 and 2)."""
    entry, code, field, line, value, details = case
    error = one_error(PLACE + entry + "\n")
    assert (error.code, error.field, error.line, error.value) == (code, field, line, value)
    assert {name: error.details[name] for name in details} == details


WHOLE: list[tuple[str, str, int | None, dict[str, Any]]] = [
    ("", "sheet_empty", None, {}),
    ("\ufeff \n", "sheet_empty", None, {}),
    ("# nothing\n", "entry_missing", None, {"entry": "site"}),
    ("site = 3", "wrong_type_section", 1, {}),
    ('[site]\nname = " "', "text_empty", 2, {}),
    ("[site]\nname = 3", "wrong_type_text", 2, {}),
    ('[site]\nname = "' + "a" * 201 + '"', "text_too_long", 2, {"most": 200}),
    (PLACE + "[facts]\nfall = 6.5 ft\n", "quotes_missing", 4, {"write": "6.5 ft"}),
    (PLACE + "[facts]\nfall = 6 1/2 ft # about\n", "quotes_missing", 4, {"write": "6 1/2 ft"}),
    ("[site]\nname = Alder Fork\n", "quotes_missing", 2, {"write": "Alder Fork"}),
    (PLACE + '[facts]\nfall = "6\' 5""\n', "inch_mark_in_quotes", 4, {"write": "6' 5 in"}),
    (PLACE + "[facts]\nfall = “6 ft”\n", "curly_quotes", 4, {}),
    (PLACE + '[facts]\nfall = "6 ft\n', "toml_syntax", 4, {}),
    (PLACE + "[facts\n", "toml_syntax", 3, {}),
    (PLACE + "nonsense\n", "toml_syntax", 3, {}),
    (PLACE + '[facts]\nfall = "6 ft"\nfall = "7 ft"\n', "duplicate", 5, {"first": 4}),
    (PLACE + "[facts]\n[ram]\n[facts]\n", "duplicate", 5, {"first": 3}),
    (PLACE + "[facts]\nx = {a = 1, a = 2}\n", "duplicate", 4, {"first": 4}),
    ("schema_version = 2\n" + PLACE, "schema_version", 1, {"known": 1}),
    ('schema_version = "1"\n' + PLACE, "schema_version", 1, {}),
    ("schema_version = true\n" + PLACE, "schema_version", 1, {}),
    ("x = " + "[" * 5000, "too_nested", 1, {}),
    ("x = 0x" + "f" * 9000, "entry_missing", None, {}),
]


@pytest.mark.parametrize(("text", "code", "line", "details"), WHOLE)
def test_mistakes_of_a_whole_sheet(text: str, code: str, line: int | None, details: dict[str, Any]) -> None:
    """The ways in which sheets are broken as text."""
    if text.startswith("x = 0x"):
        with pytest.raises(SheetErrors) as caught:
            read_sheet_text(text, "t")
        assert {e.code for e in caught.value.errors} == {"entry_missing", "unknown_entry"}
        return
    error = one_error(text)
    assert (error.code, error.line) == (code, line)
    assert {name: error.details[name] for name in details} == details


def test_long_values_are_cut() -> None:
    """An error is one line."""
    error = one_error(PLACE + f'[ram.waste_valve]\nkind = "{"x" * 5000}"')
    assert len(str(error.value)) == 80
