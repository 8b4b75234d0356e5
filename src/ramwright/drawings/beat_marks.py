"""Numbered moments, the highest head, and what the numbers mean."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from ramwright.drawings.axes import BODY
from ramwright.drawings.beat_data import Moment
from ramwright.drawings.beat_panels import Scene, View, level_words, parts_in
from ramwright.drawings.canvas import Box, Canvas, Style, text_box, wrap
from ramwright.drawings.place import Room, spread_out
from ramwright.drawings.scales import known

MARKS: Final = 46.0
"""Height of the row of numbered marks and of the lines that lead down from it."""
_BADGE: Final = 10.0
_LEADING: Final = 18.0


def _badge(canvas: Canvas, x: float, y: float, mark: int) -> None:
    """A number in a disc."""
    canvas.circle(x, y, _BADGE, canvas.theme.ink)
    style = Style(12.0, canvas.theme.ground, bold=True)
    canvas.text(x, y + 0.36 * style.size, str(mark), style, align="center")


def draw_marks(canvas: Canvas, view: View, stretches: Sequence[tuple[float, float]]) -> None:
    """Numbered marks in a row above the panels, each with a line down its moment.

    ``stretches``: (top, bottom) of the parts of that line; the row stands above the first.
    """
    theme, first = canvas.theme, stretches[0][0]
    there = [view.scale(at) for at, _, _ in view.marks]
    places = spread_out(there, 2.0 * _BADGE + 4.0, view.left + _BADGE, view.right - _BADGE)
    row = first - MARKS + _BADGE + 2.0
    for x, place, (_, mark, _) in zip(there, places, view.marks, strict=True):
        for top, bottom in stretches:
            canvas.line((x, x), (top, bottom), theme.soft, width=0.8, dash=(2.0, 3.0))
        canvas.line((place, x), (row, first), theme.soft, width=1.0)
        _badge(canvas, place, row, mark)


def draw_peak(scene: Scene, view: View, top: float) -> None:
    """Ring the highest head in a view and say what it is, where the words cross nothing."""
    time, heads = scene.time, scene.rows["head"]
    seen = (time >= view.low) & (time <= view.high) & np.isfinite(heads)
    if not seen.any() or not scene.labels.peak:
        return
    at = int(np.argmax(np.where(seen, heads, -np.inf)))
    words = level_words(scene.labels.peak, float(heads[at]), scene.units)
    canvas, theme, track = scene.canvas, scene.canvas.theme, scene.tracks[0]
    x, y = view.scale(float(time[at])), track.scale(top)(float(heads[at]) * track.per_si)
    style = Style(BODY, theme.ink, bold=True)
    size = text_box(0.0, 0.0, words, style)
    places = [
        (left, base)
        for base in (y - 9.0, *np.arange(y + 18.0, top + track.height, 18.0).tolist())
        for left in _across(x, size.right, view)
    ]
    boxes = [Box(left, size.top + base, left + size.right, size.bottom + base) for left, base in places]
    box, _ = _what_to_avoid(scene, view, top).best(boxes, order=0.002)
    canvas.rect(box.grown(1.0), theme.pale_water if view.band == (view.low, view.high) else theme.ground)
    canvas.circle(x, y, 4.5, theme.ground, edge=theme.ink, width=1.8)
    canvas.text(box.left, box.top - size.top, words, style)


def _what_to_avoid(scene: Scene, view: View, top: float) -> Room:
    """Lines of the panel of heads: those of the heads more than those of the moments."""
    room, track = Room(), scene.tracks[0]
    scale = track.scale(top)
    for part, cut in parts_in(scene, view):
        for name in ("head", "vessel_head"):
            room.avoid(view.scale.all(part), scale.all(cut[name] * track.per_si))
    for level in (scene.data.lift, scene.data.fall):
        if known(level):
            room.avoid((view.left, view.right), [scale(level * track.per_si)] * 2)
    for moment, _, _ in view.marks:
        room.avoid([view.scale(moment)] * 2, (top, top + track.height), weight=0.001)
    return room


def _across(x: float, wide: float, view: View) -> list[float]:
    """Where words as wide as ``wide`` may begin to stay within the view, those about x first."""
    starts = [x + 8.0, x - 0.5 * wide, x - 8.0 - wide, *np.arange(view.left + 4.0, view.right, 6.0).tolist()]
    kept = [at for at in starts if view.left <= at <= view.right - wide]
    return sorted(kept, key=lambda at: abs(at + 0.5 * wide - x)) or [max(0.0, view.right - wide)]


def draw_legend(scene: Scene, y: float, marks: Sequence[Moment], *, columns: int) -> float:
    """What the numbers mean, in columns read downwards; returns the y below."""
    canvas = scene.canvas
    told = {mark: scene.labels.events.get(key, "") for _, mark, key in marks}
    items = [(mark, words) for mark, words in sorted(told.items()) if words]
    each = (canvas.width - 2.0 * scene.margin) / columns
    per = -(-len(items) // columns)
    style = Style(BODY, canvas.theme.ink)
    bottom = y
    for column in range(columns):
        below = y
        for mark, words in items[column * per : (column + 1) * per]:
            x = scene.margin + column * each + _BADGE
            _badge(canvas, x, below + _BADGE, mark)
            lines = wrap(words, style, each - 2.0 * _BADGE - 24.0)
            for i, line in enumerate(lines):
                canvas.text(x + _BADGE + 9.0, below + _BADGE + 5.0 + i * _LEADING, line, style)
            below += max(2.0 * _BADGE, len(lines) * _LEADING + 2.0) + 8.0
        bottom = max(bottom, below)
    return bottom
