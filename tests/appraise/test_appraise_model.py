"""What the simulation itself may miss: stated, drawn apart from the readings, never against conservation."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from appraise_certain import certain
from appraise_sheets import sheet
from numpy.typing import NDArray

from ramwright.appraise import Prediction, Range, builder, install, middle, predict
from ramwright.appraise.draws import estimates, standard_scores
from ramwright.appraise.model import BEATS, COLUMNS, DELIVERY, WASTE, as_built, model_factors, thirsty
from ramwright.catalogue import Mark, table
from ramwright.quantities import Estimate
from ramwright.ram import ManyResults, RamSystem, run_many

STATED = table("appraisal").row("model_spread")


def test_the_spread_is_a_judgement_on_record() -> None:
    model = install(sheet()).model
    assert STATED.provenance.mark is Mark.JUDGEMENT
    assert (model.value, model.sd) == (1.0, STATED.number("likely"))


def test_factors_are_bell_shaped_about_one_and_independent() -> None:
    """Four standard errors of mean and correlation; a bell cut at 3 is 0.7 % narrower (normal density)."""
    found = model_factors(Estimate(1.0, 0.1), standard_scores(20_000, COLUMNS))
    assert np.abs(found.mean(axis=0) - 1.0).max() < 4.0 * 0.1 / math.sqrt(20_000)
    assert np.abs(found.std(axis=0) / 0.1 - 1.0).max() < 0.03
    assert np.abs(np.corrcoef(found.T) - np.eye(3)).max() < 4.0 / math.sqrt(20_000)


def test_it_moves_no_draw_of_the_readings() -> None:
    """Each name has numbers of its own: with the model's columns or without, the others are the same."""
    names = tuple(estimates(install(sheet())))
    with_model = standard_scores(50, (*names, *COLUMNS))
    assert np.array_equal(with_model[:, : len(names)], standard_scores(50, names))


def test_no_factor_is_negative_however_wide_the_spread() -> None:
    assert model_factors(Estimate(1.0, 3.0), standard_scores(1000, COLUMNS)).min() > 0.0


def many_of(count: int, factors: NDArray[np.float64]) -> tuple[RamSystem, ManyResults, ManyResults]:
    installation = install(sheet())
    system = builder(installation).system(middle(installation))
    before = run_many([system] * count)
    return system, before, as_built(before, factors)


@pytest.mark.engine
def test_flows_and_beats_take_their_factors_and_all_else_follows() -> None:
    factors = np.array([[1.1, 0.9, 1.2], [0.8, 1.3, 0.7]])
    system, before, after = many_of(2, factors)
    assert np.abs(after.delivery / before.delivery / factors[:, DELIVERY] - 1.0).max() < 1e-12
    assert np.abs(after.waste / before.waste / factors[:, WASTE] - 1.0).max() < 1e-12
    assert np.abs(after.beats_per_min / before.beats_per_min / factors[:, BEATS] - 1.0).max() < 1e-12
    fall, lift = system.fall_m, system.delivery_line.lift_m
    rankine = after.delivery * (lift - fall) / (after.waste * fall)
    daubuisson = after.delivery * lift / ((after.waste + after.delivery) * fall)
    assert np.abs(after.efficiency_rankine / rankine - 1.0).max() < 1e-9
    assert np.abs(after.efficiency_daubuisson / daubuisson - 1.0).max() < 1e-9
    drive = before.drive * (after.waste + after.delivery) / (before.waste + before.delivery)
    assert np.abs(after.drive / drive - 1.0).max() < 1e-12


@pytest.mark.engine
def test_no_ram_gives_back_more_than_it_is_given() -> None:
    _, before, after = many_of(1, np.array([[3.0, 0.9, 1.0]]))
    assert before.efficiency_rankine[0] < 1.0
    assert abs(after.efficiency_rankine[0] - 1.0) < 1e-12


@pytest.mark.engine
def test_a_ram_that_drinks_more_than_simulated_runs_short_sooner() -> None:
    """It starves at 1.5 times its drink when the creek brings 1.2 times what the simulated one drinks."""
    installation = install(sheet())
    system = builder(installation).system(middle(installation))
    drive = float(run_many([system]).drive[0])
    fed = replace(system, drive_tank=replace(system.drive_tank, source_flow=1.2 * drive, cover_m=0.01))
    as_is, more = run_many([thirsty(fed, 1.0), thirsty(fed, 1.5)]).lifts_water()
    assert as_is
    assert not more


def _known_but_for_the_model(share: float) -> Prediction:
    known = certain(install(sheet(facts={"source_flow": "30 L/s"})))
    return predict(replace(known, model=Estimate(1.0, share)), draws=800)


def _sd(found: Range | None) -> float:
    assert found is not None
    return (found.high - found.low) / (2.0 * 1.2816) / found.likely


@pytest.mark.engine
def test_a_prediction_is_never_surer_than_the_stated_spread() -> None:
    """With every reading certain, low and high stand 1.28 standard deviations off, as of any bell."""
    found = _known_but_for_the_model(0.1)
    for each in (found.delivery, found.waste, found.beats_per_min):
        assert abs(_sd(each) - 0.1) < 0.01
    assert found.model == 0.1
    assert _sd(_known_but_for_the_model(0.0).delivery) == 0.0


@pytest.mark.engine
def test_the_run_at_the_middle_and_its_heads_are_left_alone() -> None:
    wide, none = _known_but_for_the_model(0.2), _known_but_for_the_model(0.0)
    assert repr(wide.middle) == repr(none.middle)
    assert wide.peak_head == none.peak_head
