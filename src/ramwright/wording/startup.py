"""Words of starting a ram: what it comes to, the steps, what to mind, and ways of priming.

Blanks are the numbers a step carries. A blank whose number is a spread (``presses_low``,
``presses_likely``, ``presses_high``) shows it whole; one that ends in ``_gauge`` shows a head as the
gauge reads it (see ``wording.startup_told``).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

HEADINGS: Final[Mapping[str, str]] = {
    "title": "{place}: starting the ram",
    "steps": "Steps",
    "mind": "What to mind, most serious first",
    "cautions": "Cautions",
    "known": "How well it is known",
    "priming": "Ways of priming the supply line",
}

OUTCOMES: Final[Mapping[str, str]] = {
    "hand_presses": "Start it by hand: {presses} of the waste valve, then it runs by itself.",
    "throttle": "Start it against a nearly shut stop valve on the delivery line: pressing by hand alone "
    "would take too many presses.",
    "throttle_for_good": "It runs only against more head than this delivery line gives, so its stop valve "
    "has to stay nearly shut.",
    "starved": "It can be started, but later it drinks more than reaches it and stops.",
    "hangs_open": "It does not start: the waste valve hangs open.",
    "hangs_shut": "It does not keep running: the waste valve hangs shut after each press, even with the "
    "line full.",
    "chatters": "It does not start: the waste valve flutters without a full beat.",
    "lift_beyond": "It beats, but the lift is beyond it: no water reaches the tank.",
    "no_period": "It does not start: no steady beat comes about.",
}
"""What a start comes to, by code; the engine's own outcomes are told at length in ``outcomes``."""

ARRIVES: Final = "Water reaches the tank {seconds:time} later."
PRESSES: Final = "{count} presses"
SPAN: Final = "{likely} ({low} to {high})"
ONE_PRESS: Final = "one press"
SHARE: Final = "It runs by itself {share:chance} (of {draws} runs over what the readings leave open)."
RESTS_ON: Final = (
    "Presses and times are simulated with this ram; the readings' own spread gives the ranges. Rests "
    "between presses, the margin over the head held and the coefficient of the stop valve are judgement "
    "or from memory, not from a source that was read. Low: nine times in ten it is more; high: one time "
    "in ten."
)

