"""The profile to scale: supply line, drive pipe, ram, delivery line and tank over the ground."""

from __future__ import annotations

from typing import Final

import numpy as np

from ramwright.drawings.axes import HEADING, SMALL, Key, draw_heading, draw_keys, key_rows
from ramwright.drawings.axes import LINE as LEADING
from ramwright.drawings.canvas import Box, Canvas, Style, text_width, wrap
from ramwright.drawings.palette import LIGHT, Theme
from ramwright.drawings.picture import MARGIN, PIXELS, Picture, Width
from ramwright.drawings.profile_data import ProfileData, ProfileLabels
from ramwright.drawings.profile_view import Section, draw_section, make_frame
from ramwright.drawings.scales import extent, number, round_down
from ramwright.drawings.settings import drawn
from ramwright.quantities import System, choose_unit, find_unit

_HEIGHTS: Final[dict[Width, float]] = {"desktop": 400.0, "phone": 320.0}
_SMALLEST_DRIVE: Final = 110.0
"""A drive pipe drawn shorter than this many pixels is shown closer, in a view of its own."""
_AROUND: Final = 0.2


@drawn
def profile_picture(
    data: ProfileData,
    labels: ProfileLabels,
    *,
    units: System = "metric",
    theme: Theme = LIGHT,
    width: Width = "desktop",
) -> Picture:
    """Draw a profile to scale, with how much larger heights are drawn, and scale bars in both directions.

    ``data`` in SI, ``labels`` in the reader's language, ``units`` the system of heights and bars. Where
    the drive pipe would be too short to see, a second view shows it closer, on its own scales. Raises
    nothing that the data have not raised already.
    """
    canvas, margin = Canvas(theme, PIXELS[width]), MARGIN[width]
    inner = canvas.width - 2.0 * margin
    y = draw_heading(canvas, margin, margin, labels.title, labels.caption, width=inner) + 10.0
    y = _draw_key(canvas, y, data, labels, margin=margin) + 4.0
    spans = [_whole(data)]
    closer = _drive_span(data)
    if closer and (closer[1] - closer[0]) / (spans[0][1] - spans[0][0]) * inner < 2.0 * _SMALLEST_DRIVE:
        spans.append(closer)
    for i, span in enumerate(spans):
        if i and labels.closer:
            y = canvas.paragraph(margin, y + 8.0, labels.closer, Style(HEADING, theme.ink, bold=True), inner)
        side = 14.0
        box = Box(margin + side, y, canvas.width - margin - side, y + _HEIGHTS[width] * (0.8 if i else 1.0))
        frame = make_frame(data, span, box, closer=i > 0)
        elsewhere = spans[1] if i == 0 and len(spans) > 1 else None
        section = Section(canvas, frame, data, labels, units, elsewhere=elsewhere, closer=i > 0)
        draw_section(section)
        y = _draw_bars(section, frame.box.bottom + 12.0, margin) + 10.0
    return canvas.finish(y + margin - 10.0, title=labels.title, description=labels.description)


def _whole(data: ProfileData) -> tuple[float, float]:
    """Stations of everything drawn, with a little room at both ends."""
    stations = [data.ground()[0], *(line.pipe()[0] for line in data.lines)]
    low, high = extent([*stations, *(place.station for place in data.places)])
    return low - 0.02 * (high - low), high + 0.02 * (high - low)


def _drive_span(data: ProfileData) -> tuple[float, float] | None:
    """Stations of the drive pipe with some room around, if there is one."""
    stations = [line.pipe()[0] for line in data.lines if line.kind == "drive"]
    if not any(len(x) > 1 for x in stations):
        return None
    low, high = extent(stations)
    return low - _AROUND * (high - low), high + _AROUND * (high - low)


def _draw_key(canvas: Canvas, y: float, data: ProfileData, labels: ProfileLabels, *, margin: float) -> float:
    """What the lines and fills mean, as far as they occur; returns the y below."""
    theme = canvas.theme
    occurs = {
        "ground": len(data.ground()[0]) > 1,
        "grade": any(len(line.grade()[0]) > 1 for line in data.lines),
        "suction": any(np.isfinite(line.suction()[2]).any() for line in data.lines),
        "air": any(place.kind == "air" for place in data.places),
    }
    keys = [
        (occurs["ground"], Key("area", theme.earth, labels.ground)),
        (occurs["grade"], Key("dashed", theme.water, labels.grade)),
        (occurs["suction"], Key("hatched", theme.caution, labels.suction)),
        (occurs["air"], Key("caution", theme.caution, labels.air)),
    ]
    shown = [key for there, key in keys if there and key.words]
    if not shown:
        return y
    width = canvas.width - 2.0 * margin
    draw_keys(canvas, margin, y + SMALL, "", shown, width=width)
    return y + key_rows("", shown, width) * LEADING


def _draw_bars(section: Section, y: float, margin: float) -> float:
    """A level and an upright scale bar from one corner, and what is said of them; returns the y below."""
    canvas, frame, labels, units = section.canvas, section.frame, section.labels, section.units
    theme, style = canvas.theme, Style(SMALL, canvas.theme.soft)
    level, level_words = _bar(0.2 * (frame.high - frame.low), frame.across.per_unit, units)
    upright, upright_words = _bar(52.0 / -frame.up.per_unit, -frame.up.per_unit, units)
    corner = margin + text_width(upright_words, SMALL) + 10.0
    base = y + upright + 4.0
    canvas.line((corner, corner, corner + level), (base - upright, base, base), theme.ink, width=1.6)
    for along in (0.0, level):
        canvas.line([corner + along] * 2, (base - 4.0, base + 4.0), theme.ink, width=1.6)
    canvas.line((corner - 4.0, corner + 4.0), [base - upright] * 2, theme.ink, width=1.6)
    canvas.text(corner - 8.0, base - 0.5 * upright + 0.36 * SMALL, upright_words, style, align="right")
    canvas.text(corner + level + 8.0, base + 0.36 * SMALL, level_words, style)
    decimals = 0 if frame.times == round(frame.times) else 1
    words = (
        labels.true if frame.times == 1.0 else labels.larger.replace("{times}", number(frame.times, decimals))
    )
    left = corner + 14.0
    lines = wrap(words, style, canvas.width - margin - left)
    for i, text in enumerate(lines):
        canvas.text(left, base - 12.0 - (len(lines) - 1 - i) * 17.0, text, style)
    return base + 12.0


def _bar(longest: float, per_metre: float, units: System) -> tuple[float, str]:
    """Length in pixels of a bar of a round length not above ``longest`` metres, and that length in words."""
    symbol = choose_unit(longest, "length", units)
    unit = find_unit(symbol, "length")
    factor = unit.factor if unit else 1.0
    length = round_down(longest / factor)
    digits = max(0, -int(np.floor(np.log10(length) + 1e-9)))
    return length * factor * per_metre, f"{number(length, digits)} {symbol}"
