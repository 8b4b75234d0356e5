"""Blanks of a sentence: filled in the reader's units, never a crash."""

from __future__ import annotations

import math

import pytest

from ramwright.wording.blanks import blanks, fill, plain


@pytest.mark.parametrize(
    ("system", "shown"),
    # 1 ft is 0.3048 m exactly (international foot of 1959)
    [("us", "at most 10.0 ft"), ("metric", "at most 3.05 m")],
)
def test_a_length_is_shown_in_the_readers_units(system: str, shown: str) -> None:
    assert fill("at most {limit:length}", {"limit": 3.048}, "us" if system == "us" else "metric") == shown


def test_what_was_typed_is_shown_as_typed() -> None:
    assert fill("{value:length} is no length", {"value": "6,5 fathom"}, "us") == "6,5 fathom is no length"


def test_a_value_given_for_both_systems_is_shown_in_the_readers() -> None:
    both = {"low_us": "1 ft", "low_metric": "0.3 m"}
    assert fill("{low}", both, "us") == "1 ft"
    assert fill("{low}", both, "metric") == "0.3 m"
    assert fill("{low_us} ({low_metric})", both, "metric") == "1 ft (0.3 m)"


@pytest.mark.parametrize(
    ("system", "shown"),
    # 86 400 s a day, 3.785411784 L a gallon: 1 L/min is 1440 L or 380 gal a day
    [("us", "380 gal/day"), ("metric", "1440 L/day")],
)
def test_a_daily_flow_is_shown_as_a_days_amount(system: str, shown: str) -> None:
    assert fill("{demand:daily}", {"demand": 1e-3 / 60.0}, "us" if system == "us" else "metric") == shown


def test_nothing_is_shown_as_nothing() -> None:
    assert fill("{flow:flow}, {flow:daily}, {x:head}", {"flow": 0.0, "x": 0.0}, "us") == (
        "0 gal/min, 0 gal/day, 0 ft"
    )


def test_a_hole_is_shown_as_a_hole() -> None:
    assert fill("between {low} and {high}", {"low": 1}, "us") == "between 1 and ?"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_none_is_shown_all_the_same(value: float) -> None:
    assert fill("{x:length}", {"x": value}, "us") == str(value)


def test_braces_in_what_was_typed_are_left_alone() -> None:
    assert fill("{value} is wrong", {"value": "{line.__class__}"}, "us") == "{line.__class__} is wrong"


@pytest.mark.parametrize("template", ["{a.b}", "{a[0]}", "{}", "{0}", "{a!r}", "{a:parsec}", "{a"])
def test_only_plain_blanks_are_allowed(template: str) -> None:
    with pytest.raises(ValueError, match=r"blank|kind|expected"):
        blanks(template)


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (0.1 + 0.2, "0.3"),
        (1234.567, "1235"),
        (3, "3"),
        (["us", "metric"], "us, metric"),
        ("a b", "a b"),
        ((), ""),
    ],
)
def test_plain_values(value: object, shown: str) -> None:
    assert plain(value) == shown
