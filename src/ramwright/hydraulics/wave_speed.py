"""How fast a pressure wave runs in a pipe: bore, wall, material, how the pipe is held, and air in the water.

Source of the relations: Wylie & Streeter 1993, Fluid Transients in Systems, chapter 1 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from ramwright.errors import InputError
from ramwright.hydraulics._checks import between, finite, positive
from ramwright.hydraulics.water import STANDARD_GRAVITY, Water


class Restraint(StrEnum):
    """How the pipe is held along its axis."""

    ANCHORED_UPSTREAM = "anchored_upstream"
    ANCHORED_THROUGHOUT = "anchored_throughout"
    EXPANSION_JOINTS = "expansion_joints"


@dataclass(frozen=True, slots=True)
class PipeWall:
    """What the wave feels of a pipe.

    ``bore`` m, ``wall`` m, ``modulus`` Pa (short-term), ``poisson`` (0 to 0.5).
    """

    bore: float
    wall: float
    modulus: float
    poisson: float

    def __post_init__(self) -> None:
        positive("bore", self.bore)
        positive("wall", self.wall)
        positive("modulus", self.modulus)
        between("poisson", self.poisson, 0.0, 0.5)


@dataclass(frozen=True, slots=True)
class WaveSpeed:
    """A wave speed and what made it.

    ``speed`` m/s; ``restraint_factor`` the factor on K D / (E e); ``air_fraction`` free air by volume at
    the pressure asked; ``speed_without_air`` m/s, the same pipe with no free air.
    """

    speed: float
    restraint_factor: float
    air_fraction: float
    speed_without_air: float


def thin_wall_factor(restraint: Restraint, *, poisson: float) -> float:
    """Return the restraint factor of a thin-walled pipe (bore over wall above about 25), no unit.

    Anchored upstream 1 - nu/2; anchored throughout 1 - nu^2; expansion joints throughout 1. ``poisson`` 0
    to 0.5. Wylie & Streeter 1993, chapter 1 (from memory). Raises ``InputError``.
    """
    nu = between("poisson", poisson, 0.0, 0.5)
    if restraint is Restraint.ANCHORED_UPSTREAM:
        return 1.0 - nu / 2.0
    if restraint is Restraint.ANCHORED_THROUGHOUT:
        return 1.0 - nu**2
    return 1.0


def thick_wall_factor(restraint: Restraint, *, poisson: float, bore: float, wall: float) -> float:
    """Return the restraint factor of a pipe of any wall, no unit.

    Tends to the thin-wall factor as wall/bore -> 0.

    2 (e/D) (1 + nu) + D/(D + e) * thin-wall factor, ``bore`` D and ``wall`` e in m, ``poisson`` 0 to 0.5.
    Wylie & Streeter 1993, chapter 1 (from memory). Raises ``InputError``.
    """
    thin = thin_wall_factor(restraint, poisson=poisson)
    d, e = positive("bore", bore), positive("wall", wall)
    return 2.0 * e / d * (1.0 + poisson) + d / (d + e) * thin


def air_fraction_at(*, fraction: float, reference_pressure: float, pressure: float) -> float:
    """Return the free-air fraction by volume at ``pressure``, given ``fraction`` at ``reference_pressure``.

    Pressures in Pa absolute. Boyle's law on a fixed mass of gas, the water taken as incompressible: x =
    alpha/(1-alpha) goes as 1/p. ``fraction`` 0 to 0.5. Solution of air into the water is left out: over a
    ram's beat it has no time. Raises ``InputError``.
    """
    alpha = between("air_fraction", fraction, 0.0, 0.5)
    squeeze = positive("reference_pressure", reference_pressure) / positive("pressure", pressure)
    ratio = alpha / (1.0 - alpha) * squeeze
    return ratio / (1.0 + ratio)


def mixture_wave_speed(
    *,
    bulk_modulus: float,
    density: float,
    wall_term: float,
    air_fraction: float = 0.0,
    air_modulus: float = 101325.0,
) -> float:
    """Return the wave speed in water holding evenly spread free air inside an elastic pipe, m/s.

    a = 1 / sqrt(rho_m (  (1-alpha)/K + alpha/K_air + c1 D/(e E) )), rho_m = rho (1-alpha). ``bulk_modulus``
    K Pa, ``density`` kg/m3, ``wall_term`` = c1 D/(e E) in 1/Pa (0 for a rigid pipe), ``air_fraction`` alpha
    0 to 0.5 at the pressure asked, ``air_modulus`` n p absolute in Pa (n = 1 isothermal). The mass of the
    air is left out. Wylie & Streeter 1993, chapter 1; for a rigid pipe it is Wood's relation (both from
    memory). Raises ``InputError``.
    """
    k, rho = positive("bulk_modulus", bulk_modulus), positive("density", density)
    alpha = between("air_fraction", air_fraction, 0.0, 0.5)
    if finite("wall_term", wall_term) < 0.0:
        raise InputError("hydraulics_negative", field="wall_term", value=wall_term)
    softness = (1.0 - alpha) / k + alpha / positive("air_modulus", air_modulus) + wall_term
    return 1.0 / math.sqrt(rho * (1.0 - alpha) * softness)


def wave_speed(
    pipe: PipeWall,
    water: Water,
    *,
    restraint: Restraint = Restraint.ANCHORED_THROUGHOUT,
    thin_wall: bool = False,
    air_fraction: float = 0.0,
    pressure: float | None = None,
    polytropic: float = 1.0,
) -> WaveSpeed:
    """Return the wave speed of ``pipe`` filled with ``water``.

    ``restraint`` is how it is held; ``thin_wall`` leaves out the thick-wall terms; ``air_fraction`` is free
    air by volume at atmospheric pressure, squeezed to ``pressure`` (Pa absolute, default atmospheric);
    ``polytropic`` 1 (isothermal) to 1.4. Equations: ``thick_wall_factor``, ``mixture_wave_speed``. Raises
    ``InputError``.
    """
    absolute = water.atmospheric_pressure if pressure is None else positive("pressure", pressure)
    n = between("polytropic", polytropic, 1.0, 1.4)
    if thin_wall:
        factor = thin_wall_factor(restraint, poisson=pipe.poisson)
    else:
        factor = thick_wall_factor(restraint, poisson=pipe.poisson, bore=pipe.bore, wall=pipe.wall)
    wall_term = factor * pipe.bore / (pipe.wall * pipe.modulus)
    alpha = air_fraction_at(
        fraction=air_fraction, reference_pressure=water.atmospheric_pressure, pressure=absolute
    )
    clear = mixture_wave_speed(bulk_modulus=water.bulk_modulus, density=water.density, wall_term=wall_term)
    speed = mixture_wave_speed(
        bulk_modulus=water.bulk_modulus,
        density=water.density,
        wall_term=wall_term,
        air_fraction=alpha,
        air_modulus=n * absolute,
    )
    return WaveSpeed(speed=speed, restraint_factor=factor, air_fraction=alpha, speed_without_air=clear)


def layered_wall(walls: Sequence[float], moduli: Sequence[float]) -> float:
    """Return the wall (m) of the first material that is as stiff as all layers together: sum(e_i E_i) / E_1.

    ``walls`` m and ``moduli`` Pa, innermost first (a lining, a concrete jacket). Layers share the hoop
    strain, radii taken equal: thin layers only. Wylie & Streeter 1993, chapter 1 (from memory). Raises
    ``InputError``.
    """
    if not walls or len(walls) != len(moduli):
        raise InputError("hydraulics_lengths_differ", field="walls", value=len(walls), other=len(moduli))
    stiffness = sum(positive("walls", e) * positive("moduli", m) for e, m in zip(walls, moduli, strict=True))
    return stiffness / moduli[0]


def composite_wave_speed(lengths: Sequence[float], speeds: Sequence[float]) -> float:
    """Return the one wave speed that gives a line of several pipes its travel time: sum(L) / sum(L/a), m/s.

    ``lengths`` m and ``speeds`` m/s, in order. It keeps the time of the first echo, not the reflections at
    the joints. Definition of travel time. Raises ``InputError``.
    """
    if not lengths or len(lengths) != len(speeds):
        raise InputError("hydraulics_lengths_differ", field="lengths", value=len(lengths), other=len(speeds))
    travel = sum(positive("lengths", x) / positive("speeds", a) for x, a in zip(lengths, speeds, strict=True))
    return sum(lengths) / travel


def joukowsky_head(wave_speed: float, velocity_change: float) -> float:
    """Return the head rise when a column is stopped faster than its echo returns: a dV / g, m.

    ``wave_speed`` m/s above 0, ``velocity_change`` m/s (sign kept). Joukowsky 1898. Raises ``InputError``.
    """
    return positive("wave_speed", wave_speed) * finite("velocity_change", velocity_change) / STANDARD_GRAVITY
