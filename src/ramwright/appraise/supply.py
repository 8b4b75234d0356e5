"""The supply line: what it brings to the drive tank, and why no more."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from ramwright.appraise.assume import Assumption, Ledger
from ramwright.appraise.laid import LaidLine, along, route_profile
from ramwright.appraise.stretches import Stretch
from ramwright.catalogue import Mark, fitting_loss, table
from ramwright.hydraulics.capacity import Capacity, Supply, capacity, supply
from ramwright.hydraulics.line import FullFlow, Line, full_flow
from ramwright.hydraulics.siphon import HumpStates, Priming, hump_states
from ramwright.hydraulics.water import Water
from ramwright.site import Site

State = Literal["open", "primed", "trickle"]
_SCREENED: Final = ("strainer", "screen box", "perforated pipe")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SupplyLine:
    """A supply line at rest between two levels (m above the seat): what it can bring.

    ``brings`` m3/s in the ``state`` it is taken to be in: ``open`` where air can follow the water all along,
    ``primed`` as a full siphon over its hump, ``trickle`` over the crest where the siphon would not hold.
    ``capacity`` is what it passes without suction, ``full`` the line running full, ``hump`` both states of
    a line over a summit. ``outlet_level`` is the water its outlet lies in, None in the open.
    """

    laid: LaidLine
    line: Line
    source_level: float
    outlet_level: float | None
    brings: float
    state: State
    capacity: Capacity
    full: FullFlow
    hump: HumpStates | None

    def at(self, source_flow: float, water: Water) -> Supply:
        """What it carries of a flow (m3/s), and how full it runs, stretch by stretch."""
        return supply(
            self.line,
            water,
            source_flow=source_flow,
            source_level=self.source_level,
            outlet_level=self.outlet_level,
        )


def _entrance(site: Site, ledger: Ledger) -> float:
    """Loss coefficient of the intake."""
    kind = site.intake.kind if site.intake is not None else None
    if kind is None:
        return ledger.take("intake.kind", fitting_loss("entrance-square"), "number").value
    screen = fitting_loss("strainer").likely if kind in _SCREENED else 0.0
    return fitting_loss("entrance-square").likely + screen


def _source_level(site: Site, laid: LaidLine, tank_level: float, ledger: Ledger) -> float:
    """Water level at the intake in the driest season, m above the seat."""
    intake = site.intake
    if intake is not None and intake.drop is not None:
        return tank_level + intake.drop.value
    first = laid.profile.levels[0] + laid.pieces[0].bore / 2.0
    if intake is not None and intake.level is not None:
        # On the datum of the profiles, which the line has been moved off by as much as its first point.
        found = route_profile(site, "supply_line")
        if found is not None:
            first = laid.profile.levels[0] + intake.level.value - found.profile.levels[0]
    cover = 0.0
    if intake is not None and intake.cover is not None:
        cover = intake.cover.value
    else:
        ledger.entries.append(Assumption("intake.cover", cover, "length", Mark.JUDGEMENT))
    return float(first) + cover


def supply_line(
    site: Site, pieces: tuple[Stretch, ...], tank_level: float, water: Water, ledger: Ledger
) -> SupplyLine | None:
    """The sheet's supply line into a drive tank whose water stands at ``tank_level`` (m above the seat).

    None where the sheet has none, or says neither its way nor its drop. Raises as ``laid.along``.
    """
    has_way = site.profiles is not None and site.profiles.supply_line is not None
    drop = site.intake.drop if site.intake is not None else None
    if not pieces or not (has_way or drop is not None):
        return None
    start = tank_level + (drop.value if drop is not None else 0.0)
    laid = along(site, "supply_line", pieces, start=start, end=tank_level)
    source = _source_level(site, laid, tank_level, ledger)
    line = laid.hydraulic(entrance_loss=_entrance(site, ledger))
    outlet = tank_level if laid.profile.levels[-1] <= tank_level else None
    lift = table("siphon_limits").row("practical-lift").number("likely")
    most = capacity(line, water, source_level=source, outlet_level=outlet)
    full = full_flow(line, water, source_level=source, outlet_level=outlet, practical_siphon_lift=lift)
    hump = hump_states(
        line,
        water,
        source_level=source,
        outlet_level=outlet,
        practical_siphon_lift=lift,
        least_depth=laid.least_summit,
    )
    state, brings = _state(most, hump)
    return SupplyLine(
        laid=laid,
        line=line,
        source_level=source,
        outlet_level=outlet,
        brings=brings,
        state=state,
        capacity=most,
        full=full,
        hump=hump,
    )


def _state(most: Capacity, hump: HumpStates | None) -> tuple[State, float]:
    """How the line runs as meant: full over its hump where that holds and keeps its air moving."""
    if hump is None or hump.priming is Priming.NO_SIPHON_NEEDED:
        return "open", most.flow
    if hump.siphon_holds and hump.siphon_velocity >= hump.sweeping_velocity:
        return "primed", hump.siphon_flow
    return "trickle", min(hump.trickle_flow, hump.siphon_flow)


def brought(line: SupplyLine | None) -> float:
    """What a supply line can bring, m3/s; without bound where there is none to hold anything back."""
    return math.inf if line is None else line.brings
