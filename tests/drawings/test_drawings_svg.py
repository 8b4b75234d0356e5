"""The SVG can be read by people and machines, and is the same each time."""

from __future__ import annotations

import hashlib
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from xml.etree import ElementTree as ET

import matplotlib
import pytest
from drawings_samples import BEAT_LABELS, CURVE_LABELS, KINDS, PROFILE_LABELS, SPREAD_LABELS, sample

from ramwright.drawings import PIXELS, Width

SVG = "{http://www.w3.org/2000/svg}"
WORDS = {
    "beat": [
        BEAT_LABELS.title,
        "at the ram",
        "into the air vessel",
        "Flow, gal/min",
        "7",
        "One closing, seen closer",
    ],
    "profile": [PROFILE_LABELS.title, "drive tank", "delivery line", "lift 44.7 ft", "fall 6.10 ft"],
    "curve": [CURVE_LABELS.title, "the ram stops", "set here: 0.260 in", "wanted: 0.507 gal/min"],
    "spread": [f"{SPREAD_LABELS.title}, gal/day", "likely", "91 % runs and lifts enough", "<1 % hangs shut"],
}


@pytest.mark.parametrize("kind", KINDS)
def test_title_and_description_are_told(kind: str) -> None:
    """A reader who hears the page gets both, and only through ids that are there."""
    picture = sample(kind)
    root = ET.fromstring(picture.svg())
    title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert description is not None
    assert (title.text, description.text) == (picture.title, picture.description)
    assert root.get("role") == "img"
    assert root.get("aria-labelledby", "").split() == [title.get("id"), description.get("id")]


@pytest.mark.parametrize("kind", KINDS)
def test_text_stays_text(kind: str) -> None:
    """Words can be searched, read aloud and translated: they are text elements, not outlines."""
    root = ET.fromstring(sample(kind).svg())
    told = [element.text for element in root.iter(f"{SVG}text")]
    assert [word for word in WORDS[kind] if word not in told] == []
    assert "sans-serif" in root.get("font-family", "")
    assert "DejaVu Sans" in root.get("font-family", "")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("width", PIXELS)
def test_the_file_says_nothing_of_where_and_when_it_was_made(kind: str, width: Width) -> None:
    svg = sample(kind, "metric", "dark", width).svg()
    assert str(Path.cwd()) not in svg
    assert not re.search(r"matplotlib|dc:date|https?://(?!www\.w3\.org/2000/svg)|/home/|\.py\b", svg)


@pytest.mark.parametrize("kind", KINDS)
def test_a_strict_page_may_hold_several_of_them(kind: str) -> None:
    """No inline style or script that a page's policy forbids; ids do not clash from picture to picture."""
    own, other = (ET.fromstring(sample(kind, units).svg()) for units in ("us", "metric"))
    names = {element.tag.removeprefix(SVG) for element in own.iter()}
    assert names <= {"svg", "title", "desc", "path", "text", "g"}
    assert all("style" not in element.attrib for element in own.iter())
    ids = [[e.attrib["id"] for e in root.iter() if "id" in e.attrib] for root in (own, other)]
    assert len(ids[0]) == len(set(ids[0])) == 2
    assert not set(ids[0]) & set(ids[1])


@pytest.mark.parametrize("kind", KINDS)
def test_the_viewbox_is_the_size_in_pixels(kind: str) -> None:
    for width in PIXELS:
        picture = sample(kind, width=width)
        root = ET.fromstring(picture.svg())
        assert root.get("viewBox") == f"0 0 {PIXELS[width]} {picture.height}"
        assert (root.get("width"), root.get("height")) == (str(PIXELS[width]), str(picture.height))


@pytest.mark.parametrize("kind", KINDS)
def test_bytes_are_the_same_each_time(kind: str) -> None:
    """Whatever was drawn before or between, and whatever the caller has set in matplotlib."""
    first, png = sample(kind).svg(), sample(kind).png()
    with matplotlib.rc_context(
        {"font.size": 31.0, "lines.linewidth": 9.0, "svg.fonttype": "path", "path.snap": False}
    ):
        again = KINDS[kind]("us", "light", "desktop")
        assert (again.png(), again.svg()) == (png, first)
        assert matplotlib.rcParams["font.size"] == 31.0, "the caller's settings come back"
    assert (sample(kind).svg(), sample(kind).png()) == (first, png)


def test_pictures_drawn_side_by_side_do_not_mix() -> None:
    """matplotlib's settings belong to the whole process; a page server draws in several threads."""
    wanted = {kind: (sample(kind).svg(), sample(kind).png()) for kind in KINDS}

    def draw(kind: str) -> tuple[str, bytes]:
        picture = KINDS[kind]("us", "light", "desktop")
        return picture.svg(), picture.png()

    with ThreadPoolExecutor(4) as pool:
        drawn = list(pool.map(draw, list(KINDS) * 2))
    assert drawn == list(wanted.values()) * 2


def test_another_process_draws_the_same_bytes() -> None:
    """No order of sets, no address and no clock gets into a picture."""
    here = Path(__file__).parent
    script = (
        f"import sys; sys.path.insert(0, {str(here)!r}); import hashlib; from drawings_samples import KINDS\n"
        "for make in KINDS.values():\n"
        "    p = make('us', 'dark', 'phone'); print(hashlib.sha256(p.svg().encode() + p.png()).hexdigest())"
    )
    mine = [
        hashlib.sha256(p.svg().encode() + p.png()).hexdigest()
        for p in (sample(kind, "us", "dark", "phone") for kind in KINDS)
    ]
    for seed in ("1", "2"):
        done = subprocess.run(
            [sys.executable, "-c", script],
            capture_output=True,
            text=True,
            check=True,
            env={"PYTHONHASHSEED": seed},
        )
        assert done.stdout.split() == mine


def test_importing_the_room_loads_no_drawing_library() -> None:
    """Commands that draw nothing start fast."""
    code = "import sys, ramwright.drawings; print('matplotlib' in sys.modules, 'numba' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "False"]
