"""Colours: one ink, one water blue, one caution amber, one stop red, on a light and on a dark ground.

Every colour that text is set in stands out at least 4.5:1 from every ground text is set on, and every
colour lines are drawn in at least 3:1 (Web Content Accessibility Guidelines 2.1, success criteria 1.4.3
and 1.4.11; from memory). Colour never speaks alone: amber and red come with a symbol (``symbols``).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """One set of colours, ``#rrggbb`` each.

    ``ink``, ``soft`` (second to ink), ``water``, ``caution`` and ``stop`` are for text and lines, on
    ``ground``, ``pale_water`` or ``earth``; ``pale_water``, ``mid_water``, ``earth`` and ``hair`` only
    fill or rule, and say nothing that is not said otherwise.
    """

    name: str
    ground: str
    ink: str
    soft: str
    water: str
    caution: str
    stop: str
    pale_water: str
    mid_water: str
    earth: str
    hair: str


LIGHT: Final = Theme(
    name="light",
    ground="#ffffff",
    ink="#17232e",
    soft="#4d5c69",
    water="#14679e",
    caution="#9a5b00",
    stop="#9f1228",
    pale_water="#dfedf6",
    mid_water="#b5d4e9",
    earth="#f1ece3",
    hair="#dde2e6",
)
DARK: Final = Theme(
    name="dark",
    ground="#101a22",
    ink="#e8eef3",
    soft="#a9b7c3",
    water="#63b3e8",
    caution="#e3a43b",
    stop="#ff8f85",
    pale_water="#183145",
    mid_water="#245272",
    earth="#232b31",
    hair="#2c3a45",
)
THEMES: Final = {theme.name: theme for theme in (LIGHT, DARK)}


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1, of ``#rrggbb`` (WCAG 2.1, definition "relative luminance"; from memory)."""
    channels = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21, of two colours (WCAG 2.1, definition "contrast ratio"; from memory)."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)
