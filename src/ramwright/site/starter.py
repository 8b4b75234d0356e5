"""A sheet to start from: every entry explained, none filled in but the name."""

from __future__ import annotations

from typing import Final

from ramwright.errors import InputError
from ramwright.quantities import SYSTEMS, System

REMARKS_AT: Final = 50
"""Column of the remarks."""


def starter_sheet(system: System) -> str:
    """A commented sheet with examples in the units of ``system``; it can be read as it stands.

    Every entry is there behind a ``#``, so that nobody's example is taken for a measurement.
    """
    import tomllib
    from importlib.resources import files
    from string import Template

    if system not in SYSTEMS:
        raise InputError("unknown_system", value=system)
    folder = files("ramwright.site").joinpath("templates")
    text = folder.joinpath("starter.toml").read_text(encoding="utf-8")
    examples = tomllib.loads(folder.joinpath("examples.toml").read_text(encoding="utf-8"))
    filled = Template(text).substitute(examples[system], units=system)
    return "\n".join(_aligned(row) for row in filled.split("\n"))


def _aligned(row: str) -> str:
    """The remark at the end of an entry, in the column of the others: examples differ in length."""
    entry, mark, remark = row.rpartition("  # ")
    return f"{entry.rstrip():<{REMARKS_AT}}# {remark}" if mark and " = " in entry else row
