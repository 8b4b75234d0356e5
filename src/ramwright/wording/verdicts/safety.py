"""Verdicts on what can hurt people or spoil their water."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    "plastic_air_vessel": Templates(
        "An air vessel of plastic can burst like a bomb",
        "{stuff} is not made for compressed air: it breaks into splinters, at up to {head:head} of water "
        "here.",
        "Use a steel air vessel, or a bladder tank that is rated for it.",
    ),
    "soft_air_vessel": Templates(
        "An air vessel of soft plastic",
        "{stuff} is rated for water, not for air, and gives way a little more with every beat.",
        "Use a steel air vessel, or a bladder tank that is rated for it.",
    ),
    "air_vessel_small": Templates(
        "The air vessel is small",
        "It holds what {beats:number} beats deliver; {limit:number} beats are the usual least. The knock "
        "then goes on into the delivery line.",
        "Use a larger air vessel.",
    ),
    "air_vessel_waterlogs": Templates(
        "The air vessel will fill with water",
        "Without a snifter nothing makes good the air that the water carries away: it may be gone after "
        "{soonest:time}, and likely is after {likely:time}. Then the ram hammers and breaks something.",
        "Fit a snifter, use a bladder, or drain the air vessel that often.",
    ),
    "waste_valve_drowned": Templates(
        "The waste valve stands under water",
        "{depth:length} of water stands over it outside; fall is lost, and each recoil draws "
        "{volume:volume} of pit water into what is delivered.",
        "Drain the pit to below the waste valve, or raise the ram.",
    ),
    "snifter_drowned": Templates(
        "The snifter is under water",
        "It lies {depth:length} under the water in the pit: it draws that water instead of air, and "
        "the air vessel fills up.",
        "Drain the pit to below the snifter, or raise the ram.",
    ),
    "waste_valve_leans": Templates(
        "The waste valve leans",
        "It stands {tilt:angle} from upright; beyond {limit:angle} its guides rub, and it pulls with a "
        "part of its weight only.",
        "Set the ram so that the valve stands upright.",
    ),
    "tank_without_air_gap": Templates(
        "The tank can be drawn back down its own line",
        "The delivery line enters under the water: when the ram stops and leaks, the tank drains down it, "
        "and what got into the line comes back.",
        "Let the water fall in from above, over the overflow.",
    ),
    "tank_overflow_small": Templates(
        "The overflow of the tank is small",
        "Its bore is {overflow:small_length}, the delivery line's {inlet:small_length}; it has to be at "
        "least as wide, and pass all the ram brings.",
        "Fit a wider one, screened, and led off where it does no harm.",
    ),
    "tank_on_stand": Templates(
        "A full tank is heavy",
        "{volume:volume} of water weighs {mass:mass}, {height:length} above the ground: a cubic metre is a "
        "tonne.",
        "Have the stand and what it stands on checked by someone who does that for a living.",
    ),
    "several_rams": Templates(
        "Several rams together",
        "Flows told are those of all {rams} rams together; setting, beats and heads are those of each.",
        "Give each a drive pipe of its own, and a valve to the shared delivery line.",
    ),
    "rests_on_memory": Templates(
        "Some of this rests on works recalled, not read again",
        "It is so for {count} of the verdicts above: {sources}.",
        "Check the work named before you act on one of them alone.",
    ),
}
"""Sentences by code."""
