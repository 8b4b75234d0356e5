"""The field book on a sheet: readings as a wet hand writes them, and each slip told on its line."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest
from pydantic import BaseModel

from ramwright.site import SheetErrors, Site, read_sheet, read_sheet_text, write_sheet
from ramwright.site.booked import RowPart
from ramwright.site.points import read_spot
from ramwright.site.problems import sections
from ramwright.site.visit_words import SHORT, VISIT_LISTS, VISIT_WORDS

ROOT = Path(__file__).parents[2]
PLACE = '[site]\nname = "Test"\n'
BOOK = """
[[visit]]
[[visit.level_book]]
unit = "m"
rows = [
  ["BM", 1.420],
  ["peg 1", "1.10", "", "2.31", 18, 20],
  ["ram, seat", "", "", 2.5],
]
"""


def read(text: str) -> Site:
    return read_sheet_text(PLACE + text, "t")


def test_a_row_is_a_list_in_the_order_of_its_columns() -> None:
    (book,) = read(BOOK).visit[0].level_book
    first, turn, last = book.rows
    assert (first.point.place, first.backsight and first.backsight.value, first.foresight) == (
        "bm",
        1.42,
        None,
    )
    assert [r and r.value for r in (turn.backsight, turn.intermediate, turn.foresight)] == [1.10, None, 2.31]
    assert turn.distance is not None
    assert turn.backsight_distance is not None
    assert (turn.distance.value, turn.backsight_distance.value) == (18.0, 20.0)
    assert (last.point.place, last.point.stand) == ("ram", "waste_valve_seat")


def test_a_number_is_kept_as_it_was_typed() -> None:
    """1.420 was read to the millimetre; written again it still says so."""
    site = read(BOOK)
    reading = site.visit[0].level_book[0].rows[0].backsight
    assert reading is not None
    assert reading.text == "1.420"
    assert '["BM", "1.420"]' in write_sheet(site)
    assert read_sheet_text(write_sheet(site), "t") == site


def test_a_row_by_name_is_the_same_in_the_trades_short_words() -> None:
    by_name = read(
        '[[visit]]\n[[visit.level_book]]\nunit = "m"\nrows = [{ point = "BM", BS = 1.420 },\n'
        ' { FS = "2.31", BS = "1.10", point = "peg 1", dist = 18, backsight-distance = 20 },\n'
        ' { at = "ram, seat", fs = 2.5, is = "-" }]\n'
    )
    assert by_name == read(BOOK)
    assert by_name.notes_on_input == ()


def test_a_reading_may_have_a_unit_of_its_own() -> None:
    site = read(
        '[[visit]]\n[[visit.level_book]]\nunit = "m"\n'
        'rows = [["a", "4 ft 7 in"], ["b", "", "", "95 cm"], ["c", "", "", 1]]\n'
    )
    rows = site.visit[0].level_book[0].rows
    assert rows[0].backsight is not None
    assert abs(rows[0].backsight.value - 55 * 0.0254) < 1e-12  # 1 in is 25.4 mm exactly
    assert rows[1].foresight is not None
    assert abs(rows[1].foresight.value - 0.95) < 1e-12


def test_a_unit_said_around_a_section_holds_inside_it() -> None:
    site = read(
        '[[visit]]\n[[visit.float]]\nof = "stream"\nunit = "ft"\nlength = 30\ntime_unit = "s"\n'
        "times = [50, 47.5]\n[[visit.float.section]]\nrows = [[0, 0], [2, 0.5], [4, 0]]\n"
        '[[visit.float.section]]\nunit = "m"\nrows = [[0, 0], [0.6, 0.15], [1.2, 0]]\n'
    )
    (run,) = site.visit[0].float_run
    assert run.flow == "creek"
    assert abs(run.section[0].rows[1].across.value - 2 * 0.3048) < 1e-12
    assert abs(run.section[1].rows[1].across.value - 0.6) < 1e-12
    assert [reading.value for reading in run.times] == [50.0, 47.5]


def test_a_field_book_alone_is_a_sheet() -> None:
    site = read_sheet(ROOT / "examples" / "field-book.toml")
    assert site.facts is None
    assert site.drive_pipe == ()
    assert len(site.visit) == 2


@pytest.mark.parametrize("written", ["2024-09-14", '"2024-09-14"', '" 2024-09-14 "'])
def test_a_date_with_or_without_quotes(written: str) -> None:
    assert read(f"[[visit]]\ndate = {written}\n").visit[0].date == "2024-09-14"


def test_one_visit_in_single_brackets_and_sections_in_other_words() -> None:
    site = read(
        '[visit]\ndam = "IN"\n[visit.eye_height]\nfrom = "ram"\nto = "tank"\nunit = "m"\n'
        "eye = 1.6\nsteps = 3\n"
    )
    (run,) = site.visit[0].hand_level
    assert run.instrument == "eye height"
    assert (run.start.stand, run.end.place) == ("unstated", "tank")
    assert site.visit[0].intake_dam == "in"
    clinometer = read('[[visit]]\n[[visit.clinometer]]\nstart = "a"\nend = "b"\nout = [["20 m", "5 deg"]]\n')
    assert [note.value for note in clinometer.notes_on_input] == ["clinometer"]


POINTS = [
    ("ram, seat", "ram", "waste_valve_seat", None),
    ("Seat", "ram", "waste_valve_seat", None),
    ("waste-valve seat", "ram", "waste_valve_seat", None),
    ("hydram: clack seat", "ram", "waste_valve_seat", None),
    ("ground at the ram", "ram", "ground", None),
    ("ram", "ram", "unstated", None),
    ("water in the drive tank", "drive tank", "water_surface", None),
    ("drum, water", "drive tank", "water_surface", None),
    ("Drive-Tank Water", "drive tank", "water_surface", None),
    ("standpipe; notch", "drive tank", "outlet_lip", None),
    ("tank inlet", "tank", "tank_inlet_top", None),
    ("cistern, rim", "tank", "tank_inlet_top", None),
    ("intake, water, dam out", "intake", "water_surface", "out"),
    ("intake water (dam in)", "intake", "water_surface", "in"),
    ("dam in", "intake", "water_surface", "in"),
    ("intake water without dam", "intake", "water_surface", "out"),
    ("tailwater", "tailwater", "water_surface", None),
    ("highest point", "highest point", "mark", None),
    ("peg 4", "peg 4", "mark", None),
    ("Stump, by the gate", "stump, by gate", "mark", None),
    ("big alder, ground", "big alder", "ground", None),
    ("ram pit peg", "ram pit peg", "mark", None),
    ("tp", "", "mark", None),
    ("change point 12", "12", "mark", None),
]


@pytest.mark.parametrize(("text", "place", "stand", "dam"), POINTS)
def test_points_as_the_trade_says_them(text: str, place: str, stand: str, dam: str | None) -> None:
    spot = read_spot(text)
    assert (spot.place, spot.stand, spot.dam) == (place, stand, dam)
    assert str(spot) == text
    assert spot.turning == (text.startswith(("tp", "change")))


def test_other_words_lead_to_entries_and_lists_are_lists() -> None:
    for section, words in VISIT_WORDS.items():
        assert set(words) <= set(sections()[section].model_fields), section
    several = {
        f"{above}.{name}" if above else name
        for above, model in sections().items()
        for name, info in model.model_fields.items()
        if get_args(info.annotation)[1:] == (...,)
        and isinstance(get_args(info.annotation)[0], type)
        and issubclass(get_args(info.annotation)[0], BaseModel)
        and name not in ("rows", "out", "back")
        and above.partition(".")[0] in ("", "visit", "stage", "walk")
    }
    lines = {"supply_line", "drive_pipe", "delivery_line"}
    assert set(VISIT_LISTS) == several - lines
    assert all(re.fullmatch(r"[a-z_]+", word) for word in SHORT)


def test_a_row_says_its_columns_in_the_schema() -> None:
    from ramwright.site import json_schema

    rows = {name: part for name, part in json_schema()["$defs"].items() if "x-row" in part}
    models = {model.__name__: model for model in sections().values() if issubclass(model, RowPart)}
    assert set(rows) == set(models)
    for name, part in rows.items():
        assert part["x-row"] == list(models[name].model_fields)
        assert len(part["anyOf"][0]["prefixItems"]) == len(part["x-row"])


def book_of(count: int) -> str:
    """A visit with a level book of ``count`` readings, two a row."""
    rows = ['["drive tank, water", 1.5],']
    rows += [f'["peg {i}", 1.5, "", 1.4, 20, 21],' for i in range(count // 2 - 1)]
    rows += ['["ram, seat", "", "", 1.4]']
    joined = "\n".join(rows)
    return f'[[visit]]\n[[visit.level_book]]\nunit = "m"\nrows = [\n{joined}\n]\n'


def test_a_visit_of_five_hundred_readings_reads_and_is_written_again() -> None:
    site = read(book_of(500))
    readings = [
        value
        for row in site.visit[0].level_book[0].rows
        for value in (row.backsight, row.foresight)
        if value is not None
    ]
    assert len(readings) == 500
    assert read_sheet_text(write_sheet(site), "t") == site


def test_a_book_without_end_is_refused() -> None:
    with pytest.raises(SheetErrors) as caught:
        read(book_of(2400))
    assert caught.value.errors[0].code == "too_many_rows"
