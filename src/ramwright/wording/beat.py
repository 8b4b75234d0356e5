"""Words of one beat: labels of its picture, its columns, and what it comes to in a few lines."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

STAGES: Final = (
    "The water speeds up, out to waste",
    "The waste valve slams shut",
    "Water goes into the air vessel",
    "Recoil: the waste valve falls open",
)
"""The beat in four small views."""

EVENTS: Final[dict[str, str]] = {
    "closing": "The water has got fast enough to lift the waste valve: it starts to close.",
    "shut": "The waste valve slams shut; the column of water has nowhere to go and its pressure jumps.",
    "delivery_opens": "The pressure opens the delivery valve: water goes into the air vessel.",
    "delivery_shuts": "The column has spent its speed; the delivery valve falls shut.",
    "turns_back": "Recoil: the water in the drive pipe runs back a little and the pressure drops.",
    "opens": "The waste valve falls open.",
    "wide_open": "It stands wide open, and the water speeds up again.",
}
"""What happens at each event of a beat, by the event's key."""

LABELS: Final[dict[str, str]] = {
    "title": "The beat of the ram",
    "description": "Head, flows and waste-valve opening over two beats of the ram, with the moments of one "
    "closing numbered.",
    "head": "Head",
    "flow": "Flow",
    "opening": "Waste-valve opening",
    "time": "Time, s",
    "ram_head": "at the ram",
    "vessel_head": "in the air vessel",
    "lift": "lift {value}",
    "fall": "fall {value}",
    "drive": "drive pipe, at the ram",
    "waste": "waste",
    "delivery": "into the air vessel",
    "recoil": "recoil",
    "peak": "highest {value}",
    "beats": "Two beats",
    "closer": "One closing, seen closer",
    "open": "open",
    "speeding": "water speeds up",
}
"""Labels of the picture."""

CAPTION: Final = "{place}: {beats} beats a minute; each wastes {waste:volume} and lifts {delivered:volume}."
STANDS: Final = "{place}: the ram does not beat."

LINES: Final[dict[str, str]] = {
    "beats": "Beats a minute: {value}",
    "waste": "Waste a beat: {value:volume}",
    "delivered": "Delivered a beat: {value:volume}",
    "recoil": "Recoil a beat: {value:volume}",
    "closing": "Speed of the water when the waste valve closes: {value:velocity}",
    "peak": "Highest head in the drive pipe: {value:head}, {at:length} from the drive tank",
    "low": "Lowest head in the drive pipe: {value:head}, {at:length} from the drive tank",
    "vessel": "Head in the air vessel swings from {low:head} to {high:head}",
    "adjusted": "Wave speeds were changed by up to {value:fraction} to fit all pieces of pipe to one step",
}

COLUMNS: Final[Mapping[str, str]] = {
    "time": "time_s",
    "head": "head_at_ram_m",
    "drive": "drive_flow_m3_s",
    "waste": "waste_flow_m3_s",
    "delivery": "delivery_flow_m3_s",
    "opening": "waste_valve_opening_m",
    "vessel_head": "air_vessel_head_m",
    "level": "drive_tank_level_m",
    "line_flow": "delivery_line_flow_m3_s",
    "inlet": "flow_into_drive_pipe_m3_s",
    "shift": "ram_shift_m",
}
"""Headings of the traces' columns: plain, SI, the same in every language."""
