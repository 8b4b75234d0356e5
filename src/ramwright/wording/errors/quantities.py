"""Sentences for readings, units and spreads that cannot be used."""

from __future__ import annotations

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "not_text": (
        "this is not a reading",
        'write a number and a unit in quotes, such as "{example}"',
    ),
    "empty_reading": (
        "there is no reading here",
        'write a number and a unit, such as "{example}", or take the entry out',
    ),
    "reading_too_long": (
        'the reading that begins "{value}" is longer than {longest} characters',
        "write one number with its unit and, if known, its spread",
    ),
    "decimal_comma": (
        '"{value}" has a decimal comma',
        'write a point instead: "{write}"',
    ),
    "ambiguous_comma": (
        '"{value}" has a comma that can be read two ways',
        'write "{thousands}" or "{decimal}", whichever you mean',
    ),
    "bad_number": (
        'there is no number to be read in "{number}" ("{value}")',
        'write one number and its unit, such as "6.5 ft", "1 1/2 in" or "6 ft 5 in"',
    ),
    "not_finite": (
        '"{value}" is not a number that can be measured',
        "write the number you read, or take the entry out",
    ),
    "missing_unit": (
        '"{value}" has no unit',
        'say what it was measured in, such as "{us}" or "{metric}"',
    ),
    "unknown_unit": (
        'the unit "{unit}" is not known',
        'a measure of {wanted} is wanted here: write it like "{us}" or "{metric}"',
    ),
    "unknown_unit_close": (
        'the unit "{unit}" is not known',
        'did you mean "{closest}"? Write it like "{us}" or "{metric}"',
    ),
    "wrong_kind": (
        '"{value}" is a measure of {given}, but one of {wanted} is wanted here',
        'write it like "{us}" or "{metric}"',
    ),
    "bad_spread": (
        'the spread after the ± in "{value}" cannot be read',
        'write one number after the ±, with a unit or with %: "6.5 ft ± 2 in" or "12 gal/min ± 10 %"',
    ),
    "negative_spread": (
        '"{value}" has a spread below zero',
        "write the spread as a positive number; ± already says that it goes both ways",
    ),
    "spread_without_unit": (
        'the spread in "{value}" could be meant in either unit',
        'write its unit, such as "6 ft 5 in ± 1 in"',
    ),
    "no_spread": (
        '"{value}" has no spread and none is known for how it was measured',
        "write one after the reading, such as ± 5 %",
    ),
    "must_be_positive": (
        '"{value}" is not more than zero',
        "write what you measured as a positive number, or take the entry out",
    ),
    "must_not_be_negative": (
        '"{value}" is below zero',
        "write what you measured as a positive number",
    ),
    "out_of_range": (
        '"{value}" is outside {low_us} to {high_us} ({low_metric} to {high_metric})',
        "check the number and its unit",
    ),
    "too_small": (
        '"{value}" is less than {low_us} ({low_metric})',
        "check the number and its unit",
    ),
    "too_large": (
        '"{value}" is more than {high_us} ({high_metric})',
        "check the number and its unit",
    ),
    "unknown_system": (
        '"{value}" is not a system of units',
        'write "us" or "metric"',
    ),
    "unknown_kind": (
        '"{value}" is not a kind of quantity',
        "use one of the kinds in ramwright.quantities.KINDS",
    ),
}
