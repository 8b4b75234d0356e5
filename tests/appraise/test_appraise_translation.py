"""What the sheet says reaches the engine: each number against a calculation by hand or a published one."""

from __future__ import annotations

import csv
import math
import tomllib
from typing import Any

import pytest
from appraise_sheets import FULL, REFERENCE, sheet

from ramwright.appraise import builder, install, middle
from ramwright.ram import RamSystem
from ramwright.site import Site, site_from_entries

G = 9.80665
"""Standard gravity, m/s2."""
WATER_20 = 998.2
"""Density of water at 20 C, kg/m3 (steam tables, from memory)."""
AIR_20 = 10.35
"""Standard atmosphere at sea level, m of water at 20 C (tests/reference/hydraulics_water_and_waves)."""
WAVES = tomllib.loads((REFERENCE / "hydraulics_water_and_waves.toml").read_text("utf-8"))


def translated(site: Site) -> RamSystem:
    installation = install(site)
    return builder(installation).system(middle(installation))


def system(**changes: Any) -> RamSystem:
    return translated(sheet(**changes))


PLAIN: dict[str, Any] = {"kind": "plain", "precharge": None}


def valve(**changes: Any) -> dict[str, Any]:
    return {"ram": {"waste_valve": changes}}


def test_facts_arrive_as_typed() -> None:
    found = system(facts={"residual_flow": "0.5 L/s"})
    assert abs(found.fall_m - 3.0) < 1e-9
    assert abs(found.delivery_line.lift_m - 20.0) < 1e-9
    assert abs(found.drive_tank.source_flow - 2.5e-3) < 1e-12


def test_a_creek_that_keeps_all_its_water_leaves_none() -> None:
    assert system(facts={"residual_flow": "5 L/s"}).drive_tank.source_flow == 0.0


def test_steel_two_inch_carries_waves_as_the_closed_form_sheet_says() -> None:
    """Closed-form sheet, last line: about 1386 m/s in 2 in Schedule 40 with K 2.2 GPa, which water has
    at 21 C; it leaves out the thickness of the wall and takes 200 GPa, hence 2 %.
    """
    row = next(row for row in WAVES["about"] if row["pipe"] == "steel 2 in Sch40")
    (stretch,) = system(site={"water_temperature": "21 C"}).drive_pipe
    assert abs(stretch.wave_speed / row["wave_speed_m_s"] - 1.0) < 0.02


