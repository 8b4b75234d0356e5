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
    reynolds = min(max(reynolds, 2e3), 1e8)
    power = math.log10(15.29 / reynolds**0.0567)
    decay = reynolds**power / 12.86
    return math.exp(-decay * psi) / (2.0 * math.sqrt(math.pi * psi))


@functools.lru_cache(maxsize=4096)
def _fit(reynolds: float, first: float, last: float) -> tuple[Pair, Pair]:
    low, high = first**0.7 * last**0.3, first**0.25 * last**0.75
    rates = (0.7 / low, 0.7 / high)
    n = 24
    times = [first * (last / first) ** (i / (n - 1)) for i in range(n)]
    # Least squares of the relative miss, two unknowns: normal equations by hand, weights kept positive.
    s11 = s12 = s22 = t1 = t2 = 0.0
    for psi in times:
        w = weighting(psi, reynolds)
        if w < 1e-12:
            continue
        e1, e2 = math.exp(-rates[0] * psi) / w, math.exp(-rates[1] * psi) / w
        s11, s12, s22 = s11 + e1 * e1, s12 + e1 * e2, s22 + e2 * e2
        t1, t2 = t1 + e1, t2 + e2
    det = s11 * s22 - s12 * s12
    m1, m2 = (t1 * s22 - t2 * s12) / det, (t2 * s11 - t1 * s12) / det
    if m1 < 0.0 or m2 < 0.0:
        m1, m2 = (max(t1 / s11, 0.0), 0.0) if m2 < 0.0 else (0.0, max(t2 / s22, 0.0))
    return (m1, m2), rates


def two_exponentials(reynolds: float, first: float, last: float) -> tuple[Pair, Pair]:
    """W as ``m1 exp(-n1 psi) + m2 exp(-n2 psi)`` between two dimensionless times: (weights, rates).

    Reynolds number and times are rounded to 3 digits, so that draws of one ram share a fit.
    """
    return _fit(float(f"{reynolds:.2e}"), float(f"{first:.3e}"), float(f"{last:.3e}"))
