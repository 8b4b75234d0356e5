"""The supply line on the sheet: what it brings, in which state, and that the ram gets no more."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from appraise_sheets import FULL, appraised, merged, sheet

from ramwright.appraise import builder, install, middle
from ramwright.appraise.laid import route_profile
from ramwright.catalogue import table
from ramwright.errors import InputError
from ramwright.hydraulics.capacity import Rules
from ramwright.hydraulics.siphon import Priming
from ramwright.site import read_sheet, site_from_entries, write_sheet
from ramwright.wording.errors import sentence

PIPE = {"bore": "26.64 mm", "material": "pvc", "roughness": "0.0015 mm", "length": "100 m"}
"""Worked line of the trade notes: 0.5 L/s through 100 m of this bore lose 3.84 m at 20 C."""


def with_line(rows: list[list[Any]], **more: Any) -> Any:
    """The full sheet with that line along ``rows`` (m, on the datum of the seat)."""
    changes = {
        "supply_line": [PIPE],
        "profiles": {"seat": "0 m", "supply_line": {"unit": "m", "rows": rows}},
        "intake": {"kind": "open end", "cover": "0 m"},
    }
    return site_from_entries(merged(merged(FULL, changes), more))


def test_an_even_line_brings_what_darcy_and_weisbach_say() -> None:
    """3.84 m of friction at 0.5 L/s, plus entrance 0.5 and outlet 1.0 velocity heads (0.041 m each)."""
    velocity_head = (0.5e-3 / (math.pi * 0.02664**2 / 4.0)) ** 2 / (2.0 * 9.80665)
    drop = 3.84 + 1.5 * velocity_head
    found = install(with_line([[0, 3.0], [100, 2.5]], intake={"drop": f"{drop} m"})).supply
    assert found is not None
    assert (found.state, found.capacity.rules) == ("open", Rules.WHOLE_FALL)
    assert abs(found.brings / 0.5e-3 - 1.0) < 0.01


def test_a_flat_start_rules_and_not_the_whole_fall() -> None:
    """Along the first 50 m only 0.5 m of head drive the water, however steep it falls beyond."""
    steep = install(with_line([[0, 6.8], [50, 6.5], [100, 3.0]], intake={"drop": "4 m"})).supply
    even = install(with_line([[0, 6.8], [100, 3.0]], intake={"drop": "4 m"})).supply
    assert steep is not None
    assert even is not None
    assert steep.capacity.rules is Rules.GRADE_BREAK
    assert steep.brings < 0.6 * even.brings
    # 0.5 m over 50 m, a hundredth: 0.5 L/s loses 0.0384 a metre, and loss goes about as Q^1.77 there
    assert abs(steep.brings / (0.5e-3 * (0.0099 / 0.0384) ** (1.0 / 1.77)) - 1.0) < 0.05


def test_a_hump_above_the_source_trickles_not_and_siphons() -> None:
    """Crest 0.5 m over the source: nothing runs by itself, a primed siphon runs as if the hump were not."""
    humped = [[0, 6.8], [50, 7.5], [100, 2.9]]
    found = install(with_line(humped, intake={"drop": "4 m"})).supply
    even = install(with_line([[0, 6.8], [100, 3.0]], intake={"drop": "4 m"})).supply
    assert found is not None
    assert even is not None
    assert found.hump is not None
    assert found.hump.priming is Priming.NO_TRICKLE
    assert found.hump.trickle_flow == 0.0
    assert found.state == "primed"
    assert abs(found.brings / even.brings - 1.0) < 0.02


def test_a_siphon_too_high_brings_only_what_trickles() -> None:
    """Crest 9 m over the source: water boils at about 10 m (standard atmosphere), practice stops at 7.5."""
    pipe = PIPE | {"length": "120 m"}
    site = with_line([[0, 6.8], [50, 16.0], [120, 2.9]], supply_line=[pipe], intake={"drop": "4 m"})
    found = install(site).supply
    assert found is not None
    assert (found.state, found.brings) == ("trickle", 0.0)


def test_the_ram_gets_the_least_of_creek_and_line_and_the_rest_spills() -> None:
    """Four flows apart: the creek's, what may be taken, what the line brings, what the ram is given."""
    rows = [[0, 4.0], [100, 2.5]]
    for source, residual in ((3.0, 0.0), (3.0, 2.8), (0.3, 0.1), (0.1, 0.3)):
        facts = {"source_flow": f"{source} L/s ± 1 %", "residual_flow": f"{residual} L/s"}
        i = install(with_line(rows, facts=facts))
        assert i.supply is not None
        usable = max(source - residual, 0.0) * 1e-3
        assert abs(i.usable_flow - usable) < 1e-12
        assert abs(i.reaching_flow - min(usable, i.supply.brings)) < 1e-12
        given = builder(i).system(middle(i)).drive_tank.source_flow
        assert abs(given - i.reaching_flow) < 1e-12
        carried = i.supply.at(usable, i.water)
        assert abs(carried.carried + carried.overflow - usable) < 1e-12


