"""Verdicts on the drive pipe, its joints, and what holds it."""

from __future__ import annotations

from typing import Final

from ramwright.wording.verdicts import Templates

TEMPLATES: Final[dict[str, Templates]] = {
    "drive_pipe_siphon": Templates(
        "The drive pipe climbs above its water",
        "Its highest point lies {over:length} above the water in the drive tank. A drive pipe must never "
        "be a siphon: the first beat breaks it.",
        "Lay it below the water level all the way, or set a drive tank beyond the hump.",
    ),
    "drive_pipe_hump": Templates(
        "The drive pipe has a hump that keeps air",
        "{depth:length} high, at {station:length}: the water there gets to {velocity:velocity} at most, and "
        "{needed:velocity} would be needed to carry the air on. Trapped air swallows the beat.",
        "Lay it with an even fall, or vent the hump with a tap.",
    ),
    "drive_pipe_hump_swept": Templates(
        "The drive pipe has a hump",
        "{depth:length} high, at {station:length}; the water gets to {velocity:velocity} there, enough to "
        "carry its air on once it beats.",
        "Let the air out there before the first start.",
    ),
    "drive_pipe_suction": Templates(
        "The drive pipe is under suction while the water runs",
        "At {station:length} the water stands {head:head} to the air just before the waste valve shuts; "
        "every leak there draws air, and air swallows the beat.",
        "Lay that part lower, or use a larger bore above it.",
    ),
    "joint_too_weak": Templates(
        "A joint is too weak for the beat",
        "{joint}: it holds about {holds:head}, and the beat reaches {head:head} there.",
        "Use a stronger kind of joint. Never stand over one under such a load.",
    ),
    "joint_doubtful": Templates(
        "A joint may be too weak for the beat",
        "{joint}: badly made it holds only {holds:head}, and the beat reaches {head:head} there.",
        "Make it with care, or use a stronger kind of joint.",
    ),
    "joint_weak_shut_off": Templates(
        "Shutting the delivery could part a joint",
        "{joint}: it holds about {holds:head}; with the delivery shut the head climbs to {head:head}.",
        "Fit no valve that can be shut while the ram runs, or use a stronger kind of joint.",
    ),
    "joint_takes_no_shock": Templates(
        "A joint of the drive pipe will not stand the beat for long",
        "{joint}: a ram knocks on it some sixty times a minute for years, and such joints work loose.",
        "Use screwed, welded or fused joints on the drive pipe.",
    ),
    "joint_pulls_out": Templates(
        "A joint of the drive pipe can be pulled apart",
        "{joint}: it holds water but not against a pull along the pipe, and each beat pulls.",
        "Anchor the pipe on both sides of it, or use a joint that grips.",
    ),
    "thread_cut_in_plastic": Templates(
        "A thread must not be cut in this pipe",
        "{pipe} is too thin-walled: a thread leaves nothing to hold pressure.",
        "Use Schedule 80, which keeps half its rating, or better a glued adapter or a metal piece.",
    ),
    "plastic_tires": Templates(
        "The plastic drive pipe will tire",
        "Published tests disagree and stop short of a ram's beats; going by them {pipe} lasts "
        "{least:number} to {most:number} years, where {wanted:number} years are asked for.",
        "Use steel, a thicker wall, or a lower lift.",
    ),
    "plastic_worked_hard": Templates(
        "Each beat works the plastic drive pipe hard",
        "The pressure in {pipe} swings by {pressure:pressure} with every beat; a rule for pipe that is "
        "worked allows {limit:pressure}.",
        "Use steel, a higher class, or a lower lift.",
    ),
    "thrust_at_ram": Templates(
        "What pushes at the ram",
        "Each beat pushes it along the pipe with up to {force:force}; lying on the ground, it would take "
        "{mass:mass} on it to keep it from sliding.",
        "Bolt it to concrete, or load it with at least that.",
    ),
    "thrust_at_bend": Templates(
        "What pushes at the bends",
        "Each beat pushes a bend of {angle:angle} outwards with up to {force:force}: {mass:mass} of "
        "weight, or a block against the bank.",
        "Anchor every bend of the drive pipe; avoid bends where you can.",
    ),
    "span_too_long": Templates(
        "The pipe hangs too far between supports",
        "{pipe} spans {span:length}; {limit:length} is the most that practice names.",
        "Put supports in between, on the drive pipe closer still.",
    ),
}
"""Sentences by code."""
