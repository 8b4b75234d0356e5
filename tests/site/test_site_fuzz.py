"""Whatever a file holds: a site, or an ``InputError`` that can be said."""

from __future__ import annotations

from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.site import Site, read_sheet_bytes, read_sheet_text, site_from_entries, starter_sheet
from ramwright.site.problems import sections
from ramwright.wording.errors import report

BOOK = (Path(__file__).parents[2] / "examples" / "field-book.toml").read_text(encoding="utf-8")
ALDER = (Path(__file__).parents[2] / "examples" / "alder-fork.toml").read_text(encoding="utf-8")
NAMES = sorted({name for model in sections().values() for name in model.model_fields} | set(sections()))
MARKS = ["=", " = ", ".", "[", "]", "[[", "]]", "{", "}", ",", '"', "'", '"""', "'''", "#", "\n", "\\", " "]
WRITTEN = [
    "6 ft",
    "nan",
    "inf",
    "-1",
    "1e999",
    "± 10 %",
    "true",
    "1979-05-27",
    '"tune"',
    '"6.5 ft ± 2 in"',
    "0x",
]
PIECES = st.sampled_from([*NAMES, *MARKS, *WRITTEN])


def _refused_or_read(data: bytes | str) -> None:
    """The only two endings; the error's sentences have no holes."""
    try:
        site = read_sheet_bytes(data, "f") if isinstance(data, bytes) else read_sheet_text(data, "f")
    except InputError as error:
        for line in report(error, "us", "en").splitlines():
            assert "{" not in line or "{" in repr(data)
    else:
        assert isinstance(site, Site)


@given(data=st.binary(max_size=2000))
@example(data=b"\xff\xfe[\x00")
@example(data=b"\xef\xbb\xbf")
@example(data=b"a\x00b = 1")
@example(data=b"x = 0x" + b"f" * 5000)
@example(data=b"x = " + b"1" * 5000)
def test_any_bytes(data: bytes) -> None:
    """Files of every other kind."""
    _refused_or_read(data)


@given(text=st.one_of(st.text(max_size=500), st.lists(PIECES, max_size=60).map("".join)))
@example(text="\ud800")
@example(text='[site]\nname = "\\ud800"')
@example(text="site = [[[[[[[[[[[[[[[[")
@example(text="[[site]]")
@example(text="[[facts]]\n[site]\nname='x'\n[[drive_pipe.length]]")
@example(text="drive_pipe = [1, [2]]\nram = []\nram.size = 1")
@example(text="[site]\nname='x'\n[facts.fall]\nlift={}")
def test_any_text(text: str) -> None:
    """Text made of a sheet's own pieces in any order."""
    _refused_or_read(text)


@settings(max_examples=200)
@given(
    sheet=st.sampled_from([ALDER, BOOK, starter_sheet("us"), starter_sheet("metric")]),
    start=st.integers(0, 9000),
    cut=st.integers(0, 60),
    put=st.one_of(st.text(max_size=20), PIECES),
)
def test_a_good_sheet_damaged_anywhere(sheet: str, start: int, cut: int, put: str) -> None:
    """A slip in any place."""
    start %= len(sheet)
    _refused_or_read(sheet[:start] + put + sheet[start + cut :])


VALUES = st.recursive(
    st.one_of(
        st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=20), st.binary(max_size=5)
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.sampled_from(NAMES), inner, max_size=4),
        st.dictionaries(st.text(max_size=5), inner, max_size=2),
    ),
    max_leaves=12,
)


@given(entries=st.dictionaries(st.sampled_from(NAMES), VALUES, max_size=5))
def test_any_entries_of_a_form(entries: dict[str, object]) -> None:
    """Anything a program may send."""
    said = ""
    try:
        site_from_entries(entries)
    except InputError as error:
        said = report(error, "us", "en")
    # a name is needed, so only entries with one can be a site
    assert said or "site" in entries