def test_rams_side_by_side_share_what_comes() -> None:
    site = sheet(ram={"count": 3})
    i = install(site)
    system = builder(i).system(middle(i))
    assert abs(system.drive_tank.source_flow - 1e-3) < 1e-12
    assert system.delivery_line.rams == 3


@pytest.mark.engine
def test_rams_side_by_side_bring_together_what_each_brings() -> None:
    """On a line so wide that friction is next to nothing: twice the water of one, at the same beat."""
    wide = [{"bore": "60 mm", "material": "pvc", "length": "160 m"}]
    facts = {"source_flow": "9 L/s ± 1 %"}
    one = appraised(draws=10, delivery_line=wide, facts=facts)
    two = appraised(draws=10, delivery_line=wide, facts=facts, ram={"count": 2})
    for name in ("delivery", "waste", "drive"):
        ratio = getattr(two.prediction, name).likely / getattr(one.prediction, name).likely
        assert abs(ratio - 2.0) < 0.01, name
    assert one.prediction.beats_per_min is not None
    assert two.prediction.beats_per_min is not None
    assert abs(two.prediction.beats_per_min.likely / one.prediction.beats_per_min.likely - 1.0) < 0.01


def test_tailwater_is_the_ram_s_own_or_that_of_low_water() -> None:
    """Fall is lost to water over the seat; a level below the seat is none."""
    low = [{"name": "low", "tailwater": "20 cm"}]
    assert install(sheet()).tailwater == 0.0
    assert abs(install(sheet(stage=low)).tailwater - 0.2) < 1e-12
    assert abs(install(sheet(stage=low, ram={"tailwater": "5 cm"})).tailwater - 0.05) < 1e-12
    assert install(sheet(stage=[{"name": "low", "tailwater": "-30 cm"}])).tailwater == 0.0
    with pytest.raises(InputError) as caught:
        install(sheet(ram={"tailwater": "3.2 m"}))
    assert (caught.value.code, caught.value.field) == ("fall_drowned", "ram.tailwater")
    assert "3.20 m" in sentence(caught.value, "metric")


@pytest.mark.parametrize(
    "words", ["lying free", "strapped to a board", "weighted with rock", "driven stakes"]
)
def test_how_the_ram_is_mounted_reaches_the_engine_in_the_catalogue_s_figures(words: str) -> None:
    """Looser mounts give way more; nothing is taken twice."""
    site = sheet(drive_pipe_support=None, ram={"mount": words})
    mount = builder(install(site)).system(middle(install(site))).mount
    assert mount is not None
    row = next(
        row for row in table("mounts") if words in row.text("words") and row.text("quantity") == "stiffness"
    )
    assert mount.stiffness == row.number("likely")
    assert {a.field for a in install(site).assumptions} == {
        f"drive_pipe_support.{name}" for name in ("moving_mass", "stiffness", "damping_ratio")
    }


def test_a_mount_nobody_knows_is_refused_with_those_there_are() -> None:
    with pytest.raises(InputError) as caught:
        install(sheet(drive_pipe_support=None, ram={"mount": "in the hand"}))
    assert (caught.value.code, caught.value.field) == ("catalogue_name_unknown", "ram.mount")


def test_lag_leak_and_snifter_reach_the_engine() -> None:
    """A leak of 1 % of a 42 mm passage; a hole of 1.5 mm with the coefficient of a sharp edge."""
    ram = {
        "delivery_valve": {"lag": "12 ms", "leak": "1 %"},
        "waste_valve": {"leak": "2 %"},
        "snifter": {"fitted": True, "diameter": "1.5 mm"},
    }
    found = builder(install(sheet(ram=ram))).system(middle(install(sheet(ram=ram))))
    assert abs(found.delivery_valve.lag_s - 0.012) < 1e-12
    assert abs(found.delivery_valve.leak_area_m2 - 0.01 * math.pi * 0.042**2 / 4.0) < 1e-12
    assert abs(found.waste_valve.leak_area_m2 - 0.02 * math.pi * 0.05**2 / 4.0) < 1e-12
    assert found.snifter is not None
    assert abs(found.snifter.area - 0.61 * math.pi * 0.0015**2 / 4.0) < 1e-9


