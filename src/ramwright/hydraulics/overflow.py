"""What an overflow or a washout passes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from ramwright.hydraulics._checks import not_negative, positive
from ramwright.hydraulics.open_pipe import crest_flow
from ramwright.hydraulics.water import STANDARD_GRAVITY


class OverflowKind(StrEnum):
    """A notch cut in the rim, an upright pipe with its mouth at the level, or a pipe through the side."""

    NOTCH = "notch"
    STANDPIPE = "standpipe"
    SIDE_PIPE = "side_pipe"


@dataclass(frozen=True, slots=True)
class Overflow:
    """An overflow: ``kind``.

    ``width`` m (notch width, or bore); ``discharge_coefficient`` of weir and orifice (0 to 1).

    Its level is the lip: the sill of the notch, the mouth of the upright pipe, the invert of the side pipe.
    """

    kind: OverflowKind
    width: float
    discharge_coefficient: float

    def __post_init__(self) -> None:
        positive("overflow.width", self.width)
        positive("overflow.discharge_coefficient", self.discharge_coefficient)

    def flow(self, head: float) -> float:
        """Return the flow (m3/s) with ``head`` (m) of water over the lip, the far side free.

        Notch: (2/3) C b sqrt(2g) h^1.5. Upright pipe: the same over its rim, b = pi D, until its mouth
        drowns and it passes C A sqrt(2 g h). Side pipe: critical over its invert, until it drowns and
        passes C A sqrt(2 g (h - D/2)). Textbook. Raises ``InputError``.
        """
        h = not_negative("head", head)
        root = self.discharge_coefficient * math.sqrt(2.0 * STANDARD_GRAVITY)
        if self.kind is OverflowKind.NOTCH:
            return 2.0 / 3.0 * root * self.width * h * math.sqrt(h)
        area = math.pi / 4.0 * self.width**2
        if self.kind is OverflowKind.STANDPIPE:
            return min(2.0 / 3.0 * root * math.pi * self.width * h * math.sqrt(h), root * area * math.sqrt(h))
        free = crest_flow(h, bore=self.width).flow
        if h <= self.width:
            return free
        drowned = root * area * math.sqrt(h - self.width / 2.0)
        return max(crest_flow(self.width, bore=self.width).flow, min(free, drowned))

    def head(self, flow: float) -> float:
        """Return the head (m) over the lip at which ``flow`` (m3/s) leaves. Raises ``InputError``."""
        q = not_negative("flow", flow)
        if q == 0.0:
            return 0.0
        from scipy.optimize import brentq

        high = self.width
        while self.flow(high) < q:
            high *= 2.0
        return float(brentq(lambda h: self.flow(h) - q, 0.0, high, xtol=1e-9))


def emptying_time(
    *,
    plan_area: float,
    bore: float,
    discharge_coefficient: float,
    start_depth: float,
    end_depth: float,
    inflow: float = 0.0,
) -> float:
    """Return how long a washout takes to draw a straight-sided tank down, s.

    Infinite when inflow holds it up.

    t = (2 A/k) ((s1 - s2) + (Qin/k) ln((k s1 - Qin)/(k s2 - Qin))), s = sqrt(depth over the washout), k = C
    a sqrt(2g). ``plan_area`` m2, ``bore`` m, ``start_depth`` >= ``end_depth`` m, ``inflow`` m3/s.
    Integrated orifice law. Raises ``InputError``.
    """
    area, root = positive("plan_area", plan_area), math.sqrt(2.0 * STANDARD_GRAVITY)
    k = (
        positive("discharge_coefficient", discharge_coefficient)
        * math.pi
        / 4.0
        * positive("bore", bore) ** 2
        * root
    )
    s1 = math.sqrt(not_negative("start_depth", start_depth))
    s2 = math.sqrt(not_negative("end_depth", end_depth))
    incoming = not_negative("inflow", inflow)
    if s1 <= s2:
        return 0.0
    if incoming == 0.0:
        return 2.0 * area / k * (s1 - s2)
    if k * s2 <= incoming:
        return math.inf
    return 2.0 * area / k * ((s1 - s2) + incoming / k * math.log((k * s1 - incoming) / (k * s2 - incoming)))
