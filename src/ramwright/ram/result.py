"""What a run comes to: the outcome by name, and the figures of one ram or of many."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ramwright.ram.layout import NO_PERIOD, OUTCOMES, RUNS, STANDARD_GRAVITY
from ramwright.ram.system import RamSystem

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class RunResult:
    """One ram over whole settled beats. SI; heads in metres above the waste-valve seat.

    ``outcome`` is one of ``OUTCOMES``. For ``no_period`` the figures are means over the last beats and
    the bounds tell how far single beats strayed. Where the ram does not beat, flows of the beat are 0,
    and heads and velocities are NaN. Efficiencies use the static lift; Rankine is q(h-H)/(QH) with Q
    the waste flow, D'Aubuisson is qh/((Q+q)H). ``drive`` is what the drive pipe takes in.
    ``pattern`` is every how many beats a settled run repeats itself (1 to 4; 0: not settled).
    ``air_per_beat`` is the room that opens in the body at recoil (air where it can get in, vapour where
    not), ``drawn_per_beat`` the water drawn in through a drowned outlet. ``all_delivered`` and
    ``all_wasted`` (m3) are the volumes over the whole run from rest, ``run_time`` s: for a ram that hangs
    shut after its first beat, what one hand press brings.
    """

    outcome: str
    delivery: float
    waste: float
    drive: float
    beats_per_min: float
    waste_per_beat: float
    delivered_per_beat: float
    recoil_per_beat: float
    bounces_per_beat: float
    air_per_beat: float
    drawn_per_beat: float
    efficiency_rankine: float
    efficiency_daubuisson: float
    peak_head: float
    lowest_head: float
    shutoff_head: float
    closing_velocity: float
    vessel_low: float
    vessel_high: float
    level: float
    delivery_bounds: tuple[float, float]
    beat_time_bounds: tuple[float, float]
    settled: bool
    pattern: int
    beats_run: int
    steps: int
    all_delivered: float
    all_wasted: float
    run_time: float


@dataclass(frozen=True, slots=True)
class ManyResults:
    """Results of many runs as arrays of shape (n,), in the order the systems were given.

    Same meanings and units as ``RunResult``; ``outcome`` holds indices into ``OUTCOMES``.
    """

    outcome: NDArray[np.int64]
    delivery: Array
    waste: Array
    drive: Array
    beats_per_min: Array
    efficiency_rankine: Array
    efficiency_daubuisson: Array
    peak_head: Array
    lowest_head: Array
    shutoff_head: Array
    closing_velocity: Array
    rows: NDArray[np.void]

    def lifts_water(self) -> NDArray[np.bool_]:
        """Which of them deliver: settled, or beating on without a fixed period; shape (n,)."""
        lifts: NDArray[np.bool_] = (self.outcome == RUNS) | (
            (self.outcome == NO_PERIOD) & (self.delivery > 0.0)
        )
        return lifts


def collect(systems: list[RamSystem], rows: NDArray[np.void]) -> ManyResults:
    """Arrays from the kernel's rows (dtype ``layout.RESULT``) and the systems they came from."""
    fall = np.array([s.fall_m for s in systems])
    lift = np.array([s.delivery_line.lift_m for s in systems])
    area = np.array([s.drive_pipe[-1].area for s in systems])
    speed = np.array([s.drive_pipe[-1].wave_speed for s in systems])
    beating = rows["beat_time"] > 0.0
    nan = np.full(len(systems), math.nan)

    def where(values: Array) -> Array:
        return np.where(beating, values, nan)

    with np.errstate(divide="ignore", invalid="ignore"):
        beats = where(60.0 / rows["beat_time"])
        rankine = where(rows["delivery"] * (lift - fall) / (rows["waste"] * fall))
        daubuisson = where(rows["delivery"] * lift / ((rows["waste"] + rows["delivery"]) * fall))
    closing = where(rows["closing_flow"] / area)
    return ManyResults(
        outcome=rows["outcome"].copy(),
        delivery=rows["delivery"].copy(),
        waste=rows["waste"].copy(),
        drive=rows["drive"].copy(),
        beats_per_min=beats,
        efficiency_rankine=rankine,
        efficiency_daubuisson=daubuisson,
        peak_head=where(rows["peak"]),
        lowest_head=where(rows["low"]),
        shutoff_head=fall + speed * closing / STANDARD_GRAVITY,
        closing_velocity=closing,
        rows=rows,
    )


def pick(many: ManyResults, i: int) -> RunResult:
    """The i-th of many results as a ``RunResult``."""
    row: Any = many.rows[i]
    beating = bool(row["beat_time"] > 0.0)

    def known(name: str) -> float:
        return float(row[name]) if beating else math.nan

    return RunResult(
        outcome=OUTCOMES[int(many.outcome[i])],
        delivery=float(many.delivery[i]),
        waste=float(many.waste[i]),
        drive=float(many.drive[i]),
        beats_per_min=float(many.beats_per_min[i]),
        waste_per_beat=float(row["waste_volume"]),
        delivered_per_beat=float(row["delivered_volume"]),
        recoil_per_beat=float(row["recoil_volume"]),
        bounces_per_beat=float(row["bounces"]),
        air_per_beat=float(row["air_volume"]),
        drawn_per_beat=float(row["drawn_volume"]),
        efficiency_rankine=float(many.efficiency_rankine[i]),
        efficiency_daubuisson=float(many.efficiency_daubuisson[i]),
        peak_head=float(many.peak_head[i]),
        lowest_head=float(many.lowest_head[i]),
        shutoff_head=float(many.shutoff_head[i]),
        closing_velocity=float(many.closing_velocity[i]),
        vessel_low=known("vessel_low"),
        vessel_high=known("vessel_high"),
        level=float(row["level"]) if beating else math.nan,
        delivery_bounds=(known("delivery_least"), known("delivery_most")),
        beat_time_bounds=(known("beat_time_least"), known("beat_time_most")),
        settled=bool(row["settled"] > 0),
        pattern=int(row["settled"]),
        beats_run=int(row["beats"]),
        steps=int(row["steps"]),
        all_delivered=float(row["all_delivered"]),
        all_wasted=float(row["all_wasted"]),
        run_time=float(row["time"]),
    )
