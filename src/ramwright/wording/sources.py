"""What a verdict says it rests on, where that is a description and no title.

Titles of works stay in the language they were printed in.
"""

from __future__ import annotations

from typing import Final

from ramwright.appraise.verdicts.case import OWN, PRACTICE, SHEET
from ramwright.catalogue import sources

SOURCES: Final = (
    OWN,
    SHEET,
    PRACTICE,
    "the pipe's rating in the catalogue",
    "handbooks that disagree",
    "the catalogue",
    "the field book",
    *(source.text for source in sources().values() if source.text[0].islower()),
)
"""Descriptions: our own, and those of the catalogue, which start small where a title does not."""
