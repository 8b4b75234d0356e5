"""The four flows, kept apart: in the creek, in the supply line, through the ram, and delivered.

They are different types so that one cannot be handed over for another.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.quantities import Estimate
from ramwright.survey._checks import not_negative
from ramwright.survey.findings import Finding, found


@dataclass(frozen=True, slots=True)
class CreekFlow:
    """Flow in the creek at the intake, before anything is taken, m3/s."""

    estimate: Estimate


@dataclass(frozen=True, slots=True)
class SupplyFlow:
    """What the supply line brings to the drive tank, m3/s."""

    estimate: Estimate


@dataclass(frozen=True, slots=True)
class DriveFlow:
    """What the ram drinks (waste and delivery), m3/s."""

    estimate: Estimate


@dataclass(frozen=True, slots=True)
class DeliveryFlow:
    """What is delivered, m3/s: the only water that leaves the stream."""

    estimate: Estimate


@dataclass(frozen=True, slots=True)
class ResidualFlow:
    """What is left in a reach of the creek, m3/s; ``reach`` names it."""

    reach: str
    estimate: Estimate


@dataclass(frozen=True, slots=True)
class FlowBalance:
    """Flows that follow from the four (m3/s).

    ``intake_to_tank``: left in the creek between intake and drive tank, creek less supply. ``tank_to_ram``:
    between the drive tank, where the overflow goes back, and the ram, creek less drive flow. ``below_ram``:
    creek less delivery. ``overflow`` supply less drive flow; ``waste`` drive flow less delivery.
    """

    intake_to_tank: ResidualFlow
    tank_to_ram: ResidualFlow
    below_ram: ResidualFlow
    overflow: Estimate
    waste: Estimate
    findings: tuple[Finding, ...]


def _less(one: Estimate, other: Estimate, origin: str) -> Estimate:
    return Estimate(one.value - other.value, math.hypot(one.sd, other.sd), origin)


def flow_balance(
    creek: CreekFlow,
    supply: SupplyFlow,
    drive: DriveFlow,
    delivery: DeliveryFlow,
    *,
    required_residual: float,
    sure_by: float,
) -> FlowBalance:
    """What is left where, by conservation of water; spreads of independent flows add in squares.

    ``required_residual`` m3/s must stay in the creek from intake to ram: the reach that pays is the one
    between intake and drive tank, where the whole supply is missing. Findings where a flow is larger than
    the one it comes from (``excess`` above nought), where the residual flow falls short, and where it does
    not clear the requirement by ``sure_by`` of its spreads. Raises ``InputError``.
    """
    not_negative("required_residual", required_residual)
    not_negative("sure_by", sure_by)
    residual = _less(creek.estimate, supply.estimate, "creek less supply")
    overflow = _less(supply.estimate, drive.estimate, "supply less drive flow")
    waste = _less(drive.estimate, delivery.estimate, "drive flow less delivery")
    findings: list[Finding] = []
    for code, left in (
        ("supply_exceeds_creek", residual),
        ("drive_exceeds_supply", overflow),
        ("delivery_exceeds_drive", waste),
    ):
        if left.value < 0.0:
            findings.append(found(code, "flows", excess_m3_s=-left.value, sd_m3_s=left.sd))
    if residual.value < required_residual:
        findings.append(
            found(
                "residual_short",
                "intake to drive tank",
                residual_m3_s=residual.value,
                required_m3_s=required_residual,
                short_m3_s=required_residual - residual.value,
            )
        )
    elif residual.value - sure_by * residual.sd < required_residual:
        findings.append(
            found(
                "residual_unsure",
                "intake to drive tank",
                residual_m3_s=residual.value,
                required_m3_s=required_residual,
                sd_m3_s=residual.sd,
            )
        )
    return FlowBalance(
        ResidualFlow("intake to drive tank", residual),
        ResidualFlow("drive tank to ram", _less(creek.estimate, drive.estimate, "creek less drive flow")),
        ResidualFlow("below the ram", _less(creek.estimate, delivery.estimate, "creek less delivery")),
        overflow,
        waste,
        tuple(findings),
    )
