"""Even numbers: scipy's own, the same however many are taken, and far more even than chance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import qmc

from ramwright.appraise.draws import PLACES, standard_scores
from ramwright.appraise.halton import PRIMES, halton


def test_without_a_seed_they_are_scipys() -> None:
    ours = np.stack([halton(2000, base) for base in PRIMES], axis=1)
    theirs = qmc.Halton(len(PRIMES), scramble=False).random(2000)
    assert np.abs(ours - theirs).max() < 1e-12


@pytest.mark.parametrize("base", PRIMES)
def test_every_digit_is_met_as_often_as_any_other(base: int) -> None:
    """Of each ``base`` numbers in a row one lies in each ``base``-th of the interval, seed or not."""
    for seed in (None, 3):
        found = halton(4 * base, base, seed=seed)
        assert found.min() >= 0.0
        assert found.max() < 1.0
        cells = np.floor(found * base + 1e-9).astype(int).reshape(4, base)
        assert np.array_equal(np.sort(cells, axis=1), np.tile(np.arange(base), (4, 1)))


def test_the_first_of_many_are_those_of_few_and_seeds_differ() -> None:
    assert np.array_equal(halton(50, 5, seed=1), halton(900, 5, seed=1)[:50])
    assert not np.array_equal(halton(50, 5, seed=1), halton(50, 5, seed=2))


def test_every_name_has_a_column_of_its_own() -> None:
    assert len(PLACES) == len(set(PLACES)) <= len(PRIMES)


def test_low_and_high_of_three_hundred_draws_stray_little() -> None:
    """A bell's are at 1.2816 (tables); of 300 independent numbers they stray by
    sqrt(0.1 * 0.9 / 300) / 0.1755 = 0.10.
    """
    found = np.quantile(standard_scores(300, PLACES), (0.1, 0.9), axis=0)
    assert math.sqrt(float(np.mean((np.abs(found) - 1.2816) ** 2))) < 0.03


def test_columns_are_no_more_alike_than_chance_makes_them() -> None:
    """Correlations of independent columns of 1,000 stray by 1/sqrt(1000); four times that is allowed."""
    found = np.corrcoef(standard_scores(1000, PLACES).T) - np.eye(len(PLACES))
    assert np.abs(found).max() < 4.0 / math.sqrt(1000)
