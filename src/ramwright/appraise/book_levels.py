"""From the sheet's readings of level to the survey's: points, instruments with their spreads, runs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ramwright import survey
from ramwright.appraise.book_rules import instrument_figure, rule, run_allowance, spread_of_instrument
from ramwright.appraise.book_runs import LEVELS, STAGES, Run, naming
from ramwright.catalogue import find_key, table
from ramwright.errors import InputError
from ramwright.quantities import Estimate, Reading
from ramwright.site import level_models as sheet
from ramwright.site.points import DRIVE_TANK, INTAKE, RAM, TANK, TOP, WATER, Spot
from ramwright.survey import IntakeDam, LevelPoint, Stand

_PERCENT = 100.0


@dataclass(frozen=True, slots=True)
class LevelReadings:
    """A field book's levels as the survey takes them; ``with_lengths`` where every book has all lengths."""

    roles: survey.Roles
    books: tuple[survey.LevelBook, ...]
    hoses: tuple[survey.HoseLine, ...]
    runs: tuple[survey.TwoWayRun, ...]
    water_heights: tuple[survey.WaterHeight, ...]
    offsets: tuple[survey.TapedOffset, ...]
    with_lengths: bool
    stage: str

    @property
    def any(self) -> bool:
        """Whether any level was read at all."""
        return bool(self.books or self.hoses or self.runs or self.water_heights)


def level_readings(runs: Sequence[Run]) -> LevelReadings:
    """Everything of ``runs`` that is about levels.

    Water surfaces read at another stage of the creek than the lowest with a reading of the feed are points
    of their own, named with their stage. Raises ``InputError`` about the entry that cannot be used.
    """
    points = _Points(_feed_stage(runs))
    made: dict[str, list[object]] = {kind: [] for kind in LEVELS}
    for run in runs:
        if run.kind in LEVELS:
            with naming([run]):
                made[run.kind].append(_MAKERS[run.kind](run, points))
    books = tuple(each for each in made["level_book"] if isinstance(each, survey.LevelBook))
    return LevelReadings(
        roles=points.roles(),
        books=books,
        hoses=tuple(each for each in made["hose"] if isinstance(each, survey.HoseLine)),
        runs=tuple(
            each
            for kind in ("hand_level", "abney")
            for each in made[kind]
            if isinstance(each, survey.TwoWayRun)
        ),
        water_heights=tuple(
            each
            for kind in ("gauge", "raised_pipe")
            for each in made[kind]
            if isinstance(each, survey.WaterHeight)
        ),
        offsets=tuple(each for each in made["tape"] if isinstance(each, survey.TapedOffset)),
        with_lengths=bool(books) and all(map(_has_lengths, books)),
        stage=points.stage,
    )


def _has_lengths(book: survey.LevelBook) -> bool:
    if book.sight.usual_length is not None:
        return False  # a usual length is no length booked
    return all(
        (row.backsight is None or row.backsight_distance is not None)
        and ((row.foresight is None and row.intermediate is None) or row.distance is not None)
        for row in book.rows
    )


def _spots(run: Run) -> list[Spot]:
    """Every point a run names."""
    parts = [run.part, *getattr(run.part, "rows", ())]
    values = [getattr(part, name) for part in parts for name in type(part).model_fields]
    return [value for value in values if isinstance(value, Spot)]


def _feed_stage(runs: Sequence[Run]) -> str:
    """The lowest stage at which the feed's water was read, else the lowest of any visit with levels."""
    levels = [run for run in runs if run.kind in LEVELS]
    at_feed = [
        run.stage
        for run in levels
        if any(spot.stand == WATER and spot.place in (DRIVE_TANK, INTAKE) for spot in _spots(run))
    ]
    seen = at_feed or [run.stage for run in levels] or [""]
    return min(seen, key=STAGES.index)


