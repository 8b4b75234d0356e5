"""The lines of a sheet as data, in words and drawn."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from ramwright.appraise import Appraisal
from ramwright.appraise.line_table import LineTable
from ramwright.drawings import DARK, LIGHT, Theme, Width
from ramwright.quantities import SYSTEMS, System
from ramwright.services import appraise_sheet
from ramwright.services.profile import picture_of_profile, profile_answer, tables_of
from ramwright.wording.profile import STANDS, tell_profile

EXAMPLES = [Path(__file__).parents[2] / "examples" / f"{n}.toml" for n in ("alder-fork", "hoher-grund")]
pytestmark = pytest.mark.engine


@cache
def found(path: Path) -> Appraisal:
    return appraise_sheet(path, draws=20)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_the_answer_is_plain_json_the_same_in_both_systems_but_for_words(path: Path) -> None:
    us, metric = (profile_answer(found(path), system=system) for system in ("us", "metric"))
    assert json.loads(json.dumps(us, allow_nan=False)) == us
    for one, other in zip(us["lines"], metric["lines"], strict=True):
        for a, b in zip(one["points"], other["points"], strict=True):
            assert {k: v for k, v in a.items() if k != "what"} == {k: v for k, v in b.items() if k != "what"}
            assert [w["code"] for w in a["what"]] == [w["code"] for w in b["what"]]


def test_the_first_example_has_a_siphon_and_the_second_air_shut_in() -> None:
    """What the sheets say: a knoll half a foot under the creek's level, and a gully below a spur."""
    alder, hoher = (tables_of(found(path)) for path in EXAMPLES)
    assert [t.name for t in alder] == ["supply_line", "drive_pipe", "delivery_line"]
    assert alder[0].state == "primed"
    assert "suction" in codes(alder[0])
    assert [t.name for t in hoher] == ["drive_pipe", "delivery_line"]
    assert "air" in codes(hoher[1])
    assert all(code in STANDS for table in (*alder, *hoher) for code in codes(table))


def codes(table: LineTable) -> list[str]:
    return [s.code for p in table.points for s in p.stands]


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_told_lines_have_no_holes_and_one_unit(path: Path, system: System) -> None:
    lines = list(tell_profile(found(path).site.site.name, tables_of(found(path)), system, "en"))
    text = "\n".join(lines)
    assert not set("?{}_") & set(text)
    assert "nan" not in text
    assert text.startswith(found(path).site.site.name)
    assert max(len(line) for line in lines if not line.startswith("  ")) <= 90
    assert (" ft " in text) == (system == "us")


@pytest.mark.parametrize(("theme", "width"), [(LIGHT, "desktop"), (DARK, "phone")])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_the_picture_says_its_scale_and_names_what_stands_there(
    path: Path, theme: Theme, width: Width
) -> None:
    picture = picture_of_profile(found(path), units="metric", language="en", theme=theme, width=width)
    root = ET.fromstring(picture.svg())
    words = " ".join("".join(node.itertext()) for node in root.iter() if node.tag.endswith("text"))
    for said in ("Heights", "ram", "drive tank", "tank", "lift", "fall", "grade line", "air gathers"):
        assert said in words, said
    assert (
        picture.svg()
        == picture_of_profile(found(path), units="metric", language="en", theme=theme, width=width).svg()
    )


def test_one_example_s_line_is_under_suction_and_the_other_s_is_not() -> None:
    svg = [picture_of_profile(found(path), units="us", language="en").svg() for path in EXAMPLES]
    assert "under suction" in svg[0]
    assert "under suction" not in svg[1]
