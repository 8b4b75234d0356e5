"""Other words of the trade, taken on input and printed as ours.

Handbooks do not agree on names: the drive pipe is a supply pipe to some, the waste valve an impetus
valve or a clack. A sheet may use any of these; each one used leaves a note saying what it was taken
for. Only general terms are listed, from memory of the handbooks' common usage.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from ramwright.errors import InputError
from ramwright.site.lines import Lines, Path
from ramwright.site.parts import InputNote
from ramwright.site.visit_words import SHORT, VISIT_LISTS, VISIT_WORDS

# Section ("" is the sheet itself) -> our word -> other words.
_OTHERS: Final[dict[str, dict[str, str]]] = {
    "": {
        "intake": "inlet inlet_works intake_screen",
        "supply_line": "feed_pipe feed_line intake_line intake_pipe headrace",
        "drive_pipe": "supply_pipe injection_pipe drive_line impulse_pipe",
        "delivery_line": "delivery_pipe delivery_main discharge_pipe discharge_line rising_main rising_pipe",
        "drive_tank": "standpipe stand_pipe header header_tank feed_tank head_tank",
        "air_vessel": "air_chamber pressure_chamber pressure_vessel air_dome dome",
        "tank": "storage_tank delivery_tank header_cistern cistern",
        "visit": "visits field_day",
        "stage": "stages water_levels",
    },
    "facts": {
        "fall": "head drive_head driving_head working_fall working_head supply_head",
        "lift": "elevation delivery_head delivery_height pumping_head lift_height",
        "source_flow": "stream_flow spring_flow creek_flow",
        "residual_flow": "instream_flow compensation_flow environmental_flow hands_off_flow",
        "demand_per_day": "daily_demand demand",
    },
    "ram": {
        "waste_valve": "impetus_valve clack clack_valve dump_valve impulse_valve beat_valve escape_valve",
        "delivery_valve": "check_valve non_return_valve nonreturn_valve discharge_valve",
        "snifter": "sniffle sniffle_valve snifter_valve snifting_valve snifting_hole air_valve",
        "count": "rams number",
        "tailwater": "backwater",
    },
    "profiles": {
        "supply_line": "feed_pipe feed_line intake_line intake_pipe",
        "delivery_line": "delivery_pipe delivery_main discharge_pipe discharge_line rising_main rising_pipe",
    },
    "ram.waste_valve": {"stroke": "travel", "moving_mass": "mass"},
    **VISIT_WORDS,
}
SYNONYMS: Final[dict[str, dict[str, str]]] = {
    section: {other: ours for ours, others in words.items() for other in others.split()}
    for section, words in _OTHERS.items()
}
"""Section -> other word -> our word."""
# Some handbooks mean the line that fills the drive tank: worth a note of its own.
_DOUBTFUL: Final = {"supply_pipe": "note_supply_pipe", "head": "note_head"}
_LISTS: Final = ("supply_line", "drive_pipe", "delivery_line", *VISIT_LISTS)
# Section and the word it was called by -> an entry the word itself says.
_IMPLIED: Final = {
    ("drive_tank", "standpipe"): ("kind", "standpipe"),
    ("drive_tank", "stand_pipe"): ("kind", "standpipe"),
    ("visit.hand_level", "eye_height"): ("instrument", "eye height"),
}


class Ours:
    """A sheet's raw entries in our words, and where each was written."""

    def __init__(self, raw: Mapping[str, object], lines: Lines) -> None:
        self.notes: list[InputNote] = []
        self.errors: list[InputError] = []
        self._lines = lines
        self._written: dict[Path, Path] = {}
        self.entries = self._table(raw, (), (), "")

    def line(self, path: Path) -> int | None:
        """Line of the entry that has ``path`` in our words, or of what it stands in."""
        while path and path not in self._written:
            path = path[:-1]
        return self._lines.line(self._written[path]) if path else None

    def _table(self, raw: Mapping[str, object], was: Path, now: Path, section: str) -> dict[str, object]:
        others = SYNONYMS.get(section, {})
        found: dict[str, object] = {}
        for typed, value in raw.items():
            plain = spelt(typed)
            ours = others.get(plain, plain)
            here, there = (*now, ours), (*was, typed)
            line = self._lines.line(there)
            if ours in found:
                first = self._written[here][-1]
                self.errors.append(
                    InputError("said_twice", field=dotted(here), value=typed, line=line, other=first)
                )
                continue
            if plain in others and plain not in SHORT:
                code = _DOUBTFUL.get(plain, "note_other_word")
                self.notes.append(InputNote(code, field=dotted(here), value=typed, line=line, ours=ours))
            self._written[here] = there
            inside = f"{section}.{ours}" if section else ours
            found[ours] = self._value(value, there, here, inside)
            if (inside, plain) in _IMPLIED:
                _imply(found[ours], *_IMPLIED[inside, plain])
        return found

    def _value(self, value: object, was: Path, now: Path, section: str) -> object:
        if isinstance(value, dict) and section in _LISTS:  # one piece, written [drive_pipe]
            self._written[(*now, 0)] = was
            return [self._table(value, was, (*now, 0), section)]
        if isinstance(value, dict):
            return self._table(value, was, now, section)
        if isinstance(value, list):
            return [self._element(item, i, was, now, section) for i, item in enumerate(value)]
        return value

    def _element(self, item: object, index: int, was: Path, now: Path, section: str) -> object:
        self._written[(*now, index)] = (*was, index)
        if isinstance(item, dict):
            return self._table(item, (*was, index), (*now, index), section)
        return item


def _imply(entries: object, entry: str, value: str) -> None:
    """``[standpipe]`` says which kind of drive tank it is."""
    for one in entries if isinstance(entries, list) else [entries]:
        if isinstance(one, dict):
            one.setdefault(entry, value)


def spelt(name: str) -> str:
    """A name with capitals, spaces and hyphens made alike: ``Drive-Pipe`` is ``drive_pipe``."""
    return re.sub(r"[\s\-]+", "_", name.strip()).lower()


def dotted(path: Path) -> str:
    """``("drive_pipe", 0, "length")`` as ``drive_pipe[0].length``."""
    text = ""
    for part in path:
        text += f"[{part}]" if isinstance(part, int) else (f".{part}" if text else str(part))
    return text
