"""A picture of each kind, made from invented data, and the words they are told in."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
from numpy.typing import NDArray

from ramwright.drawings import (
    THEMES,
    BeatData,
    BeatLabels,
    CurveData,
    CurveLabels,
    Outcome,
    Picture,
    ProfileData,
    ProfileHeight,
    ProfileLabels,
    ProfileLine,
    ProfilePlace,
    SpreadData,
    SpreadLabels,
    Width,
    beat_picture,
    curve_picture,
    profile_picture,
    spread_picture,
)
from ramwright.quantities import System
from ramwright.ram.events import find_events

Array = NDArray[np.float64]
Trace = dict[str, Array]

BEAT_LABELS = BeatLabels(
    title="The beat of the ram",
    description="Head, flows and opening of the waste valve over two beats of the ram.",
    caption="69 beats a minute: drinks 9.4 gal/min, of which 0.76 gal/min goes up to the tank.",
    head="Head above the seat",
    flow="Flow",
    opening="Waste valve, opening",
    time="time, s",
    ram_head="at the ram",
    vessel_head="in the air vessel",
    lift="lift {value}",
    fall="fall {value}",
    drive="at the end of the drive pipe",
    waste="to waste",
    delivery="into the air vessel",
    recoil="backwards: recoil",
    peak="highest {value}",
    beats="Two beats",
    closer="One closing, seen closer",
    open="open",
    speeding="the water speeds up",
    stages=(
        "The water speeds up, out to waste",
        "The waste valve slams shut",
        "Water goes into the air vessel",
        "It swings back: the valve falls open",
    ),
    events={
        "closing": "The waste valve begins to close",
        "shut": "It is shut: the water slams against it",
        "delivery_opens": "The delivery valve opens: water goes into the air vessel",
        "delivery_shuts": "The delivery valve shuts",
        "turns_back": "The water swings back: recoil",
        "opens": "The waste valve falls open",
        "wide_open": "It stands wide open, and the water speeds up again",
    },
)
PROFILE_LABELS = ProfileLabels(
    title="From the creek to the tank",
    description="Supply line, drive pipe, ram, delivery line and tank over the ground.",
    caption="60 ft of supply line, 30 ft of drive pipe, 300 ft of delivery line.",
    larger="heights drawn {times} times larger than lengths",
    true="heights and lengths drawn alike",
    supply="supply line",
    drive="drive pipe",
    delivery="delivery line",
    ground="ground",
    grade="grade line",
    suction="under suction",
    air="air collects",
    closer="The drive pipe, seen closer",
)
CURVE_LABELS = CurveLabels(
    title="Delivery against stroke",
    description="What the ram delivers at each stroke of its waste valve.",
    x="stroke of the waste valve",
    y="Delivery",
    likely="likely",
    band="between low and high",
    stops="the ram stops",
    here="set here: {value}",
    wanted="wanted: {value}",
)
SPREAD_LABELS = SpreadLabels(
    title="Delivery",
    description="How much is delivered, and how sure that is.",
    low="low",
    likely="likely",
    high="high",
    wanted="wanted {value}",
    outcomes="How sure: of 400 runs with the spread of the readings",
)


def beat_trace(beats: int = 3, *, closed: float = 0.1) -> Trace:
    """A beat drawn by hand, 1 s long: open and speeding up, shut, delivering, recoil, open again."""
    time = np.linspace(0.0, float(beats), 1200 * beats + 1)
    phase = time % 1.0
    corners = np.array([0.0, 0.78, 0.85, 0.85 + closed, 1.0])
    opening = np.interp(phase, corners, [0.006, 0.006, 0.0, 0.0, 0.006])
    shut = (phase >= 0.85) & (phase < 0.85 + closed)
    delivery = np.where(shut & (phase < 0.92), 0.001 * (0.92 - phase) / 0.07, 0.0)
    back = np.where((phase >= 0.93) & (phase < 0.97), -1e-4, 0.0)
    running = np.clip(((phase - 0.97) % 1.0) / 0.88, 0.0, 1.0)
    waste = np.where(shut | (phase >= 0.93) & (phase < 0.97), 0.0, 0.0011 * np.sin(0.5 * np.pi * running))
    head = np.where(shut & (phase < 0.92), 15.1 - 0.5 * (phase - 0.85), 0.5 * phase)
    return {
        "time": time,
        "opening": opening,
        "drive": waste + delivery + back,
        "waste": waste,
        "delivery": delivery,
        "head": np.where(shut & (phase >= 0.92), -0.4, head),
        "vessel_head": 14.8 + 0.2 * np.cos(2.0 * np.pi * (phase - 0.92)),
    }


def beat_data(trace: Trace | None = None) -> BeatData:
    trace = trace or beat_trace()
    return BeatData(fall=1.85, lift=13.72, events=find_events(trace), **trace)


def profile_data() -> ProfileData:
    """The invented place of the first example, in feet turned to metres."""
    foot = 0.3048
    supply = np.array([[0.0, 7.2], [15.0, 6.9], [30.0, 8.6], [48.0, 6.6], [60.0, 6.4]]) * foot
    drive = np.array([[60.0, 4.9], [75.0, 2.2], [90.0, 0.3]]) * foot
    rise = np.array([[90, 0.6], [120, 6], [160, 17], [185, 24], [215, 21.5], [300, 37], [390, 45]]) * foot
    ground = np.vstack((supply, drive[1:], rise[1:])) + np.array([0.0, 0.4])
    lines = (
        ProfileLine(
            kind="supply", stations=supply[:, 0], levels=supply[:, 1],
            grade_stations=np.array([0.0, 60.0]) * foot, grade_levels=np.array([8.0, 6.4]) * foot,
        ),
        ProfileLine(kind="drive", stations=drive[:, 0], levels=drive[:, 1]),
        ProfileLine(
            kind="delivery", stations=rise[:, 0], levels=rise[:, 1],
            grade_stations=np.array([90.0, 390.0]) * foot, grade_levels=np.array([48.5, 45.0]) * foot,
        ),
    )  # fmt: skip
    places = (
        ProfilePlace(kind="intake", station=0.0, level=7.2 * foot, words="intake"),
        ProfilePlace(kind="drive_tank", station=60.0 * foot, level=6.4 * foot, words="drive tank"),
        ProfilePlace(kind="ram", station=90.0 * foot, level=0.3 * foot, words="ram"),
        ProfilePlace(kind="air", station=185.0 * foot, level=24.0 * foot, words="air collects here"),
        ProfilePlace(kind="tank", station=390.0 * foot, level=45.0 * foot, words="tank, 1100 gal"),
    )
    heights = (
        ProfileHeight(
            words="fall {value}", station=96 * foot, low=0.3 * foot, low_station=90 * foot,
            high=6.4 * foot, high_station=60 * foot,
        ),
        ProfileHeight(
            words="lift {value}", station=372 * foot, low=0.3 * foot, low_station=90 * foot,
            high=45 * foot, high_station=390 * foot,
        ),
    )  # fmt: skip
    return ProfileData(
        lines=lines, ground_stations=ground[:, 0], ground_levels=ground[:, 1], places=places, heights=heights
    )


def curve_data() -> CurveData:
    x = np.linspace(0.0015, 0.016, 60)
    likely = 5.2e-5 * np.exp(-(((x - 0.0085) / 0.0062) ** 2))
    return CurveData(
        x=x, low=0.8 * likely, likely=likely, high=1.2 * likely, x_kind="small_length", y_kind="flow",
        stops_below=0.0026, stops_above=0.0145, here=0.0066, wanted=3.2e-5,
    )  # fmt: skip


def spread_data() -> SpreadData:
    return SpreadData(
        low=3.9e-5,
        likely=4.7e-5,
        high=5.4e-5,
        kind="flow",
        wanted=3.07e-5,
        per_day=True,
        outcomes=(
            Outcome(words="runs and lifts enough", share=0.91),
            Outcome(words="runs, but lifts less than is wanted", share=0.06, standing="caution"),
            Outcome(words="hangs open", share=0.028, standing="stop"),
            Outcome(words="hangs shut", share=0.002, standing="stop"),
        ),
    )


def _beat(units: System, theme: str, width: Width) -> Picture:
    return beat_picture(beat_data(), BEAT_LABELS, units=units, theme=THEMES[theme], width=width)


def _profile(units: System, theme: str, width: Width) -> Picture:
    return profile_picture(profile_data(), PROFILE_LABELS, units=units, theme=THEMES[theme], width=width)


def _curve(units: System, theme: str, width: Width) -> Picture:
    return curve_picture(curve_data(), CURVE_LABELS, units=units, theme=THEMES[theme], width=width)


def _spread(units: System, theme: str, width: Width) -> Picture:
    return spread_picture(spread_data(), SPREAD_LABELS, units=units, theme=THEMES[theme], width=width)


KINDS: dict[str, Callable[[System, str, Width], Picture]] = {
    "beat": _beat,
    "profile": _profile,
    "curve": _curve,
    "spread": _spread,
}


@cache
def sample(kind: str, units: System = "us", theme: str = "light", width: Width = "desktop") -> Picture:
    """A picture of a kind; made once."""
    return KINDS[kind](units, theme, width)
