"""The ram on the sheet besides its waste valve: delivery valve, snifter, and how it is held."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.appraise.assume import Ledger, spread_of
from ramwright.catalogue import Figure, ShopRam, mount, valve_coefficient
from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.ram import Mount, Snifter
from ramwright.site import Ram, Site


@dataclass(frozen=True, slots=True, kw_only=True)
class DeliveryCheck:
    """The delivery valve, SI: ``bore`` and ``loss`` of its passage, ``lag`` of its closing, leak area."""

    bore: float
    loss: float
    lag: Estimate
    leak_area: float


def delivery_check(ram: Ram | None, shop: ShopRam, ledger: Ledger) -> DeliveryCheck:
    """The delivery valve of the sheet, the rest from a shop-built ram of that size."""
    check = ram.delivery_valve if ram is not None else None
    name = "ram.delivery_valve"
    bore = ledger.reading(check.bore if check else None, f"{name}.bore", shop.delivery_port_m, "small_length")
    loss = ledger.reading(check.loss if check else None, f"{name}.loss", shop.delivery_valve_loss, "number")
    if check is not None and check.lag is not None:
        lag = spread_of(check.lag, "valve_spread")
    else:
        lag = ledger.take(f"{name}.lag", shop.delivery_valve_lag_s, "time")
    tight = valve_coefficient("closed-leak")
    leak = ledger.reading(check.leak if check else None, f"{name}.leak", tight, "fraction")
    return DeliveryCheck(bore=bore, loss=loss, lag=lag, leak_area=leak * math.pi * bore**2 / 4.0)


def snifter(ram: Ram | None, shop: ShopRam, ledger: Ledger) -> Snifter | None:
    """The snifter: there unless the sheet says it is not."""
    hole = ram.snifter if ram is not None else None
    if hole is not None and hole.fitted is False:
        return None
    typed = hole.diameter if hole is not None else None
    diameter = ledger.reading(typed, "ram.snifter.diameter", shop.snifter_hole_m, "small_length")
    return Snifter(diameter_m=diameter, discharge=valve_coefficient("snifter-discharge").likely)


def mounting(site: Site, shop: ShopRam, ledger: Ledger) -> Mount | None:
    """How ram and pipe end give way; None where they are held so that they cannot.

    The ram's ``mount`` names it in words; what the support section measures goes before the catalogue's
    figures. A ram that is not held and whose mount is not named lies bare on the ground.
    """
    support = site.drive_pipe_support
    words = site.ram.mount if site.ram is not None else None
    if words is None and (support is None or support.held):
        return None
    try:
        found = mount(words or "bare")
    except InputError as error:
        error.field = "ram.mount"
        raise
    body, added = shop.body_mass_kg, found.added_mass_kg
    both = Figure(
        body.low + added.low, body.likely + added.likely, body.high + added.high, "kg", added.provenance
    )
    mass, stiff, damp = (
        (support.moving_mass, support.stiffness, support.damping_ratio)
        if support is not None
        else (None, None, None)
    )
    name = "drive_pipe_support"
    return Mount(
        mass_kg=ledger.reading(mass, f"{name}.moving_mass", both, "mass"),
        stiffness=ledger.reading(stiff, f"{name}.stiffness", found.stiffness_n_m, "stiffness"),
        damping_ratio=ledger.reading(damp, f"{name}.damping_ratio", found.damping_ratio, "number"),
    )


def tailwater(site: Site) -> tuple[float, str | None]:
    """(Water standing over the waste-valve seat outside, m, and the entry that says so).

    What is typed for the ram, else for the stage at which the source flow is least; 0 where the outlet is
    free or nobody says.
    """
    if site.ram is not None and site.ram.tailwater is not None:
        return site.ram.tailwater.value, "ram.tailwater"
    for k, stage in enumerate(site.stage):
        if stage.name == "low" and stage.tailwater is not None:
            return max(stage.tailwater.value, 0.0), f"stage[{k}].tailwater"
    return 0.0, None
