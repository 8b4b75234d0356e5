"""What a check says: a code, how grave it is, its numbers, its limit and its source."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from ramwright.catalogue import Mark

Grade = Literal["red", "amber", "note"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a check says about an entry of the sheet (``about``, a dotted path, or None).

    ``numbers`` are SI and fill the sentence; ``limit`` is what they were held against, ``source`` and
    ``mark`` where that comes from.
    """

    code: str
    grade: Grade
    about: str | None
    numbers: dict[str, object] = field(default_factory=dict)
    limit: float | None = None
    source: str = ""
    mark: Mark = Mark.DERIVED
