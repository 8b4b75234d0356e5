"""The three panels of one view of the beat, over one span of time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from ramwright.drawings.axes import DASHED, DOTTED, SMALL, Key, draw_across, draw_levels
from ramwright.drawings.beat_data import BeatData, BeatLabels, Moment
from ramwright.drawings.canvas import Box, Canvas, Style, text_width
from ramwright.drawings.scales import Scale, extent, finite_runs, known, window
from ramwright.quantities import Kind, System, choose_unit, find_unit, show

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Track:
    """What one panel shows: its words, its keys, its unit, its range in that unit, its height."""

    title: str
    keys: tuple[Key, ...]
    symbol: str
    per_si: float
    low: float
    high: float
    height: float
    most: int

    def scale(self, top: float) -> Scale:
        """From values in this track's unit to pixels, for a panel that begins at ``top``."""
        return Scale(self.low, self.high, top + self.height, top)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """One view: the span of time from ``low`` to ``high`` (s) between two edges of the sheet.

    ``numbers``: whether the scales at its left are numbered; ``band``: the span seen closer elsewhere,
    or here; ``marks``: the moments numbered above it.
    """

    low: float
    high: float
    left: float
    right: float
    heading: str
    numbers: bool
    band: tuple[float, float] | None
    marks: tuple[Moment, ...] = ()

    @property
    def scale(self) -> Scale:
        """From seconds to pixels."""
        return Scale(self.low, self.high, self.left, self.right)


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """What every part of the picture needs: the sheet, its margin, what is told, in which units."""

    canvas: Canvas
    margin: float
    data: BeatData
    labels: BeatLabels
    units: System
    tracks: tuple[Track, ...]
    time: Array
    rows: Mapping[str, Array]


def make_scene(
    canvas: Canvas,
    data: BeatData,
    labels: BeatLabels,
    *,
    units: System,
    margin: float,
    heights: tuple[float, float, float],
) -> Scene:
    """Head, flow and opening as tracks of the given heights, each in a unit that suits its largest value."""
    theme = canvas.theme
    time, rows = data.columns()
    head_keys = (
        Key("line", theme.ink, labels.ram_head),
        Key("line", theme.water, labels.vessel_head),
        Key("dashed", theme.soft, level_words(labels.lift, data.lift, units)),
        Key("dotted", theme.soft, level_words(labels.fall, data.fall, units)),
    )
    flow_keys = (
        Key("line", theme.ink, labels.drive),
        Key("area", theme.mid_water, labels.waste),
        Key("area", theme.water, labels.delivery),
        Key("area", theme.soft, labels.recoil),
    )
    heads: list[Array | float] = [rows["head"], rows["vessel_head"], data.fall, data.lift]
    flows = [rows["drive"], rows["waste"], rows["delivery"]]
    track = partial(_track, units=units)
    tracks = (
        track("head", labels.head, heads, keys=head_keys, height=heights[0], most=4),
        track("flow", labels.flow, flows, keys=flow_keys, height=heights[1], most=5),
        track("small_length", labels.opening, [rows["opening"]], keys=(), height=heights[2], most=2),
    )
    return Scene(canvas, margin, data, labels, units, tracks, time, rows)


def _track(
    kind: Kind,
    title: str,
    values: Sequence[Array | float],
    *,
    units: System,
    keys: Sequence[Key],
    height: float,
    most: int,
) -> Track:
    """A track that shows zero and all ``values`` (SI), with room above."""
    low, high = extent([0.0, *values])
    symbol = choose_unit(max(abs(low), abs(high)), kind, units)
    unit = find_unit(symbol, kind)
    per_si = 1.0 / unit.factor if unit else 1.0
    room = 0.16 * (high - low)
    low, high = low - (0.4 * room if low < 0.0 else 0.0), high + room
    shown = tuple(key for key in keys if key.words)
    return Track(f"{title}, {symbol}", shown, symbol, per_si, low * per_si, high * per_si, height, most)


def level_words(words: str, head: float, units: System) -> str:
    """Words with the blank ``{value}`` filled by a head (m); none where there is no head to tell."""
    return words.replace("{value}", show(head, "head", units)) if known(head) else ""


