"""Verdicts: each code on a sheet that raises it and not on one that gives no cause, gravest first."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest
from appraise_sheets import FULL, appraised, merged

from ramwright.appraise import Appraisal, Verdict
from ramwright.catalogue import Mark, table
from ramwright.quantities import SYSTEMS
from ramwright.wording.blanks import blanks
from ramwright.wording.verdicts import first, templates, words

pytestmark = pytest.mark.engine


def valve(**changes: Any) -> dict[str, Any]:
    return {"ram": {"waste_valve": changes}}


HOT_PVC: dict[str, Any] = {
    "site": {"water_temperature": "38 C"},
    "facts": {"fall": "10 m ± 1 cm", "source_flow": "20 L/s ± 1 %"},
    "drive_pipe": [{"pipe": "PVC SDR 26, 2 in", "length": "25 m"}],
    "ram": {"waste_valve": {"moving_mass": "3 kg"}},
}
SHORT = [{"pipe": "steel schedule 40, 2 in", "length": "3 m"}]
LONG = [{"pipe": "steel schedule 40, 2 in", "length": "80 m"}]
SOFT = [{"pipe": "PE100 SDR 11, 63 mm", "length": "12 m"}]
WEAK_LINE = [{"pipe": "PE100 SDR 26, 50 mm", "length": "160 m"}]

RAISED_BY: dict[str, tuple[dict[str, Any], str]] = {
    "may_hangs_open": (valve(moving_mass="10 kg"), "red"),
    "may_hangs_shut": (
        {"facts": {"lift": "3.1 m ± 1 cm"}, "drive_pipe": SOFT, **valve(moving_mass="100 g")},
        "red",
    ),
    "may_chatters": (valve(tilt="180 deg"), "red"),
    "may_no_period": (valve(stroke="1.5 mm", moving_mass="800 g"), "amber"),
    "may_lift_beyond": ({"facts": {"lift": "400 m ± 1 m"}}, "red"),
    "may_starved": ({"facts": {"source_flow": "0.2 L/s ± 5 %"}}, "red"),
    "setting_drinks_too_much": (
        {"facts": {"source_flow": "0.05 L/s ± 5 %"}, **valve(stroke="tune")},
        "amber",
    ),
    "residual_takes_all": ({"facts": {"residual_flow": "3 L/s"}}, "red"),
    "fall_too_small": ({"facts": {"fall": "0.4 m ± 1 mm", "lift": "4 m ± 1 cm"}}, "red"),
    "fall_doubtful": ({"facts": {"fall": "1.9 m ± 1 cm"}}, "amber"),
    "length_over_bore_outside": ({"drive_pipe": SHORT}, "amber"),
    "length_over_fall_outside": ({"drive_pipe": LONG}, "amber"),
    "peak_over_class": (merged(HOT_PVC, {"facts": {"lift": "68 m ± 1 m"}}), "red"),
    "shutoff_over_class": (merged(HOT_PVC, {"facts": {"lift": "40 m ± 1 m"}}), "amber"),
    "delivery_over_class": ({"facts": {"lift": "62 m ± 1 m"}, "delivery_line": WEAK_LINE}, "red"),
    "plastic_drive_pipe": ({"drive_pipe": SOFT}, "note"),
    "not_held": ({"drive_pipe_support": {"held": False}}, "amber"),
    "demand_not_met": ({"facts": {"demand_per_day": "100 m3/day"}}, "red"),
    "demand_unsure": ({"facts": {"lift": "20 m ± 5 m", "demand_per_day": "14 m3/day"}}, "amber"),
}
"""Code -> changes to the full sheet that raise it, and its grade there."""
CAUTIONS = ("caution_trapped_pressure", "caution_water_rights", "caution_drinking_water")
CODES = [*RAISED_BY, *CAUTIONS]


@cache
def found(code: str) -> Appraisal:
    """The appraisal of the sheet that raises ``code``; of the full sheet for ''."""
    return appraised(FULL, draws=40, **(RAISED_BY[code][0] if code in RAISED_BY else {}))


def verdict(code: str) -> Verdict:
    (one,) = [v for v in found(code).verdicts if v.code == code]
    return one


def test_every_verdict_of_the_first_file_is_tried_here() -> None:
    """Those on lines, tanks and safety: ``test_appraise_line_verdicts``; the field book's: its findings."""
    assert set(CODES) == set(first.TEMPLATES)


