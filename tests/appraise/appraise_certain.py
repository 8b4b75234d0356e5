"""An installation about which nothing is uncertain, to open up one spread at a time."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any, TypeVar

from ramwright.appraise import Installation
from ramwright.appraise.valve import ValveNumbers
from ramwright.quantities import Estimate

_T = TypeVar("_T", Installation, ValveNumbers)


def _without_spread(owner: _T) -> _T:
    known: dict[str, Any] = {
        f.name: replace(value, sd=0.0)
        for f in fields(owner)
        if isinstance(value := getattr(owner, f.name), Estimate)
    }
    return replace(owner, **known)


def certain(installation: Installation) -> Installation:
    """The installation with every standard deviation at zero."""
    return replace(_without_spread(installation), valve=_without_spread(installation.valve))
