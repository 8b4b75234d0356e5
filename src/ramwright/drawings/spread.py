"""How sure a figure is: low, likely and high on a slim scale, and how often each outcome came."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

import numpy as np

from ramwright.drawings.axes import BODY, SMALL, draw_heading
from ramwright.drawings.canvas import Box, Canvas, Style, text_width, wrap
from ramwright.drawings.palette import LIGHT, Theme
from ramwright.drawings.picture import MARGIN, PIXELS, Picture, Width
from ramwright.drawings.place import spread_out
from ramwright.drawings.scales import Scale, extent, known
from ramwright.drawings.settings import drawn
from ramwright.quantities import Kind, System, choose_unit, show, show_pair

Standing = Literal["good", "caution", "stop"]
_BAR: Final = 16.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One outcome: its name, its share of all (0 to 1), and how it stands."""

    words: str
    share: float
    standing: Standing = "good"


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadData:
    """``low``, ``likely`` and ``high`` of one quantity (SI), what is ``wanted`` of it, and the outcomes.

    ``per_day`` tells a flow as a day's amount.
    """

    low: float
    likely: float
    high: float
    kind: Kind
    wanted: float | None = None
    per_day: bool = False
    outcomes: tuple[Outcome, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SpreadLabels:
    """Words of a spread; ``outcomes`` heads the shares. An empty one is left out."""

    title: str
    description: str
    low: str
    likely: str
    high: str
    wanted: str = ""
    outcomes: str = ""
    caption: str = ""


@drawn
def spread_picture(
    data: SpreadData,
    labels: SpreadLabels,
    *,
    units: System = "metric",
    theme: Theme = LIGHT,
    width: Width = "desktop",
) -> Picture:
    """Draw low, likely and high on a slim scale from zero, and below it the share of each outcome.

    ``data`` in SI, ``labels`` in the reader's language, ``units`` the system numbers are told in. Figures
    that are not numbers are left out. Raises nothing.
    """
    canvas, margin = Canvas(theme, PIXELS[width]), MARGIN[width]
    inner = canvas.width - 2.0 * margin
    unit = _unit(data, units)
    title = f"{labels.title}, {unit}" if unit else labels.title
    y = draw_heading(canvas, margin, margin, title, labels.caption, width=inner) + 8.0
    y = _draw_scale(canvas, y, margin, _figures(data, labels, units), _wanted(data, labels, units))
    shown = [outcome for outcome in data.outcomes if known(outcome.share) and outcome.share > 0.0]
    if shown:
        if labels.outcomes:
            style = Style(BODY, theme.ink, bold=True)
            y = canvas.paragraph(margin, y + 10.0, labels.outcomes, style, inner) + 4.0
        y = _draw_shares(canvas, y, margin, shown)
    return canvas.finish(y + margin - 6.0, title=labels.title, description=labels.description)


class _Figure(NamedTuple):
    """One mark: its value (SI), the number told, its word, whether it is the likely one."""

    value: float
    told: str
    words: str
    likely: bool


def _unit(data: SpreadData, units: System) -> str:
    """The unit that suits the greatest of the figures."""
    _, high = extent([0.0, *np.abs([data.low, data.likely, data.high]).tolist()])
    return choose_unit(high, data.kind, units, per_day=data.per_day)


def _figures(data: SpreadData, labels: SpreadLabels, units: System) -> list[_Figure]:
    """Low, likely and high as far as they are numbers, all in one unit."""
    unit = _unit(data, units)
    rows = (
        (data.low, labels.low, False),
        (data.likely, labels.likely, True),
        (data.high, labels.high, False),
    )
    return sorted(
        _Figure(value, show_pair(value, data.kind, units, unit=unit)[0], words, likely)
        for value, words, likely in rows
        if known(value)
    )


def _wanted(data: SpreadData, labels: SpreadLabels, units: System) -> tuple[float, str] | None:
    """What is wanted (SI) and how it is told."""
    if data.wanted is None or not known(data.wanted):
        return None
    told = show(data.wanted, data.kind, units, per_day=data.per_day)
    return data.wanted, labels.wanted.replace("{value}", told)


def _draw_scale(
    canvas: Canvas, y: float, margin: float, figures: Sequence[_Figure], wanted: tuple[float, str] | None
) -> float:
    """A bar from low to high with a mark at likely, words and numbers above it, what is wanted below."""
    if not figures:
        return y
    theme = canvas.theme
    bottom, top = extent([0.0, *(figure.value for figure in figures), *(wanted[:1] if wanted else ())])
    scale = Scale(bottom, top + 0.05 * (top - bottom), margin, canvas.width - margin)
    y = _name_figures(canvas, y, scale, figures)
    middle = y + 0.5 * _BAR
    canvas.line((scale.start, scale.end), (middle, middle), theme.soft, width=1.2)
    canvas.line((scale(0.0), scale(0.0)), (y, y + _BAR), theme.soft, width=1.4)
    left, right = scale(figures[0].value), scale(figures[-1].value)
    canvas.rect(Box(left, y, max(right, left + 2.0), y + _BAR), theme.mid_water)
    for figure in figures:
        x, over = scale(figure.value), 4.0 if figure.likely else 0.0
        canvas.line((x, x), (y - over, y + _BAR + over), theme.water, width=4.0 if figure.likely else 1.8)
    y += _BAR + 8.0
    if wanted is None or not wanted[1]:
        return y
    x = scale(wanted[0])
    canvas.line((x, x), (y - _BAR - 12.0, y + 2.0), theme.ink, width=1.6, dash=(3.0, 2.0))
    style = Style(SMALL, theme.ink)
    for line in wrap(wanted[1], style, canvas.width - 2.0 * margin):
        half = 0.5 * text_width(line, SMALL)
        place = min(max(x, margin + half), canvas.width - margin - half)
        canvas.text(place, y + 4.0 + SMALL, line, style, align="center")
        y += 18.0
    return y + 6.0


def _name_figures(canvas: Canvas, y: float, scale: Scale, figures: Sequence[_Figure]) -> float:
    """Value and word over each mark, moved apart where they would touch; returns the y of the bar."""
    theme = canvas.theme
    likely = Style(BODY, theme.ink, bold=True)
    wide = max(max(text_width(f.told, likely.size, True), text_width(f.words, SMALL)) for f in figures)
    there = [scale(figure.value) for figure in figures]
    places = spread_out(there, wide + 12.0, scale.start + 0.5 * wide, scale.end - 0.5 * wide)
    room = (scale.end - scale.start) / len(figures) - 4.0
    for x, place, figure in zip(there, places, figures, strict=True):
        for base, text, style in (
            (y + BODY, figure.told, likely),
            (y + BODY + 17.0, figure.words, Style(SMALL, theme.soft)),
        ):
            line = wrap(text, style, room)
            canvas.text(place, base, line[0] if line else "", style, align="center")
        canvas.line((place, x), (y + 37.0, y + 46.0), theme.soft, width=1.0)
    return y + 50.0


def _draw_shares(canvas: Canvas, y: float, margin: float, outcomes: Sequence[Outcome]) -> float:
    """A bar cut by shares, each part with its symbol and words in the lines below."""
    theme = canvas.theme
    colours = {"good": theme.water, "caution": theme.caution, "stop": theme.stop}
    whole = sum(outcome.share for outcome in outcomes)
    left, width = margin, canvas.width - 2.0 * margin
    for outcome in outcomes:
        right = left + outcome.share / whole * width
        box = Box(left, y, max(right - 1.5, left + 1.0), y + 12.0)
        canvas.rect(box, colours[outcome.standing])
        left = right
    y += 12.0 + 10.0
    style = Style(SMALL, theme.ink)
    for outcome in outcomes:
        canvas.symbol(outcome.standing, margin + 8.0, y + 8.0, 7.5, colours[outcome.standing])
        words = f"{_percent(outcome.share / whole)} {outcome.words}"
        lines = wrap(words, style, width - 26.0)
        for line in lines:
            canvas.text(margin + 24.0, y + 12.5, line, style)
            y += 18.0
        y += 5.0
    return y


def _percent(share: float) -> str:
    """A share in whole percent; one that is not nothing or not all is not told as such."""
    if 0.0 < share < 0.005:
        return "<1 %"
    if 0.995 < share < 1.0 - 1e-12:
        return ">99 %"
    return f"{100.0 * share:.0f} %"
