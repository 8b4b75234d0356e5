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
_LEVELS = 8
_HALVINGS = 3
#: Lowest head tried, over the fall: just above the feed level the line only swings.
_LOWEST = 1.1
#: So many beats by itself before it hangs shut are a stumble, not a ram that does not run.
_MANY_BEATS = 20
#: Heads tried over the lift, as multiples of it, for a ram that does not run at the lift itself.
_HELD_BACK = (1.25, 1.6, 2.2, 3.5)
#: Outcomes at the lift that more head may mend.
_WANTS_HEAD = ("hangs_shut", "no_period", "chatters")
#: A ram that drinks less than this share of what comes is not looked at for running short.
_SPARE = 0.98
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


def _runs(many: ManyResults) -> NDArray[np.bool_]:
    """Which runs lift water beat after beat, (n,): not those that swing on after a beat or two."""
    settled = many.outcome == OUTCOMES.index("runs")
    runs: NDArray[np.bool_] = many.lifts_water() & (settled | (many.rows["beats"] >= _MANY_BEATS))
    return runs


def _carries_on(many: ManyResults) -> tuple[NDArray[np.bool_], Array]:
    """Which runs go on for long without a hand, and what they then deliver (m3/s), each (n,).

    A ram that hangs shut after many beats has stumbled over one weak recoil: one press more and it goes on,
    so it is no barrier on the way up.
    """
    lifts = _runs(many)
    stumbled = ~lifts & (many.outcome == OUTCOMES.index("hangs_shut")) & (many.rows["beats"] >= _MANY_BEATS)
    mean = many.rows["all_delivered"] / np.maximum(many.rows["time"], 1e-9)
    return lifts | stumbled, np.where(stumbled, mean, many.delivery)


@dataclass(slots=True, eq=False)
class _Search:
    """What is known so far of where each truth runs: as in ``Alone``, still growing."""

    bench: Bench
    lifts: Array
    level: Array
    below: Array
    stumbles: NDArray[np.bool_]
    found: list[tuple[list[float], list[float]]]

    def run(self, which: list[int], heads: Array, progress: Progress | None = None) -> ManyResults:
        """Run the truths ``which`` at each head (m) of their row of ``heads``, (len(which), m)."""
        return run_many(
            [self.bench.system(k, float(h)) for k, row in zip(which, heads, strict=True) for h in row],
            progress=progress,
        )

    def downwards(self, which: list[int], progress: Progress | None) -> None:
        """Heads evenly spaced in proportion below the lift: where each of ``which`` no longer runs."""
        low = np.minimum(_LOWEST * self.bench.falls, 0.99 * self.lifts)[which]
        shares = np.linspace(0.0, 1.0, _LEVELS)[:-1]
        heads = low[:, None] ** (1.0 - shares) * self.lifts[which, None] ** shares
        many = self.run(which, heads, progress)
        on, mean = _carries_on(many)
        runs, flows = on.reshape(heads.shape), mean.reshape(heads.shape)
        stumbled = runs & ~_runs(many).reshape(heads.shape)
        for row, k in enumerate(which):
            first = int(np.max(np.flatnonzero(~runs[row]), initial=-1)) + 1
            self.found[k][0][:0] = heads[row, first:].tolist()
            self.found[k][1][:0] = flows[row, first:].tolist()
            self.level[k] = self.bench.systems[k].fall_m if first == 0 else self.found[k][0][0]
            self.below[k] = heads[row, first - 1] if first > 0 else np.nan
            self.stumbles[k] = stumbled[row, first:].any()

    def narrow(self, which: list[int]) -> None:
        """Halve the gap between the head at which a ram runs and the one below at which it does not."""
        for _ in range(_HALVINGS if which else 0):
            between = np.sqrt(self.level[which] * self.below[which])
            many = self.run(which, between[:, None])
            for k, h, runs, flow in zip(which, between, _runs(many), many.delivery, strict=True):
                if runs:
                    self.level[k] = h
                    self.found[k][0].insert(0, float(h))
                    self.found[k][1].insert(0, float(flow))
                else:
                    self.below[k] = h

    def hold_back(self, which: list[int]) -> list[int]:
        """Rams too weak in recoil at the lift: which of them run against more head, and from where."""
        if not which:
            return []
        heads = self.lifts[which, None] * np.array(_HELD_BACK)
        many = self.run(which, heads)
        runs, flows = (part.reshape(heads.shape) for part in (_runs(many), many.delivery))
        held = [k for row, k in enumerate(which) if runs[row].any()]
        for row, k in enumerate(which):
            if k in held:
                at = int(np.argmax(runs[row]))
                self.level[k] = heads[row, at]
                self.found[k][0].append(float(heads[row, at]))
                self.found[k][1].append(float(flows[row, at]))
        return held


def find_alone(bench: Bench, *, progress: Progress | None = None) -> Alone:
    """Run every truth at the lift, those that run there also at heads down to the feed level, and narrow in.

    A ram counts as running where it lifts water without a hand, in a steady beat or not; below the lift also
    where it stumbles after many beats. At most a dozen runs a truth. Raises ``StoppedError`` if ``progress``
    says no.
    """
    n = len(bench)
    lifts = np.array([way.last_head for way in bench.ways])
    top = run_many([bench.system(k, float(lifts[k])) for k in range(n)], progress=progress)
    codes = [OUTCOMES[int(o)] for o in top.outcome]
    sure = np.flatnonzero(_runs(top)).tolist()
    search = _Search(
        bench, lifts, np.full(n, np.nan), np.full(n, np.nan), np.zeros(n, np.bool_), [([], []) for _ in codes]
    )
    for k in sure:
        search.found[k][0].append(float(lifts[k]))
        search.found[k][1].append(float(top.delivery[k]))
    search.downwards(sure, progress)
    search.narrow([k for k in sure if np.isfinite(search.below[k])])
    outcome = [RUNS_ALONE if k in sure else code for k, code in enumerate(codes)]
    for k in search.hold_back([k for k in range(n) if k not in sure and codes[k] in _WANTS_HEAD]):
        outcome[k] = NEEDS_THROTTLE
    for k in _starved(bench, sure, top):
        outcome[k] = STARVED
    return Alone(
        outcome=tuple(outcome),
        level=search.level,
        below=search.below,
        heads=tuple(np.array(h) for h, _ in search.found),
        flows=tuple(np.array(q) for _, q in search.found),
        shutoff=top.shutoff_head,
        stumbles=search.stumbles,
    )


def _starved(bench: Bench, which: list[int], top: ManyResults) -> list[int]:
    """Rams that run, and at the lift drink the drive tank dry on the flow there is."""
    thirsty = [k for k in which if top.drive[k] > _SPARE * bench.systems[k].drive_tank.source_flow]
    many = run_many([bench.systems[k] for k in thirsty])
    return [k for k, code in zip(thirsty, many.outcome, strict=True) if code == OUTCOMES.index(STARVED)]
