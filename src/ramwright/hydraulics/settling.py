"""What sinks and what rises in still water: grains and bubbles, and the plan area they ask for."""

from __future__ import annotations

import math

from ramwright.hydraulics._checks import positive, within_source
from ramwright.hydraulics.water import STANDARD_GRAVITY

_SMALLEST_GRAIN, _LARGEST_GRAIN = 1e-7, 0.1
_SMALLEST_BUBBLE, _LARGEST_BUBBLE = 1e-5, 2e-3


def settling_velocity(
    grain: float,
    *,
    kinematic_viscosity: float,
    submerged_gravity: float = 1.65,
    viscous: float = 18.0,
    form: float = 1.0,
) -> float:
    """Return how fast a grain sinks in still water, m/s: R g d^2 / (C1 nu + sqrt(0.75 C2 R g d^3)).

    ``grain`` m (sieve size, 1e-7 to 0.1), ``kinematic_viscosity`` m2/s, ``submerged_gravity`` R = density
    ratio less one (quartz 1.65), ``viscous`` C1 and ``form`` C2 (natural sand: 18 and 1.0; smooth spheres:
    18 and 0.4). Ferguson & Church 2004, J. Sediment. Res. 74(6) 933-937, equation 4 (from memory). Raises
    ``InputError`` and ``LimitError``.
    """
    d = within_source("grain", grain, _SMALLEST_GRAIN, _LARGEST_GRAIN)
    weight = positive("submerged_gravity", submerged_gravity) * STANDARD_GRAVITY
    drag = positive("viscous", viscous) * positive("kinematic_viscosity", kinematic_viscosity)
    return weight * d**2 / (drag + math.sqrt(0.75 * positive("form", form) * weight * d**3))


def settled_grain(
    surface_load: float, *, kinematic_viscosity: float, submerged_gravity: float = 1.65
) -> float:
    """Return the smallest grain that still sinks in an ideal basin of ``surface_load`` (m/s), m.

    The grain whose settling velocity equals flow over plan area (Hazen 1904), found by inverting
    ``settling_velocity``; 0.1 m when even that does not sink. ``kinematic_viscosity`` m2/s. Raises
    ``InputError``.
    """
    load = positive("surface_load", surface_load)

    def miss(log_grain: float) -> float:
        velocity = settling_velocity(
            min(math.exp(log_grain), _LARGEST_GRAIN),
            kinematic_viscosity=kinematic_viscosity,
            submerged_gravity=submerged_gravity,
        )
        return math.log(velocity / load)

    low, high = math.log(_SMALLEST_GRAIN * 1.000001), math.log(_LARGEST_GRAIN)
    if miss(low) >= 0.0:
        return _SMALLEST_GRAIN
    if miss(high) <= 0.0:
        return _LARGEST_GRAIN
    from scipy.optimize import brentq

    return math.exp(float(brentq(miss, low, high, xtol=1e-12)))


def bubble_rise_velocity(bubble: float, *, kinematic_viscosity: float) -> float:
    """Return how fast an air bubble rises in natural water, m/s.

    ``bubble`` diameter m, 1e-5 to 2e-3; ``kinematic_viscosity`` m2/s. In water that is not clean a small
    bubble moves as a smooth rigid sphere (Clift, Grace & Weber 1978, from memory), so ``settling_velocity``
    with R = 1 and C2 = 0.4. Raises ``InputError`` and ``LimitError``.
    """
    d = within_source("bubble", bubble, _SMALLEST_BUBBLE, _LARGEST_BUBBLE)
    return settling_velocity(d, kinematic_viscosity=kinematic_viscosity, submerged_gravity=1.0, form=0.4)


def plan_area_needed(flow: float, *, velocity: float, allowance: float = 1.0) -> float:
    """Return the plan area that lets what moves at ``velocity`` (m/s) leave ``flow`` (m3/s), m2.

    Allowance Q / w.

    ``allowance`` for turbulence, 1 for an ideal basin. Hazen 1904. Raises ``InputError``.
    """
    return positive("allowance", allowance) * positive("flow", flow) / positive("velocity", velocity)
