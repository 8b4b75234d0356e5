"""Each slip in a field book is told with its field, line and value, and how to mend it."""

from __future__ import annotations

from typing import Any

import pytest

from ramwright.site import SheetErrors, Site, read_sheet_text
from ramwright.wording.errors import sentence

PLACE = '[site]\nname = "Test"\n'


def read(text: str) -> Site:
    return read_sheet_text(PLACE + text, "t")


VISIT = "[[visit]]\n"
TWO = '[["a", 1], ["b", "", "", 2]]'
MISTAKES: list[tuple[str, str, str, int, object, dict[str, Any]]] = [
    # entries (the place takes lines 1 and 2), code, field, line, value as typed, some details
    (
        f"{VISIT}[[visit.level_book]]\nrows = {TWO}",
        "unit_unsaid",
        "visit[0].level_book[0].rows[0].backsight",
        5,
        "1",
        {"entry": "unit"},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "furlong"\nrows = {TWO}',
        "unit_unusable",
        "visit[0].level_book[0].unit",
        5,
        "furlong",
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [\n["a", 1],\n["b", "", "", "2 gal"]]',
        "wrong_kind",
        "visit[0].level_book[0].rows[1].foresight",
        8,
        "2 gal",
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [\n["a", 1],\n["b", "", "", "2,5"]]',
        "decimal_comma",
        "visit[0].level_book[0].rows[1].foresight",
        8,
        "2,5",
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [\n["a", 1],\n["b", "", "", 45]]',
        "out_of_range",
        "visit[0].level_book[0].rows[1].foresight",
        8,
        "45",
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [\n["a", "1 ± 0.01"],\n["b", "", "", 2]]',
        "spread_in_row",
        "visit[0].level_book[0].rows[0].backsight",
        7,
        "1 ± 0.01",
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [\n["a", 1],\n["b", 1, 2, 3, 4, 5, 6, 7]]',
        "row_too_long",
        "visit[0].level_book[0].rows[1]",
        8,
        None,
        {"most": 7},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [\n["a", 1],\n3]',
        "row_expected",
        "visit[0].level_book[0].rows[1]",
        8,
        "3",
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [["a", 1]]',
        "too_few_rows",
        "visit[0].level_book[0].rows",
        6,
        None,
        {"least": 2},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = "a 1"',
        "wrong_type_rows",
        "visit[0].level_book[0].rows",
        6,
        None,
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [["", 1], ["b", "", "", 2]]',
        "entry_missing",
        "visit[0].level_book[0].rows[0].point",
        6,
        None,
        {"entry": "point"},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [["ram, flange", 1], ["b", "", "", 2]]',
        "stand_unknown",
        "visit[0].level_book[0].rows[0].point",
        6,
        "ram, flange",
        {"stand": "flange"},
    ),
    (
        f'{VISIT}[[visit.level_book]]\nunit = "m"\nrows = [["ram, seat, dam in", 1], ["b", "", "", 2]]',
        "dam_elsewhere",
        "visit[0].level_book[0].rows[0].point",
        6,
        "ram, seat, dam in",
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\ninstrument = "theodolight"\nunit = "m"\nrows = {TWO}',
        "not_listed",
        "visit[0].level_book[0].instrument",
        5,
        "theodolight",
        {},
    ),
    (
        f'{VISIT}[[visit.level_book]]\ninstrument = "bucket"\nunit = "m"\nrows = {TWO}',
        "instrument_unfit",
        "visit[0].level_book[0].instrument",
        5,
        "bucket",
        {"fit": ("hand-level", "builders-level")},
    ),
    (f"{VISIT}date = 14", "date_unclear", "visit[0].date", 4, "14", {}),
    (f'{VISIT}date = "14.9.2024"', "date_unclear", "visit[0].date", 4, "14.9.2024", {}),
    (
        f'{VISIT}stage = "high"',
        "not_one_of",
        "visit[0].stage",
        4,
        "high",
        {"allowed": ("low", "normal", "flood")},
    ),
    (
        f'{VISIT}[[visit.bucket]]\nflow = "lake"\nvolume = "5 gal"\ntimes = ["9 s"]',
        "not_one_of",
        "visit[0].bucket[0].flow",
        5,
        "lake",
        {"allowed": ("creek", "supply line", "drive", "delivery")},
    ),
    (
        f'{VISIT}[[visit.bucket]]\nvolume = "5 gal"\ntimes = ["9 s"]',
        "entry_missing",
        "visit[0].bucket[0].flow",
        4,
        None,
        {"entry": "flow"},
    ),
    (
        f'{VISIT}[[visit.bucket]]\nflow = "creek"\nvolume = "5 gal"\ntime_unit = "s"\ntimes = [9, 8, "fast"]',
        "bad_number",
        "visit[0].bucket[0].times[2]",
        8,
        "fast",
        {},
    ),
    (
        f'{VISIT}[[visit.bucket]]\nflow = "creek"\nvolume = "5 gal"\ntimes = []',
        "too_few_rows",
        "visit[0].bucket[0].times",
        7,
        None,
        {"least": 1},
    ),
    (
        f'{VISIT}[[visit.hand_level]]\nstart = "a"\nend = "b"\neye = "1.6 m"',
        "entry_missing",
        "visit[0].hand_level[0].out",
        4,
        None,
        {"entry": "out"},
    ),
    (
        f'{VISIT}[[visit.hand_level]]\nstart = "a"\nend = "b"\neye = "1.6 m"\nsteps = 2\nout = [["1 m"]]',
        "one_of_two",
        "visit[0].hand_level[0].steps",
        8,
        None,
        {"first": "out"},
    ),
    (
        f'{VISIT}[[visit.abney]]\nstart = "a"\nend = "b"\nunit = "m"\nout = [[20, 5]]',
        "unit_unsaid",
        "visit[0].abney[0].out[0].angle",
        8,
        "5",
        {"entry": "angle_unit"},
    ),
    (
        f'{VISIT}[[visit.hose]]\nunit = "m"\nrows = [["a", "b", 1]]',
        "entry_missing",
        "visit[0].hose[0].rows[0].end_reading",
        6,
        None,
        {"entry": "end_reading"},
    ),
    (f'{VISIT}tape = [["a", "b", 3]]', "unit_unsaid", "visit[0].tape[0].height", 4, "3", {}),
    (
        f'{VISIT}[[visit.gauge]]\npoint = "a"\nwater = "b"\nfull_scale = "10 psi"\nreadings = [2]',
        "unit_unsaid",
        "visit[0].gauge[0].readings[0]",
        8,
        "2",
        {"entry": "pressure_unit"},
    ),
    (
        f'{VISIT}[[visit.float_run]]\nflow = "creek"\nlength = "9 m"\ntimes = ["50 s"]\nbed = "lawn"',
        "not_listed",
        "visit[0].float_run[0].bed",
        8,
        "lawn",
        {},
    ),
    (
        f'{VISIT}[[visit.v_notch]]\nflow = "creek"\nangle = 90\nunit = "m"\ncrest_height = 1\n'
        "channel_width = 1\nheads = [0.1]",
        "unit_unsaid",
        "visit[0].v_notch[0].angle",
        6,
        "90",
        {},
    ),
    (
        f'{VISIT}[[visit.rectangular_weir]]\nflow = "creek"\nunit = "m"\nwidth = 1\ncrest_height = 1\n'
        "channel_width = 1\nheads = [0.1]\ncontractions = 3",
        "count_out_of_range",
        "visit[0].rectangular_weir[0].contractions",
        11,
        "3",
        {"low": 0, "high": 2},
    ),
    (
        f'{VISIT}[[visit.salt_slug]]\nflow = "creek"\nsalt = "1 kg"\ntime_unit = "s"\n'
        'background = "90 uS/cm"\n'
        "rows = [[0, 90], [5, 200], [10, 90]]",
        "unit_unsaid",
        "visit[0].salt_slug[0].rows[0].conductivity",
        9,
        "90",
        {"entry": "conductivity_unit"},
    ),
    (
        f'{VISIT}[[visit.level_boock]]\nunit = "m"',
        "unknown_entry_close",
        "visit[0].level_boock",
        4,
        None,
        {"closest": "level_book"},
    ),
    ('[[stage]]\nname = "low"\ntailwater = 3', "unit_unsaid", "stage[0].tailwater", 5, "3", {}),
    ('[walk]\nram = [["bar"]]', "entry_missing", "walk.ram[0].level", 4, None, {"entry": "level"}),
    (
        '[walk]\nunit = "m"\nram = [["bar", 3, 5, 6, "boat"]]',
        "not_one_of",
        "walk.ram[0].access",
        5,
        "boat",
        {"allowed": ("road", "track", "on foot", "climb")},
    ),
]


