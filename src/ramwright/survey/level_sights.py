"""How sure one sight through a level is, and how far its line of sight tilts."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey._checks import finite, not_negative, positive


@dataclass(frozen=True, slots=True)
class SightSpread:
    """Spread of a staff reading.

    ``reading_sd`` m, whatever the length; ``root_length_sd`` m per root of a metre of sight; ``slope_sd`` m
    per m (the bubble set anew); ``tilt`` m per m, a known tilt of the line of sight, up positive, taken out
    of each reading; ``tilt_sd`` how well it is known, or how large it may be when it was never tested;
    ``usual_length`` m, taken where a sight's length was not booked.
    """

    reading_sd: float
    root_length_sd: float = 0.0
    slope_sd: float = 0.0
    tilt: float = 0.0
    tilt_sd: float = 0.0
    usual_length: float | None = None

    def __post_init__(self) -> None:
        positive("reading_sd", self.reading_sd)
        not_negative("root_length_sd", self.root_length_sd)
        not_negative("slope_sd", self.slope_sd)
        finite("tilt", self.tilt)
        not_negative("tilt_sd", self.tilt_sd)
        if self.usual_length is not None:
            positive("usual_length", self.usual_length)

    def sd(self, length: float | None) -> float:
        """Standard deviation (m) of a reading over ``length`` (m): sqrt(a^2 + b^2 L + c^2 L^2).

        a ``reading_sd``, b ``root_length_sd``, c ``slope_sd``. Raises ``InputError`` where the spread grows
        with a length that is neither booked nor usual.
        """
        metres = self.usual_length if length is None else length
        if metres is None:
            if self.root_length_sd > 0.0 or self.slope_sd > 0.0:
                raise InputError("survey_sight_length_missing", field="distance")
            metres = 0.0
        return math.sqrt(self.reading_sd**2 + self.root_length_sd**2 * metres + (self.slope_sd * metres) ** 2)


def two_peg_tilt(
    *,
    middle_a: float,
    middle_b: float,
    end_a: float,
    end_b: float,
    to_a: float,
    to_b: float,
    reading_sd: float,
) -> Estimate:
    """Tilt of the line of sight (m per m, up positive) from a two-peg test.

    Readings (m) on pegs A and B from half way between, where a tilt cancels, and from near one end, at
    ``to_a`` and ``to_b`` (m) from the pegs: tilt = ((end_a - end_b) - (middle_a - middle_b)) / (to_a -
    to_b). Four readings of ``reading_sd`` (m) give the spread 2 sd / |to_a - to_b|. Standard field practice
    (from memory). Raises ``InputError`` for two distances alike, which would hide the tilt.
    """
    for name, value in (("middle_a", middle_a), ("middle_b", middle_b), ("end_a", end_a), ("end_b", end_b)):
        finite(name, value)
    not_negative("to_a", to_a)
    not_negative("to_b", to_b)
    not_negative("reading_sd", reading_sd)
    if to_a == to_b:
        raise InputError("survey_two_peg_same_distance", field="to_b", value=to_b)
    reach = to_a - to_b
    tilt = ((end_a - end_b) - (middle_a - middle_b)) / reach
    return Estimate(tilt, 2.0 * reading_sd / abs(reach), "two-peg test")
