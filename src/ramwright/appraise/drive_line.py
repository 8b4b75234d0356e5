"""The drive pipe as laid: humps that hold air, suction, what it has to hold, and how long plastic lasts."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from ramwright.appraise.installation import Installation
from ramwright.appraise.laid import LaidLine, along
from ramwright.appraise.prediction import Prediction
from ramwright.appraise.strength import Pressures, pressures
from ramwright.appraise.stretches import Stretch
from ramwright.catalogue import Row, table
from ramwright.geometry import Turn, summits
from ramwright.hydraulics.fatigue import CyclicStrength, FatigueLife, Measure, fatigue_life
from ramwright.hydraulics.line import GradeLine, cut_up, grade_line, total_head_drop
from ramwright.hydraulics.sweeping import pocket_sweeping_velocity
from ramwright.hydraulics.water import STANDARD_GRAVITY
from ramwright.site import Site

YEAR_S: Final = 365.25 * 86400.0
_STRESS_UNITS: Final = {"psi": 6894.757293168361, "mpa": 1e6}
#: Joints whose shoulder is stressed more than the pipe.
_SOCKETS: Final = ("solvent-weld", "thread-plastic", "adapter-plastic")
_PVC: Final = ("pvc", "pvc-u")


@dataclass(frozen=True, slots=True)
class Hump:
    """A summit of the drive pipe: where, how high over the lower ground beside it, and what would sweep it.

    ``needed`` m/s carries an air pocket down the leg behind it; ``velocity`` m/s is the most the water
    there reaches in a beat.
    """

    turn: Turn
    needed: float
    velocity: float


@dataclass(frozen=True, slots=True)
class Life:
    """How long a plastic piece lasts by one published relation, at the beats predicted."""

    piece: Stretch
    life: FatigueLife
    source: Row


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DriveLine:
    """The drive pipe at work. ``closing_velocity`` m/s in its last piece when the waste valve shuts.

    ``grade`` is the grade line at that moment (None where it does not beat); ``above_water`` m by which
    its highest point stands over the water of the drive tank (below 0: none does).
    """

    laid: LaidLine
    closing_velocity: float | None
    grade: GradeLine | None
    above_water: float
    humps: tuple[Hump, ...]
    pressures: Pressures | None
    lives: tuple[Life, ...]


def drive_line(site: Site, i: Installation, p: Prediction) -> DriveLine:
    """Judge the drive pipe of an installation at what was predicted. Raises as ``laid.along``."""
    laid = along(site, "drive_pipe", i.drive_pipe, start=i.fall.value - i.cover, end=0.0)
    closing = p.middle.closing_velocity
    velocity = closing if math.isfinite(closing) and closing > 0.0 else None
    grade = _grade(laid, i, velocity) if velocity is not None else None
    held = None
    if p.peak_head is not None and p.lowest_head is not None and p.shutoff_head is not None:
        held = pressures(
            laid,
            i.water,
            standing=i.fall.value,
            surge=p.peak_head.high - i.fall.value,
            drop=i.fall.value - p.lowest_head.low,
            shut_off=p.shutoff_head.high,
        )
    return DriveLine(
        laid=laid,
        closing_velocity=velocity,
        grade=grade,
        above_water=float(np.max(laid.profile.levels)) - i.fall.value,
        humps=_humps(laid, velocity),
        pressures=held,
        lives=_lives(i, p),
    )


def _grade(laid: LaidLine, i: Installation, velocity: float) -> GradeLine:
    """Grade line at ``velocity`` (m/s) in the last piece, just before the waste valve shuts."""
    line = laid.hydraulic(entrance_loss=i.entrance_loss)
    nodes = cut_up(line)
    flow = velocity * laid.pieces[-1].area
    lost, heads = total_head_drop(line, nodes, i.water, flow)
    return grade_line(line, nodes, lost=lost, velocity_heads=heads, flow=flow, source_level=i.fall.value)


def _humps(laid: LaidLine, velocity: float | None) -> tuple[Hump, ...]:
    if not laid.surveyed:
        return ()
    found = []
    for turn in summits(laid.profile, least_depth=laid.least_summit):
        piece = piece_at(laid, turn.station)
        share = laid.pieces[-1].area / piece.area
        needed = pocket_sweeping_velocity(bore=piece.bore, slope_angle=steepest_beyond(laid, turn.station))
        found.append(Hump(turn, needed, (velocity or 0.0) * share))
    return tuple(found)


def piece_at(laid: LaidLine, station: float) -> Stretch:
    """The piece of pipe at a station (m); where two meet, the one beyond."""
    k = int(np.searchsorted(laid.joints, station, side="right")) - 1
    return laid.pieces[min(max(k, 0), len(laid.pieces) - 1)]


def steepest_beyond(laid: LaidLine, station: float) -> float:
    """Steepest angle (rad) at which a line falls between a summit at ``station`` (m) and its next rise."""
    x, z = laid.profile.stations, laid.profile.levels
    steepest = 0.0
    for k in range(1, len(x)):
        if x[k] <= station:
            continue
        if z[k] > z[k - 1]:
            break
        steepest = max(steepest, math.asin(min(1.0, float((z[k - 1] - z[k]) / (x[k] - x[k - 1])))))
    return steepest


def _lives(i: Installation, p: Prediction) -> tuple[Life, ...]:
    """Lives of PVC pieces by each relation of the catalogue; of other plastics none is known."""
    if p.peak_head is None or p.lowest_head is None or p.beats_per_min is None:
        return ()
    weight = i.water.density * STANDARD_GRAVITY
    years = table("layout_rules").row("years-wanted").number("likely") / YEAR_S
    at_joint = table("layout_rules").row("joint-stress").number("likely")
    found = []
    for piece in i.drive_pipe:
        if piece.family not in _PVC:
            continue
        socket = piece.joint is not None and piece.joint.key in _SOCKETS
        for row in table("fatigue"):
            life = fatigue_life(
                cyclic_strength(row),
                peak_pressure=p.peak_head.high * weight,
                lowest_pressure=min(p.lowest_head.low, p.peak_head.high) * weight,
                outside=piece.bore + 2.0 * piece.wall,
                wall=piece.wall,
                beats_per_minute=p.beats_per_min.likely,
                years=years,
                stress_factor=at_joint if socket else 1.0,
            )
            found.append(Life(piece, life, row))
    return tuple(found)


def cyclic_strength(row: Row) -> CyclicStrength:
    """A relation of the table ``fatigue``."""
    return CyclicStrength(
        measure=Measure(row.text("measure")),
        coefficient=row.number("coefficient"),
        exponent=row.number("exponent"),
        stress_unit=_STRESS_UNITS[row.text("stress_unit")],
        from_cycles=row.number("from_cycles"),
        to_cycles=row.number("to_cycles"),
        mark=str(row.provenance.mark),
        source=row.provenance.source.key,
    )
