"""Draws of what may be true: made first, by index, from one seed, whatever runs them later."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from ramwright.appraise.halton import PRIMES, halton
from ramwright.appraise.installation import Installation
from ramwright.appraise.system import Draw
from ramwright.quantities import Estimate

Array = NDArray[np.float64]
SEED = 20_240_613
#: Which column of numbers each uncertain input draws from: names are added at the end only, so that what was
#: drawn before stays the same.
PLACES: Final = (
    "model_delivery",
    "model_waste",
    "model_beats",
    "fall",
    "lift",
    "source_flow",
    "stroke",
    "weight",
    "force_factor",
    "delivery_lag",
    "port_loss",
    "curtain_loss",
)
#: A draw further out than this many standard deviations is pulled in: no negative falls or strokes.
REACH = 3.0
_LEAST_SHARE = 0.05
_EDGE = 1e-6


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


def drawn_values(estimate: Estimate, scores: Array) -> Array:
    """Values that many standard deviations off their middle, and never nothing or less."""
    return np.maximum(estimate.value + estimate.sd * scores, _LEAST_SHARE * estimate.value)


def estimates(installation: Installation) -> dict[str, Estimate]:
    """Everything that is drawn, by the names of ``Draw``."""
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


def standard_scores(count: int, names: Sequence[str], seed: int = SEED) -> Array:
    """Standard normal numbers, a row a draw and a column a name, cut at ``REACH``.

    A name's numbers depend on nothing else, and the first of many draws are those of few.
    """
    columns = [halton(count, PRIMES[PLACES.index(name)], seed=seed) for name in names]
    middle = np.clip(np.reshape(columns, (len(names), count)).T, _EDGE, 1.0 - _EDGE)
    return np.clip(ndtri(middle), -REACH, REACH)


def make_draws(installation: Installation, count: int, seed: int = SEED) -> tuple[Draw, ...]:
    """``count`` draws of facts and waste valve, bell-shaped about their values, independent.

    The first draws of a larger count are the same as those of a smaller one.
    """
    uncertain = estimates(installation)
    scores = standard_scores(count, tuple(uncertain), seed)
    columns = [drawn_values(e, scores[:, k]) for k, e in enumerate(uncertain.values())]
    return tuple(
        Draw(**dict(zip(uncertain, map(float, row), strict=True))) for row in zip(*columns, strict=True)
    )
