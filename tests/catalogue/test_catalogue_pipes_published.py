"""Pipe figures against published tables and an open library, not against themselves."""

from __future__ import annotations

import math

import pytest
from catalogue_reference import read_reference
from fluids.piping import schedule_lookup

from ramwright.catalogue import Mark, Pipe, find_pipe, material, pipes, rating_at, table

PSI = 6894.757


def test_pvc_ratings_are_those_of_the_handbook() -> None:
    # Machinery's Handbook, 31st ed., p. 2770.
    rows = read_reference("pvc_psi")
    assert len(rows) == 19
    for row in rows:
        pipe = find_pipe(f"PVC schedule {row['schedule']}", row["size"])
        assert pipe.rating_pa / PSI == pytest.approx(float(row["psi"]), abs=0.1)
        assert pipe.rating_provenance.mark is Mark.READ


def test_pvc_ratings_are_2000_psi_in_the_wall() -> None:
    """The handbook's rating and the standard's wall come from two copies; the standard's formula joins them.

    2 S t / (D - t) with S 2000 psi (ASTM D1785), rounded to 10 psi in the handbook.
    """
    for row in read_reference("pvc_psi"):
        pipe = find_pipe(f"PVC schedule {row['schedule']}", row["size"])
        rated = 2 * 2000.0 * pipe.wall_m / (pipe.od_m - pipe.wall_m)
        assert abs(rated - float(row["psi"])) <= 6.0, pipe.name


@pytest.mark.parametrize("sdr", [13.5, 17, 21, 26])
def test_classes_of_sdr_pipe_are_2000_psi_in_the_wall(sdr: float) -> None:
    # ASTM D2241: 2 S / (SDR - 1), S 2000 psi, rounded to the class.
    pipe = find_pipe(f"PVC SDR {sdr:g}", "2 in")
    assert pipe.rating_pa / PSI == pytest.approx(2 * 2000.0 / (sdr - 1), rel=0.02)
    assert pipe.od_m / pipe.wall_m == pytest.approx(sdr, rel=0.01)


def test_steel_pipe_measures_what_the_standard_says() -> None:
    rows = read_reference("steel_b36_10")
    assert len(rows) == 17
    for row in rows:
        pipe = find_pipe(f"steel schedule {row['schedule']}", row["size"])
        measured = (pipe.od_m * 1e3, pipe.id_m * 1e3, pipe.wall_m * 1e3)
        assert measured == pytest.approx(
            (float(row["od_mm"]), float(row["id_mm"]), float(row["wall_mm"])), abs=0.01
        )


def test_iron_size_plastic_has_the_outside_of_steel() -> None:
    # Iron pipe sizes: ASTM D1785 and D2241 pipe is made to the outside of ASME B36.10 pipe.
    outside = {row["size"]: float(row["od_mm"]) for row in read_reference("steel_b36_10")}
    compared = 0
    for pipe in pipes():
        if pipe.standard in {"ASTM D1785", "ASTM D2241"} and pipe.size in outside:
            assert abs(pipe.od_m * 1e3 - outside[pipe.size]) < 0.06, pipe.name
            compared += 1
    assert compared > 40


LIBRARY = {
    "pvc-sch-40": "40D1785",
    "pvc-sch-80": "80D1785",
    "pvc-sdr-13.5": "DR135D2241",
    "pvc-sdr-17": "DR17D2241",
    "pvc-sdr-21": "DR21D2241",
    "pvc-sdr-26": "DR26D2241",
    "steel-sch-40": "40",
    "steel-sch-80": "80",
    "steel-medium": "BS1387MEDIUM",
    "steel-heavy": "BS1387HEAVY",
}


