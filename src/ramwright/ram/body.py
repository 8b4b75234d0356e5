"""The ram body: head and flows where drive pipe, waste valve, delivery valve and mount meet.

Continuity at the end of the drive pipe: ``(arrive - H)/B = waste + delivery + e0 + e1 H`` with
``arrive`` the wave coming down and ``e0 + e1 H`` what the moving pipe end and the elastic body take
up. Both valves pass ``c sqrt(dH)``. The water column breaks (a cavity opens) at the head of the
outside air while the waste valve is open with a free outlet, else at vapour pressure (discrete
vapour cavity, Wylie & Streeter 1978, from memory).
"""

from __future__ import annotations

from ramwright.ram.compiled import kernel
from ramwright.ram.layout import Record
from ramwright.ram.waste_valve import discharge


@kernel
def body_head(p: float, s: float, cw: float, ht: float, cv: float, hv: float) -> float:
    """Head H (m) that solves ``p - s H = cw sqrt(H - ht) + cv sqrt(H - hv)``, each root only above its head.

    ``s`` > 0; below ``ht`` the waste valve passes water inwards; ``hv`` > ``ht``. Quadratics where one
    valve passes, Newton from above (at most eight steps, monotone) where both do.
    """
    c = p - s * ht
    if c <= 0.0:
        if c == 0.0:
            return ht
        y = -2.0 * c / (cw + (cw * cw - 4.0 * s * c) ** 0.5)
        return ht - y * y
    y = 2.0 * c / (cw + (cw * cw + 4.0 * s * c) ** 0.5)
    head = ht + y * y
    if head <= hv:
        return head
    gap = hv - ht
    over = p - s * hv
    least = over - cw * gap**0.5
    z = 2.0 * least / (cv + (cv * cv + 4.0 * s * least) ** 0.5)
    if cw > 0.0:
        for _ in range(8):
            root = (z * z + gap) ** 0.5
            miss = z * (s * z + cv) + cw * root - over
            z -= miss / (2.0 * s * z + cv + cw * z / root)
            if abs(miss) <= 1e-13 * over:
                break
        z = max(z, 0.0)
    return hv + z * z


@kernel
def mount_terms(p: Record, shift: float, speed: float, dt: float) -> tuple[float, float]:
    """New speed of the pipe end as ``alpha + beta H`` (m/s), trapezoidal rule over dt seconds.

    ``M u'' + c u' + k u = rho g A H`` (junction coupling of pipe end and water column; Tijsseling 1996
    review, from memory).
    """
    half = 0.5 * p.mount_damping + 0.25 * p.mount_stiffness * dt
    inertia = p.mount_mass / dt
    alpha = ((inertia - half) * speed - p.mount_stiffness * shift) / (inertia + half)
    return alpha, p.rho_g * p.end_area / (inertia + half)


@kernel
def solve_body(
    p: Record, s: Record, arrive: float, b: float, dt: float
) -> tuple[float, float, float, float, float, float, float]:
    """Head and flows in the body over dt seconds with the valve where it stands.

    Returns (head, drive, waste, delivery, cavity, shift, shift_speed); changes nothing in ``s``.
    """
    e0 = 0.0
    e1 = 0.0
    alpha = 0.0
    beta = 0.0
    if p.held == 0:
        alpha, beta = mount_terms(p, s.shift, s.shift_speed, dt)
        e0 += 0.5 * p.end_area * (s.shift_speed + alpha)
        e1 += 0.5 * p.end_area * beta
    if p.body_compliance > 0.0:
        rate = p.body_compliance / dt
        e0 -= rate * s.head
        e1 += rate
    cw = discharge(p, s.opening)
    conduct = 1.0 / b + e1
    offer = arrive / b - e0 - s.cavity / dt
    free = p.tailwater == 0.0 and s.opening > 0.0
    broken = 0.0 if free else p.vapour
    spare = offer - conduct * broken
    if not free:
        spare += cw * max(p.tailwater - broken, 0.0) ** 0.5
    if spare < 0.0:
        head = broken
        cavity = -dt * spare
        waste = 0.0 if free else -cw * max(p.tailwater - broken, 0.0) ** 0.5
        delivery = 0.0
    else:
        head = body_head(offer, conduct, cw, p.tailwater, p.delivery_flow, s.vessel_head)
        cavity = 0.0
        over = head - p.tailwater
        waste = cw * over**0.5 if over > 0.0 else -cw * (-over) ** 0.5
        above = head - s.vessel_head
        delivery = p.delivery_flow * above**0.5 if above > 0.0 else 0.0
    speed = alpha + beta * head
    shift = s.shift + 0.5 * dt * (s.shift_speed + speed)
    # From continuity, not from the wave: exact to rounding even where a root was iterated.
    drive = waste + delivery + e0 + e1 * head + (s.cavity - cavity) / dt
    return head, drive, waste, delivery, cavity, shift, speed
