"""Drive tank and the entrance of the drive pipe.

Inflow loses ``entrance Q^2`` (velocity head plus entrance loss) between the tank and the pipe; outflow
loses its velocity head in the tank, so the head at the entrance is then the tank's level.
"""

from __future__ import annotations

from ramwright.ram.compiled import kernel
from ramwright.ram.layout import Record


@kernel
def entrance_flow(level: float, arrive: float, b: float, entrance: float) -> float:
    """Flow into the pipe, m3/s, solving ``arrive + B Q = level - entrance Q|Q|`` (Q > 0) or without loss."""
    spare = level - arrive
    if spare <= 0.0 or entrance == 0.0:
        return spare / b
    return 2.0 * spare / (b + (b * b + 4.0 * entrance * spare) ** 0.5)


@kernel
def advance_level(p: Record, s: Record) -> None:
    """Let the level follow what comes in and what the pipe takes; above the overflow it runs over."""
    if p.tank_area < 1e9:
        s.level = min(s.level + s.dt * (s.inflow - s.inlet) / p.tank_area, p.fall)
