"""Draws of what may be true: made first, by index, from one seed, whatever runs them later."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise.installation import Installation
from ramwright.appraise.system import Draw
from ramwright.quantities import Estimate

Array = NDArray[np.float64]
SEED = 20_240_613
#: A draw further out than this many standard deviations is pulled in: no negative falls or strokes.
REACH = 3.0
_LEAST_SHARE = 0.05


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Drawn:
    """What was drawn and what came of it, by index: ``n`` draws of ``k`` uncertain inputs.

    ``names`` of the inputs, ``scores`` of shape (n, k): how many standard deviations each was off its
    middle; ``delivery`` m3/s, shape (n,), nothing where the ram stops; ``lifts`` (n,), whether it runs.
    """

    names: tuple[str, ...]
    scores: Array
    delivery: Array
    lifts: NDArray[np.bool_]


def _values(estimate: Estimate, scores: Array) -> Array:
    return np.maximum(estimate.value + estimate.sd * scores, _LEAST_SHARE * estimate.value)


def estimates(installation: Installation) -> dict[str, Estimate]:
    """Everything that is drawn, by the names of ``Draw``; each has its own column of numbers."""
    v = installation.valve
    return {
        "fall": installation.fall,
        "lift": installation.lift,
        "source_flow": installation.source_flow,
        "stroke": v.stroke,
        "weight": v.weight,
        "force_factor": v.force_factor,
        "port_loss": v.port_loss,
        "curtain_loss": v.curtain_loss,
        "delivery_lag": installation.delivery_lag,
    }


def standard_scores(count: int, columns: int, seed: int = SEED) -> Array:
    """Standard normal numbers of shape (count, columns), cut at ``REACH``.

    The first rows of a larger count are those of a smaller one.
    """
    scores = np.random.Generator(np.random.PCG64(seed)).standard_normal((count, columns))
    return np.clip(scores, -REACH, REACH)


def make_draws(installation: Installation, count: int, seed: int = SEED) -> tuple[Draw, ...]:
    """``count`` draws of facts and waste valve, bell-shaped about their values, independent.

    The first draws of a larger count are the same as those of a smaller one.
    """
    uncertain = estimates(installation)
    scores = standard_scores(count, len(uncertain), seed)
    columns = [_values(e, scores[:, k]) for k, e in enumerate(uncertain.values())]
    return tuple(
        Draw(**dict(zip(uncertain, map(float, row), strict=True))) for row in zip(*columns, strict=True)
    )
