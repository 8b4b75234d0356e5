"""Rules, tick numbers and the line of words above a panel, shared by the pictures that have panels."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal, NamedTuple

from ramwright.drawings.canvas import BELOW, Box, Canvas, Style, text_width, wrap
from ramwright.drawings.scales import Scale, number, ticks
from ramwright.drawings.symbols import SYMBOLS

KeyKind = Literal["line", "dashed", "dotted", "area", "hatched", "caution", "stop", "good", "water"]
DASHED: Final = (6.0, 3.0)
DOTTED: Final = (1.5, 2.5)
#: Sizes of type, in pixels of the page.
TITLE, HEADING, BODY, SMALL = 21.0, 14.5, 13.5, 12.5
_SWATCH: Final = 20.0
_GAP: Final = 7.0
_APART: Final = 18.0
LINE: Final = 20.0


class Key(NamedTuple):
    """One entry of a key: how the thing is drawn, its colour, its name."""

    kind: KeyKind
    colour: str
    words: str


def key_rows(title: str, keys: Sequence[Key], width: float) -> int:
    """Lines the title of a panel and its keys take within a width."""
    return 1 + max((row for row, _, _ in _places(title, keys, width)), default=0)


def _places(title: str, keys: Sequence[Key], width: float) -> list[tuple[int, float, Key]]:
    """Row and left edge of each key; the first row begins with the title."""
    row, x = 0, text_width(title, BODY, True) + _APART if title else 0.0
    places = []
    for key in keys:
        needed = _SWATCH + _GAP + text_width(key.words, SMALL)
        if x + needed > width and x > 0.0:
            row, x = row + 1, 0.0
        places.append((row, x, key))
        x += needed + _APART
    return places


def draw_keys(canvas: Canvas, x: float, y: float, title: str, keys: Sequence[Key], *, width: float) -> None:
    """Title of a panel in bold at (x, y), then its keys, in as many lines as ``key_rows`` says."""
    theme = canvas.theme
    canvas.text(x, y, title, Style(BODY, theme.ink, bold=True))
    for row, shift, key in _places(title, keys, width):
        left, base = x + shift, y + row * LINE
        middle = base - 0.36 * SMALL
        _draw_swatch(canvas, key, left, middle)
        words = wrap(key.words, Style(SMALL, theme.ink), width - _SWATCH - _GAP)
        canvas.text(left + _SWATCH + _GAP, base, words[0] if words else "", Style(SMALL, theme.ink))


def _draw_swatch(canvas: Canvas, key: Key, left: float, middle: float) -> None:
    """How a thing is drawn, beside its name."""
    right = left + _SWATCH
    if key.kind == "area":
        canvas.rect(Box(left, middle - 5.0, right, middle + 5.0), key.colour)
    elif key.kind == "hatched":
        for step in range(6):
            x = left + 4.0 * step
            canvas.line((x, x), (middle - 5.0, middle + 5.0), key.colour, width=1.2)
    elif key.kind in SYMBOLS:
        canvas.symbol(key.kind, left + 0.5 * _SWATCH, middle, 7.0, key.colour)
    else:
        dash = {"dashed": DASHED, "dotted": DOTTED}.get(key.kind, ())
        canvas.line((left, right), (middle, middle), key.colour, width=1.6 if dash else 2.2, dash=dash)


def draw_levels(canvas: Canvas, scale: Scale, left: float, right: float, *, most: int, named: bool) -> None:
    """Hairlines at round values of an upright scale, with their numbers at the left where ``named``."""
    theme = canvas.theme
    values, decimals = ticks(scale.low, scale.high, most)
    for value in values:
        y = scale(value)
        zero = abs(value) < 1e-9 * (scale.high - scale.low)
        canvas.line((left, right), (y, y), theme.soft if zero else theme.hair, width=1.0)
        if named:
            words = number(value, decimals)
            canvas.text(left - 8.0, y + 0.36 * SMALL, words, Style(SMALL, theme.soft), align="right")


def draw_across(canvas: Canvas, scale: Scale, y: float, title: str, *, most: int) -> float:
    """Numbers under a level scale and its title; returns the y below them."""
    theme = canvas.theme
    style = Style(SMALL, theme.soft)
    values, decimals = ticks(scale.low, scale.high, most)
    base = y + 8.0 + SMALL
    for value in values:
        x = scale(value)
        canvas.line((x, x), (y, y + 5.0), theme.soft, width=1.0)
        words = number(value, decimals)
        half = 0.5 * text_width(words, SMALL)
        canvas.text(min(max(x, half + 2.0), canvas.width - half - 2.0), base, words, style, align="center")
    lines = wrap(title, style, scale.end - scale.start)
    for words in lines:
        base += LINE - 2.0
        canvas.text(0.5 * (scale.start + scale.end), base, words, style, align="center")
    return base + BELOW * SMALL


def draw_heading(canvas: Canvas, x: float, y: float, title: str, caption: str, *, width: float) -> float:
    """Title in large type and the caption below it, hanging from y; returns the y below both."""
    theme = canvas.theme
    if title:
        size = TITLE if canvas.width > 600 else 18.0
        y = canvas.paragraph(x, y, title, Style(size, theme.ink, bold=True), width, leading=1.3)
    if caption:
        y = canvas.paragraph(x, y + 2.0, caption, Style(BODY, theme.soft), width, leading=1.45)
    return y
