"""Air vessel and delivery line: a gas spring that feeds a rigid column of water.

Gas: ``p V^n`` constant. The step uses ``p1/p0 = (1 + n d/2)/(1 - n d/2)`` with d the relative squeeze,
which is third-order right and comes back to the same pressure when the water goes out again; a squeeze
beyond a twentieth takes the power itself.
Column: ``inertia dQ/dt = H_vessel - lift - r1 Q - r2 Q|Q|``, all of it taken at the end of the step.
"""

from __future__ import annotations

from ramwright.ram.compiled import kernel
from ramwright.ram.layout import Record

#: Head, m, beyond which nothing is kept count of: no part of a ram would be left.
_MOST = 1e5


@kernel
def line_loss(p: Record, flow: float) -> float:
    """Head lost in the delivery line (m) at a flow (m3/s)."""
    return p.r1 * flow + p.r2 * flow * abs(flow)


@kernel
def advance_vessel(p: Record, s: Record, delivery: float) -> None:
    """Move air vessel and delivery line on by one time step with ``delivery`` m3/s coming in.

    The line's flow at the end of the step is solved with the vessel's head it leaves behind: steady however
    light the line and small the vessel.
    """
    dt = s.dt
    rate = dt / p.inertia
    push = p.exponent * (s.vessel_head + p.atmosphere) / s.air * dt
    size = abs(s.line_flow)
    wanted = s.line_flow + rate * (s.vessel_head + push * delivery - p.lift + p.r2 * s.line_flow * size)
    flow = wanted / (1.0 + rate * (push + p.r1 + 2.0 * p.r2 * size))
    # However little air there is, a step leaves a twentieth of it: the line is held back by the rest.
    s.line_flow = max(flow, delivery - 0.95 * s.air / dt)
    net = (delivery - s.line_flow) * dt
    if abs(net) <= 0.05 * s.air:
        squeeze = 0.5 * p.exponent * net / (s.air - 0.5 * net)
        ratio = (1.0 + squeeze) / (1.0 - squeeze)
    else:
        ratio = (s.air / (s.air - net)) ** p.exponent
    s.vessel_head = min((s.vessel_head + p.atmosphere) * ratio, _MOST) - p.atmosphere
    s.air -= net


@kernel
def set_vessel_head(p: Record, s: Record, head: float) -> None:
    """Put the vessel at a head (m) with the same amount of gas in it."""
    new = max(head + p.atmosphere, 0.1 * p.atmosphere)
    s.air *= ((s.vessel_head + p.atmosphere) / new) ** (1.0 / p.exponent)
    s.vessel_head = new - p.atmosphere
