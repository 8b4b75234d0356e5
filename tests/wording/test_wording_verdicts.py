"""The frame that puts verdicts into words."""

from __future__ import annotations

import pytest

from ramwright.wording import verdicts
from ramwright.wording.verdicts import Templates, merge, words

STEEP = Templates("Too steep", "It falls {fall:length} in {run:length}.", "")


def test_numbers_are_shown_in_the_readers_units(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(verdicts, "templates", lambda: {"steep": STEEP})
    numbers = {"fall": 3.048, "run": 30.48}
    assert words("steep", numbers).why == "It falls 10.0 ft in 100 ft."
    assert words("steep", numbers, "metric") == Templates("Too steep", "It falls 3.05 m in 30.5 m.", "")


def test_a_verdict_said_twice_is_refused() -> None:
    with pytest.raises(ImportError, match="steep"):
        merge({"one": {"steep": STEEP}, "two": {"steep": STEEP}})


def test_an_unknown_verdict_is_no_silent_gap() -> None:
    with pytest.raises(KeyError):
        words("unheard_of", {})
