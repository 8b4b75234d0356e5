"""The drive tank: its level, cover, overflow, and what it keeps back."""

from __future__ import annotations

from collections.abc import Iterator

from ramwright.appraise.verdict import Verdict
from ramwright.appraise.verdicts.case import Case, Rule, against, computed, practised, rule
from ramwright.catalogue import Row, table
from ramwright.hydraulics.limits import Held

_YEAR_S = 365.25 * 86400.0
#: A rule of thumb for a depth is not missed by what nobody can tape.
_TAPED = 0.98


def _held(c: Case, code: str) -> Held | None:
    result = c.layout.tank.result
    if result is None:
        return None
    return next(held for held in result.checks if held.code == code)


def _row(name: str) -> Row:
    return table("settling_rules").row(name)


def _about(c: Case, entry: str) -> str | None:
    """The entry of the sheet, where it stands there."""
    tank = c.layout.site.drive_tank
    if tank is None:
        return None
    return f"drive_tank.{entry}" if getattr(tank, entry) is not None else "drive_tank"


def cover(c: Case) -> Iterator[Verdict]:
    """Too little water over the drive-pipe inlet when the level stands lowest."""
    held = _held(c, "cover")
    if held is not None and held.number < _TAPED * held.limit:
        yield against(
            _row("vortex-straight"),
            "drive_tank_cover",
            "amber",
            _about(c, "cover"),
            held.limit,
            cover=held.number,
            needed=held.limit,
        )


def level(c: Case) -> Iterator[Verdict]:
    """A level that sinks with every beat, or a tank that holds next to nothing."""
    drawdown, hold = _held(c, "drawdown"), _held(c, "hold_time")
    if drawdown is not None and not drawdown.ok:
        row = rule("drawdown-over-fall")
        yield against(
            row,
            "drive_tank_sinks",
            "amber",
            _about(c, "plan_area"),
            drawdown.limit,
            drawdown=drawdown.number,
            limit=drawdown.limit,
        )
    elif hold is not None and not hold.ok:
        row = _row("drive-tank-time")
        yield against(
            row,
            "drive_tank_small",
            "note",
            _about(c, "plan_area"),
            hold.limit,
            seconds=hold.number,
            limit=hold.limit,
        )


def overflow(c: Case) -> Iterator[Verdict]:
    """An overflow that cannot pass what comes while the ram stands still."""
    tank = c.layout.tank
    if tank.overflow is not None and tank.freeboard is not None and tank.spill > 0.0:
        head = tank.overflow.head(tank.spill)
        if head > tank.freeboard:
            yield against(
                rule("overflow-coefficient"),
                "overflow_too_small",
                "amber",
                "drive_tank.overflow",
                tank.freeboard,
                flow=tank.spill,
                head=head,
                freeboard=tank.freeboard,
            )
    elif tank.overflow is None and c.layout.supply is not None:
        yield practised("overflow_unsaid", "note", _about(c, "overflow"), flow=tank.spill)


def air_and_silt(c: Case) -> Iterator[Verdict]:
    """Bubbles and grains that go on into the drive pipe, and how soon the sump is full."""
    bubbles, grains = _held(c, "bubble_area"), _held(c, "grain_area")
    result = c.layout.tank.result
    if bubbles is not None and not bubbles.ok:
        yield against(
            rule("smallest-bubble"),
            "drive_tank_keeps_air",
            "amber",
            _about(c, "plan_area"),
            bubbles.limit,
            area=bubbles.number,
            needed=bubbles.limit,
        )
    if grains is not None and result is not None and not grains.ok:
        yield against(
            _row("grain-to-remove"),
            "drive_tank_passes_sand",
            "note",
            _about(c, "plan_area"),
            grains.limit,
            grain=result.settled_grain,
            area=grains.limit,
        )
    days = c.layout.tank.days_to_fill
    if days is not None and days * 86400.0 < _YEAR_S:
        tank = c.layout.site.drive_tank
        code = "sump_fills" if tank is not None and tank.washout is not None else "sump_fills_no_washout"
        yield computed(code, "note", "drive_tank.sump", None, time=days * 86400.0)


RULES: tuple[Rule, ...] = (cover, level, overflow, air_and_silt)
