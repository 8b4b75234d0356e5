"""The delivery line: friction and velocity, air shut in, what it holds, frost, and its way."""

from __future__ import annotations

import math
from collections.abc import Iterator

from ramwright.appraise.verdict import Grade, Verdict
from ramwright.appraise.verdicts.case import SHEET, Case, Rule, against, computed, rule
from ramwright.appraise.verdicts.drive_pipe import joints
from ramwright.catalogue import Mark, material, table

_RATING = "the pipe's rating in the catalogue"


def thin(c: Case) -> Iterator[Verdict]:
    """Friction that eats the lift, water too fast for the pipe, or too slow to keep it clean."""
    delivery = c.layout.delivery
    if delivery.flow <= 0.0:
        return
    row = table("residual_heads").row("delivery-friction-share")
    most = row.number("high")
    share = delivery.friction / c.i.lift.value
    if share > most:
        yield against(
            row,
            "delivery_friction",
            "amber",
            "delivery_line",
            most,
            friction=delivery.friction,
            share=share,
            limit=most,
        )
    window = table("velocity_windows").row(line="delivery", rule="window")
    slow, fast = window.number("low"), window.number("high")
    quickest, laziest = max(delivery.velocities), min(delivery.velocities)
    if quickest > fast:
        piece = delivery.laid.pieces[delivery.velocities.index(quickest)]
        yield against(
            window,
            "delivery_fast",
            "amber",
            piece.field,
            fast,
            pipe=piece.name,
            velocity=quickest,
            limit=fast,
        )
    elif laziest < slow:
        piece = delivery.laid.pieces[delivery.velocities.index(laziest)]
        yield against(
            window, "delivery_slow", "note", piece.field, slow, pipe=piece.name, velocity=laziest, limit=slow
        )


def filling(c: Case) -> Iterator[Verdict]:
    """Air shut in behind the summits of a line that dips: what it costs, or that it stops the ram."""
    delivery = c.layout.delivery
    found = delivery.filling
    if found is None or delivery.air_head <= 0.0:
        return
    run = delivery.against_air
    about = "profiles.delivery_line"
    row = table("air_sweeping").row(rule="wisner", coefficient="constant")
    costliest = max(found.pockets, key=lambda pocket: pocket.lost_head)
    numbers: dict[str, object] = {"head": delivery.air_head, "station": costliest.summit}
    if run is None or not run.delivery > 0.0:
        yield computed("delivery_air_blocks", "red", about, delivery.air_head, **numbers)
        return
    loss = max(0.0, 1.0 - run.delivery / c.p.middle.delivery) if c.p.middle.delivery > 0.0 else 0.0
    yield computed("delivery_air_shut_in", "amber", about, delivery.air_head, **numbers, share=loss)
    stay = [p for p in found.pockets if _velocity(c, p.summit) < p.sweeping_velocity]
    if stay:
        worst = max(stay, key=lambda p: p.lost_head)
        yield against(
            row,
            "delivery_air_stays",
            "note",
            about,
            worst.sweeping_velocity,
            station=worst.summit,
            velocity=_velocity(c, worst.summit),
            needed=worst.sweeping_velocity,
        )


def _velocity(c: Case, station: float) -> float:
    delivery = c.layout.delivery
    ends = delivery.laid.joints[1:]
    return next((v for v, end in zip(delivery.velocities, ends, strict=True) if station < end), 0.0)


def pressure(c: Case) -> Iterator[Verdict]:
    """The line against its class where it lies lowest, and against the head a shut float valve brings."""
    held = c.layout.delivery.pressures
    if held is None:
        return
    tank = c.layout.site.tank
    shuts = tank is not None and tank.float_valve is True
    for each, peak, shut in zip(held.strengths, held.peaks, held.shut, strict=True):
        piece = each.piece
        mark = piece.pipe.rating_provenance.mark if piece.pipe is not None else Mark.DERIVED
        if peak > each.pipe:
            numbers: dict[str, object] = {"pipe": piece.name, "head": peak, "rated": each.pipe}
            yield Verdict("delivery_over_class", "red", piece.field, numbers, each.pipe, _RATING, mark)
        elif shuts and shut > each.weakest:
            numbers = {"pipe": piece.name, "head": shut, "rated": each.weakest}
            yield Verdict("float_valve_over_class", "red", piece.field, numbers, each.weakest, _RATING, mark)
    yield from joints(held, "delivery")


def rating_margin(c: Case) -> Iterator[Verdict]:
    """Plastic pipe below the least rating an agency wants."""
    row = table("ram_limits").row("nrcs-rating")
    least = row.number("low")
    for piece in c.i.delivery_line:
        if piece.plastic and piece.rating is not None and piece.rating < least:
            yield against(
                row,
                "delivery_rating_low",
                "note",
                piece.field,
                least,
                pipe=piece.name,
                rated=piece.rating,
                limit=least,
            )


def frost(c: Case) -> Iterator[Verdict]:
    """Pieces that lie above the depth to which the ground freezes."""
    depth = c.layout.site.site.frost_depth
    if depth is None or depth.value <= 0.0:
        return
    for piece in (*c.i.supply_pipe, *c.i.delivery_line):
        lies = piece.buried if piece.buried is not None else 0.0
        if lies < depth.value:
            splits = material(piece.material).splits_if_frozen
            grade: Grade = "amber" if splits else "note"
            code = "line_freezes_and_splits" if splits else "line_freezes"
            numbers: dict[str, object] = {"pipe": piece.name, "depth": lies, "frost": depth.value}
            yield Verdict(code, grade, piece.field, numbers, depth.value, SHEET)


def way(c: Case) -> Iterator[Verdict]:
    """What does not fit between a line's way, its pipe, and the facts."""
    delivery = c.layout.delivery
    if delivery.laid.length < c.i.lift.value:
        yield Verdict(
            "delivery_shorter_than_lift",
            "amber",
            "delivery_line",
            {"length": delivery.laid.length, "lift": c.i.lift.value},
            c.i.lift.value,
            SHEET,
        )
    off = rule("top-off-lift")
    if delivery.top_off is not None:
        allowed = max(off.number("likely") * c.i.lift.value, 2.0 * c.i.lift.sd)
        if abs(delivery.top_off) > allowed:
            top = c.i.lift.value + delivery.top_off
            yield against(
                off,
                "profile_misses_lift",
                "amber",
                "profiles.delivery_line",
                allowed,
                top=top,
                lift=c.i.lift.value,
            )
    laid = [line.laid for line in (c.layout.supply, c.layout.drive, delivery) if line is not None]
    share = rule("pipe-over-route")
    for line in laid:
        about = f"profiles.{line.name}"
        if line.poor:
            row = table("instruments").row(instrument="phone-gps", quantity="height")
            spread = line.profile.level_sd or row.number("likely")
            yield against(row, "profile_heights_poor", "amber", about, row.number("low"), spread=spread)
        if line.surveyed and not math.isclose(line.length, line.route_length, rel_tol=share.number("likely")):
            yield against(
                share,
                "profile_misses_pipe",
                "note",
                about,
                share.number("likely"),
                pipe=line.length,
                route=line.route_length,
            )


RULES: tuple[Rule, ...] = (pressure, filling, thin, frost, way, rating_margin)
