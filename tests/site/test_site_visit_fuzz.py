"""Whatever a field book holds: it is read, or an ``InputError`` says what is wrong."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.site import SheetErrors, read_sheet_text, site_from_entries, write_sheet
from ramwright.site.problems import sections
from ramwright.wording.errors import sentence

ROOT = Path(__file__).parents[2]
FIELD_BOOK = (ROOT / "examples" / "field-book.toml").read_text(encoding="utf-8")
PIECES = [
    "[",
    "]",
    '"',
    ",",
    "{",
    "}",
    "=",
    "\n",
    '""',
    "-",
    "±",
    "1e999",
    "nan",
    "ram, ",
    "tp",
    "dam in",
    "0",
    "9" * 40,
]


@settings(max_examples=300, deadline=None)
@given(
    start=st.integers(0, len(FIELD_BOOK) - 1),
    cut=st.integers(0, 40),
    put=st.one_of(st.text(max_size=12), st.sampled_from(PIECES)),
)
def test_a_field_book_damaged_anywhere_is_read_or_refused(start: int, cut: int, put: str) -> None:
    try:
        site = read_sheet_text(FIELD_BOOK[:start] + put + FIELD_BOOK[start + cut :], "t")
    except InputError as error:
        errors = error.errors if isinstance(error, SheetErrors) else (error,)
        assert all("{" not in sentence(one, "us", "en") or "{" in put for one in errors)
    else:
        assert read_sheet_text(write_sheet(site), "t") == site


SIMPLE = st.sampled_from(["", "1 m", "3 s", "ram, seat"])
ANY = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), SIMPLE, st.text(max_size=8)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4),
        st.dictionaries(st.sampled_from(["point", "rows", "unit"]), inner, max_size=3),
    ),
    max_leaves=10,
)
BOOKS = sorted(name for name in sections() if name.partition(".")[0] in ("visit", "stage", "walk"))


@settings(max_examples=400, deadline=None)
@given(section=st.sampled_from(BOOKS), data=st.data())
def test_anything_in_any_section_of_a_field_book(section: str, data: st.DataObject) -> None:
    """Each section of the book gets entries of its own names that hold anything at all."""
    names = st.sampled_from([*sections()[section].model_fields, "nonsense"])
    inside: Any = data.draw(st.one_of(st.dictionaries(names, ANY, max_size=4), ANY), label="entries")
    for part in reversed(section.split(".")):
        inside = {part: data.draw(st.sampled_from([inside, [inside]]))}
    try:
        site_from_entries({"site": {"name": "x"}, **inside})
    except InputError as error:
        errors = error.errors if isinstance(error, SheetErrors) else (error,)
        for one in errors:
            assert sentence(one, "us", "en").endswith(".")
