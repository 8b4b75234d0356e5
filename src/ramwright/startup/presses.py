"""Starting by hand: one press of the waste valve after another until the ram beats by itself."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Range
from ramwright.errors import RamwrightError
from ramwright.ram import Grid, RamSystem, closed_form
from ramwright.ram.grid import to_rows
from ramwright.ram.kernel import run_block
from ramwright.ram.layout import RESULT
from ramwright.startup.alone import RUNS_ALONE, STARVED, Alone
from ramwright.startup.bench import Bench
from ramwright.startup.rules import rule

Array = NDArray[np.float64]
#: No hand presses more often than this; the count stops here with the outcome ``too_many``.
MOST_PRESSES = 1000
_HEADS = 5
_LOW, _HIGH = 0.1, 0.9
REACHED, TOO_MANY, NO_LIFT = "reached", "too_many", "no_lift"


@dataclass(frozen=True, slots=True, eq=False)
class PressSeries:
    """One start press by press: arrays (m,), the last press being the one that sets the ram going.

    ``number`` from 1; ``level`` and ``head`` m, the water in the line and the head on the ram before it;
    ``volume`` m3 it brings (0 for the last, after which the ram goes on); ``seconds`` from the first press.
    """

    number: Array
    level: Array
    head: Array
    volume: Array
    seconds: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Presses:
    """Hand presses needed, over the truths that run alone.

    ``outcomes`` shares of ``reached``, ``too_many`` (more than ``MOST_PRESSES``) and ``no_lift`` (presses
    that bring nothing); ``count`` and ``seconds`` over those reached; ``level_alone`` m. At the middle (at
    the first truth that runs alone, where the middle does not): ``pace`` s from press to press;
    ``first_volume`` and ``last_volume`` m3 a press (0 where none is needed); ``series``, None if not reached.
    ``slow_series`` is that of the truth at the high end of the count.
    """

    outcomes: dict[str, float]
    count: Range | None
    seconds: Range | None
    level_alone: Range
    pace: float
    first_volume: float
    last_volume: float
    series: PressSeries | None
    slow_series: PressSeries | None


def as_range(values: Array | Sequence[float]) -> Range:
    """Low, likely and high of values: their tenth, fiftieth and ninetieth in a hundred."""
    low, likely, high = (float(x) for x in np.quantile(values, (_LOW, 0.5, _HIGH)))
    return Range(low, likely, high)


def as_whole(values: Sequence[float]) -> Range:
    """Like ``as_range``, of counts: each a count that happened."""
    low, likely, high = (float(x) for x in np.quantile(values, (_LOW, 0.5, _HIGH), method="inverted_cdf"))
    return Range(low, likely, high)


def press_volumes(systems: Sequence[RamSystem]) -> Array:
    """Water (m3) that one press of the waste valve sends through each ram's delivery valve, shape (n,).

    The press is let go at once: the column speeds up from rest, slams the valve and delivers, and where
    the recoil is enough a few more beats follow before it hangs shut. The delivery line starts at rest
    too, unlike in a run of a ram that beats. Raises ``RamwrightError("engine_not_finite")``.
    """
    if not systems:
        return np.empty(0)
    rows = to_rows(list(systems), Grid())
    rows["first_delivery"] = 0.0
    results = np.zeros(len(rows), RESULT)
    run_block(rows, results, 0, len(rows))
    volumes = np.array(results["all_delivered"], dtype=np.float64)
    if not np.isfinite(volumes).all():
        raise RamwrightError(
            "startup_press_not_finite", value="all_delivered", run=int(np.argmin(np.isfinite(volumes)))
        )
    return np.maximum(volumes, 0.0)


def falling(volumes: Array) -> Array:
    """Volumes (..., m) at rising heads, none greater than the one before it.

    Just below the head at which a ram runs, one press brings several beats, by luck of the last recoil;
    counting on no more than at a lower head errs to the safe side.
    """
    return np.minimum.accumulate(volumes, axis=-1)


def press_by_press(
    stored: Array,
    levels: Array,
    heads: Array,
    *,
    start_head: float,
    goal: float,
    press_heads: Array,
    press_volumes: Array,
    press_seconds: float,
) -> tuple[str, PressSeries]:
    """Press until the head on the ram reaches ``goal`` (m), and once more to set it going.

    ``stored`` m3 of water in line and air vessel, ``levels`` and ``heads`` m, arrays (n,) along the line,
    none falling in ``stored`` and ``heads``; ``start_head`` m stands at the beginning. A press brings
    ``press_volumes`` (m3, at rising ``press_heads``, m). Returns ``reached``, ``too_many`` or ``no_lift``.
    """
    # Where the line takes in nothing (no length), the head jumps: the last of equal volumes counts.
    last = np.append(np.diff(stored) > 0.0, True)
    volume_at, level_at, head_at = stored[last], levels[last], heads[last]
    held = float(np.interp(start_head, heads, stored))
    rows: list[tuple[float, float, float, float, float]] = []
    outcome = TOO_MANY
    for number in range(1, MOST_PRESSES + 1):
        head = max(float(np.interp(held, volume_at, head_at)), start_head)
        level = float(np.interp(held, volume_at, level_at))
        there = head >= goal * (1.0 - 1e-9)
        brings = 0.0 if there else float(np.interp(head, press_heads, press_volumes))
        rows.append((float(number), level, head, brings, (number - 1) * press_seconds))
        if there:
            outcome = REACHED
            break
        if brings <= 1e-9:
            outcome = NO_LIFT
            break
        held += brings
    return outcome, PressSeries(*np.array(rows).T.copy())


def press_pace(system: RamSystem) -> float:
    """Seconds from press to press: the column's time to get up to speed, and a rest."""
    speeding = closed_form(system).acceleration_time
    return (speeding if math.isfinite(speeding) else 0.0) + rule("rest-between-presses").likely


