"""Running rams: one, many on all cores, and one with its traces."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import RamwrightError
from ramwright.ram.grid import Grid, cut_pipe, to_rows
from ramwright.ram.kernel import run_block, run_traced
from ramwright.ram.layout import HANGS_OPEN, RESULT, STARVED, TRACE
from ramwright.ram.result import ManyResults, RunResult, collect, pick
from ramwright.ram.system import RamSystem

Array = NDArray[np.float64]
Progress = Callable[[int, int], bool]
_BLOCK = 8
#: A ram that drinks more than reaches the tank by less than this share still counts as supplied.
_SPARE = 1e-9
#: Levels tried between overflow and floor, and how near to what reaches the tank a drink is near enough.
_LEVELS_TRIED, _NEAR = 6, 0.002


class StoppedError(RamwrightError):
    """A progress callback asked the runs to stop."""

    def __init__(self) -> None:
        super().__init__("stopped")


@dataclass(frozen=True, slots=True)
class Beat:
    """One ram's last beats in detail.

    ``trace`` maps each of ``layout.TRACE`` to an array of one value a time step (s, m, m3/s, m): time
    from the first closure shown, body head, flow at the end of the drive pipe, waste, delivery into the
    air vessel, waste-valve opening, air-vessel head, drive-tank level, delivery-line flow, flow into the
    drive pipe, movement of the pipe end. ``stations`` (m from the drive tank), ``highest`` and
    ``lowest`` (m) are the extreme heads along the drive pipe over the settled beats.
    """

    result: RunResult
    trace: dict[str, Array]
    stations: Array
    highest: Array
    lowest: Array
    wave_speed_change: float

    @property
    def peak_station(self) -> float:
        """Where along the drive pipe the highest head stands, m from the drive tank."""
        return float(self.stations[int(np.argmax(self.highest))])

    @property
    def low_station(self) -> float:
        """Where along the drive pipe the lowest head stands, m from the drive tank."""
        return float(self.stations[int(np.argmin(self.lowest))])


def _run_rows(rows: NDArray[np.void], workers: int, progress: Progress | None) -> NDArray[np.void]:
    """Run every row, in blocks dealt to threads; each result lands in the row of its system."""
    results = np.zeros(len(rows), RESULT)
    starts = range(0, len(rows), _BLOCK)
    if workers == 1 or len(rows) <= _BLOCK:
        for first in starts:
            run_block(rows, results, first, min(first + _BLOCK, len(rows)))
            if progress is not None and not progress(min(first + _BLOCK, len(rows)), len(rows)):
                raise StoppedError
        return results
    with ThreadPoolExecutor(workers) as pool:
        jobs = [pool.submit(run_block, rows, results, a, min(a + _BLOCK, len(rows))) for a in starts]
        try:
            for done, job in enumerate(jobs):
                job.result()
                if progress is not None and not progress(min((done + 1) * _BLOCK, len(rows)), len(rows)):
                    raise StoppedError
        except BaseException:
            # Stopped by the caller or from the keyboard: leaving the pool would run all that is left.
            pool.shutdown(wait=False, cancel_futures=True)
            raise
    return results


def _check_finite(results: NDArray[np.void]) -> None:
    """Nothing but numbers may leave the kernel; its own guard would be compiled away."""
    for name in ("delivery", "waste", "drive", "beat_time", "peak", "low", "closing_flow"):
        bad = ~np.isfinite(results[name])
        if bad.any():
            raise RamwrightError("engine_not_finite", value=name, run=int(np.argmax(bad)))


def run_many(
    systems: Sequence[RamSystem],
    *,
    grid: Grid | None = None,
    workers: int | None = None,
    progress: Progress | None = None,
) -> ManyResults:
    """Run many rams on all cores; the bytes of the result do not depend on how many.

    ``systems``: any number of rams. ``grid``: how finely to cut them. ``workers``: threads, default one
    a core. ``progress(done, of)``: called now and then; returning False stops the runs.
    Raises ``StoppedError``, or ``InputError`` for a system the grid cannot hold.

    A ram that drinks more than reaches its drive tank draws the tank down until it drinks no more
    than that; if that level lies below the tank's cover, its outcome is ``starved``.
    """
    grid = grid or Grid()
    listed = list(systems)
    workers = workers or os.cpu_count() or 1
    results = _run_rows(to_rows(listed, grid), workers, progress)
    short = [
        i for i, s in enumerate(listed) if results["drive"][i] > s.drive_tank.source_flow * (1.0 + _SPARE)
    ]
    if short:
        _draw_down(listed, results, short, grid, workers)
    _check_finite(results)
    return collect(listed, results)


def _draw_down(
    systems: list[RamSystem], results: NDArray[np.void], short: list[int], grid: Grid, workers: int
) -> None:
    """Find the level at which each of the rams in ``short`` drinks just what reaches it.

    The level is bracketed between the overflow and the end of the cover and narrowed by straight lines,
    each checked by a run; the lowest is kept where none drinks little enough.
    """

    def at(levels: dict[int, float]) -> dict[int, np.void]:
        lowered = [replace(systems[i], fall_m=levels[i]) for i in levels]
        return dict(zip(levels, _run_rows(to_rows(lowered, grid), workers, None), strict=True))

    floor = {i: systems[i].fall_m - systems[i].drive_tank.cover_m for i in short}
    floor = {i: z for i, z in floor.items() if systems[i].tailwater_m + 0.02 < z < systems[i].fall_m}
    fed: dict[int, tuple[float, np.void]] = {}
    over = {i: (systems[i].fall_m, float(results["drive"][i])) for i in floor}
    for i, row in at(floor).items():
        if row["drive"] <= systems[i].drive_tank.source_flow and row["beat_time"] > 0.0:
            fed[i] = (floor[i], row)
    for _ in range(_LEVELS_TRIED):
        tried: dict[int, float] = {}
        for i, (low, row) in fed.items():
            source = systems[i].drive_tank.source_flow
            high, drive = over[i]
            spare = source - float(row["drive"])
            if spare > _NEAR * source and drive > source:
                tried[i] = low + (high - low) * min(max(spare / (drive - float(row["drive"])), 0.1), 0.9)
        for i, row in at(tried).items():
            if row["drive"] <= systems[i].drive_tank.source_flow and row["beat_time"] > 0.0:
                fed[i] = (tried[i], row)
            else:
                over[i] = (tried[i], float(row["drive"]))
    for i in short:
        if i in fed:
            results[i] = fed[i][1]
        elif results["outcome"][i] != HANGS_OPEN:
            results["outcome"][i] = STARVED
            results["delivery"][i] = 0.0


def run_one(system: RamSystem, *, grid: Grid | None = None) -> RunResult:
    """Run one ram until it settles, is stuck, or has used up its beats. See ``run_many``."""
    return pick(run_many([system], grid=grid, workers=1), 0)


def run_beat(system: RamSystem, *, grid: Grid | None = None, beats: float = 2.0) -> Beat:
    """Run one ram and keep its last beats step by step, on a finer grid than ``run_one`` uses.

    ``beats``: how many beats the trace holds. A ram that does not beat gives the last two seconds.
    Raises as ``run_many``.
    """
    grid = grid or Grid(reaches=40, glides=320)
    plain = run_many([system], grid=grid, workers=1)
    level = float(plain.rows["level"][0])
    held = replace(system, fall_m=level) if 0.0 < level < system.fall_m else system
    rows = to_rows([held], grid)
    cut = cut_pipe(held, grid.reaches_of(held))
    period = float(plain.rows["beat_time"][0])
    seconds = (beats + 0.6) * period if period > 0.0 else 2.0
    trace = np.full((int(seconds / cut.dt) + 8, len(TRACE)), np.nan)
    envelope = np.empty((2, len(cut.cells), max(cut.cells)))
    envelope[0], envelope[1] = -np.inf, np.inf
    run_traced(rows, np.zeros(1, RESULT), trace, envelope)
    trace = trace[np.isfinite(trace[:, 0])]
    trace = trace[np.argsort(trace[:, 0], kind="stable")]
    columns = {name: trace[:, k].copy() for k, name in enumerate(TRACE)}
    stations, high, low = [], [], []
    upto = 0.0
    for j, (stretch, n) in enumerate(zip(held.drive_pipe, cut.cells, strict=True)):
        stations.append(upto + (np.arange(n) + 0.5) * stretch.length_m / n)
        high.append(envelope[0, j, :n])
        low.append(envelope[1, j, :n])
        upto += stretch.length_m
    return Beat(
        result=pick(plain, 0),
        trace=_whole_beats(columns, beats),
        stations=np.concatenate(stations),
        highest=np.concatenate(high),
        lowest=np.concatenate(low),
        wave_speed_change=cut.worst_change,
    )


def _whole_beats(columns: dict[str, Array], beats: float) -> dict[str, Array]:
    """Cut a trace so that it begins a little before a closure and spans the beats wanted; time from 0."""
    opening, time = columns["opening"], columns["time"]
    shut = np.flatnonzero((opening[1:] == 0.0) & (opening[:-1] > 0.0)) + 1
    wanted = int(beats)
    first, last = 0, len(time)
    if len(shut) > wanted:
        period = (time[shut[-1]] - time[shut[-1 - wanted]]) / wanted
        end = time[-1]
        first = int(np.searchsorted(time, end - beats * period))
    begin = time[first] if len(time) else 0.0
    cut = {name: values[first:last] for name, values in columns.items()}
    cut["time"] = cut["time"] - begin
    return cut
