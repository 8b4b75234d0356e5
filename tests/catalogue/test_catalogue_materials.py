"""Materials: what warmth and repeated pressure take, and joints that hold less than their pipe."""

from __future__ import annotations

import math

import pytest

from ramwright.catalogue import (
    Mark,
    find_pipe,
    joint,
    joint_pressure,
    material,
    parts,
    rating_at,
    table,
    temperature_factor,
    weakest,
    weakest_mark,
)
from ramwright.errors import InputError, LimitError

PSI = 6894.757
MATERIALS = [row.text("material") for row in table("materials")]


@pytest.mark.parametrize("key", MATERIALS)
def test_each_material_is_whole_and_within_nature(key: str) -> None:
    stuff = material(key)
    assert stuff.key == key
    assert 0.2 < stuff.poisson.likely < 0.5
    assert 900 < stuff.density.likely < 9000
    assert 1e-6 <= stuff.roughness_new.likely <= stuff.roughness_aged.likely < 1e-3
    assert stuff.modulus_long.likely <= stuff.modulus_short.likely
    assert 1e-5 < stuff.expansion.likely < 3e-4
    assert stuff.max_temperature.unit == "c"
    plastic = stuff.family in {"pvc", "pvc-u", "pe"}
    assert plastic == (stuff.creep_share.likely > 0.0)
    assert plastic != stuff.rusts or stuff.family == "copper"


def test_stiffness_ranks_as_everybody_knows() -> None:
    order = ["galvanized-steel", "copper", "pvc", "pe100", "pe80"]
    moduli = [material(key).modulus_short.likely for key in order]
    assert moduli == sorted(moduli, reverse=True)
    assert material("galvanised").key == "galvanized-steel"


def test_roughness_of_galvanized_steel_is_that_of_an_open_library_and_not_its_drawn_tube() -> None:
    # fluids 1.3.1: "Galvanized iron" 0.152 mm; its key "Steel", 0.00152 mm, is drawn tube.
    from fluids.friction import _roughness

    assert material("galvanized-steel").roughness_new.likely == pytest.approx(_roughness["Galvanized iron"])
    assert material("black-steel").roughness_new.low > 10 * _roughness["Steel"]


def test_warm_pipe_holds_less_and_cold_pipe_no_more() -> None:
    pipe = find_pipe("PVC sch 40, 2 in")
    assert rating_at(pipe, 5.0) == pipe.rating_pa
    assert rating_at(pipe, 40.0) < rating_at(pipe, 30.0) < pipe.rating_pa
    # Half way between 80 F (0.88) and 90 F (0.75).
    assert temperature_factor("pvc", (85 - 32) / 1.8) == pytest.approx(0.815)


def test_pe_rated_at_73_f_is_not_charged_twice_for_it() -> None:
    # ISO factors start at 20 C, ASTM ratings hold at 73 F (22.8 C): the pipe keeps its rating there.
    pipe = find_pipe("PE4710 SIDR 15, 1 in")
    assert rating_at(pipe, 22.7) == pytest.approx(pipe.rating_pa, rel=2e-3)
    assert temperature_factor("pe100", 30.0) == pytest.approx(0.87)
    assert temperature_factor("pe100", 40.0) == pytest.approx(0.74)


def test_the_rule_used_for_warm_pe_is_the_lower_of_two_that_disagree() -> None:
    rows = table("temperature_factors").where(material="pe")
    other = {round(row.number("temp_c")): row.number("factor") for row in rows if not row.flag("used")}
    for celsius in (30, 40):
        assert temperature_factor("pe100", celsius) < other[celsius]


@pytest.mark.parametrize(
    ("key", "celsius"), [("pvc", 60.5), ("pvc-u", 46.0), ("pe100", 41.0), ("steel", 99.0)]
)
def test_nothing_is_said_beyond_the_table(key: str, celsius: float) -> None:
    with pytest.raises(LimitError, match="material_too_warm"):
        temperature_factor(key, celsius)


def failing_stress(relation: str, cycles: float) -> float:
    """Stress, Pa, that fails after ``cycles``: N = coefficient x stress^-exponent in the row's unit."""
    row = table("fatigue").row(relation)
    unit = {"psi": PSI, "mpa": 1e6}[row.text("stress_unit")]
    return unit * float((row.number("coefficient") / cycles) ** (1 / row.number("exponent")))


def test_fatigue_relations_are_their_equations() -> None:
    # Moser and Folkman, Buried Pipe Design, equations 4.17 (peak, psi) and 4.18 (range, MPa).
    assert failing_stress("pvc-vinson", 5.05e21 * 2000.0**-4.906) == pytest.approx(2000 * PSI)
    assert failing_stress("pvc-bowman", 2.85e8 * 6.0**-3.35) == pytest.approx(6e6)
    assert [row.text("measure") for row in table("fatigue")] == ["peak", "range"]


