"""The delivery line as laid: velocities, grade line, air shut in when filling, what it has to hold."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from ramwright.appraise.installation import Installation
from ramwright.appraise.laid import LaidLine, along
from ramwright.appraise.prediction import Prediction
from ramwright.appraise.strength import Pressures, pressures
from ramwright.hydraulics.air import Filling, fill
from ramwright.hydraulics.line import GradeLine, Line, cut_up, grade_line, total_head_drop
from ramwright.ram import RunResult, run_one
from ramwright.site import Site

#: A level (m) that fills any line: what it takes to fill it is then told by what is left over.
_BEYOND: Final = 1e4
_NOTHING: Final = 1e-6


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DeliveryLaid:
    """The delivery line at the likely delivery.

    ``flow`` m3/s of all rams; ``velocities`` m/s piece by piece; ``friction`` m of head lost; ``grade`` the
    grade line; ``top_off`` m by which the highest point of a surveyed way lies above (below: less than 0)
    the lift measured; ``filling`` what its humps do to the air, None where its way is not known;
    ``air_head`` m, what that costs on top of the lift while the line fills; ``against_air``: the ram run
    against both, None without pockets.
    """

    laid: LaidLine
    flow: float
    velocities: tuple[float, ...]
    friction: float
    grade: GradeLine | None
    top_off: float | None
    filling: Filling | None
    air_head: float
    against_air: RunResult | None
    pressures: Pressures | None


def delivery_line(site: Site, i: Installation, p: Prediction) -> DeliveryLaid:
    """Judge the delivery line of an installation at what was predicted. Raises as ``laid.along``."""
    laid = along(site, "delivery_line", i.delivery_line, start=0.0, end=i.lift.value, anchor=0.0)
    line = laid.hydraulic(entrance_loss=0.0)
    flow = p.delivery.likely
    friction, grade = 0.0, None
    if flow > 0.0:
        friction, grade = _grade(line, i, flow)
    top = float(np.max(laid.profile.levels))
    filling = None
    if laid.surveyed:
        filling = fill(line, i.water, source_level=_BEYOND, least_depth=laid.least_summit)
    return DeliveryLaid(
        laid=laid,
        flow=flow,
        velocities=tuple(flow / piece.area for piece in laid.pieces),
        friction=friction,
        grade=grade,
        top_off=top - i.lift.value if laid.surveyed and not laid.poor else None,
        filling=filling,
        air_head=_air_head(filling, top),
        against_air=_against(p, _air_head(filling, top)),
        pressures=_pressures(laid, i, p),
    )


def _grade(line: Line, i: Installation, flow: float) -> tuple[float, GradeLine]:
    """(head lost between ram and outlet m, grade line) at a flow (m3/s), ending at the highest point."""
    nodes = cut_up(line)
    lost, heads = total_head_drop(line, nodes, i.water, flow)
    whole = float(lost[-1]) + line.exit_loss * float(heads[-1])
    end = max(float(line.profile.levels[-1]), float(np.max(line.profile.levels)))
    return whole, grade_line(
        line, nodes, lost=lost, velocity_heads=heads, flow=flow, source_level=end + whole
    )


def _air_head(filling: Filling | None, top: float) -> float:
    """Head over the highest point (m) that filling the line takes at its worst moment."""
    if filling is None or not filling.pockets:
        return 0.0
    head = _BEYOND - filling.spare_head - top
    return head if head > _NOTHING else 0.0


def _against(p: Prediction, air_head: float) -> RunResult | None:
    """The ram at its middle with the heads of all air pockets on top of the lift."""
    if air_head <= 0.0:
        return None
    line = p.system.delivery_line
    return run_one(replace(p.system, delivery_line=replace(line, lift_m=line.lift_m + air_head)))


def _pressures(laid: LaidLine, i: Installation, p: Prediction) -> Pressures | None:
    if p.peak_head is None or p.shutoff_head is None:
        return None
    return pressures(
        laid,
        i.water,
        standing=i.lift.value,
        surge=p.peak_head.high - i.lift.value,
        drop=0.0,
        shut_off=p.shutoff_head.high,
    )
