"""Words of an appraisal's answer: headings, names of its figures, names of a sheet's entries."""

from __future__ import annotations

import re
from typing import Final

from ramwright.catalogue import Mark
from ramwright.wording.blanks import fill
from ramwright.wording.translate import translate

FIGURES: Final[dict[str, str]] = {
    "delivery": "Water to the tank",
    "waste": "Waste",
    "drive": "Drive flow (waste + delivery)",
    "beats_per_min": "Beats",
    "efficiency_daubuisson": "Efficiency, D'Aubuisson",
    "efficiency_rankine": "Efficiency, Rankine",
    "peak_head": "Highest head at the ram",
    "lowest_head": "Lowest head at the ram",
    "shutoff_head": "Head if the delivery is shut off",
}
"""Figures of a prediction, as its table names them."""

FACTS: Final[dict[str, str]] = {"fall": "Fall", "lift": "Lift", "source_flow": "Source flow"}

HEADINGS: Final[dict[str, str]] = {
    "facts": "What was measured",
    "prediction": "What it will do",
    "setting": "How to set the waste valve",
    "verdicts": "What to mind, most serious first",
    "cautions": "Cautions",
    "assumptions": "Taken because the sheet does not say",
    "check": "Cross-check (closed form, no recoil and no valve motion: it errs high)",
}

SENTENCES: Final[dict[str, str]] = {
    "runs": "This ram will run here. Chance: {share:chance}, from {draws} runs across the spread of the "
    "readings.",
    "may_run": "This ram may run here or not. Chance that it runs: {share:chance}, from {draws} runs across "
    "the spread of the readings.",
    "not_run": "This ram will not run here. Chance that it runs: {share:chance}, from {draws} runs across "
    "the spread of the readings.",
    "day": "Water to the tank: likely {likely} {unit}; between {low} and {high} eight times in ten.",
    "weight": "Moving mass {value:mass} (valve and weights), stroke {stroke:small_length}.",
    "stroke": "Stroke {value:small_length}.",
    "setting_drive": "The ram then drinks {drive:flow}.",
    "setting_drive_each": "Each ram then drinks {drive:flow}.",
    "setting_unfit": "No setting suits the flow; this is the one that runs and drinks least.",
    "check": "Delivery {delivery:daily}, waste {waste:flow}, {beats} beats a minute.",
    "check_hangs": "The water would never get fast enough to shut the waste valve.",
    "check_shut": "Nothing would pull the waste valve open.",
    "spread_assumed": "usual spread; none stated",
    "ranges": "low: exceeded nine times in ten; high: one time in ten. Runs in which the ram stops count as "
    "no water.",
}

NAMES: Final[dict[str, str]] = {
    "site.water_temperature": "water temperature",
    "site.altitude": "altitude",
    "drive_tank.entrance": "entrance loss of the drive pipe",
    "drive_tank.plan_area": "plan area of the drive tank",
    "drive_tank.cover": "cover over the drive-pipe inlet",
    "air_vessel.volume": "volume of the air vessel",
    "air_vessel.air_share": "share of the air vessel that is air",
    "air_vessel.precharge": "precharge of the air vessel",
    "ram.waste_valve.port_diameter": "port of the waste valve",
    "ram.waste_valve.stroke": "stroke of the waste valve",
    "ram.waste_valve.arm": "arm of the waste valve",
    "ram.waste_valve.tilt": "angle the waste valve stands at",
    "ram.delivery_valve.bore": "bore of the delivery valve",
    "ram.delivery_valve.loss": "loss coefficient of the delivery valve",
    "ram.delivery_valve.lag": "time the delivery valve takes to shut",
    "ram.delivery_valve.leak": "leak of the shut delivery valve",
    "ram.waste_valve.leak": "leak of the shut waste valve",
    "ram.snifter.diameter": "hole of the snifter",
    "intake.kind": "entrance loss of the supply line",
    "intake.cover": "water over the intake",
    "drive_pipe_support.moving_mass": "mass that moves with the ram",
    "drive_pipe_support.stiffness": "stiffness of the support",
    "drive_pipe_support.damping_ratio": "damping of the support",
}
LINES: Final[dict[str, str]] = {
    "supply_line": "supply line",
    "drive_pipe": "drive pipe",
    "delivery_line": "delivery line",
}
PIECE: Final = "{entry} of {line} {number}"
"""An entry of a piece of a line."""
ENTRIES: Final[dict[str, str]] = {
    "wall": "wall",
    "roughness": "roughness",
}
"""Entries of a piece that may be left unsaid."""
MARKS: Final = tuple(mark.value for mark in Mark)
"""How a figure that was taken is known."""
_PIECE: Final = re.compile(r"(supply_line|drive_pipe|delivery_line)\[(\d+)\]\.(\w+)")


def entry_name(field: str, language: str | None = None) -> str:
    """A sheet's entry in words: ``drive_pipe[0].wall`` is "wall of drive pipe 1"."""
    piece = _PIECE.fullmatch(field)
    if piece:
        entry, line = (translate(word, language) for word in (ENTRIES[piece[3]], LINES[piece[1]]))
        values = {"entry": entry, "line": line, "number": int(piece[2]) + 1}
        return fill(translate(PIECE, language), values, "us")
    return translate(NAMES[field], language)