@pytest.mark.parametrize("cycles", [1e5, 3e5, 1e6])
def test_two_fatigue_relations_agree_as_their_book_says(cycles: float) -> None:
    """Bowman found his data and Vinson's in agreement by range (same book, p. 212).

    Vinson cycled from a base of 400 to 500 psi: his peak less 450 psi is his range. Within a factor 1.6.
    """
    by_range = failing_stress("pvc-bowman", cycles)
    by_peak = failing_stress("pvc-vinson", cycles) - 450 * PSI
    assert abs(math.log(by_peak / by_range)) < math.log(1.6)


def test_a_year_of_beats_is_beyond_every_test_and_far_below_the_rating() -> None:
    # 60 beats a minute for a year: 31.6 million. PVC Schedule 40 is rated at 2000 psi in its wall.
    a_year = 60 * 60 * 24 * 365.25
    assert all(row.number("to_cycles") < a_year for row in table("fatigue"))
    assert failing_stress("pvc-vinson", a_year) < 0.5 * 2000 * PSI


def test_the_least_firm_figure_decides_how_sure_an_answer_is() -> None:
    pipe = find_pipe("PVC sch 40, 2 in")
    assert weakest_mark(pipe.provenance, pipe.rating_provenance) is Mark.READ
    assert weakest_mark(pipe.provenance, material("pvc").poisson.provenance) is Mark.MEMORY
    steel = find_pipe("steel sch 40, 2 in")
    assert weakest_mark(steel.provenance, steel.rating_provenance) is Mark.MEMORY


def test_threading_halves_schedule_80_and_forbids_schedule_40() -> None:
    # A PVC pipe producer's sheet: threading halves the rating; Schedule 40 is not to be threaded.
    kind = joint("threaded pvc")
    heavy, light = find_pipe("PVC sch 80, 2 in"), find_pipe("PVC sch 40, 2 in")
    assert joint_pressure(kind, heavy).likely == pytest.approx(0.5 * heavy.rating_pa)
    assert joint_pressure(kind, light).likely == 0.0


def test_screwed_fittings_govern_over_the_steel_pipe() -> None:
    pipe = find_pipe("galvanized, 2 in")
    part = weakest(pipe, ["threaded steel", "union"])
    assert part.part == "thread-steel"
    # ASME B16.3 class 150 at up to 150 F: 300 psi.
    assert part.holds.likely == pytest.approx(300 * PSI, rel=2e-3)
    assert part.holds.likely < pipe.rating_pa
    assert weakest(pipe, []).part == "pipe"


def test_parts_come_weakest_first_and_warmth_counts() -> None:
    pipe = find_pipe("PE4710 SIDR 11.5, 1 in")
    cool = parts(pipe, ["two clamps", "barb", "compression fitting"])
    assert [part.part for part in cool] == ["barb", "barb-two-clamps", "pipe", "compression"]
    warm = parts(pipe, ["two clamps"], temperature_c=35.0)
    assert warm[0].part == "barb-two-clamps"
    assert warm[0].holds.likely < cool[1].holds.likely


def test_more_clamps_hold_more() -> None:
    pipe = find_pipe("PE4710 SIDR 15, 1 in")
    held = [joint_pressure(joint(key), pipe) for key in ("barb", "barb-one-clamp", "barb-two-clamps")]
    for part in ("low", "likely", "high"):
        assert [getattr(figure, part) for figure in held] == sorted(getattr(figure, part) for figure in held)


@pytest.mark.parametrize(
    ("words", "key"),
    [("glued", "solvent-weld"), ("Rubber ring", "rubber-ring"), ("barb with two clamps", "barb-two-clamps")],
)
def test_joints_are_found_by_what_is_written(words: str, key: str) -> None:
    assert joint(words).key == key


def test_a_joint_of_another_stuff_or_of_no_kind_is_refused() -> None:
    with pytest.raises(InputError, match="joint_not_for_pipe"):
        weakest(find_pipe("galvanized, 2 in"), ["glued"])
    with pytest.raises(InputError) as caught:
        joint("two clamp")
    assert caught.value.details["closest"][0] == "barb-two-clamps"  # type: ignore[index]


def test_no_joint_without_grip_is_said_to_resist_pull() -> None:
    grips = {row.text("joint"): row.text("pull_out") for row in table("joints")}
    for key in ("barb", "rubber-ring", "flexible-coupling", "bolted-coupling"):
        assert grips[key] == "no"
    for key in ("solvent-weld", "thread-steel", "flange-steel", "fusion"):
        assert grips[key] == "yes"
