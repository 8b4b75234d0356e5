"""Verdicts on whether a ram runs, what it lifts and what its pipe bears."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    "may_hangs_open": Templates(
        "The waste valve may hang open",
        "Chance {share:chance}: the water never gets fast enough to shut the waste valve.",
        "Take weight off the waste valve or shorten its stroke; measure the fall again if it is unsure.",
    ),
    "may_hangs_shut": Templates(
        "The waste valve may hang shut",
        "Chance {share:chance}: the recoil is too weak to let the waste valve fall open.",
        "Add weight to the waste valve, or keep more back pressure on the ram: a ram needs lift to run.",
    ),
    "may_chatters": Templates(
        "The waste valve may chatter",
        "Chance {share:chance}: it shuts again before it is properly open.",
        "Add weight or stroke to the waste valve a little at a time.",
    ),
    "may_no_period": Templates(
        "The beat may be uneven",
        "Chance {share:chance}: no two beats are alike; the delivery stated is then a mean.",
        "Change the weight or stroke a little either way once it runs.",
    ),
    "may_lift_beyond": Templates(
        "The lift may be beyond this ram",
        "Chance {share:chance}: it beats without lifting any water to the tank.",
        "Use a stiffer or longer drive pipe, more fall, or a lower tank.",
    ),
    "may_starved": Templates(
        "The ram may run short of water",
        "Chance {share:chance}: it drinks more than the creek gives, and stops when the drive "
        "tank draws air.",
        "Take weight off the waste valve or shorten its stroke until it drinks less; measure the flow in "
        "the dry season.",
    ),
    "setting_drinks_too_much": Templates(
        "No setting of the waste valve suits the flow",
        "The lightest setting that runs drinks {drive:flow}; the usable flow is {flow:flow} and less on "
        "a low day.",
        "Use a smaller ram, or bring more water to the drive tank.",
    ),
    "residual_takes_all": Templates(
        "Nothing is left for the ram",
        "The creek gives {flow:flow} and {residual:flow} has to stay in it.",
        "Look for another source; ask what has to stay in the creek before anything is bought.",
    ),
    "fall_too_small": Templates(
        "The fall is too small",
        "The fall is {value:head}; below {limit:head} no ram is worth building.",
        "Gain fall: a supply line from further up, or the ram further down.",
    ),
    "fall_doubtful": Templates(
        "The fall is small",
        "The fall is {value:head}; practice calls less than {limit:head} doubtful. A ram can run on it, but "
        "every bit of fall counts.",
        "Measure the fall twice, by two methods, and look for more of it.",
    ),
    "length_over_bore_outside": Templates(
        "Drive pipe length against its bore is out of the ordinary",
        "It is {ratio:number} bores long; handbooks name {least} to {most}: {said}.",
        "What this costs is in the figures already; try another length before buying.",
    ),
    "length_over_fall_outside": Templates(
        "Drive pipe length against the fall is out of the ordinary",
        "It is {ratio:number} times the fall; handbooks name {least} to {most} and disagree: {said}.",
        "What this costs is in the figures already; try another length before buying.",
    ),
    "peak_over_class": Templates(
        "The drive pipe is too weak for the beat",
        "The beat reaches {head:head} at the ram; {pipe} is rated for {rated:head} at this water's "
        "temperature.",
        "Use a stronger drive pipe, or lower the lift. Never stand over pipe run above its class.",
    ),
    "shutoff_over_class": Templates(
        "Shutting the delivery could burst the drive pipe",
        "With the delivery shut the head climbs to about {head:head}; {pipe} is rated for {rated:head}.",
        "Fit no valve on the delivery line that can be shut while the ram runs, or use a stronger pipe.",
    ),
    "delivery_over_class": Templates(
        "The delivery line is too weak",
        "It sees up to {head:head} at the ram; {pipe} is rated for {rated:head} at this water's temperature.",
        "Use a stronger pipe for the lowest part of the delivery line.",
    ),
    "plastic_drive_pipe": Templates(
        "Plastic drive pipe",
        "{pipe} gives way to the surge, which costs lift, and every beat works its joints: some "
        "{millions_a_year:number} million times a year.",
        "Use steel if you can; failing that, anchor the pipe well and look at its joints often.",
    ),
    "not_held": Templates(
        "Ram and drive pipe are not held",
        "They move with every beat, which costs {loss:fraction} of the delivery; the figures above have it "
        "off.",
        "Set the ram in concrete or weigh it down, and strap the end of the drive pipe.",
    ),
    "demand_not_met": Templates(
        "It will not bring the water wanted",
        "{demand:daily} is wanted; it will likely bring {delivery:daily}.",
        "Use a larger ram if the creek gives more, gain fall, or want less.",
    ),
    "demand_unsure": Templates(
        "It may not always bring the water wanted",
        "{demand:daily} is wanted; at the low end it brings {low:daily}.",
        "Measure fall and flow again, and keep a larger tank.",
    ),
    "caution_trapped_pressure": Templates(
        "Trapped pressure",
        "Air vessel and delivery line stay under pressure, up to {head:head} of water, after the ram has "
        "stopped.",
        "Vent them before loosening anything, and keep hands clear of the waste valve while it beats.",
    ),
    "caution_water_rights": Templates(
        "Water rights and permits",
        "Taking or diverting water, and what must stay in the creek, are ruled by local law.",
        "Ask before building; local codes and licensed practice come before anything said here.",
    ),
    "caution_drinking_water": Templates(
        "Drinking water",
        "Creek and spring water is not safe to drink untreated.",
        "Have it tested and treated before anyone drinks it.",
    ),
}
"""Sentences by code."""
