"""An error as a person reads it."""

from __future__ import annotations

import pytest

from ramwright.errors import InputError, RamwrightError
from ramwright.wording import errors
from ramwright.wording.errors import report, sentence, where


@pytest.fixture(autouse=True)
def made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two made-up codes stand in for those of the rooms."""
    said = {
        "too_deep": ("{value} is deeper than {limit:length}.", "measure again from the {edge}"),
        "no_value": ("{field} is {value}", "write a number"),
    }
    monkeypatch.setattr(errors, "sentences", lambda: said)


def test_it_says_where_what_and_what_to_do() -> None:
    error = InputError("too_deep", field="fall", value="30 ft", line=12, limit=6.096, edge="rim")
    assert sentence(error) == "line 12, fall: 30 ft is deeper than 20.0 ft. Measure again from the rim."
    assert sentence(error, "metric").startswith("line 12, fall: 30 ft is deeper than 6.10 m.")


def test_without_a_place_it_starts_like_any_sentence() -> None:
    said = sentence(InputError("too_deep", limit=6.096, value="six fathoms..", edge="rim"))
    assert said == "six fathoms.. is deeper than 20.0 ft. Measure again from the rim."


def test_an_error_that_holds_several_says_them_all() -> None:
    class SeveralError(InputError):
        errors = (InputError("no_value", field="fall", line=2), InputError("no_value", field="lift", line=3))

    assert report(SeveralError("no_value", field="the sheet", line=2)).splitlines() == [
        "the sheet is nothing. Write a number.",
        "  line 2, fall: fall is nothing. Write a number.",
        "  line 3, lift: lift is nothing. Write a number.",
    ]
    assert report(InputError("no_value")) == sentence(InputError("no_value"))


@pytest.mark.parametrize(
    ("field", "line", "shown"),
    [("fall", 3, "line 3, fall"), ("fall", None, "fall"), (None, 3, "line 3"), (None, None, "")],
)
def test_where(field: str | None, line: int | None, shown: str) -> None:
    assert where(InputError("no_value", field=field, line=line)) == shown


def test_a_code_without_a_sentence_still_says_something() -> None:
    assert sentence(RamwrightError("unheard_of", field="fall", line=4)) == "unheard_of at fall (line 4)"


def test_every_error_of_the_family_can_be_said_with_nothing_given(monkeypatch: pytest.MonkeyPatch) -> None:
    """Even with every blank empty a sentence comes out, in both unit systems, with no brace left in it."""
    monkeypatch.undo()
    codes = list(errors.sentences())
    assert codes
    for code in codes:
        for system in ("us", "metric"):
            said = sentence(InputError(code), "us" if system == "us" else "metric")
            assert said.endswith("."), code
            assert "{" not in said, code
            assert ".." not in said.replace("...", ""), code
