"""A sheet to draw on in pixels of the page, counted from the top left; its height comes last."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ramwright.drawings.palette import Theme
from ramwright.drawings.picture import DOTS_PER_INCH, Picture
from ramwright.drawings.scales import finite_runs, thin
from ramwright.drawings.settings import FONT
from ramwright.drawings.symbols import SYMBOLS

if TYPE_CHECKING:
    from matplotlib.path import Path

Array = NDArray[np.float64]
Align = Literal["left", "center", "right"]
#: How far letters reach above and below the line they stand on, as a share of their size.
ABOVE: Final = 0.78
BELOW: Final = 0.24
_UNSEEN: Final = 0.12
"""A bend less than this many pixels from a straight line is not drawn."""


class Box(NamedTuple):
    """A rectangle on the sheet; ``bottom`` is the greater y."""

    left: float
    top: float
    right: float
    bottom: float

    def overlap(self, other: Box) -> float:
        """Area the two share."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.bottom, other.bottom) - max(self.top, other.top)
        return max(wide, 0.0) * max(high, 0.0)

    def grown(self, by: float) -> Box:
        """The box with a margin all round."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)


@dataclass(frozen=True, slots=True)
class Style:
    """How text is set: size in pixels, colour, weight."""

    size: float
    colour: str
    bold: bool = False


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of one line of text, in pixels; letters that are square in their own script count as squares."""
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import text_to_path

    font = FontProperties(family=[FONT], size=size, weight="bold" if bold else "normal")
    square = [c for c in text if unicodedata.east_asian_width(c) in {"W", "F"}]
    narrow = "".join(c for c in text if c not in square)
    width, _, _ = text_to_path.get_text_width_height_descent(narrow, font, ismath=False)
    return float(width) + len(square) * size


def printable(text: str) -> str:
    """Text on one line, without characters that have no place in a picture or in XML."""
    odd = {"Cc", "Cs", "Cn", "Co"}
    kept = (c for c in text if c.isspace() or unicodedata.category(c) not in odd)
    return " ".join("".join(kept).split())


def wrap(text: str, style: Style, width: float) -> list[str]:
    """Text broken into lines no wider than ``width``; a word that is too long is cut."""

    def fits(words: str) -> bool:
        return text_width(words, style.size, style.bold) <= width

    lines: list[str] = []
    line = ""
    for word in printable(text).split():
        rest = word
        if fits(f"{line} {rest}".lstrip()):
            line = f"{line} {rest}".lstrip()
            continue
        lines += [line] if line else []
        while not fits(rest) and len(rest) > 1:
            most = next((n for n in range(len(rest) - 1, 1, -1) if fits(rest[:n])), 1)
            lines.append(rest[:most])
            rest = rest[most:]
        line = rest
    return [*lines, line] if line else lines


