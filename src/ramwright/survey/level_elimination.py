"""The normal equations of a level network, solved point by point along its graph.

A level network is mostly long chains: each point meets two others. Eliminating the points with the fewest
neighbours first leaves next to no fill, every step adds only positive numbers, so nothing cancels, and no
linear algebra with threads of its own is called: the result is the same bytes on any number of cores.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray


class _Step(NamedTuple):
    """A point taken out: x = ``own`` + sum of ``shares`` x of its ``near`` points, with ``variance``
    added.
    """

    point: int
    own: float
    near: list[int]
    shares: NDArray[np.float64]
    variance: float


def solve_levels(
    legs: Sequence[tuple[int, int, float, float]], fixed: NDArray[np.float64], free: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Least-squares levels and their covariance.

    ``legs`` (start, end, height, weight), weight 1/variance; points below ``free`` are unknown, the rest
    have the levels ``fixed`` in order. Returns levels, shape (n,), and covariance, shape (n, n), rows of
    fixed points nought. Gaussian elimination of a weighted graph's Laplacian (star-mesh transform, Rosen
    1924: from memory), least degree first; covariances by running the steps back. Every unknown must be
    joined to a fixed point.
    """
    near: list[dict[int, float]] = [{} for _ in range(free)]
    grounded = [0.0] * free
    pull = [0.0] * free
    for start, end, height, weight in legs:
        for here, other, rise in ((end, start, height), (start, end, -height)):
            if here >= free:
                continue
            pull[here] += weight * rise
            if other >= free:
                grounded[here] += weight
                pull[here] += weight * float(fixed[other - free])
            else:
                near[here][other] = near[here].get(other, 0.0) + weight
    return _run_back(_eliminate(near, grounded, pull), fixed, free)


def _eliminate(near: list[dict[int, float]], grounded: list[float], pull: list[float]) -> list[_Step]:
    queue = [(len(each), i) for i, each in enumerate(near)]
    heapq.heapify(queue)
    gone = [False] * len(near)
    steps: list[_Step] = []
    while queue:
        degree, k = heapq.heappop(queue)
        if gone[k] or degree != len(near[k]):
            continue
        gone[k] = True
        around = list(near[k].items())
        total = grounded[k] + math.fsum(weight for _, weight in around)
        shares = [weight / total for _, weight in around]
        points = [a for a, _ in around]
        steps.append(_Step(k, pull[k] / total, points, np.array(shares), 1.0 / total))
        for (a, _), share in zip(around, shares, strict=True):
            mine = near[a]
            del mine[k]
            grounded[a] += share * grounded[k]
            pull[a] += share * pull[k]
            for b, weight in around:
                if b != a:
                    mine[b] = mine.get(b, 0.0) + share * weight
            heapq.heappush(queue, (len(mine), a))
    return steps


def _run_back(
    steps: list[_Step], fixed: NDArray[np.float64], free: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    total = free + fixed.size
    levels = np.zeros(total)
    levels[free:] = fixed
    covariance = np.zeros((total, total))
    for step in reversed(steps):
        k = step.point
        if not step.near:
            levels[k], covariance[k, k] = step.own, step.variance
            continue
        row = np.einsum("i,ij->j", step.shares, covariance[step.near])
        levels[k] = step.own + math.fsum(step.shares * levels[step.near])
        covariance[k, :] = row
        covariance[:, k] = row
        covariance[k, k] = step.variance + math.fsum(step.shares * row[step.near])
    return levels, covariance
