"""A field book as a whole: slips on their lines, findings graded, a large book, the first walk."""

from __future__ import annotations

import math
import random
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from book_sheets import codes, found, known

from ramwright.appraise import facts_of, walk_of
from ramwright.appraise.book_findings import ALL_FINDINGS, MORE_FINDINGS, noticed
from ramwright.appraise.book_verdicts import GRADES, WELL, survey_findings
from ramwright.errors import InputError
from ramwright.services.reduce_sheet import reduce_sheet
from ramwright.site import Site, read_sheet, read_sheet_text, site_from_entries
from ramwright.wording.errors import sentence
from ramwright.wording.verdicts import templates, words

ROOT = Path(__file__).parents[2]
PLACE = '[site]\nname = "Test"\n'

# ---- Slips that only show when the book is reduced -------------------------------------------

HEAD = '[[visit]]\n[[visit.level_book]]\nlabel = "up"\nunit = "m"\nrows = [\n'
FLOAT = '[[visit]]\n[[visit.float_run]]\nflow = "creek"\nlength = "9 m"\ntimes = ["40 s"]\n'
SLUG = (
    '[[visit]]\n[[visit.salt_slug]]\nflow = "creek"\nsalt = "1 kg"\ntime_unit = "s"\n'
    'conductivity_unit = "uS/cm"\nbackground = 90\n'
)
BOOK = "visit[0].level_book[0]"
SLIPS: list[tuple[str, str, str, int]] = [
    # sheet (the place takes lines 1 and 2), code, field, line
    (f'{HEAD}["a", "", "", 1],\n["b", "", "", 2]]', "survey_book_no_backsight", f"{BOOK}.rows[0]", 8),
    (f'{HEAD}["a", 1],\n["b"],\n["c", "", "", 2]]', "survey_book_row_unread", f"{BOOK}.rows[1]", 9),
    (
        f'{HEAD}["a", 1],\n["b", "", 2, 2],\n["c", "", "", 2]]',
        "survey_book_row_two_sights",
        "visit[0].level_book[0].rows[1]",
        9,
    ),
    (
        f'{HEAD}["a", 1],\n["b", "", "", 2],\n["c", "", "", 2]]',
        "survey_book_turn_without_backsight",
        "visit[0].level_book[0].rows[1]",
        9,
    ),
    (
        f'{FLOAT}[[visit.float_run.section]]\nunit = "m"\nrows = [[0, 0], [0, 1], [2, 0]]',
        "survey_not_rising",
        "visit[0].float_run[0]",
        4,
    ),
    (f"{SLUG}rows = [[0, 90], [5, 90], [10, 90]]", "survey_no_salt_wave", "visit[0].salt_slug[0]", 4),
    (
        f"{SLUG}rows = [[0, 90], [10, 200], [5, 90]]",
        "survey_not_rising",
        "visit[0].salt_slug[0].rows[2]",
        10,
    ),
    (
        '[[visit]]\n[[visit.v_notch]]\nflow = "creek"\nangle = "130 deg"\nunit = "m"\ncrest_height = 1\n'
        "channel_width = 2\nheads = [0.1]",
        "survey_beyond_source",
        "visit[0].v_notch[0]",
        4,
    ),
    (
        '[[visit]]\n[[visit.rectangular_weir]]\nflow = "creek"\nunit = "m"\nwidth = 1\ncrest_height = 1\n'
        'channel_width = 2\nheads = [0.1]\nrelation = "rehbock"',
        "survey_weir_not_full_width",
        "visit[0].rectangular_weir[0]",
        4,
    ),
    (
        '[[visit]]\ntape = [\n["ram, ground", "ram, seat", "0.2 m"],\n'
        '["ram, ground", "tank, ground", "0.2 m"]]',
        "survey_offset_two_places",
        "visit[0].tape[1]",
        6,
    ),
    (
        '[[visit]]\n[[visit.hose]]\nunit = "m"\nrows = [["ram, seat", "seat", 1, 2]]',
        "same_point",
        "visit[0].hose[0].rows[0]",
        6,
    ),
]


