"""What decides, as told: short, in words for every input, and silent about what would not help."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from ramwright.appraise import Appraisal, appraise
from ramwright.appraise.draws import Drawn
from ramwright.site import read_sheet
from ramwright.wording import told
from ramwright.wording.deciding import AGAIN, HEADING, NAMES, SENTENCES
from ramwright.wording.told import tell

pytestmark = pytest.mark.engine
EXAMPLE = Path(__file__).parents[2] / "examples" / "alder-fork.toml"
N = 300


@cache
def appraisal() -> Appraisal:
    return appraise(read_sheet(EXAMPLE), draws=20)


def section(names: tuple[str, ...], *parts: float, stops_below: float = -9.0) -> str:
    """The section of an answer whose delivery is a sum of inputs in these parts, and stops where the first
    is low; the draws are made up, all else is a real answer's.
    """
    scores = np.random.default_rng(1).standard_normal((N, len(names)))
    lifts = scores[:, 0] > stops_below
    delivery = np.where(lifts, 1e-5 * (10.0 + scores @ np.array(parts)), 0.0)
    drawn = Drawn(names=names, scores=scores, delivery=delivery, lifts=lifts)
    one = appraisal()
    text = tell(replace(one, prediction=replace(one.prediction, drawn=drawn)), "metric", "en")
    return text.split(f"{HEADING}\n", 1)[1].split("\n\n", 1)[0]


def plain(text: str) -> str:
    return " ".join(text.split())


def test_the_first_three_are_shown_and_what_is_worth_no_line_is_not() -> None:
    names = ("fall", "lift", "stroke", "losses", "weight")
    rows = section(names, 1.0, 0.9, 0.8, 0.3, 0.1)
    assert [name for name in names if f"  {NAMES[name]}  " in rows] == ["fall", "lift", "stroke"]
    few = section(("fall", "weight"), 1.0, 0.05)
    assert NAMES["weight"] not in few


def test_the_reading_most_hangs_on_is_the_one_to_take_again() -> None:
    assert AGAIN["lift"] in plain(section(("lift", "fall"), 1.0, 0.3))
    assert AGAIN["fall"] in plain(section(("lift", "fall"), 0.3, 1.0))


def test_where_no_reading_would_help_none_is_asked_for() -> None:
    said = plain(section(("force_factor", "fall"), 1.0, 0.2))
    assert SENTENCES["ram"] in said
    assert not any(again in said for again in AGAIN.values())


def test_what_running_hangs_on_is_said_where_running_is_in_doubt() -> None:
    said = section(("source_flow", "fall"), 0.1, 1.0, stops_below=-0.8)
    assert re.search(r"hangs most on this: Source flow \(\d+ in 100\)", plain(said))
    assert AGAIN["source_flow"] in plain(said)
    assert re.search(r"Source flow .* 9\d %$", said, re.MULTILINE)
    assert "hangs most" not in section(("source_flow", "fall"), 0.1, 1.0)


def test_an_answer_on_which_nothing_hangs_says_so() -> None:
    one = appraisal()
    none = replace(one.prediction.drawn, delivery=np.zeros(20), lifts=np.zeros(20, dtype=np.bool_))
    text = tell(replace(one, prediction=replace(one.prediction, drawn=none)), "us", "en")
    assert SENTENCES["nothing"] in plain(text)


def test_lines_are_short_whatever_decides() -> None:
    for name in NAMES:
        said = section((name, "lift"), 1.0, 0.9, stops_below=-0.5)
        assert max(map(len, said.splitlines())) <= 90, name


def test_every_sentence_is_used() -> None:
    source = Path(told.__file__).read_text("utf-8")
    for name in SENTENCES:
        assert re.search(rf"[\"']{name}[\"']", source), name
