"""Outcomes in plain words."""

from __future__ import annotations

import re

from ramwright import ram
from ramwright.wording.outcomes import OUTCOMES

# The trade's names are fixed for the whole product; these stand for other things here.
NOT_OURS = r"\b(?:impulse valve|clack|supply pipe|air chamber|vessel(?<!air vessel)|P10|P90|posterior)\b"


def test_every_outcome_of_the_beat_has_words() -> None:
    assert set(OUTCOMES) == set(ram.OUTCOMES)


def test_they_are_sentences_in_the_trades_words() -> None:
    for code, (name, told) in OUTCOMES.items():
        assert name, code
        assert not name.endswith("."), code
        assert re.fullmatch(r"[A-Z].*\.", told), code
        assert not re.search(NOT_OURS, told), code
        assert code == "runs" or len(told.split(". ")) >= 3, f"{code}: what happens, why, what to change"
