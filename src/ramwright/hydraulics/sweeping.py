"""How fast water must run to carry air along a pipe that falls."""

from __future__ import annotations

import math

from ramwright.hydraulics._checks import between, positive
from ramwright.hydraulics.water import STANDARD_GRAVITY


def pocket_sweeping_velocity(*, bore: float, slope_angle: float) -> float:
    """Return the velocity that moves a standing air pocket down a falling pipe, m/s.

    V / sqrt(g D) = 0.25 sqrt(sin a) + 0.825; ``bore`` m, ``slope_angle`` a in radians below level, 0 to
    pi/2. Wisner, Mohsen & Kouwen 1975, J. Hydraul. Div. ASCE 101 (from memory); measured in pipes of 0.24
    m, so carried down in size here. Raises ``InputError``.
    """
    d, a = positive("bore", bore), between("slope_angle", slope_angle, 0.0, math.pi / 2.0)
    return math.sqrt(STANDARD_GRAVITY * d) * (0.25 * math.sqrt(math.sin(a)) + 0.825)


def jump_sweeping_flow(*, bore: float, slope_angle: float) -> float:
    """Return the flow at which a hydraulic jump filling a falling pipe carries its air away, m3/s.

    Q^2 / (g D^5) = 0.707 tan a; ``bore`` m, ``slope_angle`` a in radians below level, 0 to below pi/2.
    Kalinske & Bliss 1943, Civil Engineering 13(10) 480 (from memory). Raises ``InputError``.
    """
    d, a = positive("bore", bore), between("slope_angle", slope_angle, 0.0, math.radians(89.9))
    return math.sqrt(0.707 * math.tan(a) * STANDARD_GRAVITY * d**5)
