"""The steps of a start and what to mind, as codes with numbers; their words are in ``wording.startup``."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from ramwright.appraise import Range
from ramwright.startup.rules import rule

if TYPE_CHECKING:
    from ramwright.startup.plan import StartPlan

#: High over low number of presses from which it is worth telling why.
_UNSURE = 3.0
Grade = Literal["stop", "caution", "note"]


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do: a code, and the numbers (SI) its sentence is filled with."""

    code: str
    numbers: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Minding:
    """One thing to mind: how grave, a code, and the numbers (SI) of its sentence."""

    grade: Grade
    code: str
    numbers: dict[str, object] = field(default_factory=dict)


def spread(name: str, found: Range) -> dict[str, object]:
    """A range as three numbers: ``name_low``, ``name_likely``, ``name_high``."""
    return {f"{name}_low": found.low, f"{name}_likely": found.likely, f"{name}_high": found.high}


def steps(plan: StartPlan) -> Iterator[Step]:
    """What to do, in order, as far as this ram gets."""
    yield Step("flush")
    if plan.priming is not None and plan.priming.outcome in ("by_hand", "by_itself"):
        p = plan.priming
        best = next((m.code for m in p.methods if m.works), "foot_valve")
        itself = "supply_primes_itself" if p.lift > 0.0 else "supply_runs_over"
        yield Step("prime_supply" if p.outcome == "by_hand" else itself, {
            "litres": p.litres, "lift": p.lift, "below": -p.lift, "limit": p.limit, "method": best,
        })  # fmt: skip
    yield Step("bladder" if plan.vessel.charge_head > 0.0 else "drain_vessel",
               {"charge": plan.vessel.charge_head, "volume": plan.vessel.volume})  # fmt: skip
    yield _purge(plan)
    yield from _dead_end(plan)
    g = plan.gravity
    yield Step("gravity_fill", {
        "length": g.length.likely, "volume": g.volume.likely, "level": g.level.likely,
        **spread("seconds", g.seconds),
    })  # fmt: skip
    yield from _start(plan)
    yield from _after(plan)


def _purge(plan: StartPlan) -> Step:
    p = plan.purge
    return Step(f"purge_{p.outcome}", {
        "litres": p.litres, "seconds": p.seconds.likely, "velocity": p.velocity.likely,
        "needed": max([*(s.needed for s in p.stretches), *(h.needed for h in p.humps)]),
        "stations": tuple(h.station for h in p.humps if not h.swept),
    })  # fmt: skip


def _dead_end(plan: StartPlan) -> Iterator[Step]:
    d = plan.dead_end
    if d.highest is None:
        return
    numbers: dict[str, object] = {"stop": d.stop_at, **spread("highest", d.highest)}
    yield Step("dead_end", numbers)
    if d.leaks:
        drip = d.leaks[0]
        yield Step("leak_down", {"head": drip.head, "until": drip.until, "seconds": drip.seconds})
    for code in d.vents:
        yield Step(f"vent_{code}")


def _start(plan: StartPlan) -> Iterator[Step]:
    p = plan.presses
    by_hand = p is not None and p.count is not None and p.count.high < 1.5
    if plan.outcome == "hand_presses" and p is not None and p.count is not None and p.seconds is not None:
        numbers: dict[str, object] = {
            "pace": p.pace, "alone": p.level_alone.likely, "first": p.first_volume, "last": p.last_volume,
            **spread("presses", p.count), **spread("seconds", p.seconds),
        }  # fmt: skip
        yield Step("press_once" if by_hand else "press", numbers)
        if not by_hand:
            yield Step("runs_alone", spread("alone", p.level_alone))
    t = plan.throttle
    if t is not None and plan.outcome in ("hand_presses", "throttle", "throttle_for_good") and not by_hand:
        first = t.openings[0]
        air = t.air_presses.count.likely if t.air_presses is not None and t.air_presses.count else 1.0
        code = (
            "throttle_for_good" if t.for_good else "throttle" if plan.outcome == "throttle" else "throttle_or"
        )
        yield Step(code, {
            "hold": t.hold, "practice": t.practice, "presses": air, "share": first.share,
            "diameter": 2.0 * math.sqrt(first.area / math.pi), "seconds": t.seconds.likely,
        })  # fmt: skip
        if not t.for_good:
            yield Step("open_fully", {"hold": t.hold})


def _after(plan: StartPlan) -> Iterator[Step]:
    c = plan.climb
    if c is None:
        return
    half = int(len(c.times) // 2)
    yield Step("to_tank", {"length": float(c.stations[-1]), **spread("seconds", c.seconds)})
    yield Step("sound", {"station": float(c.stations[half]), "when": float(c.times[half])})
    yield Step("vent_summits", {"stations": plan.vents}) if plan.vents else Step("flush_line")
    yield Step("check_next_day")


def minding(plan: StartPlan) -> Iterator[Minding]:
    """What to mind, gravest first."""
    d = plan.dead_end
    if plan.outcome not in ("hand_presses", "throttle"):
        grade: Grade = "caution" if plan.outcome in ("throttle_for_good", "starved") else "stop"
        yield Minding(grade, f"start_{plan.outcome}", {"share": plan.outcomes.get(plan.outcome, 1.0)})
    elif plan.runs < 0.9:
        yield Minding("caution", "start_unsure", {"share": plan.runs})
    if d.over and d.highest is not None:
        yield Minding("stop", "dead_end_over_class",
                      {"highest": d.highest.high, "rated": d.rated, "pipe": d.pipe})  # fmt: skip
    head = max(plan.lift, d.stop_at)
    yield Minding("caution", "trapped_pressure", {"head": head})
    yield Minding("caution", "hands_clear")
    yield Minding("caution", "vent_first")
    if plan.stumbles > 0.0:
        yield Minding("note", "may_stumble", {"share": plan.stumbles})
    p = plan.presses
    if p is not None and p.count is not None and p.count.high > _UNSURE * p.count.low:
        yield Minding("note", "presses_unsure", {"low": int(p.count.low), "high": int(p.count.high)})
    if p is not None and p.count is not None and p.count.high > rule("presses-by-hand").likely:
        yield Minding(
            "note",
            "many_presses",
            {"presses": int(p.count.high), "most": int(rule("presses-by-hand").likely)},
        )
    if plan.gravity.short or plan.purge.tank_seconds < plan.purge.seconds.likely:
        yield Minding("note", "tank_draws_down", {"seconds": plan.purge.tank_seconds})
    if plan.vessel.charge_head > plan.fall:
        yield Minding("note", "bladder_holds", {"charge": plan.vessel.charge_head})
    if plan.throttle is not None and plan.throttle.practice > plan.throttle.hold:
        yield Minding("note", "practice_holds_more",
                      {"hold": plan.throttle.hold, "practice": plan.throttle.practice})  # fmt: skip
    if plan.vents:
        yield Minding("note", "air_shut_in", {"stations": plan.vents, "lost": plan.lost_head})
    if plan.priming is not None and plan.priming.outcome in ("beyond_limit", "no_head"):
        yield Minding("stop", f"priming_{plan.priming.outcome}",
                      {"lift": plan.priming.lift, "limit": plan.priming.limit})  # fmt: skip
    if plan.priming is not None and plan.priming.gathers:
        yield Minding("note", "priming_gathers", {})
