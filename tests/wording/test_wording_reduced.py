"""A reduction and a walk told: what is measured is there, lines stay narrow, units are those asked for."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from ramwright.appraise import FactsFound, facts_of, walk_of
from ramwright.quantities import System
from ramwright.site import read_sheet, site_from_entries
from ramwright.wording.page import Page, noted, table
from ramwright.wording.reduced import tell_reduction
from ramwright.wording.walked import tell_walk

ROOT = Path(__file__).parents[2]
EXAMPLES = ("field-book", "alder-fork", "hoher-grund")
SYSTEMS: tuple[System, System] = ("us", "metric")


@cache
def facts(name: str) -> FactsFound:
    return facts_of(read_sheet(ROOT / "examples" / f"{name}.toml"))


@cache
def text(name: str, system: System) -> str:
    return tell_reduction(name, facts(name), system, "en")


def made(*visits: dict[str, Any], **more: Any) -> str:
    site = site_from_entries({"site": {"name": "Test"}, "visit": list(visits), **more})
    return tell_reduction("Test", facts_of(site), "metric", "en")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", EXAMPLES)
def test_a_page_is_narrow_and_whole(name: str, system: System) -> None:
    page = text(name, system)
    assert max(map(len, page.splitlines())) <= 100
    assert "{" not in page
    assert "?" not in page
    assert "  \n" not in page
    assert "-0.0" not in page
    assert not re.search(r"\d{6}", page)


@pytest.mark.parametrize("name", EXAMPLES)
def test_units_are_those_asked_for(name: str) -> None:
    # labels are the writer's own and keep their words
    metric = re.findall(r"\d (ft|in(?! \d)|gal/min|gal)\b", text(name, "metric"))
    us = re.findall(r"\d (m|mm|L/s|L/min)\b", text(name, "us"))
    assert (metric, us) == ([], [])


def test_the_facts_and_where_they_come_from() -> None:
    page = text("field-book", "metric")
    found = facts("field-book").fall
    assert found is not None
    assert f"Fall         {found.value:.3f} ± {found.sd:.3f} m" in page
    assert "(level book, hose, gauge)" in page
    assert "(typed)" in text("alder-fork", "us")


def test_the_book_row_by_row() -> None:
    """Rise or fall, level and adjusted level of each row; the seat is nought, the last row the first."""
    page = text("field-book", "metric")
    rows = page[page.index("Row by row") : page.index("It misses its start")].splitlines()[3:]
    cells = [row.split() for row in rows]
    seat = next(row for row in rows if "waste-valve seat" in row)
    assert seat.split()[-2:] == ["0.000", "0.000"]
    first, last = (cells[i][-3:] for i in (0, -2))
    misses = re.search(r"misses its start by (\S+) mm", page)
    assert misses is not None
    assert abs(float(last[0]) - float(first[0]) - float(misses[1]) / 1000.0) < 1.1e-3
    assert last[1] == first[1], "one point, one adjusted level"


def test_who_disagrees_with_whom_is_named() -> None:
    page = text("field-book", "metric")
    assert "level book and gauge differ by" in page
    assert "hose and gauge differ by" in page
    assert "level book and hose" not in page


def test_the_gravest_findings_come_first_and_good_news_is_no_finding() -> None:
    page = text("field-book", "metric")
    badges = re.findall(r"^  \[(.)\]", page, re.MULTILINE)
    assert badges == sorted(badges, key="X!i".index)
    assert "A level book closes" not in page


def test_what_nobody_measured_is_said() -> None:
    page = made({"bucket": [{"flow": "creek", "volume": "12 L", "times": ["8 s", "8.2 s", "7.9 s"]}]})
    assert re.search(r"Fall +not measured", page)
    assert "Source flow" in page


def test_books_that_stay_open_or_miss_say_so() -> None:
    rows = [["drum, water", 1.0], ["seat", "", "", 3.0]]
    assert "It ends elsewhere than it began." in made({"level_book": [{"unit": "m", "rows": rows}]})
    missed = [["drum, water", 1.0], ["seat", 2.0, "", 3.0], ["drum, water", "", "", 0.05]]
    assert "more than the 7.07 mm allowed" in made({"level_book": [{"unit": "m", "rows": missed}]})


def test_the_four_flows_are_told_with_what_is_left() -> None:
    of = {"creek": 8, "supply line": 10, "drive": 12, "delivery": 60}
    page = made(
        {
            "stage": "low",
            "bucket": [{"flow": name, "volume": "12 L", "times": [f"{s} s"] * 3} for name, s in of.items()],
        }
    )
    assert "What is left where" in page
    assert "spilled at the drive tank" in page
    for name in ("flow in the creek", "flow in the supply line", "drive flow", "delivery flow"):
        assert name in page


@pytest.mark.parametrize("name", ["", "A\x1b[31mred", "two\nlines", "x" * 300])
def test_a_name_of_any_kind_keeps_the_page_in_shape(name: str) -> None:
    page = tell_reduction(name, facts("field-book"), "metric", "en")
    assert "\x1b" not in page
    assert max(map(len, page.splitlines())) <= 100


def test_the_walk_is_ranked_with_its_lifts() -> None:
    walk = walk_of(read_sheet(ROOT / "examples" / "field-book.toml"))
    page = tell_walk("Sorrel Gully", walk, "metric", "en")
    order = [page.index(pair.label) for pair in walk.ranked]
    assert order == sorted(order)
    assert "lift to knoll" in page
    assert "over flood mark" in page
    assert "on foot" in page
    assert "{" not in page


def test_a_walk_without_fall_says_so() -> None:
    site = site_from_entries(
        {"site": {"name": "x"}, "walk": {"unit": "m", "intake": [["a", 3, 0]], "ram": [["b", 5, 9]]}}
    )
    page = tell_walk("x", walk_of(site), "us", "en")
    assert "No pair of places has a fall worth looking at." in page
    assert "too little fall" in page


def test_what_was_left_out_of_a_walk_has_its_reason() -> None:
    places = {
        "unit": "m",
        "intake": [["a", "9 ± 0.01", 0, "", "road"]],
        "ram": [["near", "5 ± 0.01", 20, 3, "road"], ["far", "7 ± 0.01", 90, 6.9, "climb"]],
    }
    page = tell_walk("x", walk_of(site_from_entries({"site": {"name": "x"}, "walk": places})), "metric", "en")
    assert re.search(r"a - far: a - near has at least as much of everything, and more of this:\s+fall", page)


def test_tables_and_notes_of_a_page() -> None:
    assert list(table([["a", "1"], ["bb", "10"]])) == ["  a    1", "  bb  10"]
    assert noted("x", "") == ["x"]
    assert noted("x", "y") == ["x  y"]
    assert len(noted("x" * 80, "y " * 30)) == 2
    assert Page("metric", "en").fixed(-0.0001, "m", "length", 3) == "0.000"
    assert Page("metric", "en").fixed(-1.5, "m", "length", 1) == "−1.5"
