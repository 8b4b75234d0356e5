"""``ramwright profile`` in process: tables, JSON, pictures, and what it refuses."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from ramwright.cli import run

EXAMPLES = Path(__file__).parents[2] / "examples"
ALDER = str(EXAMPLES / "alder-fork.toml")
pytestmark = pytest.mark.engine


def test_tables_in_the_units_of_the_sheet_or_those_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["profile", ALDER]) == 0
    us = capsys.readouterr().out
    assert us.startswith("Alder Fork\n")
    assert "Supply line\n-----------" in us
    assert "knoll" in us
    assert run(["--units", "metric", "profile", ALDER]) == 0
    assert "in m above the waste-valve seat" in capsys.readouterr().out


def test_json_is_alone_on_standard_output(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    picture = tmp_path / "p.svg"
    assert run(["profile", ALDER, "--json", "--picture", str(picture)]) == 0
    said = json.loads(capsys.readouterr().out)
    assert [line["name"] for line in said["lines"]] == ["supply_line", "drive_pipe", "delivery_line"]
    assert picture.read_text(encoding="utf-8").startswith("<svg")


def test_pictures_by_their_ending_and_never_over_a_file(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    png = tmp_path / "p.png"
    assert run(["profile", ALDER, "--picture", str(png), "--narrow", "--dark"]) == 0
    assert png.read_bytes().startswith(b"\x89PNG")
    assert run(["profile", ALDER, "--picture", str(png)]) == 2
    assert run(["profile", ALDER, "--picture", str(tmp_path / "p.gif")]) == 2
    assert "--picture" in capsys.readouterr().err


def test_a_profile_that_cannot_be_used_is_told_with_its_line(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    text = Path(ALDER).read_text(encoding="utf-8").replace("[300, 132.4", "[3000, 132.4")
    sheet = tmp_path / "s.toml"
    sheet.write_text(text, encoding="utf-8")
    assert run(["profile", str(sheet)]) == 2
    said = capsys.readouterr().err
    line = text[: text.index("[profiles.delivery_line]")].count("\n") + 1
    assert f"line {line}, profiles.delivery_line: the profile is" in said
