"""Hand levels, boning rods, eye-height stepping and Abney lines, run out and back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ramwright.quantities import Estimate
from ramwright.survey._checks import at_least, between, finite, not_negative, positive
from ramwright.survey.findings import Finding, found
from ramwright.survey.level_book import Allowance
from ramwright.survey.level_net import HeightDifference
from ramwright.survey.points import LevelPoint


@dataclass(frozen=True, slots=True)
class HandLevel:
    """Spreads of a hand level or of boning rods.

    ``reading_sd`` m each sight; ``slope_sd`` m per m each sight (how steady the bubble is held); ``eye_sd``
    m, how well the height of the eye (or of the rod) is known, the same mistake in every sight; ``tilt_sd``
    m per m, how far the level itself may be out, the same in every sight.
    """

    reading_sd: float
    slope_sd: float
    eye_sd: float
    tilt_sd: float

    def __post_init__(self) -> None:
        positive("reading_sd", self.reading_sd)
        for name in ("slope_sd", "eye_sd", "tilt_sd"):
            not_negative(name, getattr(self, name))


@dataclass(frozen=True, slots=True)
class Abney:
    """Spreads of an Abney level with a tape: ``angle_sd`` rad each sight; ``index_sd`` rad, the same in every
    sight; ``length_sd`` m each length; ``tape_share_sd`` share of the length, the same in every one.
    """

    angle_sd: float
    index_sd: float
    length_sd: float
    tape_share_sd: float

    def __post_init__(self) -> None:
        positive("angle_sd", self.angle_sd)
        for name in ("index_sd", "length_sd", "tape_share_sd"):
            not_negative(name, getattr(self, name))


@dataclass(frozen=True, slots=True)
class HandSight:
    """One level sight forward: ``eye`` height (m) over the point stood on, ``reading`` (m) on the staff ahead
    (nought where the sight meets the ground), ``distance`` (m). With boning rods ``eye`` is the rod's height.
    """

    eye: float
    reading: float
    distance: float

    @property
    def rise(self) -> float:
        """Rise from this point to the next, m: eye - reading."""
        return self.eye - self.reading


@dataclass(frozen=True, slots=True)
class SlopeSight:
    """One Abney sight forward: slope ``length`` (m), ``angle`` (rad, up positive), and how much higher the
    ``target`` is above its point than the eye above its own (m; nought for a mark at eye height).
    """

    length: float
    angle: float
    target_above_eye: float = 0.0

    @property
    def rise(self) -> float:
        """Rise from this point to the next, m: length x sin(angle) - target above eye."""
        return self.length * math.sin(self.angle) - self.target_above_eye


@dataclass(frozen=True, slots=True)
class TwoWayRun:
    """A run out and, it is hoped, back.

    ``rise`` from start to end (m); ``out`` and ``back`` the two runs' own rises (m; back from end to start,
    None when not run); ``disagreement`` out + back (m), ``allowed`` (m); ``within`` None when not run back.
    """

    label: str
    start: LevelPoint
    end: LevelPoint
    rise: Estimate
    out: float
    back: float | None
    disagreement: float | None
    allowed: float | None
    within: bool | None
    findings: tuple[Finding, ...]

    def leg(self) -> HeightDifference:
        """The run as one difference of level for a network."""
        return HeightDifference(self.start.key, self.end.key, self.rise.value, self.rise.sd, self.label)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way of a run: rise, variance of what is new in each sight, and by how much each steady mistake of
    one unit moves the rise; ``reach`` is that of a tilt, m; ``sights`` how many.
    """

    rise: float
    variance: float
    steady: tuple[float, ...]
    reach: float
    sights: int


def eye_steps(count: int, *, eye: float, distance: float, last_reading: float = 0.0) -> tuple[HandSight, ...]:
    """Stepping up a slope by eye height: ``count`` sights that meet the ground, the last reading a staff.

    Rise = count x ``eye`` - ``last_reading`` (m); ``distance`` m of each sight. Taught in Peace Corps 1981,
    session 4, and a micro-hydro manual (step size = the observer's eye height). Raises ``InputError``.
    """
    at_least("count", range(count), 1)
    positive("eye", eye)
    positive("distance", distance)
    finite("last_reading", last_reading)
    steps = [HandSight(eye, 0.0, distance)] * (count - 1)
    return (*steps, HandSight(eye, last_reading, distance))


