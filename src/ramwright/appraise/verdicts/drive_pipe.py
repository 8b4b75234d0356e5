"""The drive pipe: its length, humps and suction, what it holds, how it lasts, and how it is held."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ramwright.appraise.drive_line import YEAR_S
from ramwright.appraise.strength import Pressures, Strength
from ramwright.appraise.verdict import Verdict
from ramwright.appraise.verdicts.case import Case, Rule, against, computed, practised, rule
from ramwright.catalogue import Mark, Row, table
from ramwright.hydraulics.fatigue import swing_against_rating
from ramwright.hydraulics.water import STANDARD_GRAVITY

_RATING = "the pipe's rating in the catalogue"


def drive_length(c: Case) -> Iterator[Verdict]:
    """Drive pipe outside every length practice names; never red: the engine shows what it costs."""
    length, bore = c.i.drive_length, c.i.drive_pipe[-1].bore
    ratios = (("length over bore", length / bore), ("length over fall", length / c.i.fall.value))
    for what, ratio in ratios:
        rows = table("drive_length_rules").where(ratio=what)
        least, most = min(r.number("low") for r in rows), max(r.number("high") for r in rows)
        if not least <= ratio <= most:
            said = tuple(
                f"{r.number('low'):g}-{r.number('high'):g} ({r.provenance.source.text})" for r in rows
            )
            limit = least if ratio < least else most
            code = f"{what.replace(' ', '_')}_outside"
            numbers = {"ratio": ratio, "least": least, "most": most, "said": said}
            yield Verdict(code, "amber", "drive_pipe", numbers, limit, "handbooks that disagree", Mark.MEMORY)


def no_siphon(c: Case) -> Iterator[Verdict]:
    """The drive pipe never climbs over the water it starts from, and its tank is open to the air."""
    drive, tank = c.layout.drive, c.layout.site.drive_tank
    row = table("air_sweeping").row(rule="wisner", coefficient="constant")
    if drive.laid.surveyed and drive.above_water > 0.0:
        yield Verdict(
            "drive_pipe_siphon",
            "red",
            "profiles.drive_pipe",
            {"over": drive.above_water},
            0.0,
            "common practice",
            Mark.PRACTICE,
        )
    elif any(hump.velocity < hump.needed for hump in drive.humps):
        hump = max(drive.humps, key=lambda h: h.needed - h.velocity)
        yield against(
            row,
            "drive_pipe_hump",
            "amber",
            "profiles.drive_pipe",
            hump.needed,
            station=hump.turn.station,
            depth=hump.turn.depth,
            velocity=hump.velocity,
            needed=hump.needed,
        )
    elif drive.humps:
        hump = max(drive.humps, key=lambda h: h.turn.depth)
        yield against(
            row,
            "drive_pipe_hump_swept",
            "note",
            "profiles.drive_pipe",
            hump.needed,
            station=hump.turn.station,
            depth=hump.turn.depth,
            velocity=hump.velocity,
        )
    if tank is not None and tank.lid == "sealed":
        yield practised("drive_tank_sealed", "red", "drive_tank.lid")


def suction(c: Case) -> Iterator[Verdict]:
    """Where the running water is under less than the air's pressure before the waste valve even shuts."""
    drive = c.layout.drive
    if drive.grade is None or not drive.laid.surveyed:
        return
    heads = drive.grade.pressure_head
    lowest = int(heads.argmin())
    if heads[lowest] < -1e-6:
        yield computed(
            "drive_pipe_suction",
            "amber",
            "profiles.drive_pipe",
            0.0,
            station=float(drive.grade.stations[lowest]),
            head=float(heads[lowest]),
        )


def pressure(c: Case) -> Iterator[Verdict]:
    """Pipe against its class: the beat's peak and the head when the delivery is shut off."""
    held = c.layout.drive.pressures
    if held is None:
        return
    for each, peak, shut in zip(held.strengths, held.peaks, held.shut, strict=True):
        about, name = each.piece.field, each.piece.name
        if peak > each.pipe:
            numbers: dict[str, object] = {"pipe": name, "head": peak, "rated": each.pipe}
            yield Verdict("peak_over_class", "red", about, numbers, each.pipe, _RATING, _mark(each))
        elif shut > each.pipe:
            numbers = {"pipe": name, "head": shut, "rated": each.pipe}
            yield Verdict("shutoff_over_class", "amber", about, numbers, each.pipe, _RATING, _mark(each))
    yield from joints(held, "drive")


