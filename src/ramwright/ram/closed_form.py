"""Cross-check: the ram as a rigid column and an ideal water hammer, in closed form.

Column from rest under constant fall with quadratic losses: ``V = V_inf tanh(...)``; delivery per beat
``A L V0^2 / (2 g (h - H))`` for many small steps; recoil and valve motion left out. It errs high.
Derived here from the equation of motion; the same law is in the classical texts on rams.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.ram.layout import STANDARD_GRAVITY
from ramwright.ram.system import RamSystem

#: Closing velocity over terminal velocity below which the valve counts as never open.
_NO_SPEED = 1e-9


@dataclass(frozen=True, slots=True)
class ClosedForm:
    """Cross-check figures, SI. Velocities refer to the last stretch of drive pipe; flows are means.

    ``hangs_open`` is true if the column can never pull the valve off its stop; then the flows are those
    of the open valve. Where nothing pulls the valve open there is no beat: no flow, an endless beat time.
    """

    terminal_velocity: float
    closing_velocity: float
    column_time: float
    acceleration_time: float
    waste_volume: float
    delivered_volume: float
    delivery: float
    waste: float
    beat_time: float
    efficiency_rankine: float
    efficiency_daubuisson: float
    shutoff_head: float
    hangs_open: bool


def _losses(system: RamSystem) -> tuple[float, float, float]:
    """Column as (sum of L/A, linear and quadratic loss on the flow with the waste valve wide open)."""
    g = STANDARD_GRAVITY
    inertia = math.fsum(s.length_m / s.area for s in system.drive_pipe)
    linear = math.fsum(s.c1 * s.length_m / s.area for s in system.drive_pipe)
    square = math.fsum((s.c2 * s.length_m + s.loss / (2.0 * g)) / s.area**2 for s in system.drive_pipe)
    square += (1.0 + system.drive_tank.entrance_loss) / (2.0 * g * system.drive_pipe[0].area ** 2)
    valve = system.waste_valve
    square += valve.loss_at(valve.stroke_m) / (2.0 * g * valve.port_area**2)
    return inertia, linear, square


def closing_flow(system: RamSystem) -> float:
    """Flow (m3/s) at which the fully open waste valve starts to lift; infinite if none does."""
    valve = system.waste_valve
    pull = sum(c * valve.stroke_m**k for k, c in enumerate(valve.opening_force))
    if pull <= 0.0:
        return 0.0
    loss = valve.loss_at(valve.stroke_m)
    force = valve.force_factor * system.water.density * STANDARD_GRAVITY * valve.port_area
    head = pull / (force * (1.0 + valve.momentum / loss))
    return valve.port_area * math.sqrt(2.0 * STANDARD_GRAVITY * head / loss)


def closed_form(system: RamSystem) -> ClosedForm:
    """Estimate of one ram's working, to set beside the simulated one."""
    g = STANDARD_GRAVITY
    fall = system.fall_m - system.tailwater_m
    lift = system.delivery_line.lift_m - system.tailwater_m
    area = system.drive_pipe[-1].area
    inertia, linear, square = _losses(system)
    limit = 2.0 * fall / (linear + math.sqrt(linear**2 + 4.0 * square * fall))
    closing = closing_flow(system)
    hangs = closing >= limit
    q0 = min(closing, 0.999 * limit)
    k = fall / limit**2  # all losses as if quadratic, right at the terminal flow
    x = q0 / limit
    time = inertia * limit / (2.0 * g * fall) * math.log((1.0 + x) / (1.0 - x))
    wasted = -inertia / (2.0 * g * k) * math.log1p(-x * x)
    delivered = inertia * q0**2 / (2.0 * g * (lift - fall))
    # The column loses its speed under the extra head of the air vessel.
    slowing = inertia * q0 / (g * (lift - fall))
    beat = time + slowing
    if hangs:
        delivered, beat, wasted = 0.0, math.inf, math.inf
    shut = x < _NO_SPEED
    if shut:
        delivered, beat, wasted = 0.0, math.inf, 0.0
    idle = hangs or shut
    rankine = 0.0 if idle else delivered * (lift - fall) / (wasted * fall)
    daubuisson = 0.0 if idle else delivered * lift / ((wasted + delivered) * fall)
    return ClosedForm(
        terminal_velocity=limit / area,
        closing_velocity=q0 / area,
        column_time=inertia * limit / (g * fall),
        acceleration_time=math.inf if hangs else time,
        waste_volume=wasted,
        delivered_volume=delivered,
        delivery=0.0 if hangs else delivered / beat,
        waste=limit if hangs else wasted / beat,
        beat_time=beat,
        efficiency_rankine=rankine,
        efficiency_daubuisson=daubuisson,
        shutoff_head=system.fall_m + system.drive_pipe[-1].wave_speed * q0 / area / g,
        hangs_open=hangs,
    )
