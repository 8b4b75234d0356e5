"""The ram body: head and flows where drive pipe, waste valve, delivery valve and mount meet.

Continuity at the end of the drive pipe: ``(arrive - H)/B = waste + delivery + e0 + e1 H`` with
``arrive`` the wave coming down and ``e0 + e1 H`` what the moving pipe end and the elastic body take
up. Both valves pass ``c sqrt(dH)``; a delivery valve that is still falling shut, or worn, lets water
back the same way. The water column breaks (a cavity opens) at the head of the outside air while the
waste valve is open with a free outlet, else at vapour pressure (discrete vapour cavity, Wylie &
Streeter 1978, from memory). A snifter above the tailwater lets air into it as soon as the body's head
is below the air's: ``air sqrt(-H)``, incompressible, at the density of the outside air.
"""

from __future__ import annotations

from ramwright.ram.compiled import kernel
from ramwright.ram.layout import Record
from ramwright.ram.waste_valve import discharge


@kernel
def forward(
    p: float, s: float, cw: float, ht: float, cv: float, hv: float, stiff: float
) -> tuple[float, float]:
    """Head H (m) and delivery q (m3/s, 0 or more) with the delivery valve free to open.

    Solves ``p - s H = cw sqrt(H - ht) + q`` with ``H = hv + stiff q + (q/cv)^2`` where q is above 0;
    below ``ht`` the waste valve passes water inwards. ``s`` > 0, ``hv`` > ``ht``; ``stiff`` is how far
    the air vessel's head is pushed up by the step's own delivery. Quadratics where one valve passes,
    Newton, kept at z = 0 or more (at most twelve steps), where both do.
    """
    c = p - s * ht
    if c <= 0.0:
        if c == 0.0:
            return ht, 0.0
        y = -2.0 * c / (cw + (cw * cw - 4.0 * s * c) ** 0.5)
        return ht - y * y, 0.0
    y = 2.0 * c / (cw + (cw * cw + 4.0 * s * c) ** 0.5)
    head = ht + y * y
    if head <= hv:
        return head, 0.0
    gap = hv - ht
    push = stiff * cv
    over = p - s * hv
    least = over - cw * gap**0.5
    brake = cv + s * push
    z = 2.0 * least / (brake + (brake * brake + 4.0 * s * least) ** 0.5)
    if cw > 0.0:
        for _ in range(12):
            root = ((z + push) * z + gap) ** 0.5
            miss = z * (s * z + brake) + cw * root - over
            z = max(z - miss / (2.0 * s * z + brake + 0.5 * cw * (2.0 * z + push) / root), 0.0)
            if abs(miss) <= 1e-13 * over:
                break
    return hv + (z + push) * z, cv * z


@kernel
def backward(
    p: float, s: float, cw: float, ht: float, cr: float, hv: float, stiff: float
) -> tuple[float, float]:
    """Head H (m) below ``hv`` and delivery (m3/s, below 0) through a delivery valve ajar or leaking.

    Solves ``p - s H + q = cw sqrt(H - ht)``, signs kept, with ``H = hv - stiff q - (q/cr)^2``. In
    ``z = q/cr`` every term grows with z, so there is one root: Newton inside a bracket, halving it where
    Newton leaves it or gains too little (the waste valve's root turns sharply at ``ht``). At most 100
    steps.
    """
    push = stiff * cr
    low = 0.0
    high = 1.0
    for _ in range(60):
        if _short(p, s, cw, ht, cr, hv, push, high) >= 0.0:
            break
        high *= 2.0
    z = high
    last = high
    for _ in range(100):
        miss = _short(p, s, cw, ht, cr, hv, push, z)
        if miss > 0.0:
            high = z
        else:
            low = z
        over = abs(hv - (z + push) * z - ht) ** 0.5
        slope = s * (2.0 * z + push) + cr + (0.5 * cw * (2.0 * z + push) / over if over > 0.0 else 0.0)
        move = -miss / slope if slope > 0.0 else 0.0
        if not low < z + move < high or abs(2.0 * move) > abs(last):
            move = 0.5 * (low + high) - z
        last = move
        z += move
        if abs(move) <= 1e-13 * (1.0 + z):
            break
    return hv - (z + push) * z, -cr * z


