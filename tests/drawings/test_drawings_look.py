"""Words stand free, can be read, and fit; pictures have the size they say."""

from __future__ import annotations

import io
import itertools

import numpy as np
import pytest
from drawings_samples import KINDS, sample
from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
from matplotlib.colors import to_hex
from matplotlib.image import imread
from matplotlib.text import Text
from matplotlib.transforms import Bbox
from numpy.typing import NDArray

from ramwright.drawings import PIXELS, Picture, Width
from ramwright.drawings.palette import contrast
from ramwright.drawings.settings import our_settings
from ramwright.quantities import SYSTEMS, System

EVERY = [(kind, units, width) for kind in KINDS for units in SYSTEMS for width in PIXELS]
SMALLEST = 12.0


def words_of(picture: Picture, dots: float = 72.0) -> list[tuple[Text, Bbox]]:
    """Each line of text and the box its letters fill when drawn, in dots from the bottom left."""
    size = (picture.width * dots / 72.0, picture.height * dots / 72.0)
    with our_settings():
        renderer = RendererAgg(*size, dots)  # type: ignore[no-untyped-call]
        found = [text for text in picture.figure.findobj(Text) if isinstance(text, Text) and text.get_text()]
        return [(text, text.get_window_extent(renderer, dpi=dots)) for text in found]


@pytest.mark.parametrize(("kind", "units", "width"), EVERY)
def test_no_two_words_overlap(kind: str, units: System, width: Width) -> None:
    boxes = words_of(sample(kind, units, width=width))
    assert len(boxes) > 5
    clashes = [
        (one.get_text(), other.get_text())
        for (one, a), (other, b) in itertools.combinations(boxes, 2)
        if a.overlaps(b)
    ]
    assert clashes == []


@pytest.mark.parametrize(("kind", "units", "width"), EVERY)
def test_all_words_are_on_the_sheet(kind: str, units: System, width: Width) -> None:
    picture = sample(kind, units, width=width)
    assert picture.width == PIXELS[width]
    outside = [
        text.get_text()
        for text, box in words_of(picture)
        if box.x0 < 0.0 or box.y0 < 0.0 or box.x1 > picture.width or box.y1 > picture.height
    ]
    assert outside == []


@pytest.mark.parametrize(("kind", "units", "width"), EVERY)
def test_type_is_large_enough_to_read(kind: str, units: System, width: Width) -> None:
    assert (
        min(float(text.get_fontsize()) for text, _ in words_of(sample(kind, units, width=width))) >= SMALLEST
    )


def pixels(picture: Picture) -> NDArray[np.float64]:
    """Colours of the picture, shape (2 height, 2 width, 3), rows from the top."""
    return np.asarray(imread(io.BytesIO(picture.png()), format="png"), dtype=np.float64)[:, :, :3]


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("width", PIXELS)
@pytest.mark.parametrize("kind", KINDS)
def test_text_stands_out_from_all_it_stands_on(kind: str, width: Width, theme: str) -> None:
    """4.5 to 1 (WCAG 2.1, success criterion 1.4.3; from memory) at every dot under each box of letters."""
    picture = sample(kind, "us", theme, width)
    boxes = words_of(picture, 144.0)
    for text, _ in boxes:
        text.set_visible(False)
    try:
        under = pixels(picture)
    finally:
        for text, _ in boxes:
            text.set_visible(True)
    weak = []
    for text, box in boxes:
        rows = slice(int(len(under) - box.y1), int(len(under) - box.y0) + 1)
        seen = under[rows, int(box.x0) : int(box.x1) + 1].reshape(-1, 3)
        colours = {to_hex(tuple(colour)) for colour in np.unique(seen, axis=0)}
        least = min(contrast(str(to_hex(text.get_color())), colour) for colour in colours)
        if least < 4.5:
            weak.append((text.get_text(), round(least, 2)))
    assert weak == []


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("width", PIXELS)
def test_a_png_has_two_dots_to_a_pixel(kind: str, width: Width) -> None:
    picture = sample(kind, width=width)
    for scale in (1.0, 2.0):
        png = picture.png(scale=scale)
        assert png.startswith(b"\x89PNG\r\n\x1a\n")
        across, down = (int.from_bytes(png[at : at + 4], "big") for at in (16, 20))  # of the IHDR chunk
        assert (across, down) == (scale * picture.width, scale * picture.height)


@pytest.mark.parametrize("kind", KINDS)
def test_the_ground_is_that_of_the_theme(kind: str) -> None:
    """And something is drawn on it: at least one dot in fifty differs."""
    for theme, ground in (("light", "#ffffff"), ("dark", "#101a22")):
        seen = pixels(sample(kind, theme=theme))
        assert to_hex(tuple(seen[0, 0])) == ground
        assert np.mean(np.any(np.abs(seen - seen[0, 0]) > 0.02, axis=2)) > 0.02


def test_the_agg_canvas_is_not_left_on_the_figure() -> None:
    """A picture in either form leaves the figure as it was for the other."""
    picture = sample("spread")
    picture.png()
    assert not isinstance(picture.figure.canvas, FigureCanvasAgg)