def hand_level_run(
    label: str,
    start: LevelPoint,
    end: LevelPoint,
    *,
    out: Sequence[HandSight],
    back: Sequence[HandSight] = (),
    level: HandLevel,
    allowance: Allowance,
) -> TwoWayRun:
    """A hand-level, boning-rod or eye-height run.

    Rise = sum(eye - reading). Run back with as many sights of the same length, a wrong eye height and a
    tilted level both cancel in (out - back)/2, and show in out + back. Raises ``InputError``.
    """
    ways = [_hand_way(f"{label}.out", out, level)]
    if back:
        ways.append(_hand_way(f"{label}.back", back, level))
    return _two_way(label, start, end, ways, steady_sds=(level.eye_sd, level.tilt_sd), allowance=allowance)


def slope_run(
    label: str,
    start: LevelPoint,
    end: LevelPoint,
    *,
    out: Sequence[SlopeSight],
    back: Sequence[SlopeSight] = (),
    abney: Abney,
    allowance: Allowance,
) -> TwoWayRun:
    """An Abney line: rise = sum(slope length x sin(angle)), m.

    Jordan 1984 (from memory): run out and back. An index error cancels in (out - back)/2 and shows in
    out + back; a long tape does neither. Raises ``InputError``; angles within a quarter turn.
    """
    ways = [_slope_way(f"{label}.out", out, abney)]
    if back:
        ways.append(_slope_way(f"{label}.back", back, abney))
    return _two_way(
        label, start, end, ways, steady_sds=(abney.index_sd, abney.tape_share_sd), allowance=allowance
    )


def _hand_way(where: str, sights: Sequence[HandSight], level: HandLevel) -> _Way:
    at_least(where, sights, 1)
    variance = reach = 0.0
    for i, sight in enumerate(sights):
        positive(f"{where}[{i}].eye", sight.eye)
        finite(f"{where}[{i}].reading", sight.reading)
        reach += not_negative(f"{where}[{i}].distance", sight.distance)
        variance += level.reading_sd**2 + (level.slope_sd * sight.distance) ** 2
    rise = math.fsum(sight.rise for sight in sights)
    return _Way(rise, variance, (float(len(sights)), reach), reach, len(sights))


def _slope_way(where: str, sights: Sequence[SlopeSight], abney: Abney) -> _Way:
    at_least(where, sights, 1)
    variance = reach = along = 0.0
    for i, sight in enumerate(sights):
        positive(f"{where}[{i}].length", sight.length)
        between(f"{where}[{i}].angle", sight.angle, -math.pi / 2.0, math.pi / 2.0)
        finite(f"{where}[{i}].target_above_eye", sight.target_above_eye)
        flat, up = sight.length * math.cos(sight.angle), math.sin(sight.angle)
        variance += (up * abney.length_sd) ** 2 + (flat * abney.angle_sd) ** 2
        reach += flat
        along += sight.length * up
    rise = math.fsum(sight.rise for sight in sights)
    return _Way(rise, variance, (reach, along), reach, len(sights))


def _two_way(
    label: str,
    start: LevelPoint,
    end: LevelPoint,
    ways: Sequence[_Way],
    *,
    steady_sds: tuple[float, ...],
    allowance: Allowance,
) -> TwoWayRun:
    """Rise (out - back)/2; a steady mistake moves it by half the difference of what it does to each way."""
    out = ways[0]
    if len(ways) == 1:
        steady = math.fsum((s * sd) ** 2 for s, sd in zip(out.steady, steady_sds, strict=True))
        rise = Estimate(out.rise, math.sqrt(out.variance + steady), f"{label}, one way")
        note = found("run_one_way", label, rise_m=out.rise)
        return TwoWayRun(label, start, end, rise, out.rise, None, None, None, None, (note,))
    back = ways[1]
    moved = [(o - b) / 2.0 for o, b in zip(out.steady, back.steady, strict=True)]
    steady = math.fsum((s * sd) ** 2 for s, sd in zip(moved, steady_sds, strict=True))
    value = (out.rise - back.rise) / 2.0
    rise = Estimate(value, math.sqrt((out.variance + back.variance) / 4.0 + steady), f"{label}, out and back")
    missed = out.rise + back.rise
    reach = out.reach + back.reach
    allowed = allowance.allowed(length=reach, setups=out.sights + back.sights, height=value) or 0.0
    within = abs(missed) <= allowed
    if within:
        note = found("run_agrees", label, disagreement_m=missed, allowed_m=allowed)
    else:
        note = found(
            "run_disagrees",
            label,
            disagreement_m=missed,
            allowed_m=allowed,
            implied_tilt_rad=missed / reach if reach > 0.0 else 0.0,
        )
    return TwoWayRun(label, start, end, rise, out.rise, back.rise, missed, allowed, within, (note,))