def test_a_line_without_way_or_drop_holds_nothing_back() -> None:
    """It is said elsewhere that it could not be judged; the ram is given what the creek gives."""
    i = install(sheet(supply_line=[PIPE]))
    assert i.supply is None
    assert i.reaching_flow == i.usable_flow


ROUTE = "station (m),level (m),point\n0,7.0,intake\n100,3.0,drum\n"
GPX = (
    '<gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
    '<trkpt lat="47.0" lon="8.0"><ele>812</ele></trkpt>'
    '<trkpt lat="47.0004" lon="8.0"><ele>815</ele></trkpt>'
    '<trkpt lat="47.0009" lon="8.0"><ele>806</ele></trkpt></trkseg></trk></gpx>'
)


def written(folder: Path, file: str, **more: Any) -> Path:
    """A sheet in ``folder`` whose supply line takes its way from ``file``."""
    changes = {
        "supply_line": [PIPE],
        "profiles": {"supply_line": {"file": file, "unit": "m"}},
        "intake": {"kind": "open end", "cover": "0 m"},
    }
    path = folder / "sheet.toml"
    path.write_text(write_sheet(site_from_entries(merged(merged(FULL, changes), more))), encoding="utf-8")
    return path


def test_a_way_from_a_file_beside_the_sheet_is_that_of_its_rows(tmp_path: Path) -> None:
    (tmp_path / "way.csv").write_text(ROUTE, encoding="utf-8")
    found = install(read_sheet(written(tmp_path, "way.csv"))).supply
    rows = install(with_line([[0, 7.0], [100, 3.0]])).supply
    assert found is not None
    assert rows is not None
    assert found.laid.profile.labels == ("intake", "drum")
    assert abs(found.brings / rows.brings - 1.0) < 1e-9


def test_heights_of_a_gpx_track_are_poor_and_pinned_at_both_ends(tmp_path: Path) -> None:
    (tmp_path / "way.gpx").write_text(GPX, encoding="utf-8")
    found = install(read_sheet(written(tmp_path, "way.gpx", intake={"drop": "4 m"}))).supply
    assert found is not None
    assert found.laid.poor
    levels = found.laid.profile.levels
    assert abs(levels[-1] - 3.0) < 1e-9
    assert abs(levels[0] - 7.0) < 1e-9


def test_a_file_elsewhere_or_none_at_all_is_refused(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "way.csv").write_text(ROUTE, encoding="utf-8")
    cases = {
        "../way.csv": "profile_file_apart",
        str(tmp_path / "way.csv"): "profile_file_apart",
        "none.csv": "profile_file_unread",
        ".": "profile_file_unread",
    }
    for name, code in cases.items():
        with pytest.raises(InputError) as caught:
            install(read_sheet(written(inner, name)))
        assert (caught.value.code, caught.value.field) == (code, "profiles.supply_line.file")
        assert "?" not in sentence(caught.value, "metric")
    with pytest.raises(InputError) as caught:
        route_profile(
            site_from_entries(merged(FULL, {"profiles": {"supply_line": {"file": "a"}}})), "supply_line"
        )
    assert caught.value.code == "profile_file_no_sheet"


def test_a_slip_in_a_file_is_told_with_the_file_s_own_line(tmp_path: Path) -> None:
    (tmp_path / "way.csv").write_text(ROUTE + "90,2.0,\n", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        install(read_sheet(written(tmp_path, "way.csv")))
    assert (caught.value.field, caught.value.line) == ("way.csv", 4)


def test_the_way_of_another_line_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        install(with_line([[0, 7.0], [200, 3.0]]))
    assert (caught.value.code, caught.value.field) == ("profile_other_line", "profiles.supply_line")


def test_air_caught_in_the_drive_pipe_reaches_the_engine_with_its_level() -> None:
    """Half-way down an even pipe from 0.4 m under the water of the tank to the seat."""
    half = {"pipe": "steel schedule 40, 2 in", "length": "9 m"}
    i = install(sheet(drive_pipe=[half | {"air_pocket": "50 mL"}, half]))
    first, last = builder(i).system(middle(i)).drive_pipe
    assert abs(first.pocket_m3 - 50e-6) < 1e-12
    assert abs(first.pocket_level_m - 0.5 * 2.6) < 1e-9
    assert last.pocket_m3 == 0.0
    with pytest.raises(InputError) as caught:
        install(sheet(drive_pipe=[half, half | {"air_pocket": "50 mL"}]))
    assert (caught.value.code, caught.value.field) == ("pocket_at_the_ram", "drive_pipe[1].air_pocket")
