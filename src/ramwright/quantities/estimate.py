"""A value with its spread and where it came from."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.errors import InputError


@dataclass(frozen=True, slots=True)
class Estimate:
    """A quantity in SI units with its standard deviation.

    ``value`` and ``sd`` share one SI unit (stated where the estimate is used); ``origin`` says in a
    word or two how it was got (``"bucket, 5 fills"``). Raises ``InputError`` when either number is
    not finite or the standard deviation is negative.
    """

    value: float
    sd: float
    origin: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.value) and math.isfinite(self.sd)):
            raise InputError("not_finite", field=self.origin or None, value=self.value)
        if self.sd < 0.0:
            raise InputError("negative_spread", field=self.origin or None, value=self.sd)
