"""The picture of a start: the water's level press by press, then by itself up to the tank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ramwright.drawings.axes import (
    DASHED,
    DOTTED,
    LINE,
    SMALL,
    Key,
    draw_across,
    draw_heading,
    draw_keys,
    draw_levels,
    key_rows,
)
from ramwright.drawings.canvas import Box, Canvas
from ramwright.drawings.palette import LIGHT, Theme
from ramwright.drawings.picture import MARGIN, PIXELS, Picture, Width
from ramwright.drawings.scales import Scale, clean, extent, same_length
from ramwright.drawings.settings import drawn
from ramwright.quantities import System, choose_unit, from_si

Array = NDArray[np.float64]
_HEIGHT: Final[dict[Width, float]] = {"desktop": 220.0, "phone": 180.0}
_NUMBERS: Final = 44.0
_MOST_DOTS: Final = 60
_MINUTE: Final = 60.0


def _none() -> Array:
    return np.empty(0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StartData:
    """A start in SI.

    ``number`` of each press, with ``level`` of the water in the line and ``head`` on the ram before it, m
    above the waste-valve seat, shape (n,); ``slow_number`` and ``slow_level`` (k,) the same where it takes
    many presses; ``times`` s and ``levels`` m once it runs by itself, shape (m,).
    ``feed`` m is the drive tank's level, ``alone_low``, ``alone_likely`` and ``alone_high`` m where the ram
    runs by itself, ``tank`` m. Not-a-numbers leave gaps; a panel with fewer than two points is left out.
    Raises ``InputError("picture_lengths_differ")``.
    """

    number: Array
    level: Array
    head: Array
    times: Array
    levels: Array
    feed: float
    alone_low: float
    alone_likely: float
    alone_high: float
    tank: float
    slow_number: Array = field(default_factory=_none)
    slow_level: Array = field(default_factory=_none)

    def __post_init__(self) -> None:
        same_length(number=self.number, level=self.level, head=self.head)
        same_length(times=self.times, levels=self.levels)
        same_length(slow_number=self.slow_number, slow_level=self.slow_level)


@dataclass(frozen=True, slots=True, kw_only=True)
class StartLabels:
    """Words of the picture of a start; an empty one is left out.

    ``title`` and ``caption`` stand on top, ``description`` is for someone who cannot see it. ``pressing``
    and ``climbing`` head the two panels; ``level`` names what is told upright (the unit is added),
    ``press`` and ``time`` what is told across. ``water``, ``slow``, ``head``, ``feed``, ``alone`` and
    ``tank`` go into the keys.
    """

    title: str
    description: str
    level: str
    press: str
    time: str
    water: str
    head: str
    feed: str
    alone: str
    tank: str
    slow: str = ""
    pressing: str = ""
    climbing: str = ""
    caption: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class _Panel:
    """One panel: its lines (x, value, colour, dash), and rules level across it (value, colour, dash)."""

    title: str
    keys: tuple[Key, ...]
    lines: tuple[tuple[Array, Array, str, tuple[float, ...]], ...]
    rules: tuple[tuple[float, str, tuple[float, ...]], ...]
    band: tuple[float, float]
    across: str
    dots: bool


@drawn
def start_picture(
    data: StartData,
    labels: StartLabels,
    *,
    units: System = "metric",
    theme: Theme = LIGHT,
    width: Width = "desktop",
) -> Picture:
    """Draw a start: the level against presses, with where the ram runs by itself, then against minutes.

    ``data`` in SI, ``labels`` in the reader's language, ``units`` the system of the scales. Raises nothing
    that the data have not raised already.
    """
    canvas, margin = Canvas(theme, PIXELS[width]), MARGIN[width]
    inner = canvas.width - 2.0 * margin
    y = draw_heading(canvas, margin, margin, labels.title, labels.caption, width=inner) + 14.0
    for panel in (
        p for p in _panels(data, labels, theme) if any(np.isfinite(x).sum() > 1 for x, *_ in p.lines)
    ):
        y = _draw_panel(canvas, y, panel, labels.level, units=units, width=width) + 20.0
    return canvas.finish(y + margin - 20.0, title=labels.title, description=labels.description)


def _panels(data: StartData, labels: StartLabels, theme: Theme) -> tuple[_Panel, _Panel]:
    """What the two panels show."""
    level, head = clean(data.level), clean(data.head)
    alike = np.allclose(level, head, rtol=1e-3, atol=1e-3, equal_nan=True)
    first = [Key("line", theme.water, labels.water)]
    number = clean(data.number)
    lines: list[tuple[Array, Array, str, tuple[float, ...]]] = [(number, level, theme.water, ())]
    if not alike:
        first.append(Key("dashed", theme.ink, labels.head))
        lines.append((number, head, theme.ink, DASHED))
    if labels.slow and len(data.slow_number) > len(number):
        first.append(Key("dashed", theme.water, labels.slow))
        lines.append((clean(data.slow_number), clean(data.slow_level), theme.water, DASHED))
    alone = (Key("area", theme.pale_water, labels.alone),)
    feed = (Key("dotted", theme.soft, labels.feed),)
    pressing = _Panel(
        title=labels.pressing, keys=(*first, *alone, *feed), lines=tuple(lines),
        rules=((data.feed, theme.soft, DOTTED), (data.alone_likely, theme.water, DOTTED)),
        band=(data.alone_low, data.alone_high), across=labels.press, dots=len(level) <= _MOST_DOTS,
    )  # fmt: skip
    climbing = _Panel(
        title=labels.climbing, keys=(first[0], Key("dashed", theme.ink, labels.tank)),
        lines=((clean(data.times) / _MINUTE, clean(data.levels), theme.water, ()),),
        rules=((data.tank, theme.ink, DASHED),), band=(np.nan, np.nan), across=labels.time, dots=False,
    )  # fmt: skip
    return pressing, climbing


@dataclass(frozen=True, slots=True)
class _Scales:
    """Box of a panel, its scales (upright in shown units), and how many of those make a metre."""

    box: Box
    across: Scale
    up: Scale
    per_si: float


def _draw_panel(canvas: Canvas, y: float, panel: _Panel, level: str, *, units: System, width: Width) -> float:
    """One panel with its keys above it; returns the y below its scale."""
    margin = MARGIN[width]
    values = [*(line for _, line, _, _ in panel.lines), *(rule for rule, _, _ in panel.rules), *panel.band]
    low, high = extent([0.0, *values])
    symbol = choose_unit(max(abs(low), abs(high)), "head", units)
    per_si = from_si(1.0, symbol, "head")
    title = f"{panel.title}: {level}, {symbol}" if panel.title else f"{level}, {symbol}"
    inner = canvas.width - 2.0 * margin
    draw_keys(canvas, margin, y + SMALL, title, panel.keys, width=inner)
    y += key_rows(title, panel.keys, inner) * LINE + 10.0
    box = Box(margin + _NUMBERS, y, canvas.width - margin, y + _HEIGHT[width])
    first, last = extent([x for x, *_ in panel.lines])
    room = 0.03 * (last - first)
    scales = _Scales(
        box=box,
        across=Scale(first - room, last + room, box.left, box.right),
        up=Scale(low * per_si, (high + 0.08 * (high - low)) * per_si, box.bottom, box.top),
        per_si=per_si,
    )
    _draw_inside(canvas, panel, scales)
    most = min(int((box.right - box.left) / 60.0), max(int(last - first), 1) if panel.dots else 12)
    return draw_across(canvas, scales.across, box.bottom, panel.across, most=most)


def _draw_inside(canvas: Canvas, panel: _Panel, scales: _Scales) -> None:
    """Band, rules and lines of a panel, what is behind first."""
    theme, box = canvas.theme, scales.box
    low, high = panel.band
    if np.isfinite(low) and np.isfinite(high):
        top, bottom = sorted(scales.up(value * scales.per_si) for value in (low, high))
        canvas.rect(Box(box.left, top, box.right, max(bottom, top + 1.0)), theme.pale_water)
    draw_levels(canvas, scales.up, box.left, box.right, most=5, named=True)
    for value, colour, dash in panel.rules:
        if np.isfinite(value):
            level = scales.up(value * scales.per_si)
            canvas.line((box.left, box.right), (level, level), colour, width=1.4, dash=dash)
    for at, values, colour, dash in panel.lines:
        x = scales.across.all(at)
        y = scales.up.all(values * scales.per_si)
        canvas.line(x, y, colour, width=2.2 if not dash else 1.6, dash=dash)
        if panel.dots and not dash:
            _draw_dots(canvas, x.tolist(), y.tolist(), colour)


def _draw_dots(canvas: Canvas, x: Sequence[float], y: Sequence[float], colour: str) -> None:
    for left, top in zip(x, y, strict=True):
        if np.isfinite(left) and np.isfinite(top):
            canvas.circle(left, top, 3.4, colour)
