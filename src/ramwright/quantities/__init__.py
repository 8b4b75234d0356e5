"""Units at the edges, values with a spread, honest rounding. Inside, everything is SI."""

from ramwright.quantities.bounds import NOT_NEGATIVE, POSITIVE, Bounds, check_bounds
from ramwright.quantities.estimate import Estimate
from ramwright.quantities.kinds import KINDS, SYSTEMS, Kind, System
from ramwright.quantities.reading import Reading, parse_reading
from ramwright.quantities.show import choose_unit, show, show_pair
from ramwright.quantities.units import find_unit, from_si, to_si

__all__ = [
    "KINDS",
    "NOT_NEGATIVE",
    "POSITIVE",
    "SYSTEMS",
    "Bounds",
    "Estimate",
    "Kind",
    "Reading",
    "System",
    "check_bounds",
    "choose_unit",
    "find_unit",
    "from_si",
    "parse_reading",
    "show",
    "show_pair",
    "to_si",
]
