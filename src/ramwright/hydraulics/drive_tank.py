"""The vessel between supply line and drive pipe.

Does it hold its level, keep its outlet covered, shed air and silt.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.hydraulics._checks import between, not_negative, positive
from ramwright.hydraulics._constants import SECONDS_PER_DAY
from ramwright.hydraulics.limits import Held, Side, ruling
from ramwright.hydraulics.overflow import Overflow
from ramwright.hydraulics.settling import (
    bubble_rise_velocity,
    plan_area_needed,
    settled_grain,
    settling_velocity,
)
from ramwright.hydraulics.vortex import vortex_cover
from ramwright.hydraulics.water import Water


@dataclass(frozen=True, slots=True)
class DriveTank:
    """A drive tank of straight sides.

    ``plan_area`` m2; ``outlet_bore`` m of the drive pipe; ``outlet_cover`` m from the crown of the outlet
    up to the overflow lip; ``freeboard`` m from the lip up to the rim; ``overflow``; ``sump_volume`` m3
    below the outlet, where silt may lie.
    """

    plan_area: float
    outlet_bore: float
    outlet_cover: float
    freeboard: float
    overflow: Overflow
    sump_volume: float = 0.0

    def __post_init__(self) -> None:
        positive("plan_area", self.plan_area)
        positive("outlet_bore", self.outlet_bore)
        not_negative("outlet_cover", self.outlet_cover)
        not_negative("freeboard", self.freeboard)
        not_negative("sump_volume", self.sump_volume)


@dataclass(frozen=True, slots=True)
class TankDuty:
    """What the tank must do: ``supply_flow`` and mean ``drive_flow`` m3/s.

    ``beat_volume`` m3 drawn in each beat within ``draw_time`` s; ``peak_velocity`` m/s in the drive pipe
    when the waste valve closes.
    """

    supply_flow: float
    drive_flow: float
    beat_volume: float
    draw_time: float
    peak_velocity: float

    def __post_init__(self) -> None:
        not_negative("supply_flow", self.supply_flow)
        positive("drive_flow", self.drive_flow)
        not_negative("beat_volume", self.beat_volume)
        not_negative("draw_time", self.draw_time)
        not_negative("peak_velocity", self.peak_velocity)


@dataclass(frozen=True, slots=True)
class TankRules:
    """Numbers of the trade the tank is held against, from the catalogue.

    ``vortex_coefficient`` s/m^0.5 and ``least_cover`` m over the outlet; ``turbulence_allowance`` on plan
    area; ``grain`` m to be kept back; ``bubble`` m of the smallest bubble to be let out; ``hold_time`` s of
    drive flow held over the outlet; ``drawdown`` m allowed in a beat.
    """

    vortex_coefficient: float
    least_cover: float
    turbulence_allowance: float
    grain: float
    bubble: float
    hold_time: float
    drawdown: float


@dataclass(frozen=True, slots=True)
class DriveTankResult:
    """How a drive tank does its duty.

    ``drawdown`` m within a beat; ``lowest_cover`` m over the outlet then; ``surface_load`` m/s;
    ``settled_grain`` m the smallest that still settles, turbulence allowed for; ``overflow_head`` m when
    the ram stands still; ``minutes_to_empty`` until the outlet's crown shows, None while the supply keeps
    up; ``checks`` all that was held; ``rules`` the one that rules.
    """

    drawdown: float
    lowest_cover: float
    surface_load: float
    settled_grain: float
    overflow_head: float
    minutes_to_empty: float | None
    checks: tuple[Held, ...]
    rules: Held


def drawdown_in_beat(*, beat_volume: float, draw_time: float, supply_flow: float, plan_area: float) -> float:
    """Return how far the level sinks while a beat draws its water, m.

    (volume - supply x time) / area, not below 0.

    ``beat_volume`` m3 in ``draw_time`` s, ``supply_flow`` m3/s, ``plan_area`` m2. Continuity; the supply
    line is taken as steady, for it cannot follow a beat. Raises ``InputError``.
    """
    supplied = not_negative("supply_flow", supply_flow) * not_negative("draw_time", draw_time)
    drawn = not_negative("beat_volume", beat_volume) - supplied
    return max(0.0, drawn) / positive("plan_area", plan_area)


def check_drive_tank(tank: DriveTank, duty: TankDuty, water: Water, *, rules: TankRules) -> DriveTankResult:
    """Return how ``tank`` does its ``duty`` held against ``rules``.

    Relations in the functions named. Raises ``InputError``.

    Flow through the tank is taken as the mean drive flow: what spills does not pass the outlet.
    """
    drawdown = drawdown_in_beat(
        beat_volume=duty.beat_volume,
        draw_time=duty.draw_time,
        supply_flow=duty.supply_flow,
        plan_area=tank.plan_area,
    )
    cover = tank.outlet_cover - drawdown
    load = duty.drive_flow / tank.plan_area
    nu = water.kinematic_viscosity
    grain = settled_grain(load * rules.turbulence_allowance, kinematic_viscosity=nu)
    overflow_head = tank.overflow.head(duty.supply_flow)
    checks = (
        Held("cover", cover, _cover_needed(tank, duty, rules), Side.AT_LEAST),
        Held("drawdown", drawdown, rules.drawdown, Side.AT_MOST),
        Held("supply", duty.supply_flow, duty.drive_flow, Side.AT_LEAST),
        Held("overflow", overflow_head, tank.freeboard, Side.AT_MOST),
        Held("bubble_area", tank.plan_area, _bubble_area(duty, rules, nu), Side.AT_LEAST),
        Held("grain_area", tank.plan_area, _grain_area(duty, rules, nu), Side.AT_LEAST),
        Held(
            "hold_time", tank.plan_area * tank.outlet_cover / duty.drive_flow, rules.hold_time, Side.AT_LEAST
        ),
    )
    short = duty.drive_flow - duty.supply_flow
    return DriveTankResult(
        drawdown=drawdown,
        lowest_cover=cover,
        surface_load=load,
        settled_grain=grain,
        overflow_head=overflow_head,
        minutes_to_empty=tank.plan_area * tank.outlet_cover / short / 60.0 if short > 0.0 else None,
        checks=checks,
        rules=ruling(checks),
    )


def _cover_needed(tank: DriveTank, duty: TankDuty, rules: TankRules) -> float:
    return vortex_cover(
        velocity=duty.peak_velocity,
        bore=tank.outlet_bore,
        coefficient=rules.vortex_coefficient,
        least_cover=rules.least_cover,
    )


def _bubble_area(duty: TankDuty, rules: TankRules, nu: float) -> float:
    rise = bubble_rise_velocity(rules.bubble, kinematic_viscosity=nu)
    return plan_area_needed(duty.drive_flow, velocity=rise, allowance=rules.turbulence_allowance)


def _grain_area(duty: TankDuty, rules: TankRules, nu: float) -> float:
    sink = settling_velocity(rules.grain, kinematic_viscosity=nu)
    return plan_area_needed(duty.drive_flow, velocity=sink, allowance=rules.turbulence_allowance)


def days_to_fill(
    *, sump_volume: float, flow: float, silt: float, trapped_share: float, bulk_density: float
) -> float:
    """Return the days until silt fills the sump: volume x density / (flow x silt x share).

    Infinite in clear water.

    ``sump_volume`` m3, ``flow`` m3/s, ``silt`` carried kg/m3, ``trapped_share`` 0 to 1 of it that settles,
    ``bulk_density`` of the deposit kg/m3 dry. Continuity. Raises ``InputError``.
    """
    caught = (
        not_negative("flow", flow)
        * not_negative("silt", silt)
        * between("trapped_share", trapped_share, 0.0, 1.0)
    )
    room = not_negative("sump_volume", sump_volume) * positive("bulk_density", bulk_density)
    return room / caught / SECONDS_PER_DAY if caught > 0.0 else math.inf
