"""An appraisal in plain text: short lines, honest numbers, cautions every time, in either unit system."""

from __future__ import annotations

import ast
import math
import re
from dataclasses import fields, replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ramwright.appraise import Appraisal, Prediction, appraise
from ramwright.quantities import SYSTEMS, System
from ramwright.site import read_sheet_text
from ramwright.wording import answer, told
from ramwright.wording.answer import FACTS, FIGURES, HEADINGS, SENTENCES
from ramwright.wording.blanks import blanks
from ramwright.wording.told import _rounded, tell
from ramwright.wording.verdicts import first, templates

EXAMPLES = Path(__file__).parents[2] / "examples"
WIDEST = 90
NOT_OURS = r"\b(?:impulse valve|clack|supply pipe|air chamber|P10|P50|P90|posterior)\b|(?<![Aa]ir )\bvessel\b"
BARE = """
[site]
name = "Bare Brook"
[facts]
fall = "2 m"
lift = "15 m"
source_flow = "1 L/s"
[[drive_pipe]]
pipe = "steel schedule 40, 2 in"
length = "12 m"
[[delivery_line]]
pipe = "PE100 SDR 11, 32 mm"
length = "100 m"
"""
PLASTIC_AND_LOOSE = (
    BARE.replace("steel schedule 40, 2 in", "PVC schedule 40, 2 in").replace('"12 m"', '"1.5 m"')
    + "[drive_pipe_support]\nheld = false\n"
)
HUGE = """
[site]
name = "Wide River"
[facts]
fall = "50 m"
lift = "500 m"
source_flow = "1 m3/s"
demand_per_day = "1000 m3/day"
[[drive_pipe]]
bore = "500 mm"
material = "steel"
length = "400 m"
[ram]
size = "400 mm"
[[delivery_line]]
bore = "200 mm"
material = "steel"
length = "20 km"
"""
TINY = """
[site]
name = "A Drip"
[facts]
fall = "5 cm"
lift = "6 cm"
source_flow = "0.001 L/s"
[[drive_pipe]]
bore = "5 mm"
material = "copper"
length = "2 cm"
[ram]
size = "8 mm"
[[delivery_line]]
bore = "5 mm"
material = "copper"
length = "2 cm"
"""


def alder_fork() -> str:
    return (EXAMPLES / "alder-fork.toml").read_text("utf-8")


SHEETS = {
    "alder-fork": alder_fork(),
    "hoher-grund": (EXAMPLES / "hoher-grund.toml").read_text("utf-8"),
    "bare": BARE,
    "plastic and loose": PLASTIC_AND_LOOSE,
    "never runs": alder_fork().replace('"45 ft ± 1 ft"', '"900 ft ± 1 ft"'),
    "no water left": alder_fork().replace('"3 gal/min"', '"30 gal/min"'),
    "huge": HUGE,
    "tiny": TINY,
}


@cache
def appraised(name: str) -> Appraisal:
    return appraise(read_sheet_text(SHEETS[name], name), draws=30)


def text(name: str, system: System) -> str:
    return tell(appraised(name), system, "en")


def section(whole: str, heading: str) -> list[str]:
    """Lines under a heading, down to the next one."""
    block = whole.split(f"{HEADINGS[heading]}\n", 1)[1].split("\n\n", 1)[0]
    return block.splitlines()[1:]


@pytest.mark.engine
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", SHEETS)
def test_lines_are_short_and_hold_no_holes(name: str, system: System) -> None:
    whole = text(name, system)
    assert max(map(len, whole.splitlines())) <= WIDEST
    assert not re.search(r"\b(?:nan|inf)\b|[?{}]|\de[+-]?\d", whole)
    assert whole.endswith("\n")
    assert not whole.endswith("\n\n")
    assert "\n\n\n" not in whole


@pytest.mark.engine
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", [name for name in SHEETS if name not in ("huge", "tiny")])
def test_no_number_has_six_digits(name: str, system: System) -> None:
    assert not re.search(r"\d{6}|\d[.]\d{5}", text(name, system))


@pytest.mark.engine
@pytest.mark.parametrize("name", SHEETS)
def test_units_are_those_asked_for_whatever_the_sheet_is_written_in(name: str) -> None:
    us, metric = text(name, "us"), text(name, "metric")
    for row in FACTS.values():
        assert re.search(rf"  {row} .* (?:ft|in|gal/min|ft³/s)\b", us), row
        assert re.search(rf"  {row} .* (?:m|mm|L/min|L/s|m³/s)\b", metric), row
    assert not re.search(r"\d (?:m|mm|L/s|L/min|L/day|m³/day|kg|g|N)\b", _without_names(us))
    assert not re.search(r"\d (?:ft|in(?! 100)|gal/min|gal/day|lb|oz|lbf)\b", _without_names(metric))