@pytest.mark.parametrize(("series", "schedule"), LIBRARY.items())
def test_dimensions_are_those_of_an_open_library(series: str, schedule: str) -> None:
    # fluids 1.3.1, piping.py; in it DN sizes key the BS 1387 lists, inches the others.
    listed = {
        nominal: (outside, inside, wall)
        for nominal, inside, outside, wall in zip(*schedule_lookup[schedule], strict=True)
    }
    found = [pipe for pipe in pipes() if pipe.series == series]
    assert len(found) >= 7
    for pipe in found:
        nominal = (
            float(pipe.size.removeprefix("DN "))
            if pipe.size.startswith("DN")
            else round(pipe.nominal_m / 0.0254, 4)
        )
        outside, inside, wall = listed[nominal]
        assert pipe.od_m * 1e3 == pytest.approx(outside, abs=0.011)
        assert pipe.id_m * 1e3 == pytest.approx(inside, abs=0.015)
        assert pipe.wall_m * 1e3 == pytest.approx(wall, abs=0.011)


def test_pe_walls_and_classes_agree_with_another_copy() -> None:
    for row in read_reference("pe100_walls"):
        pipe = find_pipe(f"PE100 SDR {row['sdr']}", f"{row['od_mm']} mm")
        assert pipe.wall_m * 1e3 == pytest.approx(float(row["wall_mm"]), abs=1e-6)
        assert pipe.rating_pa / 1e5 == pytest.approx(float(row["pn_bar"]))
        assert pipe == find_pipe(f"PE100 PN {row['pn_bar']}", f"{row['od_mm']} mm")


@pytest.mark.parametrize("pipe", [p for p in pipes() if p.standard == "ISO 4427"], ids=lambda p: p.name)
def test_pe_ratings_follow_the_design_stress(pipe: Pipe) -> None:
    # EN 12201: PN = 20 sigma/(SDR - 1), sigma = MRS/1.25: 8 MPa for PE100, 6.4 for PE80; PN is rounded.
    sigma = {"pe100": 8.0, "pe80": 6.4}[pipe.material]
    sdr = float(pipe.title.rpartition(" ")[2])
    assert pipe.rating_pa / 1e5 == pytest.approx(20 * sigma / (sdr - 1), rel=0.07)
    # The least wall is the outside over the SDR, rounded up to 0.1 mm (ISO 4065), never under 2 mm, and of
    # thin pipe up to 2.0, 2.3 or 3.0 mm.
    least = max(pipe.od_m * 1e3 / sdr, 2.0)
    assert -0.051 <= pipe.wall_m * 1e3 - least < 0.31


@pytest.mark.parametrize("pipe", [p for p in pipes() if p.standard == "ISO 1452"], ids=lambda p: p.name)
def test_pvc_u_walls_follow_the_design_stress(pipe: Pipe) -> None:
    # ISO 1452: sigma 25/2.5 = 10 MPa up to 90 mm, 25/2.0 = 12.5 above; and
    # wall = PN D/(20 sigma + PN), rounded up to 0.1 mm.
    sigma = 10.0 if pipe.od_m <= 0.090 else 12.5
    bar = pipe.rating_pa / 1e5
    wall = bar * pipe.od_m * 1e3 / (20 * sigma + bar)
    assert -0.06 < pipe.wall_m * 1e3 - wall <= 0.25
    assert pipe.provenance.mark is Mark.MEMORY


@pytest.mark.parametrize("pipe", [p for p in pipes() if p.standard == "ASTM D2239"], ids=lambda p: p.name)
def test_bore_sized_pe_follows_its_ratio(pipe: Pipe) -> None:
    # ASTM D2239: wall = bore / SIDR, not under 0.060 in; P = 2 HDS/(SIDR + 1).
    sidr = float(pipe.title.rpartition(" ")[2])
    assert pipe.wall_m / 0.0254 == pytest.approx(max(pipe.id_m / 0.0254 / sidr, 0.060), abs=0.0006)
    stress = {"pe3408": 800.0, "pe4710": 1000.0}[pipe.material]
    assert pipe.rating_pa / PSI == pytest.approx(2 * stress / (sidr + 1), abs=0.51)
    # The bore is that of steel pipe of the same size (ASME B36.10 Schedule 40, in the library fluids).
    inside = dict(zip(schedule_lookup["40"][0], schedule_lookup["40"][1], strict=True))
    assert pipe.id_m * 1e3 == pytest.approx(inside[round(pipe.nominal_m / 0.0254, 4)], rel=0.003)


