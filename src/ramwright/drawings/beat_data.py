"""What the picture of the beat is drawn from: traces in SI, moments, and words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from ramwright.drawings.scales import clean, extent, known, same_length

Array = NDArray[np.float64]
Moment = tuple[float, int, str]
_TRACES = ("head", "vessel_head", "drive", "waste", "delivery", "opening")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BeatData:
    """Traces of a few beats, arrays of shape (n,), and the moments in them.

    ``time`` s; ``head`` at the ram and ``vessel_head`` in the air vessel, m above the waste-valve seat;
    ``drive`` (at the ram's end of the drive pipe), ``waste`` and ``delivery`` (into the air vessel), m3/s;
    ``opening`` of the waste valve, m; ``fall`` and ``lift``, m. ``events`` are (time s, number, key), in
    the order of time, as ``ram.events.find_events`` gives them. Not-a-numbers leave a gap.
    Raises ``InputError("picture_lengths_differ")``.
    """

    time: Array
    head: Array
    vessel_head: Array
    drive: Array
    waste: Array
    delivery: Array
    opening: Array
    fall: float
    lift: float
    events: tuple[Moment, ...] = ()

    def __post_init__(self) -> None:
        same_length(time=self.time, **{name: getattr(self, name) for name in _TRACES})

    def moments(self) -> tuple[Moment, ...]:
        """The events whose time is known, in the order of time."""
        return tuple(sorted(event for event in self.events if known(event[0])))

    def columns(self) -> tuple[Array, dict[str, Array]]:
        """Rising times and the traces over them, cleaned of what cannot be drawn."""
        time = clean(self.time)
        rows = np.flatnonzero(np.isfinite(time))
        rows = rows[np.argsort(time[rows], kind="stable")]
        return time[rows], {name: clean(getattr(self, name))[rows] for name in _TRACES}


@dataclass(frozen=True, slots=True, kw_only=True)
class BeatLabels:
    """Words of the picture of the beat; an empty one is left out.

    ``title`` and ``caption`` (one sentence of figures, say) stand on top; ``description`` is what is
    told to someone who cannot see the picture. ``stages`` names the four small views of the ram on top:
    the water speeds up, the valve shuts, water goes into the air vessel, it swings back. ``head``, ``flow``,
    ``opening`` and ``time`` name the axes (the unit is added). ``beats`` and ``closer`` head the two views.
    ``ram_head``, ``vessel_head``, ``lift``, ``fall``, ``drive``, ``waste``, ``delivery`` and ``recoil`` name
    what is drawn; ``open`` stands where the waste valve is open, ``speeding`` in the growing waste flow.
    ``lift``, ``fall`` and ``peak`` may have a blank ``{value}``. ``events`` has the words for each key of
    ``BeatData.events``.
    """

    title: str
    description: str
    head: str
    flow: str
    opening: str
    time: str
    ram_head: str
    vessel_head: str
    lift: str
    fall: str
    drive: str
    waste: str
    delivery: str
    recoil: str
    peak: str
    events: Mapping[str, str]
    caption: str = ""
    beats: str = ""
    closer: str = ""
    open: str = ""
    speeding: str = ""
    stages: tuple[str, ...] = ()


def with_traces(trace: Mapping[str, Array], **others: object) -> BeatData:
    """``BeatData`` from a mapping of traces such as the engine's, and the other fields by name."""
    known = {field.name for field in fields(BeatData)}
    return BeatData(**{name: values for name, values in trace.items() if name in known}, **others)  # type: ignore[arg-type]


def overview_span(time: Array, events: tuple[Moment, ...]) -> tuple[float, float]:
    """Times to show: from just before the waste valve first opens to just after it last stands open.

    Whole beats, each beginning with the water speeding up. All of the trace where that would leave out
    a closure or more than half of it.
    """
    first, last = extent([time])
    opens = [at for at, _, key in events if key == "opens"]
    wide = [at for at, _, key in events if key == "wide_open"]
    shut = [at for at, _, key in events if key == "shut"]
    if len(opens) > 1 and wide and opens[0] < wide[-1]:
        margin = 0.04 * (wide[-1] - opens[0])
        low, high = max(first, opens[0] - margin), min(last, wide[-1] + margin)
        if high - low >= 0.5 * (last - first) and sum(low < at < high for at in shut) >= 2:
            return low, high
    return first, last


def closer_span(
    span: tuple[float, float], events: tuple[Moment, ...]
) -> tuple[tuple[float, float], tuple[Moment, ...]] | None:
    """Times and moments of the fullest beat's closing in ``span``, or None if it is no closer look."""
    groups: list[list[Moment]] = []
    for event in events:
        if not groups or event[1] <= groups[-1][-1][1]:
            groups.append([])
        groups[-1].append(event)
    groups = [group for group in groups if span[0] <= group[0][0] and group[-1][0] <= span[1]]
    if not groups:
        return None
    best = max(groups, key=len)
    first, last = best[0][0], best[-1][0]
    room = 0.14 * (last - first)
    closer = max(span[0], first - room), min(span[1], last + room)
    if not 1e-3 < (closer[1] - closer[0]) / (span[1] - span[0]) < 0.8:
        return None
    return closer, tuple(best)
