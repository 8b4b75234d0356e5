"""Findings of the field book in words, and names of points and runs as a person says them."""

from __future__ import annotations

import gettext
import re
from pathlib import Path

import pytest

from ramwright.appraise.book_findings import ALL_FINDINGS
from ramwright.quantities import System
from ramwright.survey import Finding, IntakeDam, LevelPoint, Stand, mark
from ramwright.wording.blanks import blanks
from ramwright.wording.findings import TEMPLATES, told
from ramwright.wording.points import RUNS, STANDS, named
from ramwright.wording.verdicts import templates

SYSTEMS: tuple[System, System] = ("us", "metric")


def finding(code: str, value: float = 0.5) -> Finding:
    numbers = tuple((name, value) for name in ALL_FINDINGS[code])
    return Finding(code, "level_book[0]", numbers, ("ram/ground", "peg/mark"))


def test_every_finding_has_words_and_no_words_are_left_over() -> None:
    assert set(TEMPLATES) == set(ALL_FINDINGS)
    ours = {code for code in templates() if code.startswith("survey_")}
    assert ours == {f"survey_{code}" for code in TEMPLATES}


@pytest.mark.parametrize("code", sorted(TEMPLATES))
def test_every_blank_is_a_number_of_the_finding_in_its_kind(code: str) -> None:
    """A number in m is shown as a length, one in m3/s as a flow, one in s as a time."""
    kinds = {"_m": "length", "_m3_s": "flow", "_s": "time", "_S_m": "conductivity"}
    bare = ("outlier", "outlet_drowns_at")  # numbers without a unit in their name: a flow, a creek gauge
    for part in TEMPLATES[code]:
        for name, kind in blanks(part).items():
            assert name in {*ALL_FINDINGS[code], "about", "names"}, name
            ending = next((end for end in ("_m3_s", "_S_m", "_m", "_s") if name.endswith(end)), "")
            assert not ending or kind == kinds[ending], name
            assert ending or kind not in kinds.values() or code in bare, name


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("code", sorted(TEMPLATES))
def test_every_finding_is_said_in_both_unit_systems(code: str, system: System) -> None:
    said = told(finding(code), system, "en")
    assert said.title
    assert said.title[0].isupper()
    assert not said.title.endswith(".")
    assert said.why.endswith(".")
    assert said.do == "" or said.do.endswith((".", "]]."))
    for part in said:
        assert "{" not in part
        assert "?" not in part
        assert "_" not in re.sub(r"\w+ =|air_purged|held_back|gauge_distance|usual_distance", "", part), part


def test_a_spread_is_said_without_a_sign() -> None:
    numbers = (("residual_m", -0.144), ("normalised", -6.79), ("limit", 3.0))
    said = told(Finding("level_outlier", "hose", numbers), "metric")
    assert "6.79 of its own spreads" in said.why
    assert "−6.79" not in said.why


NAMES = [
    ("ram/waste_valve_seat", "waste-valve seat"),
    ("ram/ground", "ram (ground)"),
    ("ram/unstated", "ram (point not stated)"),
    ("drive tank/water_surface", "drive tank (water)"),
    ("intake/water_surface/dam_in", "intake (water, dam in)"),
    ("peg 1/mark", "peg 1"),
    ("Stump, by the gate/mark", "Stump, by the gate"),
    ("a/b/mark", "a/b"),
    ("level_book[0]", "level book 1"),
    ("visit[1].hose[2]", "hose 3 of visit 2"),
    ("level_book[0], hose[0]", "level book 1, hose 1"),
    ("level_book[0] tp 3/mark", "level book 1 tp 3"),
    ("visit[0].level_book[1]#4", "set-up 5 of level book 2 of visit 1"),
    ("flow, creek", "flow in the creek"),
    ("source_flow", "source flow"),
    ("my book", "my book"),
    ("bucket, 5 fills", "bucket, 5 fills"),
]


@pytest.mark.parametrize(("text", "said"), NAMES)
def test_names_as_a_person_says_them(text: str, said: str) -> None:
    assert named(text, "en") == said


def test_every_point_of_the_survey_has_a_name() -> None:
    for stand in Stand:
        if stand is not Stand.MARK:
            assert stand.value in STANDS
            assert named(LevelPoint("ram", stand).key, "en") != LevelPoint("ram", stand).key
    assert named(mark("tree").key, "en") == "tree"
    for dam in IntakeDam:
        point = LevelPoint("intake", Stand.WATER_SURFACE, dam)
        assert "/" not in named(point.key, "en")
        assert "_" not in named(point.key, "en")


def test_every_kind_of_run_has_a_name() -> None:
    from ramwright.appraise.book_runs import FLOWS, LEVELS

    assert set(RUNS) == {*LEVELS, *FLOWS}
    for kind, name in RUNS.items():
        assert named(f"visit[0].{kind}[1]", "en") == f"{name} 2 of visit 1"


def test_findings_are_translated_by_their_english(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The message ids are the English sentences, blanks and all."""
    asked: list[str] = []

    class Echo(gettext.NullTranslations):
        def gettext(self, message: str) -> str:
            asked.append(message)
            return f"<{message}>"

    monkeypatch.setattr("ramwright.wording.translate._catalogue", lambda *_: Echo())
    said = told(finding("book_open"), "us", "xx")
    assert said.title == f"<{TEMPLATES['book_open'].title}>"
    assert "<level book>" in said.why
    assert set(TEMPLATES["book_open"]) <= set(asked)
