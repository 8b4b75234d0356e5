"""Two exponentials for the memory of changing flow, against the weighting they stand for."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from ramwright.ram import closed_form
from ramwright.ram.unsteady import remembered, two_exponentials, weighting

REYNOLDS = (5e3, 5e4, 5e5)


def _decay(reynolds: float) -> float:
    """1/C*, from two values of W: W(psi) sqrt(psi) falls as exp(-psi/C*)."""
    a, b = 1e-4, 2e-4
    return math.log(weighting(a, reynolds) * a**0.5 / (weighting(b, reynolds) * b**0.5)) / (b - a)


@pytest.mark.parametrize("reynolds", REYNOLDS)
def test_what_is_remembered_is_the_integral_of_the_weighting(reynolds: float) -> None:
    """Numerical quadrature of W (Vardy & Brown 2003, from memory), in sqrt(psi) where it is smooth."""
    for psi in (1e-5, 1e-4, 1e-2):
        area = quad(lambda u: 2.0 * u * weighting(u * u, reynolds), 0.0, math.sqrt(psi))[0]
        assert abs(remembered(psi, reynolds) / area - 1.0) <= 1e-6


@pytest.mark.parametrize("reynolds", REYNOLDS)
@pytest.mark.parametrize(("start", "worst"), [(0.2, 0.02), (0.02, 0.07), (0.002, 0.18)])
def test_two_exponentials_remember_as_the_weighting_does(reynolds: float, start: float, worst: float) -> None:
    """Integral of the fit against the integral of W, from ``start`` C* to ten C*; tolerance as stated."""
    decay = _decay(reynolds)
    weights, rates = two_exponentials(reynolds, start / decay)
    for k in range(41):
        psi = start / decay * (10.0 / start) ** (k / 40)
        fit = sum(-w / r * math.expm1(-r * psi) for w, r in zip(weights, rates, strict=True))
        assert abs(fit / remembered(psi, reynolds) - 1.0) <= worst


def test_slower_than_laminar_counts_as_two_thousand() -> None:
    assert weighting(1e-3, 10.0) == weighting(1e-3, 2000.0)


def test_closed_form_of_a_valve_that_cannot_close() -> None:
    from ram_cases import steel, valve

    estimate = closed_form(valve(steel(), opening_force=(1e3, 0.0, 0.0)))
    assert estimate.hangs_open
    assert estimate.delivery == 0.0
