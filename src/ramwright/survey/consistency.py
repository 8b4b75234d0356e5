"""When readings disagree more than their spreads allow, and how far to widen them then."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.survey._checks import between, positive

# Chance below which, in float arithmetic, a tail is simply nought.
_DEEPEST = 700.0


@dataclass(frozen=True, slots=True)
class Judging:
    """How strictly a set is judged.

    ``significance`` (0 to 1): a set whose chi-square is less likely than this disagrees. ``residual_limit``:
    a normalised residual beyond this is called out. Both are choices of the user of this room.
    """

    significance: float
    residual_limit: float

    def __post_init__(self) -> None:
        between("significance", self.significance, 0.0, 1.0)
        positive("residual_limit", self.residual_limit)


@dataclass(frozen=True, slots=True)
class Repeats:
    """Repeats of one reading.

    ``mean`` and ``sd`` (of the mean) in the reading's unit; ``count``; ``scatter`` the sample standard
    deviation (0 for one reading); ``expected`` what one reading's was said to be; ``p_value`` the chance of
    so much scatter if that was right; ``scattered`` whether that chance is below the significance.
    """

    mean: float
    sd: float
    count: int
    scatter: float
    expected: float
    p_value: float
    scattered: bool


def chi_square_tail(value: float, degrees: int) -> float:
    """Chance that chi-square with ``degrees`` (whole, >= 0) degrees of freedom exceeds ``value``.

    Closed form for whole degrees: Q(1/2, y) = erfc(sqrt y), Q(1, y) = exp(-y),
    Q(a + 1, y) = Q(a, y) + y^a exp(-y) / Gamma(a + 1), with y = value/2, a from 1/2 or 1 up to degrees/2.
    Abramowitz & Stegun 1964, 26.4.4, 26.4.5 and 6.5.22 (from memory). With no degrees of freedom there is
    nothing to judge and 1 is returned.
    """
    if degrees <= 0 or value <= 0.0:
        return 1.0
    y = value / 2.0
    if y > _DEEPEST:
        return 0.0
    a = 0.5 if degrees % 2 else 1.0
    tail = math.erfc(math.sqrt(y)) if degrees % 2 else math.exp(-y)
    while 2.0 * a < degrees:
        tail += math.exp(a * math.log(y) - y - math.lgamma(a + 1.0))
        a += 1.0
    return min(tail, 1.0)


def small_sample_factor(degrees: int) -> float:
    """How much more than the Birge ratio a small set must be widened, no unit.

    sqrt(nu / (nu - 2)) for nu > 2 degrees of freedom, which is sqrt((n - 1)/(n - 3)) for n readings of one
    value: Bodnar & Elster 2014, "On the adjustment of inconsistent data using the Birge ratio" (abstract
    read: 73 % for n = 4, 13 % for n = 10). Where the formula has no value (nu 1 or 2) its largest, sqrt 3,
    is used: a choice of this project.
    """
    return math.sqrt(degrees / (degrees - 2.0)) if degrees > 2 else math.sqrt(3.0)


def widening(chi_square: float, degrees: int, significance: float) -> float:
    """Factor on the standard deviations of a set, 1 when it agrees.

    A set whose chi-square is less likely than ``significance`` is widened by the Birge ratio
    sqrt(chi-square / degrees), Birge 1932 (from memory), times ``small_sample_factor``. Never below 1.
    """
    if degrees <= 0 or chi_square_tail(chi_square, degrees) >= significance:
        return 1.0
    return max(1.0, math.sqrt(chi_square / degrees) * small_sample_factor(degrees))


def repeat(values: NDArray[np.float64], *, expected: float, significance: float) -> Repeats:
    """Mean of repeats, with a spread that is never less than the instrument's and grows with the scatter.

    sd of the mean = max(expected, scatter) / sqrt n; where the scatter is beyond chance the scatter is
    widened by ``small_sample_factor`` first. ``values`` shape (n,), n >= 1; ``expected`` > 0 is the standard
    deviation of one reading, same unit.
    """
    positive("expected", expected)
    count = values.size
    mean = float(np.mean(values))
    scatter = float(np.std(values, ddof=1)) if count > 1 else 0.0
    chi_square = (count - 1) * (scatter / expected) ** 2
    p_value = chi_square_tail(chi_square, count - 1)
    scattered = p_value < significance
    single = max(expected, scatter * (small_sample_factor(count - 1) if scattered else 1.0))
    return Repeats(mean, single / math.sqrt(count), count, scatter, expected, p_value, scattered)
