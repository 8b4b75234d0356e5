"""Every error a room raises has its sentence, with blanks that are filled, and no sentence is left over."""

from __future__ import annotations

from functools import cache

import pytest
from raised_codes import STANDARD, Raised, raised
from tree import SOURCE, files, text

from ramwright.wording import errors
from ramwright.wording.blanks import blanks


@cache
def found() -> tuple[list[Raised], list[str]]:
    """What the package raises."""
    return raised(
        {
            path.relative_to(SOURCE).as_posix(): text(path)
            for path in files()
            if path.is_relative_to(SOURCE) and path.suffix == ".py"
        }
    )


def test_every_code_is_written_out() -> None:
    assert found()[1] == [], "write the code as text where it is raised"


def test_every_code_has_a_sentence() -> None:
    missing = {
        f"{error.code} ({error.place})" for error in found()[0] if error.code not in errors.sentences()
    }
    assert not missing, "\n".join(sorted(missing))


def test_no_sentence_is_left_over() -> None:
    assert set(errors.sentences()) - {error.code for error in found()[0]} == set()


def test_a_sentence_stands_in_the_file_of_a_room_that_raises_it() -> None:
    rooms: dict[str, set[str]] = {}
    for error in found()[0]:
        rooms.setdefault(error.code, set()).add(error.room)
    astray = {
        f"{code} in {name}.py, raised in {sorted(rooms[code])}"
        for name, sentences in errors.files().items()
        for code in sentences
        if code in rooms and name not in rooms[code]
    }
    assert not astray, "\n".join(sorted(astray))


def test_every_blank_is_filled_by_someone_who_raises_it() -> None:
    unfilled = set()
    for code, pair in errors.sentences().items():
        raisers = [error for error in found()[0] if error.code == code]
        given = STANDARD.union(*(error.details for error in raisers))
        if any(error.open for error in raisers):
            continue
        unfilled |= {
            f"{code}: {{{name}}}"
            for part in pair
            for name in blanks(part)
            if name not in given and not {f"{name}_us", f"{name}_metric"} <= given
        }
    assert not unfilled, "\n".join(sorted(unfilled))


def test_a_sentence_says_what_is_wrong_and_what_to_do() -> None:
    for code, (wrong, to_do) in errors.sentences().items():
        assert wrong.strip(), code
        assert to_do.strip(), code


SAMPLE = """
TABLE = {"a": "from_table"}
TEXT = "from_top"
class SheetError(InputError): ...
class FixedError(InputError):
    def __init__(self):
        super().__init__("fixed", count=1)
def refuse(code, *, where, **more):
    error = InputError(code, field=where, why=1, **more)
    error.details |= {"late": 3}
    return error
def refuse_twice(text, code, **more):
    raise refuse(code, where=text, twice=1, **more)
def one(x):
    raise SheetError("plain", field="x", low=1)
def two(x):
    code = "this" if x else "that"
    raise LimitError(code, value=x, **x)
def three(x):
    raise refuse("forwarded", where="x", how=2)
def four(x):
    refuse_twice(x, "handed_on", how=2)
def five(x):
    at = {"field": x, "high": 2}
    raise InputError(TABLE.get(x, "not_in_table"), **at)
def six(error):
    raise InputError(error.code)
def seven():
    raise InputError(TEXT, low=3)
def eight():
    raise FixedError()
def bad_1(x):
    raise InputError(f"code_{x}")
def bad_2(x):
    raise InputError(ELSEWHERE[x])
def bad_3(text):
    raise InputError(text)
"""


def test_the_finder_finds_each_way_of_raising() -> None:
    errors_found, unclear = raised({"room/file.py": SAMPLE})
    assert {error.code: set(error.details) for error in errors_found} == {
        "fixed": {"count"},
        "plain": {"low"},
        "this": set(),
        "that": set(),
        "forwarded": {"why", "late", "how"},
        "handed_on": {"why", "late", "how", "twice"},
        "from_top": {"low"},
        "from_table": {"high"},
        "not_in_table": {"high"},
    }
    assert {error.code for error in errors_found if error.open} == {"this", "that"}
    assert [SAMPLE.splitlines()[int(place.split(":")[1]) - 2] for place in unclear] == [
        "def bad_1(x):",
        "def bad_2(x):",
        "def bad_3(text):",
    ]


def test_a_forwarder_serves_its_own_room_only() -> None:
    other = 'def f():\n    raise refuse("elsewhere")\n'
    codes = {error.code for error in raised({"room/file.py": SAMPLE, "other/file.py": other})[0]}
    assert "elsewhere" not in codes


def test_a_code_said_twice_is_refused() -> None:
    with pytest.raises(ImportError, match="'x' has a sentence in one and in two"):
        errors.merge({"one": {"x": ("a", "b")}, "two": {"x": ("c", "d")}})
