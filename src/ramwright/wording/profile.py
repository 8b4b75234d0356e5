"""Words of the lines' tables and of the profile's picture."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from ramwright.appraise.line_table import LineTable, Point
from ramwright.quantities import System, from_si
from ramwright.wording.blanks import fill
from ramwright.wording.translate import translate

NAMES: Final[dict[str, str]] = {
    "supply_line": "Supply line",
    "drive_pipe": "Drive pipe",
    "delivery_line": "Delivery line",
}
STANDS: Final[dict[str, str]] = {
    "label": "{label}",
    "intake": "intake",
    "drive_tank": "drive tank",
    "ram": "ram",
    "tank": "tank",
    "pipe": "{pipe} begins",
    "summit": "summit",
    "dip": "dip",
    "hump": "hump {depth:length} high: air gathers here",
    "air": "air shut in, up to {head:head} of lift: vent here",
    "rules": "this point rules what the line brings",
    "suction": "{head:head} below the air's pressure",
}
"""What stands at a point, by code."""
STATES: Final[dict[str, str]] = {
    "open": "with air free to follow the water",
    "primed": "primed, as a full siphon",
    "trickle": "trickling over its hump",
}
LINES: Final[dict[str, str]] = {
    "length": "{length:length} long, {way}.",
    "surveyed": "along the way on the sheet",
    "poor": "along a way whose heights are poor",
    "even": "taken as even: the sheet gives no way",
    "supply_flow": "Brings up to {flow:flow}, {state}.",
    "drive_flow": "Heads just before the waste valve shuts, at {flow:flow}.",
    "delivery_flow": "Heads at the likely delivery of {flow:daily}.",
    "still": "It does not run; no heads are told.",
    "none": "No supply line is told: the sheet gives none, or neither its way nor its drop.",
}
COLUMNS: Final = ("station", "level", "head", "pressure", "highest", "allowed", "what stands there")
NOTE: Final = (
    "Levels and heads are in {unit} above the waste-valve seat, pressures in {unit} of water; head is the "
    "level to which water would stand in a tube, highest the most at work, allowed what pipe and joints hold."
)

PICTURE: Final[dict[str, str]] = {
    "title": "Profile of the lines",
    "description": "Supply line, drive pipe and delivery line to scale, one after another, with their grade "
    "lines.",
    "larger": "Heights are drawn {times} times larger than lengths.",
    "true": "Heights and lengths are drawn alike.",
    "supply": "supply line",
    "drive": "drive pipe",
    "delivery": "delivery line",
    "ground": "ground",
    "grade": "grade line",
    "suction": "under suction",
    "air": "air gathers",
    "closer": "The drive pipe, seen closer",
}
"""Labels of the picture."""
PLACES: Final[dict[str, str]] = {
    "intake": "intake",
    "drive_tank": "drive tank",
    "ram": "ram",
    "tank": "tank",
    "fall": "fall {value}",
    "lift": "lift {value}",
}
_FLOWS: Final = {"supply_line": "supply_flow", "drive_pipe": "drive_flow", "delivery_line": "delivery_flow"}
_WIDTH: Final = 10


def standing(code: str, values: Mapping[str, object], system: System, language: str | None = None) -> str:
    """What stands at a point, in words."""
    return fill(translate(STANDS[code], language), values, system, language)


def tell_profile(
    site: str, tables: tuple[LineTable, ...], system: System, language: str | None = None
) -> Iterator[str]:
    """The tables as lines of text."""
    import textwrap

    unit = "ft" if system == "us" else "m"

    def say(template: str, **values: object) -> str:
        return fill(translate(template, language), values, system, language)

    yield " ".join("".join(c if c.isprintable() else " " for c in site).split()) or "-"
    yield from textwrap.wrap(say(NOTE, unit=unit), 88)
    if all(table.name != "supply_line" for table in tables):
        yield ""
        yield say(LINES["none"])
    for table in tables:
        yield ""
        name = translate(NAMES[table.name], language)
        yield name
        yield "-" * len(name)
        way = LINES["poor" if table.poor else "surveyed" if table.surveyed else "even"]
        yield say(LINES["length"], length=table.length, way=say(way))
        if table.flow is None:
            yield say(LINES["still"])
        else:
            state = say(STATES[table.state]) if table.state is not None else ""
            yield say(LINES[_FLOWS[table.name]], flow=table.flow, state=state)
        words = [translate(word, language) for word in COLUMNS]
        yield "".join(f"{word:>{_WIDTH}}" for word in words[:-1]) + f"  {words[-1]}"
        for point in table.points:
            yield _row(point, unit, system, language)


def _row(point: Point, unit: str, system: System, language: str | None) -> str:
    values = (point.station, point.level, point.head, point.pressure, point.highest, point.allowed)
    cells = "".join(f"{_cell(value, unit):>{_WIDTH}}" for value in values)
    what = "; ".join(standing(s.code, s.values, system, language) for s in point.stands)
    return f"{cells}  {what}".rstrip()


def _cell(value: float | None, unit: str) -> str:
    """A length in the table's unit, to a tenth of a foot or a centimetre."""
    if value is None:
        return "-"
    shown = from_si(value, unit, "length")
    text = f"{shown:.1f}" if unit == "ft" or abs(shown) >= 1000.0 else f"{shown:.2f}"
    return (
        text.replace("-0.00", "0.00").replace("-0.0", "0.0") if float(text) == 0.0 else text.replace("-", "−")
    )
