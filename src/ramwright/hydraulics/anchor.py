"""Holding the pipe still: thrust at bends and at the end, free spans, and the weight that helps most."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from ramwright.hydraulics._checks import between, finite, not_negative, positive
from ramwright.hydraulics.limits import Held, Side, ruling
from ramwright.hydraulics.water import STANDARD_GRAVITY


def bend_thrust(
    *, pressure: float, bore: float, bend_angle: float, velocity: float = 0.0, density: float = 1000.0
) -> float:
    """Return the thrust of a bend along its bisector, outwards, N: 2 (p + rho V^2) A sin(angle/2).

    ``pressure`` Pa gauge (standing and surge together), ``bore`` m, ``bend_angle`` rad turned through (0 to
    pi), ``velocity`` m/s, ``density`` kg/m3. Momentum balance (textbook). Raises ``InputError``.
    """
    area = math.pi / 4.0 * positive("bore", bore) ** 2
    angle = between("bend_angle", bend_angle, 0.0, math.pi)
    whole = finite("pressure", pressure) + positive("density", density) * finite("velocity", velocity) ** 2
    return 2.0 * whole * area * math.sin(angle / 2.0)


def end_thrust(*, pressure: float, bore: float) -> float:
    """Return the force of a pressure on a closed end, N: p A.

    ``pressure`` Pa gauge, ``bore`` m. Raises ``InputError``.
    """
    return finite("pressure", pressure) * math.pi / 4.0 * positive("bore", bore) ** 2


class Support(StrEnum):
    """How a span is held at its supports: resting on them, or clamped so that it cannot tilt."""

    RESTING = "resting"
    CLAMPED = "clamped"


# Beam under an even load w over span L (textbook): deflection a w L^4/EI, moment w L^2/b, first
# frequency c/(2 pi) sqrt(EI/(m L^4)).
_BEAM = {Support.RESTING: (5.0 / 384.0, 8.0, math.pi**2), Support.CLAMPED: (1.0 / 384.0, 12.0, 22.3733)}


@dataclass(frozen=True, slots=True)
class SpanPipe:
    """A pipe full of water as a beam.

    ``bore`` and ``wall`` m, ``modulus`` Pa (long-term for plastics), ``density`` of its material and
    ``water_density`` kg/m3.
    """

    bore: float
    wall: float
    modulus: float
    density: float
    water_density: float = 1000.0

    def __post_init__(self) -> None:
        for field in ("bore", "wall", "modulus", "density", "water_density"):
            positive(f"pipe.{field}", getattr(self, field))

    @property
    def outside(self) -> float:
        """Outside diameter, m."""
        return self.bore + 2.0 * self.wall

    @property
    def second_moment(self) -> float:
        """Second moment of the wall's section, m4: pi (Do^4 - Di^4) / 64."""
        return math.pi / 64.0 * (self.outside**4 - self.bore**4)

    @property
    def mass_per_metre(self) -> float:
        """Mass of pipe and water, kg/m."""
        wall = math.pi / 4.0 * (self.outside**2 - self.bore**2)
        return wall * self.density + math.pi / 4.0 * self.bore**2 * self.water_density


@dataclass(frozen=True, slots=True)
class Span:
    """One free span: ``span`` m.

    ``deflection`` m and ``stress`` Pa under its own weight; ``frequency`` Hz of its first swing;
    ``longest`` m allowed; ``rules`` deflection or stress.
    """

    span: float
    deflection: float
    stress: float
    frequency: float
    longest: float
    rules: Held


def free_span(
    pipe: SpanPipe,
    span: float,
    *,
    support: Support = Support.RESTING,
    sag_share: float,
    bending_stress: float,
) -> Span:
    """Return how a pipe full of water hangs over ``span`` (m), and the longest span it may bridge.

    ``sag_share`` deflection allowed over span; ``bending_stress`` Pa allowed. Even load on one beam:
    deflection 5 w L^4 / 384 EI resting, w L^4 / 384 EI clamped; moment w L^2/8 or w L^2/12; stress M Do /
    2I (textbook). Raises ``InputError``.
    """
    length = positive("span", span)
    share, allowed = positive("sag_share", sag_share), positive("bending_stress", bending_stress)
    sag, part, swing = _BEAM[support]
    load, stiff = pipe.mass_per_metre * STANDARD_GRAVITY, pipe.modulus * pipe.second_moment
    deflection = sag * load * length**4 / stiff
    stress = load * length**2 / part * pipe.outside / (2.0 * pipe.second_moment)
    checks = (
        Held("sag", deflection, share * length, Side.AT_MOST),
        Held("bending_stress", stress, allowed, Side.AT_MOST),
    )
    by_sag = math.cbrt(share * stiff / (sag * load))
    by_stress = math.sqrt(allowed * part * 2.0 * pipe.second_moment / (load * pipe.outside))
    return Span(
        span=length,
        deflection=deflection,
        stress=stress,
        frequency=swing / (2.0 * math.pi) * math.sqrt(stiff / (pipe.mass_per_metre * length**4)),
        longest=min(by_sag, by_stress),
        rules=ruling(checks),
    )


