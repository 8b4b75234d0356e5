"""A real run of the engine, from its traces to its picture."""

from __future__ import annotations

import itertools
import math
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from drawings_samples import BEAT_LABELS
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.text import Text

from ramwright.drawings import PIXELS, Width, beat_picture, with_traces
from ramwright.drawings.settings import our_settings
from ramwright.ram import (
    AirVessel,
    Beat,
    DeliveryLine,
    DeliveryValve,
    RamSystem,
    Segment,
    WasteValve,
    run_beat,
)
from ramwright.ram.events import MOMENTS, find_events

pytestmark = pytest.mark.engine


@pytest.fixture(scope="module")
def beat() -> Beat:
    """A small ram of an invented place: fall 1.85 m, lift 13.7 m, 9 m of 35 mm drive pipe."""
    bore, line_area = 0.035, 3.44e-4
    system = RamSystem(
        fall_m=1.85,
        drive_pipe=(Segment(length_m=9.0, bore_m=bore, wave_speed=1300.0, c2=0.026 / bore / 19.6, loss=0.8),),
        waste_valve=WasteValve(
            port_diameter_m=0.035, stroke_m=0.006, mass_kg=0.5, opening_force=(3.87, 0.0, 0.0)
        ),
        delivery_valve=DeliveryValve(bore_m=0.0286, loss=4.0),
        air_vessel=AirVessel(air_m3=0.0025),
        delivery_line=DeliveryLine(lift_m=13.7, inertia=91.4 / (9.81 * line_area), r1=2e4, r2=3e7),
    )
    return run_beat(system, beats=3.0)


def test_closures_found_in_the_trace_are_as_far_apart_as_the_beats(beat: Beat) -> None:
    """The engine counts its beats by itself, on a coarser grid."""
    shut = [event.time_s for event in find_events(beat.trace) if event.key == "shut"]
    assert len(shut) >= 3
    assert np.diff(shut) == pytest.approx(60.0 / beat.result.beats_per_min, rel=0.01)


def test_each_moment_is_where_the_trace_turns(beat: Beat) -> None:
    """The valve is on its seat while the delivery valve passes water, and the flow turns after that."""
    events = find_events(beat.trace)
    assert {event.key for event in events} == set(MOMENTS)
    opening, time = beat.trace["opening"], beat.trace["time"]
    for event in events:
        row = int(np.searchsorted(time, event.time_s))
        if event.key == "shut":
            assert opening[row] == 0.0
            assert opening[row - 2] > 0.0
        if event.key == "wide_open":
            assert opening[row] == pytest.approx(0.006, rel=0.002)


@pytest.mark.parametrize("width", PIXELS)
def test_the_picture_of_a_real_beat(beat: Beat, width: Width) -> None:
    """All seven moments are numbered and told; no words overlap; the peak is the engine's."""
    data = with_traces(beat.trace, fall=1.85, lift=13.7, events=find_events(beat.trace))
    picture = beat_picture(data, BEAT_LABELS, units="us", width=width)
    svg = picture.svg()
    words = [text.text or "" for text in ET.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")]
    assert [word for word in "1234567" if word not in words] == []
    told = " ".join(words)
    assert all(sentence in told for sentence in BEAT_LABELS.events.values())
    peak = next(word for word in words if word.startswith("highest"))
    assert float(peak.split()[1]) * 0.3048 == pytest.approx(beat.result.peak_head, rel=0.02)
    with our_settings():
        renderer = RendererAgg(picture.width, picture.height, 72.0)  # type: ignore[no-untyped-call]
        boxes = [
            (text.get_text(), text.get_window_extent(renderer, dpi=72.0))
            for text in picture.figure.findobj(Text)
            if isinstance(text, Text) and text.get_text()
        ]
    clashes = [(a, b) for (a, one), (b, other) in itertools.combinations(boxes, 2) if one.overlaps(other)]
    assert clashes == []
    assert len(svg) < 150_000, "thinned to what can be seen"
    assert math.isfinite(beat.result.delivery)
