"""Any geometry: numbers only, bounded steps, a named outcome, water accounted for.

``proofs/engine_fuzz.json`` holds what the long run (``./run prove``) found, with a hash of what it ran.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ram_cases import steel
from ram_fuzz import drawn, faults, ram

from ramwright.ram import AirVessel, RamSystem, run_one
from ramwright.ram.compiled import source_hash

pytestmark = pytest.mark.engine
SEED = 7
MANY = 100_000
#: Taken before anything runs: the sources may change under a long run.
ENGINE = source_hash()
OUTPUT = Path(__file__).parents[2] / "proofs" / "engine_fuzz.json"


#: How a run that ended as no number shows; ``run_many`` tells it as an error, never as an outcome.
NO_NUMBER = (" nan", " inf", " -inf")


def test_some_hundred_drawn_rams() -> None:
    """Every fault but the ones held in the next test."""
    wrong, outcomes = faults(drawn(SEED, 0, 600, pockets=True))
    assert [line for line in wrong if not line.endswith(NO_NUMBER)] == []
    assert len(outcomes) >= 4


@pytest.mark.parametrize("number", [444, 558])
def test_a_light_delivery_line_keeps_to_numbers(number: int) -> None:
    assert faults(drawn(SEED, number, 1, pockets=False))[0] == []


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True)
@given(data=st.data(), switches=st.integers(0, (1 << 19) - 1))
def test_rams_hypothesis_thinks_of(data: st.DataObject, switches: int) -> None:
    def draw(low: float, high: float) -> float:
        return math.exp(data.draw(st.floats(math.log(low), math.log(high))))

    assert faults([ram(draw, switches)])[0] == []


@pytest.mark.parametrize("air_m3", [1e-4, 1e-5, 1e-6])
def test_a_waterlogged_air_vessel_can_be_run(air_m3: float) -> None:
    """Down to a millilitre of air left in the vessel of an ordinary ram: it was no number once."""
    assert math.isfinite(run_one(replace(steel(), air_vessel=AirVessel(air_m3=air_m3))).delivery)


@pytest.mark.parametrize(("number", "pockets"), [(258, True), (1901, False), (2301, False)])
def test_faults_the_long_run_found_do_not_come_back(number: int, pockets: bool) -> None:
    """An air pocket that shrank to nothing; a state told as hanging shut; water through a leaking valve."""
    assert faults(drawn(SEED, number, 1, pockets=pockets))[0] == []


def _tried(rams: list[RamSystem], first: int) -> tuple[list[str], Counter[str]]:
    """``faults``, told by the ram's own number; a chunk that raises is gone through one by one."""
    try:
        wrong, outcomes = faults(rams)
    except ZeroDivisionError:
        wrong, outcomes = [], Counter()
        for i, one in enumerate(rams):
            try:
                found, outcome = faults([one])
            except ZeroDivisionError:
                found, outcome = ["0: divided by zero"], Counter(raised=1)
            wrong += [f"{i}: {line.split(': ', 1)[1]}" for line in found]
            outcomes += outcome
    numbered = [line.split(": ", 1) for line in wrong]
    return [f"{first + int(i)}: {what}" for i, what in numbered], outcomes


@pytest.mark.prove
def test_a_hundred_thousand_drawn_rams() -> None:
    wrong: list[str] = []
    outcomes: Counter[str] = Counter()
    for first in range(0, MANY, 500):
        found, counted = _tried(drawn(SEED, first, 500, pockets=True), first)
        wrong += found
        outcomes += counted
    made_from = hashlib.sha256(Path(__file__).with_name("ram_fuzz.py").read_bytes()).hexdigest()[:16]
    report = {
        "engine": ENGINE,
        "draws": made_from,
        "seed": SEED,
        "rams": MANY,
        "outcomes": dict(sorted(outcomes.items())),
        "faults": len(wrong),
        "first_faults": wrong[:40],
    }
    OUTPUT.parent.mkdir(exist_ok=True)
    OUTPUT.write_text(json.dumps(report, indent=1) + "\n", "utf-8")
    assert wrong == []
