"""What the engine is given: one ram with its lines, in SI units, heads above the waste-valve seat."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from ramwright.errors import InputError


def _check(owner: str, **numbers: float) -> None:
    """Every number finite and above zero, or an error naming the field."""
    for name, value in numbers.items():
        if not math.isfinite(value):
            raise InputError("not_finite", field=f"{owner}.{name}", value=value)
        if value <= 0.0:
            raise InputError("not_positive", field=f"{owner}.{name}", value=value)


def _check_not_negative(owner: str, **numbers: float) -> None:
    for name, value in numbers.items():
        if not math.isfinite(value):
            raise InputError("not_finite", field=f"{owner}.{name}", value=value)
        if value < 0.0:
            raise InputError("is_negative", field=f"{owner}.{name}", value=value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A stretch of drive pipe of one bore, wall and material, counted from the drive tank down.

    ``length_m`` and ``bore_m`` in metres; ``wave_speed`` in m/s (see ``hydraulics.wave_speed``);
    friction loss per metre is ``c1 v + c2 v |v|`` with v in m/s (see ``hydraulics.friction``);
    ``loss`` is the sum of fitting loss coefficients K, spread over the stretch. ``creep`` is the late
    swelling of a plastic wall, one Kelvin-Voigt element: its final volume over the prompt one of wall
    and water together, reached with ``creep_time`` in s. ``unsteady`` is the kinematic viscosity of the
    water (m2/s) if the friction of changing flow counts, else 0. ``pocket_m3`` is air caught at the lower
    end of the stretch, at the fall's pressure there, ``pocket_level_m`` its height above the seat.
    """

    length_m: float
    bore_m: float
    wave_speed: float
    c1: float = 0.0
    c2: float = 0.0
    loss: float = 0.0
    creep: float = 0.0
    creep_time: float = 0.05
    unsteady: float = 0.0
    pocket_m3: float = 0.0
    pocket_level_m: float = 0.0

    def __post_init__(self) -> None:
        _check("drive_pipe", length=self.length_m, bore=self.bore_m, wave_speed=self.wave_speed)
        _check_not_negative("drive_pipe", c1=self.c1, c2=self.c2, loss=self.loss)
        _check("drive_pipe", creep_time=self.creep_time)
        _check_not_negative("drive_pipe", creep=self.creep, viscosity=self.unsteady, pocket=self.pocket_m3)

    @property
    def area(self) -> float:
        """Bore area, m2."""
        return math.pi * self.bore_m**2 / 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WasteValve:
    """The waste valve, reduced to the motion of its disc along its travel.

    Loss of head from the ram body to the outside is ``K(x) v^2/2g`` with v the velocity in the port
    and ``K = port_loss + curtain_loss (port_diameter/x)^2`` (form after Idelchik for disc valves;
    from memory). The closing force is ``force_factor rho g dH A (1 + momentum/K)``: pressure on the
    port area plus the momentum of the jet turned through a right angle (momentum balance over the
    port). ``opening_force`` holds the coefficients (N, N/m, N/m2) of the force that pulls the valve
    open at opening x: submerged weight, springs, and for a flap the turning of its weight.
    ``mass_kg`` includes the water that moves with the disc.
    """

    port_diameter_m: float
    stroke_m: float
    mass_kg: float
    opening_force: tuple[float, float, float]
    kind: Literal["poppet", "swing"] = "poppet"
    port_loss: float = 0.6
    curtain_loss: float = 0.155
    force_factor: float = 1.0
    momentum: float = 1.0
    damping: float = 0.0
    leak_area_m2: float = 0.0

    def __post_init__(self) -> None:
        _check(
            "ram.waste_valve",
            port_diameter=self.port_diameter_m,
            stroke=self.stroke_m,
            moving_mass=self.mass_kg,
            port_loss=self.port_loss,
            curtain_loss=self.curtain_loss,
            force_factor=self.force_factor,
        )
        _check_not_negative(
            "ram.waste_valve", momentum=self.momentum, damping=self.damping, leak_area=self.leak_area_m2
        )
        if not all(math.isfinite(c) for c in self.opening_force):
            raise InputError("not_finite", field="ram.waste_valve.opening_force", value=self.opening_force)

    @property
    def port_area(self) -> float:
        """Port area, m2."""
        return math.pi * self.port_diameter_m**2 / 4.0

    def loss_at(self, opening_m: float) -> float:
        """Loss coefficient K on the port velocity at an opening (m) above zero."""
        return self.port_loss + self.curtain_loss * (self.port_diameter_m / opening_m) ** 2


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryValve:
    """The check valve between ram body and air vessel: loss coefficient on the velocity in its bore.

    After the flow has turned it falls shut within ``lag_s``, letting water back meanwhile; worn, it
    leaks back through ``leak_area_m2`` (an opening times its discharge coefficient) whenever it is shut.
    """

    bore_m: float
    loss: float = 2.5
    lag_s: float = 0.0
    leak_area_m2: float = 0.0

    def __post_init__(self) -> None:
        _check("ram.delivery_valve", bore=self.bore_m, loss=self.loss)
        _check_not_negative("ram.delivery_valve", lag=self.lag_s, leak_area=self.leak_area_m2)