def _without_names(whole: str) -> str:
    """Text without the names of pipes and works, which keep the units they are sold and printed in."""
    flat = " ".join(whole.split())
    return re.sub(r"(?:PVC|PE\d+|Steel)[^.;]*?, \S+(?: \d/\d)? (?:in|mm)|ram of 51 mm", "", flat)


@pytest.mark.engine
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", SHEETS)
def test_cautions_are_told_every_time(name: str, system: System) -> None:
    whole = " ".join(text(name, system).split())
    for code in ("caution_trapped_pressure", "caution_water_rights", "caution_drinking_water"):
        caution = templates()[code]
        assert caution.title in whole
        assert caution.do in whole


@pytest.mark.engine
@pytest.mark.parametrize("name", SHEETS)
def test_words_are_the_trades(name: str) -> None:
    assert not re.search(NOT_OURS, " ".join(text(name, "us").split()))


@pytest.mark.engine
def test_the_first_lines_say_whether_it_runs_and_how_much() -> None:
    lines = text("alder-fork", "us").splitlines()
    assert lines[:2] == ["Alder Fork", "=========="]
    assert lines[2].startswith("This ram will run here. Chance: ")
    water = next(line for line in lines if line.startswith("Water to the tank: likely "))
    likely, unit, low, high = re.findall(r"likely (\S+) (\S+); between (\S+) and (\S+) eight", water)[0]
    row = next(line for line in lines if line.startswith("  Water to the tank  "))
    assert row.split()[-4:] == [low, likely, high, unit]


@pytest.mark.engine
@pytest.mark.parametrize(
    ("runs", "said"), [(0.95, "This ram will run"), (0.5, "may run here or not"), (0.05, "will not run here")]
)
def test_the_verdict_of_the_first_line_follows_the_chance(runs: float, said: str) -> None:
    one = appraised("alder-fork")
    outcomes = dict.fromkeys(one.prediction.outcomes, 0.0) | {"runs": runs, "starved": 1.0 - runs}
    changed = replace(one, prediction=replace(one.prediction, outcomes=outcomes))
    assert said in " ".join(tell(changed, "us", "en").split())[:200]


@pytest.mark.engine
def test_a_ram_that_never_runs_is_told_why_and_given_no_empty_figures() -> None:
    whole = text("never runs", "us")
    assert "This ram will not run here. Chance that it runs: 0 in 100" in " ".join(whole.split())
    assert "It beats but delivers nothing." in whole
    assert "Water to the tank: likely" not in whole
    rows = [line for line in section(whole, "prediction") if re.search(r" 0 +0 +0 ", line)]
    assert len(rows) == 3
    assert FIGURES["beats_per_min"] not in [line[2:36].strip() for line in section(whole, "prediction")]


@pytest.mark.engine
def test_what_most_likely_stops_it_is_explained_whatever_the_middle_does() -> None:
    one = appraised("alder-fork")
    outcomes = dict.fromkeys(one.prediction.outcomes, 0.0) | {"no_period": 0.4, "chatters": 0.2}
    changed = replace(one, prediction=replace(one.prediction, outcomes=outcomes | {"hangs_shut": 0.4}))
    whole = " ".join(tell(changed, "us", "en").split())
    assert "The waste valve closes and stays closed." in whole
    assert "flutters" not in whole
    assert "no beat is like the one before" not in whole


@pytest.mark.engine
def test_a_setting_that_drinks_too_much_is_not_recommended() -> None:
    said = " ".join(section(text("no water left", "us"), "setting"))
    assert "No setting suits the flow" in said
    assert "No setting" not in " ".join(section(text("alder-fork", "us"), "setting"))


@pytest.mark.engine
def test_a_spread_nobody_stated_is_said_to_be_a_usual_one() -> None:
    assert all("usual spread" in line for line in section(text("bare", "us"), "facts"))
    assert not any("usual spread" in line for line in section(text("alder-fork", "us"), "facts"))


@pytest.mark.engine
def test_everything_taken_is_told_with_its_mark() -> None:
    lines = section(text("bare", "us"), "assumptions")
    assert len(lines) == len(appraised("bare").installation.assumptions)
    assert all(
        re.search(r"\((?:read|memory|derived|judgement|common practice, no source)\)$", x) for x in lines
    )
    temperature = next(line for line in lines if "water temperature" in line)
    shown = re.search(r"(\d+\.?\d*) °F", temperature)
    assert shown
    assert 33.0 < float(shown[1]) < 80.0


@pytest.mark.engine
def test_a_fixed_valve_and_a_full_sheet_need_no_further_section() -> None:
    whole = text("hoher-grund", "metric")
    assert HEADINGS["setting"] not in whole
    assert HEADINGS["assumptions"] not in whole


