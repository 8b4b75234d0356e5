"""The supply line: whether it starves the ram, siphons, primes, and holds air."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ramwright.appraise.drive_line import piece_at, steepest_beyond
from ramwright.appraise.supply import SupplyLine
from ramwright.appraise.verdict import Grade, Verdict
from ramwright.appraise.verdicts.case import Case, Rule, against, computed, practised
from ramwright.appraise.verdicts.outcomes import LIKELY, RARE
from ramwright.catalogue import table
from ramwright.geometry import summits
from ramwright.hydraulics.siphon import Priming
from ramwright.hydraulics.sweeping import pocket_sweeping_velocity

#: A ram that drinks this share of what the line brings is held back by it.
_ALL = 0.98


def unjudged(c: Case) -> Iterator[Verdict]:
    """A supply line whose way and drop nobody gives."""
    if c.i.supply_pipe and c.layout.supply is None:
        yield practised("supply_unjudged", "note", "supply_line")


def holds_back(c: Case) -> Iterator[Verdict]:
    """A line that brings less than the creek has and the ram would drink."""
    line = c.layout.supply
    if line is None or line.brings >= c.i.usable_flow:
        return
    wanted, starved = c.p.middle.drive * c.i.rams, c.p.outcomes["starved"]
    if starved >= LIKELY or line.brings <= 0.0:
        yield computed(
            "supply_starves", "red", "supply_line", line.brings, brings=line.brings, flow=c.i.usable_flow
        )
    elif starved >= RARE or wanted >= _ALL * line.brings:
        yield computed(
            "supply_holds_back",
            "amber",
            "supply_line",
            line.brings,
            brings=line.brings,
            flow=c.i.usable_flow,
            station=line.capacity.station,
        )


def siphon(c: Case) -> Iterator[Verdict]:
    """A hump that works as a siphon: how high, whether it starts, and whether it keeps going."""
    line = c.layout.supply
    hump = line.hump if line is not None else None
    if line is None or hump is None or hump.priming is Priming.NO_SIPHON_NEEDED:
        return
    crest, sweeps = hump.checks[0], hump.checks[2]
    at = hump.crest.station
    if not crest.ok:
        row = table("siphon_limits").row("practical-lift")
        yield against(
            row,
            "siphon_too_high",
            "red",
            "supply_line",
            -crest.limit,
            station=at,
            suction=-crest.number,
            limit=-crest.limit,
        )
        return
    if not sweeps.ok:
        row = table("air_sweeping").row(rule="wisner", coefficient="constant")
        yield against(
            row,
            "siphon_keeps_air",
            "amber",
            "supply_line",
            sweeps.limit,
            station=at,
            velocity=sweeps.number,
            needed=sweeps.limit,
        )
    yield from _priming(c, line)
    if c.layout.site.tank is not None and c.layout.site.tank.use == "drinking":
        yield practised("siphon_draws_in", "amber", "supply_line", station=at)


def _priming(c: Case, line: SupplyLine) -> Iterator[Verdict]:
    hump = line.hump
    assert hump is not None
    trickle = min(hump.trickle_flow, c.i.usable_flow)
    if hump.priming is Priming.BY_ITSELF and trickle >= hump.sweeping_flow:
        return
    row = table("air_sweeping").row(rule="kalinske-bliss", coefficient="of tangent slope")
    numbers: dict[str, object] = {
        "station": hump.crest.station,
        "trickle": trickle,
        "siphon": hump.siphon_flow,
    }
    if hump.priming is Priming.OUTLET_OPEN:
        code = "siphon_outlet_open"
    else:
        code, numbers["needed"] = "siphon_does_not_prime", hump.sweeping_flow
    yield against(row, code, "amber", "supply_line", hump.sweeping_flow, **numbers)


def summit_air(c: Case) -> Iterator[Verdict]:
    """Summits under the grade line, where air gathers unless the water carries it on."""
    line = c.layout.supply
    if line is None or line.state != "open" or not line.laid.surveyed:
        return
    flow = min(c.i.usable_flow, line.brings)
    row = table("air_sweeping").row(rule="wisner", coefficient="constant")
    for turn in summits(line.laid.profile, least_depth=line.laid.least_summit):
        piece = piece_at(line.laid, turn.station)
        needed = pocket_sweeping_velocity(
            bore=piece.bore, slope_angle=steepest_beyond(line.laid, turn.station)
        )
        if flow / piece.area < needed:
            yield against(
                row,
                "supply_summit_air",
                "note",
                "profiles.supply_line",
                needed,
                station=turn.station,
                velocity=flow / piece.area,
                needed=needed,
            )
            return


def boils(c: Case) -> Iterator[Verdict]:
    """Suction somewhere along a full line without a summit: it draws air instead, and brings less."""
    line = c.layout.supply
    if line is None or line.hump is not None or line.state != "open":
        return
    heads = line.full.grade.pressure_head
    lowest = int(np.argmin(heads))
    if heads[lowest] < -0.5 * line.laid.pieces[0].bore and line.full.flow > line.capacity.flow:
        grade: Grade = "note"
        yield computed(
            "supply_part_full",
            grade,
            "supply_line",
            0.0,
            station=line.capacity.station,
            brings=line.capacity.flow,
            full=line.full.flow,
        )


RULES: tuple[Rule, ...] = (unjudged, holds_back, siphon, summit_air, boils)
