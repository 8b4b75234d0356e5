"""A prediction: shares that add up, honest ranges, and the same bytes however many cores run it."""

from __future__ import annotations

import math
import os
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest
from appraise_certain import certain
from appraise_sheets import appraised, example, sheet

from ramwright.appraise import Prediction, Range, appraise, builder, install, middle, predict
from ramwright.appraise.prediction import summarise
from ramwright.ram import OUTCOMES, StoppedError, run_many
from ramwright.ram.result import pick
from ramwright.site import Site

pytestmark = pytest.mark.engine
GIVEN = ("beats_per_min", "efficiency_daubuisson", "efficiency_rankine", "peak_head", "lowest_head")
FLOWS = ("delivery", "waste", "drive")


def ranges(prediction: Prediction) -> dict[str, Range]:
    values = {f.name: getattr(prediction, f.name) for f in fields(prediction)}
    return {name: value for name, value in values.items() if isinstance(value, Range)}


@pytest.fixture(scope="module")
def some_starve() -> Prediction:
    """A creek that gives about what the ram drinks: some draws run, others do not."""
    return appraised(draws=100, facts={"source_flow": "1.6 L/s ± 20 %"}).prediction


def test_outcomes_are_shares_of_all_draws(some_starve: Prediction) -> None:
    assert tuple(some_starve.outcomes) == OUTCOMES
    assert abs(math.fsum(some_starve.outcomes.values()) - 1.0) < 1e-12
    assert 0.1 < some_starve.outcomes["starved"] < 0.9
    assert 0.1 < some_starve.runs < 0.9


def test_flows_count_draws_that_do_not_run_as_nothing(some_starve: Prediction) -> None:
    for name in FLOWS:
        flow = ranges(some_starve)[name]
        assert flow.low == 0.0, name
        assert flow.high > 0.0, name


def test_the_rest_is_told_of_the_draws_that_run(some_starve: Prediction) -> None:
    for name in GIVEN[:-1]:
        assert ranges(some_starve)[name].low > 0.0, name


def test_a_ram_that_never_runs_has_no_figures_but_no_flow() -> None:
    prediction = appraised(facts={"lift": "400 m ± 1 m"}).prediction
    assert prediction.runs == 0.0
    assert set(ranges(prediction)) == set(FLOWS)
    assert {ranges(prediction)[name] for name in FLOWS} == {Range(0.0, 0.0, 0.0)}
    assert prediction.shutoff_head is None


def test_a_run_without_a_fixed_beat_counts_as_running_only_if_it_lifts() -> None:
    installation = install(sheet())
    system = builder(installation).system(middle(installation))
    many = run_many([system] * 3)
    odd = np.full(3, OUTCOMES.index("no_period"))
    some = replace(many, outcome=odd, delivery=many.delivery * np.array([1.0, 0.0, 0.0]))
    found = summarise(some, pick(many, 0), system, names=(), scores=np.empty((3, 0)), model=0.0)
    assert abs(found.runs - 1.0 / 3.0) < 1e-12
    assert abs(found.outcomes["lift_beyond"] - 2.0 / 3.0) < 1e-12
    assert abs(math.fsum(found.outcomes.values()) - 1.0) < 1e-12


def test_ranges_are_in_order_and_hold_the_run_at_the_middle() -> None:
    prediction = appraise(sheet(), draws=200).prediction
    for name, found in ranges(prediction).items():
        assert found.low <= found.likely <= found.high, name
        assert math.isfinite(found.low + found.high), name
    for name in ("delivery", "waste", "drive", "beats_per_min", "efficiency_daubuisson", "peak_head"):
        found = ranges(prediction)[name]
        assert found.low <= getattr(prediction.middle, name) <= found.high, name


def test_what_goes_in_comes_out_as_waste_and_delivery() -> None:
    middle = appraised().prediction.middle
    assert abs((middle.waste + middle.delivery) / middle.drive - 1.0) < 0.005


def test_efficiencies_are_the_ones_they_are_named_after() -> None:
    """Rankine q (h - H) / (Q H), D'Aubuisson q h / ((Q + q) H), h from the seat and H the fall (words.md)."""
    prediction = appraised().prediction
    fall, lift = 3.0, 20.0
    waste, delivery = prediction.middle.waste, prediction.middle.delivery
    rankine = delivery * (lift - fall) / (waste * fall)
    daubuisson = delivery * lift / ((waste + delivery) * fall)
    assert abs(prediction.middle.efficiency_rankine / rankine - 1.0) < 1e-9
    assert abs(prediction.middle.efficiency_daubuisson / daubuisson - 1.0) < 1e-9


