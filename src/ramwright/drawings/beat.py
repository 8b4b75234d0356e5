"""The picture of the ram's beat: head, flows and waste valve over two beats, and one closing seen closer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from ramwright.drawings.axes import HEADING, LINE, SMALL, draw_heading, draw_keys, key_rows
from ramwright.drawings.beat_data import BeatData, BeatLabels, closer_span, overview_span
from ramwright.drawings.beat_marks import MARKS, draw_legend, draw_marks, draw_peak
from ramwright.drawings.beat_panels import Scene, View, draw_view, make_scene
from ramwright.drawings.beat_stages import draw_stages
from ramwright.drawings.canvas import Canvas, Style
from ramwright.drawings.palette import LIGHT, Theme
from ramwright.drawings.picture import MARGIN, PIXELS, Picture, Width
from ramwright.drawings.settings import drawn
from ramwright.quantities import System

_HEIGHTS: Final[dict[Width, tuple[float, float, float]]] = {
    "desktop": (190.0, 190.0, 74.0),
    "phone": (150.0, 150.0, 64.0),
}
_NUMBERS: Final = 40.0
"""Room left of the panels for the numbers of their scales."""
_BETWEEN: Final = 36.0
_UNDER_WORDS: Final = 10.0
_UNDER_PANEL: Final = 20.0
_OVERVIEW: Final = 0.575
"""Share of the width the whole beats take beside the closer view."""


@drawn
def beat_picture(
    data: BeatData,
    labels: BeatLabels,
    *,
    units: System = "metric",
    theme: Theme = LIGHT,
    width: Width = "desktop",
) -> Picture:
    """Draw the beat: head, flows and opening of the waste valve over whole beats, and one closing closer.

    ``data`` in SI, ``labels`` in the reader's language, ``units`` the system of the scales. The moments
    in ``data.events`` are numbered in the closer view and told in words below. Raises nothing that
    ``BeatData`` has not raised already: gaps, constant and single values are drawn as far as they go.
    """
    canvas, margin = Canvas(theme, PIXELS[width]), MARGIN[width]
    scene = make_scene(canvas, data, labels, units=units, margin=margin, heights=_HEIGHTS[width])
    y = draw_heading(canvas, margin, margin, labels.title, labels.caption, width=canvas.width - 2.0 * margin)
    y = draw_stages(canvas, y + 6.0, labels.stages, margin=margin, columns=4 if width == "desktop" else 2)
    y += 14.0
    blocks = _plan(scene, beside=width == "desktop")
    for views in blocks:
        y = _draw_block(scene, y, views, keys=views is blocks[0]) + 16.0
    y = draw_legend(scene, y, blocks[-1][-1].marks, columns=2 if width == "desktop" else 1)
    return canvas.finish(y + margin - 8.0, title=labels.title, description=labels.description)


def _plan(scene: Scene, *, beside: bool) -> list[list[View]]:
    """Views of the picture in blocks, one below the other; the views of a block stand side by side."""
    span = overview_span(scene.time, scene.data.moments())
    closer = closer_span(span, scene.data.moments())
    left, right = scene.margin + _NUMBERS, scene.canvas.width - scene.margin
    split = left + _OVERVIEW * (right - left) if beside and closer else right
    whole = View(
        low=span[0],
        high=span[1],
        left=left,
        right=split,
        heading=scene.labels.beats,
        numbers=True,
        band=closer[0] if closer else None,
        marks=()
        if closer
        else tuple(event for event in scene.data.moments() if span[0] <= event[0] <= span[1]),
    )
    if not closer:
        return [[whole]]
    near = View(
        low=closer[0][0],
        high=closer[0][1],
        left=split + _BETWEEN if beside else left,
        right=right,
        heading=scene.labels.closer,
        numbers=not beside,
        band=closer[0],
        marks=closer[1],
    )
    return [[whole, near]] if beside else [[whole], [near]]


def _draw_block(scene: Scene, y: float, views: Sequence[View], *, keys: bool) -> float:
    """Draw views side by side below y, the last of them with the highest head; returns the y below them."""
    canvas, margin = scene.canvas, scene.margin
    style = Style(HEADING, canvas.theme.ink, bold=True)
    ends = []
    for view in views:
        if view.heading:
            at = margin if view is views[0] else view.left
            ends.append(canvas.paragraph(at, y, view.heading, style, view.right - at))
    tops, y = _draw_titles(scene, max(ends, default=y - 4.0) + 4.0, views, keys=keys)
    y = max(draw_view(scene, view, tops) for view in views)
    stretches = [(top, top + track.height) for top, track in zip(tops, scene.tracks, strict=True)]
    for view in views:
        # without words of its own between the panels, the lines run through
        lines = stretches if view.numbers else [(tops[0], stretches[-1][1])]
        if view.marks:
            draw_marks(canvas, view, lines)
    if views[-1].marks or not views[-1].band:
        draw_peak(scene, views[-1], tops[0])
    return y


def _draw_titles(scene: Scene, y: float, views: Sequence[View], *, keys: bool) -> tuple[list[float], float]:
    """Titles and keys above each panel of the leftmost view; returns the tops of the panels and the end."""
    width = views[0].right - scene.margin
    marks = MARKS if any(view.marks for view in views) else 0.0
    tops: list[float] = []
    for track in scene.tracks:
        shown = track.keys if keys else ()
        words = key_rows(track.title, shown, width) * LINE + _UNDER_WORDS
        draw_keys(scene.canvas, scene.margin, y + SMALL, track.title, shown, width=width)
        y += max(words, marks) if not views[0].marks else words + marks
        marks = 0.0
        tops.append(y)
        y += track.height + _UNDER_PANEL
    return tops, y - _UNDER_PANEL
