"""Verdicts on the intake and its screen."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    "screen_too_fast": Templates(
        "Water presses too hard on the screen",
        "It comes at {velocity:velocity}; {limit:velocity} is the most any agency's rule allows. It pins "
        "fish and leaves to the screen.",
        "Make the screen larger: about {area:area} suits the stricter rule.",
    ),
    "screen_rules_disagree": Templates(
        "Rules for fish screens disagree here",
        "Water comes to the screen at {velocity:velocity}: more than {low:velocity} and less than "
        "{high:velocity}. The rules: {said}.",
        "Ask which one counts at this creek.",
    ),
    "screen_lets_fish_in": Templates(
        "The smallest fish get through the screen",
        "Its openings are {opening:small_length} wide; {limit:small_length} is the most for the fish named.",
        "Use a finer screen with more of it, and clean it more often.",
    ),
    "screen_too_coarse": Templates(
        "The screen is too coarse for the ram",
        "What fits through {opening:small_length} can lodge in the ram, whose valves open "
        "{passage:small_length}; half of that, {limit:small_length}, is usual.",
        "Use a finer screen, or put a second one in the drive tank.",
    ),
    "screen_too_little_open": Templates(
        "The screen has too few or too fine openings",
        "Together they are {ratio:number} times the bore behind them; {limit:number} times is the least.",
        "Make the screen larger, with more openings of the same size.",
    ),
    "screen_mostly_shut": Templates(
        "Little of the screen is open",
        "{share:fraction} of it is open; below {limit:fraction} one agency wants a larger screen.",
        "Use a mesh with thinner wires, or more of it.",
    ),
    "screen_unmeasured": Templates(
        "The screen could not be judged",
        "Its size or its openings do not stand on the sheet.",
        "Measure the area the water meets, the share that is open, and the widest opening.",
    ),
    "intake_without_screen": Templates(
        "Nothing keeps leaves and stones out of the intake",
        "A pipe end without a screen draws in what drifts by, down to the valves of the ram.",
        "Fit a strainer with four to ten times the open area of the bore.",
    ),
    "intake_cover": Templates(
        "Too little water over the intake in the dry season",
        "{cover:length} stands over it then; below {needed:length} it may draw air.",
        "Set it deeper, dam the creek a little, or turn the opening down.",
    ),
    "screen_clogs": Templates(
        "How often the screen wants cleaning",
        "Going by what was found on it, it lets too little through after about {time:time}.",
        "Clean it well before that, and after every flood.",
    ),
    "screen_clogs_fast": Templates(
        "The screen clogs within days",
        "Going by what was found on it, it lets too little through after about {time:time}.",
        "Make it larger, set it where the current sweeps it, or clean it more often than weekly.",
    ),
    "screen_clogs_guessed": Templates(
        "How often the screen may want cleaning",
        "With such debris it may let too little through after about {time:time}; this is a guess.",
        "Note how much of it is blocked after how long: that is worth more than any word for it.",
    ),
    "screen_clogs_fast_guessed": Templates(
        "The screen may clog within days",
        "With such debris it may let too little through after about {time:time}; this is a guess.",
        "Make it larger, and note how much of it is blocked after how long.",
    ),
}
"""Sentences by code."""
