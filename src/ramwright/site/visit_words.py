"""Other words of the trade for what stands in a field book; see ``words``."""

from __future__ import annotations

from typing import Final

_TWO_ENDS: Final = {"start": "from", "end": "to"}
_SALT: Final = {"background": "base", "factor": "calibration_factor", "mixing_length": "mixing_reach"}
_WEIR: Final = {
    "crest_height": "p",
    "channel_width": "pool_width",
    "tailwater": "downstream_level",
}

VISIT_WORDS: Final[dict[str, dict[str, str]]] = {
    "visit": {
        "intake_dam": "dam",
        "tape": "tapes offset offsets",
        "level_book": "levels levelling leveling levelling_book leveling_book staff_book",
        "hand_level": "eye_height hand_levels sight_level",
        "abney": "abney_level clinometer",
        "hose": "hose_level water_hose_level",
        "gauge": "pressure_gauge",
        "raised_pipe": "raise_the_pipe",
        "bucket": "buckets bucket_fills pail",
        "float_run": "float floats float_runs",
        "v_notch": "v_notch_weir triangular_weir",
        "rectangular_weir": "board_weir",
        "salt_slug": "salt_dilution slug",
        "salt_constant": "constant_rate constant_injection",
    },
    "visit.tape": _TWO_ENDS,
    "visit.level_book.rows": {
        "point": "at place station",
        "backsight": "bs",
        "intermediate": "is intermediate_sight",
        "foresight": "fs",
        "distance": "dist",
        "level": "rl reduced_level",
    },
    "visit.hand_level": _TWO_ENDS,
    "visit.abney": _TWO_ENDS,
    "visit.hose.rows": _TWO_ENDS,
    "visit.bucket": {"flow": "of", "time_unit": "times_in"},
    "visit.float_run": {"flow": "of", "section": "sections cross_section cross_sections"},
    "visit.v_notch": {"flow": "of", **_WEIR},
    "visit.rectangular_weir": {"flow": "of", "width": "crest_length crest_width", **_WEIR},
    "visit.salt_slug": {"flow": "of", "salt": "salt_mass dry_salt", **_SALT},
    "visit.salt_constant": {"flow": "of", "concentration": "brine", **_SALT},
    "stage": {"feed": "feed_level", "tailwater": "tail_water backwater"},
    "walk": {"intake": "intakes", "ram": "rams ram_spots", "tank": "tanks", "distance": "distances"},
}
"""Section -> our word -> other words."""
SHORT: Final = frozenset(
    (
        *("from", "to", "at", "place", "station", "bs", "is", "fs", "dist", "rl", "of", "p"),
        *("tapes", "offsets", "buckets", "floats", "sections", "intakes", "rams", "tanks", "distances"),
        *("visits", "stages", "eye_height"),
    )
)
"""Short for our own words, or one and several: no note is left of them."""
VISIT_LISTS: Final = (
    "visit",
    "visit.tape",
    "visit.level_book",
    "visit.hand_level",
    "visit.abney",
    "visit.hose",
    "visit.gauge",
    "visit.raised_pipe",
    "visit.bucket",
    "visit.float_run",
    "visit.float_run.section",
    "visit.v_notch",
    "visit.rectangular_weir",
    "visit.salt_slug",
    "visit.salt_constant",
    "stage",
    "walk.intake",
    "walk.ram",
    "walk.tank",
    "walk.distance",
)
"""Sections there may be several of: one in single brackets is the only one."""
