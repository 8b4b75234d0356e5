"""Readings as people type them."""

from __future__ import annotations

import math
import string
from typing import get_args

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from ramwright.errors import InputError
from ramwright.quantities import NOT_NEGATIVE, POSITIVE, Bounds, Kind, parse_reading
from ramwright.wording.errors import sentence
from ramwright.wording.errors.quantities import SENTENCES

FT, IN = 0.3048, 0.0254
GAL_MIN = 231 * IN**3 / 60


@pytest.mark.parametrize(
    ("text", "kind", "value", "sd"),
    [
        ("6.5 ft ± 2 in", "length", 6.5 * FT, 2 * IN),
        ("6 ft 5 1/2 in +/- 1 in", "length", 6 * FT + 5.5 * IN, IN),
        ("12 gal/min ± 10 %", "flow", 12 * GAL_MIN, 1.2 * GAL_MIN),
        ("1 1/2 in", "small_length", 1.5 * IN, None),
        ("1-1/2 in", "small_length", 1.5 * IN, None),
        ("1½ in", "small_length", 1.5 * IN, None),
        ("¾ in", "small_length", 0.75 * IN, None),
        ('3/4"', "small_length", 0.75 * IN, None),
        ("0.8 L/s", "flow", 0.8e-3, None),
        (".8 L/s", "flow", 0.8e-3, None),
        ("8e-1 L/s", "flow", 0.8e-3, None),
        ("6' 5\"", "length", 6 * FT + 5 * IN, None),
        ('6\'-5½" +- 1"', "length", 6 * FT + 5.5 * IN, IN),
        ("6ft5in", "length", 6 * FT + 5 * IN, None),
        ("6.5 ± 0.2 ft", "length", 6.5 * FT, 0.2 * FT),
        ("(6.5 ± 0.2) ft", "length", 6.5 * FT, 0.2 * FT),
        ("6.5 ft ± 0.2", "length", 6.5 * FT, 0.2 * FT),
        ("6.5 ft +/−.2ft", "length", 6.5 * FT, 0.2 * FT),
        ("2 lb 3 oz", "mass", 0.45359237 * (2 + 3 / 16), None),
        ("1 min 12.5 s", "time", 72.5, None),
        ("12° 30'", "angle", math.radians(12.5), None),
        ("-3 ft", "length", -3 * FT, None),
        ("−3 ft 6 in", "length", -3.5 * FT, None),
        ("50 F ± 2 F", "temperature", 283.15, 2 * 5 / 9),
        ("10 °C ± 0.5", "temperature", 283.15, 0.5),
        ("20 % ± 5 %", "fraction", 0.20, 0.05),
        ("0.2", "fraction", 0.2, None),
        ("1:20", "slope", 0.05, None),
        ("1 in 20", "slope", 0.05, None),
        ("1/4 in/ft", "slope", 0.25 / 12, None),
        ("2.5 ± 0.5", "number", 2.5, 0.5),
        ("2.5 ± 20 %", "number", 2.5, 0.5),
        ("60 beats/min", "frequency", 1.0, None),
        ("3 ftH2O", "head", 3 * FT, None),
        ("0 L/s ± 10 %", "flow", 0.0, 0.0),
    ],
)
def test_what_people_write(text: str, kind: Kind, value: float, sd: float | None) -> None:
    """Each worked by hand from the definitions of foot, inch, pound and gallon."""
    reading = parse_reading(text, kind)
    assert reading.text == text
    assert reading.kind == kind
    assert reading.value == pytest.approx(value, rel=1e-9)
    assert reading.sd == (None if sd is None else pytest.approx(sd, rel=1e-9))


@pytest.mark.parametrize(
    ("text", "kind", "code"),
    [
        ("", "length", "empty_reading"),
        ("   ", "length", "empty_reading"),
        ("2,5 m", "length", "decimal_comma"),
        ("2,55 m", "length", "decimal_comma"),
        ("6.5 m ± 0,2 m", "length", "decimal_comma"),
        ("1,200 gal", "volume", "ambiguous_comma"),
        ("nan ft", "length", "not_finite"),
        ("NaN", "number", "not_finite"),
        ("inf m", "length", "not_finite"),
        ("-infinity m", "length", "not_finite"),
        ("1e999 m", "length", "not_finite"),
        ("1e308 km", "length", "not_finite"),
        ("1 m ± 1e999 m", "length", "not_finite"),
        ("6.5", "length", "missing_unit"),
        ("6 ft 5", "length", "missing_unit"),
        ("6.5 ± 0.2", "length", "missing_unit"),
        ("6 gpm", "length", "wrong_kind"),
        ("6 ft", "flow", "wrong_kind"),
        ("6.5 ft ± 2 gpm", "length", "wrong_kind"),
        ("6 fet", "length", "unknown_unit_close"),
        ("6 qzqzqz", "length", "unknown_unit"),
        ("ft", "length", "bad_number"),
        ("about 6 ft", "length", "bad_number"),
        ("1.2.3 ft", "length", "bad_number"),
        ("1/0 in", "length", "bad_number"),
        ("6 ft 13 in", "length", "bad_number"),
        ("5 in 6 ft", "length", "bad_number"),
        ("1 ft 2 in 3 mm", "length", "bad_number"),
        ("1:0", "slope", "bad_number"),
        ("6 ft ± ", "length", "bad_spread"),
        ("6 ft ± x", "length", "bad_spread"),
        ("6 ft ± 1 ft 2 in", "length", "bad_spread"),
        ("6 ft ± 1 ± 1", "length", "bad_spread"),
        ("50 F ± 10 %", "temperature", "bad_spread"),
        ("6 ft ± -1 in", "length", "negative_spread"),
        ("6 ft 5 in ± 1", "length", "spread_without_unit"),
        ("1 " + "m" * 300, "length", "reading_too_long"),
    ],
)
def test_what_cannot_be_read_says_why(text: str, kind: Kind, code: str) -> None:
    """Each refusal has its own code, carries field and line, and has a sentence without holes."""
    with pytest.raises(InputError) as caught:
        parse_reading(text, kind, field="facts.fall", line=7)
    error = caught.value
    assert (error.code, error.field, error.line) == (code, "facts.fall", 7)
    assert "?" not in sentence(error, "us", "en").replace("did you mean", "").replace('"?', '"')


