"""What can hurt people or spoil their water: air vessel, drowned valves, tank, and the cautions."""

from __future__ import annotations

from collections.abc import Iterator

from ramwright.appraise.ram_parts import tailwater
from ramwright.appraise.verdict import Grade, Verdict
from ramwright.appraise.verdicts.case import Case, Rule, against, computed, practised, rule
from ramwright.catalogue import Mark, table
from ramwright.hydraulics.overflow import Overflow, OverflowKind


def air_vessel(c: Case) -> Iterator[Verdict]:
    """An air vessel of plastic, too small a one, or one whose air nothing makes good."""
    vessel = c.layout.vessel
    stuff = vessel.stuff
    if stuff is not None and stuff.family in ("pvc", "pvc-u"):
        row = table("safety_rules").row("plastic-air-vessel")
        head = c.p.shutoff_head.high if c.p.shutoff_head is not None else c.i.lift.value
        yield against(
            row, "plastic_air_vessel", "red", "air_vessel.material", 0.0, stuff=stuff.title, head=head
        )
    elif stuff is not None and stuff.family == "pe":
        yield practised("soft_air_vessel", "amber", "air_vessel.material", stuff=stuff.title)
    row = table("air_vessel_rules").row("volume-per-beat")
    least = row.number("low")
    if vessel.beats_held is not None and vessel.beats_held < least:
        about = "air_vessel" if c.layout.site.air_vessel is not None else None
        yield against(row, "air_vessel_small", "amber", about, least, beats=vessel.beats_held, limit=least)
    if vessel.loses_air and vessel.soonest is not None and vessel.likely is not None:
        yield against(
            rule("vessel-saturation"),
            "air_vessel_waterlogs",
            "amber",
            "ram.snifter",
            vessel.likely,
            soonest=vessel.soonest,
            likely=vessel.likely,
        )


def drowned(c: Case) -> Iterator[Verdict]:
    """A waste valve or a snifter under water: it draws the pit's water into the line at each recoil."""
    if c.i.tailwater <= 0.0:
        return
    site = c.layout.site
    use = site.tank.use if site.tank is not None else None
    grade: Grade = "red" if use == "drinking" else "amber"
    volume = max(c.p.middle.drawn_per_beat, 0.0)
    _, about = tailwater(site)
    yield computed("waste_valve_drowned", grade, about, 0.0, depth=c.i.tailwater, volume=volume)
    hole = site.ram.snifter if site.ram is not None else None
    if c.i.snifter is not None and hole is not None and hole.height is not None:
        under = c.i.tailwater - hole.height.value
        if under > 0.0:
            yield computed("snifter_drowned", grade, "ram.snifter.height", 0.0, depth=under)


def tilt(c: Case) -> Iterator[Verdict]:
    """A poppet that leans, so that its guides rub and its weight pulls with a part only."""
    site = c.layout.site
    valve = site.ram.waste_valve if site.ram is not None else None
    if valve is None or valve.tilt is None or c.i.valve.kind != "poppet":
        return
    row = rule("lean-of-poppet")
    most = row.number("likely")
    if abs(valve.tilt.value) > most:
        yield against(
            row,
            "waste_valve_leans",
            "amber",
            "ram.waste_valve.tilt",
            most,
            tilt=abs(valve.tilt.value),
            limit=most,
        )


def tank(c: Case) -> Iterator[Verdict]:
    """The tank: no air gap, an overflow smaller than what comes, a load on a stand."""
    found = c.layout.site.tank
    if found is None:
        return
    if found.top_inlet is False:
        grade: Grade = "red" if found.use == "drinking" else "amber"
        row = table("safety_rules").row("air-gap")
        yield against(row, "tank_without_air_gap", grade, "tank", 0.0)
    if found.overflow is not None:
        inlet = c.i.delivery_line[-1].bore
        row = table("safety_rules").row("overflow-over-inlet")
        coefficient = rule("overflow-coefficient").number("likely")
        pipe = Overflow(OverflowKind.SIDE_PIPE, found.overflow.value, coefficient)
        # Running brim full, without any water standing over it.
        passes = pipe.flow(found.overflow.value)
        if found.overflow.value < row.number("low") * inlet or passes < c.p.delivery.high:
            yield against(
                row,
                "tank_overflow_small",
                "amber",
                "tank.overflow",
                inlet,
                overflow=found.overflow.value,
                inlet=inlet,
            )
    if found.stand_height is not None and found.volume is not None and found.stand_height.value > 0.0:
        row = table("safety_rules").row("tank-load")
        mass = found.volume.value * row.number("likely")
        yield against(
            row,
            "tank_on_stand",
            "amber",
            "tank.stand_height",
            mass,
            volume=found.volume.value,
            mass=mass,
            height=found.stand_height.value,
        )


def several_rams(c: Case) -> Iterator[Verdict]:
    """Rams side by side: what is told of them together and of each."""
    if c.i.rams > 1:
        yield computed("several_rams", "note", "ram.count", None, rams=str(c.i.rams))


def cautions(c: Case) -> Iterator[Verdict]:
    """What can hurt someone, said every time."""
    head = c.p.peak_head.high if c.p.peak_head is not None else c.i.lift.value
    yield practised("caution_trapped_pressure", "note", None, head=head)
    yield practised("caution_water_rights", "note", None)
    yield practised("caution_drinking_water", "note", None)


RULES: tuple[Rule, ...] = (air_vessel, drowned, tilt, tank, several_rams)


def rests_on_memory(found: tuple[Verdict, ...]) -> Iterator[Verdict]:
    """Which grave verdicts lean on works that were recalled and not read again."""
    leaning = [v for v in found if v.grade != "note" and v.mark is Mark.MEMORY]
    if leaning:
        sources = tuple(sorted({v.source for v in leaning}))
        numbers: dict[str, object] = {"count": str(len(leaning)), "sources": sources}
        yield Verdict("rests_on_memory", "note", None, numbers, None, "the catalogue", Mark.MEMORY)
