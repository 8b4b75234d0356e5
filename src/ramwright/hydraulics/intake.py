"""The intake and its strainer: open area, openings, cover, and how long until it clogs."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.hydraulics._checks import between, not_negative, positive
from ramwright.hydraulics._constants import SECONDS_PER_DAY
from ramwright.hydraulics.limits import Held, Side, ruling
from ramwright.hydraulics.vortex import vortex_cover


@dataclass(frozen=True, slots=True)
class Screen:
    """A strainer: ``area`` m2 that water meets, framing taken off.

    ``open_share`` of it that is open, 0 to 1; ``opening`` m, the widest hole, slot or mesh; ``clean_share``
    of the open area that is not blocked when judged.
    """

    area: float
    open_share: float
    opening: float
    clean_share: float = 1.0

    def __post_init__(self) -> None:
        positive("screen.area", self.area)
        between("screen.open_share", self.open_share, 1e-6, 1.0)
        positive("screen.opening", self.opening)
        between("screen.clean_share", self.clean_share, 1e-6, 1.0)

    @property
    def open_area(self) -> float:
        """Open and clean area, m2."""
        return self.area * self.open_share * self.clean_share


@dataclass(frozen=True, slots=True)
class IntakeRules:
    """Numbers of the trade an intake is held against, from the catalogue.

    ``approach_velocity`` m/s allowed before the screen (fish and debris); ``open_over_bore`` least ratio of
    open area to the bore; ``opening_over_passage`` largest ratio of opening to the smallest valve passage;
    ``vortex_coefficient`` s/m^0.5; ``least_cover`` m.
    """

    approach_velocity: float
    open_over_bore: float
    opening_over_passage: float
    vortex_coefficient: float
    least_cover: float


@dataclass(frozen=True, slots=True)
class IntakeResult:
    """How an intake does.

    ``approach_velocity`` m/s before the screen and ``slot_velocity`` m/s through its openings;
    ``open_over_bore``; ``area_needed`` m2 of screen for the approach velocity; ``cover_needed`` m;
    ``checks``; ``rules`` the one that rules.
    """

    approach_velocity: float
    slot_velocity: float
    open_over_bore: float
    area_needed: float
    cover_needed: float
    checks: tuple[Held, ...]
    rules: Held


def screen_area_needed(flow: float, *, approach_velocity: float) -> float:
    """Return the effective screen area for an approach velocity, m2: Q / V.

    ``flow`` m3/s, ``approach_velocity`` m/s. Definition; the velocity is the rule-maker's. Raises
    ``InputError``.
    """
    return positive("flow", flow) / positive("approach_velocity", approach_velocity)


def check_intake(
    screen: Screen,
    *,
    flow: float,
    bore: float,
    valve_passage: float,
    cover: float,
    rules: IntakeRules,
) -> IntakeResult:
    """Return how ``screen`` passes ``flow`` (m3/s) into a pipe of ``bore`` (m), held against ``rules``.

    ``valve_passage`` m, the narrowest way through the ram's valves; ``cover`` m of water over the pipe's
    crown at the lowest level of the year. Continuity and ``vortex_cover``. Raises ``InputError``.
    """
    q, d = positive("flow", flow), positive("bore", bore)
    area = math.pi / 4.0 * d**2
    ratio = screen.open_area / area
    approach = q / (screen.area * screen.clean_share)
    needed = vortex_cover(
        velocity=q / area, bore=d, coefficient=rules.vortex_coefficient, least_cover=rules.least_cover
    )
    passage = positive("valve_passage", valve_passage) * rules.opening_over_passage
    checks = (
        Held("approach_velocity", approach, rules.approach_velocity, Side.AT_MOST),
        Held("open_over_bore", ratio, rules.open_over_bore, Side.AT_LEAST),
        Held("opening", screen.opening, passage, Side.AT_MOST),
        Held("cover", not_negative("cover", cover), needed, Side.AT_LEAST),
    )
    return IntakeResult(
        approach_velocity=approach,
        slot_velocity=q / screen.open_area,
        open_over_bore=ratio,
        area_needed=screen_area_needed(q, approach_velocity=rules.approach_velocity),
        cover_needed=needed,
        checks=checks,
        rules=ruling(checks),
    )


def clogging_rate(*, blocked_share: float, days: float, flow: float, area: float) -> float:
    """Return the screen area blocked by each cubic metre of water, m2/m3, from one look at a screen.

    ``blocked_share`` of ``area`` (m2) found blocked after ``days`` at ``flow`` (m3/s). Stated model: debris
    blocks in proportion to the water passed (no source). Raises ``InputError``.
    """
    water = positive("flow", flow) * positive("days", days) * SECONDS_PER_DAY
    return between("blocked_share", blocked_share, 0.0, 1.0) * positive("area", area) / water


def days_to_clog(*, rate: float, flow: float, area: float, area_needed: float) -> float:
    """Return the days until no more than ``area_needed`` (m2) of a clean ``area`` (m2) is left.

    0 when it never was.

    ``rate`` m2/m3 from ``clogging_rate``, ``flow`` m3/s; infinite where nothing blocks. Stated model as
    there. Raises ``InputError``.
    """
    spare = positive("area", area) - not_negative("area_needed", area_needed)
    if spare <= 0.0:
        return 0.0
    blocked = not_negative("rate", rate) * positive("flow", flow) * SECONDS_PER_DAY
    return spare / blocked if blocked > 0.0 else math.inf
