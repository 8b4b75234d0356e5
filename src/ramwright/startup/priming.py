"""Priming a supply line that runs over a hump: litres, lowest pressure, and which ways of priming work."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from ramwright.catalogue import table
from ramwright.geometry import Profile
from ramwright.hydraulics.line import Line
from ramwright.hydraulics.siphon import HumpStates, Priming, hump_states
from ramwright.hydraulics.sweeping import jump_sweeping_flow
from ramwright.hydraulics.water import Water, siphon_limit
from ramwright.startup.rules import rule

Array = NDArray[np.float64]

# What has to be done.
NO_CREST, NOT_NEEDED, BY_ITSELF, BY_HAND, BEYOND, NO_HEAD = (
    "no_crest",
    "not_needed",
    "by_itself",
    "by_hand",
    "beyond_limit",
    "no_head",
)
METHODS = ("foot_valve", "pour_and_cap", "small_pump", "fill_at_crest", "raise_and_drop")
"""Ways of priming, the surest first."""
_Verdict = tuple[bool, str, dict[str, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Means:
    """What is at hand: a pump's lift (m) and flow (m3/s), what is poured (m3/s), how high (m) and heavy
    (kg) an end can be raised; whether the line bends, and whether both ends can be shut."""

    pump_head: float = field(default_factory=lambda: rule("pump-head").likely)
    pump_flow: float = field(default_factory=lambda: rule("pump-flow").likely)
    pour_flow: float = field(default_factory=lambda: rule("pour-flow").likely)
    raise_height: float = field(default_factory=lambda: rule("raise-height").likely)
    raise_mass: float = field(default_factory=lambda: rule("raise-mass").likely)
    bends: bool = True
    ends_shut: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """One way of priming: whether it ``works`` here, ``why`` as a code, the ``numbers`` behind it (SI),
    and the code of what to try next ('' if it works)."""

    code: str
    works: bool
    why: str
    numbers: dict[str, float]
    next: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrimingPlan:
    """Priming of one supply line.

    ``outcome`` one of ``no_crest``, ``not_needed`` (the crest lies below the grade line), ``by_itself``,
    ``by_hand``, ``beyond_limit`` (no siphon holds over this crest) and ``no_head`` (the outlet lies above
    the source). ``lift`` m of the crest over the source, at ``crest_station`` m; ``lowest_pressure`` m
    (gauge) at ``lowest_station``; ``limit`` m, how high a crest may be taken here (altitude and
    temperature), ``recommended`` m likewise. ``litres`` m3 to prime by hand; ``flow`` m3/s once primed.
    ``gathers``: the siphon is too slow to carry its air off, so it must be topped up at the crest.
    """

    outcome: str
    lift: float
    crest_station: float
    lowest_pressure: float
    lowest_station: float
    limit: float
    recommended: float
    litres: float
    flow: float
    gathers: bool
    methods: tuple[Method, ...]


def siphon_heights(water: Water) -> tuple[float, float]:
    """(limit, recommended) height of a crest over the source here, m of water.

    The catalogue's lifts at sea level, less what altitude and warmth take (``hydraulics.siphon_limit``).
    """
    limits = table("siphon_limits")
    limit, recommended = (
        siphon_limit(water, practical_lift=limits.row(name).number("likely"))
        for name in ("practical-lift", "recommended-lift")
    )
    return limit, recommended


def plan_priming(
    line: Line,
    water: Water,
    *,
    source_level: float,
    outlet_level: float | None = None,
    means: Means | None = None,
    least_summit: float = 0.0,
) -> PrimingPlan:
    """How to prime ``line`` from ``source_level`` (m, its own datum) to ``outlet_level`` (m; None: open).

    ``means`` at hand; summits lower than ``least_summit`` (m) are none. Raises ``InputError`` as
    ``hydraulics.siphon`` does.
    """
    limit, recommended = siphon_heights(water)
    practical = table("siphon_limits").row("practical-lift").number("likely")
    states = hump_states(
        line,
        water,
        source_level=source_level,
        outlet_level=outlet_level,
        practical_siphon_lift=practical,
        least_depth=least_summit,
    )
    if states is None:
        return _no_crest(limit, recommended, line, source_level)
    outcome = _outcome(states)
    litres = _litres(line, states, source_level, outlet_level)
    hand = outcome in (BY_HAND, BEYOND, BY_ITSELF)
    means = means or Means()
    numbers = {"litres": litres, "lift": states.lift, "limit": limit}
    methods: tuple[Method, ...] = ()
    if outcome == BEYOND:
        methods = _none_works(numbers)
    elif hand:
        found = {
            "foot_valve": _judged({}, "leg_kept_full"),
            "pour_and_cap": _judged({"ends_open": not means.ends_shut}, "whole_line_filled"),
            "small_pump": _pump(line, states, outlet_level, means),
            "fill_at_crest": _poured(line, states, outlet_level, means),
            "raise_and_drop": _raised(line, water, states, means),
        }
        methods = _methods(found, numbers)
    return PrimingPlan(
        outcome=outcome,
        lift=states.lift,
        crest_station=states.crest.station,
        lowest_pressure=states.full.lowest_pressure_head,
        lowest_station=states.full.lowest_station,
        limit=limit,
        recommended=recommended,
        litres=litres if hand else 0.0,
        flow=states.siphon_flow,
        gathers=hand and states.siphon_velocity < states.sweeping_velocity,
        methods=methods,
    )


def _outcome(states: HumpStates) -> str:
    if states.full.flow <= 0.0:
        return NO_HEAD
    if states.priming is Priming.NO_SIPHON_NEEDED:
        return NOT_NEEDED
    if not states.siphon_holds:
        return BEYOND
    return BY_ITSELF if states.priming is Priming.BY_ITSELF else BY_HAND


def _no_crest(limit: float, recommended: float, line: Line, source_level: float) -> PrimingPlan:
    top = int(np.argmax(line.profile.levels))
    return PrimingPlan(
        outcome=NO_CREST,
        lift=float(line.profile.levels[top]) - source_level,
        crest_station=float(line.profile.stations[top]),
        lowest_pressure=0.0,
        lowest_station=float(line.profile.stations[0]),
        limit=limit,
        recommended=recommended,
        litres=0.0,
        flow=0.0,
        gathers=False,
        methods=(),
    )


def pipe_volume(line: Line, *, above: float, start: float, end: float) -> float:
    """Volume (m3) of the pipe between stations ``start`` and ``end`` (m) that lies above a level (m)."""
    profile: Profile = line.profile
    joints = line.joints
    crossings = []
    for a, b, za, zb in zip(
        profile.stations[:-1], profile.stations[1:], profile.levels[:-1], profile.levels[1:], strict=True
    ):
        if (za - above) * (zb - above) < 0.0:
            crossings.append(a + (b - a) * (above - za) / (zb - za))
    cuts = np.unique(np.concatenate((profile.stations, joints, crossings, [start, end])))
    cuts = cuts[(cuts >= start) & (cuts <= end)]
    middles = 0.5 * (cuts[1:] + cuts[:-1])
    levels = np.interp(middles, profile.stations, profile.levels)
    pipe = np.clip(np.searchsorted(joints, middles) - 1, 0, len(line.segments) - 1)
    areas = np.array([s.area for s in line.segments])[pipe]
    return float(np.sum((areas * np.diff(cuts))[levels > above]))


def _litres(line: Line, states: HumpStates, source_level: float, outlet_level: float | None) -> float:
    """Water (m3) that is not in the line by itself: above the source up to the crest, and all beyond it."""
    start, end = float(line.profile.stations[0]), float(line.profile.stations[-1])
    crest = states.crest.station
    lower = -math.inf if outlet_level is None else outlet_level
    rising = pipe_volume(line, above=source_level, start=start, end=crest)
    return rising + pipe_volume(line, above=lower, start=crest, end=end)


def _none_works(numbers: dict[str, float]) -> tuple[Method, ...]:
    """No way of priming holds over a crest beyond the limit; the crest must come down."""
    return tuple(
        Method(code=code, works=False, why="beyond_limit", numbers=numbers, next="lower_crest")
        for code in METHODS
    )


def _methods(found: dict[str, _Verdict], numbers: dict[str, float]) -> tuple[Method, ...]:
    """Every way of priming as judged, each that fails with the surest that works."""
    best = next(code for code in METHODS if found[code][0])
    return tuple(
        Method(code=code, works=works, why=why, numbers={**numbers, **more}, next="" if works else best)
        for code in METHODS
        for works, why, more in (found[code],)
    )


def _judged(against: dict[str, bool], good: str, **numbers: float) -> _Verdict:
    """The first reason of ``against`` that holds, else ``good``."""
    bad = next((code for code, holds in against.items() if holds), None)
    return bad is None, bad or good, numbers


def _outlet_axis(line: Line) -> float:
    return float(line.profile.levels[-1])


def _sweeps_back(line: Line, states: HumpStates) -> float:
    """Flow (m3/s) that carries air from the crest back to the intake: Kalinske & Bliss, steepest piece."""
    inside = line.profile.stations <= states.crest.station
    stations, levels = line.profile.stations[inside], line.profile.levels[inside]
    slope = float(np.max(np.diff(levels) / np.diff(stations)))
    angle = math.asin(min(max(slope, 0.0), 1.0))
    return jump_sweeping_flow(bore=line.segments[0].bore, slope_angle=min(angle, math.radians(89.9)))


def _pump(line: Line, states: HumpStates, outlet_level: float | None, means: Means) -> _Verdict:
    """A pump at the outlet pushes water up over the crest and the air back out of the intake."""
    below = _outlet_axis(line) if outlet_level is None else max(outlet_level, _outlet_axis(line))
    head, flow = states.crest.level - below, _sweeps_back(line, states)
    against = {"pump_too_low": head > means.pump_head, "pump_too_slow": flow > means.pump_flow}
    return _judged(
        against, "pushed_over", head=head, flow=flow, pump_head=means.pump_head, pump_flow=means.pump_flow
    )


def _poured(line: Line, states: HumpStates, outlet_level: float | None, means: Means) -> _Verdict:
    """Poured in at the open crest, both ends under water: fast enough to carry its air off."""
    sealed = outlet_level is not None and outlet_level >= _outlet_axis(line)
    against = {"outlet_open": not sealed, "poured_too_slow": states.sweeping_flow > means.pour_flow}
    return _judged(against, "poured_fast", flow=states.sweeping_flow, pour_flow=means.pour_flow)


def _raised(line: Line, water: Water, states: HumpStates, means: Means) -> _Verdict:
    """The outlet raised to the crest, the line filled through it, and dropped."""
    end = float(line.profile.stations[-1])
    height = states.crest.level - _outlet_axis(line)
    mass = water.density * pipe_volume(line, above=-math.inf, start=states.crest.station, end=end)
    against = {
        "line_stiff": not means.bends,
        "raised_too_high": height > means.raise_height,
        "raised_too_heavy": mass > means.raise_mass,
    }
    return _judged(
        against, "dropped_full", height=height, mass=mass,
        raise_height=means.raise_height, raise_mass=means.raise_mass,
    )  # fmt: skip