def test_a_sheet_that_gives_no_cause_raises_nothing_but_the_cautions() -> None:
    assert tuple(v.code for v in found("").verdicts) == CAUTIONS
    content = appraised(facts={"demand_per_day": "1 m3/day"}).verdicts
    assert tuple(v.code for v in content) == CAUTIONS


@pytest.mark.parametrize("code", RAISED_BY)
def test_a_sheet_that_gives_cause_raises_it(code: str) -> None:
    assert verdict(code).grade == RAISED_BY[code][1]


@pytest.mark.parametrize("code", ["", *RAISED_BY])
def test_cautions_are_there_every_time_and_the_gravest_come_first(code: str) -> None:
    verdicts = found(code).verdicts
    assert tuple(v.code for v in verdicts)[-3:] == CAUTIONS
    order = [("red", "amber", "note").index(v.grade) for v in verdicts]
    assert order == sorted(order)
    assert len({(v.code, v.about) for v in verdicts}) == len(verdicts)


@pytest.mark.parametrize("code", CODES)
def test_a_verdict_says_where_it_comes_from(code: str) -> None:
    one = verdict(code)
    assert one.source.strip()
    assert isinstance(one.mark, Mark)
    assert one.limit is None or math.isfinite(one.limit)
    # A value read somewhere names the work; only our own runs and the sheet count as derived.
    if one.mark is Mark.READ:
        assert one.source not in ("simulated runs", "the sheet")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("code", CODES)
def test_a_verdict_s_numbers_fill_every_blank(code: str, system: str) -> None:
    one = verdict(code)
    said = words(one.code, one.numbers, "us" if system == "us" else "metric", "en")
    for text in said:
        assert not set("?{}_") & set(text), text
        assert "e+" not in text, text
    assert said.title[0].isupper()
    assert not said.title.endswith(".")
    assert said.why.endswith(".")
    assert said.do.endswith(".")


@pytest.mark.parametrize("code", CODES)
def test_a_verdict_carries_no_number_that_is_never_said(code: str) -> None:
    named = {name for part in templates()[code] for name in blanks(part)}
    assert set(verdict(code).numbers) == named


@pytest.mark.parametrize("code", CODES)
def test_what_a_verdict_is_about_stands_on_the_sheet(code: str) -> None:
    one = verdict(code)
    if one.about is None:
        return
    value: Any = found(code).site.model_dump()
    for part in one.about.replace("[", ".").replace("]", "").split("."):
        value = value[int(part)] if part.isdigit() else value[part]
    assert value


def test_limits_of_the_fall_are_the_handbooks() -> None:
    """RWS 4.D.5: not workable under 0.5 m; DTU brochure: doubtful under 2 m (catalogue, both read)."""
    assert verdict("fall_too_small").limit == 0.5
    assert verdict("fall_doubtful").limit == 2.0
    assert {verdict(code).mark for code in ("fall_too_small", "fall_doubtful")} == {Mark.READ}


def test_a_length_out_of_the_ordinary_names_every_rule_it_was_held_against() -> None:
    """Handbooks disagree: the widest of them counts, and never stops an installation."""
    one = verdict("length_over_fall_outside")
    said = one.numbers["said"]
    assert isinstance(said, tuple)
    assert len(said) == len(table("drive_length_rules").where(ratio="length over fall"))
    assert one.limit == 12.0
    assert verdict("length_over_bore_outside").limit == 100.0


def test_warm_plastic_is_held_against_less_than_it_is_stamped_with() -> None:
    """160 psi at 73 F; at 100.4 F the handbooks' factor is 0.62 (tests/reference/catalogue_pvc_temperature):
    99 psi, which is 70 m of water.
    """
    limit = verdict("peak_over_class").limit
    assert limit is not None
    assert abs(limit - 160.0 * 0.62 * 6894.757 / (993.0 * 9.80665)) < 1.0


def test_a_beat_a_second_is_thirty_one_million_a_year() -> None:
    """60 beats a minute, 525 600 minutes a year: 31.5 million."""
    one = verdict("plastic_drive_pipe")
    beats = found("plastic_drive_pipe").prediction.beats_per_min
    assert beats is not None
    millions = one.numbers["millions_a_year"]
    assert isinstance(millions, float)
    assert abs(millions / (beats.likely / 60.0 * 31.536) - 1.0) < 1e-9


def test_a_pipe_too_weak_for_the_beat_is_not_told_off_twice() -> None:
    codes = [v.code for v in found("peak_over_class").verdicts]
    assert "shutoff_over_class" not in codes
