"""A round pipe running part full: its section, normal depth, and critical depth."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from ramwright.errors import InputError
from ramwright.hydraulics._checks import between, not_negative, positive
from ramwright.hydraulics.friction import LAMINAR_REYNOLDS, TURBULENT_REYNOLDS, loss_per_metre
from ramwright.hydraulics.water import STANDARD_GRAVITY

_FULLEST = tuple(0.80 + 0.01 * i for i in range(15))
"""Depths over bore among which the greatest flow lies.

0.938 with Manning (textbook), less in laminar flow.
"""
_THINNEST = 1e-9


@dataclass(frozen=True, slots=True)
class Section:
    """Wetted section of a round pipe.

    ``area`` m2, ``wetted_perimeter`` m, ``hydraulic_radius`` m, ``surface_width`` m.
    """

    area: float
    wetted_perimeter: float
    hydraulic_radius: float
    surface_width: float


@dataclass(frozen=True, slots=True)
class OpenFlow:
    """A steady part-full flow.

    ``flow`` m3/s, ``depth`` m, ``fill`` depth over bore, ``velocity`` m/s, ``froude`` number.
    """

    flow: float
    depth: float
    fill: float
    velocity: float
    froude: float


def section(*, bore: float, depth: float) -> Section:
    """Return the wetted section of a round pipe of ``bore`` (m) filled to ``depth`` (m, 0 to ``bore``).

    Circular segment: theta = 2 acos(1 - 2 y/D), A = D^2 (theta - sin theta)/8, P = D theta/2. Raises
    ``InputError``.
    """
    d = positive("bore", bore)
    y = between("depth", depth, 0.0, d)
    theta = 2.0 * math.acos(max(-1.0, min(1.0, 1.0 - 2.0 * y / d)))
    area = d**2 * (theta - math.sin(theta)) / 8.0
    perimeter = d * theta / 2.0
    return Section(
        area=area,
        wetted_perimeter=perimeter,
        hydraulic_radius=area / perimeter if perimeter > 0.0 else 0.0,
        surface_width=d * math.sin(theta / 2.0),
    )


def manning_velocity(*, hydraulic_radius: float, slope: float, manning_n: float) -> float:
    """Return R^(2/3) S^(1/2) / n, m/s: ``hydraulic_radius`` m, ``slope`` m/m, ``manning_n`` s/m^(1/3).

    Manning 1891.
    """
    radius, fall = not_negative("hydraulic_radius", hydraulic_radius), not_negative("slope", slope)
    return math.pow(radius, 2.0 / 3.0) * math.sqrt(fall) / positive("manning_n", manning_n)


def colebrook_velocity(
    *, hydraulic_radius: float, slope: float, roughness: float, kinematic_viscosity: float
) -> float:
    """Return the velocity of uniform flow from Colebrook with the bore replaced by 4R, m/s.

    V = -2 sqrt(8 g R S) log10(k/(14.8 R) + 2.51 nu / (4 R sqrt(8 g R S))) where that is turbulent; V = g S
    (4R)^2 / (32 nu) where that is laminar; between the two, the velocity whose ``loss_per_metre`` is the
    slope. ``hydraulic_radius`` and ``roughness`` m, ``slope`` m/m, ``kinematic_viscosity`` m2/s. Colebrook
    & White 1939 in the explicit form of uniform flow (textbook, from memory). Raises ``InputError``.
    """
    d = 4.0 * not_negative("hydraulic_radius", hydraulic_radius)
    fall, nu = not_negative("slope", slope), positive("kinematic_viscosity", kinematic_viscosity)
    rough = not_negative("roughness", roughness)
    if d <= 0.0 or fall == 0.0:
        return 0.0
    laminar = STANDARD_GRAVITY * fall * d**2 / (32.0 * nu)
    if laminar * d / nu <= LAMINAR_REYNOLDS:
        return laminar
    shear = math.sqrt(2.0 * STANDARD_GRAVITY * d * fall)
    turbulent = -2.0 * shear * math.log10(rough / (3.7 * d) + 2.51 * nu / (d * shear))
    slow, fast = LAMINAR_REYNOLDS * nu / d, TURBULENT_REYNOLDS * nu / d
    if turbulent >= fast:
        return turbulent
    from scipy.optimize import brentq

    def miss(velocity: float) -> float:
        return loss_per_metre(velocity, bore=d, roughness=rough, kinematic_viscosity=nu) - fall

    if miss(fast) <= 0.0:  # Colebrook solved two ways differs in the last digits
        return fast
    return float(brentq(miss, slow, fast, xtol=1e-15))


def _open_flow(bore: float, flow: float, depth: float) -> OpenFlow:
    cut = section(bore=bore, depth=depth)
    velocity = flow / cut.area if cut.area > 0.0 else 0.0
    mean_depth = cut.area / cut.surface_width if cut.surface_width > 0.0 else math.inf
    froude = velocity / math.sqrt(STANDARD_GRAVITY * mean_depth) if mean_depth > 0.0 else 0.0
    return OpenFlow(flow=flow, depth=depth, fill=depth / bore, velocity=velocity, froude=froude)


def normal_depth(
    flow: float, *, bore: float, slope: float, roughness: float, kinematic_viscosity: float
) -> OpenFlow | None:
    """Return the uniform part-full flow in a round pipe, or None when it runs full at this slope.

    ``flow`` m3/s, ``bore`` and ``roughness`` m, ``slope`` fall per metre of pipe (above 0),
    ``kinematic_viscosity`` m2/s. Colebrook by ``colebrook_velocity``; the lower of the two depths. Raises
    ``InputError``.
    """
    d = positive("bore", bore)
    q, fall = not_negative("flow", flow), positive("slope", slope)

    def carried(depth: float) -> float:
        cut = section(bore=d, depth=depth)
        return cut.area * colebrook_velocity(
            hydraulic_radius=cut.hydraulic_radius,
            slope=fall,
            roughness=roughness,
            kinematic_viscosity=kinematic_viscosity,
        )

    if q == 0.0:
        return _open_flow(d, 0.0, 0.0)
    top = _FULLEST[0] * d
    if carried(top) < q:
        top = max((fill * d for fill in _FULLEST), key=carried)
        if carried(top) < q:
            return None
    depth = _rising_depth(lambda y: carried(y) - q, d, top)
    return _open_flow(d, q, depth)


def critical_flow(depth: float, *, bore: float) -> OpenFlow:
    """Return the flow that is critical at ``depth`` (m) in a round pipe of ``bore`` (m): Q = A sqrt(g A / T).

    Froude number one (textbook). Raises ``InputError`` for a depth not between nothing and the bore.
    """
    cut = section(bore=bore, depth=depth)
    if cut.surface_width <= 0.0 or cut.area <= 0.0:
        raise InputError("hydraulics_out_of_bounds", field="depth", value=depth, low=0.0, high=bore)
    flow = cut.area * math.sqrt(STANDARD_GRAVITY * cut.area / cut.surface_width)
    return _open_flow(bore, flow, depth)


def crest_flow(energy: float, *, bore: float) -> OpenFlow:
    """Return the free flow over the invert of a round pipe at a crest, critical there.

    Solves y + A/(2T) = ``energy`` for y and takes the critical flow there. ``energy`` m above the invert,
    not negative; ``bore`` m. The depth tends to the bore as energy grows; beyond a fill of about 0.9 the
    pipe really runs full and the line's own capacity rules. Critical depth (textbook). Raises
    ``InputError``.
    """
    d, head = positive("bore", bore), not_negative("energy", energy)
    if head <= _THINNEST * d:
        return _open_flow(d, 0.0, 0.0)
    top = d * (1.0 - 1e-9)

    def miss(depth: float) -> float:
        cut = section(bore=d, depth=depth)
        return depth + cut.area / (2.0 * cut.surface_width) - head

    depth = top if miss(top) <= 0.0 else _rising_depth(miss, d, top)
    return critical_flow(depth, bore=d)


def _rising_depth(miss: Callable[[float], float], bore: float, most: float) -> float:
    """Return the depth (m) at which the rising function ``miss`` crosses zero."""
    from scipy.optimize import brentq

    low = _THINNEST * bore
    if miss(low) >= 0.0:
        return low
    return float(brentq(miss, low, most, xtol=1e-14, rtol=1e-12))