STEPS: Final[Mapping[str, str]] = {
    "flush": "Flush intake, drive tank and drive pipe before the ram is fitted; then shut the stop valve "
    "of the drive pipe.",
    "prime_supply": "Prime the supply line: {litres:volume} to fill, crest {lift:head} over the source "
    "(limit here {limit:head}). Surest here: {method}",
    "supply_primes_itself": "Open the supply line and let it run: it primes itself over its crest, "
    "{lift:head} over the source.",
    "supply_runs_over": "Open the supply line and let it run over its crest, {below:head} under the "
    "source, until no more air comes from its outlet.",
    "drain_vessel": "Drain the air vessel ({volume:volume}), so that it is full of air, and shut its drain.",
    "bladder": "Check the charge of the air vessel with no water pressure on it: {charge_gauge}.",
    "purge_swept": "Open the stop valve of the drive pipe and hold the waste valve open for "
    "{seconds:time} or more ({litres:volume}): the water runs at {velocity:velocity}, and "
    "{needed:velocity} carries the air out.",
    "purge_rises": "Open the stop valve of the drive pipe a little and let it fill slowly: held open the "
    "water runs at {velocity:velocity} and would need {needed:velocity} to carry the air out, so the air "
    "has to rise back to the drive tank. Wait until no more bubbles come.",
    "purge_trapped": "Let the air out of the drive pipe at its humps ({stations:length} from the drive "
    "tank): held open the water runs at {velocity:velocity}, and {needed:velocity} would be needed to "
    "carry it out. Better: relay the pipe to fall all the way.",
    "dead_end": "Before joining the delivery line, put a plug with a gauge in its place and run the ram "
    "against it by hand presses. Stop at {stop_gauge}. Left running it would climb to {highest_gauge}.",
    "leak_down": "Then hold the waste valve shut and watch the gauge: a leak of one drip a second takes "
    "it from {head_gauge} to {until_gauge} in {seconds:time}. Faster means a leaking joint or delivery "
    "valve.",
    "vent_hold_waste_shut": "Before opening anything: keep the waste valve shut, hands off its stem.",
    "vent_shut_drive_valve": "Shut the stop valve of the drive pipe.",
    "vent_open_vent_slowly": "Open the drain or vent under the air vessel slowly, face and hands to the "
    "side.",
    "vent_wait_gauge_zero": "Wait until the gauge reads nothing.",
    "vent_tap_gauge": "Tap the gauge; a stuck one lies.",
    "vent_press_waste_once": "Press the waste valve once: nothing may spurt.",
    "vent_loosen_last": "Only now loosen the union, and join the delivery line.",
    "gravity_fill": "Hold the waste valve shut and open both stop valves: the first {length:length} of "
    "the delivery line fill by themselves up to the drive tank's level ({volume:volume}, {seconds:time}).",
    "press": "Press the waste valve down and let go at once, one press every {pace:time}: {presses}, "
    "{seconds:time} in all. Each brings {first:volume} at first and {last:volume} towards the end.",
    "press_once": "Press the waste valve down and let go at once: it runs from there. Press again if it "
    "hangs shut.",
    "runs_alone": "It runs by itself once water stands {alone:head} above the waste valve in the line: "
    "gauge {alone_gauge}.",
    "throttle": "Shut the stop valve of the delivery line. Press by hand until the gauge reads "
    "{hold_gauge} ({air} or so) and the ram runs; then crack the valve open to hold that: about "
    "{share:fraction} of its bore, a hole of {diameter:small_length}, and more as the line fills "
    "({seconds:time}).",
    "throttle_or": "Or, with less pressing: shut the stop valve of the delivery line, press until the "
    "gauge reads {hold_gauge} ({air} or so) and the ram runs, then crack the valve open to hold that: "
    "about {share:fraction} of its bore, a hole of {diameter:small_length}, and more as the line fills "
    "({seconds:time}).",
    "throttle_for_good": "Shut the stop valve of the delivery line, press until the gauge reads "
    "{hold_gauge} and the ram runs, then crack the valve open to hold that, and leave it so: about "
    "{share:fraction} of its bore, a hole of {diameter:small_length}.",
    "open_fully": "When the gauge holds {hold_gauge} with the valve ever wider, open it fully: a valve "
    "left half shut collects trash.",
    "to_tank": "Leave it running. Water comes out at the tank, {length:length} up the line, "
    "{seconds:time} after it runs by itself.",
    "sound": "Meanwhile knock on the line: it sounds full up to {station:length} about {when:time} after "
    "it runs by itself. Note where and when; that is a reading of the delivery flow.",
    "flush_line": "Let the first water run off at the tank: it carries dirt from laying the pipe.",
    "vent_summits": "Let the air out of the delivery line at its summits, {stations:length} from the ram, "
    "until water comes.",
    "check_next_day": "After a day measure delivery, waste, beats and both heads, and write them down.",
}
"""Steps by code."""

MINDING: Final[Mapping[str, tuple[str, str]]] = {
    "start_throttle_for_good": (
        "Too little head on the ram",
        "The line gives less back pressure than this ram needs to keep running, so water is throttled for "
        "good. Set more weight or a longer stroke on the waste valve and appraise it again.",
    ),
    "start_starved": (
        "It will run short of water",
        "In {share:chance} draws it starts and then drinks more than the creek gives. Set the waste valve "
        "lighter first.",
    ),
    "start_hangs_open": (
        "It will not start",
        "In {share:chance} draws the water never gets fast enough to shut the waste valve. Take weight "
        "off it or shorten its stroke before pressing yourself tired.",
    ),
    "start_hangs_shut": (
        "It will not keep running",
        "In {share:chance} draws its recoil is too weak to open the waste valve again. Add weight to it.",
    ),
    "start_chatters": (
        "It will not start",
        "In {share:chance} draws the waste valve flutters. Add weight or stroke to it.",
    ),
    "start_lift_beyond": (
        "It will not bring water to the tank",
        "In {share:chance} draws its beats do not reach the lift.",
    ),
    "start_no_period": (
        "It will not start",
        "In {share:chance} draws it finds no beat. Change weight or stroke of the waste valve.",
    ),
    "start_unsure": (
        "It may not keep running",
        "It runs by itself {share:chance}. Have weights for the waste valve at hand, and add or take off "
        "one at a time.",
    ),
    "dead_end_over_class": (
        "Shut off, it could burst the drive pipe",
        "With the delivery shut the pressure climbs to {highest:head}; {pipe} is rated for {rated:head}. "
        "In the dead-end test stop well before that, and fit no valve that can be shut while the ram "
        "runs.",
    ),
    "trapped_pressure": (
        "Trapped pressure",
        "Air vessel and delivery line stay under up to {head:head} ({head_gauge}) after the ram has stopped.",
    ),
    "hands_clear": (
        "Hands clear of the waste valve",
        "Press it with a stick or from the side; it slams shut harder than a hand can hold.",
    ),
    "vent_first": (
        "Vent before opening",
        "Take the pressure off before any union, plug or valve is loosened.",
    ),
    "may_stumble": (
        "It may stop once on the way",
        "In {share:chance} draws a weak recoil lets it hang shut before the water is at the tank. Stay by "
        "it, and press once more.",
    ),
    "presses_unsure": (
        "How many presses is not well known",
        "What the sheet leaves open makes it anything from {low} to {high}. How fast the delivery valve "
        "shuts counts most: with a springy or light one be ready for the high number.",
    ),
    "many_presses": (
        "Many presses",
        "It may take {presses} presses; beyond {most} hold the outlet back instead, or fill the line from "
        "the top.",
    ),
    "tank_draws_down": (
        "The drive tank runs down while air is purged",
        "Stop after {seconds:time} and let it fill up again, or the drive pipe draws air.",
    ),
    "bladder_holds": (
        "The charged air vessel does the work of back pressure",
        "Its charge, {charge:head}, is above the drive tank's level, so the ram pumps against it from the "
        "first press on. If it does not run at once, check the charge and go on pressing, or hold the "
        "outlet back until it does.",
    ),
    "practice_holds_more": (
        "Practice holds more back pressure",
        "One text advises to hold at least {practice:head} ({practice_gauge}) on the ram until the line "
        "is full; this ram is found to run at {hold:head}. Holding more does no harm below the lift.",
    ),
    "air_shut_in": (
        "Air is shut in behind the line's summits",
        "At {stations:length} from the ram; it costs up to {lost:head} of head until it is let out.",
    ),
    "priming_beyond_limit": (
        "No siphon holds over this crest",
        "The crest of the supply line lies {lift:head} over the source; here {limit:head} is the limit. "
        "Lower the crest, or take the water higher up.",
    ),
    "priming_no_head": ("The supply line has no fall", "Its outlet lies above the source."),
    "priming_gathers": (
        "The siphon gathers air",
        "It runs too slowly to carry its air off. Fit a filling cap at the crest and top it up.",
    ),
}
"""What to mind, by code: title, and why with what to do."""