def draw_view(scene: Scene, view: View, tops: Sequence[float]) -> float:
    """Draw the panels of one view, which begin at ``tops``, and its time axis; returns the y below it."""
    canvas, labels = scene.canvas, scene.labels
    for track, top in zip(scene.tracks, tops, strict=True):
        if view.band:
            left, right = view.scale(view.band[0]), view.scale(view.band[1])
            canvas.rect(Box(left, top, right, top + track.height), canvas.theme.pale_water)
        draw_levels(canvas, track.scale(top), view.left, view.right, most=track.most, named=view.numbers)
    head, flow, opening = scene.tracks
    parts = parts_in(scene, view)
    for at, cut in parts:
        x = view.scale.all(at)
        _draw_flows(canvas, x, cut, flow, tops[1])
        _draw_opening(canvas, x, cut, opening, tops[2])
        if not view.marks:
            _name_area(
                canvas,
                x,
                flow.scale(tops[1]),
                cut["waste"] * flow.per_si,
                labels.speeding if view.band else "",
                end=True,
            )
            _name_area(
                canvas, x, opening.scale(tops[2]), cut["opening"] * opening.per_si, labels.open, end=False
            )
    _draw_heads(scene, view, parts, head.scale(tops[0]))
    most = max(3, int((view.right - view.left) / 60.0))
    return draw_across(canvas, view.scale, tops[2] + opening.height, labels.time, most=most)


Part = tuple[Array, dict[str, Array]]


def parts_in(scene: Scene, view: View) -> list[Part]:
    """The traces within a view, in stretches over which all of them are known."""
    found = []
    for run in finite_runs(*scene.rows.values()):
        cut = {name: values[run] for name, values in scene.rows.items()}
        part = window(scene.time[run], cut, view.low, view.high)
        if len(part[0]):
            found.append(part)
    return found


def _draw_heads(scene: Scene, view: View, parts: Sequence[Part], scale: Scale) -> None:
    canvas, theme, per_si = scene.canvas, scene.canvas.theme, scene.tracks[0].per_si
    for level, dash in ((scene.data.lift, DASHED), (scene.data.fall, DOTTED)):
        if known(level):
            y = scale(level * per_si)
            canvas.line((view.left, view.right), (y, y), theme.soft, width=1.4, dash=dash)
    for at, cut in parts:
        x = view.scale.all(at)
        canvas.line(x, scale.all(cut["vessel_head"] * per_si), theme.water, width=2.2)
        canvas.line(x, scale.all(cut["head"] * per_si), theme.ink, width=1.7)


def _draw_flows(canvas: Canvas, x: Array, cut: Mapping[str, Array], track: Track, top: float) -> None:
    theme, scale = canvas.theme, track.scale(top)
    zero = np.full_like(x, scale(0.0))
    drive, waste, delivery = (cut[name] * track.per_si for name in ("drive", "waste", "delivery"))
    canvas.area(x, zero, scale.all(np.maximum(waste, 0.0)), theme.mid_water)
    canvas.area(x, zero, scale.all(delivery), theme.water)
    canvas.area(x, zero, scale.all(np.minimum(drive, 0.0)), theme.soft)
    canvas.line(x, scale.all(drive), theme.ink, width=1.5)


def _draw_opening(canvas: Canvas, x: Array, cut: Mapping[str, Array], track: Track, top: float) -> None:
    theme, scale = canvas.theme, track.scale(top)
    y = scale.all(cut["opening"] * track.per_si)
    canvas.area(x, np.full_like(x, scale(0.0)), y, theme.earth)
    canvas.line(x, y, theme.ink, width=1.7)


def _name_area(canvas: Canvas, x: Array, scale: Scale, values: Array, words: str, *, end: bool) -> None:
    """Write words on the foot of an area, in each stretch that is high and long enough for them.

    At the right of the stretch if ``end``, else amid it.
    """
    needed = text_width(words, SMALL) + 16.0
    tall = scale(0.0) - scale.all(values) >= 2.0 * SMALL
    for run in finite_runs(np.where(tall, x, np.nan)) if words else ():
        left, right = float(x[run][0]), float(x[run][-1])
        if right - left >= needed:
            middle = right - 0.5 * needed if end else 0.5 * (left + right)
            style = Style(SMALL, canvas.theme.ink)
            canvas.text(middle, scale(0.0) - 0.72 * SMALL, words, style, align="center")
