"""Whole runs of a ram, from rest to a settled beat or to standing still.

Contract of ``run_ram``:

1. All numbers are finite, SI, heads above the waste-valve seat (``ram.grid`` sees to it).
2. At most ``max_steps`` steps and about ``max_solves`` solutions of the body are taken, whatever the input.
3. The outcome is one of ``layout.OUTCOMES``; flows are means over whole settled beats.
4. Means of a run that does not settle are over its last beats, with their bounds.
5. Nothing is shared between runs: they may go in any order and side by side, with equal results.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ramwright.ram.audit import add_work, clear_audit, close_audit, open_audit
from ramwright.ram.beats import add_step, help_settle, keep_beat, open_beat, pattern, spread
from ramwright.ram.compiled import kernel
from ramwright.ram.layout import (
    BEAT,
    CHATTERS,
    HANGS_OPEN,
    HANGS_SHUT,
    HISTORY,
    LIFT_BEYOND,
    NO_PERIOD,
    RUNS,
    STATE,
    Record,
)
from ramwright.ram.pipe import RUNWAY
from ramwright.ram.step import step
from ramwright.ram.vessel import line_loss

Array = NDArray[np.float64]
_WARM_BEATS, _PATTERN_BEATS = 12, 12
_FEW_BEATS = 8
_STILL_DRIFTING = 2e-4
_WARMING, _MEASURING, _BOUNDING = 0, 1, 2


@kernel
def start(p: Record, s: Record, trains: Array, memory: Array) -> None:
    """Column at rest under the fall, waste valve open, line running at the closed-form delivery."""
    s.time = 0.0
    s.opening = p.stroke
    s.valve_speed = 0.0
    s.head = p.fall
    s.line_flow = p.first_delivery
    s.vessel_head = p.lift + line_loss(p, p.first_delivery)
    s.air = p.air
    s.level = p.fall
    s.inflow = p.source_flow
    s.cavity, s.shift, s.shift_speed = 0.0, 0.0, 0.0
    if p.held == 0:
        s.shift = p.rho_g * p.end_area * p.fall / p.mount_stiffness
    s.widest = p.stroke
    s.ajar = 0.0
    for j in range(p.segments - 1):
        s.pocket[j] = p.pocket[j]
        s.pocket_head[j] = p.fall
    s.solves = 0
    trains[:, :, :] = p.fall
    for j in range(p.segments):
        memory[j, 3, :] = p.creep[j] * p.fall


@kernel
def summarise(history: NDArray[np.void], count: int, last: int, r: Record) -> None:
    """Means over the last beats, weighted by time; extremes and bounds over the same beats."""
    time = 0.0
    elapsed = 0.0
    waste, delivered, inlet, line, recoil, bounces, closing = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    vessel, level, breathed, drawn = 0.0, 0.0, 0.0, 0.0
    r.peak, r.low = -1e300, 1e300
    r.vessel_high, r.vessel_low = -1e300, 1e300
    r.delivery_least, r.delivery_most = 1e300, -1e300
    r.beat_time_least, r.beat_time_most = 1e300, -1e300
    for k in range(1, last + 1):
        h = history[(count - k) % HISTORY]
        time += h.time
        elapsed += h.elapsed
        waste += h.waste
        delivered += h.delivered
        inlet += h.inlet
        line += h.line
        recoil += h.recoil
        bounces += h.bounces
        closing += h.closing_flow
        vessel += h.vessel_sum
        level += h.level_sum
        breathed += h.breathed
        drawn += h.drawn
        r.peak, r.low = max(r.peak, h.peak), min(r.low, h.low)
        r.vessel_high, r.vessel_low = max(r.vessel_high, h.vessel_high), min(r.vessel_low, h.vessel_low)
        mean = h.delivered / h.elapsed
        r.delivery_least, r.delivery_most = min(r.delivery_least, mean), max(r.delivery_most, mean)
        r.beat_time_least, r.beat_time_most = min(r.beat_time_least, h.time), max(r.beat_time_most, h.time)
    r.delivery = delivered / elapsed
    r.waste = waste / elapsed
    r.drive = inlet / elapsed
    r.line_mean = line / elapsed
    r.vessel_mean = vessel / elapsed
    r.level = level / elapsed
    r.air_volume = breathed / last
    r.drawn_volume = drawn / last
    r.beat_time = time / last
    r.waste_volume = waste / last
    r.delivered_volume = delivered / last
    r.recoil_volume = recoil / last
    r.bounces = bounces / last
    r.closing_flow = closing / last


@kernel
def stuck(p: Record, s: Record, watch: Array) -> int:
    """Whether the ram has come to rest: HANGS_OPEN, HANGS_SHUT, or RUNS while neither is certain.

    ``watch`` = (time of last look, flow then, opening then, time delivery or opening last happened,
    look interval, quiet time after which a shut valve stays shut). Open: flow and opening no longer
    change over a quarter of the time the column needs to speed up. Shut: nothing has passed either valve
    for many round trips of the wave, whose swing only dies down.
    """
    if s.opening > 0.0 or s.delivery > 0.0:
        watch[3] = s.time
    elif s.time - watch[3] > watch[5]:
        return HANGS_SHUT
    if s.time - watch[0] >= watch[4]:
        still = (
            abs(s.drive - watch[1]) <= 1e-4 * abs(s.drive) and abs(s.opening - watch[2]) <= 1e-4 * p.stroke
        )
        watch[0], watch[1], watch[2] = s.time, s.drive, s.opening
        if still and s.opening > 0.0 and s.valve_speed * watch[4] <= p.stroke * 1e-3:
            return HANGS_OPEN
    return RUNS


@kernel
def keep_trace(s: Record, row: Array) -> None:
    """Write one time step into a row of the trace (columns: ``layout.TRACE``)."""
    row[0], row[1], row[2], row[3], row[4] = s.time, s.head, s.drive, s.waste, s.delivery
    row[5], row[6], row[7], row[8], row[9] = s.opening, s.vessel_head, s.level, s.line_flow, s.inlet
    row[10] = s.shift


@kernel
def widen_envelope(p: Record, trains: Array, age: int, envelope: Array) -> None:
    """Keep the highest and lowest head of every cell, ``envelope`` of shape (2, segments, cells)."""
    for j in range(p.segments):
        for i in range(p.cells[j]):
            head = 0.5 * (trains[j, 0, RUNWAY - age + i] + trains[j, 1, age + i])
            envelope[0, j, i] = max(envelope[0, j, i], head)
            envelope[1, j, i] = min(envelope[1, j, i], head)


@kernel
def finish(s: Record, history: NDArray[np.void], count: int, good: int, r: Record) -> None:
    """Turn the last beats into the result and, where the ram beats on, its outcome."""
    r.beats = count
    if r.outcome == NO_PERIOD and count < _FEW_BEATS:
        # All its steps used up over a beat or two: it stands for all that anyone would wait.
        r.outcome = HANGS_OPEN if s.opening > 0.0 else HANGS_SHUT
    if r.outcome != NO_PERIOD:
        r.waste = r.drive = s.waste if r.outcome == HANGS_OPEN else 0.0
        r.delivery = 0.0
        return
    last = min(count, HISTORY, good if good > 0 else 1)
    if r.settled > 0:
        last = 4 if r.settled == 1 else 3 * r.settled
    if last == 0:
        return
    summarise(history, count, last, r)
    if r.delivered_volume <= 1e-6 * r.waste_volume:
        r.outcome = LIFT_BEYOND
    elif r.settled > 0:
        r.outcome = RUNS


@kernel
def run_ram(p: Record, r: Record, trace: Array, envelope: Array) -> None:
    """Run one ram from rest until it has settled, is stuck, or has used up its steps or beats.

    ``trace`` of shape (rows, len(TRACE)) is a ring that ends up holding the last steps; give it no
    rows to keep none. ``envelope`` takes the extreme heads along the pipe over the beats the result is from.
    """
    widest_pipe = 0
    for j in range(p.segments):
        widest_pipe = max(widest_pipe, p.cells[j])
    trains = np.empty((p.segments, 2, RUNWAY + widest_pipe))
    memory = np.zeros((p.segments, 5, widest_pipe))
    s = np.zeros(1, STATE)[0]
    b = np.zeros(1, BEAT)[0]
    history = np.zeros(HISTORY, BEAT)
    start(p, s, trains, memory)
    open_beat(b, 0.0, p.fall)
    watch = np.array([0.0, 0.0, 0.0, 0.0, p.look, p.patience])
    phase, good, count, idle, age = _WARMING, 0, 0, 0, 0
    r.outcome = NO_PERIOD
    r.settled = 0
    steps = 0
    rows = len(trace)
    while steps < p.max_steps and s.solves < p.max_solves:
        vessel_head = s.vessel_head
        age = step(p, s, trains, memory, age)
        steps += 1
        add_step(p, s, b)
        r.all_delivered += s.delivery * s.dt
        r.all_wasted += s.waste * s.dt
        if rows > 0:
            keep_trace(s, trace[steps % rows])
            if phase != _WARMING:
                widen_envelope(p, trains, age, envelope)
        if p.audit == 1 and phase != _WARMING:
            add_work(p, s, r.audit, vessel_head)
        if s.shut_event == 0:
            if steps & 7 == 0:
                if not np.isfinite(s.head + s.vessel_head):
                    # Told outside as a fault of the engine, never as an outcome.
                    r.peak = np.nan
                    break
                state = stuck(p, s, watch)
                if state != RUNS:
                    r.outcome = state
                    break
            continue
        if s.widest < p.least_opening * p.stroke:
            b.bounces += 1.0
            idle += 1
            s.widest = 0.0
            if idle >= 60:
                r.outcome = CHATTERS
                break
            continue
        s.widest = 0.0
        idle = 0
        b.time = s.time - b.start
        keep_beat(history, count, b)
        count += 1
        good += 1
        before = phase
        if phase == _WARMING:
            shift = help_settle(p, s, b, count)
            calm = abs(shift) <= _STILL_DRIFTING * (p.lift + p.atmosphere)
            if calm and good >= 3 and (good >= _WARM_BEATS or spread(history, count, 3) <= p.tolerance):
                phase = _MEASURING
        elif phase == _MEASURING:
            r.settled = pattern(history, count, good, p.tolerance)
            if r.settled > 0:
                break
            if good >= _PATTERN_BEATS:
                phase = _WARMING
        elif phase == _BOUNDING and good >= HISTORY:
            break
        if phase == _WARMING and count >= p.max_beats - HISTORY:
            phase = _BOUNDING
        if phase != before:
            good = 0
            if p.audit == 1:
                open_audit(p, s, r.audit, trains, memory, age)
            if rows > 0:
                envelope[0] = -1e300
                envelope[1] = 1e300
        open_beat(b, s.time, s.head)
    finish(s, history, count, good, r)
    if p.audit == 1 and phase == _WARMING:
        clear_audit(r.audit)
    elif p.audit == 1:
        close_audit(p, s, r.audit, trains, memory, age)
    r.steps = steps
    r.time = s.time
    r.solves = s.solves


@kernel
def run_block(systems: NDArray[np.void], results: NDArray[np.void], first: int, stop: int) -> None:
    """Run the rams of rows first to stop (exclusive), each by itself, into the same rows of ``results``."""
    nothing = np.empty((0, 11))
    nowhere = np.empty((2, 0, 0))
    for i in range(first, stop):
        run_ram(systems[i], results[i], nothing, nowhere)


@kernel
def run_traced(systems: NDArray[np.void], results: NDArray[np.void], trace: Array, envelope: Array) -> None:
    """Run the ram of row 0, keep its last steps in ``trace`` and its extreme heads in ``envelope``."""
    run_ram(systems[0], results[0], trace, envelope)