@pytest.mark.parametrize("case", SLIPS, ids=lambda case: case[1])
def test_a_slip_found_on_reducing_is_told_with_its_line(
    case: tuple[str, str, str, int], tmp_path: Path
) -> None:
    text, code, field, line = case
    sheet = tmp_path / "book.toml"
    sheet.write_text(f"{PLACE}{text}\n", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        reduce_sheet(sheet)
    error = caught.value
    assert (error.code, error.field, error.line) == (code, field, line)
    for system in ("us", "metric"):
        said = sentence(error, "us" if system == "us" else "metric", "en")
        assert said.startswith(f"line {line}, {field}: ")
        assert "{" not in said


def test_a_sheet_without_readings_says_how_to_start(tmp_path: Path) -> None:
    sheet = tmp_path / "bare.toml"
    sheet.write_text(PLACE, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        reduce_sheet(sheet)
    assert caught.value.code == "nothing_to_reduce"


# ---- Findings --------------------------------------------------------------------------------


def test_every_finding_has_a_grade_or_says_that_all_is_well() -> None:
    assert set(GRADES) | WELL == set(ALL_FINDINGS)
    assert not set(GRADES) & WELL
    assert {f"survey_{code}" for code in ALL_FINDINGS} <= set(templates())


def test_a_finding_of_this_room_carries_its_numbers() -> None:
    with pytest.raises(ValueError, match="float_coefficient_unfit"):
        noticed("float_coefficient_unfit", "float")
    for code, numbers in MORE_FINDINGS.items():
        made = noticed(code, "x", names=(), **dict.fromkeys(numbers, 1.0))
        assert tuple(name for name, _ in made.numbers) == numbers


def test_the_deliberate_outlier_of_the_example_is_named_and_judged() -> None:
    facts = facts_of(read_sheet(ROOT / "examples" / "field-book.toml"))
    verdicts = list(survey_findings(facts))
    (outlier,) = [verdict for verdict in verdicts if verdict.code == "survey_level_outlier"]
    assert outlier.grade == "amber"
    assert outlier.numbers["about"] == "gauge"
    assert outlier.about == "visit[0].gauge[0]"
    said = words(outlier.code, outlier.numbers, "metric", "en")
    assert "gauge, between waste-valve seat, drive tank (water)" in said.why
    assert "survey_misclosure_within" not in {verdict.code for verdict in verdicts}
    # without the gauge levels and hose agree
    assert facts.reduction is not None
    assert [each.other for each in facts.reduction.facts.disagreements] == ["gauge", "gauge"]


def test_a_misclosure_beyond_what_is_allowed_is_held_against_its_source() -> None:
    rows = [["drum, water", 1.0], ["seat", 2.0, "", 3.0], ["drum, water", "", "", 0.05]]
    facts = found({"level_book": [{"unit": "m", "rows": rows}]})
    (verdict,) = [v for v in survey_findings(facts) if v.code == "survey_misclosure_beyond"]
    assert verdict.limit is not None
    assert abs(verdict.limit - 0.005 * math.sqrt(2.0)) < 1e-9
    assert "levelling" in verdict.source.lower()


# ---- A large book ----------------------------------------------------------------------------


def large_book() -> tuple[Site, float, float, int]:
    """Two people's loops of levels, a hose, buckets: over 500 readings with the spreads the table states."""
    rng = random.Random(3)
    fall, lift, readings = 3.20, 17.40, 0
    text = [PLACE]
    text += ['[[visit]]\nstage = "low"\ntape = [["ram, ground", "ram, seat", "0.25 m ± 5 mm"]]']
    for person in ("first", "second"):
        stops = [("drive tank, water", fall)]
        stops += [(f"tp {i}", fall - (i + 1) * 0.3) for i in range(9)]
        stops += [("ram, ground", -0.25)]
        stops += [(f"tp {20 + i}", -0.25 + (i + 1) * 0.45) for i in range(38)]
        stops += [("tank, inlet", lift)]
        stops += [(f"tp {80 + i}", lift - (i + 1) * 0.2) for i in range(70)]
        stops += [("drive tank, water", fall)]
        lines = [max(a, b) + rng.uniform(0.4, 1.5) for (_, a), (_, b) in pairwise(stops)]
        text += [f'[[visit.level_book]]\nlabel = "{person}"\nunit = "m"\nrows = [']
        for i, (name, level) in enumerate(stops):
            fore = "" if i == 0 else f"{lines[i - 1] - level + rng.gauss(0.0, 0.002):.4f}"
            back = "" if i == len(stops) - 1 else f"{lines[i] - level + rng.gauss(0.0, 0.002):.4f}"
            text += [f'["{name}", "{back}", "", "{fore}"],']
            readings += bool(fore) + bool(back)
        text += ["]"]
    for pail in range(3):
        times = ", ".join(f"{8.0 + rng.gauss(0.0, 0.15):.2f}" for _ in range(12))
        text += [f'[[visit.bucket]]\nlabel = "pail {pail}"\nflow = "creek"\nvolume = "12 L"\ntime_unit = "s"']
        text += [f"times = [{times}]"]
        readings += 12
    return read_sheet_text("\n".join(text), "t"), fall, lift, readings


def test_a_visit_of_five_hundred_readings_comes_back_to_what_it_was_made_from() -> None:
    site, fall, lift, readings = large_book()
    assert readings >= 500
    facts = facts_of(site)
    for estimate, truth in ((facts.fall, fall), (facts.lift, lift), (facts.source_flow, 0.0015)):
        assert abs(known(estimate).value - truth) < 3.0 * known(estimate).sd
    assert known(facts.fall).sd < 0.02
    assert "level_outlier" not in codes(facts)


# ---- The walk --------------------------------------------------------------------------------

WALK: dict[str, Any] = {
    "unit": "m",
    "intake": [["upper", "12 ± 0.2", 0], ["lower", "9 ± 0.2", 60, "2 L/s", "track"]],
    "ram": [["bar", "6 ± 0.2", 90, 7, "track"], ["shelf", "7.5 ± 0.2", 70, 7, "track"]],
    "tank": [["knoll", 30]],
}


def walk(**changes: Any) -> Site:
    return site_from_entries({"site": {"name": "x"}, "walk": {**WALK, **changes}})


def test_a_walk_is_ranked_by_fall_for_its_length() -> None:
    ranked = walk_of(walk()).ranked
    assert [pair.label for pair in ranked] == ["lower - shelf", "lower - bar", "upper - bar", "upper - shelf"]
    slopes = [1.5 / 10.0, 3.0 / 30.0, 6.0 / 90.0, 4.5 / 70.0]
    assert max(abs(pair.per_length - slope) for pair, slope in zip(ranked, slopes, strict=True)) < 1e-9
    assert abs(ranked[1].lifts[0][1].value - 24.0) < 1e-9
    assert "ram_below_flood" in {finding.code for finding in ranked[1].findings}


def test_the_instrument_of_the_walk_gives_the_spread() -> None:
    """3 m with an altimeter (the catalogue's table, read); 1 m where nothing is said (judgement)."""
    bare = {"intake": [["a", 12, 0]], "ram": [["b", 6, 50]], "tank": []}
    assert abs(walk_of(walk(**bare, instrument="altimeter")).ranked[0].fall.sd - 3.0 * math.sqrt(2.0)) < 1e-9
    assert abs(walk_of(walk(**bare)).ranked[0].fall.sd - math.sqrt(2.0)) < 1e-9


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"intake": []}, "walk_empty"),
        ({"ram": []}, "walk_empty"),
        ({"intake": [["a", 12]]}, "walk_distance_missing"),
        ({"intake": [["a", 12, 90]]}, "walk_same_place"),
        ({"distance": [["upper", "nowhere", 10]]}, "walk_unknown"),
        ({"intake": [["bar", 12, 0]]}, "survey_label_twice"),
    ],
)
def test_a_walk_that_cannot_be_is_refused(changes: dict[str, Any], code: str) -> None:
    with pytest.raises(InputError) as caught:
        walk_of(walk(**changes))
    assert caught.value.code == code
    assert (caught.value.field or "").startswith("walk")
    assert "{" not in sentence(caught.value, "us", "en")


def test_a_sheet_without_a_walk_says_so() -> None:
    with pytest.raises(InputError) as caught:
        walk_of(site_from_entries({"site": {"name": "x"}}))
    assert caught.value.code == "walk_missing"


def test_a_distance_of_its_own_counts_before_the_way_along_the_creek() -> None:
    ranked = walk_of(walk(distance=[["upper", "bar", 200]])).ranked
    (pair,) = [pair for pair in ranked if pair.label == "upper - bar"]
    assert abs(pair.length - 200.0) < 1e-9
