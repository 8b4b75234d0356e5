"""Plausible ranges: outside them a reading is taken for a slip of the pen, not for a bold ram.

The table (``ranges.csv``) is common sense without a source, and wide on purpose: whether a ram
*works* is for verdicts, which have sources. Limits are written as anyone would write them.
"""

from __future__ import annotations

from functools import cache

from ramwright.quantities import Bounds, Kind, parse_reading


@cache
def _rows() -> dict[str, tuple[str, str]]:
    import csv
    from importlib.resources import files

    text = files("ramwright.site").joinpath("ranges.csv").read_text(encoding="utf-8")
    return {row["range"]: (row["low"], row["high"]) for row in csv.DictReader(text.splitlines())}


@cache
def bounds(name: str, kind: Kind) -> Bounds:
    """Least and greatest plausible value of the range ``name``, SI of ``kind``."""
    low, high = (parse_reading(text, kind).value for text in _rows()[name])
    return Bounds(low=low, high=high)