def test_the_closed_form_stands_beside_it_and_errs_high() -> None:
    """The closed form leaves out recoil and the valve's own motion; it stays within a factor of two."""
    prediction = appraised().prediction
    assert prediction.middle.delivery < prediction.check.delivery < 2.0 * prediction.middle.delivery
    assert not prediction.check.hangs_open


def test_without_any_spread_all_draws_agree() -> None:
    prediction = predict(certain(install(sheet())), draws=20)
    for name, found in ranges(prediction).items():
        assert found.low == found.likely == found.high, name
    assert 1.0 in prediction.outcomes.values()


def width(site: Site, **shares: float) -> float:
    """Width of the delivery's range when only the facts named are uncertain, by these shares of them."""
    known = certain(install(site))
    if "weight" in shares:
        weight = replace(known.valve.weight, sd=shares.pop("weight") * known.valve.weight.value)
        known = replace(known, valve=replace(known.valve, weight=weight))
    opened: dict[str, Any] = {
        name: replace(getattr(known, name), sd=share * getattr(known, name).value)
        for name, share in shares.items()
    }
    found = predict(replace(known, **opened), draws=100).delivery
    return found.high - found.low


@pytest.mark.parametrize("fact", ["fall", "lift", "weight"])
def test_a_wider_spread_makes_a_wider_range(fact: str) -> None:
    ample = sheet(facts={"source_flow": "30 L/s ± 1 %"})
    narrow, wide, wider = (width(ample, **{fact: share}) for share in (0.01, 0.05, 0.15))
    assert 0.0 < narrow < wide < wider


def test_a_source_flow_that_may_run_short_makes_a_wider_range() -> None:
    scarce = sheet(facts={"source_flow": "1.8 L/s ± 1 %"})
    assert width(scarce, source_flow=0.01) < width(scarce, source_flow=0.3)


def test_one_core_and_two_give_the_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    installation = install(example("hoher-grund"))
    found = []
    for cores in (1, 2):
        monkeypatch.setattr("os.cpu_count", lambda cores=cores: cores)
        found.append(predict(installation, draws=60))
    assert os.cpu_count() == 2
    assert repr(found[0]) == repr(found[1])


def test_more_draws_begin_with_the_same_runs() -> None:
    installation = install(sheet())
    few, many = (predict(installation, draws=n) for n in (50, 400))
    assert few.middle == many.middle
    assert abs(few.delivery.likely / many.delivery.likely - 1.0) < 0.05


def test_progress_is_told_up_to_the_end_and_can_stop_it() -> None:
    told: list[tuple[int, int]] = []

    def go_on(done: int, of: int) -> bool:
        told.append((done, of))
        return True

    predict(install(sheet()), draws=40, progress=go_on)
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert told[-1] == (40, 40)
    with pytest.raises(StoppedError):
        predict(install(sheet()), draws=40, progress=lambda *_: False)


def test_alder_fork_delivers_as_small_rams_do() -> None:
    """Common practice, no source: a 1 1/4 in ram that drinks 8 to 9 gal/min under 6 ft and lifts to 45 ft
    brings about 0.7 gal/min, and rams give back between 35 and 80 % of the energy.
    """
    prediction = appraise(example("alder-fork"), draws=100).prediction
    gallon = 3.785411784e-3
    assert 7.5 < prediction.drive.likely / gallon * 60.0 < 9.5
    assert 0.5 < prediction.delivery.likely / gallon * 60.0 < 0.9
    assert prediction.efficiency_daubuisson is not None
    assert 0.35 < prediction.efficiency_daubuisson.likely < 0.80


def test_hoher_grund_keeps_within_what_rams_do() -> None:
    """Common practice, no source: 40 to 120 beats a minute (NC State; DTU), 35 to 80 % of the energy."""
    prediction = appraise(example("hoher-grund"), draws=100).prediction
    assert prediction.efficiency_daubuisson is not None
    assert prediction.beats_per_min is not None
    assert 0.35 < prediction.efficiency_daubuisson.likely < 0.80
    assert 40.0 < prediction.beats_per_min.likely < 120.0
