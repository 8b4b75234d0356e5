"""Draws of what may be true: made first, by index, from one seed, whatever runs them later."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise.installation import Installation
from ramwright.appraise.system import Draw
from ramwright.quantities import Estimate

SEED = 20_240_613
_FIELDS = (
    "fall", "lift", "source_flow", "stroke", "weight", "force_factor", "port_loss", "curtain_loss",
    "delivery_lag",
)  # fmt: skip
#: A draw further out than this many standard deviations is pulled in: no negative falls or strokes.
_REACH = 3.0
_LEAST_SHARE = 0.05


def _values(estimate: Estimate, normals: NDArray[np.float64]) -> NDArray[np.float64]:
    drawn = estimate.value + estimate.sd * np.clip(normals, -_REACH, _REACH)
    return np.maximum(drawn, _LEAST_SHARE * estimate.value)


def make_draws(installation: Installation, count: int, seed: int = SEED) -> tuple[Draw, ...]:
    """``count`` draws of facts and waste valve, bell-shaped about their values, independent.

    The first draws of a larger count are the same as those of a smaller one.
    """
    v = installation.valve
    estimates = (
        installation.fall,
        installation.lift,
        installation.source_flow,
        v.stroke,
        v.weight,
        v.force_factor,
        v.port_loss,
        v.curtain_loss,
        installation.delivery_lag,
    )
    normals = np.random.Generator(np.random.PCG64(seed)).standard_normal((count, len(_FIELDS)))
    columns = [_values(e, normals[:, k]) for k, e in enumerate(estimates)]
    return tuple(
        Draw(**dict(zip(_FIELDS, map(float, row), strict=True))) for row in zip(*columns, strict=True)
    )
