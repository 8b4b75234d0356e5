"""Draws: the same ones every time, by index, spread as the sheet says."""

from __future__ import annotations

import math
from dataclasses import astuple, fields

import numpy as np
import pytest
from appraise_sheets import BARE, FULL, sheet

from ramwright.appraise import Draw, install, middle
from ramwright.appraise.draws import make_draws
from ramwright.catalogue import table

NAMES = [field.name for field in fields(Draw)]
MANY = 20_000


def column(draws: tuple[Draw, ...], name: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.array([getattr(draw, name) for draw in draws])


def test_the_first_draws_of_many_are_those_of_few() -> None:
    installation = install(sheet())
    assert make_draws(installation, 40) == make_draws(installation, 500)[:40]


def test_a_seed_gives_the_same_draws_and_another_gives_others() -> None:
    installation = install(sheet())
    assert make_draws(installation, 9) == make_draws(installation, 9)
    assert all(
        a != b for a, b in zip(make_draws(installation, 9), make_draws(installation, 9, seed=1), strict=True)
    )


def test_one_spread_more_does_not_move_the_other_draws() -> None:
    """Each quantity has its own column of numbers."""
    narrow = make_draws(install(sheet()), 50)
    wide = make_draws(install(sheet(facts={"fall": "3 m ± 30 cm"})), 50)
    for name in NAMES:
        same = np.array_equal(column(narrow, name), column(wide, name))
        assert same == (name != "fall"), name


@pytest.mark.parametrize("name", NAMES)
def test_draws_have_the_middle_and_spread_of_what_they_stand_for(name: str) -> None:
    """Mean within four standard errors; spread within 4 % of it: a bell cut at three standard deviations
    is 0.7 % narrower (integral of the normal density), the rest is chance: 1/sqrt(2 n) is 0.5 %.
    """
    installation = install(sheet())
    owner = installation if hasattr(installation, name) else installation.valve
    estimate = getattr(owner, name)
    drawn = column(make_draws(installation, MANY), name)
    assert estimate.sd > 0.0
    assert abs(drawn.mean() - estimate.value) < 4.0 * estimate.sd / math.sqrt(MANY)
    assert abs(drawn.std() / estimate.sd - 1.0) < 0.04
    assert np.abs(drawn - estimate.value).max() <= 3.0 * estimate.sd * (1.0 + 1e-12)


def test_draws_are_independent() -> None:
    """Correlation of independent columns strays by 1/sqrt(n) = 0.7 %; four times that is allowed."""
    draws = make_draws(install(sheet()), MANY)
    matrix = np.corrcoef([column(draws, name) for name in NAMES])
    assert np.abs(matrix - np.eye(len(NAMES))).max() < 4.0 / math.sqrt(MANY)


def test_a_spread_wider_than_the_value_gives_no_negative_fall_or_flow() -> None:
    wild = sheet(facts={"fall": "3 m ± 100 %", "source_flow": "3 L/s ± 200 %", "lift": "20 m ± 30 m"})
    draws = make_draws(install(wild), 2000)
    assert min(min(astuple(draw)) for draw in draws) > 0.0


def test_spreads_come_from_the_sheet_or_from_the_usual_ones() -> None:
    """The usual share of a flow is the catalogue's; a fall of 3 m stated to 2 cm keeps its 2 cm."""
    stated, usual = make_draws(install(sheet(FULL)), MANY), make_draws(install(sheet(BARE)), MANY)
    assert abs(column(stated, "fall").std() / 0.02 - 1.0) < 0.04
    share = table("appraisal").row("source_flow_spread").number("likely")
    flow = column(usual, "source_flow")
    assert abs(flow.std() / flow.mean() / share - 1.0) < 0.05


def test_without_any_spread_every_draw_is_the_middle() -> None:
    from appraise_certain import certain

    installation = certain(install(sheet()))
    assert set(make_draws(installation, 20)) == {middle(installation)}
