"""Colours can be told from their ground and from each other, also by colour-blind readers."""

from __future__ import annotations

import itertools
import tomllib
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from ramwright.drawings import THEMES
from ramwright.drawings.palette import contrast
from ramwright.drawings.symbols import SYMBOLS

REFERENCE = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "drawings_colour.toml").read_text("utf-8")
)
GROUNDS = ("ground", "pale_water", "earth")
SPEAKING = ("ink", "soft", "water", "caution", "stop")


@pytest.mark.parametrize("row", REFERENCE["contrast"], ids=lambda row: f"{row['one']} on {row['other']}")
def test_contrast_agrees_with_published_figures(row: dict[str, object]) -> None:
    assert contrast(str(row["one"]), str(row["other"])) == pytest.approx(row["ratio"], abs=0.005)


@pytest.mark.parametrize("name", THEMES)
def test_text_and_line_colours_stand_out_from_their_grounds(name: str) -> None:
    """Text 4.5 to 1, lines 3 to 1 (WCAG 2.1, 1.4.3 and 1.4.11; from memory)."""
    theme = THEMES[name]
    for colour, ground in itertools.product(SPEAKING, GROUNDS):
        assert contrast(getattr(theme, colour), getattr(theme, ground)) >= 4.5, (colour, ground)
    for colour in ("ink", "water"):
        assert contrast(getattr(theme, colour), theme.mid_water) >= 3.0, colour
    assert contrast(theme.ink, theme.mid_water) >= 4.5


def linear(colour: str) -> NDArray[np.float64]:
    """Linear red, green and blue of ``#rrggbb``, by the sRGB curve (IEC 61966-2-1; from memory)."""
    values = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255.0
    return np.asarray(np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4))


def seen_by(blind: str, colour: str) -> NDArray[np.float64]:
    """Linear colour as a reader without red or green cones sees it."""
    table = REFERENCE["colour_blind"]
    to_cones = np.array(table["cones_from_rgb"])
    matrix = np.linalg.inv(to_cones) @ np.array(table[blind]) @ to_cones
    return np.asarray(np.clip(matrix @ linear(colour), 0.0, 1.0))


def lab(rgb: NDArray[np.float64]) -> NDArray[np.float64]:
    """CIE 1976 L*a*b* of a linear sRGB colour under D65 (CIE 15; from memory)."""
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    xyz = to_xyz @ rgb / (to_xyz @ np.ones(3))
    f = np.where(xyz > (6 / 29) ** 3, np.cbrt(xyz), xyz / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@pytest.mark.parametrize("blind", ["without_red", "without_green"])
def test_the_simulation_keeps_grey_and_confuses_red_with_green(blind: str) -> None:
    """So that the next test means something: the matrices are those of dichromats."""
    for grey in ("#ffffff", "#808080"):
        assert np.allclose(seen_by(blind, grey), linear(grey), atol=0.02)
    apart = [
        np.linalg.norm(lab(see("#d02020")) - lab(see("#5a8000")))
        for see in (linear, lambda c: seen_by(blind, c))
    ]
    assert apart[1] < 0.4 * apart[0]


@pytest.mark.parametrize("blind", ["without_red", "without_green"])
@pytest.mark.parametrize("name", THEMES)
def test_colours_stay_apart_for_colour_blind_readers(blind: str, name: str) -> None:
    """Ink, water, caution and stop differ by far more than the 2.3 that can just be seen (CIE 1976)."""
    theme = THEMES[name]
    for one, other in itertools.combinations(("ink", "water", "caution", "stop"), 2):
        seen = [lab(seen_by(blind, getattr(theme, colour))) for colour in (one, other)]
        assert np.linalg.norm(seen[0] - seen[1]) > 15.0, (one, other)


def test_each_meaning_has_an_outline_of_its_own() -> None:
    """What colour says, shape says too."""
    outlines = [
        SYMBOLS[name][0][0].round(3).tobytes() for name in ("water", "caution", "stop", "good", "air")
    ]
    assert len(set(outlines)) == len(outlines)
    for shape in SYMBOLS.values():
        assert all(np.abs(points).max() <= 1.001 for points, _ in shape)
