"""Words for what decides an answer, and what to measure again."""

from __future__ import annotations

from typing import Final

HEADING: Final = "What decides the answer, and what to measure again"

NAMES: Final[dict[str, str]] = {
    "fall": "Fall",
    "lift": "Lift",
    "source_flow": "Source flow",
    "stroke": "Stroke of the waste valve",
    "weight": "Weight of the waste valve",
    "force_factor": "Push of the water that shuts the waste valve",
    "losses": "Losses in the waste valve",
    "delivery_lag": "Time the delivery valve takes to shut",
    "model": "What the simulation itself may miss",
}
"""Uncertain inputs, by the names of ``appraise.sensitivity``."""

AGAIN: Final[dict[str, str]] = {
    "fall": "Measure the fall again first: out and back, and by another method.",
    "lift": "Measure the lift again first: out and back, and by another method.",
    "source_flow": "Measure the source flow again first, in the driest weeks: more fills of the bucket, or a "
    "weir.",
    "stroke": "Measure the stroke of the waste valve again first, with a caliper, and lock it there.",
    "weight": "Put what moves in the waste valve on scales again first.",
}
"""What to measure again, for inputs that can be measured before anything is built."""

SENTENCES: Final[dict[str, str]] = {
    "share": "share of",
    "spread": "the spread",
    "twice": "known twice as well:",
    "tank": "water to the tank",
    "chance": "runs",
    "range": "{low} to {high} {unit}",
    "hangs": "Whether it runs at all hangs most on this: {name} ({share:chance}).",
    "ram": "No reading would narrow this by much: it shows when the ram runs. Measure its delivery, waste "
    "and beats then.",
    "counted": "Water, waste and beats count in {percent} % for what the simulation itself may miss "
    "(judgement).",
    "nothing": "No reading, taken anywhere within its spread, changes this answer.",
}