class _Points:
    """Makes the survey's points, and remembers which places were read."""

    def __init__(self, stage: str) -> None:
        self.stage = stage
        self._seen: dict[LevelPoint, None] = {}
        self._spelt: dict[str, str] = {}

    def point(self, spot: Spot, run: Run, row: int | None = None) -> LevelPoint:
        """The point ``spot`` means in ``run``; change points are points of their run (and row) only."""
        if spot.turning:
            number = spot.place or f"#{0 if row is None else row + 1}"
            return survey.mark(f"{run.label} tp {number}")
        stand = Stand(spot.stand)
        place, dam = spot.place, IntakeDam.NONE
        if stand is Stand.WATER_SURFACE:
            if run.stage != self.stage:
                place = f"{place} ({run.stage or 'stage unstated'})"
            if spot.place == INTAKE:
                dam = IntakeDam(spot.dam or run.visit.intake_dam or "unstated")
        if stand is Stand.MARK and place != TOP:  # a peg is the same peg in capitals, and shown as written
            place = self._spelt.setdefault(place, " ".join(spot.text.split()))
        point = LevelPoint(place, stand, dam)
        self._seen[point] = None
        return point

    def ends(self, start: Spot, end: Spot, run: Run, row: int | None = None) -> tuple[LevelPoint, LevelPoint]:
        """Both ends of a difference of level; raises ``InputError`` where they are one point."""
        pair = self.point(start, run, row), self.point(end, run, row)
        if pair[0] == pair[1]:
            field = run.path if row is None else f"{run.path}.rows[{row}]"
            raise InputError("same_point", field=field, value=end.text)
        return pair

    def roles(self) -> survey.Roles:
        """Feed, seat and top: the drive tank's water where that was read at all, else the intake's."""
        places = {point.place for point in self._seen}
        feed, feed_at = LevelPoint(DRIVE_TANK, Stand.WATER_SURFACE), survey.Feed.DRIVE_TANK
        if DRIVE_TANK not in places and INTAKE in places:
            waters = {point.dam for point in self._seen if point.place == INTAKE and _is_water(point)}
            order = (IntakeDam.IN, IntakeDam.NONE, IntakeDam.UNSTATED, IntakeDam.OUT)
            dam = next((state for state in order if state in waters), IntakeDam.UNSTATED)
            feed, feed_at = LevelPoint(INTAKE, Stand.WATER_SURFACE, dam), survey.Feed.INTAKE
        top = survey.mark(TOP) if TOP in places else LevelPoint(TANK, Stand.TANK_INLET_TOP)
        return survey.Roles(feed, LevelPoint(RAM, Stand.WASTE_VALVE_SEAT), top, feed_at)


def _is_water(point: LevelPoint) -> bool:
    return point.stand is Stand.WATER_SURFACE


def value_of(reading: Reading | None) -> float | None:
    """SI value of a reading, None where there is none."""
    return None if reading is None else reading.value


def _level_book(run: Run, points: _Points) -> survey.LevelBook:
    part = run.part
    assert isinstance(part, sheet.LevelBook)
    rows = tuple(
        survey.BookRow(
            points.point(row.point, run, i),
            backsight=value_of(row.backsight),
            intermediate=value_of(row.intermediate),
            foresight=value_of(row.foresight),
            distance=value_of(row.distance),
            backsight_distance=value_of(row.backsight_distance),
            booked_level=value_of(row.level),
        )
        for i, row in enumerate(part.rows)
    )
    return survey.LevelBook(run.label, rows, _sight(part))


def _sight(book: sheet.LevelBook) -> survey.SightSpread:
    """Spread of a sight: as typed or the instrument's; tilt by the two-peg test, else the usual."""
    sd = value_of(book.spread)
    if sd is None:
        sd = instrument_figure(book.instrument, "builders-level", "height of a sight")
    tilt = Estimate(
        0.0, spread_of_instrument(book.instrument, "builders-level", "tilt of the line of sight") or 0.0
    )
    if (peg := book.two_peg) is not None:
        tilt = survey.two_peg_tilt(
            middle_a=peg.middle_a.value,
            middle_b=peg.middle_b.value,
            end_a=peg.end_a.value,
            end_b=peg.end_b.value,
            to_a=peg.to_a.value,
            to_b=peg.to_b.value,
            reading_sd=sd,
        )
    return survey.SightSpread(
        sd, tilt=tilt.value, tilt_sd=tilt.sd, usual_length=value_of(book.usual_distance)
    )


def _hand_level(run: Run, points: _Points) -> survey.TwoWayRun:
    part = run.part
    assert isinstance(part, sheet.HandLevelRun)
    kind = find_key("instruments", part.instrument or "hand-level")
    quantity = "height of a step" if kind == "eye-height" else "height of a sight"
    length = value_of(part.step_length)
    if length is None:
        length = instrument_figure(kind, "hand-level", "longest sight")
    eye = part.eye.value

    def sights(rows: Sequence[sheet.HandSight]) -> tuple[survey.HandSight, ...]:
        return tuple(
            survey.HandSight(
                eye, value_of(row.reading) or 0.0, length if row.distance is None else row.distance.value
            )
            for row in rows
        )

    out = sights(part.out)
    if part.steps:
        last = value_of(part.last_reading) or 0.0
        out = survey.eye_steps(part.steps, eye=eye, distance=length, last_reading=last)
    level = survey.HandLevel(
        reading_sd=part.spread.value if part.spread else instrument_figure(kind, "hand-level", quantity),
        slope_sd=0.0,  # the table states the height of a whole sight
        eye_sd=_sd(part.eye, instrument_figure(kind, "hand-level", "height of the eye")),
        tilt_sd=spread_of_instrument(kind, "hand-level", "tilt of the line of sight") or 0.0,
    )
    return survey.hand_level_run(
        run.label,
        *points.ends(part.start, part.end, run),
        out=out,
        back=sights(part.back),
        level=level,
        allowance=run_allowance(),
    )


