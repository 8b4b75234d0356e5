"""Published readings through the sheet: each comes out as its source prints it."""

from __future__ import annotations

import csv
import math
import tomllib
from pathlib import Path
from typing import Any

import pytest
from book_sheets import codes, found, known, low_flow, reduced

REFERENCE = Path(__file__).parents[1] / "reference"
FIGURES = tomllib.loads((REFERENCE / "survey_figures.toml").read_text("utf-8"))
GPM = 3.785411784e-3 / 60.0
FOOT = 0.3048


def table(name: str) -> list[dict[str, str]]:
    lines = (REFERENCE / name).read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def published_book() -> dict[str, Any]:
    rows = [
        [
            row["point"],
            row["backsight_m"],
            row["intermediate_m"],
            row["foresight_m"],
            "",
            "",
            row["initial_level_m"],
        ]
        for row in table("survey_level_book.csv")
    ]
    return {"level_book": [{"unit": "m", "rows": rows}]}


def test_the_level_book_of_a_university_course() -> None:
    """USM's worked book (read): each level, the sums 8.133 and 7.693, and no slip of its booker."""
    (book,) = reduced(published_book()).books
    printed = [float(row["initial_level_m"]) for row in table("survey_level_book.csv")]
    for row, level in zip(book.reduction.rows, printed, strict=True):
        assert abs(29.230 + row.level - level) < 5e-4
    check = book.reduction.check
    assert abs(check.sum_backsights - 8.133) < 5e-4
    assert abs(check.sum_foresights - 7.693) < 5e-4
    assert "booked_level_differs" not in codes(found(published_book()))


def test_a_slip_of_the_booker_is_named_where_it_happened() -> None:
    visit = published_book()
    visit["level_book"][0]["rows"][4][6] = "31.186"  # D was worked out 10 mm too low
    slips = [each for each in found(visit).findings if each.code == "booked_level_differs"]
    assert [each.about for each in slips][:1] == ["D"]
    assert abs(slips[0].number("step_difference_m") + 0.010) < 1e-6


def test_the_arithmetic_check_of_a_trade_page() -> None:
    """Sums of a printed check (read): 5.620 - 4.950 = 1.37 - 0.70 = 100.67 - 100.00, in two set-ups."""
    sums = FIGURES["arithmetic_check"]
    rows = [["a", 3.000], ["b", 2.620, "", 1.630], ["c", "", "", 3.320]]
    (book,) = reduced({"level_book": [{"unit": "m", "rows": rows}]}).books
    check = book.reduction.check
    for ours, name in (
        (check.sum_backsights, "sum_backsights"),
        (check.sum_foresights, "sum_foresights"),
        (check.sum_rises, "sum_rises"),
        (check.sum_falls, "sum_falls"),
    ):
        assert abs(ours - sums[name]) < 1e-9
    assert abs(sums["first_level"] + check.last_level - sums["last_level"]) < 1e-9


def test_the_allowed_misclosure_of_a_quarter_kilometre() -> None:
    """12 mm per root of a km (Australian third order, read) over 0.25 km: 6 mm; without lengths by set-up."""
    rows: list[list[Any]] = [["a", 1.5, "", "", "", 62.5], ["b", 1.4, "", 1.4, 62.5, 62.5]]
    rows += [["a", "", "", 1.494, 62.5]]
    (book,) = reduced({"level_book": [{"unit": "m", "rows": rows}]}).books
    assert book.misclosure is not None
    assert book.misclosure.allowed is not None
    assert abs(book.misclosure.allowed - 0.006) < 1e-9
    assert abs(book.misclosure.value - 0.006) < 1e-9
    bare = [row[:4] for row in rows]
    (book,) = reduced({"level_book": [{"unit": "m", "rows": bare}]}).books
    assert book.misclosure is not None
    assert book.misclosure.allowed is not None
    assert abs(book.misclosure.allowed - 0.005 * math.sqrt(2.0)) < 1e-9  # 5 mm per root of a set-up (memory)


def test_stepping_in_eye_heights_as_a_micro_hydro_manual_has_it() -> None:
    """The manual's step is the observer's eye height (read); 4 steps of 1.60 m less 0.35 m are 6.05 m."""
    steps = FIGURES["eye_height"]
    run = {
        "instrument": "eye height",
        "start": "seat",
        "end": "tank inlet",
        "eye": f"{steps['eye_m']} m",
        "steps": steps["steps"],
        "last_reading": f"{steps['last_reading_m']} m",
    }
    assert abs(known(found({"hand_level": [run]}).lift).value - steps["rise_m"]) < 1e-9


def test_a_class_1_6_gauge_is_good_to_sixteen_centimetres_on_ten_metres() -> None:
    """EN 837-1 (memory): 1.6 kPa of 100 kPa, told by the finding that the class rules."""
    gauge = {
        "point": "seat",
        "water": "drum, water",
        "instrument": "gauge class 1.6",
        "full_scale": "100 kPa",
        "readings": ["60 kPa"],
        "zero": "0 kPa",
        "air_purged": True,
        "gauge_above_point": "0 m ± 1 mm",
    }
    facts = found({"gauge": [gauge]})
    ruling = next(each for each in facts.findings if each.code == "gauge_class_rules")
    assert abs(ruling.number("class_error_m") - FIGURES["gauge"]["class_error_m"]) < 0.005
    # 60 kPa over rho g of fresh water (1000 kg/m3, 9.80665 m/s2)
    assert abs(known(facts.fall).value - 60e3 / 9806.65) < 1e-6


