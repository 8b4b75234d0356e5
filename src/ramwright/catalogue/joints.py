"""What holds pipe together: the pressure each joint takes, and the weakest part of a line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from ramwright.catalogue.lookup import find_row
from ramwright.catalogue.materials import material, rating_at
from ramwright.catalogue.pipes import Pipe
from ramwright.catalogue.provenance import Figure
from ramwright.errors import InputError


@dataclass(frozen=True, slots=True)
class Joint:
    """A kind of joint.

    ``holds`` is a pressure in Pa where ``basis`` is ``pressure``; the share of the pipe's rating where it
    is ``rating``; the share of the rating times the pipe's thread factor where it is ``threaded``.
    ``pull_out``: whether it resists the end thrust (``yes``, ``partly``, ``no``). ``shock``: how it takes
    knocks every second for years (``good``, ``fair``, ``poor``).
    """

    key: str
    title: str
    families: tuple[str, ...]
    basis: str
    holds: Figure
    pull_out: str
    shock: str


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a line and the pressure it holds, Pa: ``"pipe"`` or the key of a joint."""

    part: str
    holds: Figure


@cache
def joint(key: str) -> Joint:
    """The joint called ``key``, or by words for it; ``InputError`` with the closest names if none."""
    row = find_row("joints", key, field="joint")
    return Joint(
        row.text("joint"),
        row.text("title"),
        tuple(row.text("families").split()),
        row.text("basis"),
        row.figure,
        row.text("pull_out"),
        row.text("shock"),
    )


def pipe_pressure(pipe: Pipe, *, temperature_c: float | None = None) -> Figure:
    """Working pressure of the pipe's wall, Pa; at the temperature of its rating when none is given."""
    rating = pipe.rating_pa if temperature_c is None else rating_at(pipe, temperature_c)
    return Figure(rating, rating, rating, "pa", pipe.rating_provenance)


def joint_pressure(kind: Joint, pipe: Pipe, *, temperature_c: float | None = None) -> Figure:
    """The pressure, Pa, that a joint of ``kind`` holds on ``pipe``; 0 where the pipe must not be threaded.

    A joint that holds a stated pressure is not weakened by warmth here. Raises ``LimitError`` when the
    pipe is too warm for its table.
    """
    if kind.basis == "pressure":
        return kind.holds
    rating = pipe_pressure(pipe, temperature_c=temperature_c).likely
    share = pipe.thread_factor if kind.basis == "threaded" else 1.0
    return kind.holds.scaled(rating * share, "pa")


def parts(
    pipe: Pipe, joints: Iterable[Joint | str], *, temperature_c: float | None = None
) -> tuple[Part, ...]:
    """The pipe and its joints with what each holds, weakest first.

    The order is by likely pressure, then by low, then as given. Raises ``InputError`` when a joint is not
    known or is not used on this pipe.
    """
    found = [Part("pipe", pipe_pressure(pipe, temperature_c=temperature_c))]
    family = material(pipe.material).family
    for each in joints:
        kind = joint(each) if isinstance(each, str) else each
        if family not in kind.families:
            raise InputError("joint_not_for_pipe", field="joint", value=kind.key, pipe=pipe.name)
        found.append(Part(kind.key, joint_pressure(kind, pipe, temperature_c=temperature_c)))
    return tuple(sorted(found, key=lambda part: (part.holds.likely, part.holds.low)))


def weakest(pipe: Pipe, joints: Iterable[Joint | str], *, temperature_c: float | None = None) -> Part:
    """The part of the line that holds least: the pipe or one of its joints. Raises like :func:`parts`."""
    return parts(pipe, joints, temperature_c=temperature_c)[0]
