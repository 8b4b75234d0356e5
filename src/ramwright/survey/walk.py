"""The walk before any level is set up: intakes, ram spots and tank places on one sheet, ranked."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from itertools import pairwise

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey._checks import not_negative, positive
from ramwright.survey.findings import Finding, found


class Access(IntEnum):
    """How one gets there with pipe and cement, the harder the higher."""

    ROAD = 0
    TRACK = 1
    ON_FOOT = 2
    CLIMB = 3


@dataclass(frozen=True, slots=True)
class IntakeSpot:
    """A place to take water: rough ``level`` m, ``along`` m down the creek from any mark, rough ``flow``
    m3/s.
    """

    label: str
    level: Estimate
    along: float | None = None
    flow: Estimate | None = None
    access: Access | None = None


@dataclass(frozen=True, slots=True)
class RamSpot:
    """A place for the ram: rough ``level`` m of the seat, ``flood_mark`` m the highest trace of flood
    there.
    """

    label: str
    level: Estimate
    along: float | None = None
    flood_mark: float | None = None
    access: Access | None = None


@dataclass(frozen=True, slots=True)
class TankSpot:
    """A place for the tank: rough ``level`` m of its inlet."""

    label: str
    level: Estimate
    access: Access | None = None


@dataclass(frozen=True, slots=True)
class WalkRule:
    """``least_fall`` m worth looking at; ``poorest_access`` still good; ``margin``: a pair is dropped only
    for one better by more than so many spreads in something.
    """

    least_fall: float
    poorest_access: Access
    margin: float

    def __post_init__(self) -> None:
        not_negative("least_fall", self.least_fall)
        not_negative("margin", self.margin)


@dataclass(frozen=True, slots=True)
class SpotPair:
    """An intake with a ram spot below it.

    ``fall`` m; ``length`` m between them; ``per_length`` fall over length; ``flood_margin`` m of the ram
    over the flood mark, None if no mark was seen; ``lifts`` m to each tank place; ``findings``.
    """

    intake: str
    ram: str
    fall: Estimate
    length: float
    per_length: float
    flood_margin: float | None
    access: Access | None
    flow: Estimate | None
    lifts: tuple[tuple[str, Estimate], ...]
    findings: tuple[Finding, ...]

    @property
    def label(self) -> str:
        """Intake and ram spot in one."""
        return f"{self.intake} - {self.ram}"


@dataclass(frozen=True, slots=True)
class DroppedPair:
    """A pair left out: ``beaten_by`` another that is as good in everything and better in ``better_in``."""

    pair: SpotPair
    beaten_by: str
    better_in: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WalkSheet:
    """Pairs worth levelling, most fall per length first; those dropped, with the reason; and what was
    noticed.
    """

    ranked: tuple[SpotPair, ...]
    dropped: tuple[DroppedPair, ...]
    findings: tuple[Finding, ...]


def walk_sheet(
    intakes: Sequence[IntakeSpot],
    rams: Sequence[RamSpot],
    tanks: Sequence[TankSpot],
    *,
    lengths: Mapping[tuple[str, str], float] | None = None,
    rule: WalkRule,
) -> WalkSheet:
    """Pair every intake with every ram spot below it and rank them by fall per length.

    Length (m) between two is ``lengths[intake, ram]``, else the distance along the creek. A pair with less
    than ``rule.least_fall`` is named and left out. One pair beats another when it has as much fall, no more
    length, no less margin over flood, no worse access and no less flow, and is better in one of them by
    more than ``rule.margin`` spreads; what is unknown of either cannot beat. Raises ``InputError`` for a
    label used twice or a length that nobody gave.
    """
    _check_labels([*intakes, *rams, *tanks])
    findings: list[Finding] = []
    pairs: list[SpotPair] = []
    for intake in intakes:
        findings += [
            found(
                "gravity_would_serve",
                tank.label,
                names=(intake.label,),
                tank_below_intake_m=intake.level.value - tank.level.value,
            )
            for tank in tanks
            if tank.level.value < intake.level.value
        ]
        for ram in rams:
            fall = _less(intake.level, ram.level, "rough level")
            if fall.value < rule.least_fall or fall.value <= 0.0:
                about = f"{intake.label} - {ram.label}"
                findings.append(found("no_fall", about, fall_m=fall.value, least_m=rule.least_fall))
                continue
            length = _length(intake, ram, lengths)
            pairs.append(_pair(intake, ram, fall, tanks=tanks, length=length, rule=rule))
    pairs.sort(key=lambda pair: (-pair.per_length, pair.label))
    kept, dropped = _without_beaten(pairs, rule)
    findings += _ties(kept, rule)
    return WalkSheet(tuple(kept), tuple(dropped), tuple(findings))


def _less(one: Estimate, other: Estimate, origin: str) -> Estimate:
    return Estimate(one.value - other.value, math.hypot(one.sd, other.sd), origin)


def _check_labels(spots: Iterable[IntakeSpot | RamSpot | TankSpot]) -> None:
    seen: set[str] = set()
    for spot in spots:
        if spot.label in seen:
            raise InputError("survey_label_twice", field="walk", value=spot.label)
        seen.add(spot.label)


def _length(intake: IntakeSpot, ram: RamSpot, lengths: Mapping[tuple[str, str], float] | None) -> float:
    pair = (intake.label, ram.label)
    if lengths is not None and pair in lengths:
        return positive(f"lengths[{intake.label}, {ram.label}]", lengths[pair])
    if intake.along is None or ram.along is None:
        raise InputError("survey_length_missing", field=intake.label, value=ram.label)
    return positive(f"{intake.label} to {ram.label}", abs(ram.along - intake.along))


def _pair(
    intake: IntakeSpot,
    ram: RamSpot,
    fall: Estimate,
    *,
    tanks: Sequence[TankSpot],
    length: float,
    rule: WalkRule,
) -> SpotPair:
    label = f"{intake.label} - {ram.label}"
    findings: list[Finding] = []
    flood = None if ram.flood_mark is None else ram.level.value - ram.flood_mark
    if flood is None:
        findings.append(found("flood_mark_unknown", label))
    elif flood < 0.0:
        findings.append(found("ram_below_flood", label, below_m=-flood))
    both = (intake.access, ram.access)
    access = None if None in both else Access(max(each for each in both if each is not None))
    if access is None:
        findings.append(found("access_unknown", label))
    elif access > rule.poorest_access:
        findings.append(found("access_poor", label, names=(access.name.lower(),)))
    lifts = tuple((tank.label, _less(tank.level, ram.level, "rough level")) for tank in tanks)
    return SpotPair(
        intake.label,
        ram.label,
        fall,
        length,
        fall.value / length,
        flood,
        access,
        intake.flow,
        lifts,
        tuple(findings),
    )


def _compare(one: SpotPair, other: SpotPair, margin: float) -> tuple[bool, tuple[str, ...]]:
    """Whether ``one`` is no worse than ``other`` in anything, and what it is surely better in."""
    better: list[str] = []
    if one.fall.value < other.fall.value or one.length > other.length:
        return False, ()
    # Two pairs that share a spot share its level's spread: taking all of both errs on the side of keeping.
    if one.fall.value - other.fall.value > margin * math.hypot(one.fall.sd, other.fall.sd):
        better.append("fall")
    if one.length < other.length:
        better.append("length")
    if other.flood_margin is not None:
        if one.flood_margin is None or one.flood_margin < other.flood_margin:
            return False, ()
        if one.flood_margin > other.flood_margin:
            better.append("flood_margin")
    if other.access is not None:
        if one.access is None or one.access > other.access:
            return False, ()
        if one.access < other.access:
            better.append("access")
    if other.flow is not None:
        if one.flow is None or one.flow.value < other.flow.value:
            return False, ()
        if one.flow.value - other.flow.value > margin * math.hypot(one.flow.sd, other.flow.sd):
            better.append("flow")
    return True, tuple(better)


def _without_beaten(pairs: Sequence[SpotPair], rule: WalkRule) -> tuple[list[SpotPair], list[DroppedPair]]:
    """Beating is an order, so whatever is beaten at all is beaten by one that stays: that one is named."""

    def beats(one: SpotPair, other: SpotPair) -> tuple[str, ...]:
        no_worse, better = _compare(one, other, rule.margin)
        return better if no_worse else ()

    kept = [pair for pair in pairs if not any(beats(other, pair) for other in pairs if other is not pair)]
    dropped: list[DroppedPair] = []
    for pair in pairs:
        for other in kept:
            better = beats(other, pair)
            if better:
                dropped.append(DroppedPair(pair, other.label, better))
                break
    return kept, dropped


def _ties(kept: Sequence[SpotPair], rule: WalkRule) -> list[Finding]:
    """Neighbours in the ranking that the rough levels cannot tell apart."""
    out: list[Finding] = []
    for one, other in pairwise(kept):
        difference = one.per_length - other.per_length
        sd = math.hypot(one.fall.sd / one.length, other.fall.sd / other.length)
        if difference < rule.margin * sd:
            out.append(
                found(
                    "near_tie",
                    one.label,
                    names=(other.label,),
                    difference_per_length=difference,
                    sd=sd,
                )
            )
    return out
