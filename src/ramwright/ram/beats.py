"""Keeping count: sums over a beat, when a run counts as settled, and how it is helped there.

A beat runs from one closure of the waste valve to the next one that follows an opening of at least
``least_opening`` of the stroke; shorter openings are bounces and counted apart. While a run warms up,
the air vessel and the delivery line, which would take minutes to find their level, are moved after
each beat towards what that beat delivered. While it is measured nothing is moved. A run is settled when
delivery, waste and beat time of its last beats agree, or agree with those two, three or four beats before:
some rams beat in such a pattern.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ramwright.ram.compiled import kernel
from ramwright.ram.layout import HISTORY, Record
from ramwright.ram.vessel import line_loss, set_vessel_head

#: Secant steps of ``help_settle``: slope to begin with, steepest taken, least change of head that tells one.
_FIRST_SLOPE, _STEEPEST, _TELLING = -1.5, -20.0, 1e-4
#: Beats after which its steps begin to shrink.
_PATIENT = 12.0
Table = NDArray[np.void]


@kernel
def open_beat(b: Record, start: float, head: float) -> None:
    """Begin the sums of a beat at a time (s)."""
    b.start = start
    b.time = 0.0
    b.waste = 0.0
    b.delivered = 0.0
    b.inlet = 0.0
    b.drive = 0.0
    b.line = 0.0
    b.recoil = 0.0
    b.peak = head
    b.low = head
    b.closing_flow = 0.0
    b.vessel_sum = 0.0
    b.loss_sum = 0.0
    b.vessel_high = -1e300
    b.vessel_low = 1e300
    b.bounces = 0.0
    b.elapsed = 0.0
    b.level_sum = 0.0
    b.breathed = 0.0
    b.drawn = 0.0


@kernel
def add_step(p: Record, s: Record, b: Record) -> None:
    """Add one time step to the beat's sums."""
    dt = s.dt
    b.waste += s.waste * dt
    b.delivered += s.delivery * dt
    b.inlet += s.inlet * dt
    b.drive += s.drive * dt
    b.line += s.line_flow * dt
    if s.drive < 0.0:
        b.recoil -= s.drive * dt
    b.peak = max(b.peak, s.step_peak)
    b.low = min(b.low, s.step_low)
    b.closing_flow = max(b.closing_flow, s.drive)
    b.vessel_sum += s.vessel_head * dt
    b.loss_sum += line_loss(p, s.line_flow) * dt
    b.vessel_high = max(b.vessel_high, s.vessel_head)
    b.vessel_low = min(b.vessel_low, s.vessel_head)
    b.level_sum += s.level * dt
    b.elapsed += dt
    b.breathed += s.breathed
    b.drawn += s.drawn


@kernel
def keep_beat(history: Table, count: int, b: Record) -> None:
    """Store a finished beat in the ring of the last ``HISTORY`` beats."""
    h = history[count % HISTORY]
    h.start = b.start
    h.time = b.time
    h.waste = b.waste
    h.delivered = b.delivered
    h.inlet = b.inlet
    h.drive = b.drive
    h.line = b.line
    h.recoil = b.recoil
    h.peak = b.peak
    h.low = b.low
    h.closing_flow = b.closing_flow
    h.vessel_sum = b.vessel_sum
    h.vessel_high = b.vessel_high
    h.vessel_low = b.vessel_low
    h.bounces = b.bounces
    h.elapsed = b.elapsed
    h.level_sum = b.level_sum
    h.breathed = b.breathed
    h.drawn = b.drawn


@kernel
def spread(history: Table, count: int, last: int) -> float:
    """Largest relative difference among the last beats, of beat time, waste and delivery per beat.

    Delivery is held against at least a thousandth of the waste: below that there is none to speak of.
    """
    first = history[(count - 1) % HISTORY]
    t0, t1 = first.time, first.time
    w0, w1 = first.waste, first.waste
    d0, d1 = first.delivered, first.delivered
    for k in range(2, last + 1):
        h = history[(count - k) % HISTORY]
        t0, t1 = min(t0, h.time), max(t1, h.time)
        w0, w1 = min(w0, h.waste), max(w1, h.waste)
        d0, d1 = min(d0, h.delivered), max(d1, h.delivered)
    worst = (t1 - t0) / max(t1, 1e-300)
    worst = max(worst, (w1 - w0) / max(abs(w1), 1e-300))
    return max(worst, (d1 - d0) / max(d1, 1e-3 * abs(w1), 1e-300))


@kernel
def pattern(history: Table, count: int, good: int, tolerance: float) -> int:
    """Every how many beats the run repeats itself: 1 to 4, or 0 if it does not or too few were seen.

    1: the last four beats agree. k: each of the last 2 k beats agrees with the one k beats before.
    """
    if good >= 4 and spread(history, count, 4) <= tolerance:
        return 1
    for k in range(2, 5):
        if good >= 3 * k:
            worst = 0.0
            for i in range(1, 2 * k + 1):
                a, b = history[(count - i) % HISTORY], history[(count - i - k) % HISTORY]
                worst = max(worst, abs(a.time - b.time) / max(a.time, 1e-300))
                worst = max(worst, abs(a.waste - b.waste) / max(abs(a.waste), 1e-300))
                most = max(a.delivered, 1e-3 * abs(a.waste), 1e-300)
                worst = max(worst, abs(a.delivered - b.delivered) / most)
            if worst <= tolerance:
                return k
    return 0


@kernel
def help_settle(p: Record, s: Record, b: Record, count: int) -> float:
    """Move vessel, line and tank inflow towards the balance of this beat; how far the head moved (m).

    Out of balance by ``miss = lift + line loss at what was delivered - head``, the head is moved by a
    secant step: a higher head lowers the delivery and with it the line loss, and a plain step would
    swing about the balance for ever where the line loss is large. The slope is at most -1 (no line loss)
    and is learnt from beat to beat; after some beats the steps shrink, so that beats which never repeat
    are averaged and not chased.
    """
    if b.elapsed <= 0.0:
        return 0.0
    flow = b.delivered / b.elapsed
    line = b.line / b.elapsed
    head = b.vessel_sum / b.elapsed
    pulsing = b.loss_sum / b.elapsed - line_loss(p, line)
    miss = p.lift + line_loss(p, flow) + pulsing - head
    change = head - s.helped_head
    if s.helped_slope == 0.0:
        s.helped_slope = _FIRST_SLOPE
    elif abs(change) > _TELLING * (p.lift + p.atmosphere):
        s.helped_slope = min(max((miss - s.helped_miss) / change, _STEEPEST), -1.0)
    s.helped_head, s.helped_miss = head, miss
    shift = -miss / s.helped_slope * min(1.0, _PATIENT / count)
    set_vessel_head(p, s, s.vessel_head + shift)
    steep = p.r1 + 2.0 * p.r2 * abs(flow)
    if steep > 0.0:
        follows = (s.helped_slope + 1.0) / steep * shift
        flow += min(max(follows, -0.5 * flow), 0.5 * flow)
    s.line_flow += flow - line
    s.inflow = max(p.source_flow, b.inlet / b.elapsed)
    return shift
