"""Surges in a bare pipe against Joukowsky, the theory of reflections, and figures read in open texts."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from ram_cases import G, bare_pipe

from ramwright.ram import Segment

pytestmark = pytest.mark.engine
REFERENCE = Path(__file__).parents[1] / "reference"
STOPS = tomllib.loads((REFERENCE / "ram_water_hammer.toml").read_text("utf-8"))["stop"]


def _pipe(length: float, bore: float, speed: float) -> Segment:
    return Segment(length_m=length, bore_m=bore, wave_speed=speed)


def _heads(bare: Any, steps: int) -> np.ndarray[Any, np.dtype[np.float64]]:
    heads = np.empty(steps)
    for k in range(steps):
        bare.step()
        heads[k] = bare.s["head"]
    return heads


@pytest.mark.parametrize("row", STOPS, ids=lambda row: row["source"][:40])
def test_sudden_stop_raises_the_published_head(row: dict[str, Any]) -> None:
    """Figures and marks in tests/reference/ram_water_hammer.toml: two read, three derived."""
    bare = bare_pipe((_pipe(100.0, 0.05, row["wave_speed_m_s"]),), fall_m=50.0, reaches=10)
    bare.flow(row["change_m_s"] * float(bare.p["end_area"]))
    assert abs(_heads(bare, 1)[0] - 50.0 - row["head_m"]) <= row["within_m"]


@pytest.mark.parametrize("reaches", [2, 7, 64])
def test_joukowsky_head_and_period_of_a_frictionless_pipe(reaches: int) -> None:
    """a dV / g (Joukowsky 1898) and 4 L / a, both to 0.1 %, over ten periods."""
    speed, length, change = 1200.0, 12.0, 1.0
    bare = bare_pipe((_pipe(length, 0.05, speed),), fall_m=10.0, reaches=reaches)
    bare.flow(change * float(bare.p["end_area"]))
    heads = _heads(bare, 40 * reaches)
    rise = speed * change / G
    assert np.abs(np.abs(heads - 10.0) / rise - 1.0).max() <= 1e-3
    turns = np.flatnonzero(np.diff(np.sign(heads - 10.0)))
    period = 2.0 * np.diff(turns).mean() * float(bare.p["dt"])
    assert abs(period / (4.0 * length / speed) - 1.0) <= 1e-3


def test_joint_throws_back_and_lets_through_what_theory_says() -> None:
    """Reflection (B1 - B2)/(B1 + B2) of the head wave and transmission 2 B1/(B1 + B2), B = a/(gA)."""
    bare = bare_pipe((_pipe(10.0, 0.05, 1000.0), _pipe(5.0, 0.04, 500.0)), fall_m=10.0, reaches=20)
    bare.flow(1e-3)
    b1, b2 = (float(b) for b in bare.p["impedance"][:2])
    rise, cells = b2 * 1e-3, int(bare.p["cells"][1])
    heads = _heads(bare, 2 * cells + 1)
    assert abs(heads[0] - 10.0 - rise) <= 1e-3 * rise
    echo = (b1 - b2) / (b1 + b2)
    # At the closed end the echo doubles.
    assert abs(heads[-1] - heads[0] - 2.0 * echo * rise) <= 1e-3 * rise
    # In the upper stretch, behind the front that got through.
    k = bare.age
    through = 0.5 * float(bare.trains[0, 0, 64 - k + 9] + bare.trains[0, 1, k + 9]) - 10.0
    assert abs(through - 2.0 * b1 / (b1 + b2) * rise) <= 1e-3 * rise


def test_wave_doubles_at_a_dead_end() -> None:
    """A step of head from the tank stands twice as high at a closed end (classical reflection of +1)."""
    bare = bare_pipe((_pipe(12.0, 0.05, 1200.0),), fall_m=10.0, reaches=12)
    bare.s["level"] = 13.0
    bare.p["fall"] = 13.0
    heads = _heads(bare, 30)
    assert np.abs(heads[:12] - 10.0).max() <= 1e-9
    assert abs(heads[20] - 16.0) <= 1e-9
