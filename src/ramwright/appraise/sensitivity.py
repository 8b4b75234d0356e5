"""Which fact decides the answer, and by how much knowing it better would narrow it.

Everything here is worked out from the draws already run; no further run is made.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise.draws import Drawn
from ramwright.appraise.prediction import LEVELS, Prediction, Range

Array = NDArray[np.float64]
GROUPS: Final[dict[str, str]] = {
    "port_loss": "losses",
    "curtain_loss": "losses",
    "model_delivery": "model",
    "model_waste": "model",
}
"""Columns of the draws that are told as one; any other stands for itself."""
_IDLE: Final = ("model_beats",)
"""Columns on which neither the delivery nor running depends."""
_FEWEST: Final = 8
"""Draws on either side without which nothing is said about the chance of running."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Decider:
    """One uncertain input and what hangs on it.

    ``delivery_share``: share of the variance of the delivery's rank among the draws that goes when the
    input becomes known (ranks, so that a few draws in which the ram stops do not outweigh all others);
    ``running_share``: the same of running or not, None where nearly all draws agree on that. Were the input
    known twice as well and its value confirmed, ``delivery`` (m3/s) and ``runs``, the share of draws that
    lift water, would come out as stated, and low to high be narrower by the share ``narrowing``.
    """

    name: str
    delivery_share: float
    running_share: float | None
    narrowing: float
    delivery: Range
    runs: float


def decides(prediction: Prediction) -> tuple[Decider, ...]:
    """Every uncertain input, the one most of the delivery's variance hangs on first.

    Empty where nothing is uncertain, where all draws come to the same, or where fewer than one in ten lift
    water: then low to high is nothing, and shares would be told from a few odd draws.
    """
    drawn = prediction.drawn
    if not drawn.names or np.ptp(drawn.delivery) == 0.0 or prediction.delivery.high == 0.0:
        return ()
    groups = dict.fromkeys(GROUPS.get(name, name) for name in drawn.names if name not in _IDLE)
    found = [_decider(group, drawn) for group in groups]
    return tuple(sorted(found, key=lambda d: (-d.delivery_share, -(d.running_share or 0.0), d.name)))


def _decider(group: str, drawn: Drawn) -> Decider:
    columns = [k for k, name in enumerate(drawn.names) if GROUPS.get(name, name) == group]
    scores = [drawn.scores[:, k] for k in columns]
    stops = int(np.count_nonzero(~drawn.lifts))
    doubtful = _FEWEST <= stops <= len(drawn.lifts) - _FEWEST
    weights = narrowed_weights(scores)
    then = weighted_range(drawn.delivery, weights)
    now = weighted_range(drawn.delivery, np.ones(len(drawn.delivery)))
    width = now.high - now.low
    return Decider(
        name=group,
        delivery_share=share_of_variance(scores, ranks(drawn.delivery)),
        running_share=share_of_variance(scores, drawn.lifts.astype(np.float64)) if doubtful else None,
        narrowing=max(1.0 - (then.high - then.low) / width, 0.0) if width > 0.0 else 0.0,
        delivery=then,
        runs=min(float((weights * drawn.lifts).sum() / weights.sum()), 1.0),
    )


def share_of_variance(scores: Sequence[Array], values: Array) -> float:
    """Share (0 to 1) of the variance of ``values`` (n,) that goes when independent inputs (n,) become known.

    Var E[y|x] / Var y, the first-order index, of each input, added up. It is estimated as the correlation
    ratio (Pearson 1905) of ``values`` over classes of the input of equal count, less what chance alone would
    give (Kelley 1935: 1 - (1 - eta2)(n - 1)/(n - classes)), a scatter plot cut in slices (Saltelli et al.,
    Global Sensitivity Analysis, 2008); all from memory. It needs no form of the dependence, so a ram that
    stops somewhere counts rightly; what only inputs together do is in no input's share.
    """
    total = sum(_one_share(each, values) for each in scores)
    return min(max(total, 0.0), 1.0)


def _one_share(scores: Array, values: Array) -> float:
    n = len(values)
    classes = max(round(0.8 * math.sqrt(n)), 2)
    spread = float(np.var(values))
    if spread == 0.0 or n <= classes:
        return 0.0
    slices = np.array_split(values[np.argsort(scores, kind="stable")], classes)
    mean = float(values.mean())
    between = math.fsum(len(s) * (float(s.mean()) - mean) ** 2 for s in slices) / n
    return 1.0 - (1.0 - between / spread) * (n - 1) / (n - classes)


def ranks(values: Array) -> Array:
    """Rank of each of ``values`` (n,) from 1; equals share their mean rank."""
    _, where, counts = np.unique(values, return_inverse=True, return_counts=True)
    mean: Array = (np.cumsum(counts) - 0.5 * (counts - 1.0))[where]
    return mean


def narrowed_weights(scores: Sequence[Array]) -> Array:
    """Weights (n,) that make draws of standard normal inputs stand for draws with half the spread.

    The ratio of the densities, 2 exp(-3 z2 / 2) for each input (importance sampling; textbook): exact for any
    dependence, with the noise that two thirds as many draws would have.
    """
    weights = np.ones(len(scores[0]))
    for z in scores:
        weights *= 2.0 * np.exp(-1.5 * z**2)
    return weights


def weighted_range(values: Array, weights: Array) -> Range:
    """Low, likely and high of weighted draws: each stands at the middle of its own share of the weight."""
    order = np.argsort(values, kind="stable")
    shares = weights[order] / weights.sum()
    at = np.cumsum(shares) - 0.5 * shares
    low, likely, high = (float(x) for x in np.interp(LEVELS, at, values[order]))
    return Range(low, likely, high)
