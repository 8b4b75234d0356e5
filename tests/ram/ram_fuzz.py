"""Rams of any geometry, drawn from a seed, and what must hold for each of them."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from typing import Any

import numpy as np

from ramwright.ram import (
    OUTCOMES,
    AirVessel,
    DeliveryLine,
    DeliveryValve,
    DriveTank,
    Grid,
    Mount,
    RamSystem,
    Segment,
    Snifter,
    WasteValve,
)
from ramwright.ram.grid import to_rows
from ramwright.ram.kernel import run_block
from ramwright.ram.layout import RESULT

#: A number between two bounds, even in its logarithm.
Draw = Callable[[float, float], float]
FINITE = (
    "delivery",
    "waste",
    "drive",
    "beat_time",
    "waste_volume",
    "delivered_volume",
    "peak",
    "low",
    "level",
)


def ram(draw: Draw, switches: int) -> RamSystem:
    """One ram; the bits of ``switches`` put parts in and out. Far beyond what anyone would build."""

    def on(bit: int) -> bool:
        return bool(switches >> bit & 1)

    def stretch(last: bool) -> Segment:
        return Segment(
            length_m=draw(0.3, 300.0),
            bore_m=draw(0.005, 0.5),
            wave_speed=draw(50.0, 1500.0),
            c1=draw(1e-5, 1.0) if on(0) else 0.0,
            c2=draw(1e-4, 10.0) if on(1) else 0.0,
            loss=draw(0.01, 100.0) if on(2) else 0.0,
            creep=draw(0.01, 0.5) if on(3) else 0.0,
            creep_time=draw(1e-3, 1.0),
            unsteady=draw(1e-7, 1e-5) if on(4) else 0.0,
            pocket_m3=draw(1e-7, 1e-3) if on(5) and not last else 0.0,
        )

    pipes = 1 + (switches >> 6 & 3)
    fall = draw(0.05, 50.0)
    port, pull = draw(0.003, 0.5), draw(1e-3, 1e4)
    stroke = port * draw(0.005, 2.0)
    return RamSystem(
        fall_m=fall,
        drive_pipe=tuple(stretch(k == pipes - 1) for k in range(pipes)),
        waste_valve=WasteValve(
            port_diameter_m=port,
            stroke_m=stroke,
            mass_kg=draw(1e-4, 100.0),
            opening_force=(pull * (-1.0 if on(8) else 1.0), draw(1e-3, 3.0) * pull / stroke * on(9), 0.0),
            damping=draw(1e-2, 1e3) if on(10) else 0.0,
            leak_area_m2=draw(1e-9, 1e-4) if on(11) else 0.0,
        ),
        delivery_valve=DeliveryValve(
            bore_m=draw(0.002, 0.5),
            loss=draw(0.1, 50.0),
            lag_s=draw(1e-4, 0.1) if on(12) else 0.0,
            leak_area_m2=draw(1e-9, 1e-5) if on(13) else 0.0,
        ),
        air_vessel=AirVessel(air_m3=draw(1e-6, 1.0)),
        delivery_line=DeliveryLine(lift_m=fall * (1.0 + draw(0.01, 300.0)), inertia=draw(1.0, 1e8)),
        drive_tank=DriveTank(area_m2=draw(0.01, 10.0) if on(14) else math.inf),
        mount=Mount(mass_kg=draw(0.1, 1e4), stiffness=draw(1e2, 1e9)) if on(15) else None,
        tailwater_m=fall * min(draw(1e-3, 0.9), 0.9) if on(16) else 0.0,
        body_compliance_m2=draw(1e-10, 1e-5) if on(17) else 0.0,
        snifter=Snifter(diameter_m=draw(1e-4, 5e-3)) if on(18) else None,
    )


#: The switch that puts air pockets in.
POCKETS = 1 << 5


def drawn(seed: int, first: int, count: int, *, pockets: bool) -> list[RamSystem]:
    """Rams number ``first`` and on of a seed; each depends on its own number only."""
    rams = []
    for i in range(first, first + count):
        rng = np.random.default_rng((seed, i))

        def draw(low: float, high: float, rng: np.random.Generator = rng) -> float:
            return math.exp(rng.uniform(math.log(low), math.log(high)))

        switches = int(rng.integers(1 << 19)) & int(rng.integers(1 << 19))
        rams.append(ram(draw, switches if pockets else switches & ~POCKETS))
    return rams


def run_audited(rams: list[RamSystem]) -> tuple[Any, Any]:
    """Rows given to the kernel and rows it gives back, on a grid of 5 reaches."""
    rows = to_rows(rams, Grid(reaches=5, glides=40), audit=True)
    results = np.zeros(len(rams), RESULT)
    run_block(rows, results, 0, len(rams))
    return rows, results


def faults(rams: list[RamSystem]) -> tuple[list[str], Counter[str]]:
    """What is wrong with the runs of these rams (nothing, it is hoped), and how often each outcome came."""
    rows, results = run_audited(rams)
    wrong = []
    for i, (row, result) in enumerate(zip(rows, results, strict=True)):
        if not 0 <= int(result["outcome"]) < len(OUTCOMES):
            wrong.append(f"{i}: outcome {result['outcome']}")
        wrong += [f"{i}: {name} {result[name]}" for name in FINITE if not math.isfinite(result[name])]
        if not 0 < int(result["steps"]) <= int(row["max_steps"]):
            wrong.append(f"{i}: {result['steps']} steps")
        audit = result["audit"]
        before, after = float(audit["held_before"]), float(audit["held_after"])
        if before == 0.0:  # never came to be measured
            continue
        passed = float(audit["water_in"]), float(audit["water_out"])
        miss = passed[0] - passed[1] - (after - before)
        # Of what passed and of what is held: a sum of many steps cannot be better than that.
        scale = max(abs(before), abs(after), abs(passed[0]), abs(passed[1]))
        if not abs(miss) <= 1e-9 * scale:
            wrong.append(f"{i}: water {miss} of {scale}")
    return wrong, Counter(OUTCOMES[int(k)] for k in results["outcome"])
