"""The layout: each figure against a calculation by hand or a published one."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest
from appraise_sheets import FULL, appraised, merged, sheet

from ramwright.appraise import Appraisal, install
from ramwright.appraise.line_table import line_tables
from ramwright.appraise.strength import strength
from ramwright.appraise.vessel_duty import time_to_waterlog

pytestmark = pytest.mark.engine
PSI = 6894.757
G = 9.80665
WATER_20 = 998.2
"""Density of water at 20 C, kg/m3 (steam tables, from memory)."""


@cache
def laid_out(key: str) -> Appraisal:
    return appraised(merged(FULL, CASES[key]), draws=20)


DIPPED: dict[str, Any] = {
    "profiles": {"delivery_line": {"unit": "m", "rows": [[0, 0.0], [50, 12.0], [90, 6.0], [160, 20.0]]}},
}
CASES: dict[str, dict[str, Any]] = {
    "plain": {},
    "dipped": DIPPED,
    "bends": {"drive_pipe": [{"pipe": "steel schedule 40, 2 in", "length": "18 m", "bends_45": 2}]},
    "loose": {"drive_pipe_support": {"held": False}},
    "sizes": {
        "delivery_line": [
            {"pipe": "PE100 SDR 9, 32 mm", "length": "60 m"},
            {"pipe": "PE100 SDR 11, 25 mm", "length": "100 m"},
        ]
    },
    "pvc": {"drive_pipe": [{"pipe": "PVC schedule 80, 2 in", "length": "18 m"}]},
    "screened": {
        "facts": {"source_flow": "200 L/min ± 5 %"},
        "intake": {"screen_area": "0.02 m2", "open_share": "45 %", "opening": "2 mm"},
    },
    "nothing": {"facts": {"lift": "400 m ± 1 m"}},
}


# ---- What holds ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pipe", "joint", "psi"),
    [
        ("PVC schedule 80, 2 in", "threaded pvc", 200.0),  # rated 400 psi; threading halves it
        ("PVC schedule 40, 2 in", "threaded pvc", 0.0),  # Schedule 40 is not to be threaded
        ("PVC schedule 40, 2 in", "glued", 280.0),
        ("steel schedule 40, 2 in", "screwed", 300.0),  # malleable iron, class 150
    ],
)
def test_joints_hold_what_is_published(pipe: str, joint: str, psi: float) -> None:
    """PVC: Machinery's Handbook 31; threading: a producer's sheet; fittings: ASME B16.3 (all read)."""
    site = sheet(drive_pipe=[{"pipe": pipe, "length": "9 m", "joint": joint}])
    i = install(site)
    held = strength(i.drive_pipe[0], i.water)
    assert abs(held.joint - psi * PSI / (WATER_20 * G)) < 0.5


def test_warm_pvc_holds_less() -> None:
    """2 in Schedule 40, 280 psi at 73 F; factor 0.75 at 90 F (Machinery's Handbook 31, read)."""
    piece = {"pipe": "PVC schedule 40, 2 in", "length": "9 m"}
    i = install(sheet(site={"water_temperature": "90 F"}, drive_pipe=[piece]))
    held = strength(i.drive_pipe[0], i.water)
    assert abs(held.pipe - 0.75 * 280.0 * PSI / (995.0 * G)) < 0.5


def test_a_pipe_given_by_its_measures_holds_nobody_knows_what() -> None:
    piece = {"bore": "50 mm", "wall": "4 mm", "material": "steel", "length": "9 m"}
    i = install(sheet(drive_pipe=[piece]))
    assert strength(i.drive_pipe[0], i.water).weakest == math.inf


def test_the_highest_pressure_stands_at_the_foot_of_each_piece() -> None:
    """Hydrostatics: head at the ram less the level of the piece's lowest point."""
    found = laid_out("sizes")
    held = found.layout.delivery.pressures
    peak = found.prediction.peak_head
    assert held is not None
    assert peak is not None
    lower, upper = held.peaks
    assert abs(lower - peak.high) < 1e-9
    assert abs(upper - (peak.high - 20.0 * 60.0 / 160.0)) < 1e-9


# ---- What flows ------------------------------------------------------------------------------------


def test_velocities_are_flow_over_bore() -> None:
    found = laid_out("sizes")
    flow = found.prediction.delivery.likely
    for velocity, piece in zip(
        found.layout.delivery.velocities, found.layout.delivery.laid.pieces, strict=True
    ):
        assert abs(velocity * math.pi * piece.bore**2 / 4.0 / flow - 1.0) < 1e-12


def test_friction_of_the_delivery_line_is_what_the_engine_s_two_terms_say() -> None:
    """Two roads to one loss: Colebrook along the grade line, and the law fitted to all flows that the engine
    runs on. Slow water is on the rim of the fit: they may differ by a hundredth of the lift.
    """
    found = laid_out("plain")
    line = found.prediction.system.delivery_line
    delivery = found.layout.delivery
    assert delivery.friction > 0.5
    assert abs(delivery.friction - line.loss(delivery.flow)) < 0.01 * 20.0


def test_the_grade_line_starts_with_the_friction_and_ends_at_the_lift() -> None:
    delivery = laid_out("plain").layout.delivery
    grade = delivery.grade
    assert grade is not None
    assert abs(grade.total_head[0] - 20.0 - delivery.friction) < 1e-9
    assert abs(grade.head[-1] - 20.0) < 1e-6


def test_a_line_that_rises_all_the_way_shuts_no_air_in() -> None:
    assert laid_out("plain").layout.delivery.air_head == 0.0
    assert laid_out("plain").layout.delivery.against_air is None


def test_air_shut_in_costs_less_than_the_dip_is_deep_and_what_boyle_says() -> None:
    """One summit at 12 m, one dip at 6 m. The air of the leg of 40 m (6 m high) is squeezed by what stands
    beyond it: p = 20 - foot, foot = 12 - 6 V/V0, V/V0 = 10.35/(10.35 + p): solved by hand, p = 11.0 m,
    V/V0 = 0.485, foot 9.09 m, so 2.9 m are lost.
    """
    found = laid_out("dipped").layout.delivery
    assert found.filling is not None
    (pocket,) = found.filling.pockets
    squeezed = 10.35 / (10.35 + pocket.pressure_head)
    assert abs(pocket.pressure_head - (20.0 - (12.0 - 6.0 * squeezed))) < 0.02
    assert abs(found.air_head - 6.0 * squeezed) < 0.02
    assert abs(found.air_head - 2.9) < 0.1
    run = found.against_air
    assert run is not None
    assert 0.0 < run.delivery < laid_out("dipped").prediction.middle.delivery


# ---- What pushes, moves and fills ------------------------------------------------------------------


def test_a_bend_pushes_as_the_trade_notes_say() -> None:
    """2 p A sin(angle/2): 52.5 mm, 100 m, 45 degrees give 1,626 N (trade notes); here at its own head."""
    found = laid_out("bends")
    peak = found.prediction.peak_head
    assert peak is not None
    bend = next(t for t in found.layout.held.thrusts if t.point.bend_angle is not None)
    assert abs(bend.force / (1626.0 * peak.high / 100.0) - 1.0) < 5e-3
    end = next(t for t in found.layout.held.thrusts if t.point.bend_angle is None)
    assert abs(bend.force / end.force - 2.0 * math.sin(math.pi / 8.0)) < 1e-9


def test_a_loose_ram_delivers_less_than_a_held_one() -> None:
    """The same ram twice: what holding it would bring is the whole difference."""
    found = laid_out("loose")
    loss = found.layout.held.loss(found.prediction)
    assert loss is not None
    assert 0.0 < loss < 0.5
    held = laid_out("plain").prediction.middle.delivery
    assert found.layout.held.if_fast is not None
    assert abs(found.layout.held.if_fast.delivery / held - 1.0) < 1e-9
    assert laid_out("plain").layout.held.if_fast is None


def test_an_air_vessel_waterlogs_in_the_time_its_air_takes_to_be_carried_away() -> None:
    """5 L of air, 1 L/s, twice the outside pressure, water at 20 C: 0.0187 L of air a litre, a tenth of it
    taken up: 5 / 0.00187 s, three quarters of an hour.
    """
    found = time_to_waterlog(
        volume=5e-3, delivery=1e-3, pressure_ratio=2.0, solubility=0.0187, saturation=0.1
    )
    assert abs(found / 60.0 - 44.6) < 0.1


def test_a_screen_is_asked_for_the_area_the_agency_s_rule_gives() -> None:
    """200 L/min through a passive screen: 0.0547 m2 (trade notes, from the rule of 0.2 ft/s)."""
    found = laid_out("screened")
    intake = found.layout.intake
    assert intake is not None
    assert intake.result is not None
    assert abs(intake.result.area_needed - 0.0547) < 1e-4
    assert abs(intake.result.approach_velocity - 200.0 / 6e4 / 0.02) < 1e-9


def test_the_drive_tank_settles_what_its_surface_load_lets_sink() -> None:
    """0.2 mm sink at 23.2 mm/s in water of 20 C (trade notes): the grain kept back sinks at load x 2.5."""
    result = laid_out("plain").layout.tank.result
    assert result is not None
    drive = laid_out("plain").prediction.middle.drive
    assert abs(result.surface_load - drive / 0.25) < 1e-9
    # load 6.6 mm/s, times 2.5: 16.5 mm/s lies between 7.51 (0.1 mm) and 23.2 mm/s (0.2 mm)
    assert 7.51e-3 < 2.5 * result.surface_load < 23.2e-3
    assert 0.1e-3 < result.settled_grain < 0.2e-3


def test_plastic_lasts_as_the_printed_relations_say() -> None:
    """Moser and Folkman, equations 4.17 (psi, peak) and 4.18 (MPa, range), put in by hand."""
    found = laid_out("pvc")
    p = found.prediction
    assert p.peak_head is not None
    assert p.lowest_head is not None
    assert p.beats_per_min is not None
    outside, wall = 60.33e-3, 5.54e-3
    hoop = (outside - wall) / (2.0 * wall)
    peak = p.peak_head.high * WATER_20 * G * hoop / PSI
    swing = (p.peak_head.high - p.lowest_head.low) * WATER_20 * G * hoop / 1e6
    yearly = p.beats_per_min.likely * 525_960.0
    by_hand = sorted((5.05e21 * peak**-4.906 / yearly, 2.85e8 * swing**-3.35 / yearly))
    lives = sorted(life.life.years for life in found.layout.drive.lives)
    for years, expected in zip(lives, by_hand, strict=True):
        assert abs(years / expected - 1.0) < 0.02


def test_a_ram_that_lifts_nothing_still_has_a_layout() -> None:
    found = laid_out("nothing")
    assert found.prediction.delivery.likely == 0.0
    delivery = found.layout.delivery
    assert delivery.grade is None
    assert delivery.friction == 0.0
    assert all(
        table.flow is None or table.flow > 0.0 for table in line_tables(found.installation, found.layout)
    )


# ---- Tables ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", CASES)
def test_tables_run_from_end_to_end_with_pressure_what_head_leaves_over(key: str) -> None:
    found = laid_out(key)
    for table in line_tables(found.installation, found.layout):
        stations = [p.station for p in table.points]
        assert stations == sorted(set(stations))
        assert stations[0] == 0.0
        assert abs(stations[-1] - table.length) < 1e-6
        for point in table.points:
            if point.head is not None:
                assert point.pressure is not None
                assert abs(point.pressure - (point.head - point.level)) < 1e-9


def test_what_stands_along_a_line_is_told_where_it_stands() -> None:
    found = laid_out("dipped")
    (table,) = [t for t in line_tables(found.installation, found.layout) if t.name == "delivery_line"]
    at = {p.station: [s.code for s in p.stands] for p in table.points}
    assert "summit" in at[50.0]
    assert "air" in at[50.0]
    assert at[90.0] == ["dip"]
    assert "pipe" in at[0.0]


def test_the_pieces_of_a_sheet_keep_their_own_joints_and_supports() -> None:
    pieces = [
        {"pipe": "steel schedule 40, 2 in", "length": "9 m", "joint": "flanged", "supports_every": "2 m"},
        {"pipe": "steel schedule 40, 2 in", "length": "9 m", "buried": "40 cm"},
    ]
    first, last = install(sheet(drive_pipe=pieces)).drive_pipe
    assert first.joint is not None
    assert first.joint.key == "flange-steel"
    assert first.supports_every == 2.0
    assert last.joint is None
    assert last.buried is not None
    assert abs(last.buried - 0.4) < 1e-12