@pytest.mark.engine
@pytest.mark.parametrize("name", ["x" * 200, "A\x1b[31mred\x07 Brook", "two\nlines  and\ttabs", "Åsbäcken ±"])
def test_a_name_of_any_kind_keeps_the_page_in_shape(name: str) -> None:
    one = appraised("bare")
    site = one.site.model_copy(update={"site": one.site.site.model_copy(update={"name": name})})
    lines = tell(replace(one, site=site), "us", "en").splitlines()
    assert max(map(len, lines)) <= WIDEST
    assert all(line.isprintable() for line in lines)
    heading = lines[: next(k for k, line in enumerate(lines) if line.startswith("==="))]
    assert "".join(heading).replace(" ", "") == "".join(c for c in name if c.isprintable() and c != " ")


@pytest.mark.engine
def test_the_cross_check_says_when_it_has_no_beat() -> None:
    one = appraised("alder-fork")

    def check(**changes: Any) -> str:
        form = replace(one.prediction.check, **changes)
        changed = replace(one, prediction=replace(one.prediction, check=form))
        return " ".join(section(tell(changed, "us", "en"), "check"))

    assert "beats a minute" in check()
    assert SENTENCES["check_hangs"] in check(hangs_open=True, beat_time=math.inf)
    assert SENTENCES["check_shut"] in check(beat_time=math.inf)


def _not_absurdly_small(values: list[float]) -> list[float]:
    return sorted(0.0 if abs(value) < 1e-200 else value for value in values)


@given(st.lists(st.floats(-1e6, 1e6), min_size=3, max_size=3).map(_not_absurdly_small))
def test_rounding_keeps_what_the_spread_allows_and_no_more(values: list[float]) -> None:
    shown = _rounded(values)
    read = [float(one.replace("−", "-")) for one in shown]
    assert len({one.partition(".")[2].__len__() for one in shown}) == 1
    assert read == sorted(read)
    spread, size = max(values) - min(values), max(map(abs, values))
    allowed = spread / 5.2 if spread > 1e-3 * size else 0.005 * size
    for value, back in zip(values, read, strict=True):
        assert abs(value - back) <= allowed * (1.0 + 1e-9)
    assert "−0" not in {one.rstrip("0").rstrip(".") for one in shown}
    # Digits kept: the spread's first, two where that is a 1, or three of the size.
    if size > 0.0:
        least = 10.0 ** math.floor(math.log10(max(spread / 2.6, 1e-3 * size / 2.6, 1e-300))) / 10.0
        assert all(abs(back / least - round(back / least)) < 1e-3 for back in read)


@pytest.mark.parametrize(
    ("values", "shown"),
    [
        ([948.3, 1021.4, 1083.0], ["950", "1020", "1080"]),
        ([6.93, 7.88, 8.84], ["6.9", "7.9", "8.8"]),
        ([0.0, 0.0, 0.0], ["0", "0", "0"]),
        ([4.8123, 4.8124, 4.8125], ["4.81", "4.81", "4.81"]),
        ([-13.9, -3.2, 0.02], ["−14", "−3", "0"]),
        ([12345.0, 23456.0, 34567.0], ["12000", "23000", "35000"]),
        ([778.1, 925.6, 1058.2], ["780", "930", "1060"]),  # ± 108: two digits of the spread
    ],
)
def test_rounding_by_hand(values: list[float], shown: list[str]) -> None:
    assert _rounded(values) == shown


def test_every_figure_and_sentence_is_used() -> None:
    ranges = [f.name for f in fields(Prediction) if "Range" in str(f.type)]
    assert list(FIGURES) == ranges
    source = Path(told.__file__).read_text("utf-8")
    for name in (*SENTENCES, *HEADINGS):
        assert re.search(rf"[\"']{name}[\"']", source), name


def test_every_sentence_is_a_plain_text_with_plain_blanks() -> None:
    """A sentence is looked up as it stands, so nothing may be put into it before."""
    for module in (answer, first):
        assert module.__file__ is not None
        tree = ast.parse(Path(module.__file__).read_text("utf-8"))
        tables = [node for node in tree.body if isinstance(node, ast.AnnAssign)]
        assert not [node for table in tables for node in ast.walk(table) if isinstance(node, ast.JoinedStr)]
    for template in (*SENTENCES.values(), *(part for each in templates().values() for part in each)):
        blanks(template)


def test_verdicts_are_short_and_in_the_trades_words() -> None:
    for code, said in first.TEMPLATES.items():
        assert len(said.title) <= 60, code
        assert len(said.why) + len(said.do) <= 260, code
        assert not re.search(NOT_OURS, " ".join(said)), code
