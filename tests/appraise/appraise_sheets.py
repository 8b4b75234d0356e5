"""Sheets for the tests of an appraisal: one that says everything, and changes to it."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path
from typing import Any

from ramwright.appraise import Appraisal, appraise
from ramwright.site import Site, read_sheet, site_from_entries

EXAMPLES = Path(__file__).parents[2] / "examples"
REFERENCE = Path(__file__).parents[1] / "reference"

FULL: dict[str, Any] = {
    "schema_version": 1,
    "site": {"name": "Test Brook", "altitude": "0 m", "water_temperature": "20 C"},
    "facts": {"fall": "3 m ± 2 cm", "lift": "20 m ± 0.1 m", "source_flow": "3 L/s ± 5 %"},
    "drive_tank": {"kind": "drum", "plan_area": "0.25 m2", "cover": "40 cm", "entrance": "bell-mouthed"},
    "drive_pipe": [{"pipe": "steel schedule 40, 2 in", "length": "18 m"}],
    "drive_pipe_support": {"held": True},
    "ram": {
        "size": "2 in",
        "waste_valve": {
            "kind": "poppet",
            "port_diameter": "50 mm",
            "moving_mass": "900 g ± 20 g",
            "stroke": "14 mm ± 0.5 mm",
            "leak": "0 %",
        },
        "delivery_valve": {"bore": "42 mm", "loss": 4, "lag": "5 ms ± 1 ms", "leak": "0 %"},
        "snifter": {"fitted": False},
    },
    "air_vessel": {"kind": "bladder", "volume": "8 L", "precharge": "1.2 bar"},
    "delivery_line": [{"pipe": "PE100 SDR 9, 32 mm", "length": "160 m"}],
}
"""A sheet on which nothing is left to take."""

BARE: dict[str, Any] = {
    "schema_version": 1,
    "site": {"name": "Bare Brook"},
    "facts": {"fall": "3 m", "lift": "20 m", "source_flow": "2 L/s"},
    "drive_pipe": [{"pipe": "steel schedule 40, 2 in", "length": "12 m"}],
    "delivery_line": [{"pipe": "PE100 SDR 11, 32 mm", "length": "160 m"}],
}
"""A sheet with nothing on it but what an appraisal cannot do without."""


def merged(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """``base`` with ``changes``: sections are merged, None takes an entry out, all else replaces."""
    found = deepcopy(base)
    for name, value in changes.items():
        if value is None:
            found.pop(name, None)
        elif isinstance(value, dict) and isinstance(found.get(name), dict):
            found[name] = merged(found[name], value)
        else:
            found[name] = deepcopy(value)
    return found


def sheet(base: dict[str, Any] = FULL, **changes: Any) -> Site:
    """The base sheet with changes, section by section, as a site."""
    return site_from_entries(merged(base, changes))


def appraised(base: dict[str, Any] = FULL, *, draws: int = 40, **changes: Any) -> Appraisal:
    """The appraisal of the base sheet with changes, by few draws."""
    return appraise(sheet(base, **changes), draws=draws)


def example(name: str) -> Site:
    """One of the shipped examples."""
    return read_sheet(EXAMPLES / f"{name}.toml")
