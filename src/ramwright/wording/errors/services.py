"""Sentences for what a use case cannot do."""

from __future__ import annotations

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "nothing_to_reduce": (
        "there are no readings on this sheet",
        "write a [[visit]] with what was read; docs/field-book.md shows how",
    ),
}
