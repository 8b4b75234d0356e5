"""A site's installation as numbers with spreads: what the sheet says, and what had to be taken.

This is half of the only way from a site to the engine; ``appraise.system`` is the other half.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.appraise.assume import Assumption, Ledger, in_kelvin, nearest_shop_ram, taken
from ramwright.appraise.facts import FactsFound, facts_of, needed_facts
from ramwright.appraise.laid import along
from ramwright.appraise.ram_parts import delivery_check, mounting, snifter, tailwater
from ramwright.appraise.stretches import Stretch, stretches
from ramwright.appraise.supply import SupplyLine, brought, supply_line
from ramwright.appraise.valve import ValveNumbers, valve_numbers
from ramwright.catalogue import ShopRam, fitting_loss, valve_coefficient
from ramwright.errors import InputError
from ramwright.hydraulics.water import Water, water_at
from ramwright.quantities import Estimate
from ramwright.ram import Mount, Snifter
from ramwright.site import Site, facts_complete

_KELVIN = 273.15
_G = 9.80665
_ENTRANCES = {
    "square-edged": "entrance-square",
    "bell-mouthed": "entrance-bell",
    "projecting": "entrance-projecting",
    "strainer": "strainer",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Installation:
    """Everything the engine and the verdicts need, SI; heads in metres of water.

    Flows stay apart: ``source_flow`` is what the creek gives, ``residual_flow`` what must stay in it,
    ``usable_flow`` the difference, ``reaching_flow`` what of that the supply line brings; what the ram
    drinks and delivers is predicted. ``rams`` are alike, each with a drive pipe of its own. ``air_m3`` is
    the air in the air vessel at working pressure; ``pockets`` air in the drive pipe (m3) and where (m).
    """

    fall: Estimate
    lift: Estimate
    source_flow: Estimate
    residual_flow: float
    demand: float | None
    water: Water
    supply_pipe: tuple[Stretch, ...]
    supply: SupplyLine | None
    drive_pipe: tuple[Stretch, ...]
    delivery_line: tuple[Stretch, ...]
    entrance_loss: float
    tank_area: float
    cover: float
    valve: ValveNumbers
    delivery_bore: float
    delivery_loss: float
    delivery_lag: Estimate
    delivery_leak_area: float
    snifter: Snifter | None
    air_m3: float
    vessel_volume: float
    gas_exponent: float
    body_loss: float
    model: Estimate
    mount: Mount | None
    rams: int
    tailwater: float
    pockets: tuple[tuple[float, float], ...]
    ram_size: str
    assumptions: tuple[Assumption, ...]
    found: FactsFound

    @property
    def usable_flow(self) -> float:
        """Flow that may be taken from the creek, m3/s."""
        return max(self.source_flow.value - self.residual_flow, 0.0)

    @property
    def reaching_flow(self) -> float:
        """What of it reaches the drive tank, m3/s."""
        return self.reaching(self.source_flow.value)

    def reaching(self, source_flow: float) -> float:
        """What reaches the drive tank of a source flow (m3/s): the rest stays in the creek or spills."""
        return min(max(source_flow - self.residual_flow, 0.0), brought(self.supply))

    @property
    def drive_length(self) -> float:
        """Length of the drive pipe, m."""
        return math.fsum(s.length for s in self.drive_pipe)


def _water(site: Site, ledger: Ledger) -> Water:
    place = site.site
    if place.water_temperature is not None:
        kelvin = place.water_temperature.value
    else:
        kelvin = ledger.take(
            "site.water_temperature", in_kelvin(taken("water_temperature")), "temperature"
        ).value
    # Degrees Fahrenheit do not come out even: 104 F must not be hotter than 40 C.
    celsius = round(kelvin - _KELVIN, 6)
    altitude = ledger.reading(place.altitude, "site.altitude", taken("altitude"), "length")
    return water_at(celsius, altitude_m=altitude)


def _drive_tank(site: Site, ledger: Ledger) -> tuple[float, float, float]:
    """(entrance loss, plan area m2, cover m) of the drive tank."""
    tank = site.drive_tank
    entrance = tank.entrance if tank is not None else None
    if entrance is None:
        loss = ledger.take("drive_tank.entrance", fitting_loss("entrance-square"), "number").value
    else:
        loss = fitting_loss(_ENTRANCES[entrance]).likely
        if entrance == "strainer":
            loss += fitting_loss("entrance-square").likely
    if tank is not None and tank.plan_area is not None:
        area = tank.plan_area.value
    elif tank is not None and tank.diameter is not None:
        area = math.pi * tank.diameter.value**2 / 4.0
    elif tank is not None and tank.volume is not None and tank.height is not None:
        area = tank.volume.value / tank.height.value
    elif tank is not None and tank.kind == "none":
        area = math.inf
    else:
        kind = tank.kind if tank is not None and tank.kind is not None else "drum"
        area = ledger.take("drive_tank.plan_area", taken(f"area_{kind}"), "area").value
    depth = tank.cover if tank is not None else None
    if depth is None and tank is not None and tank.overflow is not None:
        depth = tank.overflow.height
    cover = ledger.reading(depth, "drive_tank.cover", taken("cover"), "length")
    return loss, area, cover


def _air_vessel(site: Site, ledger: Ledger, ram: ShopRam, water: Water, lift: float) -> tuple[float, float]:
    """(air at working pressure m3, volume of the air vessel m3)."""
    vessel = site.air_vessel
    if vessel is not None and vessel.volume is not None:
        volume = vessel.volume.value
    elif vessel is not None and vessel.diameter is not None and vessel.height is not None:
        volume = math.pi * vessel.diameter.value**2 / 4.0 * vessel.height.value
    else:
        volume = ledger.take("air_vessel.volume", ram.air_vessel_m3, "volume").value
    weight = water.density * _G
    atmosphere = water.atmospheric_pressure / weight
    absolute = atmosphere + lift
    if vessel is not None and vessel.kind == "bladder":
        usual = taken("precharge_share").scaled(lift * weight, "pa")
        precharge = ledger.reading(vessel.precharge, "air_vessel.precharge", usual, "pressure")
        return volume * min((atmosphere + precharge / weight) / absolute, 1.0), volume
    snifter = site.ram.snifter if site.ram else None
    if snifter is not None and snifter.fitted is False:
        # The air it was filled with, squeezed; what dissolves later is another question.
        return volume * atmosphere / absolute, volume
    share = ledger.take("air_vessel.air_share", taken("air_share_with_snifter"), "fraction").value
    return volume * share, volume


def _pockets(
    pieces: tuple[Stretch, ...], site: Site, fall: float, cover: float
) -> tuple[tuple[float, float], ...]:
    """(air caught at the lower end of each piece at rest m3, its level above the seat m), piece by piece."""
    if not any(p.air_pocket > 0.0 for p in pieces):
        return ((0.0, 0.0),) * len(pieces)
    if pieces[-1].air_pocket > 0.0:
        # There the air vessel and the body begin: air is no pocket of the pipe any more.
        raise InputError("pocket_at_the_ram", field=f"{pieces[-1].field}.air_pocket")
    laid = along(site, "drive_pipe", pieces, start=fall - cover, end=0.0)
    return tuple(
        (p.air_pocket, laid.profile.level_at(end)) for p, end in zip(pieces, laid.joints[1:], strict=True)
    )


def install(site: Site) -> Installation:
    """Put an installation together from a site's sheet.

    Raises ``InputError`` naming what is missing that cannot be taken: facts, drive pipe, delivery line,
    or a pipe the catalogue does not know.
    """
    facts_complete(site)
    found = facts_of(site)
    fall, lift, source = needed_facts(found)
    residual = site.facts.residual_flow if site.facts is not None else None
    demand = site.facts.demand_per_day if site.facts is not None else None
    for name, pieces in (("drive_pipe", site.drive_pipe), ("delivery_line", site.delivery_line)):
        if not pieces:
            raise InputError("line_missing", field=name)
    ledger = Ledger()
    water = _water(site, ledger)
    supply_pipe = stretches(site.supply_line, "supply_line", ledger)
    drive = stretches(site.drive_pipe, "drive_pipe", ledger)
    delivery = stretches(site.delivery_line, "delivery_line", ledger)
    ram = site.ram
    nominal = ram.size.value if ram is not None and ram.size is not None else drive[-1].bore
    shop = nearest_shop_ram(nominal)
    loss, area, cover = _drive_tank(site, ledger)
    air, volume = _air_vessel(site, ledger, shop, water, lift.value)
    drowned, where = tailwater(site)
    if drowned >= fall.value:
        raise InputError("fall_drowned", field=where, value=drowned)
    check = delivery_check(ram, shop, ledger)
    return Installation(
        fall=fall,
        lift=lift,
        source_flow=source,
        residual_flow=residual.value if residual is not None else 0.0,
        demand=demand.value if demand is not None else None,
        water=water,
        supply_pipe=supply_pipe,
        supply=supply_line(site, supply_pipe, fall.value, water, ledger),
        drive_pipe=drive,
        delivery_line=delivery,
        entrance_loss=loss,
        tank_area=area,
        cover=cover,
        valve=valve_numbers(ram.waste_valve if ram is not None else None, shop, water, ledger),
        delivery_bore=check.bore,
        delivery_loss=check.loss,
        delivery_lag=check.lag,
        delivery_leak_area=check.leak_area,
        snifter=snifter(ram, shop, ledger),
        air_m3=air,
        vessel_volume=volume,
        gas_exponent=valve_coefficient("gas-exponent").likely,
        body_loss=valve_coefficient("body-loss").likely,
        model=Estimate(1.0, taken("model_spread").likely, "judgement"),
        mount=mounting(site, shop, ledger),
        rams=ram.count if ram is not None and ram.count is not None else 1,
        tailwater=drowned,
        pockets=_pockets(drive, site, fall.value, cover),
        ram_size=shop.size,
        assumptions=tuple(ledger.entries),
        found=found,
    )