@dataclass(frozen=True, slots=True, eq=False)
class PressTable:
    """What one press brings, for the truths ``which`` that run alone but not at the feed level.

    ``heads`` (m, rising) and ``volumes`` (m3, none greater than the one before), each (len(which), m).
    """

    which: tuple[int, ...]
    heads: Array
    volumes: Array

    def of(self, k: int) -> tuple[Array, Array]:
        """Heads and volumes of truth ``k``; nothing at one head where it needs none."""
        if k not in self.which:
            return np.zeros(1), np.zeros(1)
        row = self.which.index(k)
        return self.heads[row], self.volumes[row]


def press_table(bench: Bench, alone: Alone) -> PressTable:
    """Simulate presses from the feed level to the highest head tried at which each truth does not run."""
    falls = bench.falls
    ready = (k for k, code in enumerate(alone.outcome) if code in (RUNS_ALONE, STARVED))
    which = tuple(k for k in ready if math.isfinite(alone.below[k]))
    tops = np.fmax(alone.below, 1.002 * falls)
    heads = np.array([np.linspace(1.001 * falls[k], tops[k], _HEADS) for k in which]).reshape(-1, _HEADS)
    brought = press_volumes(
        [bench.system(k, float(h)) for k, row in zip(which, heads, strict=True) for h in row]
    )
    return PressTable(which, heads, falling(brought.reshape(-1, _HEADS)))


def count_presses(bench: Bench, alone: Alone, table: PressTable, *, line: bool = True) -> Presses | None:
    """Hand presses over every truth that runs alone; None where none does.

    ``line`` False: against a shut stop valve, with only the air vessel to fill (the throttled start).
    """
    ready = [k for k, code in enumerate(alone.outcome) if code in (RUNS_ALONE, STARVED)]
    if not ready:
        return None
    shown = ready[0]
    drawn = [k for k in ready if k > 0] or ready
    done = {k: _start_one(bench, alone, table, k, line=line) for k in dict.fromkeys([shown, *drawn])}
    reached = sorted((done[k][1] for k in drawn if done[k][0] == REACHED), key=lambda s: float(s.number[-1]))
    codes = [done[k][0] for k in drawn]
    volumes = table.of(shown)[1]
    return Presses(
        outcomes={code: codes.count(code) / len(codes) for code in (REACHED, TOO_MANY, NO_LIFT)},
        count=as_whole([s.number[-1] for s in reached]) if reached else None,
        seconds=as_range([s.seconds[-1] for s in reached]) if reached else None,
        level_alone=as_range(alone.level[drawn]),
        pace=press_pace(bench.systems[shown]),
        first_volume=float(volumes[0]),
        last_volume=float(volumes[-1]),
        series=done[shown][1] if done[shown][0] == REACHED else None,
        slow_series=reached[max(math.ceil(_HIGH * len(reached)) - 1, 0)] if reached else None,
    )


def _start_one(
    bench: Bench, alone: Alone, table: PressTable, k: int, *, line: bool
) -> tuple[str, PressSeries]:
    way = bench.ways[k]
    heads, volumes = table.of(k)
    return press_by_press(
        bench.stored(k) if line else bench.vessel.taken(way.heads),
        way.levels,
        way.heads,
        start_head=bench.systems[k].fall_m,
        goal=float(alone.level[k]),
        press_heads=heads,
        press_volumes=volumes,
        press_seconds=press_pace(bench.systems[k]),
    )
