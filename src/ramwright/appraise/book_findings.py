"""What is noticed when a field book is turned into facts, beyond what the survey notices by itself."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from ramwright.survey import FINDINGS, Finding

MORE_FINDINGS: Final = MappingProxyType(
    {
        "float_coefficient_unfit": ("coefficient", "low", "high"),
        "typed_level_disagrees": ("typed_m", "typed_sd_m", "found_m", "found_sd_m"),
        "typed_flow_disagrees": ("typed_m3_s", "typed_sd_m3_s", "found_m3_s", "found_sd_m3_s"),
        "dam_unstated": (),
        "flow_not_low": (),
        "outlet_drowns_between": (),
        "flow_stage_unstated": (),
    }
)
"""Code -> the names of its numbers, as in ``survey.FINDINGS``."""
ALL_FINDINGS: Final = MappingProxyType({**FINDINGS, **MORE_FINDINGS})
"""Every finding a field book may lead to."""


def noticed(code: str, about: str, *, names: tuple[str, ...] = (), **numbers: float) -> Finding:
    """A finding of this room with the numbers its code calls for.

    Raises ``ValueError`` when they are not those listed (a fault in the caller, not in the data).
    """
    if MORE_FINDINGS.get(code) != tuple(numbers):
        raise ValueError(f"finding {code!r} takes {MORE_FINDINGS.get(code)}, not {tuple(numbers)}")
    return Finding(code, about, tuple((name, float(value)) for name, value in numbers.items()), names)
