"""Every entry is found on the line it was written on."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.site.lines import DEEPEST, MOST_ENTRIES, Path, locate

SHEET = '''# remark
schema_version = 1            # 2

[site]                        # 4
name = "a # is no remark"     # 5
notes = """
fall = "not an entry"
[nor.this]
"""

[facts]                       # 11
"fall" = '6 ft'               # 12
lift.of.tank = "45 ft"        # 13

[[drive_pipe]]                # 15
pipe = "a, b"
[[drive_pipe]]                # 17
length = """12 \\
   ft"""
bends = [                     # 20
  1,                          # 21
  # none
  [ 2, 3 ],                   # 23
  { a = 1,
  },
]
[drive_pipe.inner]            # 27
x = { y = "}", z = [1, 2] }   # 28
[ "a.b" . c ]                 # 29
d = 1                         # 30
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("schema_version",), 2),
        (("site",), 4),
        (("site", "name"), 5),
        (("site", "notes"), 6),
        (("facts",), 11),
        (("facts", "fall"), 12),
        (("facts", "lift"), 13),
        (("facts", "lift", "of", "tank"), 13),
        (("drive_pipe",), 15),
        (("drive_pipe", 0), 15),
        (("drive_pipe", 0, "pipe"), 16),
        (("drive_pipe", 1), 17),
        (("drive_pipe", 1, "length"), 18),
        (("drive_pipe", 1, "bends"), 20),
        (("drive_pipe", 1, "bends", 0), 21),
        (("drive_pipe", 1, "bends", 1), 23),
        (("drive_pipe", 1, "bends", 1, 1), 23),
        (("drive_pipe", 1, "bends", 2), 24),
        (("drive_pipe", 1, "bends", 2, "a"), 24),
        (("drive_pipe", 1, "inner"), 27),
        (("drive_pipe", 1, "inner", "x", "z", 1), 28),
        (("a.b", "c", "d"), 30),
    ],
)
def test_lines_of_a_sheet(path: Path, line: int) -> None:
    """Counted by hand; strings and remarks that look like entries are none."""
    lines = locate(SHEET)
    assert lines.at.get(path) == line
    assert (("site", "fall") in lines.at, ("nor", "this") in lines.at) == (False, False)


def test_what_is_missing_has_the_line_of_what_it_is_missing_in() -> None:
    """A missing length is told at its pipe."""
    lines = locate(SHEET)
    assert lines.line(("drive_pipe", 1, "nothing", "here")) == 17
    assert lines.line(("nowhere",)) is None


def test_an_entry_written_twice_is_found_with_both_lines() -> None:
    """In a section, and in braces."""
    twice = locate("[facts]\na = 1\nb = 2\na = 3\n").twice[0]
    assert (twice.path, twice.first, twice.second) == (("facts", "a"), 2, 4)
    assert locate("x = { a = 1, b = 2, a = 3 }").twice[0].path == ("x", "a")


@pytest.mark.parametrize(
    "text", ["a" + ".b" * DEEPEST + " = 1", "x = " + "[" * 500, "x = " + "{a=" * 500, "[" + "a." * 500 + "a]"]
)
def test_endless_nesting_is_refused(text: str) -> None:
    """The standard reader would take long, or end in its own error."""
    with pytest.raises(InputError) as caught:
        locate(text)
    assert (caught.value.code, caught.value.line) == ("too_nested", 1)


def test_too_many_entries_are_refused() -> None:
    """No sheet is that long."""
    with pytest.raises(InputError) as caught:
        locate("".join(f"k{i} = 1\n" for i in range(MOST_ENTRIES + 1)))
    assert (caught.value.code, caught.value.line) == ("too_many_entries", MOST_ENTRIES + 1)


def _paths(value: Any, path: Path = ()) -> set[Path]:
    """Every path of a parsed document."""
    inside: set[Path] = {path} if path else set()
    if isinstance(value, dict):
        return inside.union(*(_paths(v, (*path, k)) for k, v in value.items()))
    if isinstance(value, list):
        return inside.union(*(_paths(v, (*path, i)) for i, v in enumerate(value)))
    return inside


NAMES = st.sampled_from(["a", "b", "c-d", '"q.r"', "'s t'", '"\\u0041"', "1"])
DOTTED = st.lists(NAMES, min_size=1, max_size=3).map(" . ".join)
SCALARS = st.sampled_from(
    ['"x"', "'#'", '"""\n#\n"""', "'''\n''x\n'''", '"\\"]"', "1.5", "true", "2020-01-01", '""', '""""q"""']
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda v: "[\n " + " , # ]\n".join(v) + "\n]"),
        st.lists(inner, max_size=3).map(
            lambda v: "{ " + ", ".join(f"k{i}.m = {x}" for i, x in enumerate(v)) + " }"
        ),
    ),
    max_leaves=6,
)
ROWS = st.one_of(
    st.tuples(DOTTED, VALUES).map(lambda kv: f"{kv[0]} = {kv[1]}  # r"),
    DOTTED.map(lambda d: f"[ {d} ] # r"),
    DOTTED.map(lambda d: f"[[{d}]]"),
    st.just("# x = 1"),
    st.just(""),
)


@given(rows=st.lists(ROWS, max_size=8))
@example(rows=["[[a]]", "[a.b]", "[[a.b.c]]", "[[a]]", "[[a.b.c]]"])
def test_every_path_the_standard_reader_finds_has_a_line(rows: list[str]) -> None:
    """Against tomllib: same entries, no other ones, and the line is where the row begins."""
    text = "\n".join(rows)
    lines = locate(text)
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    assert _paths(found) == set(lines.at) | {p[:n] for p in lines.at for n in range(1, len(p))}
    last = len(text.split("\n"))
    assert all(1 <= line <= last for line in lines.at.values())


@given(text=st.text(alphabet="[]{}=\"'.,#\\\n ab1", max_size=200))
def test_any_text_at_all_is_survived(text: str) -> None:
    """Only the two refusals, and on valid TOML the same entries as the standard reader."""
    try:
        lines = locate(text)
        found = tomllib.loads(text)
    except (InputError, tomllib.TOMLDecodeError):
        return
    assert _paths(found) <= set(lines.at) | {p[:n] for p in lines.at for n in range(1, len(p))}
