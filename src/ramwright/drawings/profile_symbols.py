"""What stands along a profile, drawn about the point whose level is told, in pixels."""

from __future__ import annotations

from typing import Final

import numpy as np

from ramwright.drawings.canvas import Box, Canvas
from ramwright.drawings.profile_data import PlaceKind

#: Room each symbol takes about its point: left, top, right, bottom.
BOXES: Final[dict[PlaceKind, Box]] = {
    "intake": Box(-9.0, -13.0, 9.0, 7.0),
    "drive_tank": Box(-11.0, -9.0, 11.0, 17.0),
    "ram": Box(-13.0, -25.0, 13.0, 6.0),
    "tank": Box(-20.0, -5.0, 20.0, 25.0),
    "air": Box(-8.0, -8.0, 8.0, 8.0),
}


def draw_place(canvas: Canvas, kind: PlaceKind, x: float, y: float, *, floor: float) -> None:
    """Draw one symbol about its point; a tank stands on ``floor``."""
    if kind == "intake":
        _intake(canvas, x, y)
    elif kind == "ram":
        _ram(canvas, x, y)
    elif kind == "air":
        canvas.circle(x, y, 9.0, canvas.theme.ground)
        canvas.symbol("caution", x, y, 7.5, canvas.theme.caution)
    else:
        left, top, right, _ = BOXES[kind]
        box = Box(x + left + 1.0, y + top + 1.0, x + right - 1.0, floor - 1.0)
        _tank(canvas, box, surface=y if kind == "drive_tank" else y + 2.0)


def _tank(canvas: Canvas, box: Box, *, surface: float) -> None:
    """An open vessel with water in it."""
    theme = canvas.theme
    left, top, right, bottom = box
    canvas.rect(box, theme.ground)
    canvas.rect(Box(left, surface, right, bottom), theme.mid_water)
    canvas.line((left, right), (surface, surface), theme.water, width=1.6)
    canvas.line((left, left, right, right), (top, bottom, bottom, top), theme.ink, width=2.0)


def _intake(canvas: Canvas, x: float, y: float) -> None:
    """A strainer: a short pipe with slots, under a little water."""
    theme = canvas.theme
    canvas.rect(Box(x - 8.0, y - 12.0, x + 8.0, y + 6.0), theme.ground, edge=theme.ink, width=1.6)
    for shift in (-4.0, 0.0, 4.0):
        canvas.line((x + shift, x + shift), (y - 9.0, y + 3.0), theme.ink, width=1.4)


def _ram(canvas: Canvas, x: float, y: float) -> None:
    """A ram from the side: body on its foot, domed air vessel, waste valve at the end."""
    ink, ground = canvas.theme.ink, canvas.theme.ground
    angles = np.radians(np.linspace(180.0, 360.0, 19))
    dome = np.column_stack((x + 3.0 + 6.0 * np.cos(angles), y - 18.0 + 6.0 * np.sin(angles)))
    vessel = np.vstack((dome, [(x + 9.0, y - 3.0), (x - 3.0, y - 3.0)]))
    canvas.polygon(vessel, ink, edge=ground, width=1.0)
    canvas.rect(Box(x - 12.0, y - 5.0, x + 11.0, y + 2.0), ink)
    canvas.rect(Box(x - 9.5, y - 11.0, x - 7.5, y - 4.0), ink)
    canvas.rect(Box(x - 12.0, y - 11.5, x - 5.0, y - 9.5), ink)
    canvas.rect(Box(x - 9.0, y + 2.0, x - 5.0, y + 5.0), ink)
    canvas.rect(Box(x + 4.0, y + 2.0, x + 8.0, y + 5.0), ink)
