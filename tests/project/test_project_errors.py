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
    assert missing == set()


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
    assert astray == set()


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
    assert unfilled == set()


def test_a_sentence_says_what_is_wrong_and_what_to_do() -> None:
    for code, (wrong, to_do) in errors.sentences().items():
        assert wrong.strip(), code
        assert to_do.strip(), code


SAMPLE = """
class SheetError(InputError): ...
def refuse(code, *, where, **more):
    error = InputError(code, field=where, why=1, **more)
    error.details |= {"late": 3}
    return error
def one(x):
    raise SheetError("plain", field="x", low=1)
def two(x):
    code = "this" if x else "that"
    raise LimitError(code, value=x, **x)
def three(x):
    raise refuse("forwarded", where="x", how=2)
def four(x):
    raise InputError(f"code_{x}")
def five(x):
    raise InputError(CODES[x])
"""


def test_the_finder_finds_each_way_of_raising() -> None:
    errors_found, unclear = raised({"room/file.py": SAMPLE})
    by_code = {error.code: error for error in errors_found}
    assert set(by_code) == {"plain", "this", "that", "forwarded"}
    assert by_code["plain"].details == {"low"}
    assert by_code["forwarded"].details == {"why", "how", "late"}
    assert [by_code[code].open for code in ("plain", "this", "forwarded")] == [False, True, False]
    assert unclear == ["room/file.py:15", "room/file.py:17"]


def test_a_forwarder_serves_its_own_room_only() -> None:
    other = 'def f():\n    raise refuse("elsewhere")\n'
    codes = {error.code for error in raised({"room/file.py": SAMPLE, "other/file.py": other})[0]}
    assert "elsewhere" not in codes


def test_a_code_said_twice_is_refused() -> None:
    with pytest.raises(ImportError, match="'x' has a sentence in one and in two"):
        errors.merge({"one": {"x": ("a", "b")}, "two": {"x": ("c", "d")}})
