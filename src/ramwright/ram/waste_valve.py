"""Waste valve: discharge and closing force as functions of opening, and the motion between its stops.

Loss from the body to the outside on the port velocity: ``K = k_p + k_c (D/x)^2`` (form and 0.155 for
k_c after Idelchik's disc valve without guides; from memory; k_c = 0.155 is a contraction of 0.63 at
the curtain pi D x). Force on the disc: pressure on the port area plus the momentum of the jet turned
through a right angle, ``F = rho g dH A (1 + m/K)`` (momentum balance over the port).
"""

from __future__ import annotations

from ramwright.ram.compiled import kernel
from ramwright.ram.layout import Record


@kernel
def discharge(p: Record, opening: float) -> float:
    """Flow per square root of head difference, m2.5/s, at an opening in m."""
    if opening <= 0.0:
        return p.leak_flow
    return p.port_flow * opening / (p.port_loss * opening * opening + p.curtain_loss) ** 0.5 + p.leak_flow


@kernel
def net_force(p: Record, opening: float, speed: float, head: float) -> float:
    """Force that opens (positive) or closes (negative) the valve, N, at a body head in m."""
    pull = p.open0 + opening * (p.open1 + opening * p.open2)
    over = head - p.tailwater
    push = p.valve_force * over
    if over > 0.0:
        square = opening * opening
        push *= 1.0 + p.momentum * square / (p.port_loss * square + p.curtain_loss)
    return pull - push - p.valve_damping * speed


@kernel
def moved(p: Record, s: Record, head: float, dt: float) -> tuple[float, float]:
    """Opening (m) and speed (m/s) of the disc after dt seconds under the force at a body head.

    Symplectic Euler. The open stop takes all the disc's speed; an opening of zero or less means that it
    landed on its seat on the way.
    """
    speed = s.valve_speed + dt * net_force(p, s.opening, s.valve_speed, head) / p.valve_mass
    opening = s.opening + dt * speed
    if opening >= p.stroke:
        return p.stroke, 0.0
    if opening <= 0.0 and s.opening == 0.0:
        return 0.0, 0.0
    return opening, speed