@pytest.mark.parametrize("case", MISTAKES, ids=lambda case: f"{case[1]}-{case[2]}")
def test_each_slip_is_told_with_field_line_value_and_mending(
    case: tuple[str, str, str, int, object, dict[str, Any]],
) -> None:
    entries, code, field, line, value, details = case
    with pytest.raises(SheetErrors) as caught:
        read(entries + "\n")
    errors = [error for error in caught.value.errors if error.code == code and error.field == field]
    assert errors, caught.value
    error = errors[0]
    assert (error.line, error.value) == (line, value)
    assert {name: error.details[name] for name in details} == details
    for system in ("us", "metric"):
        said = sentence(error, "us" if system == "us" else "metric", "en")
        assert "{" not in said
        assert "?" not in said.replace("did you mean", "").replace("Did you mean", "").replace('"?', "")


def test_every_slip_of_a_book_is_told_at_once() -> None:
    with pytest.raises(SheetErrors) as caught:
        read(
            '[[visit]]\n[[visit.level_book]]\nunit = "m"\nrows = [\n["a", "x"],\n["", 1],\n'
            '["c", "", "", "2 s"]]\n'
        )
    assert [(e.code, e.line) for e in caught.value.errors] == [
        ("bad_number", 7),
        ("entry_missing", 8),
        ("wrong_kind", 9),
    ]
