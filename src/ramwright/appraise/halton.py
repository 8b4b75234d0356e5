"""Numbers that fill the unit interval evenly, column by column, however many are taken.

With some hundred draws, low and high taken from such numbers stray several times less than from
pseudo-random ones; and a column's numbers depend on no other column and not on how many are drawn.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
PRIMES: Final = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53)
_SMALLEST: Final = 2.0**-40


def halton(count: int, base: int, *, seed: int | None = None) -> Array:
    """The first ``count`` of the radical inverses of 0, 1, 2 ... in a prime ``base``, shape (count,), 0 to 1.

    Halton 1960: the digits of the index mirrored at the point. With a ``seed`` every digit goes through a
    random permutation of its own (Owen 2017, "A randomized Halton algorithm in R"; both from memory, checked
    against scipy's); columns of different bases are then as good as independent.
    """
    rng = None if seed is None else np.random.default_rng((seed, base))
    index = np.arange(count)
    found = np.zeros(count)
    weight = 1.0 / base
    while weight > _SMALLEST:
        digit = index % base
        found += weight * (digit if rng is None else rng.permutation(base)[digit])
        index //= base
        weight /= base
    return found
