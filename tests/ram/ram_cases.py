"""Rams the tests of the engine share, and a bare pipe moved by the kernel's own step."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np

from ramwright.ram import (
    AirVessel,
    DeliveryLine,
    DeliveryValve,
    DriveTank,
    Grid,
    RamSystem,
    Segment,
    WasteValve,
    Water,
)
from ramwright.ram.grid import to_rows
from ramwright.ram.kernel import run_block, start
from ramwright.ram.layout import RESULT, STATE
from ramwright.ram.pipe import RUNWAY
from ramwright.ram.step import step

G = 9.80665
RHO_G = 999.7 * G


def steel(**changes: Any) -> RamSystem:
    """A 2 in steel ram that runs well: 12 m of pipe, 3 m fall, 15 m lift."""
    system = RamSystem(
        fall_m=3.0,
        drive_pipe=(Segment(length_m=12.0, bore_m=0.0525, wave_speed=1380.0, c2=0.025 / (2 * G * 0.0525)),),
        waste_valve=WasteValve(
            port_diameter_m=0.05, stroke_m=0.012, mass_kg=0.6, opening_force=(5.0, 0.0, 0.0)
        ),
        delivery_valve=DeliveryValve(bore_m=0.03),
        air_vessel=AirVessel(air_m3=0.004),
        delivery_line=DeliveryLine(lift_m=15.0, inertia=3e4, r2=4e6),
    )
    return replace(system, **changes)


def pipe(system: RamSystem, **changes: Any) -> RamSystem:
    """The same ram with its first stretch of drive pipe changed."""
    first = replace(system.drive_pipe[0], **changes)
    return replace(system, drive_pipe=(first, *system.drive_pipe[1:]))


def valve(system: RamSystem, **changes: Any) -> RamSystem:
    """The same ram with its waste valve changed."""
    return replace(system, waste_valve=replace(system.waste_valve, **changes))


def line(system: RamSystem, **changes: Any) -> RamSystem:
    """The same ram with its delivery line changed."""
    return replace(system, delivery_line=replace(system.delivery_line, **changes))


def plastic(**changes: Any) -> RamSystem:
    """The ram of ``steel`` on PVC, with creep and unsteady friction."""
    return replace(
        pipe(steel(), wave_speed=437.0, c2=0.02 / (2 * G * 0.0525), creep=0.05, unsteady=1.3e-6), **changes
    )


def ideal(
    *,
    x: float = 0.6,
    wave_speed: float = 5000.0,
    mass_kg: float = 1e-6,
    darcy_f: float = 0.025,
    lift_m: float = 15.0,
) -> RamSystem:
    """The reference case of the closed-form sheet: valve without mass, no loss but the sheet's.

    ``other K`` 7.5 is one velocity head at the entrance and 6.5 in the waste valve.
    """
    bore, length, fall, other = 0.0508, 12.0, 3.0, 7.5
    total = darcy_f * length / bore + other
    closing = x * math.sqrt(2.0 * G * fall / total)
    area = math.pi * bore**2 / 4.0
    return RamSystem(
        fall_m=fall,
        drive_pipe=(
            Segment(length_m=length, bore_m=bore, wave_speed=wave_speed, c2=darcy_f / (2.0 * G * bore)),
        ),
        waste_valve=WasteValve(
            port_diameter_m=bore,
            stroke_m=0.001,
            mass_kg=mass_kg,
            opening_force=(0.5 * 999.7 * area * (other - 1.0) * closing**2, 0.0, 0.0),
            port_loss=other - 1.0,
            curtain_loss=1e-9,
            momentum=0.0,
        ),
        delivery_valve=DeliveryValve(bore_m=1.0, loss=1e-4),
        air_vessel=AirVessel(air_m3=1.0),
        delivery_line=DeliveryLine(lift_m=lift_m, inertia=1e5),
        drive_tank=DriveTank(entrance_loss=0.0),
    )


class Stepper:
    """One ram on its grid, moved step by step by the kernel's own ``step``."""

    def __init__(self, system: RamSystem, grid: Grid) -> None:
        self.p: Any = to_rows([system], grid)[0]
        segments, widest = int(self.p["segments"]), int(max(self.p["cells"]))
        self.trains = np.empty((segments, 2, RUNWAY + widest))
        self.memory = np.zeros((segments, 5, widest))
        self.s: Any = np.zeros(1, STATE)[0]
        self.age = 0
        start(self.p, self.s, self.trains, self.memory)

    def step(self) -> None:
        """Move on by one time step."""
        self.age = step(self.p, self.s, self.trains, self.memory, self.age)

    def flow(self, flow: float) -> None:
        """Fill every stretch with a steady flow (m3/s) under the fall, before the first step."""
        for j in range(int(self.p["segments"])):
            wave = float(self.p["impedance"][j]) * flow
            self.trains[j, 0], self.trains[j, 1] = self.p["fall"] + wave, self.p["fall"] - wave


def bare_pipe(segments: tuple[Segment, ...], *, fall_m: float, reaches: int) -> Stepper:
    """Drive pipe alone: waste valve held shut, lift out of reach, no entrance loss, no vapour limit."""
    system = replace(
        steel(),
        fall_m=fall_m,
        drive_pipe=segments,
        waste_valve=replace(steel().waste_valve, opening_force=(-1e12, 0.0, 0.0)),
        delivery_line=DeliveryLine(lift_m=5e4, inertia=1e12),
        water=Water(atmosphere_m=5e3),
    )
    bare = Stepper(system, Grid(reaches=reaches))
    bare.p["entrance"] = 0.0
    bare.s["opening"] = 0.0
    return bare


def audited(system: RamSystem, grid: Grid | None = None) -> Any:
    """The kernel's row of results with its audit."""
    results = np.zeros(1, RESULT)
    run_block(to_rows([system], grid or Grid(), audit=True), results, 0, 1)
    return results[0]
