"""How deep an outlet must lie for no air-drawing vortex to form above it."""

from __future__ import annotations

import math

from ramwright.hydraulics._checks import not_negative, positive


def vortex_cover(*, velocity: float, bore: float, coefficient: float, least_cover: float = 0.0) -> float:
    """Return the water needed over the crown of an outlet, m: C V sqrt(D), but not less than ``least_cover``.

    ``velocity`` in the pipe m/s, ``bore`` m, ``coefficient`` C s/m^0.5 (0.54 straight, 0.72 skewed
    approach), ``least_cover`` m. Gordon 1970, Water Power 22 (from memory); drawn from large intakes, so on
    the safe side of none here. Raises ``InputError``.
    """
    v, d = not_negative("velocity", abs(velocity)), positive("bore", bore)
    return max(
        not_negative("least_cover", least_cover), positive("coefficient", coefficient) * v * math.sqrt(d)
    )
