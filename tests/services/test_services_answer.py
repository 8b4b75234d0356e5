"""The answer as JSON: its schema, the names others' scripts rely on, and numbers that are always numbers."""

from __future__ import annotations

import json
import math
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from ramwright.appraise import Appraisal, appraise
from ramwright.ram import OUTCOMES
from ramwright.services import answer, answer_schema, appraise_sheet
from ramwright.site import read_sheet_text

EXAMPLES = Path(__file__).parents[2] / "examples"
SHEETS = ("alder-fork", "hoher-grund", "never runs", "nothing stated")
NOTHING_STATED = """
[site]
name = "Bare Brook"
[facts]
fall = "2 m"
lift = "15 m"
source_flow = "1 L/s"
[[drive_pipe]]
bore = "50 mm"
material = "steel"
length = "12 m"
[[delivery_line]]
pipe = "PE100 SDR 11, 32 mm"
length = "100 m"
"""
NUMBER_OR_NULL = (
    "beats_per_min",
    "efficiency_daubuisson",
    "efficiency_rankine",
    "peak_head_m",
    "lowest_head_m",
    "shutoff_head_m",
)
FLOWS = ("delivery_m3_s", "waste_m3_s", "drive_m3_s")


@cache
def appraised(name: str) -> Appraisal:
    if name == "nothing stated":
        return appraise(read_sheet_text(NOTHING_STATED, name), draws=40)
    if name == "never runs":
        text = (EXAMPLES / "alder-fork.toml").read_text("utf-8")
        return appraise(read_sheet_text(text.replace('"45 ft ± 1 ft"', '"900 ft ± 1 ft"'), name), draws=40)
    return appraise_sheet(EXAMPLES / f"{name}.toml", draws=40)


def strictly(said: dict[str, Any]) -> dict[str, Any]:
    """``said`` written and read again as JSON proper, in which nothing but numbers are numbers."""

    def refuse(text: str) -> float:
        raise AssertionError(f"{text} is no JSON")

    found: dict[str, Any] = json.loads(json.dumps(said, allow_nan=False), parse_constant=refuse)
    return found


@cache
def said(name: str) -> dict[str, Any]:
    return strictly(answer(appraised(name)))


def test_the_schema_is_a_schema_and_describes_every_entry() -> None:
    schema = answer_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    for entry in ("facts", "outcomes", "prediction", "setting", "deciders", "verdicts"):
        assert schema["properties"][entry]["description"], entry


@pytest.mark.engine
@pytest.mark.parametrize("name", SHEETS)
def test_an_answer_keeps_its_schema(name: str) -> None:
    jsonschema.validate(said(name), answer_schema(), cls=jsonschema.Draft202012Validator)


@pytest.mark.engine
@pytest.mark.parametrize("name", SHEETS)
def test_the_schema_names_every_entry_there_is(name: str) -> None:
    """An entry the schema does not know could change its name unseen."""

    def closed(schema: Any) -> Any:
        if isinstance(schema, list):
            return [closed(inner) for inner in schema]
        if not isinstance(schema, dict):
            return schema
        found = {key: closed(inner) for key, inner in schema.items()}
        if "properties" in found and found.get("type") == "object":
            found["additionalProperties"] = False
        return found

    jsonschema.validate(said(name), closed(answer_schema()), cls=jsonschema.Draft202012Validator)


@pytest.mark.parametrize(
    "broken",
    [
        {"schema_version": 2},
        {"facts": {}},
        {"outcomes": {"runs": 1.0}},
        {"prediction": {}},
        {"verdicts": [{"code": "x"}]},
    ],
)
@pytest.mark.engine
def test_the_schema_refuses_what_is_not_an_answer(broken: dict[str, Any]) -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(said("alder-fork") | broken, answer_schema())


@pytest.mark.engine
def test_the_names_are_those_promised() -> None:
    found = said("alder-fork")
    assert found["schema_version"] == 1
    for fact in ("fall_m", "lift_m", "source_flow_m3_s"):
        assert {"value", "sd"} <= set(found["facts"][fact])
    assert set(found["outcomes"]) == set(OUTCOMES)
    assert set(found["prediction"]) == {*FLOWS, *NUMBER_OR_NULL}
    for name in (*FLOWS, *NUMBER_OR_NULL):
        assert set(found["prediction"][name]) == {"p10", "p50", "p90"}
    for verdict in found["verdicts"]:
        assert {"code", "grade", "title", "why", "do", "source", "mark"} <= set(verdict)


