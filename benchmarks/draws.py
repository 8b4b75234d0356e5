"""Drawn installations the engine's speed and accuracy are measured on, 500 of each class, from a fixed seed.

``python benchmarks/draws.py`` writes the two tables beside this file. They are committed, so that figures
of different days are of the same rams. Ranges are common practice and no source; wall moduli are short-term
values from memory; steel bores and walls are of EN 10255 medium (as listed in the notes on trade practice).
About a sixth are set so that they cannot run.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np

from ramwright.ram import (
    AirVessel,
    DeliveryLine,
    DeliveryValve,
    DriveTank,
    Mount,
    RamSystem,
    Segment,
    WasteValve,
)

HERE = Path(__file__).parent
CLASSES = ("plastic", "steel")
COUNT = 500
SEED = 20240501
GRAVITY = 9.80665
DENSITY = 999.7
BULK_MODULUS = 2.19e9
VISCOSITY = 1.3e-6
Row = dict[str, float]

#: Outside diameters (mm), wall ratios, modulus (Pa), roughness (m) and late creep of the plastics.
PLASTICS = {
    "pvc": ((25, 32, 40, 50, 63, 75, 90, 110), (13.6, 17.0, 21.0), 3.0e9, 7e-6, 0.05),
    "pe": ((25, 32, 40, 50, 63, 75, 90, 110), (11.0, 13.6, 17.0), 1.0e9, 7e-6, 0.15),
}
#: Bore and wall of steel pipe, mm.
STEEL = ((22.0, 2.6), (27.8, 3.2), (36.5, 3.2), (42.4, 3.2), (53.6, 3.6), (69.4, 3.6), (81.5, 4.0))


def friction_term(bore: float, roughness: float) -> float:
    """Head lost per metre over V|V| (s2/m2) at 1 m/s, after Haaland 1983 (from memory)."""
    reynolds = bore / VISCOSITY
    root = -1.8 * math.log10((roughness / bore / 3.7) ** 1.11 + 6.9 / reynolds)
    return 1.0 / root**2 / (2.0 * GRAVITY * bore)


def wave_speed(bore: float, wall: float, modulus: float) -> float:
    """Thin-wall wave speed, m/s (Korteweg; from memory)."""
    return math.sqrt(BULK_MODULUS / DENSITY / (1.0 + BULK_MODULUS * bore / (modulus * wall)))


def draw_pipe(rng: np.random.Generator, kind: str) -> Row:
    """Draw the drive pipe."""
    if kind == "plastic":
        sizes, ratios, modulus, roughness, creep = PLASTICS[("pvc", "pe")[int(rng.integers(2))]]
        outside = sizes[int(rng.integers(len(sizes)))] / 1e3
        wall = outside / ratios[int(rng.integers(len(ratios)))]
        bore, length = outside - 2.0 * wall, rng.uniform(5.0, 30.0)
    else:
        inside, thick = STEEL[int(rng.integers(len(STEEL)))]
        bore, wall, modulus, roughness, creep = inside / 1e3, thick / 1e3, 2.0e11, 1.5e-4, 0.0
        length = rng.uniform(5.0, 12.0)
    return {
        "length_m": length,
        "bore_m": bore,
        "wave_speed_m_s": wave_speed(bore, wall, modulus),
        "c2_s2_m2": friction_term(bore, roughness),
        "fittings_k": rng.uniform(0.2, 2.0),
        "creep": creep,
        "viscosity_m2_s": VISCOSITY,
    }


def draw_valve(rng: np.random.Generator, pipe: Row, fall: float) -> Row:
    """Draw a waste valve that starts to close at a drawn share of the velocity the pipe can reach."""
    port = pipe["bore_m"] * rng.uniform(0.7, 1.2)
    stroke = port * math.exp(rng.uniform(math.log(0.06), math.log(0.3)))
    loss = 0.6 + 0.155 * (port / stroke) ** 2
    area = math.pi * port**2 / 4.0
    narrowing = (pipe["bore_m"] / port) ** 4
    total = 1.5 + pipe["fittings_k"] + 2.0 * GRAVITY * pipe["c2_s2_m2"] * pipe["length_m"] + loss * narrowing
    share = rng.uniform(0.3, 1.14)
    velocity = share * math.sqrt(2.0 * GRAVITY * fall / total) * (pipe["bore_m"] / port) ** 2
    pull = DENSITY * area * 0.5 * loss * velocity**2 * (1.0 + 1.0 / loss)
    swing = rng.random() < 0.3
    weighted = rng.random() < 0.7
    # Weight-loaded: steel or brass under water; spring-loaded: a light disc. Both carry water with them.
    moving = (pull / (0.87 * GRAVITY) if weighted else 0.3 * pull / GRAVITY) + DENSITY * port**3 / 3.0
    stiffness = 0.0 if weighted else -0.3 * pull / stroke
    return {
        "port_m": port,
        "stroke_m": stroke,
        "moving_kg": moving,
        "pull_n": pull - stiffness * stroke,
        "pull_n_m": stiffness,
        "swing": float(swing),
        "damping_n_s_m": rng.uniform(0.0, 2.0) * area / 2e-3,
    }


def line_bore(flow: float, length: float, loss: float) -> float:
    """Bore (m) of a smooth line that loses ``loss`` m at a flow, by repeated correction."""
    bore = 0.02
    for _ in range(30):
        lost = friction_term(bore, 7e-6) * length * (4.0 * flow / (math.pi * bore**2)) ** 2
        bore *= (lost / loss) ** 0.2
    return bore


def draw_rest(rng: np.random.Generator, kind: str, pipe: Row, fall: float) -> Row:
    """Draw delivery valve, air vessel, delivery line, tank and mount."""
    most = 60.0 if kind == "plastic" else 120.0
    lift = min(fall * math.exp(rng.uniform(math.log(2.0), math.log(20.0))), most)
    area = math.pi * pipe["bore_m"] ** 2 / 4.0
    flow = 0.3 * area * 0.6 * fall / lift  # a guess of the delivery, to size line and vessel by
    length = lift * rng.uniform(2.0, 15.0)
    bore = line_bore(flow, length, lift * math.exp(rng.uniform(math.log(0.02), math.log(0.3))))
    line = math.pi * bore**2 / 4.0
    held = rng.random() >= 0.1
    small_tank = rng.random() < 0.2
    return {
        "fall_m": fall,
        "lift_m": lift,
        "delivery_bore_m": pipe["bore_m"] * rng.uniform(0.4, 0.8),
        "delivery_k": rng.uniform(1.5, 5.0),
        "air_m3": flow * rng.uniform(20.0, 60.0),
        "line_inertia_s2_m2": length / (GRAVITY * line),
        "line_r2_s2_m5": friction_term(bore, 7e-6) * length / line**2,
        "tank_m2": rng.uniform(0.05, 0.5) if small_tank else math.inf,
        "mount_kg": 0.0 if held else rng.uniform(8.0, 40.0),
        "mount_n_m": 0.0 if held else math.exp(rng.uniform(math.log(1e5), math.log(1e7))),
    }


def draw(kind: str, count: int = COUNT, seed: int = SEED) -> list[Row]:
    """Rows of one class, always the same for the same numbers; rounded as the table holds them."""
    rows = []
    for i in range(count):
        rng = np.random.default_rng((seed, CLASSES.index(kind), i))
        pipe = draw_pipe(rng, kind)
        fall = rng.uniform(1.0, 8.0)
        row = pipe | draw_valve(rng, pipe, fall) | draw_rest(rng, kind, pipe, fall)
        rows.append({name: float(f"{value:.5g}") for name, value in row.items()})
    return rows


def to_system(row: Row) -> RamSystem:
    """The ram of one row."""
    held = row["mount_kg"] == 0.0
    return RamSystem(
        fall_m=row["fall_m"],
        drive_pipe=(
            Segment(
                length_m=row["length_m"],
                bore_m=row["bore_m"],
                wave_speed=row["wave_speed_m_s"],
                c2=row["c2_s2_m2"],
                loss=row["fittings_k"],
                creep=row["creep"],
                unsteady=row["viscosity_m2_s"],
            ),
        ),
        waste_valve=WasteValve(
            port_diameter_m=row["port_m"],
            stroke_m=row["stroke_m"],
            mass_kg=row["moving_kg"],
            opening_force=(row["pull_n"], row["pull_n_m"], 0.0),
            kind="swing" if row["swing"] else "poppet",
            damping=row["damping_n_s_m"],
        ),
        delivery_valve=DeliveryValve(bore_m=row["delivery_bore_m"], loss=row["delivery_k"]),
        air_vessel=AirVessel(air_m3=row["air_m3"]),
        delivery_line=DeliveryLine(
            lift_m=row["lift_m"], inertia=row["line_inertia_s2_m2"], r2=row["line_r2_s2_m5"]
        ),
        drive_tank=DriveTank(area_m2=row["tank_m2"]),
        mount=None if held else Mount(mass_kg=row["mount_kg"], stiffness=row["mount_n_m"]),
    )


def table(kind: str) -> Path:
    """Where the rows of a class are kept."""
    return HERE / f"draws_{kind}.csv"


def read(kind: str) -> list[RamSystem]:
    """The committed rams of a class."""
    with table(kind).open(encoding="utf-8", newline="") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return [to_system({name: float(value) for name, value in row.items()}) for row in rows]


def main() -> None:
    """Write both tables."""
    for kind in CLASSES:
        rows = draw(kind)
        with table(kind).open("w", encoding="utf-8", newline="") as out:
            out.write(f"# {kind}: drawn by benchmarks/draws.py from seed {SEED}; SI units in the names\n")
            writer = csv.writer(out, lineterminator="\n")
            writer.writerow(rows[0])
            writer.writerows([[f"{value:.5g}" for value in row.values()] for row in rows])


if __name__ == "__main__":
    main()
