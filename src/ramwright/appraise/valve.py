"""The waste valve on the sheet as numbers with spreads, and what of it is still to be set."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ramwright.appraise.assume import Assumption, Ledger, spread_of, taken
from ramwright.catalogue import Mark, ShopRam, valve_coefficient
from ramwright.hydraulics.water import Water
from ramwright.quantities import Estimate, Reading
from ramwright.ram import WasteValve as EngineValve
from ramwright.site import WasteValve

Setting = Literal["weight", "stroke"]
_G = 9.80665


@dataclass(frozen=True, slots=True, kw_only=True)
class ValveNumbers:
    """A waste valve, SI. ``weight`` is the pull (N) at the middle of the disc under water, standing
    upright; ``mass`` what moves, without the water that moves along (``water_mass``).

    ``to_set`` says what is left to choose: the weight, the stroke, or nothing.
    """

    kind: Literal["poppet", "swing"]
    port: float
    stroke: Estimate
    weight: Estimate
    mass: Estimate
    water_mass: float
    arm: float
    tilt: float
    spring_stiffness: float
    spring_preload: float
    port_loss: Estimate
    curtain_loss: Estimate
    force_factor: Estimate
    momentum: float
    leak_area: float
    to_set: Setting | None

    def engine(
        self,
        *,
        stroke: float,
        weight: float,
        force_factor: float,
        port_loss: float,
        curtain_loss: float,
    ) -> EngineValve:
        """The engine's valve at one set of values (m, N, -, -, -).

        Pull at opening x: weight times the cosine of the angle it hangs at (for a flap the angle grows
        with its opening, cosine to second order), plus the spring, which pulls harder as the valve shuts.
        A heavier setting moves more mass: weight is added, not force.
        """
        cosine, sine = math.cos(self.tilt), math.sin(self.tilt)
        bend1 = -sine / self.arm if self.kind == "swing" else 0.0
        bend2 = -cosine / (2.0 * self.arm**2) if self.kind == "swing" else 0.0
        pull = (
            weight * cosine + self.spring_preload + self.spring_stiffness * stroke,
            weight * bend1 - self.spring_stiffness,
            weight * bend2,
        )
        return EngineValve(
            kind=self.kind,
            port_diameter_m=self.port,
            stroke_m=stroke,
            mass_kg=self.mass.value * weight / self.weight.value + self.water_mass,
            opening_force=pull,
            port_loss=port_loss,
            curtain_loss=curtain_loss,
            force_factor=force_factor,
            momentum=self.momentum,
            leak_area_m2=self.leak_area,
        )


def valve_numbers(valve: WasteValve | None, ram: ShopRam, water: Water, ledger: Ledger) -> ValveNumbers:
    """Numbers of the sheet's waste valve, the rest from a shop-built ram of that size.

    The moving mass on the sheet is in air; under water it weighs less by the water it pushes aside
    (steel or brass). Water moving along with the disc: 8/3 rho r^3 (a disc broadside in unbounded water;
    Lamb, Hydrodynamics, from memory). A valve given by its port alone is a shop-built one scaled to it.
    """
    kind: Literal["poppet", "swing"] = "swing" if valve and valve.kind == "swing check" else "poppet"
    usual = ram.waste_valve("swing check" if kind == "swing" else "weighted poppet")
    name = "ram.waste_valve"
    port = ledger.reading(
        valve.port_diameter if valve else None, f"{name}.port_diameter", usual.port_m, "small_length"
    )
    scale = port / usual.port_m.likely
    loose = taken("tuned_spread").likely
    to_set: Setting | None = None
    if valve is not None and valve.moving_mass is not None:
        mass = spread_of(valve.moving_mass, "valve_spread")
        afloat = 1.0 - water.density / taken("steel_density").likely
        weight = Estimate(mass.value * _G * afloat, mass.sd * _G * afloat, mass.origin)
    else:
        mass = Estimate(usual.moving_mass_kg.likely * scale**2, 0.0, "chosen")
        pull = usual.closing_weight_n.likely * scale**2
        weight = Estimate(pull, pull * loose, "chosen")
        to_set = "weight"
    travel = usual.stroke_m.scaled(scale)
    if valve is not None and isinstance(valve.stroke, Reading):
        stroke = spread_of(valve.stroke, "valve_spread")
    elif to_set is None:
        stroke = Estimate(travel.likely, travel.likely * loose, "chosen")
        to_set = "stroke"
    else:
        stroke = ledger.take(f"{name}.stroke", travel, "small_length")
        stroke = Estimate(stroke.value, stroke.value * loose, stroke.origin)
    arm, tilt = port, valve.tilt.value if valve and valve.tilt else 0.0
    if kind == "swing":
        assert usual.swing_arm_m is not None
        arm = ledger.reading(
            valve.arm if valve else None, f"{name}.arm", usual.swing_arm_m.scaled(scale), "small_length"
        )
        if valve is None or valve.tilt is None:
            ledger.entries.append(Assumption(f"{name}.tilt", tilt, "angle", Mark.JUDGEMENT))
    leak = ledger.reading(
        valve.leak if valve else None, f"{name}.leak", valve_coefficient("closed-leak"), "fraction"
    )
    return ValveNumbers(
        kind=kind,
        port=port,
        stroke=stroke,
        weight=weight,
        mass=mass,
        water_mass=8.0 / 3.0 * water.density * (usual.disc_m.likely * scale / 2.0) ** 3,
        arm=arm,
        tilt=tilt,
        spring_stiffness=valve.spring_stiffness.value if valve and valve.spring_stiffness else 0.0,
        spring_preload=valve.spring_preload.value if valve and valve.spring_preload else 0.0,
        port_loss=valve_coefficient("disc-loss-constant").estimate(),
        curtain_loss=valve_coefficient("disc-loss-lift").estimate(),
        force_factor=taken("force_factor").estimate(),
        momentum=taken("jet_momentum").likely,
        leak_area=leak * math.pi * port**2 / 4.0,
        to_set=to_set,
    )