class Canvas:
    """Draws on a matplotlib figure whose coordinates are pixels of the page, y down."""

    def __init__(self, theme: Theme, width: int) -> None:
        from matplotlib.figure import Figure
        from matplotlib.transforms import Affine2D

        self.theme = theme
        self.width = width
        self.figure = Figure(figsize=(width / DOTS_PER_INCH, 1.0), dpi=DOTS_PER_INCH, facecolor=theme.ground)
        self._pixels = Affine2D()
        self._transform = self._pixels + self.figure.dpi_scale_trans
        self._order = 0

    def finish(self, height: float, *, title: str, description: str) -> Picture:
        """Cut the sheet to its height."""
        high = int(np.ceil(height))
        self.figure.set_size_inches(self.width / DOTS_PER_INCH, high / DOTS_PER_INCH)
        self._pixels.clear().scale(1.0, -1.0).translate(0.0, high).scale(1.0 / DOTS_PER_INCH)
        return Picture(self.figure, printable(title), printable(description), self.width, high)

    def _add(self, path: Path, *, face: str = "none", edge: str = "none", **lines: object) -> None:
        from matplotlib.patches import PathPatch

        self._order += 1
        patch = PathPatch(
            path, facecolor=face, edgecolor=edge, transform=self._transform, zorder=self._order,
            **{"linewidth": 0.0, "joinstyle": "round", **lines},
        )  # fmt: skip
        self.figure.add_artist(patch, clip=False)

    def line(
        self,
        x: Array | Sequence[float],
        y: Array | Sequence[float],
        colour: str,
        *,
        width: float = 1.6,
        dash: tuple[float, ...] = (),
    ) -> None:
        """A line through points; it breaks where one is not a number, and a lone point is a dot."""
        from matplotlib.path import Path

        xs, ys = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
        style = (0, dash) if dash else "solid"
        for run in finite_runs(xs, ys):
            if run.stop - run.start == 1:
                self.circle(float(xs[run][0]), float(ys[run][0]), width, colour)
                continue
            path = Path(_fewer(xs[run], ys[run]))
            self._add(path, edge=colour, linewidth=width, linestyle=style, capstyle="butt")

    def area(self, x: Array, low: Array, high: Array, colour: str) -> None:
        """What lies between two lines over the same x; it breaks where one is not a number."""
        for run in finite_runs(x, low, high):
            if run.stop - run.start < 2:
                continue
            self.polygon(np.vstack((_fewer(x[run], low[run]), _fewer(x[run], high[run])[::-1])), colour)

    def polygon(self, points: Array, colour: str, *, edge: str = "none", width: float = 0.0) -> None:
        """A closed outline, filled."""
        from matplotlib.path import Path

        self._add(Path(points, closed=False), face=colour, edge=edge, linewidth=width)

    def rect(self, box: Box, colour: str, *, edge: str = "none", width: float = 0.0) -> None:
        """A rectangle."""
        left, top, right, bottom = box
        corners = np.array([(left, top), (right, top), (right, bottom), (left, bottom), (left, top)])
        self.polygon(corners, colour, edge=edge, width=width)

    def circle(
        self, x: float, y: float, radius: float, colour: str, *, edge: str = "none", width: float = 0.0
    ) -> None:
        """A disc."""
        from matplotlib.path import Path

        unit = Path.unit_circle()
        path = Path(np.asarray(unit.vertices, np.float64) * radius + np.array([x, y]), unit.codes)
        self._add(path, face=colour, edge=edge, linewidth=width)

    def symbol(self, name: str, x: float, y: float, radius: float, colour: str) -> None:
        """One of ``SYMBOLS`` about a centre."""
        for points, cut in SYMBOLS[name]:
            self.polygon(points * radius + np.array([x, y]), self.theme.ground if cut else colour)

    def text(self, x: float, y: float, words: str, style: Style, *, align: Align = "left") -> Box:
        """One line of text standing on the line y; returns the room it takes."""
        from matplotlib.text import Text

        self._order += 1
        shown = printable(words)
        box = text_box(x, y, shown, style, align=align)
        if shown:
            text = Text(
                x, y, shown, color=style.colour, fontsize=style.size, horizontalalignment=align,
                fontweight="bold" if style.bold else "normal", verticalalignment="baseline",
                transform=self._transform, zorder=self._order, parse_math=False,
            )  # fmt: skip
            self.figure.add_artist(text, clip=False)
        return box

    def paragraph(
        self, x: float, y: float, words: str, style: Style, width: float, *, leading: float = 1.4
    ) -> float:
        """Text in as many lines as it takes, the first hanging from y; returns the y below the last."""
        for text in wrap(words, style, width):
            self.text(x, y + style.size, text, style)
            y += style.size * leading
        return y


def _fewer(x: Array, y: Array) -> Array:
    """Points of a line, shape (n, 2), without those that make no visible difference."""
    from matplotlib.path import Path

    if len(x) < 16 or np.any(np.diff(x) < 0.0):
        return np.column_stack((x, y))
    path = Path(np.column_stack(thin(x, y)))
    path.simplify_threshold = _UNSEEN
    kept = np.asarray(path.cleaned(simplify=True, curves=False).vertices, np.float64)
    return kept[:-1]  # the last closes nothing


def text_box(x: float, y: float, words: str, style: Style, *, align: Align = "left") -> Box:
    """Room one line of text takes when it stands on the line y."""
    width = text_width(words, style.size, style.bold)
    left = x - {"left": 0.0, "center": 0.5, "right": 1.0}[align] * width
    return Box(left, y - ABOVE * style.size, left + width, y + BELOW * style.size)
