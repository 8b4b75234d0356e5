"""One quantity against one other: what is likely, between low and high, up to where the ram stops."""

from __future__ import annotations

from dataclasses import dataclass
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
from ramwright.drawings.canvas import Box, Canvas, Style, text_box, text_width
from ramwright.drawings.palette import LIGHT, Theme
from ramwright.drawings.picture import MARGIN, PIXELS, Picture, Width
from ramwright.drawings.place import Room
from ramwright.drawings.scales import Scale, clean, extent, known, same_length
from ramwright.drawings.settings import drawn
from ramwright.quantities import Kind, System, choose_unit, find_unit, show

Array = NDArray[np.float64]
_HEIGHT: Final[dict[Width, float]] = {"desktop": 340.0, "phone": 280.0}
_NUMBERS: Final = 44.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CurveData:
    """Arrays of shape (n,) over ``x`` in SI: ``low``, ``likely`` and ``high``; not-a-numbers leave gaps.

    ``x_kind`` and ``y_kind`` are kinds of ``quantities``. ``stops_below`` and ``stops_above`` (x, SI) bound
    where the ram runs; ``here`` is the x that is of interest, ``wanted`` a y that is asked for.
    ``per_day`` tells a flow as a day's amount. Raises ``InputError("picture_lengths_differ")``.
    """

    x: Array
    low: Array
    likely: Array
    high: Array
    x_kind: Kind
    y_kind: Kind
    stops_below: float | None = None
    stops_above: float | None = None
    here: float | None = None
    wanted: float | None = None
    per_day: bool = False

    def __post_init__(self) -> None:
        same_length(x=self.x, low=self.low, likely=self.likely, high=self.high)

    def where_it_runs(self) -> tuple[Array, dict[str, Array]]:
        """Rising x between the edges, and ``low``, ``likely`` and ``high`` over it."""
        x = clean(self.x)
        order = np.flatnonzero(np.isfinite(x))[np.argsort(x[np.isfinite(x)], kind="stable")]
        rows = {name: clean(getattr(self, name))[order] for name in ("low", "likely", "high")}
        least = -np.inf if self.stops_below is None else self.stops_below
        most = np.inf if self.stops_above is None else self.stops_above
        inner = (x[order] >= least) & (x[order] <= most)
        return x[order][inner], {name: values[inner] for name, values in rows.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class CurveLabels:
    """Words of a curve; an empty one is left out.

    ``x`` and ``y`` name the axes (the unit is added); ``likely`` and ``band`` what is drawn; ``stops`` stands
    where the ram stops. ``here`` and ``wanted`` may have a blank ``{value}``.
    """

    title: str
    description: str
    x: str
    y: str
    likely: str
    band: str
    stops: str = ""
    here: str = ""
    wanted: str = ""
    caption: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class _Plot:
    """Sheet, scales (of values in shown units), and how many shown units make one of SI."""

    canvas: Canvas
    data: CurveData
    box: Box
    across: Scale
    up: Scale
    x_per_si: float
    y_per_si: float
    room: Room

    def x(self, value: float) -> float:
        """Pixel of an x in SI, held within the plot."""
        return min(max(self.across(value * self.x_per_si), self.box.left), self.box.right)


@drawn
def curve_picture(
    data: CurveData,
    labels: CurveLabels,
    *,
    units: System = "metric",
    theme: Theme = LIGHT,
    width: Width = "desktop",
) -> Picture:
    """Draw one quantity against one other, with its spread and the edge beyond which the ram stops.

    ``data`` in SI, ``labels`` in the reader's language, ``units`` the system of the scales. Raises nothing
    that the data have not raised already.
    """
    canvas, margin = Canvas(theme, PIXELS[width]), MARGIN[width]
    inner = canvas.width - 2.0 * margin
    y = draw_heading(canvas, margin, margin, labels.title, labels.caption, width=inner) + 14.0
    y_symbol = _unit(
        [data.low, data.likely, data.high, data.wanted], data.y_kind, units, per_day=data.per_day
    )
    x_symbol = _unit([data.x], data.x_kind, units)
    keys = [Key("line", theme.water, labels.likely), Key("area", theme.mid_water, labels.band)]
    if labels.wanted and data.wanted is not None and known(data.wanted):
        told = show(data.wanted, data.y_kind, units, per_day=data.per_day)
        keys.append(Key("dotted", theme.ink, labels.wanted.replace("{value}", told)))
    if labels.stops and (data.stops_below is not None or data.stops_above is not None):
        keys.append(Key("stop", theme.stop, labels.stops))
    title = f"{labels.y}, {y_symbol}".rstrip(", ")
    draw_keys(canvas, margin, y + SMALL, title, keys, width=inner)
    y += key_rows(title, keys, inner) * LINE + 10.0
    box = Box(margin + _NUMBERS, y, canvas.width - margin, y + _HEIGHT[width])
    plot = _make_plot(canvas, data, box, x_symbol, y_symbol)
    _draw_plot(plot, labels, units)
    x_title = f"{labels.x}, {x_symbol}".rstrip(", ")
    y = draw_across(canvas, plot.across, box.bottom, x_title, most=int((box.right - box.left) / 60.0))
    return canvas.finish(y + margin - 4.0, title=labels.title, description=labels.description)


def _unit(values: list[Array | float | None], kind: Kind, units: System, *, per_day: bool = False) -> str:
    """The unit that suits the largest of some values."""
    low, high = extent([value for value in values if value is not None])
    return choose_unit(max(abs(low), abs(high)), kind, units, per_day=per_day)


def _make_plot(canvas: Canvas, data: CurveData, box: Box, x_symbol: str, y_symbol: str) -> _Plot:
    factors = [find_unit(x_symbol, data.x_kind), find_unit(y_symbol, data.y_kind)]
    x_per_si, y_per_si = (1.0 / unit.factor if unit else 1.0 for unit in factors)
    edges = [edge for edge in (data.stops_below, data.stops_above, data.here) if edge is not None]
    left, right = extent([data.x, *edges])
    room = 0.12 * (right - left)
    left -= room if data.stops_below is not None and data.stops_below <= left + room else 0.0
    right += room if data.stops_above is not None and data.stops_above >= right - room else 0.0
    bottom, top = extent([0.0, data.low, data.likely, data.high, *([data.wanted] if data.wanted else [])])
    spare = 0.12 * (top - bottom)
    across = Scale(left * x_per_si, right * x_per_si, box.left, box.right)
    low = (bottom - (spare if bottom < 0.0 else 0.0)) * y_per_si
    up = Scale(low, (top + spare) * y_per_si, box.bottom, box.top)
    return _Plot(canvas, data, box, across, up, x_per_si, y_per_si, Room())


def _draw_plot(plot: _Plot, labels: CurveLabels, units: System) -> None:
    """Everything between the axes, what is behind first."""
    canvas, data, box, theme = plot.canvas, plot.data, plot.box, plot.canvas.theme
    draw_levels(canvas, plot.up, box.left, box.right, most=6, named=True)
    x, rows = data.where_it_runs()
    across = plot.across.all(x * plot.x_per_si)
    low, likely, high = (plot.up.all(rows[name] * plot.y_per_si) for name in ("low", "likely", "high"))
    canvas.area(across, low, high, theme.mid_water)
    canvas.line(across, likely, theme.water, width=2.6)
    plot.room.avoid(across, likely)
    _draw_stops(plot)
    if data.wanted is not None and known(data.wanted):
        y = plot.up(data.wanted * plot.y_per_si)
        canvas.line((box.left, box.right), (y, y), theme.ink, width=1.4, dash=DOTTED)
        plot.room.avoid((box.left, box.right), (y, y))
    if data.here is not None and known(data.here):
        _draw_here(plot, labels, units, across, likely)


def _draw_stops(plot: _Plot) -> None:
    """Red hatching where the ram does not run, with a line at the edge and the stop sign on it."""
    canvas, box, colour = plot.canvas, plot.box, plot.canvas.theme.stop
    for edge, beyond in ((plot.data.stops_below, box.left), (plot.data.stops_above, box.right)):
        if edge is None or not known(edge):
            continue
        x = plot.x(edge)
        left, right = sorted((x, beyond))
        tall = box.bottom - box.top
        for start in np.arange(left - tall, right, 9.0).tolist():
            first, last = max(start, left), min(start + tall, right)
            if last > first:
                canvas.line(
                    (first, last),
                    (box.bottom - (first - start), box.bottom - (last - start)),
                    colour,
                    width=0.8,
                )
        canvas.line((x, x), (box.top, box.bottom), colour, width=2.2)
        canvas.circle(x, box.top + 2.0, 11.0, canvas.theme.ground)
        canvas.symbol("stop", x, box.top + 2.0, 9.0, colour)
        plot.room.take(Box(left, box.top, right, box.bottom))
        plot.room.take(Box(x - 11.0, box.top - 9.0, x + 11.0, box.top + 13.0))


def _draw_here(plot: _Plot, labels: CurveLabels, units: System, across: Array, likely: Array) -> None:
    """A drop line at the x of interest and a dot on the curve, with what it is."""
    data, theme, box = plot.data, plot.canvas.theme, plot.box
    if data.here is None:
        return
    x = plot.x(data.here)
    known = np.isfinite(across) & np.isfinite(likely)
    y = float(np.interp(x, across[known], likely[known])) if known.any() else box.bottom
    plot.canvas.line((x, x), (y, box.bottom), theme.ink, width=1.4, dash=DASHED)
    plot.room.avoid((x, x), (y, box.bottom))
    plot.canvas.circle(x, y, 5.0, theme.ground, edge=theme.ink, width=2.0)
    plot.room.take(Box(x - 6.0, y - 6.0, x + 6.0, y + 6.0))
    words = labels.here.replace("{value}", show(data.here, data.x_kind, units))
    wide = text_width(words, SMALL, True)
    lefts = (x + 8.0, x - 8.0 - wide, x - 0.5 * wide)
    bases = (box.bottom - 10.0, y - 12.0, y + 22.0, box.bottom - 30.0, y - 32.0, y + 42.0)
    style = Style(SMALL, theme.ink, bold=True)
    _write(plot, words, style, [(left, base) for base in bases for left in lefts])


def _write(plot: _Plot, words: str, style: Style, spots: list[tuple[float, float]]) -> None:
    """Write words at the best of some places (left edge, base line) within the plot."""
    if not words:
        return
    size, box = text_box(0.0, 0.0, words, style), plot.box
    boxes = []
    for left, base in spots:
        x = max(min(left, box.right - size.right), box.left + 2.0)
        y = min(max(base, box.top - size.top), box.bottom - size.bottom - 2.0)
        boxes.append(Box(x, y + size.top, x + size.right, y + size.bottom))
    found, _ = plot.room.best(boxes, order=0.02)
    plot.canvas.text(found.left, found.top - size.top, words, style)
