"""Moments of the beat, found in a trace: when each valve moves and when the flow turns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

#: Moments of one beat in the order they usually come.
MOMENTS = (
    "closing", "shut", "delivery_opens", "delivery_shuts", "turns_back", "opens", "wide_open",
)  # fmt: skip
_NEEDED = ("time", "opening", "drive", "delivery")
#: Shares of the stroke and of the largest flow below which a trace counts as "at the stop" and "none".
_STOP, _SEAT, _FLOW = 1e-3, 1e-6, 1e-3


class Event(NamedTuple):
    """One moment: when (s, on the trace's clock), its number within the beat from 1, and which it is."""

    time_s: float
    number: int
    key: str


def find_events(trace: Mapping[str, Array], *, stroke: float | None = None) -> tuple[Event, ...]:
    """Moments of every beat in a trace, in the order of time; none if the ram does not beat.

    ``trace``: arrays of shape (n,) under at least ``time`` (s), ``opening`` (m), ``drive`` and
    ``delivery`` (m3/s), as in ``run.Beat.trace``; rows that are not finite are passed over.
    ``stroke``: full travel of the waste valve, m; default the widest opening in the trace.

    Keys are those of ``MOMENTS``: the waste valve leaves its stop and goes on to shut (``closing``),
    reaches its seat (``shut``); the delivery valve first passes water (``delivery_opens``) and last
    does while the waste valve is shut (``delivery_shuts``); the flow at the ram first runs backwards
    (``turns_back``); the waste valve leaves its seat for good (``opens``) and reaches its stop, or its
    widest if it falls short of that (``wide_open``). Leaving the seat for less than half the stroke is
    a bounce, not a beat. Numbers follow the order of the fullest beat, so they rise with time within it;
    a moment keeps its number in every beat. What lies outside the trace is left out.
    """
    rows = {name: np.asarray(trace[name], dtype=np.float64) for name in _NEEDED}
    good = np.logical_and.reduce([np.isfinite(values) for values in rows.values()])
    rows = {name: values[good] for name, values in rows.items()}
    opening = rows["opening"]
    full = float(stroke if stroke is not None else opening.max(initial=0.0))
    if not full > 0.0:
        return ()
    beats = [
        {**_closing(opening, full, spell), **_delivering(rows, spell), **_opening(rows, full, spell)}
        for spell in _shut_spells(opening, full)
    ]
    fullest = max(beats, key=len, default={})
    keys = list(dict.fromkeys([*sorted(fullest, key=lambda key: fullest[key]), *MOMENTS]))
    return tuple(
        sorted(
            Event(float(rows["time"][row]), keys.index(key) + 1, key)
            for beat in beats
            for key, row in beat.items()
        )
    )


class _Spell(NamedTuple):
    """One spell with the waste valve shut, in rows.

    ``before``: where the open spell before it begins; ``shut``: where it seats (0 if the trace begins
    shut); ``left``: where it leaves the seat for good; ``until``: where it next seats. n stands for a row
    beyond the end of the trace.
    """

    before: int
    shut: int
    left: int
    until: int


def _shut_spells(opening: Array, full: float) -> list[_Spell]:
    """Spells with the waste valve shut that follow, or end in, an opening of at least half the stroke."""
    n = len(opening)
    wide, seated = opening >= 0.5 * full, opening <= _SEAT * full
    known = np.flatnonzero(wide | seated)
    is_wide = wide[known]
    turns = np.flatnonzero(np.diff(is_wide.astype(np.int8))) + 1
    shuts = [int(known[k]) for k in turns if not is_wide[k]]
    # from the last row on the seat before it stands half open
    leaves = [int(known[k - 1]) + 1 for k in turns if is_wide[k]]
    if len(turns) and not is_wide[0]:
        shuts.insert(0, 0)
    spells = []
    for i, shut in enumerate(shuts):
        before = max((row for row in leaves if row <= shut), default=0)
        left = min((row for row in leaves if row > shut), default=n)
        spells.append(_Spell(before, shut, left, shuts[i + 1] if i + 1 < len(shuts) else n))
    return spells


def _widest(opening: Array, full: float, start: int, end: int) -> NDArray[np.intp]:
    """Rows from ``start`` to ``end`` at which the valve stands at its stop, or at its widest."""
    spell = opening[start:end]
    rows: NDArray[np.intp] = start + np.flatnonzero(spell >= spell.max(initial=0.0) - _STOP * full)
    return rows


def _closing(opening: Array, full: float, spell: _Spell) -> dict[str, int]:
    """When the waste valve leaves its stop, and when it reaches its seat."""
    if spell.shut == 0:
        return {}
    at_stop = int(_widest(opening, full, spell.before, spell.shut)[-1])
    return {"closing": at_stop, "shut": spell.shut} if at_stop > 0 else {"shut": spell.shut}


def _delivering(rows: dict[str, Array], spell: _Spell) -> dict[str, int]:
    """When the delivery valve first passes water, and last does, until the waste valve opens."""
    delivery = rows["delivery"]
    flows = delivery > _FLOW * delivery.max(initial=0.0)
    # it may lift while the waste valve still has a hair to go
    quiet = np.flatnonzero(~flows[: spell.shut])
    begin = int(quiet[-1]) + 1 if len(quiet) else 0
    passing = begin + np.flatnonzero(flows[begin : spell.left])
    if not len(passing):
        return {}
    found = {"delivery_opens": int(passing[0])} if passing[0] > 0 else {}
    return found | ({"delivery_shuts": int(passing[-1]) + 1} if passing[-1] + 1 < len(delivery) else {})


def _opening(rows: dict[str, Array], full: float, spell: _Spell) -> dict[str, int]:
    """When the flow turns back, and when the waste valve leaves its seat and stands wide open."""
    opening, drive, n = rows["opening"], rows["drive"], len(rows["time"])
    back = np.flatnonzero(drive[spell.shut : spell.until] < -_FLOW * np.abs(drive).max(initial=0.0))
    found = {"turns_back": spell.shut + int(back[0])} if len(back) else {}
    if spell.left == n:
        return found
    found["opens"] = spell.left
    widest = int(_widest(opening, full, spell.left, spell.until)[0])
    if spell.until < n or opening[widest] >= (1.0 - _STOP) * full:
        found["wide_open"] = widest
    return found
