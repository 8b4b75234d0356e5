"""Hand presses: simulated press by press, against balances, closed forms and what must follow."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from startup_sites import installed, varied

from ramwright.ram import closed_form
from ramwright.startup import (
    PressSeries,
    Vessel,
    find_alone,
    make_bench,
    plan_start,
    press_by_press,
    press_volumes,
    vessel_of,
    way_of,
)
from ramwright.startup.presses import MOST_PRESSES, falling

HEADS = np.linspace(0.0, 30.0, 31)
positive = st.floats(0.1, 3.0)


def start(
    volume: float = 30e-3, *, goal: float = 5.0, first: float = 1e-3, last: float = 0.2e-3
) -> tuple[str, PressSeries]:
    """A line of ``volume`` (m3) that rises evenly to 30 m, presses that bring less as it fills."""
    stored = volume * HEADS / 30.0
    return press_by_press(
        stored, HEADS, HEADS, start_head=2.0, goal=goal, press_heads=np.array([2.0, 10.0]),
        press_volumes=np.array([first, last]), press_seconds=3.0,
    )  # fmt: skip


def count(series: PressSeries) -> int:
    return int(series.number[-1])


@given(goal=st.floats(2.0, 9.0), more=positive)
def test_a_higher_goal_takes_no_fewer_presses(goal: float, more: float) -> None:
    assert count(start(goal=goal + more)[1]) >= count(start(goal=goal)[1])


@given(volume=st.floats(1e-3, 0.1), times=st.floats(1.0, 4.0))
def test_a_larger_line_takes_no_fewer_presses(volume: float, times: float) -> None:
    assert count(start(volume * times)[1]) >= count(start(volume)[1])


@given(volume=st.floats(1e-3, 0.1), goal=st.floats(2.0, 9.0), first=st.floats(0.2e-3, 3e-3))
def test_what_the_presses_bring_is_what_the_line_takes_in(volume: float, goal: float, first: float) -> None:
    """The volume balance: presses fill the line from the start to the goal, the last one over it."""
    outcome, series = start(volume, goal=goal, first=first)
    assert outcome == "reached"
    brought = float(series.volume.sum())
    needed = volume * (goal - 2.0) / 30.0
    assert needed - 1e-9 <= brought
    if len(series.volume) > 1:
        assert brought - float(series.volume[-2]) < needed + 1e-9
    # each level is that of all that was brought before it
    before = np.concatenate(([0.0], np.cumsum(series.volume)[:-1]))
    assert np.abs(series.level - np.minimum(2.0 + 30.0 * before / volume, 30.0)).max() < 1e-9


def test_presses_of_one_volume_are_counted_by_hand() -> None:
    """30 L to 30 m is 1 L a metre; 3 m at half a litre a press are 6 presses, and one sets it going."""
    outcome, series = start(goal=5.0, first=0.5e-3, last=0.5e-3)
    assert (outcome, count(series)) == ("reached", 7)
    assert float(series.seconds[-1]) == pytest.approx(18.0)


def test_a_line_of_no_length_takes_one_press() -> None:
    nothing = np.zeros(2)
    outcome, series = press_by_press(
        nothing, np.array([0.0, 20.0]), np.array([0.0, 20.0]), start_head=2.0, goal=6.0,
        press_heads=np.array([2.0]), press_volumes=np.array([1e-3]), press_seconds=3.0,
    )  # fmt: skip
    assert (outcome, count(series)) == ("reached", 1)
    assert float(series.head[0]) == 20.0


def test_presses_that_bring_nothing_end_by_name() -> None:
    assert start(first=0.0, last=0.0)[0] == "no_lift"


def test_endless_pressing_is_cut_off_by_name() -> None:
    outcome, series = start(1e3, goal=9.0)
    assert outcome == "too_many"
    assert count(series) == MOST_PRESSES


def test_volumes_are_taken_to_fall_with_the_head() -> None:
    assert falling(np.array([3.0, 2.0, 9.0, 1.0])).tolist() == [3.0, 2.0, 2.0, 1.0]


def test_the_air_vessel_follows_boyle() -> None:
    """At 10 m over an atmosphere of 10 m plain air is squeezed to half; a bladder yields above its charge."""
    plain = Vessel(volume=4e-3, charge=10.0, atmosphere=10.0)
    assert plain.air(10.0) == pytest.approx(2e-3)
    assert plain.taken(0.0) == 0.0
    charged = Vessel(volume=4e-3, charge=16.0, atmosphere=10.0)
    assert charged.charge_head == 6.0
    assert charged.taken(5.0) == 0.0
    assert charged.taken(22.0) == pytest.approx(2e-3)
    assert (charged.felt(2.0), charged.felt(9.0), plain.felt(2.0)) == (6.0, 9.0, 2.0)


def test_a_bladder_on_the_sheet_keeps_its_charge() -> None:
    """0.9 bar over 1000 kg/m3 of water and standard gravity: 9.18 m."""
    site = varied("hut")
    assert vessel_of(site, installed(site)).charge_head == pytest.approx(9.18, abs=0.01)


@pytest.mark.engine
def test_one_press_stays_under_the_column_s_energy() -> None:
    """One stroke from rest: A L V0^2 / (2 g (h - H)) in closed form, which loses nothing and errs high."""
    site = varied()
    installation = installed(site)
    bench = make_bench(installation, way_of(installation)[0], vessel_of(site, installation), draws=2)
    heads = bench.systems[0].fall_m * np.array([1.1, 1.2, 1.35])
    rams = [bench.system(0, float(h)) for h in heads]
    brought = press_volumes(rams)
    form = np.array([closed_form(r).delivered_volume for r in rams])
    assert (np.diff(brought) < 0.0).all(), "less at more head"
    assert (brought < form).all()
    assert brought[-1] > 0.3 * form[-1], "and not far under it where the extra head rules"


@pytest.mark.engine
def test_the_level_is_where_it_starts_to_run_and_runs_from_there_up() -> None:
    from ramwright.ram import run_many

    site = varied()
    installation = installed(site)
    bench = make_bench(installation, way_of(installation)[0], vessel_of(site, installation), draws=6)
    alone = find_alone(bench)
    assert set(alone.outcome) <= {"runs_alone", "starved"}
    assert np.isfinite(alone.below).all()
    assert (alone.below < alone.level).all()
    assert (alone.level / alone.below < 1.06).all()
    every = range(len(bench))
    at, under = (run_many([bench.system(k, float(h[k])) for k in every]) for h in (alone.level, alone.below))
    # running, or stumbling only after many beats
    assert (at.lifts_water() | (at.rows["beats"] >= 20)).all()
    assert not under.lifts_water().any()


@pytest.mark.engine
def test_a_larger_bore_takes_more_presses() -> None:
    counts = []
    for size in ("3/4", "1", "1 1/4"):
        site = varied()
        piece = site.delivery_line[0].model_copy(update={"pipe": f"PVC schedule 40, {size} in"})
        found = plan_start(site.model_copy(update={"delivery_line": (piece,)}), draws=10)
        assert found.presses is not None
        assert found.presses.count is not None
        counts.append(found.presses.count.likely)
    assert counts[0] < counts[1] < counts[2]


@pytest.mark.engine
def test_a_longer_line_at_one_lift_takes_more_presses() -> None:
    likely = []
    for length in ("150 ft", "300 ft", "900 ft"):
        found = plan_start(varied(delivery=length), draws=10)
        assert found.presses is not None
        assert found.presses.count is not None
        likely.append(found.presses.count.likely)
    assert likely[0] < likely[1] < likely[2]


@pytest.mark.engine
def test_spread_of_the_readings_spreads_the_presses() -> None:
    presses = plan_start(varied(moving_mass="1.0 lb ± 2 oz", fall="6 ft 1 in ± 4 in")).presses
    assert presses is not None
    assert presses.count is not None
    assert presses.count.low < presses.count.likely < presses.count.high
    assert presses.series is not None
    assert math.isfinite(float(presses.series.seconds[-1]))
