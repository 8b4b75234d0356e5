"""From an installation to what the engine is given: the other half of the only way there."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from ramwright.appraise.installation import Installation
from ramwright.appraise.stretches import Stretch
from ramwright.hydraulics.friction import TwoTermFriction, fit_two_term
from ramwright.hydraulics.water import Water
from ramwright.hydraulics.wave_speed import PipeWall, Restraint, wave_speed
from ramwright.ram import (
    AirVessel,
    DeliveryLine,
    DeliveryValve,
    DriveTank,
    RamSystem,
    Segment,
)
from ramwright.ram import Water as EngineWater

_G = 9.80665
_SLOWEST = 0.05
_CREEPING = 0.05
_LEAST_MARGIN = 1.02
#: A drawn fall may come out below the tailwater; the engine wants a little fall left.
_MOST_DROWNED = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """One possible truth: facts and valve, SI."""

    fall: float
    lift: float
    source_flow: float
    stroke: float
    weight: float
    force_factor: float
    port_loss: float
    curtain_loss: float
    delivery_lag: float


def middle(installation: Installation) -> Draw:
    """Every uncertain value at its middle."""
    v = installation.valve
    return Draw(
        fall=installation.fall.value,
        lift=installation.lift.value,
        source_flow=installation.source_flow.value,
        stroke=v.stroke.value,
        weight=v.weight.value,
        force_factor=v.force_factor.value,
        port_loss=v.port_loss.value,
        curtain_loss=v.curtain_loss.value,
        delivery_lag=installation.delivery_lag.value,
    )


@lru_cache(maxsize=1024)
def _friction(bore: float, roughness: float, viscosity: float, fastest: float) -> TwoTermFriction:
    return fit_two_term(
        bore=bore,
        roughness=roughness,
        kinematic_viscosity=viscosity,
        lowest_velocity=_SLOWEST * fastest,
        highest_velocity=fastest,
    )


def _fastest(stretch: Stretch, head: float, length: float) -> float:
    """A velocity (m/s) hardly exceeded: all the head on the line's friction and two velocity heads."""
    return math.sqrt(2.0 * _G * head / (2.0 + 0.02 * length / stretch.bore))


def _segment(
    stretch: Stretch, water: Water, head: float, length: float, pocket: tuple[float, float]
) -> Segment:
    wall = PipeWall(bore=stretch.bore, wall=stretch.wall, modulus=stretch.modulus, poisson=stretch.poisson)
    speed = wave_speed(wall, water, restraint=Restraint.ANCHORED_THROUGHOUT, air_fraction=stretch.free_air)
    # Share of the pipe's give that is the wall's: the rest is the water's own.
    share = 1.0 - water.density * speed.speed**2 / water.bulk_modulus if stretch.free_air == 0.0 else 0.9
    law = _friction(
        stretch.bore, stretch.roughness, water.kinematic_viscosity, _fastest(stretch, head, length)
    )
    return Segment(
        length_m=stretch.length,
        bore_m=stretch.bore,
        wave_speed=speed.speed,
        c1=law.linear,
        c2=law.quadratic,
        loss=stretch.loss,
        creep=max(share, 0.0) * stretch.creep_share,
        creep_time=stretch.creep_time,
        unsteady=water.kinematic_viscosity,
        pocket_m3=pocket[0],
        pocket_level_m=pocket[1],
    )


@dataclass(frozen=True, slots=True)
class Builder:
    """Makes a ``RamSystem`` of each draw of one installation; what draws share is made once."""

    installation: Installation
    segments: tuple[Segment, ...]
    inertia: float
    r1: float
    r2: float

    def system(self, draw: Draw) -> RamSystem:
        """The engine's system for one draw."""
        i = self.installation
        return RamSystem(
            fall_m=draw.fall,
            drive_pipe=self.segments,
            waste_valve=i.valve.engine(
                stroke=draw.stroke,
                weight=draw.weight,
                force_factor=draw.force_factor,
                port_loss=draw.port_loss,
                curtain_loss=draw.curtain_loss,
            ),
            delivery_valve=DeliveryValve(
                bore_m=i.delivery_bore,
                loss=i.delivery_loss,
                lag_s=draw.delivery_lag,
                leak_area_m2=i.delivery_leak_area,
            ),
            air_vessel=AirVessel(air_m3=i.air_m3, exponent=i.gas_exponent),
            delivery_line=DeliveryLine(
                lift_m=max(draw.lift, _LEAST_MARGIN * draw.fall),
                inertia=self.inertia,
                r1=self.r1,
                r2=self.r2,
                rams=i.rams,
            ),
            drive_tank=DriveTank(
                entrance_loss=i.entrance_loss,
                area_m2=i.tank_area,
                source_flow=i.reaching(draw.source_flow) / i.rams,
                cover_m=i.cover,
            ),
            mount=i.mount,
            snifter=i.snifter,
            tailwater_m=min(i.tailwater, _MOST_DROWNED * draw.fall),
            water=EngineWater(
                density=i.water.density,
                atmosphere_m=i.water.atmospheric_pressure / (i.water.density * _G),
                vapour_m=i.water.vapour_pressure / (i.water.density * _G),
            ),
        )


def builder(installation: Installation) -> Builder:
    """Work out what all draws of an installation share: pipe walls, friction, the delivery line."""
    i = installation
    segments = [
        _segment(s, i.water, i.fall.value, i.drive_length, pocket)
        for s, pocket in zip(i.drive_pipe, i.pockets, strict=True)
    ]
    # The body's bend and tee belong to the last stretch before the valves.
    segments[-1] = replace(segments[-1], loss=segments[-1].loss + i.body_loss)
    inertia = r1 = r2 = 0.0
    length = math.fsum(s.length for s in i.delivery_line)
    # No ram lifts more than the energy of what reaches it allows: friction is fitted up to that flow.
    ideal = i.reaching_flow * i.fall.value / i.lift.value
    for s in i.delivery_line:
        area = math.pi * s.bore**2 / 4.0
        fastest = min(_fastest(s, i.lift.value, length), max(ideal / area, _CREEPING))
        law = _friction(s.bore, s.roughness, i.water.kinematic_viscosity, fastest)
        inertia += s.length / (_G * area)
        r1 += law.linear * s.length / area
        r2 += (law.quadratic * s.length + s.loss / (2.0 * _G)) / area**2
    last = math.pi * i.delivery_line[-1].bore ** 2 / 4.0
    r2 += 1.0 / (2.0 * _G * last**2)
    return Builder(i, tuple(segments), inertia, r1, r2)


def with_setting(
    installation: Installation, *, weight: float | None = None, stroke: float | None = None
) -> Installation:
    """The installation with its waste valve set to a weight (N) or a stroke (m), spreads in proportion."""
    v = installation.valve
    if weight is not None:
        share = weight / v.weight.value
        v = replace(
            v,
            weight=replace(v.weight, value=weight, sd=v.weight.sd * share),
            mass=replace(v.mass, value=v.mass.value * share),
        )
    if stroke is not None:
        v = replace(v, stroke=replace(v.stroke, value=stroke, sd=v.stroke.sd * stroke / v.stroke.value))
    return replace(installation, valve=v)
