"""The stepper: one time step of a ram, from the drive tank to the delivery line."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ramwright.ram.audit import keep_work
from ramwright.ram.body import solve_body
from ramwright.ram.compiled import kernel
from ramwright.ram.drive_tank import advance_level, entrance_flow
from ramwright.ram.layout import Record
from ramwright.ram.pipe import RUNWAY, joint, move_part, pocket_joint, rewind, rub, rubbing_work
from ramwright.ram.vessel import advance_vessel
from ramwright.ram.waste_valve import moved, net_force

Array = NDArray[np.float64]
Solution = tuple[float, float, float, float, float, float, float]


@kernel
def commit(
    p: Record, s: Record, solution: tuple[float, float, float, float, float, float, float], dt: float
) -> None:
    """Take on a solution of ``solve_body`` over dt seconds and add its volumes to the step's."""
    head, drive, waste, delivery, cavity, shift, speed = solution
    if p.audit == 1:
        keep_work(p, s, head, waste, delivery, cavity, speed, dt)
    s.breathed += max(cavity - s.cavity, 0.0)
    s.drawn += max(-waste, 0.0) * dt
    # A delivery valve with a lag stays ajar for it after the flow through it has turned.
    if delivery > 0.0:
        s.ajar = 1.0 if p.delivery_lag > 0.0 else 0.0
    elif s.ajar > 0.0:
        s.ajar = max(s.ajar - dt / p.delivery_lag, 0.0)
    s.head, s.cavity, s.shift, s.shift_speed = head, cavity, shift, speed
    s.drive += drive * dt
    s.waste += waste * dt
    s.delivery += delivery * dt
    s.step_peak = max(s.step_peak, head)
    s.step_low = min(s.step_low, head)
    s.solves += 1


@kernel
def ram_end(p: Record, s: Record, arrive: float, b: float) -> float:
    """Everything at the ram's end of the drive pipe over one time step; the wave it sends back (m).

    While the waste valve rests on a stop one solution serves the whole step. If it moves, or would
    start to, the step is cut into ``substeps``. The step ends early, at ``s.dt``, when the valve lands
    on its seat: so every closure falls on the edge of a parcel, its wave front stays sharp, and a run
    can repeat itself beat by beat on a coarse grid.
    """
    s.shut_event = 0
    s.waste_work, s.delivery_work, s.cavity_work, s.mount_work = 0.0, 0.0, 0.0, 0.0
    s.drive, s.waste, s.delivery = 0.0, 0.0, 0.0
    s.step_peak, s.step_low = -1e300, 1e300
    s.dt = p.dt
    s.breathed, s.drawn = 0.0, 0.0
    if s.valve_speed == 0.0 and s.opening in (0.0, p.stroke):
        solution = solve_body(p, s, arrive, b, p.dt)
        force = net_force(p, s.opening, 0.0, solution[0])
        if (s.opening == 0.0 and force <= 0.0) or (s.opening > 0.0 and force >= 0.0):
            commit(p, s, solution, p.dt)
            s.drive, s.waste, s.delivery = solution[1], solution[2], solution[3]
            return arrive - 2.0 * b * s.drive
    small = p.dt / p.substeps
    for k in range(p.substeps):
        solution = solve_body(p, s, arrive, b, small)
        opening, speed = moved(p, s, solution[0], small)
        if opening <= 0.0 and s.opening > 0.0:
            part = max(s.opening / (s.opening - opening), 1e-6) * small
            commit(p, s, solve_body(p, s, arrive, b, part), part)
            s.opening, s.valve_speed = 0.0, 0.0
            s.shut_event = 1
            s.dt = k * small + part
            break
        commit(p, s, solution, small)
        s.opening, s.valve_speed = opening, speed
        s.widest = max(s.widest, opening)
    share = 1.0 / s.dt
    s.drive *= share
    s.waste *= share
    s.delivery *= share
    return arrive - 2.0 * b * s.drive


@kernel
def step(p: Record, s: Record, trains: Array, memory: Array, age: int) -> int:
    """Move everything on by one time step; returns the new age of the buffers (steps since rewound).

    ``trains`` has shape (segments, 2, runway + cells): waves going down and up; ``memory`` is ``rub``'s.
    Order: ends and joints take the parcels that leave, the trains move on, then friction.
    """
    m = p.segments
    if age == RUNWAY:
        for j in range(m):
            rewind(trains[j], p.cells[j], 0, RUNWAY)
        age = 0
    down_at = RUNWAY - age
    last = m - 1
    arrive = trains[0, 1, age]
    s.inlet = entrance_flow(s.level, arrive, p.impedance[0], p.entrance)
    enter = arrive + 2.0 * p.impedance[0] * s.inlet
    s.inlet_head = 0.5 * (enter + arrive)
    back = ram_end(p, s, trains[last, 0, down_at + p.cells[last] - 1], p.impedance[last])
    part = s.dt / p.dt
    whole = s.dt == p.dt
    s.friction_work, s.wall_work = 0.0, 0.0
    for j in range(m):
        n = p.cells[j]
        into_down = enter
        into_up = back
        if j < last:
            leaving = trains[j, 0, down_at + n - 1]
            returning = trains[j + 1, 1, age]
            if p.pocket[j] > 0.0:
                enter, into_up = pocket_joint(p, s, j, leaving, returning)
            else:
                enter, into_up = joint(leaving, returning, p.impedance[j], p.impedance[j + 1])
        if whole:
            trains[j, 0, down_at - 1] = into_down
            trains[j, 1, age + n] = into_up
            down = trains[j, 0, down_at - 1 : down_at - 1 + n]
            up = trains[j, 1, age + 1 : age + 1 + n]
        else:
            down = trains[j, 0, down_at : down_at + n]
            up = trains[j, 1, age : age + n]
            move_part(down, up, into_down, into_up, part)
        if p.audit == 1:
            friction, wall = rubbing_work(p, j, down, up, memory[j], part)
            s.friction_work += friction
            s.wall_work += wall
        rub(p, j, down, up, memory[j], part)
    s.time += s.dt
    advance_vessel(p, s, s.delivery)
    advance_level(p, s)
    return age + 1 if whole else age
