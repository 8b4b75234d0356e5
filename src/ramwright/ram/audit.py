"""Where the energy and the water of the settled beats went, every term integrated by itself.

Energies are divided by rho g: head times volume, m4. A parcel pair holds ``dt (down^2 + up^2)/(4B)``;
its water is ``dt (down + up)/(2B)``.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ramwright.ram.compiled import kernel
from ramwright.ram.layout import Record
from ramwright.ram.pipe import RUNWAY
from ramwright.ram.vessel import line_loss

Array = NDArray[np.float64]


@kernel
def keep_work(
    p: Record, s: Record, head: float, waste: float, delivery: float, cavity: float, speed: float, dt: float
) -> None:
    """Add the work done at the ram in one (sub-)step, before the state takes on its new values."""
    s.waste_work += head * waste * dt
    s.delivery_work += head * delivery * dt
    s.cavity_work += head * (s.cavity - cavity)
    if p.held == 0:
        middle = 0.5 * (s.shift_speed + speed)
        s.mount_work += p.mount_damping * middle * middle * dt / p.rho_g


@kernel
def pocket_energy(p: Record, volume: float, head: float, j: int) -> float:
    """Energy (m4) of an air pocket against the outside air and its own height above the seat."""
    absolute = head - p.pocket_level[j] + p.atmosphere
    return absolute * volume / (p.exponent - 1.0) + (p.atmosphere - p.pocket_level[j]) * volume


@kernel
def stored(p: Record, s: Record, trains: Array, memory: Array, age: int) -> tuple[float, float]:
    """Energy (m4) and water (m3) held in pipe, body, mount, air vessel and delivery line."""
    energy = 0.0
    water = 0.0
    for j in range(p.segments):
        squares = 0.0
        sums = 0.0
        for i in range(p.cells[j]):
            down = trains[j, 0, RUNWAY - age + i]
            up = trains[j, 1, age + i]
            squares += down * down + up * up
            sums += down + up + 2.0 * (memory[j, 3, i] - memory[j, 4, i])
        energy += squares * p.dt / (4.0 * p.impedance[j])
        water += sums * p.dt / (2.0 * p.impedance[j])
    for j in range(p.segments - 1):
        if p.pocket[j] > 0.0:
            water -= s.pocket[j]
            energy += pocket_energy(p, s.pocket[j], s.pocket_head[j], j)
    energy += 0.5 * p.body_compliance * s.head * s.head
    water += p.body_compliance * s.head - s.cavity - s.air
    if p.held == 0:
        moving = p.mount_mass * s.shift_speed * s.shift_speed + p.mount_stiffness * s.shift * s.shift
        energy += 0.5 * moving / p.rho_g
        water += p.end_area * s.shift
    energy += (s.vessel_head + p.atmosphere) * s.air / (p.exponent - 1.0) + p.atmosphere * s.air
    energy += 0.5 * p.inertia * s.line_flow * s.line_flow
    return energy, water


@kernel
def clear_audit(a: Record) -> None:
    """Set everything to zero: nothing was measured."""
    a.supplied, a.entrance, a.friction, a.waste, a.delivery_valve = 0.0, 0.0, 0.0, 0.0, 0.0
    a.lift, a.line_friction, a.mount, a.cavity, a.wall = 0.0, 0.0, 0.0, 0.0, 0.0
    a.water_in, a.water_out = 0.0, 0.0
    a.stored_before, a.held_before, a.stored_after, a.held_after = 0.0, 0.0, 0.0, 0.0


@kernel
def open_audit(p: Record, s: Record, a: Record, trains: Array, memory: Array, age: int) -> None:
    """Set all sums to zero and note what is held now."""
    clear_audit(a)
    a.stored_before, a.held_before = stored(p, s, trains, memory, age)


@kernel
def add_work(p: Record, s: Record, a: Record, vessel_head: float) -> None:
    """Add one finished step; ``vessel_head`` is the air vessel's as the step began."""
    dt = s.dt
    a.supplied += s.level * s.inlet * dt
    a.entrance += (s.level - s.inlet_head) * s.inlet * dt
    a.friction += s.friction_work
    a.wall += s.wall_work
    a.waste += s.waste_work
    a.delivery_valve += s.delivery_work - vessel_head * s.delivery * dt
    flow = s.line_flow
    a.lift += p.lift * flow * dt
    a.line_friction += line_loss(p, flow) * flow * dt
    a.mount += s.mount_work
    a.cavity += s.cavity_work
    a.water_in += s.inlet * dt
    a.water_out += (s.waste + flow) * dt


@kernel
def close_audit(p: Record, s: Record, a: Record, trains: Array, memory: Array, age: int) -> None:
    """Note what is held at the end."""
    a.stored_after, a.held_after = stored(p, s, trains, memory, age)
