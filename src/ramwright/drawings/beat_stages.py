"""The ram in four small views: the water speeds up, the valve shuts, water is lifted, it swings back.

A sketch of how it works, not to scale. In pixels from the top left of a view of ``WIDE`` by ``HIGH``: the
drive pipe comes from the left, the waste valve hangs in the body below its port, the air vessel stands on
the delivery valve, the delivery line leaves to the right. Water under high pressure is drawn dark.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from ramwright.drawings.axes import SMALL
from ramwright.drawings.canvas import Box, Canvas, Style, wrap

WIDE: Final = 174.0
HIGH: Final = 112.0
_LEADING: Final = 17.0
_BODY: Final = Box(66.0, 78.0, 142.0, 102.0)
_PORT: Final = (76.0, 96.0)
"""Left and right edge of the waste valve's port in the roof of the body; then those of the delivery valve."""
_INTO: Final = (116.0, 132.0)
_VESSEL: Final = Box(106.0, 16.0, 142.0, 68.0)
_LINE: Final = (52.0, 62.0)


@dataclass(frozen=True, slots=True)
class _Stage:
    """How the parts stand.

    ``opening`` of the waste valve, 0 to 1; ``flow`` in the drive pipe, in pixels of its arrow, backwards if
    negative; ``pressed`` whether the body is under high pressure; ``lifts`` whether the delivery valve is
    open; ``level`` of the water in the air vessel, in pixels from the top.
    """

    opening: float
    flow: float
    pressed: bool
    lifts: bool
    level: float


_STAGES: Final = (
    _Stage(opening=1.0, flow=34.0, pressed=False, lifts=False, level=46.0),
    _Stage(opening=0.0, flow=46.0, pressed=True, lifts=False, level=46.0),
    _Stage(opening=0.0, flow=26.0, pressed=True, lifts=True, level=40.0),
    _Stage(opening=0.5, flow=-20.0, pressed=False, lifts=False, level=40.0),
)


def draw_stages(canvas: Canvas, y: float, words: Sequence[str], *, margin: float, columns: int) -> float:
    """Draw a view for each of the four names, in columns; returns the y below. No names, no views."""
    if not words:
        return y
    style = Style(SMALL, canvas.theme.ink)
    each = (canvas.width - 2.0 * margin) / columns
    lines = [wrap(name, style, each - 14.0) for name in words[: len(_STAGES)]]
    for first in range(0, len(lines), columns):
        row = lines[first : first + columns]
        for i, names in enumerate(row):
            middle = margin + (i + 0.5) * each
            _Sketch(canvas, middle - 0.5 * WIDE, y).draw(_STAGES[first + i])
            for k, line in enumerate(names):
                canvas.text(middle, y + HIGH + 18.0 + k * _LEADING, line, style, align="center")
        y += HIGH + 12.0 + max(len(names) for names in row) * _LEADING + 6.0
    return y


