"""Friction of changing flow: how long the water near the wall remembers a change of speed."""

from __future__ import annotations

import functools
import math

Pair = tuple[float, float]


def weighting(psi: float, reynolds: float) -> float:
    """Weighting function W of smooth-pipe turbulent flow at dimensionless time psi = 4 nu t / D2.

    ``W = A exp(-psi/C*) / sqrt(psi)``, ``A = 1/(2 sqrt(pi))``, ``C* = 12.86 / Re^k``,
    ``k = log10(15.29 / Re^0.0567)``, for 2e3 < Re < 1e8 (Vardy & Brown 2003; from memory). Below 2,000
    the value for 2,000 is used.
    """
    return math.exp(-_decay(reynolds) * psi) / (2.0 * math.sqrt(math.pi * psi))


def remembered(psi: float, reynolds: float) -> float:
    """Integral of W from 0 to psi: what a sudden change of speed has cost by then; ``erf(sqrt(psi/C*))``."""
    decay = _decay(reynolds)
    return math.erf(math.sqrt(decay * psi)) / (2.0 * math.sqrt(decay))


def _decay(reynolds: float) -> float:
    """1/C*."""
    reynolds = min(max(reynolds, 2e3), 1e8)
    return reynolds ** math.log10(15.29 / reynolds**0.0567) / 12.86


@functools.lru_cache(maxsize=4096)
def _fit(reynolds: float, first: float) -> tuple[Pair, Pair]:
    decay = _decay(reynolds)
    start = min(max(decay * first, 1e-4), 1.0)
    # Rates near the best ones for each start, found once by search (power laws through them).
    fast, slow = 3.6 * start**-0.64, 1.2 * start**-0.14
    n = 24
    # Least squares of the relative miss, two unknowns: normal equations by hand.
    s11 = s12 = s22 = t1 = t2 = 0.0
    for i in range(n):
        s = start * (4.0 / start) ** (i / (n - 1))
        whole = math.erf(math.sqrt(s))
        e1, e2 = -math.expm1(-fast * s) / whole, -math.expm1(-slow * s) / whole
        s11, s12, s22 = s11 + e1 * e1, s12 + e1 * e2, s22 + e2 * e2
        t1, t2 = t1 + e1, t2 + e2
    det = s11 * s22 - s12 * s12
    c1, c2 = (t1 * s22 - t2 * s12) / det, (t2 * s11 - t1 * s12) / det
    size = 0.5 * math.sqrt(decay)
    return (c1 * fast * size, c2 * slow * size), (fast * decay, slow * decay)


def two_exponentials(reynolds: float, first: float) -> tuple[Pair, Pair]:
    """W as ``m1 exp(-n1 psi) + m2 exp(-n2 psi)``: (weights, rates), to be used for times from ``first`` on.

    Fitted is the integral of W (``remembered``), since that is what a change of speed costs, from the
    dimensionless time ``first`` up to all there is; W itself has no value at 0. Worst miss of the integral
    5 % where first/C* is above 0.02, 15 % at 0.002. Both arguments are rounded to 3 digits, so that draws
    of one ram share a fit.
    """
    return _fit(float(f"{reynolds:.2e}"), float(f"{first:.3e}"))
