"""Rules of the trade against other figures of the same trade, or against physics."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from catalogue_reference import read_reference
from iapws import IAPWS95

from ramwright.catalogue import Mark, find_row, table

DAY = 86400.0


@pytest.mark.parametrize(("column", "celsius"), [("at_10c_m_s", 10.0), ("at_20c_m_s", 20.0)])
def test_settling_velocities_follow_from_the_viscosity_of_water(column: str, celsius: float) -> None:
    # Ferguson and Church 2004: w = R g D^2/(C1 nu + (0.75 C2 R g D^3)^0.5); viscosity from IAPWS-95.
    water = IAPWS95(T=celsius + 273.15, P=0.101325)
    for row in table("settling_velocities"):
        grain = row.number("grain_m")
        drive = 1.65 * 9.80665 * grain**2
        settles = drive / (18.0 * water.nu + math.sqrt(0.75 * 1.0 * 1.65 * 9.80665 * grain**3))
        assert row.number(column) == pytest.approx(settles, rel=0.012)


def test_delivery_bores_reach_the_velocities_worked_from_them() -> None:
    for row in read_reference("delivery_bores"):
        ours = table("delivery_bores").row(bore_m=float(row["bore_mm"]) / 1e3)
        assert ours.number("most_m3_s") * 6e4 == pytest.approx(float(row["most_l_min"]))
        velocity = ours.number("most_m3_s") / (math.pi / 4 * ours.number("bore_m") ** 2)
        assert velocity == pytest.approx(float(row["top_velocity_m_s"]), abs=0.01)
    rows = table("delivery_bores").rows
    for low, high in pairwise(rows):
        assert high.number("least_m3_s") * 6e4 == pytest.approx(low.number("most_m3_s") * 6e4 + 1)


def test_livestock_drinks_what_the_agency_prints() -> None:
    for row in read_reference("livestock"):
        for season in ("winter", "summer"):
            ours = table("demand_livestock").row(animal=row["animal"], season=season).figure
            assert ours.likely * DAY * 1e3 == pytest.approx(float(row[season]))
            assert ours.low < ours.likely < ours.high


def test_gardens_want_eighteen_to_twenty_five_litres_a_square_metre_a_week() -> None:
    garden = table("demand_garden").row("garden").figure
    litres = [rate * 7 * DAY * 1e3 for rate in (garden.low, garden.high)]
    assert litres == pytest.approx([18, 25], abs=0.6)
    # Oregon circular 550: 7 gpm an acre, doubling up to 896 gpm for 128 acres.
    pasture = table("demand_garden").row("pasture").figure.likely
    assert pasture * 128 * 4046.856 * 60 / 3.785411784e-3 == pytest.approx(896, rel=0.01)


def test_village_people_want_forty_litres() -> None:
    # RWS.4.D.5: 60 people at 40 L a day are 2400 L a day.
    assert find_row("demand_people", "village scheme").figure.likely * 60 * DAY * 1e3 == pytest.approx(2400)


def test_the_old_efficiency_table_is_its_formula() -> None:
    law = table("efficiency_laws").row("building-trades")
    for row in read_reference("old_efficiency"):
        ratio, printed = float(row["lift_over_fall"]), float(row["efficiency_pct"])
        ours = table("efficiency_by_ratio").row(lift_over_fall=ratio)
        assert ours.number("efficiency") * 100 == pytest.approx(printed)
        formula = law.number("constant") - law.number("of_root_ratio") * math.sqrt(ratio)
        assert abs(formula * 100 - printed) < 0.7
        assert abs(5 / 6 * (1.42 - 0.28 * math.sqrt(ratio)) - formula) < 1e-4


def test_a_screen_for_two_hundred_litres_a_minute() -> None:
    # Passive screen at 0.2 ft/s: 0.0547 m2.
    approach = table("screen_rules").row("passive-approach").figure.likely
    assert 200 / 6e4 / approach == pytest.approx(0.0547, abs=1e-4)
    # California's worked example: 1.0 cfs at 0.33 ft/s wants 3.0 ft2.
    other = table("screen_rules").row("california-approach").figure.likely
    assert 0.3048**3 / other / 0.3048**2 == pytest.approx(3.03, abs=0.01)
    assert approach < other


def test_a_gauge_of_class_1_6_is_sixteen_centimetres_on_ten_metres() -> None:
    # 1.6 kPa on 0 to 100 kPa is 0.16 m; the class limit is root 3 standard deviations (even spread).
    spread = find_row("instruments", "gauge class 1.6").figure.likely * 100e3 / 9806.65
    assert spread * math.sqrt(3) == pytest.approx(0.16, abs=0.01)


def test_a_hose_level_repeats_to_a_tenth_of_an_inch() -> None:
    assert find_row("instruments", "water hose level").figure.likely / 0.0254 == pytest.approx(0.1, abs=0.01)


def test_float_coefficients_fall_with_the_roughness_of_the_bed() -> None:
    used = [row.figure.likely for row in table("float_coefficients") if row.flag("used")]
    assert used == sorted(used, reverse=True)
    assert len(used) == 5
    rocky, single = (
        find_row("float_coefficients", key).figure.likely for key in ("rocky bed", "single-value")
    )
    # A fixed 0.85 overstates a rocky creek two to three times and more.
    assert single / rocky > 2.0
    deep = [row.number("coefficient") for row in table("float_coefficient_by_depth")]
    assert deep == sorted(deep)


def test_rules_that_disagree_are_all_there() -> None:
    lengths = table("drive_length_rules").where(ratio="length over fall")
    assert len({(row.maybe("low"), row.maybe("high")) for row in lengths}) >= 4
    allowances = table("levelling_allowances").where(scales_with="root of length")
    assert len({row.number("likely") for row in allowances}) >= 3
    assert len([row for row in allowances if row.flag("used")]) == 1
    assert len(table("screen_rules").where(what="approach velocity")) >= 3


def test_residual_flow_rules_rank_as_their_names() -> None:
    share = {row.text("rule"): row.figure.likely for row in table("residual_flow_rules")}
    assert share["tennant-survival"] < share["tennant-good"] < share["tennant-excellent"]
    for season in ("winter", "summer"):
        ranks = [share[f"tennant-{word}-{season}"] for word in ("fair", "good", "excellent", "outstanding")]
        assert ranks == sorted(ranks)


def test_supports_stand_closer_for_softer_pipe() -> None:
    spans = {row.text("family"): row.figure.likely for row in table("support_spans").where(rule="general")}
    assert spans["pe"] < spans["pvc"] < spans["steel"]


def test_siphons_stay_below_the_air_at_sea_level() -> None:
    # Standard atmosphere at sea level: 10.33 m of water.
    lifts = {row.text("rule"): row.figure for row in table("siphon_limits")}
    assert lifts["recommended-lift"].likely < lifts["practical-lift"].likely < 10.33
    assert lifts["practical-lift"].high < lifts["warm-water-lift"].high < 10.33


def test_start_back_pressure_is_twenty_three_feet() -> None:
    # The page says 10 psi, 23 ft above the outlet.
    pressure = table("residual_heads").row("start-back-pressure").figure.likely
    assert pressure / 9806.65 / 0.3048 == pytest.approx(23, abs=0.2)


def test_velocity_windows_do_not_cross() -> None:
    for row in table("velocity_windows").where(line="delivery", rule="window"):
        design = table("velocity_windows").row(line="delivery", rule="design").figure
        assert row.figure.low < design.low < design.high < row.figure.high


def test_salt_factor_is_within_its_printed_spread() -> None:
    factor = table("salt_dilution").row("calibration-factor").figure
    assert (factor.high - factor.low) / 2 / factor.likely == pytest.approx(0.028, abs=1e-4)


def test_grains_are_named_without_gaps() -> None:
    rows = table("grain_classes").rows
    for smaller, larger in pairwise(rows):
        assert smaller.number("largest_m") == larger.number("smallest_m")


def test_figures_of_the_trade_are_marked_as_they_were_got() -> None:
    # As the reference sheet marks them: read or from memory.
    marks = {
        ("ram_limits", "least-fall"): Mark.READ,
        ("ram_limits", "beats"): Mark.READ,
        ("drive_length_rules", "calvert"): Mark.MEMORY,
        ("float_coefficients", "very-shallow-rocky"): Mark.MEMORY,
        ("siphon_limits", "practical-lift"): Mark.READ,
        ("screen_rules", "fry-hole"): Mark.MEMORY,
        ("settling_rules", "vortex-straight"): Mark.MEMORY,
        ("velocity_windows", "supply"): Mark.MEMORY,
        ("residual_flow_rules", "tennant-good"): Mark.READ,
        ("residual_flow_rules", "tennant-good-winter"): Mark.MEMORY,
        ("air_vessel_rules", "volume-per-beat"): Mark.MEMORY,
        ("weir_limits", "most-head"): Mark.READ,
    }
    for (name, key), mark in marks.items():
        column = "weir" if name == "weir_limits" else None
        row = table(name).row(rule=key, weir="rectangular") if column else table(name).row(key)
        assert row.provenance.mark is mark, (name, key)
