"""What docs/examples.md says of the shipped sheets, and of changes to them, is what the program says."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from ramwright.appraise import Appraisal, appraise
from ramwright.appraise.sensitivity import decides
from ramwright.quantities import from_si
from ramwright.site import read_sheet_text

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "examples.md").read_text("utf-8")
ROW = re.compile(r"^\| (nothing|`.*`) \| (will|may|will not) \| ([\d.]+) \|$", re.MULTILINE)
SURE, DOUBTFUL = 0.9, 0.1


@cache
def changed(sheet: str, changes: tuple[str, ...]) -> Appraisal:
    """The sheet with entries in place of its own of the same name, the first of each."""
    text = (ROOT / "examples" / sheet).read_text("utf-8")
    for change in changes:
        name = change.partition(" = ")[0]
        text, times = re.subn(rf"(?m)^{name} = .*$", change, text, count=1)
        assert times == 1, change
    return appraise(read_sheet_text(text, sheet))


def rows() -> list[tuple[str, str, str, str, str]]:
    """(sheet, unit, changes, whether it runs, likely) of every row that tells of a change."""
    found = []
    for part in PAGE.split("\n## "):
        sheet = re.search(r"appraise examples/([\w-]+\.toml)", part)
        unit = re.search(r"\| likely, (\S+) \|", part)
        if sheet and unit:
            found += [(sheet[1], unit[1], *row) for row in ROW.findall(part)]
    return found


def test_the_page_tells_of_changes() -> None:
    assert [row[0] for row in rows()].count("sedge-draw.toml") == 4
    assert [row[0] for row in rows()].count("birkenried.toml") == 3


@pytest.mark.engine
@pytest.mark.parametrize(("sheet", "unit", "changes", "runs", "likely"), rows())
def test_a_change_to_the_sheet_does_what_the_page_says(
    sheet: str, unit: str, changes: str, runs: str, likely: str
) -> None:
    prediction = changed(sheet, tuple(re.findall(r"`([^`]+)`", changes))).prediction
    said = "will" if prediction.runs >= SURE else "may" if prediction.runs >= DOUBTFUL else "will not"
    assert said == runs
    found = from_si(prediction.delivery.likely, unit, "flow")
    assert abs(found - float(likely)) <= max(0.15 * float(likely), 0.5)


def test_no_machine_could_lift_what_is_wanted_at_sedge_draw() -> None:
    """Q H / h, conservation of energy: 0.6 gal/min * 16 in / 55 ft, 1,440 min a day."""
    most = 0.6 * (16.0 / 12.0) / 55.0 * 1440.0
    assert abs(most - 21.0) < 0.5
    assert "is 21 gallons a day, where 150 are wanted" in PAGE


@pytest.mark.engine
def test_the_reading_birkenried_hangs_on_is_the_one_that_was_taken_badly() -> None:
    whole = changed("birkenried.toml", ())
    found = decides(whole.prediction)
    assert found[0].name == "source_flow"
    assert found[0].running_share is not None
    assert found[0].running_share > 0.4
    others = [d.running_share for d in found[1:] if d.running_share is not None]
    assert found[0].running_share > 3.0 * max(others)
    assert 0.4 < whole.prediction.runs < 0.75


@pytest.mark.engine
def test_with_its_weight_left_open_the_thirsty_ram_suits_the_brook() -> None:
    text = (ROOT / "examples" / "birkenried.toml").read_text("utf-8")
    text = re.sub(r"(?m)^moving_mass = .*\n", "", text).replace('"1.6 L/s ± 25 %"', '"1.2 L/s ± 5 %"')
    whole = appraise(read_sheet_text(text, "birkenried"))
    assert whole.setting is not None
    assert whole.setting.fits
    assert whole.prediction.runs > SURE


@pytest.mark.engine
def test_nothing_decides_where_no_ram_will_do() -> None:
    assert decides(changed("sedge-draw.toml", ()).prediction) == ()
