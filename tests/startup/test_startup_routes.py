"""The ways of the lines and the supply line, as a sheet gives them."""

from __future__ import annotations

from pathlib import Path

import pytest
from startup_sites import SHEETS, installed

from ramwright import cli
from ramwright.site import Site, read_sheet
from ramwright.startup import Ways, plan_start, ways_of

FOOT = 0.3048
DELIVERY = """
[profiles.delivery_line]
unit = "ft"
rows = [[0, 100, "ram"], [120, 110], [150, 106, "gully"], [290, 145, "tank"]]
"""
SUPPLY = """
[[supply_line]]
pipe = "PVC schedule 40, 2 in"
length = "90 ft"
bends_45 = 2

[profiles.supply_line]
unit = "ft"
rows = [[0, 130, "intake"], [40, 134, "knoll"], [92, 124, "drum"]]
"""
INTAKE = """
[intake]
cover = "1 ft"
drop = "5 ft"
"""


def sheet(tmp_path: Path, *parts: str) -> Path:
    """The creek's sheet with more on it; its last table is the tank's."""
    path = tmp_path / "site.toml"
    path.write_text((SHEETS / "creek.toml").read_text("utf-8") + "".join(parts), "utf-8")
    return path


def site(tmp_path: Path, *parts: str) -> Site:
    return read_sheet(sheet(tmp_path, *parts))


def ways(tmp_path: Path, *parts: str) -> Ways:
    found = site(tmp_path, *parts)
    return ways_of(found, installed(found))


def test_no_profile_is_no_profile(tmp_path: Path) -> None:
    bare = ways(tmp_path)
    assert (bare.delivery, bare.drive, bare.supply) == (None, None, None)


def test_a_way_ends_at_the_lift_and_is_as_long_as_its_pipe(tmp_path: Path) -> None:
    found = ways(tmp_path, DELIVERY).delivery
    assert found is not None
    assert found.length == pytest.approx(300 * FOOT)
    assert float(found.levels[-1]) == pytest.approx(45 * FOOT)
    assert float(found.levels[2]) == pytest.approx(6 * FOOT)


@pytest.mark.engine
def test_a_plan_takes_the_sheet_s_own_ways(tmp_path: Path) -> None:
    """The dip behind the summit at 120 ft shuts in air; taped 290 ft stand for 300 ft of pipe."""
    plan = plan_start(site(tmp_path, DELIVERY, SUPPLY, INTAKE), draws=4)
    assert len(plan.vents) == 1
    assert plan.vents[0] == pytest.approx(120 * FOOT * 300 / 290)
    assert plan.way.length == pytest.approx(300 * FOOT)
    assert 0.0 < plan.lost_head <= 4 * FOOT
    assert plan.priming is not None
    assert plan.priming.outcome == "by_hand"


def test_the_supply_line_s_levels_are_above_the_seat(tmp_path: Path) -> None:
    """Its drum's water stands at the fall, and the water at the intake 5 ft higher."""
    found = ways(tmp_path, SUPPLY, INTAKE).supply
    assert found is not None
    fall = 73.0 / 12.0 * FOOT
    assert found.source_level == pytest.approx(fall + 5 * FOOT)
    assert found.line.profile.length == pytest.approx(90 * FOOT)


@pytest.mark.engine
def test_a_way_much_longer_than_its_pipe_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = DELIVERY.replace("[290,", "[600,")
    assert cli.run(["start", str(sheet(tmp_path, wrong))]) == 2
    said = capsys.readouterr().err
    assert "600 ft" in said
    assert "line" in said
