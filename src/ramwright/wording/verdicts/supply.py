"""Verdicts on the supply line."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    "supply_unjudged": Templates(
        "The supply line could not be judged",
        "Neither its way nor its drop stands on the sheet, so it is taken to bring all the creek gives.",
        "Measure the drop from the creek down to the drive tank, or the way as a profile.",
    ),
    "supply_starves": Templates(
        "The supply line starves the ram",
        "It brings {brings:flow} of the {flow:flow} the creek could spare; that is too little for this ram.",
        "Use a larger bore, lay it with an even fall, or go around the hump.",
    ),
    "supply_holds_back": Templates(
        "The supply line holds the ram back",
        "It brings {brings:flow} of the {flow:flow} the creek could spare, hardly more than the ram drinks. "
        "What holds it back lies {station:length} along it.",
        "Use a larger bore up to there, or lay that part deeper.",
    ),
    "supply_part_full": Templates(
        "The supply line runs part full",
        "Air follows the water down; it brings {brings:flow}, ruled by the part up to {station:length}, "
        "where full of water it would bring {full:flow}.",
        "Nothing has to be done if that is enough; else use a larger bore up to there.",
    ),
    "supply_summit_air": Templates(
        "Air will gather at a summit of the supply line",
        "At {station:length} the water runs {velocity:velocity}; it takes {needed:velocity} to carry air on.",
        "Drill a vent there with a tap or an upright tube above the level of the source, or lay it lower.",
    ),
    "siphon_too_high": Templates(
        "The siphon is too high",
        "Over the hump at {station:length} the water would be {suction:head} below the air's pressure; at "
        "this altitude and temperature {limit:head} is as far as it may be taken.",
        "Lay the line lower over the hump, or go around it. It will not hold its water as it is.",
    ),
    "siphon_keeps_air": Templates(
        "The siphon will fill with air",
        "Behind the hump at {station:length} it runs {velocity:velocity}, and {needed:velocity} would be "
        "needed to carry its air along.",
        "Use a smaller bore behind the hump, more drop, or let the air out at the top now and then.",
    ),
    "siphon_does_not_prime": Templates(
        "The supply line does not start by itself",
        "What trickles over the hump at {station:length} is {trickle:flow}; it takes {needed:flow} to "
        "carry the air off. Primed, it runs as a siphon and brings {siphon:flow}; each time the creek "
        "runs low it stops.",
        "Fit a filling plug at the top and a stop valve at the end, or lay it below the grade line.",
    ),
    "siphon_outlet_open": Templates(
        "The supply line may not start by itself",
        "Its end lies in the open, so air can go back up it. Unprimed, {trickle:flow} trickles over "
        "the hump at {station:length}; primed, it brings {siphon:flow}.",
        "Lead its end under the water of the drive tank, or fit a stop valve there to prime it.",
    ),
    "siphon_draws_in": Templates(
        "The supply line is under suction where people drink the water",
        "Around the hump at {station:length} any leak draws ground water in.",
        "Use joints that are tight both ways, keep it off wet ground, or lay it below the grade line.",
    ),
}
"""Sentences by code."""