@dataclass(frozen=True, slots=True, kw_only=True)
class Snifter:
    """The hole under the delivery valve: squirts at each beat, breathes air at each recoil.

    ``diameter_m`` of the hole and its discharge coefficient (sharp hole 0.61; Miller, from memory);
    ``air_density`` outside, kg/m3. Below the tailwater it draws water instead.
    """

    diameter_m: float
    discharge: float = 0.61
    air_density: float = 1.2

    def __post_init__(self) -> None:
        _check(
            "ram.snifter", diameter=self.diameter_m, discharge=self.discharge, air_density=self.air_density
        )

    @property
    def area(self) -> float:
        """Effective area of the hole, discharge coefficient included, m2."""
        return self.discharge * math.pi * self.diameter_m**2 / 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class AirVessel:
    """Air at working pressure (m3) and the polytropic exponent it is squeezed with."""

    air_m3: float
    exponent: float = 1.2

    def __post_init__(self) -> None:
        _check("air_vessel", volume=self.air_m3, exponent=self.exponent)


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryLine:
    """The delivery line as one rigid column.

    ``rams`` alike rams deliver into it, each with a drive pipe of its own and none in step with another.
    ``lift_m`` is the static lift from the waste-valve seat to the point the water must reach;
    ``inertia`` is the sum of length/(g area) in s2/m2; head lost is ``r1 Q + r2 Q |Q|`` with Q in m3/s.
    """

    lift_m: float
    inertia: float
    r1: float = 0.0
    r2: float = 0.0
    rams: int = 1

    def __post_init__(self) -> None:
        _check("delivery_line", rams=self.rams, lift=self.lift_m, inertia=self.inertia)
        _check_not_negative("delivery_line", r1=self.r1, r2=self.r2)

    def loss(self, flow: float) -> float:
        """Head lost (m) at a flow (m3/s)."""
        return self.r1 * flow + self.r2 * flow * abs(flow)


@dataclass(frozen=True, slots=True, kw_only=True)
class DriveTank:
    """The water the drive pipe starts from.

    ``entrance_loss`` is K on the velocity in the first stretch of pipe; ``area_m2`` the plan area
    (infinite: the level does not move); ``source_flow`` what reaches it, m3/s; ``cover_m`` how far
    its level may fall before the drive pipe draws air.
    """

    entrance_loss: float = 0.5
    area_m2: float = math.inf
    source_flow: float = math.inf
    cover_m: float = 0.0

    def __post_init__(self) -> None:
        _check_not_negative("drive_tank", entrance_loss=self.entrance_loss, cover=self.cover_m)
        if not self.area_m2 > 0.0:
            raise InputError("not_positive", field="drive_tank.area", value=self.area_m2)
        if not self.source_flow >= 0.0:
            raise InputError("is_negative", field="facts.source_flow", value=self.source_flow)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mount:
    """Ram body and the end of the drive pipe as a mass on a spring and a damper, along the pipe.

    Mass in kg, stiffness in N/m, damping as a fraction of critical. No mount: the pipe is held.
    """

    mass_kg: float
    stiffness: float
    damping_ratio: float = 0.1

    def __post_init__(self) -> None:
        _check("drive_pipe_support", moving_mass=self.mass_kg, stiffness=self.stiffness)
        _check_not_negative("drive_pipe_support", damping_ratio=self.damping_ratio)


@dataclass(frozen=True, slots=True, kw_only=True)
class Water:
    """Density kg/m3, atmospheric and vapour pressure as absolute heads in metres of this water."""

    density: float = 999.7
    atmosphere_m: float = 10.33
    vapour_m: float = 0.13

    def __post_init__(self) -> None:
        _check("water", density=self.density, atmosphere=self.atmosphere_m)
        _check_not_negative("water", vapour=self.vapour_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class RamSystem:
    """One ram with its lines: everything a run needs, and nothing of the site it stands on.

    ``fall_m`` is the drive-tank water level above the waste-valve seat; ``tailwater_m`` the water
    standing over the seat on the outside (0: the outlet is free); ``body_compliance_m2`` the volume
    (m3) the body takes up per metre of head.
    """

    fall_m: float
    drive_pipe: tuple[Segment, ...]
    waste_valve: WasteValve
    delivery_valve: DeliveryValve
    air_vessel: AirVessel
    delivery_line: DeliveryLine
    drive_tank: DriveTank = field(default_factory=DriveTank)
    mount: Mount | None = None
    snifter: Snifter | None = None
    water: Water = field(default_factory=Water)
    tailwater_m: float = 0.0
    body_compliance_m2: float = 0.0

    def __post_init__(self) -> None:
        _check("facts", fall=self.fall_m)
        _check_not_negative("ram", tailwater=self.tailwater_m, body_compliance=self.body_compliance_m2)
        if not self.drive_pipe:
            raise InputError("drive_pipe_missing", field="drive_pipe")
        if self.delivery_line.lift_m <= self.fall_m:
            raise InputError("lift_below_fall", field="facts.lift", value=self.delivery_line.lift_m)
        if self.tailwater_m >= self.fall_m:
            raise InputError("fall_drowned", field="ram.tailwater", value=self.tailwater_m)

    @property
    def length_m(self) -> float:
        """Length of the drive pipe, m."""
        return math.fsum(s.length_m for s in self.drive_pipe)