@kernel
def _short(p: float, s: float, cw: float, ht: float, cr: float, hv: float, push: float, z: float) -> float:
    """What continuity misses at ``H = hv - (z + push) z``, m3/s; grows with z."""
    head = hv - (z + push) * z
    over = head - ht
    waste = cw * over**0.5 if over > 0.0 else -cw * (-over) ** 0.5
    return p - s * head + cr * z - waste


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
def vessel_push(p: Record, s: Record, b: float, dt: float) -> float:
    """Rise of the air vessel's head (m) for each m3/s delivered over dt seconds, for the solution's sake.

    Half the step's rise (trapezoidal) while the vessel is soft, all of it (implicit) when it is stiff
    against the drive pipe: a waterlogged vessel stays steady.
    """
    rise = p.exponent * (s.vessel_head + p.atmosphere) / s.air * dt
    return rise * (0.5 + 0.5 * rise / (rise + b))


@kernel
def squeezed_push(p: Record, s: Record, share: float, dt: float) -> float:
    """The same for a step that squeezes out ``share`` of the air: by the secant of its adiabat."""
    rise = (s.vessel_head + p.atmosphere) * ((1.0 - share) ** -p.exponent - 1.0)
    return rise * dt / (share * s.air)


@kernel
def mean_ajar(p: Record, ajar: float, dt: float) -> float:
    """Mean over dt seconds of how far the delivery valve is still open, falling shut at a steady rate.

    Exact where it reaches its seat within the step, so that when it does matters and not in which step.
    """
    if ajar <= 0.0:
        return 0.0
    fall = dt / p.delivery_lag
    return ajar - 0.5 * fall if ajar >= fall else 0.5 * ajar * ajar / fall


@kernel
def snifted_head(spare: float, conduct: float, air: float) -> float:
    """Head (m, below 0) at which the snifter lets in the air the column asks for.

    Solves ``spare - conduct H + air sqrt(-H) = 0`` for ``spare`` < 0 (m3/s).
    """
    y = -2.0 * spare / (air + (air * air - 4.0 * conduct * spare) ** 0.5)
    return -y * y


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
    back = p.delivery_leak + p.delivery_flow * mean_ajar(p, s.ajar, dt)
    conduct = 1.0 / b + e1
    offer = arrive / b - e0 - s.cavity / dt
    free = p.tailwater == 0.0 and (s.opening > 0.0 or p.snifter_air > 0.0)
    broken = 0.0 if free else p.vapour
    # A waterlogged air vessel can be pulled below the outlet by its line; here it then stands just above.
    against = max(s.vessel_head, p.tailwater + 0.01)
    stiff = vessel_push(p, s, b, dt)
    spare = offer - conduct * broken + back * (against - broken) ** 0.5
    if not free:
        spare += cw * max(p.tailwater - broken, 0.0) ** 0.5
    if spare < 0.0:
        head = broken
        if free and s.opening == 0.0:
            head = max(snifted_head(spare, conduct, p.snifter_air), p.vapour)
        cavity = -dt * (offer - conduct * head + back * (against - head) ** 0.5)
        waste = 0.0
        if not free:
            waste = -cw * max(p.tailwater - broken, 0.0) ** 0.5
            cavity += dt * waste
        delivery = -back * (against - head) ** 0.5
    else:
        cavity = 0.0
        head, delivery = forward(offer, conduct, cw, p.tailwater, p.delivery_flow, against, stiff)
        if back > 0.0 and head < against:
            head, delivery = backward(offer, conduct, cw, p.tailwater, back, against, stiff)
        for _ in range(4):
            # A squeeze this large is stiffer than its beginning: again, with the secant.
            if delivery * dt <= 0.2 * s.air:
                break
            stiff = squeezed_push(p, s, min(delivery * dt / s.air, 0.9), dt)
            head, delivery = forward(offer, conduct, cw, p.tailwater, p.delivery_flow, against, stiff)
        if delivery * dt > 0.9 * s.air:
            delivery = 0.9 * s.air / dt
        over = head - p.tailwater
        waste = cw * over**0.5 if over > 0.0 else -cw * (-over) ** 0.5
    speed = alpha + beta * head
    shift = s.shift + 0.5 * dt * (s.shift_speed + speed)
    # From continuity, not from the wave: exact to rounding even where a root was iterated.
    drive = waste + delivery + e0 + e1 * head + (s.cavity - cavity) / dt
    return head, drive, waste, delivery, cavity, shift, speed
