"""Verdicts on the drive tank."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    "drive_tank_cover": Templates(
        "Too little water over the drive-pipe inlet",
        "At the lowest {cover:length} stands over it; less than {needed:length} lets it draw air in a whirl.",
        "Set the inlet deeper or raise the overflow; a board afloat over it helps for the time being.",
    ),
    "drive_tank_sinks": Templates(
        "The drive tank is too small for the beat",
        "Its level sinks {drawdown:length} with every beat, where {limit:length} is the most that does not "
        "disturb the ram.",
        "Use a tank with a larger water surface: a drum instead of a pipe.",
    ),
    "drive_tank_small": Templates(
        "The drive tank holds little water",
        "What stands over the inlet lasts the ram {seconds:time}; practice wants {limit:time} or more.",
        "A larger tank lets air and sand leave the water, and lasts through a leaf on the screen.",
    ),
    "drive_tank_sealed": Templates(
        "The drive tank must be open to the air",
        "Under a sealed lid the pipe behind it is part of the drive pipe: the beat runs up into it, draws it "
        "flat or breaks its joints.",
        "Take the lid off, or cut a vent in it as wide as the drive pipe.",
    ),
    "drive_tank_keeps_air": Templates(
        "Bubbles go on into the drive pipe",
        "The water surface of {area:area} is too small to let them rise; {needed:area} would do.",
        "Use a wider tank, or lead the supply in below the water and away from the inlet.",
    ),
    "drive_tank_passes_sand": Templates(
        "The drive tank lets sand through",
        "Grains up to {grain:small_length} go on to the valves. Keeping back all that wears them takes a "
        "surface of {area:area}.",
        "Use a wider tank, or look at the valve rubbers more often.",
    ),
    "overflow_too_small": Templates(
        "The overflow of the drive tank is too small",
        "While the ram stands still {flow:flow} has to leave over it, which takes {head:length} of water "
        "over its lip; the rim stands only {freeboard:length} above.",
        "Cut it wider, or set the rim higher, so that the bank is not washed out.",
    ),
    "overflow_unsaid": Templates(
        "Nothing says where the surplus goes",
        "While the ram stands still {flow:flow} runs over at the drive tank.",
        "Give the tank an overflow for that flow, led back to the creek without washing out the bank.",
    ),
    "sump_fills": Templates(
        "The sump of the drive tank fills with silt",
        "At this silt in the water it is full after about {time:time}.",
        "Open the washout well before that.",
    ),
    "sump_fills_no_washout": Templates(
        "The sump of the drive tank fills with silt",
        "At this silt in the water it is full after about {time:time}, and there is no washout.",
        "Fit a drain at the bottom, or plan to shovel it out.",
    ),
}
"""Sentences by code."""
