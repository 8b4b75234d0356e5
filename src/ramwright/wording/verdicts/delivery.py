"""Verdicts on the delivery line."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    "delivery_friction": Templates(
        "The delivery line is too thin",
        "Friction takes {friction:head}, {share:fraction} of the lift; {limit:fraction} is the usual most.",
        "Use the next larger pipe, at least for the lower part.",
    ),
    "delivery_fast": Templates(
        "Water runs too fast in the delivery line",
        "In {pipe} it runs {velocity:velocity}; {limit:velocity} is the usual most.",
        "Use a larger pipe there.",
    ),
    "delivery_slow": Templates(
        "Water creeps in the delivery line",
        "In {pipe} it runs {velocity:velocity}; below {limit:velocity} silt settles, air stays, and the "
        "water warms or freezes sooner.",
        "A thinner pipe would do if friction stays small; else flush the line now and then.",
    ),
    "delivery_air_shut_in": Templates(
        "The delivery line shuts air in when it fills",
        "Behind its summits, the worst at {station:length}, air is caught that costs up to {head:head} of "
        "lift. The ram still delivers then, with {share:fraction} less.",
        "Vent the summit with a tap while it fills, or lay the line so that it rises all the way.",
    ),
    "delivery_air_blocks": Templates(
        "The delivery line may block with air",
        "Behind its summits, the worst at {station:length}, air is caught that costs up to {head:head} of "
        "lift; against that this ram delivers nothing.",
        "Vent the summits with taps, or lay the line so that it rises all the way.",
    ),
    "delivery_air_stays": Templates(
        "Air stays at a summit of the delivery line",
        "At {station:length} the water runs {velocity:velocity}; it takes {needed:velocity} to carry the air "
        "away.",
        "Leave a vent there that can be opened again.",
    ),
    "float_valve_over_class": Templates(
        "A shut float valve could burst the delivery line",
        "When it shuts, the ram pumps the line up to about {head:head} at its lowest; {pipe} with its joints "
        "holds {rated:head}.",
        "Let the tank overflow instead, or use pipe and joints for that head.",
    ),
    "delivery_rating_low": Templates(
        "The delivery pipe is of a light class",
        "{pipe} is rated for {rated:pressure}; one agency wants {limit:pressure} of plastic pipe.",
        "Ask what counts here before buying.",
    ),
    "line_freezes_and_splits": Templates(
        "Frost can split the line",
        "{pipe} lies {depth:length} deep, and the ground freezes {frost:length} deep. Should the ram stop, "
        "it freezes and splits.",
        "Bury it deeper, or let it drain by itself when the ram stops.",
    ),
    "line_freezes": Templates(
        "The line can freeze",
        "{pipe} lies {depth:length} deep, and the ground freezes {frost:length} deep. It will not split, but "
        "it stays shut until the thaw.",
        "Bury it deeper, or let it drain by itself when the ram stops.",
    ),
    "delivery_shorter_than_lift": Templates(
        "The delivery line is shorter than the lift",
        "It is {length:length} long and is to climb {lift:length}.",
        "Measure both again; one of them is a slip.",
    ),
    "profile_misses_lift": Templates(
        "The profile and the lift do not agree",
        "The delivery line's highest point comes out at {top:length} above the waste-valve seat; the lift "
        "was measured as {lift:length}.",
        "Look for the slip; the lift is what is reckoned with.",
    ),
    "profile_misses_pipe": Templates(
        "A profile and its pipe differ in length",
        "The way is {route:length} long, the pipe {pipe:length}.",
        "Tape the way again. The profile was stretched to the pipe.",
    ),
    "profile_heights_poor": Templates(
        "Heights of a profile are poor",
        "Each may be off by {spread:length}: humps and dips in it are not to be trusted, and others not "
        "seen.",
        "Level the line where it could rise and fall, at least with a hand level.",
    ),
}
"""Sentences by code."""
