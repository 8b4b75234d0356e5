"""Field books for the tests: a site from visits, and its facts."""

from __future__ import annotations

from typing import Any

from ramwright.appraise import FactsFound, Reduction, facts_of
from ramwright.quantities import Estimate
from ramwright.site import Site, site_from_entries


def site(*visits: dict[str, Any], **more: Any) -> Site:
    return site_from_entries({"site": {"name": "Test"}, "visit": list(visits), **more})


def found(*visits: dict[str, Any], **more: Any) -> FactsFound:
    return facts_of(site(*visits, **more))


def reduced(*visits: dict[str, Any], **more: Any) -> Reduction:
    reduction = found(*visits, **more).reduction
    assert reduction is not None
    return reduction


def low_flow(**kinds: Any) -> Estimate:
    """The source flow of one low visit with these readings."""
    estimate = found({"stage": "low", **kinds}).source_flow
    assert estimate is not None
    return estimate


def codes(facts: FactsFound) -> list[str]:
    return [finding.code for finding in facts.findings]


def known(estimate: Estimate | None) -> Estimate:
    assert estimate is not None
    return estimate
