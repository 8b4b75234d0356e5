"""What is not held: a ram that moves, bends that push, pipe that hangs too far."""

from __future__ import annotations

from collections.abc import Iterator

from ramwright.appraise.verdict import Grade, Verdict
from ramwright.appraise.verdicts.case import Case, Rule, against, computed, rule
from ramwright.catalogue import table


def not_held(c: Case) -> Iterator[Verdict]:
    """Ram and pipe end that move with each beat, what that costs, and the weight that would hold them."""
    site, held = c.layout.site, c.layout.held
    about = "ram.mount" if site.ram is not None and site.ram.mount is not None else "drive_pipe_support"
    if c.i.mount is not None:
        loss = held.loss(c.p)
        grade: Grade = "note" if loss is not None and loss < 0.01 else "amber"
        yield computed("not_held", grade, about, loss=loss if loss is not None else 0.0)
    unsaid = site.drive_pipe_support is None
    if held.thrusts and (c.i.mount is not None or unsaid):
        end = next(t for t in held.thrusts if t.point.bend_angle is None)
        row = rule("ground-friction")
        about_thrust = "drive_pipe" if unsaid else "drive_pipe_support"
        yield against(
            row,
            "thrust_at_ram",
            "note",
            about_thrust,
            end.holding.mass,
            force=end.force,
            mass=end.holding.mass,
        )
        bends = [t for t in held.thrusts if t.point.bend_angle is not None]
        if bends:
            worst = bends[0]
            yield against(
                row,
                "thrust_at_bend",
                "note",
                "drive_pipe",
                worst.holding.mass,
                angle=worst.point.bend_angle,
                force=worst.force,
                mass=worst.holding.mass,
            )


def spans(c: Case) -> Iterator[Verdict]:
    """Pipe that hangs further than practice lets it; of a drive pipe the shortest rule counts."""
    for pieces, shortest in ((c.i.supply_pipe, False), (c.i.drive_pipe, True), (c.i.delivery_line, False)):
        for piece in pieces:
            rows = [
                row
                for row in table("support_spans").where(family=piece.family)
                if row.number("dn_from") - 1.0 <= piece.bore * 1000.0 <= row.number("dn_to") * 1.1
            ]
            if piece.supports_every is None or not rows:
                continue
            longest = [(row.maybe("high") or row.number("likely"), row.line, row) for row in rows]
            most, _, row = min(longest) if shortest else max(longest)
            if piece.supports_every > most:
                yield against(
                    row,
                    "span_too_long",
                    "amber",
                    f"{piece.field}.supports_every",
                    most,
                    pipe=piece.name,
                    span=piece.supports_every,
                    limit=most,
                )


RULES: tuple[Rule, ...] = (not_held, spans)
