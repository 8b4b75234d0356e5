"""Any sheet that can be read ends in an answer of plain numbers or in a sentence, however odd the ram."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ramwright.appraise import appraise
from ramwright.errors import RamwrightError
from ramwright.quantities import SYSTEMS
from ramwright.services import answer, answer_schema
from ramwright.site import site_from_entries
from ramwright.site.ranges import bounds
from ramwright.wording.errors import sentences
from ramwright.wording.told import tell

pytestmark = pytest.mark.engine
PIPES = ["steel schedule 40, 2 in", "PVC schedule 40, 1 in", "PE100 SDR 11, 63 mm", "copper type M, 1 in"]


def reading(name: str, kind: Any, unit: str) -> st.SearchStrategy[str]:
    """A reading anywhere in the plausible range ``name`` (site/ranges.csv), as often near its ends."""
    limits = bounds(name, kind)
    assert limits.low is not None
    assert limits.high is not None
    low, high = limits.low, limits.high
    floor = max(low, high * 1e-6)
    spread = st.floats(0.0, 1.0).map(lambda share: float(floor * (high / floor) ** share))
    return st.one_of(st.sampled_from([low, high]), spread).map(lambda value: f"{value:.9g} {unit}".strip())


def some(**entries: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    """A section in which any of these entries may be missing."""
    return st.fixed_dictionaries({}, optional=entries)


MEASURED = st.fixed_dictionaries(
    {
        "bore": reading("bore", "small_length", "m"),
        "material": st.sampled_from(["steel", "pvc", "pe100", "copper"]),
        "length": reading("pipe_length", "length", "m"),
    }
)
NAMED = st.fixed_dictionaries(
    {"pipe": st.sampled_from(PIPES), "length": st.floats(1.0, 80.0).map(lambda m: f"{m:.3g} m")}
)
FITTED = some(bends_90=st.sampled_from([0, 1, 200]), loss=st.sampled_from([0, 3, 10_000]))
PIPE = st.builds(lambda *parts: {k: v for part in parts for k, v in part.items()}, NAMED | MEASURED, FITTED)
FALLS = reading("fall", "head", "m")
TALL = st.tuples(FALLS, reading("lift", "head", "m"))
FACTS = st.builds(
    lambda pair, flow, more: {"fall": pair[0], "lift": pair[1], "source_flow": flow, **more},
    TALL.filter(lambda pair: float(pair[0].split()[0]) < float(pair[1].split()[0])),
    reading("source_flow", "flow", "m3/s"),
    some(residual_flow=reading("residual_flow", "flow", "m3/s")),
)
SHEET = st.fixed_dictionaries(
    {
        "site": st.fixed_dictionaries(
            {"name": st.just("Any Brook")},
            optional={
                "altitude": st.sampled_from(["-430 m", "0 m", "5500 m"]),
                "water_temperature": st.sampled_from(["0 C", "32 F", "12 C", "104 F"]),
            },
        ),
        "facts": FACTS,
        "drive_pipe": st.lists(PIPE, min_size=1, max_size=3),
        "delivery_line": st.lists(PIPE, min_size=1, max_size=3),
    },
    optional={
        "drive_tank": some(
            kind=st.sampled_from(["drum", "bucket", "box", "standpipe", "none"]),
            plan_area=reading("plan_area", "area", "m2"),
            cover=reading("cover", "length", "m"),
        ),
        "drive_pipe_support": st.fixed_dictionaries(
            {"held": st.booleans()},
            optional={"stiffness": reading("pipe_stiffness", "stiffness", "N/m")},
        ),
        "ram": some(
            size=reading("ram_size", "small_length", "m"),
            waste_valve=some(
                kind=st.sampled_from(["poppet", "swing check"]),
                port_diameter=reading("port_diameter", "small_length", "m"),
                moving_mass=reading("valve_mass", "mass", "kg"),
                stroke=st.just("tune") | reading("stroke", "small_length", "m"),
                tilt=st.sampled_from(["0 deg", "90 deg", "-90 deg", "180 deg"]),
                spring_preload=reading("spring_preload", "force", "N"),
            ),
            delivery_valve=some(
                bore=reading("valve_bore", "small_length", "m"), loss=st.sampled_from([0, 0.01, 10_000])
            ),
            snifter=some(fitted=st.booleans()),
        ),
        "air_vessel": some(
            kind=st.sampled_from(["plain", "bladder"]),
            volume=reading("air_vessel_volume", "volume", "m3"),
        ),
    },
)


def check(entries: dict[str, Any]) -> None:
    """An answer in plain numbers and short lines, or an error with a sentence."""
    try:
        found = appraise(site_from_entries(entries), draws=10)
    except RamwrightError as error:
        untold = [one for one in getattr(error, "errors", (error,)) if one.code not in sentences()]
        if untold:
            raise
        return
    jsonschema.validate(json.loads(json.dumps(answer(found), allow_nan=False)), answer_schema())
    for system in SYSTEMS:
        text = tell(found, system, "en")
        assert max(map(len, text.splitlines())) <= 90
        assert "?" not in text
        assert "nan" not in text
        assert "inf " not in text


# The same sheets each time: some odd ones take seconds, and a build must not be luckier than another.
@settings(max_examples=25, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(SHEET)
def test_any_sheet_ends_in_an_answer_or_a_sentence(entries: dict[str, Any]) -> None:
    check(entries)


STEEL = {"bore": "50 mm", "material": "steel", "length": "12 m"}
BASE: dict[str, Any] = {
    "site": {"name": "Odd Brook"},
    "facts": {"fall": "2 m", "lift": "15 m", "source_flow": "1 L/s"},
    "drive_pipe": [STEEL],
    "delivery_line": [STEEL],
}
UPSIDE_DOWN = {"waste_valve": {"tilt": "180 deg", "moving_mass": "1 kg", "stroke": "9 mm"}}


@pytest.mark.parametrize(
    "changes",
    [
        {"drive_pipe": [STEEL | {"length": "2 cm"}]},
        {"drive_pipe": [STEEL | {"length": "20 km"}]},
        {"drive_pipe": [STEEL | {"bore": "5 mm", "roughness": "0 mm"}]},
        {"drive_pipe": [STEEL | {"bore": "1 m"}]},
        {"drive_pipe": [STEEL | {"wall": "0.1 mm", "material": "pe100"}]},
        {"drive_pipe": [STEEL | {"free_air": "20 %"}]},
        {"drive_pipe": [STEEL | {"bends_90": 200, "loss": 10_000}]},
        {"drive_pipe": [STEEL] * 8},
        {"drive_pipe": [STEEL | {"length": "2 cm"}, STEEL | {"length": "100 m", "material": "pe100"}]},
        {"delivery_line": [STEEL | {"bore": "5 mm", "length": "20 km"}]},
        {"delivery_line": [STEEL | {"bore": "1 m", "length": "2 cm"}]},
        {"facts": {"fall": "5 cm", "lift": "6 cm", "source_flow": "0.001 L/s"}},
        {"facts": {"fall": "50 m", "lift": "500 m", "source_flow": "1 m3/s"}},
        {"facts": {"fall": "2 m ± 100 %", "lift": "15 m ± 100 %", "source_flow": "1 L/s ± 100 %"}},
        {"facts": {"fall": "2 m ± 0 m", "lift": "15 m ± 0 m", "source_flow": "1 L/s ± 0 %"}},
        {"ram": UPSIDE_DOWN},
        {"ram": {"waste_valve": {"moving_mass": "1 g", "stroke": "200 mm"}}},
        {"ram": {"waste_valve": {"moving_mass": "100 kg", "stroke": "0.2 mm"}}},
        {"ram": {"delivery_valve": {"loss": 10_000}}},
        {"drive_pipe_support": {"held": False, "moving_mass": "0.1 kg", "stiffness": "100 N/m"}},
        {"air_vessel": {"volume": "0.01 L"}},
        {"air_vessel": {"kind": "bladder", "precharge": "50 bar"}},
        {"drive_tank": {"plan_area": "10 cm2", "cover": "0 m"}},
    ],
    ids=lambda changes: json.dumps(changes)[:60],
)
def test_odd_rams_by_hand(changes: dict[str, Any]) -> None:
    check(BASE | changes)
