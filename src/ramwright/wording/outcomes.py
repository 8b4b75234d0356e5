"""What a ram can do, in plain words: it runs, or one of the ways it does not."""

from __future__ import annotations

from typing import Final

OUTCOMES: Final[dict[str, tuple[str, str]]] = {
    "runs": (
        "runs",
        "It beats by itself and keeps the same beat for as long as water comes. Nothing has to be changed "
        "for it to run.",
    ),
    "hangs_open": (
        "hangs open",
        "The waste valve stays open and the water runs to waste without a beat. The water in the drive "
        "pipe never gets fast enough to lift the valve shut: the valve is too heavy or its stroke too long "
        "for this fall, or the drive pipe loses too much head. Take weight off the waste valve or shorten "
        "its stroke; failing that, clear the drive pipe, give it a larger bore, or gain more fall.",
    ),
    "hangs_shut": (
        "hangs shut",
        "The waste valve closes and stays closed. The recoil is too weak to let it fall open against the "
        "water standing on it. Add weight to the waste valve or give it a longer stroke, and look for "
        "whatever eats the recoil: air in the drive pipe, a pipe or ram that is not held, a delivery valve "
        "that leaks back, too little lift on the ram.",
    ),
    "chatters": (
        "chatters",
        "The waste valve flutters: it shuts again before the water in the drive pipe has picked up speed, "
        "so hardly any water is lifted. It is too light or its stroke too short, or it bounces on its "
        "seat. Add weight or stroke a little at a time until each beat is full.",
    ),
    "no_period": (
        "does not settle",
        "It keeps beating, but no beat is like the one before, so no steady delivery can be stated, only a "
        "range. Often it stands on the edge between two ways of beating. Change the weight or the stroke "
        "of the waste valve a little either way, and see that the drive tank keeps its level and the pipe "
        "is held.",
    ),
    "lift_beyond": (
        "lift too high",
        "It beats but delivers nothing. The pressure of its beats never reaches the lift, so the delivery "
        "valve stays shut. Let the water get faster before the waste valve shuts (more weight or stroke), "
        "use a stiffer and longer drive pipe or more fall, or bring the tank lower.",
    ),
    "starved": (
        "runs short of water",
        "It runs for a while and stops. The ram drinks more than reaches it, so the drive tank draws down "
        "until air enters the drive pipe. Take weight off the waste valve or shorten its stroke so that it "
        "drinks less, bring more water to the drive tank, or use a smaller ram.",
    ),
}
"""Code of an outcome -> (short name, what happens, why and what to change)."""
