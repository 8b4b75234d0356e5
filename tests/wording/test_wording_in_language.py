"""What used to be shown in English whatever the language: units, sources, names of places, counts."""

from __future__ import annotations

import ast
import re
import sys
from pathlib import Path

import pytest

from ramwright import appraise
from ramwright.cli.progress import Bar
from ramwright.quantities import KINDS
from ramwright.quantities.kinds import PER_DAY
from ramwright.site import points as site_points
from ramwright.wording.blanks import fill
from ramwright.wording.points import PLACES, named
from ramwright.wording.sources import SOURCES
from ramwright.wording.units import UNITS, unit_word

SIGNS = {symbol for kind in KINDS.values() for s in ("us", "metric") for symbol, _ in kind.ladder(s)}
SIGNS |= {symbol for ladder in PER_DAY.values() for symbol, _ in ladder}


def test_every_unit_that_is_an_english_word_is_said_in_the_language() -> None:
    words = {sign for sign in SIGNS if re.search(r"day|beat|year|week|hour", sign)}
    assert words == set(UNITS)
    assert {unit_word(sign, "es") for sign in words} & words == set()


def test_a_sign_is_the_same_in_every_language() -> None:
    assert {sign for sign in SIGNS - set(UNITS) if unit_word(sign, "es") != sign} == set()


def test_a_blank_is_filled_with_the_unit_of_its_language() -> None:
    assert fill("{x:daily}", {"x": 1e-3 / 60.0}, "metric", "es") == "1440 L/día"
    assert fill("{x:daily}", {"x": 1e-3 / 60.0}, "metric", "en") == "1440 L/day"


def test_every_source_written_in_a_verdict_can_be_translated() -> None:
    """Own sources are text in the modules of ``appraise``: by name, or as a verdict's sixth argument."""
    found = set()
    for path in Path(appraise.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Verdict":
                found |= {a.value for a in node.args[5:6] if isinstance(a, ast.Constant)}
            elif isinstance(node, ast.Assign | ast.AnnAssign):
                names = node.targets if isinstance(node, ast.Assign) else [node.target]
                named_so = {getattr(name, "id", "") for name in names}
                if named_so & {"OWN", "_OWN", "SHEET", "PRACTICE", "_RATING"}:
                    found |= {node.value.value} if isinstance(node.value, ast.Constant) else set()
    assert len(found) >= 7
    assert found - set(SOURCES) == set()


def test_the_places_every_sheet_knows_are_named_in_the_language() -> None:
    known = (site_points.DRIVE_TANK, site_points.INTAKE, site_points.RAM, site_points.TANK)
    assert set(PLACES) == {*known, site_points.TOP, site_points.TAILWATER}
    assert named("drive tank/water_surface", "en") == "drive tank (water)"
    assert named("drive tank/water_surface", "es") == "tanque de alimentación (agua)"
    assert named("old oak/ground", "es") == "old oak (terreno)"


def test_the_count_of_runs_is_told_in_the_language(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("ramwright.cli.progress._SILENT_S", -1.0)
    monkeypatch.setattr("ramwright.cli.progress._EVERY_S", -1.0)
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    with Bar("es") as bar:
        assert bar.step(3, 7)
    assert "3 de 7 corridas" in capsys.readouterr().err
