"""What decides: shares against indices known in closed form and scipy's, halved spreads against reruns."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
import scipy.stats
from appraise_certain import certain
from appraise_sheets import sheet
from numpy.typing import NDArray

from ramwright.appraise import Installation, Prediction, builder, install, middle, predict
from ramwright.appraise.draws import Drawn, estimates
from ramwright.appraise.sensitivity import (
    GROUPS,
    Decider,
    decides,
    narrowed_weights,
    ranks,
    share_of_variance,
    weighted_range,
)
from ramwright.ram import run_many
from ramwright.wording.deciding import AGAIN, NAMES

Array = NDArray[np.float64]
MANY = 4000
STARVING: dict[str, Any] = {"facts": {"source_flow": "1.6 L/s ± 20 %"}}


def scores(columns: int, count: int = MANY) -> Array:
    return np.clip(np.random.default_rng(5).standard_normal((count, columns)), -3.0, 3.0)


def test_shares_of_a_sum_are_those_of_its_terms() -> None:
    """Var(3 x + y) = 9 + 1: nine tenths and one tenth (independent variances add)."""
    z = scores(3)
    values = 3.0 * z[:, 0] + z[:, 1]
    shares = [share_of_variance([z[:, k]], values) for k in range(3)]
    for share, true in zip(shares, (0.9, 0.1, 0.0), strict=True):
        assert abs(share - true) < 0.02


def test_what_only_inputs_together_do_is_in_no_share() -> None:
    """The mean of x y over y is 0 whatever x: both first-order indices are 0."""
    z = scores(2)
    assert share_of_variance([z[:, 0]], z[:, 0] * z[:, 1]) < 0.02


def test_a_step_and_a_hump_hang_on_their_input_alone() -> None:
    """Regression on x would see two thirds of a step (2/pi) and nothing of a hump."""
    z = scores(1)[:, 0]
    assert share_of_variance([z], (z > 0.0).astype(np.float64)) > 0.93
    assert share_of_variance([z], np.abs(z)) > 0.9


def test_few_draws_do_not_make_shares_out_of_chance() -> None:
    """The mean share of an input on which nothing hangs is 0 before it is cut off there."""
    rng = np.random.default_rng(8)
    found = [share_of_variance([rng.standard_normal(60)], rng.standard_normal(60)) for _ in range(400)]
    assert float(np.mean(found)) < 0.05
    assert min(found) == 0.0


def test_ranks_are_those_of_scipy() -> None:
    values = np.round(np.random.default_rng(2).normal(size=500), 1)
    assert np.abs(ranks(values) - scipy.stats.rankdata(values)).max() == 0.0


def test_weights_turn_a_bell_into_one_half_as_wide() -> None:
    """80 % of a bell lie within 1.2816 standard deviations (tables of the normal distribution)."""
    z = scores(1, 40_000)[:, 0]
    weights = narrowed_weights([z])
    wide, narrow = weighted_range(z, np.ones(len(z))), weighted_range(z, weights)
    assert abs(weights.mean() - 1.0) < 0.02
    for found, sd in ((wide, 1.0), (narrow, 0.5)):
        assert abs(found.low + 1.2816 * sd) < 0.03 * sd
        assert abs(found.likely) < 0.03 * sd
        assert abs(found.high - 1.2816 * sd) < 0.03 * sd


def test_equal_weights_give_the_usual_range() -> None:
    """Numpy's own quantiles by the same rule (Hyndman and Fan 1996, their type 5)."""
    values = np.random.default_rng(3).gamma(2.0, size=301)
    found = weighted_range(values, np.full(301, 0.7))
    usual = np.quantile(values, (0.1, 0.5, 0.9), method="hazen")
    assert np.abs(np.array([found.low, found.likely, found.high]) - usual).max() < 1e-12


def drawn(delivery: Array, z: Array, *names: str) -> Prediction:
    """A prediction of which only what was drawn is looked at."""

    stub: Any = SimpleNamespace(
        drawn=Drawn(names=names, scores=z, delivery=delivery, lifts=delivery > 0.0),
        delivery=weighted_range(delivery, np.ones(len(delivery))),
    )
    found: Prediction = stub
    return found


def test_halving_the_only_spread_halves_the_range() -> None:
    z = scores(1)
    (found,) = decides(drawn(1.0 + 0.1 * z[:, 0], z, "fall"))
    assert found.name == "fall"
    assert abs(found.narrowing - 0.5) < 0.03
    assert found.running_share is None
    assert found.runs == 1.0


def test_halving_one_of_two_equal_spreads_narrows_by_a_fifth() -> None:
    """sqrt(1/4 + 1) of sqrt(2): 1 - sqrt(5/8) = 0.209."""
    z = scores(2)
    for found in decides(drawn(5.0 + z.sum(axis=1) / 3.0, z, "fall", "lift")):
        assert abs(found.narrowing - 0.209) < 0.03


