"""Gravity fill: with the waste valve held shut the line fills by itself to the feed level."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Range
from ramwright.ram import RamSystem
from ramwright.startup.bench import Bench
from ramwright.startup.presses import as_range
from ramwright.startup.rules import rule

Array = NDArray[np.float64]
_G = 9.80665
_STEPS = 80


@dataclass(frozen=True, slots=True, kw_only=True)
class GravityFill:
    """What fills without a hand: ``length`` m of line, ``volume`` m3 in line and air vessel, up to
    ``level`` m above the waste-valve seat (the feed level).

    ``seconds`` until the share ``timed`` of that volume is in; the rest creeps. ``first_flow`` m3/s into
    the empty line, at the middle; ``short`` whether it draws the drive tank down below its cover, for
    what the source brings meanwhile.
    """

    length: Range
    volume: Range
    level: Range
    seconds: Range
    timed: float
    first_flow: float
    short: bool


def drive_loss(system: RamSystem) -> tuple[float, float]:
    """Head lost from drive tank into the air vessel with the waste valve shut, as a1 Q + a2 Q^2.

    s/m2 and s2/m5. Friction and fittings of the drive pipe and body, entrance, delivery valve, and the
    drive pipe's velocity head, lost in the body. Darcy-Weisbach with the engine's own two-term fit.
    """
    linear = math.fsum(s.c1 * s.length_m / s.area for s in system.drive_pipe)
    square = math.fsum((s.c2 * s.length_m + s.loss / (2.0 * _G)) / s.area**2 for s in system.drive_pipe)
    square += (1.0 + system.drive_tank.entrance_loss) / (2.0 * _G * system.drive_pipe[0].area ** 2)
    valve = system.delivery_valve
    square += valve.loss / (2.0 * _G * (math.pi * valve.bore_m**2 / 4.0) ** 2)
    return linear, square


def quasi_steady_flow(head: Array, linear: Array, square: Array) -> Array:
    """Flow (m3/s) that ``head`` (m, none below 0) drives against ``linear`` Q + ``square`` Q^2."""
    spare = np.maximum(head, 0.0)
    return 2.0 * spare / (linear + np.sqrt(linear**2 + 4.0 * square * spare))


def fill_one(bench: Bench, k: int, *, timed: float) -> tuple[float, float, float, float]:
    """Length (m), volume (m3), seconds to the share ``timed`` and first flow (m3/s) of truth ``k``.

    Quasi-steady: at each place of the front the flow is what is left of the fall over the losses up to
    it; the velocity head there is spent. The column's inertia is left out (it speeds up in a second or
    so of minutes), and so is the air's way out.
    """
    system, way = bench.systems[k], bench.ways[k]
    fall = system.fall_m
    heads, stored = way.heads, bench.stored(k)
    length, volume = way.at_head(way.stations, fall), way.at_head(stored, fall)
    if volume <= 0.0:
        return length, 0.0, 0.0, 0.0
    held = np.linspace(0.0, timed * volume, _STEPS)
    # The first of points with equal head is where the front comes to, so volumes may repeat.
    rising = np.append(np.diff(stored) > 0.0, True)
    r1, r2, area, level = (
        np.interp(held, stored[rising], v[rising]) for v in (way.r1, way.r2, way.areas, heads)
    )
    linear, square = drive_loss(system)
    flow = quasi_steady_flow(fall - level, linear + r1, square + r2 + 1.0 / (2.0 * _G * area**2))
    slow = 1.0 / flow
    seconds = float(np.sum(0.5 * (slow[1:] + slow[:-1]) * np.diff(held)))
    return length, volume, seconds, float(flow[0])


def gravity_fill(bench: Bench) -> GravityFill:
    """The gravity fill over all truths."""
    timed = rule("fill-share").likely
    rows = np.array([fill_one(bench, k, timed=timed) for k in range(len(bench))])
    drawn = rows[1:] if len(rows) > 1 else rows
    i = bench.installation
    held = i.tank_area * i.cover if math.isfinite(i.tank_area) else math.inf
    return GravityFill(
        length=as_range(drawn[:, 0]),
        volume=as_range(drawn[:, 1]),
        level=as_range(bench.falls[1:] if len(rows) > 1 else bench.falls),
        seconds=as_range(drawn[:, 2]),
        timed=timed,
        first_flow=float(rows[0, 3]),
        short=bool(rows[0, 1] > held + i.reaching_flow * rows[0, 2]),
    )