def test_a_pipe_named_by_series_and_size_has_the_published_bore() -> None:
    """ASME B36.10 (tests/reference/catalogue_steel_b36_10.csv)."""
    with (REFERENCE / "catalogue_steel_b36_10.csv").open(encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        bore = next(float(r["id_mm"]) for r in rows if (r["schedule"], r["size"]) == ("40", "2 in"))
    (stretch,) = system().drive_pipe
    assert abs(stretch.bore_m * 1e3 - bore) < 0.02
    assert abs(stretch.length_m - 18.0) < 1e-9


@pytest.mark.parametrize("velocity", [0.3, 0.8, 1.5, 3.0])
def test_drive_pipe_friction_is_darcy_and_weisbachs(velocity: float) -> None:
    """Against Colebrook's equation as the open library fluids solves it; two terms stay within 6 %."""
    from fluids.friction import Colebrook

    piece = {"bore": "52 mm", "wall": "4 mm", "material": "steel", "roughness": "0.15 mm", "length": "18 m"}
    (stretch,) = system(drive_pipe=[piece]).drive_pipe
    reynolds = velocity * 0.052 / 1.0034e-6  # viscosity at 20 C: steam tables, from memory
    slope = Colebrook(reynolds, 0.15 / 52.0) * velocity**2 / (2.0 * G * 0.052)
    assert abs((stretch.c1 * velocity + stretch.c2 * velocity**2) / slope - 1.0) < 0.06


@pytest.mark.parametrize("k", [0, 1, 2])
def test_delivery_line_loses_what_the_notes_say(k: int) -> None:
    """Loss over 100 m at 0.5 L/s (tests/reference), plus the velocity lost at the outlet: v2/2g. Two terms
    fitted to all flows the line may see stay within 6 %.
    """
    given = WAVES["friction"]
    piece = {
        "bore": f"{given['bore_m']} m",
        "material": "pvc",
        "roughness": f"{given['roughness_m'][k]} m",
        "length": f"{given['length_m']} m",
    }
    enough = {"source_flow": "6 L/s ± 5 %"}  # for a ram that may lift that much
    line = system(delivery_line=[piece], facts=enough).delivery_line
    outlet = given["velocity_m_s"] ** 2 / (2.0 * G)
    assert abs(line.loss(given["flow_m3_s"]) - given["loss_m"][k] - outlet) < 0.06 * given["loss_m"][k]


def test_what_leaves_the_line_takes_its_velocity_head_along() -> None:
    """A nipple of 2 cm has next to no friction: v2/2g of 0.897 m/s is left, 41 mm."""
    line = system(delivery_line=[{"bore": "26.64 mm", "material": "pvc", "length": "2 cm"}]).delivery_line
    assert abs(line.loss(0.5e-3) / (0.897**2 / (2.0 * G)) - 1.0) < 0.03


def test_delivery_line_is_as_heavy_as_its_pieces() -> None:
    """Inertia of a rigid column: the sum of L / (g A)."""
    pieces = [
        {"bore": "25 mm", "material": "pvc", "length": "40 m"},
        {"bore": "40 mm", "material": "pvc", "length": "90 m"},
    ]
    line = system(delivery_line=pieces).delivery_line
    by_hand = 4.0 / (math.pi * G) * (40.0 / 0.025**2 + 90.0 / 0.040**2)
    assert abs(line.inertia / by_hand - 1.0) < 1e-9


def test_fittings_of_a_line_add_their_velocity_heads() -> None:
    """Two screwed elbows of K about 0.7 (Crane TP-410: 30 f_T; f_T 0.023 for 1 in) and a stated K of 10."""
    plain = {"bore": "26.6 mm", "material": "steel", "length": "50 m"}
    bare, fitted = (
        system(delivery_line=[piece]).delivery_line for piece in (plain, plain | {"bends_90": 2, "loss": 10})
    )
    head = (0.5e-3 / (math.pi * 0.0266**2 / 4.0)) ** 2 / (2.0 * G)
    k = (fitted.loss(0.5e-3) - bare.loss(0.5e-3)) / head
    assert abs(k - 10.0 - 2.0 * 30.0 * 0.023) < 0.2


def test_fittings_of_the_drive_pipe_stay_with_their_piece() -> None:
    pieces = [
        {"pipe": "steel schedule 40, 2 in", "length": "9 m", "loss": 1.5},
        {"pipe": "steel schedule 40, 2 in", "length": "9 m"},
    ]
    first, last = system(drive_pipe=pieces).drive_pipe
    (alone,) = system().drive_pipe
    assert abs(first.loss - 1.5) < 1e-12
    assert last.loss == alone.loss > 0.0  # bend and tee of the ram's own body


def test_air_of_a_plain_vessel_without_snifter_is_squeezed() -> None:
    """Boyle: 8 L at one atmosphere, squeezed under a lift of 20 m."""
    assert abs(system(air_vessel=PLAIN).air_vessel.air_m3 / (8e-3 * AIR_20 / (AIR_20 + 20.0)) - 1.0) < 1e-3


def test_a_snifter_keeps_the_usual_share_of_air() -> None:
    site = sheet(ram={"snifter": {"fitted": True}}, air_vessel=PLAIN)
    share = {a.field: a.value for a in install(site).assumptions}["air_vessel.air_share"]
    assert abs(translated(site).air_vessel.air_m3 - 8e-3 * share) < 1e-12


def test_air_of_a_charged_bladder_is_squeezed_from_its_charge() -> None:
    """Boyle: charged to 1.2 bar, which is 12.26 m of this water."""
    found = system(air_vessel={"kind": "bladder", "precharge": "1.2 bar"}).air_vessel.air_m3
    charge = 1.2e5 / (WATER_20 * G)
    assert abs(found / (8e-3 * (AIR_20 + charge) / (AIR_20 + 20.0)) - 1.0) < 1e-3


def test_a_bladder_charged_above_the_line_stays_full_of_air() -> None:
    assert system(air_vessel={"kind": "bladder", "precharge": "5 bar"}).air_vessel.air_m3 == 8e-3


def test_air_vessel_by_its_measures() -> None:
    found = system(
        air_vessel=PLAIN | {"volume": None, "diameter": "100 mm", "height": "0.6 m"}
    ).air_vessel.air_m3
    by_hand = math.pi * 0.1**2 / 4.0 * 0.6 * AIR_20 / (AIR_20 + 20.0)
    assert abs(found / by_hand - 1.0) < 1e-3


def test_waste_valve_weighs_less_under_water() -> None:
    """900 g of steel (7850 kg/m3) less the water it pushes aside."""
    pull, slope, bend = system().waste_valve.opening_force
    assert abs(pull / (0.9 * G * (1.0 - WATER_20 / 7850.0)) - 1.0) < 1e-4
    assert (slope, bend) == (0.0, 0.0)


def test_moving_mass_takes_water_along() -> None:
    """8/3 rho r3 of a disc broadside; its disc is somewhat larger than the port of 50 mm."""
    found = system().waste_valve.mass_kg
    port_alone = 0.9 + 8.0 / 3.0 * WATER_20 * 0.025**3
    assert port_alone < found < 0.9 + 2.0 * (port_alone - 0.9)


@pytest.mark.parametrize("tilt", [0.0, 20.0, -35.0, 60.0])
def test_a_flap_turned_on_its_thread_pulls_less(tilt: float) -> None:
    """Weight times the cosine of the angle the flap hangs at, which grows with its opening."""
    found = system(**valve(kind="swing check", arm="40 mm", tilt=f"{tilt} deg")).waste_valve
    weight = 0.9 * G * (1.0 - WATER_20 / 7850.0)
    assert found.kind == "swing"
    for opening in (0.0, 0.007, 0.014):
        swung = opening / 0.040
        pull = sum(c * opening**n for n, c in enumerate(found.opening_force))
        exact = weight * math.cos(math.radians(tilt) + swung)
        assert abs(pull - exact) <= weight * (swung**3 / 6.0 + 1e-4)


def test_a_poppet_that_leans_pulls_with_part_of_its_weight_all_the_way() -> None:
    upright, leaning = (system(**valve(tilt=t)).waste_valve.opening_force for t in ("0 deg", "60 deg"))
    assert abs(leaning[0] / upright[0] - 0.5) < 1e-9
    assert leaning[1:] == (0.0, 0.0)


def test_a_spring_pulls_harder_as_the_valve_shuts() -> None:
    """2 N with the valve fully open, 1.5 N/mm stiff, a stroke of 14 mm: 23 N on the seat."""
    without = system().waste_valve.opening_force
    spring = system(**valve(spring_preload="2 N", spring_stiffness="1500 N/m")).waste_valve.opening_force
    open_, seated = (sum(c * x**n for n, c in enumerate(spring)) for x in (0.014, 0.0))
    assert abs(open_ - without[0] - 2.0) < 1e-9
    assert abs(seated - without[0] - 2.0 - 1500.0 * 0.014) < 1e-9


def test_drive_tank_by_its_diameter_or_none_at_all() -> None:
    round_ = system(drive_tank={"plan_area": None, "diameter": "60 cm"}).drive_tank
    assert abs(round_.area_m2 - math.pi * 0.6**2 / 4.0) < 1e-12
    assert abs(round_.cover_m - 0.4) < 1e-12
    assert system(drive_tank={"kind": "none", "plan_area": None}).drive_tank.area_m2 == math.inf


def test_entrances_lose_more_the_rougher_they_are() -> None:
    losses = [
        system(drive_tank={"entrance": e}).drive_tank.entrance_loss
        for e in ("bell-mouthed", "square-edged", "projecting", "strainer")
    ]
    assert losses == sorted(losses)
    assert abs(losses[1] - 0.5) < 0.01  # the textbook square edge


def test_a_ram_that_is_not_held_moves_as_the_sheet_says() -> None:
    support = {"held": False, "moving_mass": "15 kg", "stiffness": "200 N/mm", "damping_ratio": 0.2}
    mount = system(drive_pipe_support=support).mount
    assert mount is not None
    assert (mount.mass_kg, mount.stiffness, mount.damping_ratio) == (15.0, 200e3, 0.2)
    assert system().mount is None


def test_warm_thin_air_and_water_reach_the_engine() -> None:
    """Air at 1500 m: 8.64 m of water at 20 C (tests/reference); vapour at 20 C: 2.339 kPa (steam tables)."""
    water = system(site={"altitude": "1500 m"}).water
    assert abs(water.atmosphere_m - 8.64) < 0.02
    assert abs(water.vapour_m - 2339.0 / (WATER_20 * G)) < 1e-3
    assert abs(water.density - WATER_20) < 0.1


@pytest.mark.parametrize(("typed", "celsius"), [("104 F", 40.0), ("32 F", 0.0), ("50 F", 10.0)])
def test_fahrenheit_does_not_fall_off_the_edge(typed: str, celsius: float) -> None:
    """104 F is 40 C, the end of what the sheet and the properties of water allow, and 32 F is 0 C."""
    assert abs(install(sheet(site={"water_temperature": typed})).water.temperature_c - celsius) < 1e-6


def test_a_lift_drawn_below_the_fall_stays_just_above_it() -> None:
    """Far draws may cross; the engine must not be given a ram that flows by itself."""
    from dataclasses import replace

    installation = install(sheet())
    drawn = replace(middle(installation), fall=4.0, lift=3.0)
    assert builder(installation).system(drawn).delivery_line.lift_m > 4.0


def test_what_is_typed_is_what_the_engine_gets() -> None:
    """Every number of a full sheet, found again in the engine's system."""
    found = translated(site_from_entries(FULL))
    assert (found.waste_valve.port_diameter_m, found.waste_valve.stroke_m) == (0.050, 0.014)
    assert (found.delivery_valve.bore_m, found.delivery_valve.loss) == (0.042, 4.0)
    assert (found.drive_tank.area_m2, found.drive_tank.cover_m) == (0.25, 0.40)
