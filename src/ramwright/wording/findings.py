"""Findings of the field book in words: a title, why it is so, and what to do, by code."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from ramwright.quantities import System
from ramwright.survey import Finding
from ramwright.wording.blanks import fill
from ramwright.wording.finding_flows import TEMPLATES as FLOWS
from ramwright.wording.finding_levels import TEMPLATES as LEVELS
from ramwright.wording.points import spoken
from ramwright.wording.translate import translate
from ramwright.wording.verdicts import Templates

TEMPLATES: Final[Mapping[str, Templates]] = MappingProxyType({**LEVELS, **FLOWS})
"""Code of a finding -> its sentences; blanks are its numbers, ``{about}`` and ``{names}``."""


def told(finding: Finding, system: System = "us", language: str | None = None) -> Templates:
    """The finding in words, its numbers (SI) in the units of ``system``; ``KeyError`` if unknown."""
    values = spoken({**dict(finding.numbers), "about": finding.about, "names": finding.names}, language)
    return Templates(
        *(fill(translate(part, language), values, system, language) for part in TEMPLATES[finding.code])
    )
