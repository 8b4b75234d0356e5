"""The drive pipe as two trains of waves (method of characteristics at Courant number 1).

With B = a/(gA), the two water-hammer equations make ``head + B flow`` travel down the pipe and
``head - B flow`` up it, unchanged but for friction (Wylie & Streeter, Fluid Transients, 1978,
chapter 3; from memory). Each cell holds one parcel of each; in a time step every parcel moves on by
one cell. Parcels never mix, so water is conserved to rounding and a frictionless surge is exact.

The trains live in buffers longer than the pipe, so that moving on by one cell is moving the start
index, not the data; ``RUNWAY`` steps later they are copied back.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ramwright.ram.compiled import kernel
from ramwright.ram.layout import Record

RUNWAY = 64
Array = NDArray[np.float64]


@kernel
def rub(p: Record, j: int, down: Array, up: Array, memory: Array, part: float) -> None:
    """Take one step's friction and wall creep out of both trains of stretch j, in place.

    Friction lowers one train and raises the other by the head lost in the cell: quasi-steady
    ``w (fric1 + fric2 |w|)`` with w = B Q, at most w itself; and unsteady ``slip1 y1 + slip2 y2``, where
    each y follows the changes of w and forgets them exponentially (weighting-function method; Zielke 1968,
    Vardy & Brown 2003, in the form of Trikha 1975; from memory). Creep lowers both: the retarded swelling
    of the wall, one Kelvin-Voigt element, takes ``gain (creep h - s)``. Vapour keeps the
    head at or above its own: a cell short of it opens a cavity that has to be filled before the head can
    rise (discrete vapour cavity, a cell each). ``memory`` has shape (5, cells): w before, y1, y2, s and
    the cavity, the last two as head. ``part`` is the share of a whole step gone by.
    """
    fric1, fric2 = part * p.fric1[j], part * p.fric2[j]
    slip1, slip2 = part * p.slip1[j], part * p.slip2[j]
    keep1, keep2 = 1.0 - part * (1.0 - p.keep1[j]), 1.0 - part * (1.0 - p.keep2[j])
    creep, gain = p.creep[j], part * p.gain[j]
    before, y1, y2, swell, cavity = memory[0], memory[1], memory[2], memory[3], memory[4]
    vapour = p.vapour
    for i in range(len(down)):
        d = down[i]
        u = up[i]
        w = 0.5 * (d - u)
        change = w - before[i]
        before[i] = w
        a = keep1 * y1[i] + change
        c = keep2 * y2[i] + change
        y1[i] = a
        y2[i] = c
        lost = w * min(fric1 + fric2 * abs(w), 1.0) + slip1 * a + slip2 * c
        h = 0.5 * (d + u)
        more = gain * (creep * h - swell[i])
        swell[i] += more
        opened = max(vapour - h + more, -cavity[i])
        cavity[i] += opened
        down[i] = d - lost - more + opened
        up[i] = u + lost - more + opened


@kernel
def rubbing_work(
    p: Record, j: int, down: Array, up: Array, memory: Array, part: float
) -> tuple[float, float]:
    """Energy (m4) that the coming ``rub`` takes out of stretch j: (friction, wall and cavities)."""
    friction = 0.0
    wall = 0.0
    keep1, keep2 = 1.0 - part * (1.0 - p.keep1[j]), 1.0 - part * (1.0 - p.keep2[j])
    for i in range(len(down)):
        w = 0.5 * (down[i] - up[i])
        h = 0.5 * (down[i] + up[i])
        change = w - memory[0, i]
        slip = p.slip1[j] * (keep1 * memory[1, i] + change) + p.slip2[j] * (keep2 * memory[2, i] + change)
        rub_share = min(part * (p.fric1[j] + p.fric2[j] * abs(w)), 1.0)
        friction += w * (w * rub_share + part * slip)
        more = part * p.gain[j] * (p.creep[j] * h - memory[3, i])
        opened = max(p.vapour - h + more, -memory[4, i])
        wall += h * more - (h - more + 0.5 * opened) * opened
    share = p.dt / p.impedance[j]
    return friction * share, wall * share


@kernel
def move_part(down: Array, up: Array, into_down: float, into_up: float, part: float) -> None:
    """Move both trains on by a part of a cell: each cell keeps the mean of what now stands in it."""
    n = len(down)
    for i in range(n - 1, 0, -1):
        down[i] += part * (down[i - 1] - down[i])
    down[0] += part * (into_down - down[0])
    for i in range(n - 1):
        up[i] += part * (up[i + 1] - up[i])
    up[n - 1] += part * (into_up - up[n - 1])


@kernel
def joint(arrive_down: float, arrive_up: float, b_above: float, b_below: float) -> tuple[float, float]:
    """Parcels leaving a joint of two stretches: (down into the lower, up into the upper), m.

    Equal head and equal flow on both sides of the joint: part of each wave is thrown back.
    """
    head = (arrive_down * b_below + arrive_up * b_above) / (b_above + b_below)
    return 2.0 * head - arrive_up, 2.0 * head - arrive_down


@kernel
def pocket_joint(p: Record, s: Record, j: int, down: float, up: float) -> tuple[float, float]:
    """Parcels leaving the joint below stretch j where a pocket of air sits at a hump, as ``joint``.

    The pocket is a gas spring, ``(H - level + atmosphere) V^n`` constant. Its volume at the end of the
    step solves ``V1 = V0 - dt (P - S (H0 + H1)/2)`` (trapezoidal, Newton from V0), with ``P - S H`` what
    the pipes bring; in one step it changes fiftyfold at the most.
    """
    b1, b2 = p.impedance[j], p.impedance[j + 1]
    offer = down / b1 + up / b2
    conduct = 1.0 / b1 + 1.0 / b2
    old, h0 = s.pocket[j], s.pocket_head[j]
    ground = p.pocket_level[j] - p.atmosphere
    volume = old
    for _ in range(12):
        h1 = ground + (h0 - ground) * (old / volume) ** p.exponent
        miss = volume - old + s.dt * (offer - conduct * 0.5 * (h0 + h1))
        slope = 1.0 + s.dt * conduct * 0.5 * p.exponent * (h1 - ground) / volume
        step = miss / slope
        volume = min(max(volume - step, 0.02 * old), 50.0 * old)
        if abs(step) <= 1e-14 * old:
            break
    s.pocket_head[j] = ground + (h0 - ground) * (old / volume) ** p.exponent
    s.pocket[j] = volume
    # The head from the volume, not from the adiabat: what the pipes bring is then just what it took.
    head = (offer + (volume - old) / s.dt) / conduct
    return 2.0 * head - up, 2.0 * head - down


@kernel
def rewind(trains: Array, width: int, down_at: int, up_at: int) -> None:
    """Copy both trains back to their starting places (down: RUNWAY, up: 0)."""
    for i in range(width - 1, -1, -1):
        trains[0, RUNWAY + i] = trains[0, down_at + i]
    for i in range(width):
        trains[1, i] = trains[1, up_at + i]
