"""Low to high holds what it says: eight in ten true deliveries, of sites drawn from the stated spreads."""

from __future__ import annotations

import hashlib
import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from appraise_coverage import Case, case

from ramwright.ram import Grid
from ramwright.ram.compiled import source_hash

SEED = 7
FEW, FEW_DRAWS = 150, 100
MANY, MANY_DRAWS = 500, 300
STATED, ALLOWED = 0.80, 0.05
ROOT = Path(__file__).parents[2]
OUTPUT = ROOT / "proofs" / "coverage.json"
#: What a proof is made from besides the engine: the appraisal, its figures, and how sites are drawn.
SOURCES = (
    *sorted((ROOT / "src" / "ramwright" / "appraise").glob("*.py")),
    ROOT / "src" / "ramwright" / "catalogue" / "data" / "appraisal.csv",
    ROOT / "src" / "ramwright" / "catalogue" / "data" / "valve_coefficients.csv",
    ROOT / "src" / "ramwright" / "catalogue" / "data" / "shop_rams.csv",
    Path(__file__).with_name("appraise_coverage.py"),
)


@cache
def cheap() -> tuple[Case, ...]:
    """A hundred and fifty sites on a coarse grid; the truth stays on a fine one."""
    coarse = Grid(reaches=5)
    return tuple(case(SEED, number, draws=FEW_DRAWS, grid=coarse) for number in range(FEW))


@pytest.mark.engine
def test_eight_in_ten_true_deliveries_lie_between_low_and_high() -> None:
    """80 ± 5 % of 150; one standard error of so many is 3.3 %."""
    assert abs(np.mean([one.holds for one in cheap()]) - STATED) <= ALLOWED


@pytest.mark.engine
def test_truths_miss_low_as_often_as_high() -> None:
    """One in ten below and one in ten above: 15 each, give or take three standard errors (3.7)."""
    below = sum(one.delivery < one.prediction.delivery.low for one in cheap())
    above = sum(one.delivery > one.prediction.delivery.high for one in cheap())
    assert abs(below - 0.1 * FEW) <= 11
    assert abs(above - 0.1 * FEW) <= 11


@pytest.mark.engine
def test_as_many_run_as_the_chances_say() -> None:
    """The sum of the stated chances of stopping is the number of rams that truly stop, within three of its
    standard deviations (independent sites).
    """
    chances = np.array([one.prediction.runs for one in cheap()])
    stopped = sum(one.delivery == 0.0 for one in cheap())
    strays = float(np.sqrt(np.sum(chances * (1.0 - chances))))
    assert abs(stopped - float(np.sum(1.0 - chances))) <= 3.0 * strays + 1.0


def test_the_long_proof_is_kept_and_says_the_same() -> None:
    """Made by ``./run prove``; the docs lean on it."""
    kept: dict[str, Any] = json.loads(OUTPUT.read_text("utf-8"))
    assert kept["sites"] == MANY
    assert abs(kept["between_low_and_high"] - STATED) <= ALLOWED
    assert abs(kept["below"] + kept["above"] + kept["between_low_and_high"] - 1.0) < 1e-9


@pytest.mark.prove
@pytest.mark.engine
def test_eight_in_ten_of_five_hundred() -> None:
    """80 ± 5 % of 500; one standard error of so many is 1.8 %."""
    found = [case(SEED, number, draws=MANY_DRAWS) for number in range(MANY)]
    below = sum(one.delivery < one.prediction.delivery.low for one in found) / MANY
    above = sum(one.delivery > one.prediction.delivery.high for one in found) / MANY
    beats = [
        one.prediction.beats_per_min.low <= one.beats <= one.prediction.beats_per_min.high
        for one in found
        if one.delivery > 0.0 and one.prediction.beats_per_min is not None
    ]
    report = {
        "engine": source_hash(),
        "made_from": hashlib.sha256(b"\0".join(path.read_bytes() for path in SOURCES)).hexdigest()[:16],
        "seed": SEED,
        "sites": MANY,
        "draws": MANY_DRAWS,
        "between_low_and_high": sum(one.holds for one in found) / MANY,
        "below": below,
        "above": above,
        "beats_between_low_and_high": round(sum(beats) / len(beats), 4),
        "stopped": sum(one.delivery == 0.0 for one in found),
        "stops_expected": round(sum(1.0 - one.prediction.runs for one in found), 2),
    }
    OUTPUT.write_text(json.dumps(report, indent=1) + "\n", "utf-8")
    assert abs(sum(one.holds for one in found) / MANY - STATED) <= ALLOWED
