"""Any readings at all on a good sheet: facts with spreads, or an error about an entry."""

from __future__ import annotations

import math
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from ramwright.appraise import FactsFound, facts_of
from ramwright.appraise.book_verdicts import survey_findings
from ramwright.errors import InputError
from ramwright.site import site_from_entries
from ramwright.wording.errors import sentence
from ramwright.wording.verdicts import words

METRES = st.floats(-4.0, 8.0, allow_nan=False).map(lambda value: f"{value:.3f}")
SPOTS = st.sampled_from(
    ["ram, seat", "ram", "ram, ground", "drum, water", "intake, water", "tank, inlet", "peg", "tp 1", "tp"]
)
SECONDS = st.lists(st.floats(0.6, 900.0).map(lambda value: f"{value:.1f}"), min_size=1, max_size=4)
PLACES = st.sampled_from(["creek", "supply line", "drive", "delivery"])
BOOK = st.fixed_dictionaries(
    {
        "unit": st.just("m"),
        "rows": st.lists(
            st.tuples(SPOTS, st.one_of(METRES, st.just("")), st.just(""), st.one_of(METRES, st.just(""))).map(
                list
            ),
            min_size=2,
            max_size=5,
        ),
    }
)
HOSE = st.fixed_dictionaries(
    {
        "unit": st.just("m"),
        "rows": st.lists(st.tuples(SPOTS, SPOTS, METRES, METRES).map(list), min_size=1, max_size=4),
    }
)
GAUGE = st.fixed_dictionaries(
    {
        "point": SPOTS,
        "water": SPOTS,
        "full_scale": st.sampled_from(["10 kPa", "5 bar"]),
        "pressure_unit": st.just("kPa"),
        "readings": st.lists(
            st.floats(-50.0, 900.0).map(lambda value: f"{value:.1f}"), min_size=1, max_size=3
        ),
    },
    optional={"zero": st.just(0.1), "air_purged": st.booleans()},
)
BUCKET = st.fixed_dictionaries(
    {
        "flow": PLACES,
        "volume": st.sampled_from(["5 gal", "0.2 L ± 0 %"]),
        "time_unit": st.just("s"),
        "times": SECONDS,
    },
    optional={"caught": st.sampled_from(["5 %", "80 %", "100 %"])},
)
DEPTHS = st.lists(
    st.tuples(st.floats(0.0, 9.0), st.floats(0.0, 2.0)).map(lambda pair: [f"{v:.2f}" for v in pair]),
    min_size=2,
    max_size=4,
)
FLOAT_RUN = st.fixed_dictionaries(
    {
        "flow": PLACES,
        "unit": st.just("m"),
        "length": st.just(9),
        "time_unit": st.just("s"),
        "times": SECONDS,
        "section": st.lists(
            st.fixed_dictionaries({"rows": DEPTHS}, optional={"along": METRES.map(lambda v: v.strip("-"))}),
            min_size=1,
            max_size=2,
        ),
    },
    optional={"coefficient": st.sampled_from([0.06, 0.85, 1.2]), "bed": st.just("concrete channel")},
)
HEADS = st.lists(st.floats(0.001, 2.9).map(lambda value: f"{value:.3f}"), min_size=1, max_size=2)
WEIR: dict[str, Any] = {
    "flow": PLACES,
    "unit": st.just("m"),
    "crest_height": st.sampled_from([0.001, 0.4, 19]),
    "channel_width": st.sampled_from([0.01, 1, 190]),
    "heads": HEADS,
}
MAYBE: dict[str, Any] = {
    "tailwater": st.sampled_from([-0.3, 0, 0.2]),
    "gauge_distance": st.sampled_from([0, 0.5]),
}
NOTCH = st.fixed_dictionaries(
    {**WEIR, "angle": st.sampled_from(["6 deg", "60 deg", "90 deg", "150 deg"])}, optional=MAYBE
)
BOARD = st.fixed_dictionaries(
    {**WEIR, "width": st.sampled_from([0.005, 1, 90])},
    optional={
        **MAYBE,
        "contractions": st.integers(0, 2),
        "relation": st.sampled_from(["francis", "rehbock", "kindsvater-carter"]),
    },
)
TAPE = st.tuples(SPOTS, SPOTS, st.sampled_from(["0.2 m", "1 ft ± 1 in", "0 m ± 0 m"])).map(list)
VISITS = st.lists(
    st.fixed_dictionaries(
        {},
        optional={
            "stage": st.sampled_from(["low", "normal", "flood"]),
            "intake_dam": st.sampled_from(["in", "out", "none"]),
            "tape": st.lists(TAPE, max_size=2),
            "level_book": st.lists(BOOK, max_size=2),
            "hose": st.lists(HOSE, max_size=2),
            "gauge": st.lists(GAUGE, max_size=1),
            "bucket": st.lists(BUCKET, max_size=2),
            "float_run": st.lists(FLOAT_RUN, max_size=1),
            "v_notch": st.lists(NOTCH, max_size=1),
            "rectangular_weir": st.lists(BOARD, max_size=1),
        },
    ),
    min_size=1,
    max_size=3,
)


@settings(max_examples=400, deadline=None)
@given(visits=VISITS)
def test_any_field_book_is_reduced_or_refused(visits: list[dict[str, Any]]) -> None:
    """Facts with finite spreads, findings with words; or an error about an entry of the sheet."""
    site = site_from_entries({"site": {"name": "x"}, "visit": visits})
    try:
        facts = facts_of(site)
    except InputError as error:
        field, said = error.field or "", sentence(error, "us", "en")
    else:
        _sound(facts)
        return
    assert field.startswith("visit"), field
    assert "{" not in said
    assert said.endswith(".")


def _sound(facts: FactsFound) -> None:
    for estimate in (facts.fall, facts.lift, facts.source_flow):
        assert estimate is None or (math.isfinite(estimate.value) and math.isfinite(estimate.sd))
    for verdict in survey_findings(facts):
        told = words(verdict.code, verdict.numbers, "us", "en")
        assert "{" not in "".join(told)
        assert "?" not in told.why
