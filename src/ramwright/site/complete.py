"""Is what has to be measured there?"""

from __future__ import annotations

from typing import Final

from ramwright.errors import InputError
from ramwright.site.models import Site

NEEDED: Final = ("fall", "lift", "source_flow")
"""Facts without which nothing can be said about a ram."""


def facts_complete(site: Site) -> None:
    """Raise ``InputError("facts_missing")`` naming every needed fact the site does not have.

    A site with visits may have them there; whether it does shows when they are reduced.
    """
    if site.visit:
        return
    missing = tuple(name for name in NEEDED if site.facts is None or getattr(site.facts, name) is None)
    if missing:
        raise InputError("facts_missing", field="facts", missing=missing)