def _mark(each: Strength) -> Mark:
    return each.piece.pipe.rating_provenance.mark if each.piece.pipe is not None else Mark.DERIVED


def joints(held: Pressures, line: str) -> Iterator[Verdict]:
    """Joints against what they hold; ``line`` is "drive" or "delivery"."""
    for each, peak, shut in zip(held.strengths, held.peaks, held.shut, strict=True):
        figure, kind, about = each.joint_figure, each.piece.joint, f"{each.piece.field}.joint"
        if figure is None or kind is None:
            continue
        if each.joint <= 0.0:
            yield against(figure, "thread_cut_in_plastic", "red", about, 0.0, pipe=each.piece.name)
        elif peak > each.joint:
            yield against(
                figure,
                "joint_too_weak",
                "red",
                about,
                each.joint,
                joint=kind.title,
                head=peak,
                holds=each.joint,
            )
        elif peak > each.joint_low:
            yield against(
                figure,
                "joint_doubtful",
                "amber",
                about,
                each.joint_low,
                joint=kind.title,
                head=peak,
                holds=each.joint_low,
            )
        elif line == "drive" and shut > each.joint:
            yield against(
                figure,
                "joint_weak_shut_off",
                "amber",
                about,
                each.joint,
                joint=kind.title,
                head=shut,
                holds=each.joint,
            )
        if line == "drive" and kind.shock == "poor" and each.joint > 0.0:
            yield against(figure, "joint_takes_no_shock", "amber", about, each.joint, joint=kind.title)
        if line == "drive" and kind.pull_out == "no":
            yield against(figure, "joint_pulls_out", "amber", about, each.joint, joint=kind.title)


def plastic_drive_pipe(c: Case) -> Iterator[Verdict]:
    """A plastic drive pipe gives way to the surge: it lifts less, and its joints are worked hard."""
    soft = [s for s in c.i.drive_pipe if s.plastic]
    if soft:
        beats = c.p.beats_per_min.likely if c.p.beats_per_min else 60.0
        yield computed(
            "plastic_drive_pipe", "note", soft[0].field, pipe=soft[0].name, millions_a_year=beats * 0.5256
        )


def fatigue(c: Case) -> Iterator[Verdict]:
    """How long plastic lasts under every beat, by published tests that stop short of it and disagree."""
    wanted = rule("years-wanted").number("likely") / YEAR_S
    for field in dict.fromkeys(life.piece.field for life in c.layout.drive.lives):
        lives = sorted(
            (life for life in c.layout.drive.lives if life.piece.field == field),
            key=lambda life: life.life.years,
        )
        least, most = lives[0].life.years, lives[-1].life.years
        if least < wanted:
            yield against(
                lives[0].source,
                "plastic_tires",
                "red" if most < 1.0 else "amber",
                field,
                wanted,
                pipe=lives[0].piece.name,
                least=least,
                most=most,
                wanted=wanted,
            )
    yield from _worked(c)


def _worked(c: Case) -> Iterator[Verdict]:
    """Swing and peak of each beat against the rating, by the rules for pipe that is worked."""
    peak, low = c.p.peak_head, c.p.lowest_head
    held = c.layout.drive.pressures
    if peak is None or low is None or held is None:
        return
    weight = c.i.water.density * STANDARD_GRAVITY
    for each in held.strengths:
        rows = table("fatigue_rules").where(family=each.piece.family)
        swing, top = _shares(rows, "swing over static rating"), _shares(rows, "peak over static rating")
        if not each.piece.plastic or swing is None or top is None or not 0.0 < each.pipe < math.inf:
            continue
        found = swing_against_rating(
            peak_pressure=peak.high * weight,
            lowest_pressure=min(low.low, peak.high) * weight,
            rating=each.pipe * weight,
            swing_share=swing.number("likely"),
            peak_share=top.number("likely"),
        )
        if not found.ok:
            row = swing if found.code == "cyclic_swing" else top
            yield against(
                row,
                "plastic_worked_hard",
                "amber",
                each.piece.field,
                found.limit,
                pipe=each.piece.name,
                pressure=found.number,
                limit=found.limit,
            )


def _shares(rows: tuple[Row, ...], what: str) -> Row | None:
    found = [row for row in rows if row.text("what") == what]
    return min(found, key=lambda row: row.number("likely")) if found else None


RULES: tuple[Rule, ...] = (no_siphon, pressure, suction, drive_length, fatigue, plastic_drive_pipe)