METHODS: Final[Mapping[str, str]] = {
    "foot_valve": "a foot valve at the intake: shut the outlet, fill the line once at the crest, cap it, "
    "open.",
    "pour_and_cap": "shut both ends, fill the line through a tee at the crest until no air comes, cap it, "
    "open both ends.",
    "small_pump": "push water up with a small pump from the outlet until it runs out at the intake "
    "without bubbles, then let go.",
    "fill_at_crest": "with both ends under water pour in at the crest faster than it runs off, then cap it.",
    "raise_and_drop": "raise the outlet end to the height of the crest, fill the line through it, hold it "
    "shut, lower it and let go.",
    "lower_crest": "lower the crest or take the water higher up.",
}
"""Ways of priming, by code."""

WHY: Final[Mapping[str, str]] = {
    "leg_kept_full": "works; {litres:volume} to fill, and it stays primed when the source falls",
    "whole_line_filled": "works; {litres:volume} to fill",
    "pushed_over": "works; the pump has to lift {head:head} and bring {flow:flow}",
    "poured_fast": "works; {flow:flow} carry the air down",
    "dropped_full": "works; {height:head} to raise, {mass:mass} of water in it",
    "beyond_limit": "does not hold: the crest is {lift:head} over the source, the limit here {limit:head}",
    "ends_open": "needs both ends shut",
    "pump_too_low": "the pump lifts {pump_head:head}, the crest is {head:head} above the outlet",
    "pump_too_slow": "the pump brings {pump_flow:flow}; {flow:flow} are needed to carry the air back",
    "outlet_open": "needs the outlet under water, or air runs back up",
    "poured_too_slow": "{flow:flow} are needed to carry the air down; one person pours {pour_flow:flow}",
    "line_stiff": "the line does not bend",
    "raised_too_high": "the end would have to go up {height:head}; {raise_height:head} is what one person "
    "does",
    "raised_too_heavy": "{mass:mass} of water in it; {raise_mass:mass} is what one person lifts",
}
"""Why a way of priming works or not, by code."""

PICTURE: Final[Mapping[str, str]] = {
    "title": "Starting the ram, press by press",
    "description": "Level of the water in the delivery line against the number of the press, and then "
    "against the minutes until it reaches the tank.",
    "caption": "{place}: {presses} until it runs by itself, then {seconds:time} to the tank.",
    "caption_not": "{place}: it does not come to run by itself.",
    "pressing": "By hand",
    "climbing": "By itself",
    "level": "Level above the waste valve",
    "press": "Press",
    "time": "Minutes",
    "water": "water in the line",
    "slow": "if it takes many presses",
    "head": "head on the ram",
    "feed": "drive tank's level",
    "alone": "where it runs by itself",
    "tank": "tank",
}
"""Labels of the picture of a start."""
