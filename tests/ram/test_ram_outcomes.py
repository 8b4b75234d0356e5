"""Each outcome by a ram that has it, beside neighbours that do not."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from ram_cases import line, pipe, steel, valve

from ramwright.ram import OUTCOMES, DriveTank, RamSystem, run_one

pytestmark = pytest.mark.engine


def _pull(newton: float) -> RamSystem:
    return valve(steel(), opening_force=(newton, 0.0, 0.0), mass_kg=max(newton, 0.8) / 8.0)


# A nearly weightless, heavily damped valve: found by a seeded search over strokes, springs and masses.
FLUTTER = line(
    pipe(
        valve(
            steel(),
            stroke_m=0.0185,
            mass_kg=0.182,
            opening_force=(0.747, -6.66, 0.0),
            damping=67.0,
        ),
        length_m=14.0,
        wave_speed=1161.0,
    ),
    lift_m=39.0,
)
RAMS = {
    "runs": _pull(5.0),
    "hangs_open": _pull(30.0),
    "hangs_shut": valve(steel(), opening_force=(0.01, 0.0, 0.0), mass_kg=3.0),
    "chatters": FLUTTER,
    "no_period": line(steel(), lift_m=60.0),
    "lift_beyond": line(steel(), lift_m=300.0),
}
NEIGHBOURS = {
    "hangs_open": _pull(22.0),
    "hangs_shut": _pull(2.0),
    "chatters": valve(FLUTTER, opening_force=(5.0, 0.0, 0.0)),
    "no_period": line(steel(), lift_m=15.0),
    "lift_beyond": line(steel(), lift_m=60.0),
}


@pytest.mark.parametrize("outcome", RAMS)
def test_a_ram_of_each_outcome(outcome: str) -> None:
    assert run_one(RAMS[outcome]).outcome == outcome


@pytest.mark.parametrize("outcome", NEIGHBOURS)
def test_its_neighbour_has_another(outcome: str) -> None:
    assert run_one(NEIGHBOURS[outcome]).outcome != outcome


def test_every_outcome_is_shown_here() -> None:
    assert {*RAMS, "starved"} == set(OUTCOMES)


def test_what_does_not_beat_has_no_heads_and_no_delivery() -> None:
    for outcome in ("hangs_open", "hangs_shut"):
        result = run_one(RAMS[outcome])
        assert result.delivery == 0.0
        assert math.isnan(result.beats_per_min)
        assert math.isnan(result.peak_head)


def test_a_ram_hung_open_drinks_its_terminal_flow() -> None:
    """Steady flow through pipe, entrance and open valve by Darcy-Weisbach and the losses given (derived)."""
    system = RAMS["hangs_open"]
    stretch, waste = system.drive_pipe[0], system.waste_valve
    per_square = stretch.c2 * stretch.length_m / stretch.area**2
    per_square += 1.5 / (2.0 * 9.80665 * stretch.area**2)
    per_square += waste.loss_at(waste.stroke_m) / (2.0 * 9.80665 * waste.port_area**2)
    assert abs(run_one(system).waste / math.sqrt(system.fall_m / per_square) - 1.0) <= 0.01


def _fed(share: float, cover_m: float) -> RamSystem:
    """The running ram with a share of what it drinks reaching its tank."""
    ram = RAMS["runs"]
    return replace(ram, drive_tank=DriveTank(source_flow=share * run_one(ram).drive, cover_m=cover_m))


def test_too_little_water_starves_it_and_enough_does_not() -> None:
    assert run_one(_fed(0.5, 0.3)).outcome == "starved"
    assert run_one(_fed(1.05, 0.3)).outcome == "runs"


def test_within_its_cover_the_tank_is_drawn_down_first() -> None:
    """2 % too little, 1 m of cover: it runs on at a lower level; with 5 cm it starves."""
    drawn = run_one(_fed(0.98, 1.0))
    assert drawn.outcome == "runs"
    assert drawn.level < 2.99
    assert run_one(_fed(0.98, 0.05)).outcome == "starved"


def test_a_tank_drawn_down_gives_no_more_than_reaches_it() -> None:
    system = _fed(0.98, 1.0)
    assert run_one(system).drive <= system.drive_tank.source_flow * 1.005