def test_a_decimal_comma_is_told_what_to_write() -> None:
    """The fix is the reading itself, with a point."""
    with pytest.raises(InputError) as caught:
        parse_reading("2,5 m ± 0,1 m", "length")
    assert caught.value.details["write"] == "2.5 m ± 0.1 m"
    with pytest.raises(InputError) as caught:
        parse_reading("1,200 gal", "volume")
    assert (caught.value.details["thousands"], caught.value.details["decimal"]) == ("1200 gal", "1.200 gal")


@pytest.mark.parametrize(
    ("text", "kind", "closest"),
    [("12 gal/mim", "flow", "gal/min"), ("6 feets", "length", "feet"), ("3 Ltrs", "volume", "ltr")],
)
def test_a_misspelt_unit_is_told_the_nearest(text: str, kind: Kind, closest: str) -> None:
    """One slip of the finger away."""
    with pytest.raises(InputError) as caught:
        parse_reading(text, kind)
    assert caught.value.details["closest"] == closest


def test_a_unit_of_another_kind_is_named() -> None:
    """A flow where a length is wanted."""
    with pytest.raises(InputError) as caught:
        parse_reading("6 gpm", "small_length")
    assert (caught.value.details["given"], caught.value.details["wanted"]) == ("flow", "length")


@pytest.mark.parametrize("value", [True, None, ["6 ft"], {"fall": "6 ft"}, object()])
def test_what_is_not_text_is_refused(value: object) -> None:
    """A file may hold anything at all where a reading is wanted."""
    with pytest.raises(InputError) as caught:
        parse_reading(value, "length")  # type: ignore[arg-type]
    assert caught.value.code == "not_text"


def test_bare_numbers_of_a_file() -> None:
    """A number without quotes is a number without a unit, however long."""
    assert parse_reading(2.5, "number").value == 2.5
    assert parse_reading(2, "number").text == "2"
    for value, code in ((6.5, "missing_unit"), (10**5000, "not_finite"), (10**150, "missing_unit")):
        with pytest.raises(InputError) as caught:
            parse_reading(value, "length")
        assert caught.value.code == code


@pytest.mark.parametrize(
    ("text", "bounds", "code"),
    [
        ("0 m", POSITIVE, "must_be_positive"),
        ("-1 m", POSITIVE, "must_be_positive"),
        ("-1 m", NOT_NEGATIVE, "must_not_be_negative"),
        ("-1 m", Bounds(low=0.005, high=1.0), "must_be_positive"),
        ("1 mm", Bounds(low=0.005, high=1.0), "out_of_range"),
        ("2 m", Bounds(low=0.005, high=1.0), "out_of_range"),
        ("2 m", Bounds(high=1.0), "too_large"),
        ("2 m", Bounds(low=3.0), "too_small"),
        ("-5 m", Bounds(low=-3.0), "too_small"),
    ],
)
def test_limits(text: str, bounds: Bounds, code: str) -> None:
    """A wrong sign is said as such; other limits are named in both systems."""
    with pytest.raises(InputError) as caught:
        parse_reading(text, "length", bounds=bounds)
    assert caught.value.code == code
    assert "?" not in sentence(caught.value, "us", "en")


def test_limits_themselves_are_allowed() -> None:
    """The least and greatest are inside."""
    for text in ("5 mm", "1 m"):
        assert parse_reading(text, "length", bounds=Bounds(low=0.005, high=1.0)).text == text
    assert parse_reading("0 m", "length", bounds=NOT_NEGATIVE).value == 0.0


def test_a_reading_becomes_an_estimate() -> None:
    """Its own spread first, then the one the instrument is known for, else a question."""
    assert parse_reading("2 m ± 1 cm", "length").estimate(default_sd=0.5).sd == pytest.approx(0.01)
    assert parse_reading("2 m", "length", origin="staff").estimate(default_sd=0.5).origin == "staff"
    with pytest.raises(InputError) as caught:
        parse_reading("2 m", "length").estimate()
    assert caught.value.code == "no_spread"


TYPED = st.text(alphabet=string.digits + " ./-+±%'\"½,°µ²³()naiftmgl:eE", max_size=40)


@given(text=st.one_of(st.text(max_size=250), TYPED), kind=st.sampled_from(get_args(Kind)))
@example(text="1" * 199, kind="length")
@example(text="1/" + "3" * 190, kind="number")
@example(text="٣ m", kind="length")
@example(text="²", kind="number")
def test_any_text_is_read_or_refused(text: str, kind: Kind) -> None:
    """Whatever is typed: a finite value with a spread not below zero, or an InputError with a sentence."""
    code = None
    try:
        reading = parse_reading(text, kind)
    except InputError as error:
        code = error.code
    if code is not None:
        assert code in SENTENCES
    else:
        assert math.isfinite(reading.value)
        assert reading.sd is None or 0.0 <= reading.sd < math.inf