@pytest.mark.engine
@pytest.mark.parametrize("name", ["alder-fork", "hoher-grund"])
def test_every_figure_is_the_one_it_is_named_after(name: str) -> None:
    prediction, found = appraised(name).prediction, said(name)["prediction"]
    for entry, value in {
        "delivery_m3_s": prediction.delivery,
        "waste_m3_s": prediction.waste,
        "drive_m3_s": prediction.drive,
        "beats_per_min": prediction.beats_per_min,
        "efficiency_daubuisson": prediction.efficiency_daubuisson,
        "efficiency_rankine": prediction.efficiency_rankine,
        "peak_head_m": prediction.peak_head,
        "lowest_head_m": prediction.lowest_head,
        "shutoff_head_m": prediction.shutoff_head,
    }.items():
        assert value is not None
        assert found[entry] == {"p10": value.low, "p50": value.likely, "p90": value.high}, entry


@pytest.mark.engine
def test_facts_are_the_sheets_in_si() -> None:
    """6 ft 1 in and 45 ft (0.3048 m a foot), 14 gal/min ± 6 % (3.785411784 L a gallon)."""
    facts = said("alder-fork")["facts"]
    assert abs(facts["fall_m"]["value"] - 73 * 0.0254) < 1e-9
    assert abs(facts["fall_m"]["sd"] - 0.0254) < 1e-9
    assert abs(facts["lift_m"]["value"] - 45 * 0.3048) < 1e-9
    gallons = 14 * 3.785411784e-3 / 60
    assert abs(facts["source_flow_m3_s"]["value"] / gallons - 1.0) < 1e-9
    assert abs(facts["source_flow_m3_s"]["sd"] / gallons - 0.06) < 1e-9
    assert facts["residual_flow_m3_s"]["origin"] == "typed"
    assert said("nothing stated")["facts"]["residual_flow_m3_s"]["origin"] == "none stated"


@pytest.mark.engine
@pytest.mark.parametrize("name", SHEETS)
def test_outcomes_add_up_and_percentiles_are_in_order(name: str) -> None:
    assert abs(math.fsum(said(name)["outcomes"].values()) - 1.0) < 1e-9
    for found in said(name)["prediction"].values():
        assert found is None or found["p10"] <= found["p50"] <= found["p90"]


@pytest.mark.engine
def test_a_ram_that_never_runs_has_flows_of_nothing_and_no_other_figures() -> None:
    prediction = said("never runs")["prediction"]
    assert said("never runs")["outcomes"]["runs"] == 0.0
    assert {name for name, found in prediction.items() if found is None} == set(NUMBER_OR_NULL)
    for name in FLOWS:
        assert prediction[name] == {"p10": 0.0, "p50": 0.0, "p90": 0.0}


@pytest.mark.engine
@pytest.mark.parametrize("name", SHEETS)
def test_units_change_sentences_but_no_number(name: str) -> None:
    us, metric = (strictly(answer(appraised(name), system=system)) for system in ("us", "metric"))
    assert json.dumps(us) != json.dumps(metric)
    for found in (us, metric):
        for verdict in found["verdicts"]:
            for part in ("title", "why", "do"):
                del verdict[part]
    assert us == metric


@pytest.mark.engine
def test_a_number_json_has_no_word_for_is_null() -> None:
    """Nothing pulls this valve open, so the closed form beside it has no beat: its time is endless."""
    text = NOTHING_STATED + '[ram.waste_valve]\ntilt = "180 deg"\nmoving_mass = "1 kg"\nstroke = "9 mm"\n'
    found = strictly(answer(appraise(read_sheet_text(text, "upside down"), draws=10)))
    jsonschema.validate(found, answer_schema())
    assert found["cross_check"]["beats_per_min"] == 0.0
    assert found["cross_check"]["waste_m3_s"] == 0.0


@pytest.mark.engine
def test_what_was_taken_is_listed_with_its_mark() -> None:
    taken = {a["field"]: a for a in said("nothing stated")["assumptions"]}
    assert {"drive_pipe[0].wall", "drive_pipe[0].roughness", "site.water_temperature"} <= set(taken)
    assert all(a["mark"] for a in taken.values())
    assert abs(taken["site.water_temperature"]["value"] - 283.15) < 10.0  # a shaded creek, in kelvin


@pytest.mark.engine
def test_the_setting_is_told_where_one_was_chosen() -> None:
    chosen = said("alder-fork")["setting"]
    assert chosen["what"] == "stroke"
    assert chosen["fits_low_flow"] is True
    assert 0.0 < chosen["value"] < 0.035
    assert said("hoher-grund")["setting"] is None
