"""Any lines a sheet can give end in an answer, tables and words, or in a sentence."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ramwright.appraise import appraise
from ramwright.errors import RamwrightError
from ramwright.services import answer
from ramwright.services.profile import picture_of_profile, profile_answer, tables_of
from ramwright.site import site_from_entries
from ramwright.site.ranges import bounds
from ramwright.wording.errors import sentence, sentences
from ramwright.wording.profile import tell_profile
from ramwright.wording.told import tell

pytestmark = pytest.mark.engine
PIPES = (
    ("steel schedule 40, 2 in", "screwed"),
    ("steel medium, DN 50", "rubber coupling"),
    ("PVC schedule 40, 1 in", "glued"),
    ("PVC schedule 40, 2 in", "threaded pvc"),
    ("PE100 SDR 17, 63 mm", "barb one clamp"),
    ("PE100 SDR 11, 32 mm", "compression"),
    ("PE100 SDR 11, 32 mm", "glued"),  # not for this pipe
)


def reading(name: str, kind: Any, unit: str) -> st.SearchStrategy[str]:
    """A reading in the plausible range ``name``, often at its ends."""
    limits = bounds(name, kind)
    assert limits.low is not None
    assert limits.high is not None
    low, high = limits.low, limits.high
    inside = st.floats(0.0, 1.0).map(lambda share: low + (high - low) * share**4)
    return st.one_of(st.sampled_from([low, high]), inside).map(lambda value: f"{value:.9g} {unit}".strip())


def some(**entries: st.SearchStrategy[Any]) -> st.SearchStrategy[dict[str, Any]]:
    """A section in which any of these entries may be missing."""
    return st.fixed_dictionaries({}, optional=entries)


PIECE = st.builds(
    lambda pipe, joined, length, more: {
        "pipe": pipe[0],
        **({"joint": pipe[1]} if joined else {}),
        "length": f"{length:.4g} m",
        **more,
    },
    st.sampled_from(PIPES),
    st.integers(0, 3).map(lambda k: k == 0),
    st.floats(2.0, 300.0),
    some(
        bends_45=st.integers(0, 4),
        supports_every=reading("supports_every", "length", "m"),
        buried=reading("buried", "length", "m"),
    ),
)
SHARES = st.lists(st.floats(0.02, 0.98), max_size=5, unique=True).map(sorted)
LEVELS = st.lists(st.floats(-4.0, 25.0), min_size=7, max_size=7)
ROUTE = st.fixed_dictionaries(
    {
        "unit": st.just("m"),
        "shares": SHARES,
        "levels": st.lists(st.floats(-4.0, 25.0), min_size=7, max_size=7),
    },
    optional={"measured": st.sampled_from(["level", "along the slope"]), "level_spread": st.just("5 cm")},
)


def along_pipe(entries: dict[str, Any]) -> dict[str, Any]:
    """Stations of each profile put along its own pipe, so that most of them can be laid."""
    profiles = entries.get("profiles", {})
    for line in ("supply_line", "drive_pipe", "delivery_line"):
        route = profiles.get(line)
        pieces = entries.get(line, [])
        if route is None:
            continue
        length = sum(float(piece["length"].split()[0]) for piece in pieces) or 50.0
        stations = [0.0, *(round(share * length, 2) for share in route.pop("shares")), round(length, 2)]
        rising = sorted(set(stations))
        route["rows"] = [[x, round(z, 2)] for x, z in zip(rising, route.pop("levels"), strict=False)]
        # the last level ends the line wherever the list was cut
        route["rows"] += [] if len(route["rows"]) == len(rising) else [[rising[-1], 1.0]]
    return entries


SNIFTERS = ({"fitted": False}, {"diameter": "0.2 mm", "height": "-2 m"}, {"diameter": "25 mm"})
SHEET = st.fixed_dictionaries(
    {
        "site": some(frost_depth=reading("frost_depth", "length", "m")).map(
            lambda s: {"name": "Any Brook", **s}
        ),
        "facts": st.fixed_dictionaries(
            {
                "fall": st.sampled_from(["0.6 m", "2 m", "8 m"]),
                "lift": st.sampled_from(["9 m", "25 m", "160 m"]),
                "source_flow": st.sampled_from(["0.05 L/s", "1 L/s", "40 L/s"]),
            },
            optional={
                "residual_flow": st.sampled_from(["0 L/s", "0.5 L/s", "90 L/s"]),
                "mean_flow": reading("source_flow", "flow", "m3/s"),
                "low_flow": reading("source_flow", "flow", "m3/s"),
            },
        ),
        "drive_pipe": st.lists(PIECE, min_size=1, max_size=2),
        "delivery_line": st.lists(PIECE, min_size=1, max_size=3),
    },
    optional={
        "supply_line": st.lists(PIECE, min_size=1, max_size=2),
        "intake": some(
            kind=st.sampled_from(["strainer", "open end"]),
            screen_area=reading("screen_area", "area", "m2"),
            opening=reading("opening", "small_length", "m"),
            open_area=reading("screen_area", "area", "m2"),
            cover=reading("cover", "length", "m"),
            drop=reading("drop", "head", "m"),
            debris=st.sampled_from(["little", "heavy"]),
            silt=reading("silt", "density", "kg/m3"),
            fish=st.sampled_from(["none", "fry"]),
        ),
        "drive_tank": some(
            plan_area=reading("plan_area", "area", "m2"),
            cover=reading("cover", "length", "m"),
            sump=reading("sump", "length", "m"),
            lid=st.sampled_from(["open", "sealed"]),
            overflow=some(
                kind=st.sampled_from(["notch", "upright pipe", "side pipe"]),
                width=reading("overflow_width", "small_length", "m"),
                freeboard=reading("freeboard", "length", "m"),
            ),
        ),
        "ram": some(
            count=st.integers(1, 5),
            mount=st.sampled_from(["lying free", "set in concrete"]),
            tailwater=reading("tailwater", "length", "m"),
            snifter=st.sampled_from(SNIFTERS),
            delivery_valve=some(lag=reading("lag", "time", "s"), leak=reading("leak", "fraction", "")),
        ),
        "air_vessel": some(
            kind=st.sampled_from(["plain", "bladder"]), material=st.sampled_from(["steel", "pvc", "pe100"])
        ),
        "tank": some(
            volume=reading("tank_volume", "volume", "m3"),
            top_inlet=st.booleans(),
            float_valve=st.booleans(),
            overflow=reading("bore", "small_length", "m"),
            stand_height=reading("stand_height", "length", "m"),
            use=st.sampled_from(["drinking", "stock"]),
        ),
        "profiles": some(
            seat=st.sampled_from(["0 m", "3 m", "-900 m"]),
            supply_line=ROUTE,
            drive_pipe=ROUTE,
            delivery_line=ROUTE,
        ),
    },
).map(along_pipe)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(entries=SHEET)
def test_any_lines_end_in_an_answer_or_a_sentence(entries: dict[str, Any]) -> None:
    try:
        found = appraise(site_from_entries(entries), draws=4)
    except RamwrightError as error:
        several = getattr(error, "errors", (error,))
        for one in several:
            assert one.code in sentences(), one
            assert "{" not in sentence(one, "metric")
        return
    json.dumps(answer(found), allow_nan=False)
    json.dumps(profile_answer(found), allow_nan=False)
    for text in (tell(found, "us", "en"), "\n".join(tell_profile("x", tables_of(found), "metric", "en"))):
        assert "{" not in text
        assert not re.search(r"\b(nan|inf)\b", text)


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(entries=SHEET)
def test_any_lines_that_can_be_laid_can_be_drawn(entries: dict[str, Any]) -> None:
    try:
        found = appraise(site_from_entries(entries), draws=2)
    except RamwrightError:
        return
    assert picture_of_profile(found, units="us", language="en").svg().startswith("<svg")
