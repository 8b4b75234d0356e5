"""Names of points and runs of a field book as a person says them.

The survey knows a point as ``ram/waste_valve_seat`` and a run nobody named by its place on the sheet
(``level_book[0]``); both stand in findings and origins.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from ramwright.wording.blanks import fill
from ramwright.wording.translate import translate

STANDS: Final[dict[str, str]] = {
    "ground": "ground",
    "ram_inlet": "inlet of the ram",
    "waste_valve_seat": "waste-valve seat",
    "outlet_lip": "overflow lip",
    "water_surface": "water",
    "tank_inlet_top": "top of the inlet",
    "gauge": "gauge",
    "unstated": "point not stated",
}
"""What can be stood on."""
PLACES: Final[dict[str, str]] = {
    "drive tank": "drive tank",
    "intake": "intake",
    "ram": "ram",
    "tank": "tank",
    "highest point": "highest point",
    "tailwater": "tailwater",
}
"""Places every sheet knows by these names; other places have the name someone gave them."""
DAMS: Final[dict[str, str]] = {
    "in": "dam in",
    "out": "dam out",
    "unstated": "dam not stated",
}
RUNS: Final[dict[str, str]] = {
    "level_book": "level book",
    "hand_level": "hand-level run",
    "abney": "Abney line",
    "hose": "hose",
    "gauge": "gauge",
    "raised_pipe": "raised pipe",
    "tape": "tape",
    "bucket": "bucket",
    "float_run": "float",
    "v_notch": "V-notch",
    "rectangular_weir": "rectangular weir",
    "salt_slug": "salt slug",
    "salt_constant": "brine at a constant rate",
}
"""Kinds of run."""
FACTS: Final[dict[str, str]] = {
    "fall": "fall",
    "lift": "lift",
    "source_flow": "source flow",
    "flow, creek": "flow in the creek",
    "flow, supply": "flow in the supply line",
    "flow, drive": "drive flow",
    "flow, delivery": "delivery flow",
    "levels": "levels",
    "stages": "stages",
    "low": "low",
    "normal": "normal",
    "flood": "flood",
    "road": "road",
    "track": "track",
    "on_foot": "on foot",
    "climb": "climb",
    "typed": "typed",
    "spread_assumed": "typed; usual spread",
}
"""Facts, and where they come from."""
_SEAT: Final = "ram/waste_valve_seat"
_RUN: Final = re.compile(rf"(?:visit\[(\d+)\]\.)?\b({'|'.join(RUNS)})\[(\d+)\]")
_SETUP: Final = re.compile(r"(.+)#(\d+)")
_POINT: Final = re.compile(rf"(.+)/({'|'.join(STANDS)}|mark)(?:/dam_(in|out|unstated))?")


def spoken(numbers: Mapping[str, object], language: str | None = None) -> dict[str, object]:
    """Numbers of a finding or verdict as they are said: names in words, spreads without a sign."""
    said = dict(numbers)
    if isinstance(about := said.get("about"), str):
        said["about"] = named(about, language)
    if isinstance(names := said.get("names"), tuple):
        said["names"] = [named(str(name), language) for name in names]
    if isinstance(spreads := said.get("normalised"), float):
        said["normalised"] = abs(spreads)
    return said


def named(text: str, language: str | None = None) -> str:
    """What the survey calls ``text``, in a person's words; anything else as it stands."""

    def say(template: str, **values: object) -> str:
        return fill(translate(template, language), values, "us")

    def run(found: re.Match[str]) -> str:
        name, number = say(RUNS[found[2]]), int(found[3]) + 1
        if found[1] is None:
            return f"{name} {number}"
        return say("{run} {number} of visit {visit}", run=name, number=number, visit=int(found[1]) + 1)

    if text in FACTS:
        return say(FACTS[text])
    if setup := _SETUP.fullmatch(text):
        return say("set-up {number} of {run}", number=int(setup[2]) + 1, run=_RUN.sub(run, setup[1]))
    if text == _SEAT:
        return say(STANDS["waste_valve_seat"])
    if point := _POINT.fullmatch(text):
        known = PLACES.get(point[1])
        place = say(known) if known else _RUN.sub(run, point[1])
        if point[2] == "mark":
            return place
        stood = say(STANDS[point[2]])
        return f"{place} ({stood}, {say(DAMS[point[3]])})" if point[3] else f"{place} ({stood})"
    return _RUN.sub(run, text)