def test_float_runs_of_the_fao_manual() -> None:
    """FAO's five runs (read) over 10 m have a mean of 50 s; a section of 1 m2, bed coefficient 0.65."""
    runs = FIGURES["float_example"]
    float_run = {
        "flow": "creek",
        "bed": "small regular stream",
        "length": "10 m",
        "time_unit": "s",
        "times": runs["times_s"],
        "section": [{"unit": "m", "rows": [[0, 0.5], [1, 0.5], [2, 0.5]]}] * 2,
    }
    assert abs(low_flow(float_run=[float_run]).value - 0.65 * 1.0 * 10.0 / runs["mean_s"]) < 1e-12


def weir(head_in: str, **more: Any) -> dict[str, Any]:
    deep = {"flow": "creek", "unit": "in", "crest_height": 60, "channel_width": 120, "tailwater": -12}
    return {**deep, "heads": [head_in], **more}


@pytest.mark.parametrize("row", table("survey_oregon_550_weirs.csv"), ids=lambda row: row["head_in"])
def test_weir_table_of_the_oregon_extension_service(row: dict[str, str]) -> None:
    """Circular 550 (read), heads as it prints them, in inch fractions (rounded: half a 1/16 in of head)."""
    head = float(row["head_ft"]) * FOOT
    rounding = 0.5 / 16.0 * 0.0254 / head
    notch = low_flow(v_notch=[weir(row["head_in"], angle="90 deg")]).value / GPM
    printed = float(row["v_notch_90_gpm"])
    # from 0.25 ft up the relation is known to lie within 1.7 %, below it reads 3 to 6 % high
    slack = 0.017 if float(row["head_ft"]) >= 0.25 else 0.065
    assert abs(notch / printed - 1.0) < slack + 2.5 * rounding
    board = weir(row["head_in"], width="1 ft", relation="francis", contractions=1)
    rectangular = low_flow(rectangular_weir=[board]).value / GPM
    assert (
        abs(rectangular - float(row["rectangular_1_ft_gpm"])) < (0.017 + 1.5 * rounding) * rectangular + 0.5
    )


def test_the_salt_slug_of_a_university_worksheet() -> None:
    """Lancaster's log (read) with the 0.7 mg/L for each uS/cm its two columns show: 44.71 L/s (derived)."""
    rows = [[row["time_min"], row["conductivity_uS_cm"]] for row in table("survey_salt_slug_worksheet.csv")]
    slug = {
        "flow": "creek",
        "salt": "900 g",
        "factor": 0.7,
        "time_unit": "min",
        "conductivity_unit": "uS/cm",
        "background": 125,
        "rows": rows,
    }
    # concentrations are printed to 1 mg/L, some 0.5 of a mean 40 over the wave
    assert abs(low_flow(salt_slug=[slug]).value * 1000.0 / 44.71 - 1.0) < 0.015


def test_the_constant_rate_exercise_of_a_textbook() -> None:
    """1.8 L/s of 8,000 ppm, 58 before, 250 at the plateau (read): 72.66 L/s (derived)."""
    sums = FIGURES["constant_rate"]
    over = sums["plateau_ppm"] - sums["before_ppm"]
    brine = {
        "flow": "creek",
        "rate": f"{sums['rate_L_s']} L/s",
        "concentration": f"{sums['solution_ppm'] - sums['before_ppm']} g/m3",
        "factor": 0.5,
        "time_unit": "min",
        "conductivity_unit": "uS/cm",
        "background": 100,
        "rows": [[i, 100 + over / 0.5] for i in range(3)],
    }
    assert abs(low_flow(salt_constant=[brine]).value * 1000.0 - sums["flow_L_s"]) < 1e-3


def test_the_usual_salt_factor_with_its_printed_spread() -> None:
    """Richardson and others 2017 (read): 0.486 mg cm/(uS L), +-2.8 %, of a wave made for 50 L/s."""
    area_uS_s_cm = 2000.0 * 1e3 / (0.486 * 50.0)  # 2 kg in mg over (factor x L/s)
    height = area_uS_s_cm / 200.0
    slug = {
        "flow": "creek",
        "salt": "2 kg ± 0 g",
        "conductivity_unit": "uS/cm",
        "time_unit": "s",
        "background": "100 ± 0",
        "spread": "0.01 uS/cm",
        "rows": [[0, 100], [200, 100 + height], [400, 100]],
    }
    gauged = low_flow(salt_slug=[slug])
    assert abs(gauged.value * 1000.0 - 50.0) < 1e-6
    assert abs(gauged.sd / gauged.value - FIGURES["salt"]["factor_share_percent"] / 100.0) < 5e-4
