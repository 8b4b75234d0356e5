"""A day's readings into facts: fall, lift and flows, each with its spread, origin and what disagrees.

``reduce_visit`` is a pure function: the same readings give the same facts, and nothing is stored.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey.adjust import Adjustment
from ramwright.survey.consistency import Judging
from ramwright.survey.datum import OffsetRange, TapedOffset, bridge_to
from ramwright.survey.findings import Finding, found
from ramwright.survey.gaugings import Gauging, combine_gaugings
from ramwright.survey.level_book import Allowance, LevelBook, book_misclosure, reduce_book
from ramwright.survey.level_graph import bridges_between, reached_from
from ramwright.survey.level_net import HeightDifference, HeightNet, adjust_heights
from ramwright.survey.level_runs import TwoWayRun
from ramwright.survey.level_water import HoseLine, WaterHeight, hose_legs
from ramwright.survey.points import LevelPoint


class Feed(StrEnum):
    """Where the feed's level was taken: at the drive tank, or at the intake above a supply line not yet
    built.
    """

    DRIVE_TANK = "drive_tank"
    INTAKE = "intake"


class FlowPlace(StrEnum):
    """Which of the four flows a gauging is of."""

    CREEK = "creek"
    SUPPLY = "supply"
    DRIVE = "drive"
    DELIVERY = "delivery"


@dataclass(frozen=True, slots=True)
class Roles:
    """Which points the facts are between: the ``feed`` water level, the waste-valve ``seat``, and the
    ``top``, the highest point the water must reach; ``feed_at`` says what the feed's level is.
    """

    feed: LevelPoint
    seat: LevelPoint
    top: LevelPoint
    feed_at: Feed


@dataclass(frozen=True, slots=True)
class FlowReading:
    """A gauging and which flow it is of."""

    place: FlowPlace
    gauging: Gauging


@dataclass(frozen=True, slots=True)
class VisitReadings:
    """All of a day's readings. Runs and gaugings are reduced by their own functions first, which keep what
    they noticed; books, hose lines and tapes come as read.
    """

    roles: Roles
    books: tuple[LevelBook, ...] = ()
    hoses: tuple[HoseLine, ...] = ()
    runs: tuple[TwoWayRun, ...] = ()
    water_heights: tuple[WaterHeight, ...] = ()
    offsets: tuple[TapedOffset, ...] = ()
    flows: tuple[FlowReading, ...] = ()


@dataclass(frozen=True, slots=True)
class VisitRule:
    """How the visit is judged: ``judging`` of all adjusting, the books' ``allowance``,
    ``booking_tolerance`` m for levels the booker worked out, and ``ranges`` for offsets that nobody
    measured.
    """

    judging: Judging
    allowance: Allowance
    booking_tolerance: float
    ranges: tuple[OffsetRange, ...]


@dataclass(frozen=True, slots=True)
class LevelFact:
    """A fall or a lift (m).

    ``estimate`` from all readings together; ``alone`` what each run gives by itself, with the measured and
    assumed offsets; ``unchecked`` the legs whose mistake nothing would show.
    """

    estimate: Estimate
    alone: tuple[tuple[str, Estimate], ...]
    unchecked: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Disagreement:
    """Two readings of one fact that differ beyond their spreads: ``difference`` one less other, ``sd`` of
    it, and their ratio ``normalised``.
    """

    fact: str
    one: str
    other: str
    difference: float
    sd: float
    normalised: float


@dataclass(frozen=True, slots=True)
class Facts:
    """What a visit comes to: ``fall`` and ``lift`` (None when the readings do not join the points), an
    adjusted flow for each place gauged, all levels with their covariance, findings, and what disagrees with
    what.
    """

    fall: LevelFact | None
    lift: LevelFact | None
    flows: tuple[tuple[FlowPlace, Adjustment], ...]
    net: HeightNet | None
    findings: tuple[Finding, ...]
    disagreements: tuple[Disagreement, ...]

    @property
    def source_flow(self) -> Estimate | None:
        """Flow in the creek at the intake (m3/s), when it was gauged."""
        return {place: each.estimate for place, each in self.flows}.get(FlowPlace.CREEK)

    def has(self, code: str) -> bool:
        """Whether a finding with this code was made."""
        return any(finding.code == code for finding in self.findings)


def reduce_visit(readings: VisitReadings, *, rule: VisitRule) -> Facts:
    """Reduce a day's readings to facts.

    Every way of levelling becomes differences of level; all are adjusted in one network with the seat as
    datum, so redundant methods and people check each other. Stands that are not the point meant are tied to
    it by tape, or by a stated range with a finding. Flows of one place are adjusted together, places are
    never mixed. Raises ``InputError`` for readings that cannot be what they say (see the books, hoses and
    relations).
    """
    _check_labels(readings)
    legs, taped, notes = _gather(readings, rule)
    roles = readings.roles
    points = _points(readings)
    assumed: list[HeightDifference] = []
    targets = (roles.feed, roles.seat, roles.top)
    for target in targets:
        tied = bridge_to(target, others=targets, points=points, legs=[*legs, *taped], ranges=rule.ranges)
        assumed += tied.legs
        notes += tied.findings
    everything = [*legs, *taped, *assumed]
    net, apart = _adjust(everything, roles.seat, rule.judging)
    notes += apart
    if net is not None:
        notes += net.findings
    nets = _alone_nets(roles.seat, legs, [*taped, *assumed], rule.judging)
    fall, fall_notes = _fact("fall", roles.seat, roles.feed, net=net, nets=nets)
    lift, lift_notes = _fact("lift", roles.seat, roles.top, net=net, nets=nets)
    notes += fall_notes + lift_notes + _sense(fall, lift, roles)
    flows, disagreements = _flows(readings.flows, rule.judging)
    for _, adjusted in flows:
        notes += adjusted.findings
    for name, fact in (("fall", fall), ("lift", lift)):
        disagreements += _pairs(name, fact.alone if fact else (), rule.judging)
    return Facts(fall, lift, tuple(flows), net, tuple(notes), tuple(disagreements))


def _check_labels(readings: VisitReadings) -> None:
    """A run is known by its label: two alike would be taken for one."""
    seen: set[str] = set()
    labels = [book.label for book in readings.books] + [hose.label for hose in readings.hoses]
    labels += [run.label for run in readings.runs] + [each.label for each in readings.water_heights]
    for label in labels:
        if label in seen:
            raise InputError("survey_label_twice", field="visit", value=label)
        seen.add(label)


def _gather(
    readings: VisitReadings, rule: VisitRule
) -> tuple[list[HeightDifference], list[HeightDifference], list[Finding]]:
    legs: list[HeightDifference] = []
    notes: list[Finding] = []
    for book in readings.books:
        reduced = reduce_book(book, start_level=0.0, booking_tolerance=rule.booking_tolerance)
        notes += reduced.findings
        closing = book_misclosure(reduced, allowance=rule.allowance)
        if closing is None:
            notes.append(found("book_open", book.label, setups=reduced.setups))
        else:
            notes += closing.findings
        legs += reduced.legs()
    for hose in readings.hoses:
        hose_part, hose_notes = hose_legs(hose, significance=rule.judging.significance)
        legs += hose_part
        notes += hose_notes
    for run in readings.runs:
        legs.append(run.leg())
        notes += run.findings
    for height in readings.water_heights:
        legs.append(height.leg())
        notes += height.findings
    for flow in readings.flows:
        notes += flow.gauging.findings
    return legs, [offset.leg() for offset in readings.offsets], notes


def _points(readings: VisitReadings) -> list[LevelPoint]:
    points: list[LevelPoint] = []
    for book in readings.books:
        points += [row.point for row in book.rows]
    for hose in readings.hoses:
        for setup in hose.setups:
            points += [setup.start, setup.end]
    for run in readings.runs:
        points += [run.start, run.end]
    for height in readings.water_heights:
        points += [height.point, height.water]
    for offset in readings.offsets:
        points += [offset.start, offset.end]
    return points


def _adjust(
    legs: Sequence[HeightDifference], seat: LevelPoint, judging: Judging
) -> tuple[HeightNet | None, list[Finding]]:
    """Adjust what hangs together with the seat; what does not is named and left out."""
    reached = reached_from({seat.key}, [(leg.start, leg.end) for leg in legs])
    joined = [leg for leg in legs if leg.start in reached]
    apart = tuple(dict.fromkeys(leg.label for leg in legs if leg.start not in reached and leg.label))
    notes = [found("points_apart", seat.key, names=apart)] if apart else []
    if not joined:
        return None, notes
    return adjust_heights(joined, fixed={seat.key: 0.0}, judging=judging), notes


def _fact(
    name: str,
    seat: LevelPoint,
    point: LevelPoint,
    *,
    net: HeightNet | None,
    nets: Sequence[tuple[str, HeightNet]],
) -> tuple[LevelFact | None, list[Finding]]:
    if net is None or point.key not in net.index:
        return None, [found("fact_missing", name, names=(seat.key, point.key))]
    alone = tuple(
        (label, each.level(point.key, origin=label)) for label, each in nets if point.key in each.index
    )
    origin = ", ".join(label for label, _ in alone) or "levelling"
    edges = [(row.leg.start, row.leg.end) for row in net.legs]
    bridges = bridges_between(seat.key, point.key, edges, [block.legs for block in net.blocks])
    unchecked = tuple(dict.fromkeys(net.legs[i].leg.label for i in bridges))
    notes = []
    if bridges:
        notes.append(found("fact_unchecked", name, names=unchecked, unchecked_legs=len(bridges)))
    return LevelFact(net.level(point.key, origin=origin), alone, unchecked), notes


def _alone_nets(
    seat: LevelPoint,
    legs: Sequence[HeightDifference],
    ties: Sequence[HeightDifference],
    judging: Judging,
) -> list[tuple[str, HeightNet]]:
    """What each run makes of the levels by itself, with the offsets, where it reaches the seat."""
    out: list[tuple[str, HeightNet]] = []
    for label in dict.fromkeys(leg.label for leg in legs):
        own = [leg for leg in legs if leg.label == label]
        net, _ = _adjust([*own, *ties], seat, judging)
        if net is not None and any(leg.end in net.index for leg in own):
            out.append((label, net))
    return out


def _sense(fall: LevelFact | None, lift: LevelFact | None, roles: Roles) -> list[Finding]:
    out: list[Finding] = []
    if fall is None:
        return out
    if roles.feed_at is Feed.INTAKE:
        out.append(found("feed_is_not_drive_tank", roles.feed.key))
    down = fall.estimate.value
    if down <= 0.0:
        out.append(found("fall_not_positive", "fall", fall_m=down))
    if lift is not None and lift.estimate.value <= down:
        out.append(found("lift_not_above_fall", "lift", fall_m=down, lift_m=lift.estimate.value))
    return out


def _flows(
    readings: Sequence[FlowReading], judging: Judging
) -> tuple[list[tuple[FlowPlace, Adjustment]], list[Disagreement]]:
    adjusted: list[tuple[FlowPlace, Adjustment]] = []
    apart: list[Disagreement] = []
    for place in FlowPlace:
        here = [each.gauging for each in readings if each.place is place]
        if here:
            about = f"flow, {place.value}"
            adjusted.append((place, combine_gaugings(here, judging=judging, about=about)))
            apart += _pairs(about, [(each.label, each.estimate) for each in here], judging)
    return adjusted, apart


def _pairs(fact: str, measured: Sequence[tuple[str, Estimate]], judging: Judging) -> list[Disagreement]:
    """Pairs that differ by more than the residual limit. What two share makes them agree better than this
    says.
    """
    out: list[Disagreement] = []
    for (one, a), (other, b) in combinations(measured, 2):
        sd = math.hypot(a.sd, b.sd)
        difference = a.value - b.value
        if sd > 0.0 and abs(difference) > judging.residual_limit * sd:
            out.append(Disagreement(fact, one, other, difference, sd, difference / sd))
    return out
