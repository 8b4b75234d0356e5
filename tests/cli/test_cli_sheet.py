"""``ramwright sheet``: a sheet to fill in, in the units asked for, never over another file."""

from __future__ import annotations

from pathlib import Path

import pytest

from ramwright import cli
from ramwright.site import read_sheet


@pytest.mark.parametrize(
    ("arguments", "units"),
    [
        (["sheet"], "us"),
        (["sheet", "--units", "metric"], "metric"),
        (["--units", "metric", "sheet"], "metric"),
        (["--units", "metric", "sheet", "--units", "us"], "us"),
    ],
)
def test_it_writes_a_sheet_that_can_be_read(
    arguments: list[str], units: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert cli.run(arguments) == 0
    assert read_sheet(tmp_path / "site.toml").site.units == units


def test_a_sheet_that_is_there_is_left_as_it_was(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet = tmp_path / "mine.toml"
    sheet.write_text("mine")
    assert cli.run(["sheet", "--out", str(sheet)]) == 2
    assert sheet.read_text() == "mine"
    said = capsys.readouterr()
    assert said.out == ""
    assert "is there already and was left as it is" in said.err


def test_what_to_do_next_can_be_pasted(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet = tmp_path / "upper creek.toml"
    assert cli.run(["sheet", "--out", str(sheet)]) == 0
    assert f"ramwright appraise '{sheet}'" in capsys.readouterr().out
