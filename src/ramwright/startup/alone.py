"""The level at which a ram beats by itself, found by runs of the engine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.ram import OUTCOMES, ManyResults, run_many
from ramwright.startup.bench import Bench

Array = NDArray[np.float64]
Progress = Callable[[int, int], bool]
_LEVELS = 9
_HALVINGS = 3
#: So many beats by itself before it hangs shut are a stumble, not a ram that does not run.
_MANY_BEATS = 20
#: Heads tried over the lift, as multiples of it, for a ram that does not run at the lift itself.
_HELD_BACK = (1.25, 1.6, 2.2)
RUNS_ALONE = "runs_alone"
NEEDS_THROTTLE = "needs_throttle"
STARVED = "starved"


@dataclass(frozen=True, slots=True, eq=False)
class Alone:
    """Where each of ``n`` truths beats by itself.

    ``outcome`` a code each: ``runs_alone``, ``needs_throttle`` (only against more head than the line
    ever gives), ``starved`` (starts, and later drinks more than comes), or the engine's outcome at the
    lift. ``level`` (n,) m, the least head on the ram from which it runs at every head up to the lift (the
    fall where it runs at once; for ``needs_throttle`` the least head above the lift; NaN where it never
    does); ``below`` (n,) m, the highest head tried at which it does not. ``heads`` and ``flows`` each a
    tuple of ``n`` arrays: heads (m, rising) at which it runs, and what it then delivers, m3/s.
    ``shutoff`` (n,) m, the engine's shut-off head at the lift, NaN where it does not beat. ``stumbles`` (n,)
    whether it may hang shut once on the way and need one press more.
    """

    outcome: tuple[str, ...]
    level: Array
    below: Array
    heads: tuple[Array, ...]
    flows: tuple[Array, ...]
    shutoff: Array
    stumbles: NDArray[np.bool_]

    def delivery(self, k: int, heads: Array) -> Array:
        """Delivery (m3/s) of truth ``k`` at heads (m) it runs at; outside them the nearest."""
        return np.interp(heads, self.heads[k], self.flows[k])

    def share(self, code: str) -> float:
        """Share of the truths but the middle with this outcome."""
        drawn = self.outcome[1:] or self.outcome
        return sum(one == code for one in drawn) / len(drawn)


def _carries_on(many: ManyResults) -> tuple[NDArray[np.bool_], Array]:
    """Which runs go on for long without a hand, and what they then deliver (m3/s), each (n,).

    A ram that hangs shut after many beats has stumbled over one weak recoil: one press more and it goes on,
    so it is no barrier on the way up.
    """
    lifts = many.lifts_water()
    stumbled = ~lifts & (many.outcome == OUTCOMES.index("hangs_shut")) & (many.rows["beats"] >= _MANY_BEATS)
    mean = many.rows["all_delivered"] / np.maximum(many.rows["time"], 1e-9)
    return lifts | stumbled, np.where(stumbled, mean, many.delivery)


def _grid(low: Array, high: Array) -> Array:
    """Heads evenly spaced in proportion from low to high, shape (n, levels)."""
    return np.exp(np.linspace(np.log(low), np.log(high), _LEVELS, axis=1))


def find_alone(bench: Bench, *, progress: Progress | None = None) -> Alone:
    """Run every truth at heads from the feed level to the lift, and narrow down where it starts to run.

    A ram counts as running where it lifts water without a hand, in a steady beat or not; below the lift also
    where it stumbles after many beats. At most a dozen runs a truth. Raises ``StoppedError`` if ``progress``
    says no.
    """
    n = len(bench)
    lifts = np.array([way.last_head for way in bench.ways])
    heads = _grid(np.minimum(1.02 * bench.falls, 0.99 * lifts), lifts)
    many = run_many([bench.system(k, float(h)) for k in range(n) for h in heads[k]], progress=progress)
    on, mean = _carries_on(many)
    runs, flows = on.reshape(n, -1), mean.reshape(n, -1)
    stumbled = runs & ~many.lifts_water().reshape(n, -1)
    runs[:, -1] &= ~stumbled[:, -1]
    codes = many.outcome.reshape(n, -1)[:, -1]
    first = np.array([0 if r.all() else int(np.flatnonzero(~r)[-1]) + 1 for r in runs])
    level = np.full(n, np.nan)
    below = np.full(n, np.nan)
    sure = runs[:, -1]
    level[sure] = heads[sure, np.minimum(first, _LEVELS - 1)[sure]]
    at_once = sure & (first == 0)
    level[at_once] = bench.falls[at_once]
    later = sure & (first > 0)
    below[later] = heads[later, first[later] - 1]
    found = [
        (list(heads[k, first[k] :]), list(flows[k, first[k] :])) if sure[k] else ([], []) for k in range(n)
    ]
    _narrow(bench, np.flatnonzero(later), level, below, found)
    held = _hold_back(bench, np.flatnonzero(~sure), lifts, level, found)
    starved = _starved(bench, np.flatnonzero(sure))
    outcome = [RUNS_ALONE if sure[k] else OUTCOMES[int(codes[k])] for k in range(n)]
    for k in held:
        outcome[k] = NEEDS_THROTTLE
    for k in starved:
        outcome[k] = STARVED
    return Alone(
        outcome=tuple("hangs_shut" if code == "runs" else code for code in outcome),
        level=level,
        below=below,
        heads=tuple(np.array(h) for h, _ in found),
        flows=tuple(np.array(q) for _, q in found),
        shutoff=many.shutoff_head.reshape(n, -1)[:, -1],
        stumbles=sure & stumbled[:, :-1].any(axis=1),
    )


def _narrow(
    bench: Bench,
    which: NDArray[np.intp],
    level: Array,
    below: Array,
    found: list[tuple[list[float], list[float]]],
) -> None:
    """Halve the gap between the head at which a ram runs and the one below at which it does not."""
    for _ in range(_HALVINGS if len(which) else 0):
        between = np.sqrt(level[which] * below[which])
        many = run_many([bench.system(int(k), float(h)) for k, h in zip(which, between, strict=True)])
        for k, h, runs, flow in zip(which, between, many.lifts_water(), many.delivery, strict=True):
            if runs:
                level[k] = h
                found[k][0].insert(0, float(h))
                found[k][1].insert(0, float(flow))
            else:
                below[k] = h


def _hold_back(
    bench: Bench,
    which: NDArray[np.intp],
    lifts: Array,
    level: Array,
    found: list[tuple[list[float], list[float]]],
) -> list[int]:
    """Rams that do not run at the lift: which of them run against more head, and from where."""
    if not len(which):
        return []
    heads = lifts[which, None] * np.array(_HELD_BACK)
    many = run_many(
        [bench.system(int(k), float(h)) for k, row in zip(which, heads, strict=True) for h in row]
    )
    held = []
    for k, row, runs, flows in zip(
        which.tolist(),
        heads,
        many.lifts_water().reshape(len(which), -1),
        many.delivery.reshape(len(which), -1),
        strict=True,
    ):
        if runs.any():
            at = int(np.argmax(runs))
            level[k] = row[at]
            found[k][0].append(float(row[at]))
            found[k][1].append(float(flows[at]))
            held.append(k)
    return held


def _starved(bench: Bench, which: NDArray[np.intp]) -> list[int]:
    """Rams that run, and at the lift drink the drive tank dry on the flow there is."""
    many = run_many([bench.systems[int(k)] for k in which])
    dry = many.outcome == OUTCOMES.index(STARVED)
    return [int(k) for k in which[dry]]
