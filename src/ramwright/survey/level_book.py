"""A level book: booking, reduction two ways, the arithmetic check, and how it closes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from ramwright.errors import InputError
from ramwright.survey._checks import finite, not_negative, positive
from ramwright.survey.consistency import Judging
from ramwright.survey.findings import Finding, found
from ramwright.survey.level_net import HeightDifference, HeightNet, adjust_heights
from ramwright.survey.level_sights import SightSpread
from ramwright.survey.points import LevelPoint


@dataclass(frozen=True, slots=True)
class BookRow:
    """One line of the book: one place the staff stood.

    ``backsight``, ``intermediate``, ``foresight`` staff readings in m (below nought for a staff held upside
    down); ``distance`` m from the level to the staff for the intermediate sight or foresight,
    ``backsight_distance`` for the backsight; ``booked_level`` m, what the booker worked out, if anything;
    ``line`` in the file. A change point has a foresight and a backsight on one row.
    """

    point: LevelPoint
    backsight: float | None = None
    intermediate: float | None = None
    foresight: float | None = None
    distance: float | None = None
    backsight_distance: float | None = None
    booked_level: float | None = None
    line: int | None = None


@dataclass(frozen=True, slots=True)
class LevelBook:
    """A book of one run with one instrument; ``label`` names it (who, which line)."""

    label: str
    rows: tuple[BookRow, ...]
    sight: SightSpread


@dataclass(frozen=True, slots=True)
class Sight:
    """One reading with its set-up: ``reading`` m with the known tilt taken out, ``sd`` m, ``length`` m or
    None.

    ``turn`` is +1 for a backsight, -1 for a foresight, 0 for an intermediate sight.
    """

    setup: int
    point: LevelPoint
    reading: float
    sd: float
    length: float | None
    turn: int


@dataclass(frozen=True, slots=True)
class RowLevel:
    """A row reduced: ``rise`` (m) from the row before, a fall below nought, None on the first row;
    ``collimation`` (m) the level of the line of sight it was read from; ``level`` (m).
    """

    point: LevelPoint
    rise: float | None
    collimation: float
    level: float


@dataclass(frozen=True, slots=True)
class ArithmeticCheck:
    """The sums that must agree (m): backsights less foresights, rises less falls, last level less first."""

    sum_backsights: float
    sum_foresights: float
    sum_rises: float
    sum_falls: float
    first_level: float
    last_level: float

    @property
    def differences(self) -> tuple[float, float, float]:
        """The three differences, in m, in the order named above."""
        return (
            self.sum_backsights - self.sum_foresights,
            self.sum_rises - self.sum_falls,
            self.last_level - self.first_level,
        )

    def agrees(self, tolerance: float) -> bool:
        """Whether the three are within ``tolerance`` (m) of each other."""
        low, high = min(self.differences), max(self.differences)
        return high - low <= tolerance


@dataclass(frozen=True, slots=True)
class BookReduction:
    """A reduced book: a level for each row, the check, the sights for adjusting, and what was noticed.

    ``length`` m is the sum of all sights' lengths, None when any was not booked.
    """

    label: str
    rows: tuple[RowLevel, ...]
    check: ArithmeticCheck
    sights: tuple[Sight, ...]
    setups: int
    length: float | None
    findings: tuple[Finding, ...]

    @property
    def height(self) -> float:
        """Highest less lowest level of the book, m."""
        levels = [row.level for row in self.rows]
        return max(levels) - min(levels)

    def legs(self) -> list[HeightDifference]:
        """The book as differences of level for a network: each set-up's line of sight is a point of its
        own.
        """
        return [
            HeightDifference(
                f"{self.label}#{sight.setup}", sight.point.key, -sight.reading, sight.sd, self.label
            )
            for sight in self.sights
        ]


class AllowanceKind(StrEnum):
    """What an allowed misclosure grows with."""

    PER_ROOT_KM = "per_root_km"
    PER_ROOT_SETUP = "per_root_setup"
    SHARE_OF_HEIGHT = "share_of_height"


@dataclass(frozen=True, slots=True)
class Allowance:
    """An allowed misclosure: ``k`` m per root of a kilometre, m per root of a set-up, or share of the
    height.
    """

    kind: AllowanceKind
    k: float

    def __post_init__(self) -> None:
        positive("k", self.k)

    def allowed(self, *, length: float | None, setups: int, height: float) -> float | None:
        """The allowed misclosure (m) of a run; None when it needs a length (m) that was not booked.

        k sqrt(km), k sqrt(set-ups) or k x height (m). Standard practice; the figures for k are rows of the
        catalogue.
        """
        if self.kind is AllowanceKind.PER_ROOT_KM:
            return None if length is None else self.k * math.sqrt(length / 1000.0)
        if self.kind is AllowanceKind.PER_ROOT_SETUP:
            return self.k * math.sqrt(setups)
        return self.k * abs(height)


@dataclass(frozen=True, slots=True)
class Misclosure:
    """How a book closes: ``value`` m by which it misses, ``allowed`` m or None, ``within`` None when not
    judged.
    """

    value: float
    allowed: float | None
    within: bool | None
    findings: tuple[Finding, ...]


def reduce_book(
    book: LevelBook, *, start_level: float, booking_tolerance: float | None = None
) -> BookReduction:
    """Reduce a book by rise and fall and by height of collimation at once.

    Rise = reading before - this reading in the same set-up; collimation = level + backsight; level =
    collimation - reading. Both give the same levels; the three sums of the check must agree.
    ``start_level`` m of the first point. With ``booking_tolerance`` (m) the booker's own levels are
    compared step by step, so that a slip is named where it happened and not on every row after.

    Raises ``InputError``: no rows, no first backsight, a row without a reading or with two, a turn without a
    backsight or a backsight without a foresight before it, a reading that is not a number.
    """
    finite("start_level", start_level)
    sights = _sights(book)
    rows, rises = _levels(book, sights, start_level)
    lengths = [sight.length for sight in sights]
    booked = [length for length in lengths if length is not None]
    findings: list[Finding] = []
    if book.rows[-1].foresight is None:
        findings.append(found("book_ends_on_intermediate", book.label))
    if book.sight.tilt != 0.0 and len(booked) < len(lengths) and book.sight.usual_length is None:
        findings.append(found("tilt_not_corrected", book.label, tilt_rad=book.sight.tilt))
    findings += _slips(book, rows, booking_tolerance) + _unequal(book, sights)
    check = ArithmeticCheck(
        sum_backsights=math.fsum(sight.reading for sight in sights if sight.turn > 0),
        sum_foresights=math.fsum(sight.reading for sight in sights if sight.turn < 0),
        sum_rises=math.fsum(rise for rise in rises if rise > 0.0),
        sum_falls=-math.fsum(rise for rise in rises if rise < 0.0),
        first_level=rows[0].level,
        last_level=rows[-1].level,
    )
    length = math.fsum(booked) if len(booked) == len(lengths) else None
    return BookReduction(
        book.label, tuple(rows), check, tuple(sights), sights[-1].setup + 1, length, tuple(findings)
    )


def _levels(
    book: LevelBook, sights: Sequence[Sight], start_level: float
) -> tuple[list[RowLevel], list[float]]:
    """Rows by height of collimation, and the rises (falls below nought) reading by reading."""
    rows: list[RowLevel] = []
    rises: list[float] = []
    level = collimation = start_level
    before = 0.0
    used = iter(sights)
    for row in book.rows:
        rise = None
        if rows:
            reading = next(used).reading
            rise = before - reading
            rises.append(rise)
            level = collimation - reading
            before = reading
        here = RowLevel(row.point, rise, collimation, level)
        if row.backsight is not None:
            before = next(used).reading
            collimation = level + before
        rows.append(here if rise is not None else RowLevel(row.point, None, collimation, level))
    return rows, rises


def book_misclosure(
    reduction: BookReduction, *, allowance: Allowance, end_level: float | None = None
) -> Misclosure | None:
    """How the book closes, on its own start when it ends there, or on a known ``end_level`` (m).

    Misclosure = level reduced - level known, m. None for a book that ends elsewhere: nothing checks it, and
    ``survey`` says so (finding ``book_open``) where the facts are made.
    """
    last = reduction.rows[-1]
    if end_level is None:
        if last.point != reduction.rows[0].point:
            return None
        end_level = reduction.rows[0].level
    missed = last.level - finite("end_level", end_level)
    allowed = allowance.allowed(length=reduction.length, setups=reduction.setups, height=reduction.height)
    if allowed is None:
        note = found("misclosure_not_judged", reduction.label, misclosure_m=missed)
        return Misclosure(missed, None, None, (note,))
    within = abs(missed) <= allowed
    code = "misclosure_within" if within else "misclosure_beyond"
    note = found(code, reduction.label, misclosure_m=missed, allowed_m=allowed)
    return Misclosure(missed, allowed, within, (note,))


def adjust_book(
    reduction: BookReduction, *, start_level: float, end_level: float | None = None, judging: Judging
) -> HeightNet:
    """Levels of a book with its misclosure spread over the set-ups by least squares, with their spreads.

    Held are the first point at ``start_level`` and, on a line between known levels, the last at
    ``end_level`` (m). Sights of one spread share it evenly by set-up; spreads that grow with the root of
    the length share it by length. Raises ``InputError``.
    """
    first, last = reduction.rows[0].point.key, reduction.rows[-1].point.key
    fixed = {first: start_level}
    if end_level is not None and last != first:
        fixed[last] = end_level
    return adjust_heights(reduction.legs(), fixed=fixed, judging=judging)


def _sights(book: LevelBook) -> list[Sight]:
    """All readings in the order taken, each with the set-up it was taken from; refuses a book that cannot
    be one.
    """
    if not book.rows:
        raise InputError("survey_book_empty", field=book.label)
    out: list[Sight] = []
    setup = -1
    for i, row in enumerate(book.rows):
        _check_row(book, i, row)
        ahead = row.foresight if row.foresight is not None else row.intermediate
        if ahead is not None:
            closes = row.foresight is not None or i == len(book.rows) - 1
            out.append(_sight(book, i, setup, reading=ahead, length=row.distance, turn=-1 if closes else 0))
        if row.backsight is not None:
            setup += 1
            out.append(_sight(book, i, setup, reading=row.backsight, length=row.backsight_distance, turn=1))
    return out


def _sight(book: LevelBook, i: int, setup: int, *, reading: float, length: float | None, turn: int) -> Sight:
    where = f"{book.label}[{i}]"
    finite(where, reading, line=book.rows[i].line)
    if length is not None:
        not_negative(f"{where}.distance", length, line=book.rows[i].line)
    metres = length if length is not None else book.sight.usual_length
    level = reading - book.sight.tilt * (metres or 0.0)
    return Sight(setup, book.rows[i].point, level, book.sight.sd(length), length, turn)


def _check_row(book: LevelBook, i: int, row: BookRow) -> None:
    def refuse(code: str) -> InputError:
        return InputError(code, field=f"{book.label}[{i}]", value=row.point.place, line=row.line)

    last = i == len(book.rows) - 1
    if i == 0:
        if row.backsight is None:
            raise refuse("survey_book_no_backsight")
        if row.foresight is not None or row.intermediate is not None:
            raise refuse("survey_book_starts_twice")
        if last:
            raise refuse("survey_book_no_second_row")
        return
    if row.foresight is None and row.intermediate is None:
        raise refuse("survey_book_row_unread" if row.backsight is None else "survey_book_turn_unread")
    if row.foresight is not None and row.intermediate is not None:
        raise refuse("survey_book_row_two_sights")
    if row.intermediate is not None and row.backsight is not None:
        raise refuse("survey_book_turn_unread")
    if row.foresight is not None and row.backsight is None and not last:
        raise refuse("survey_book_turn_without_backsight")
    if last and row.backsight is not None:
        raise refuse("survey_book_ends_on_backsight")


def _slips(book: LevelBook, rows: Sequence[RowLevel], tolerance: float | None) -> list[Finding]:
    if tolerance is None:
        return []
    out: list[Finding] = []
    offset: float | None = None
    for i, (row, reduced) in enumerate(zip(book.rows, rows, strict=True)):
        if row.booked_level is None:
            continue
        finite(f"{book.label}[{i}].booked_level", row.booked_level, line=row.line)
        now = row.booked_level - reduced.level
        if offset is not None and abs(now - offset) > tolerance:
            out.append(
                found(
                    "booked_level_differs",
                    row.point.place,
                    names=(book.label,),
                    booked_m=row.booked_level,
                    reduced_m=reduced.level,
                    step_difference_m=now - offset,
                )
            )
        offset = now
    return out


def _unequal(book: LevelBook, sights: Sequence[Sight]) -> list[Finding]:
    """A tilted line of sight cancels where backsights and foresights are alike in length; say what is
    left.
    """
    turns = [sight for sight in sights if sight.turn]
    if any(sight.length is None for sight in turns):
        return []
    total = math.fsum(sight.turn * (sight.length or 0.0) for sight in turns)
    error = abs(total) * book.sight.tilt_sd
    if error <= book.sight.reading_sd:
        return []
    return [found("sights_unequal", book.label, difference_of_lengths_m=total, possible_error_m=error)]
