"""The ways of the lines and the supply line, as a sheet gives them."""

from __future__ import annotations

from pathlib import Path

import pytest
from startup_sites import EXAMPLES

from ramwright import cli
from ramwright.errors import InputError
from ramwright.site import Site, read_sheet
from ramwright.startup import plan_start, route_profile, supply_of

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
    """The first example with more on it; its last table is the tank's."""
    path = tmp_path / "site.toml"
    path.write_text((EXAMPLES / "alder-fork.toml").read_text("utf-8") + "".join(parts), "utf-8")
    return path


def site(tmp_path: Path, *parts: str) -> Site:
    return read_sheet(sheet(tmp_path, *parts))


def test_no_profile_is_no_profile(tmp_path: Path) -> None:
    bare = site(tmp_path)
    assert route_profile(bare, "delivery_line") is None
    assert supply_of(bare) is None


def test_rows_are_read_in_their_unit(tmp_path: Path) -> None:
    found = route_profile(site(tmp_path, DELIVERY), "delivery_line")
    assert found is not None
    assert found.length == pytest.approx(290 * FOOT)
    assert float(found.levels[2]) == pytest.approx(106 * FOOT)


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


def test_the_supply_line_s_levels_are_those_of_its_water(tmp_path: Path) -> None:
    """Water stands 1 ft over the pipe's start at 130 ft, and 5 ft lower in the drum."""
    found = supply_of(site(tmp_path, SUPPLY, INTAKE))
    assert found is not None
    assert found.source_level == pytest.approx(131 * FOOT)
    assert found.outlet_level == pytest.approx(126 * FOOT)
    assert found.line.profile.length == pytest.approx(90 * FOOT)
    assert len(found.line.fittings) == 1


def test_without_a_drop_the_outlet_lies_in_the_open(tmp_path: Path) -> None:
    found = supply_of(site(tmp_path, SUPPLY))
    assert found is not None
    assert found.outlet_level is None
    assert found.source_level > 130 * FOOT


def file_of(name: str) -> str:
    return f'\n[profiles.delivery_line]\nfile = "{name}"\nunit = "ft"\n'


def test_a_file_beside_the_sheet_is_read(tmp_path: Path) -> None:
    (tmp_path / "line.csv").write_text("station,level\n0,0\n300,45\n", "utf-8")
    found = route_profile(site(tmp_path, file_of("line.csv")), "delivery_line")
    assert found is not None
    assert found.length == pytest.approx(300 * FOOT)


def test_a_gpx_file_s_heights_are_poor(tmp_path: Path) -> None:
    points = "".join(f'<trkpt lat="{47 + k * 1e-4}" lon="10"><ele>{900 + k}</ele></trkpt>' for k in range(9))
    head = '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
    (tmp_path / "line.gpx").write_text(f"{head}{points}</trkseg></trk></gpx>", "utf-8")
    found = route_profile(site(tmp_path, file_of("line.gpx")), "delivery_line")
    assert found is not None
    assert found.level_sd is not None
    assert found.level_sd > 2.0


@pytest.mark.parametrize(
    ("name", "code"),
    [("gone.csv", "startup_route_file"), ("../line.csv", "startup_route_elsewhere")],
)
def test_a_file_that_is_not_there_is_named(tmp_path: Path, name: str, code: str) -> None:
    with pytest.raises(InputError) as refused:
        route_profile(site(tmp_path, file_of(name)), "delivery_line")
    assert (refused.value.code, refused.value.field) == (code, "profiles.delivery_line.file")


def test_a_broken_file_is_named_with_its_own_line(tmp_path: Path) -> None:
    (tmp_path / "line.csv").write_text("station,level\n0,0\n300,high\n", "utf-8")
    with pytest.raises(InputError) as refused:
        route_profile(site(tmp_path, file_of("line.csv")), "delivery_line")
    assert refused.value.line == 3
    assert str(refused.value.field).startswith("line.csv: ")


@pytest.mark.engine
def test_a_way_much_longer_than_its_pipe_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = DELIVERY.replace("[290,", "[400,")
    assert cli.run(["start", str(sheet(tmp_path, wrong))]) == 2
    said = capsys.readouterr().err
    assert "the pipe is 300 ft long, its profile 400 ft" in said
    assert "line" in said