@pytest.mark.parametrize(
    "pipe", [p for p in pipes() if p.material == "galvanized-steel"], ids=lambda p: p.name
)
def test_steel_ratings_follow_the_formula_for_threaded_pipe(pipe: Pipe) -> None:
    # ASME B31: 2 S (t' - h)/(D - 0.8 (t' - h)), t' = 0.875 t, S = tensile/3.5 x 0.6 (from memory).
    basis = table("steel_rating_basis").row(series=pipe.series, size=pipe.size)
    allowed = basis.number("tensile_pa") / 3.5 * 0.6
    wall = 0.875 * pipe.wall_m - basis.number("depth_m")
    rated = 2 * allowed * wall / (pipe.od_m - 0.8 * wall)
    # Rounded down to 10 kPa; the depth is given to a thousandth of a millimetre.
    assert -1e3 < rated - pipe.rating_pa < 1.4e4
    assert pipe.rating_provenance.mark is Mark.DERIVED
    assert not pipe.rating_provenance.firm
    # Thread depth: 0.8 of the pitch (NPT) or 0.6403 (Whitworth form).
    pitch = 0.0254 / basis.number("per_inch")
    assert basis.number("depth_m") / pitch == pytest.approx(0.8 if "sch" in pipe.series else 0.6403, rel=1e-3)


def test_copper_rating_formula_reproduces_the_handbook() -> None:
    """2 S t/(D - 0.8 t), S 6000 psi, t the wall less tolerance: the way type L was rated, tried on type M."""
    for row in read_reference("copper_m_psi"):
        wall = float(row["wall_in"]) - float(row["tolerance_in"])
        rated = 2 * 6000.0 * wall / (float(row["od_in"]) - 0.8 * wall)
        assert rated == pytest.approx(float(row["psi"]), rel=0.02)
        pipe = find_pipe("copper type M", row["size"])
        assert pipe.rating_pa / PSI == pytest.approx(float(row["psi"]), abs=0.1)
        assert find_pipe("copper type L", row["size"]).rating_pa > pipe.rating_pa


def test_pvc_keeps_the_share_of_its_rating_that_the_handbook_gives() -> None:
    for row in read_reference("pvc_temperature"):
        celsius = (float(row["temp_f"]) - 32) / 1.8
        share = rating_at(find_pipe("PVC sch 80, 2 in"), celsius) / (400 * PSI)
        assert float(row["least"]) - 1e-6 <= share <= float(row["most"]) + 1e-6


@pytest.mark.parametrize(("cold_psi", "temp_f", "warm_psi"), [(230, 120, 92), (280, 140, 62)])
def test_worked_cases_of_the_handbook(cold_psi: float, temp_f: float, warm_psi: float) -> None:
    # Machinery's Handbook: 10 in Schedule 80 at 120 F, 6 in Schedule 80 at 140 F.
    pipe = find_pipe("PVC sch 80, 4 in")
    share = rating_at(pipe, (temp_f - 32) / 1.8) / pipe.rating_pa
    assert round(cold_psi * share) == warm_psi


def test_wave_speeds_agree_with_those_worked_by_another_hand() -> None:
    for row in read_reference("wave_speeds"):
        pipe = find_pipe(row["pipe"])
        modulus = material(pipe.material).modulus_short.likely
        stiff = 2.19e9
        speed = math.sqrt(stiff / 998.2) / math.sqrt(1 + stiff * pipe.id_m / (modulus * pipe.wall_m))
        assert speed == pytest.approx(float(row["wave_speed_m_s"]), rel=0.005), pipe.name