@dataclass(frozen=True, slots=True, eq=False)
class _Sketch:
    """One view at its place on the sheet."""

    canvas: Canvas
    left: float
    top: float

    def draw(self, stage: _Stage) -> None:
        """Water first, then walls, valves and arrows."""
        theme = self.canvas.theme
        body = theme.water if stage.pressed else theme.mid_water
        self._area([(0, 22), (66, 78), (66, 96), (0, 40)], theme.mid_water)
        self._area(_corners(_BODY), body)
        self._area(_corners(Box(_INTO[0], 66.0, _INTO[1], 80.0)), body if stage.lifts else theme.mid_water)
        self._area(_corners(Box(_VESSEL.left, stage.level, _VESSEL.right, _VESSEL.bottom)), theme.mid_water)
        self._area(_corners(Box(_VESSEL.right - 1.0, _LINE[0], WIDE, _LINE[1])), theme.mid_water)
        self._walls(stage)
        self._waste_valve(stage)
        self._delivery_valve(stage)
        self._arrows(stage)

    def _walls(self, stage: _Stage) -> None:
        ink = self.canvas.theme.ink
        b, v = _BODY, _VESSEL
        self._line([(0, 22), (b.left, b.top), (_PORT[0], b.top)], ink)
        self._line([(_PORT[1], b.top), (_INTO[0], b.top), (_INTO[0], v.bottom), (v.left, v.bottom)], ink)
        self._line([(0, 40), (b.left, b.bottom - 6.0), (b.left, b.bottom), (b.right, b.bottom)], ink)
        self._line([(b.right, b.bottom), (b.right, b.top), (_INTO[1], b.top), (_INTO[1], v.bottom)], ink)
        self._line([(_INTO[1], v.bottom), (v.right, v.bottom), (v.right, _LINE[1]), (WIDE, _LINE[1])], ink)
        angles = np.radians(np.linspace(180.0, 360.0, 25))
        radius, middle = 0.5 * (v.right - v.left), 0.5 * (v.left + v.right)
        dome = [
            (middle + radius * math.cos(a), v.top + radius + radius * math.sin(a)) for a in angles.tolist()
        ]
        self._line([(v.left, v.bottom), *dome, (v.right, _LINE[0]), (WIDE, _LINE[0])], ink)
        self._line([(v.left, stage.level), (v.right, stage.level)], self.canvas.theme.water, width=1.6)

    def _waste_valve(self, stage: _Stage) -> None:
        """Disc, stem and weight: the disc under the port, drawn up against it when shut."""
        ink = self.canvas.theme.ink
        middle = 0.5 * (_PORT[0] + _PORT[1])
        disc = _BODY.top + 3.0 + 9.0 * stage.opening
        self._line([(middle, disc), (middle, disc - 32.0)], ink, width=2.0)
        self._line([(_PORT[0] - 3.0, disc), (_PORT[1] + 3.0, disc)], ink, width=4.0)
        self._line([(middle - 7.0, disc - 31.0), (middle + 7.0, disc - 31.0)], ink, width=5.0)
        if stage.pressed and not stage.lifts:
            for angle in (-150.0, -120.0, -60.0, -30.0):
                way = (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
                ends = [(middle + r * way[0], _BODY.top - 4.0 + r * way[1]) for r in (13.0, 21.0)]
                self._line(ends, ink, width=1.6)

    def _delivery_valve(self, stage: _Stage) -> None:
        lifted = 6.0 if stage.lifts else 0.0
        at = _VESSEL.bottom - 1.0 - lifted
        self._line([(_INTO[0] - 3.0, at), (_INTO[1] + 3.0, at)], self.canvas.theme.ink, width=3.0)

    def _arrows(self, stage: _Stage) -> None:
        theme = self.canvas.theme
        along = np.array([66.0, 56.0]) / math.hypot(66.0, 56.0)
        start = np.array([33.0, 59.0]) - 0.5 * stage.flow * along
        self._arrow(start, start + stage.flow * along, theme.ink)
        if stage.opening == 1.0:
            for side, edge in ((-1.0, _PORT[0]), (1.0, _PORT[1])):
                root = np.array([edge - side * 3.0, _BODY.top + 2.0])
                self._arrow(root, root + np.array([side * 9.0, -20.0]), theme.water)
        elif stage.opening > 0.0:
            drop = np.array([_PORT[0] - 5.0, _BODY.top - 34.0])
            self._arrow(drop, drop + np.array([0.0, 18.0]), theme.ink)
        if stage.lifts:
            root = np.array([0.5 * (_INTO[0] + _INTO[1]), _BODY.top + 12.0])
            self._arrow(root, root - np.array([0.0, 24.0]), theme.ground)
        root = np.array([_VESSEL.right + 6.0, 0.5 * (_LINE[0] + _LINE[1])])
        self._arrow(root, root + np.array([20.0, 0.0]), theme.ink)

    def _line(self, points: Sequence[tuple[float, float]], colour: str, *, width: float = 1.8) -> None:
        x, y = zip(*points, strict=True)
        self.canvas.line(np.array(x) + self.left, np.array(y) + self.top, colour, width=width)

    def _area(self, points: Sequence[tuple[float, float]], colour: str) -> None:
        self.canvas.polygon(np.array(points, np.float64) + np.array([self.left, self.top]), colour)

    def _arrow(self, start: np.ndarray, end: np.ndarray, colour: str) -> None:
        """A shaft and a head that ends at ``end``."""
        way = (end - start) / max(float(np.hypot(*(end - start))), 1e-9)
        neck, side = end - 7.0 * way, np.array([-way[1], way[0]])
        self._line([tuple(start.tolist()), tuple(neck.tolist())], colour, width=2.2)
        self._area([tuple(p.tolist()) for p in (end, neck + 4.5 * side, neck - 4.5 * side)], colour)


def _corners(box: Box) -> list[tuple[float, float]]:
    return [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]