@dataclass(frozen=True, slots=True)
class Holding:
    """Weight to hold a force by friction: ``force`` N along the ground.

    ``mass`` kg that must lie there, infinite where the slope is steeper than friction holds; ``missing`` kg
    beyond what already lies there; ``held`` whether it stays.
    """

    force: float
    mass: float
    missing: float
    held: bool


def mass_to_hold(
    force: float, *, friction: float, slope_angle: float = 0.0, present_mass: float = 0.0, factor: float = 1.0
) -> Holding:
    """Return the mass that holds ``force`` (N, pushing down the slope) by friction on the ground, kg.

    m g (mu cos b - sin b) >= factor F. ``friction`` mu; ``slope_angle`` b rad below level towards the
    force, 0 to pi/2; ``present_mass`` kg already bearing on the ground there; ``factor`` of safety.
    Statics, so the pulse is taken as lasting: on the safe side; ``slide_in_pulse`` says what a short one
    does. Raises ``InputError``.
    """
    push = not_negative("force", force) * positive("factor", factor)
    slope = between("slope_angle", slope_angle, 0.0, math.pi / 2.0)
    grip = positive("friction", friction) * math.cos(slope) - math.sin(slope)
    mass = push / (STANDARD_GRAVITY * grip) if grip > 0.0 else math.inf
    there = not_negative("present_mass", present_mass)
    return Holding(force=push, mass=mass, missing=max(0.0, mass - there), held=there >= mass)


def slide_in_pulse(force: float, *, duration: float, mass: float, friction: float) -> float:
    """Return how far a mass on level ground slides under one pulse, m; 0 when friction holds it.

    Accelerates by F/m - mu g for ``duration`` s, then slows by mu g: (a t^2/2)(1 + a/(mu g)). ``force`` N,
    ``mass`` kg, ``friction`` mu. The pulse of a ram lasts about 2L/a. Mechanics of one block (textbook).
    Raises ``InputError``.
    """
    brake = positive("friction", friction) * STANDARD_GRAVITY
    gain = not_negative("force", force) / positive("mass", mass) - brake
    if gain <= 0.0:
        return 0.0
    return gain * not_negative("duration", duration) ** 2 / 2.0 * (1.0 + gain / brake)


@dataclass(frozen=True, slots=True)
class ThrustPoint:
    """A place where the pipe pushes: ``station`` m.

    ``bend_angle`` rad turned through, or None at the closed end; ``present_mass`` kg that already bears
    there.
    """

    station: float
    bend_angle: float | None = None
    present_mass: float = 0.0


@dataclass(frozen=True, slots=True)
class RankedThrust:
    """A thrust point and what it asks: ``point``.

    ``force`` N; ``holding``; ``share`` of all the force not yet held.
    """

    point: ThrustPoint
    force: float
    holding: Holding
    share: float


def rank_thrusts(
    points: Sequence[ThrustPoint], *, pressure: float, bore: float, friction: float, factor: float = 1.0
) -> tuple[RankedThrust, ...]:
    """Return where weight helps most: thrust points by force not yet held, largest first, then by station.

    ``pressure`` Pa of the pulse, standing included; ``bore`` m; ``friction`` mu on level ground; ``factor``
    of safety. Own ordering by ``bend_thrust``, ``end_thrust`` and ``mass_to_hold``. Raises ``InputError``.
    """
    rows = []
    for point in points:
        if point.bend_angle is None:
            force = end_thrust(pressure=pressure, bore=bore)
        else:
            force = bend_thrust(pressure=pressure, bore=bore, bend_angle=point.bend_angle)
        holding = mass_to_hold(force, friction=friction, present_mass=point.present_mass, factor=factor)
        rows.append((point, force, holding))
    total = sum(h.missing for _, _, h in rows)
    ranked = [
        RankedThrust(point=p, force=f, holding=h, share=h.missing / total if total > 0.0 else 0.0)
        for p, f, h in rows
    ]
    return tuple(sorted(ranked, key=lambda r: (-r.share, r.point.station)))