def test_what_a_stop_hangs_on_is_found_though_little_water_hangs_on_it() -> None:
    """It stops where the flow is 1 standard deviation low: 16 in 100; twice as well known, 2.3 in 100."""
    z = scores(2)
    delivery = np.where(z[:, 1] > -1.0, 1.0 + 0.02 * z[:, 0], 0.0)
    first = max(decides(drawn(delivery, z, "fall", "source_flow")), key=lambda d: d.running_share or 0.0)
    assert first.name == "source_flow"
    assert first.running_share is not None
    assert first.running_share > 0.9
    assert abs(first.runs - 0.977) < 0.01


def test_nothing_decides_where_nothing_is_open_or_nothing_comes() -> None:
    assert decides(drawn(np.ones(50), np.empty((50, 0)))) == ()
    assert decides(drawn(np.zeros(50), scores(1, 50), "fall")) == ()
    hardly = np.where(np.arange(50) < 4, 1.0, 0.0)
    assert decides(drawn(hardly, scores(1, 50), "fall")) == ()


def test_every_input_has_a_name_and_beats_decide_no_water() -> None:
    inputs = {GROUPS.get(name, name) for name in (*estimates(install(sheet())), "model_delivery")}
    assert set(NAMES) == inputs
    assert set(AGAIN) < set(NAMES)
    z = scores(2)
    assert [d.name for d in decides(drawn(3.0 + z[:, 0], z, "lift", "model_beats"))] == ["lift"]


# From here on with the engine.


def opened(installation: Installation, **shares: float) -> Installation:
    """Nothing uncertain but these facts, by these shares of them."""
    known = certain(installation)
    facts: dict[str, Any] = {
        name: replace(getattr(known, name), sd=share * getattr(known, name).value)
        for name, share in shares.items()
    }
    return replace(known, **facts)


@cache
def _wide() -> tuple[Installation, Prediction, tuple[Decider, ...]]:
    installation = install(sheet(facts={"fall": "3 m ± 20 cm", "source_flow": "3 L/s ± 5 %"}))
    prediction = predict(installation, draws=1500)
    return installation, prediction, decides(prediction)


@pytest.mark.engine
@pytest.mark.parametrize("name", ["fall", "lift", "stroke", "model"])
def test_a_halved_spread_narrows_as_a_rerun_with_it_does(name: str) -> None:
    """Both are from 1,500 draws; quantiles of so many stray by some hundredths of the width."""
    installation, first, found = _wide()
    told = next(d for d in found if d.name == name)
    owner = installation if hasattr(installation, name) else installation.valve
    estimate = getattr(owner, name)
    changed: Any = replace(owner, **{name: replace(estimate, sd=0.5 * estimate.sd)})
    again = changed if owner is installation else replace(installation, valve=changed)
    then, now = predict(again, draws=1500).delivery, first.delivery
    narrowing = 1.0 - (then.high - then.low) / (now.high - now.low)
    assert abs(told.narrowing - narrowing) < 0.05
    assert abs(told.delivery.low / then.low - 1.0) < 0.03
    assert abs(told.delivery.high / then.high - 1.0) < 0.03


@pytest.mark.engine
def test_the_chance_of_running_moves_as_a_rerun_says() -> None:
    installation = install(sheet(**STARVING))
    told = next(d for d in decides(predict(installation, draws=800)) if d.name == "source_flow")
    flow = installation.source_flow
    better = replace(installation, source_flow=replace(flow, sd=0.5 * flow.sd))
    assert told.running_share is not None
    assert abs(told.runs - predict(better, draws=800).runs) < 0.05


@pytest.mark.engine
def test_a_creek_that_hardly_feeds_the_ram_makes_its_flow_decide() -> None:
    found = decides(predict(install(sheet(**STARVING)), draws=300))
    by_running = max(found, key=lambda d: d.running_share or 0.0)
    assert by_running.name == "source_flow"
    assert found[0].name == "source_flow"


@pytest.mark.engine
def test_shares_agree_with_those_of_a_general_library() -> None:
    """First-order indices of the delivery's rank over fall and lift by scipy (Saltelli's scheme on Sobol'
    sequences): the same runs of ours, an independent estimate of what hangs on what. Slices as wide as
    ours cost a share some hundredths.
    """
    shares = {"fall": 0.02, "lift": 0.05}
    installation = opened(install(sheet(facts={"source_flow": "30 L/s"})), **shares)
    prediction = predict(installation, draws=1500)
    told = {d.name: d for d in decides(prediction)}
    order = np.sort(prediction.drawn.delivery)
    assert set(told) == set(shares)
    shared, centre = builder(installation), middle(installation)

    def delivered(x: Array) -> Array:
        systems = [
            shared.system(replace(centre, fall=float(fall), lift=float(lift)))
            for fall, lift in x.reshape(2, -1).T
        ]
        found = run_many(systems).delivery
        return np.interp(found, order, np.linspace(0.0, 1.0, len(order))).reshape(1, -1)

    found = scipy.stats.sobol_indices(
        func=delivered,
        n=256,
        dists=[
            scipy.stats.norm(getattr(installation, name).value, getattr(installation, name).sd)
            for name in shares
        ],
        rng=np.random.default_rng(4),
    )
    for name, index in zip(shares, found.first_order.ravel(), strict=True):
        assert abs(told[name].delivery_share - index) < 0.06, name
    assert math.fsum(d.delivery_share for d in told.values()) > 0.7
