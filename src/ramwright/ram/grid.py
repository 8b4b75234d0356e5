"""From a ``RamSystem`` to the kernel's row of numbers: the grid, the wave speeds it needs, the units."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import InputError
from ramwright.ram.closed_form import closed_form
from ramwright.ram.layout import MAX_SEGMENTS, STANDARD_GRAVITY, SYSTEM, Record
from ramwright.ram.system import RamSystem
from ramwright.ram.unsteady import two_exponentials

#: Longest a run may take: beats, and steps per beat allowed for on average.
MAX_BEATS = 52
_STEPS_A_CELL, _SOLVES_A_CELL = 15_000, 60_000
_FAR = 1e12
_STEP_S, _FEWEST, _MOST = 2.5e-3, 8, 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """How finely a run is cut: ``reaches`` in the whole drive pipe, ``glides`` of the valve's fall.

    Reaches not given are chosen: a time step of about 2.5 ms, 8 to 16 reaches. On drawn rams that keeps
    delivery within 1 % of a fine grid's in the median and 3 % for 19 in 20 (``benchmarks/README.md``).
    While the waste valve moves, a time step is cut so that a fall through the stroke under its own
    weight would take at least ``glides`` sub-steps.
    """

    reaches: int | None = None
    glides: int = 40

    def __post_init__(self) -> None:
        if (self.reaches is not None and self.reaches < 2) or self.glides < 1:
            raise InputError("grid_too_coarse", field="grid", value=f"{self.reaches}, {self.glides}")

    def reaches_of(self, system: RamSystem) -> int:
        """Reaches of the drive pipe of ``system``: as given, or chosen."""
        if self.reaches is not None:
            return self.reaches
        crossing = math.fsum(s.length_m / s.wave_speed for s in system.drive_pipe)
        return min(max(math.ceil(crossing / _STEP_S), _FEWEST), _MOST)


@dataclass(frozen=True, slots=True)
class Cut:
    """A drive pipe on its grid: time step (s), cells per stretch, wave speeds used (m/s), worst change."""

    dt: float
    cells: tuple[int, ...]
    wave_speeds: tuple[float, ...]
    worst_change: float


def cut_pipe(system: RamSystem, reaches: int) -> Cut:
    """Cut the drive pipe so that a wave crosses each cell in one time step.

    With several stretches their wave speeds are changed a little so that whole numbers of cells fit;
    of the numbers of cells from ``reaches`` to three times that, the one that changes least is taken.
    ``worst_change`` is the largest relative change.
    """
    crossing = [s.length_m / s.wave_speed for s in system.drive_pipe]
    total = math.fsum(crossing)
    best: tuple[float, float, tuple[int, ...]] | None = None
    least = max(reaches, len(crossing))
    for n in range(least, 3 * least + 1) if len(crossing) > 1 else (least,):
        cells = tuple(max(1, round(n * c / total)) for c in crossing)
        logs = [math.log(c / k) for c, k in zip(crossing, cells, strict=True)]
        dt = math.exp(0.5 * (max(logs) + min(logs)))
        worst = math.exp(0.5 * (max(logs) - min(logs))) - 1.0
        if best is None or worst < best[0] - 1e-4:
            best = (worst, dt, cells)
        if best[0] < 2e-3:
            break
    assert best is not None
    worst, dt, cells = best
    speeds = tuple(s.length_m / (k * dt) for s, k in zip(system.drive_pipe, cells, strict=True))
    return Cut(dt, cells, speeds, worst)


def substeps(system: RamSystem, dt: float, glides: int) -> int:
    """Into how many sub-steps (2 to 32) a step of dt seconds is cut while the waste valve moves."""
    valve = system.waste_valve
    pull = max(abs(valve.opening_force[0]), 1e-9)
    glide = math.sqrt(2.0 * valve.stroke_m * valve.mass_kg / pull)
    return min(max(math.ceil(dt * glides / glide), 2), 32)


def to_row(system: RamSystem, grid: Grid, row: Record, *, audit: bool = False) -> Cut:
    """Fill one row of a ``layout.SYSTEM`` array from a system; returns how its pipe was cut."""
    g = STANDARD_GRAVITY
    if len(system.drive_pipe) > MAX_SEGMENTS:
        raise InputError(
            "too_many_segments", field="drive_pipe", value=len(system.drive_pipe), most=MAX_SEGMENTS
        )
    cut = cut_pipe(system, grid.reaches_of(system))
    valve, water, line = system.waste_valve, system.water, system.delivery_line
    estimate = closed_form(system)
    round_trip = 2.0 * cut.dt * sum(cut.cells)
    row["fall"], row["tailwater"] = system.fall_m, system.tailwater_m
    row["atmosphere"], row["vapour"] = water.atmosphere_m, water.vapour_m - water.atmosphere_m
    row["rho_g"] = water.density * g
    row["dt"], row["segments"] = cut.dt, len(cut.cells)
    row["substeps"] = substeps(system, cut.dt, grid.glides)
    for j, (stretch, cells, speed) in enumerate(
        zip(system.drive_pipe, cut.cells, cut.wave_speeds, strict=True)
    ):
        b = speed / (g * stretch.area)
        dx = stretch.length_m / cells
        c2 = stretch.c2 + stretch.loss / (2.0 * g * stretch.length_m)
        row["cells"][j], row["impedance"][j] = cells, b
        row["fric1"][j] = dx * stretch.c1 / (b * stretch.area)
        row["fric2"][j] = dx * c2 / (b * stretch.area) ** 2
        row["pocket"][j] = stretch.pocket_m3 if j < len(cut.cells) - 1 else 0.0
        row["pocket_level"][j] = stretch.pocket_level_m
        row["creep"][j] = stretch.creep
        row["gain"][j] = -math.expm1(-cut.dt / stretch.creep_time) if stretch.creep > 0.0 else 0.0
        if stretch.unsteady > 0.0:
            scale = 4.0 * stretch.unsteady / stretch.bore_m**2
            # The fit must not know the time step, or refining the grid would change the physics.
            weights, rates = two_exponentials(
                estimate.closing_velocity * stretch.bore_m / stretch.unsteady, scale * round_trip / 20.0
            )
            per_change = dx * 4.0 * scale / (g * b * stretch.area)
            ages = [r * scale * cut.dt for r in rates]
            row["keep1"][j], row["keep2"][j] = (math.exp(-age) for age in ages)
            row["slip1"][j], row["slip2"][j] = (
                # Mean over the step in which the change happens.
                per_change * w * -math.expm1(-age) / age
                for w, age in zip(weights, ages, strict=True)
            )
    first = system.drive_pipe[0]
    row["entrance"] = (1.0 + system.drive_tank.entrance_loss) / (2.0 * g * first.area**2)
    row["tank_area"] = min(system.drive_tank.area_m2, _FAR)
    row["source_flow"] = min(system.drive_tank.source_flow, _FAR)
    row["port_flow"] = valve.port_area * math.sqrt(2.0 * g)
    row["port_loss"], row["curtain_loss"] = valve.port_loss, valve.curtain_loss * valve.port_diameter_m**2
    row["stroke"], row["valve_mass"] = valve.stroke_m, valve.mass_kg
    row["open0"], row["open1"], row["open2"] = valve.opening_force
    row["valve_damping"], row["momentum"] = valve.damping, valve.momentum
    row["valve_force"] = valve.force_factor * water.density * g * valve.port_area
    row["leak_flow"] = valve.leak_area_m2 * math.sqrt(2.0 * g)
    delivery = system.delivery_valve
    row["delivery_flow"] = math.pi * delivery.bore_m**2 / 4.0 * math.sqrt(2.0 * g / delivery.loss)
    row["delivery_leak"] = delivery.leak_area_m2 * math.sqrt(2.0 * g)
    row["delivery_lag"] = delivery.lag_s
    if system.snifter is not None:
        hole = system.snifter.area * math.sqrt(2.0 * g)
        row["leak_flow"] += hole
        row["snifter_air"] = hole * math.sqrt(water.density / system.snifter.air_density)
    row["air"], row["exponent"] = system.air_vessel.air_m3, max(system.air_vessel.exponent, 1.001)
    # Each ram sees the line as if its own flow, times their number, went through it.
    row["lift"], row["inertia"] = line.lift_m, line.rams * line.inertia
    row["r1"], row["r2"] = line.rams * line.r1, line.rams**2 * line.r2
    row["end_area"] = system.drive_pipe[-1].area
    row["held"] = 1
    if system.mount is not None:
        m = system.mount
        row["held"], row["mount_mass"], row["mount_stiffness"] = 0, m.mass_kg, m.stiffness
        row["mount_damping"] = 2.0 * m.damping_ratio * math.sqrt(m.mass_kg * m.stiffness)
    row["body_compliance"] = system.body_compliance_m2
    row["first_delivery"] = 0.7 * estimate.delivery
    row["closing_flow"] = estimate.closing_velocity * system.drive_pipe[-1].area
    cells = sum(cut.cells)
    row["max_steps"], row["max_solves"] = _STEPS_A_CELL * cells, _SOLVES_A_CELL * cells
    row["max_beats"], row["tolerance"] = MAX_BEATS, 0.002
    row["least_opening"], row["audit"] = 0.5, int(audit)
    row["look"] = max(0.25 * estimate.column_time, 2.0 * round_trip)
    row["patience"] = max(24.0 * round_trip, 0.5)
    return cut


def to_rows(systems: list[RamSystem], grid: Grid, *, audit: bool = False) -> NDArray[np.void]:
    """Rows for many systems, shape (n,), dtype ``layout.SYSTEM``."""
    rows = np.zeros(len(systems), SYSTEM)
    for row, system in zip(rows, systems, strict=True):
        to_row(system, grid, row, audit=audit)
    return rows