def _sd(reading: Reading, usual: float) -> float:
    return usual if reading.sd is None else reading.sd


def _abney(run: Run, points: _Points) -> survey.TwoWayRun:
    part = run.part
    assert isinstance(part, sheet.AbneyRun)

    def sights(rows: Sequence[sheet.SlopeSight]) -> tuple[survey.SlopeSight, ...]:
        return tuple(
            survey.SlopeSight(row.length.value, row.angle.value, value_of(row.target_above_eye) or 0.0)
            for row in rows
        )

    abney = survey.Abney(
        angle_sd=part.spread.value if part.spread else instrument_figure(None, "abney", "slope"),
        index_sd=instrument_figure(None, "abney", "index"),
        length_sd=rule("slope-length"),
        tape_share_sd=instrument_figure(None, "tape", "share of length"),
    )
    return survey.slope_run(
        run.label,
        *points.ends(part.start, part.end, run),
        out=sights(part.out),
        back=sights(part.back),
        abney=abney,
        allowance=run_allowance(),
    )


def _hose(run: Run, points: _Points) -> survey.HoseLine:
    part = run.part
    assert isinstance(part, sheet.Hose)
    setups = tuple(
        survey.HoseSetup(
            *points.ends(row.start, row.end, run, i),
            row.start_reading.value,
            row.end_reading.value,
        )
        for i, row in enumerate(part.rows)
    )
    # Stated for a whole set-up, which is the difference of two readings.
    whole = part.spread.value if part.spread else instrument_figure(None, "hose-level", "height of a set-up")
    return survey.HoseLine(run.label, setups, whole / 2.0**0.5)


def _gauge(run: Run, points: _Points) -> survey.WaterHeight:
    part = run.part
    assert isinstance(part, sheet.GaugeOnHose)
    key = find_key("instruments", part.instrument or "gauge-class-4")
    limit = table("instruments").row(instrument=key, quantity="share of full scale").number("high")
    scale = part.full_scale.value
    needle = part.spread.value if part.spread else rule("gauge-needle") * scale
    above = part.gauge_above_point
    near = instrument_figure(None, "tape", "short height")
    density = table("survey_rules").row("water-density").figure.estimate()
    return survey.gauge_height(
        survey.GaugeReadings(
            run.label,
            *points.ends(part.point, part.water, run),
            tuple(reading.value for reading in part.readings),
            survey.PressureGauge(scale, limit * _PERCENT, needle),
            Estimate(0.0, near) if above is None else above.estimate(default_sd=near),
            zero=value_of(part.zero),
            air_purged=part.air_purged,
        ),
        density=density,
        least_share=rule("gauge-least-share"),
        significance=rule("significance"),
    )


def _raised_pipe(run: Run, points: _Points) -> survey.WaterHeight:
    part = run.part
    assert isinstance(part, sheet.RaisedPipe)
    sd = part.spread.value if part.spread else instrument_figure(None, "raised-pipe", "height")
    held = part.held_back
    return survey.raised_pipe(
        survey.RaisedPipe(
            run.label,
            *points.ends(part.point, part.water, run),
            tuple(reading.value for reading in part.stopped),
            sd,
            started=tuple(reading.value for reading in part.started),
            held_back=None if held is None else held.estimate(default_sd=abs(held.value)),
        ),
        significance=rule("significance"),
    )


def _tape(run: Run, points: _Points) -> survey.TapedOffset:
    part = run.part
    assert isinstance(part, sheet.Tape)
    height = part.height.estimate(default_sd=instrument_figure(None, "tape", "short height"))
    return survey.TapedOffset(*points.ends(part.start, part.end, run), height, run.label)


_MAKERS = {
    "level_book": _level_book,
    "hand_level": _hand_level,
    "abney": _abney,
    "hose": _hose,
    "gauge": _gauge,
    "raised_pipe": _raised_pipe,
    "tape": _tape,
}
