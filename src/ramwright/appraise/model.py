"""How far a ram as built may differ from the simulated one: a stated spread, until fitted to rigs.

The spread (``model_spread`` in the catalogue) is a judgement. It is drawn like a reading: one factor on the
delivery, one on the waste flow and one on the beats, independent of each other and of everything else.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ramwright.quantities import Estimate
from ramwright.ram import ManyResults, RamSystem

Array = NDArray[np.float64]
DELIVERY, WASTE, BEATS = range(3)
COLUMNS: Final = ("model_delivery", "model_waste", "model_beats")
"""What its columns are called among all that is drawn (``draws.PLACES``)."""
_LEAST: Final = 0.05


def model_factors(model: Estimate, scores: Array) -> Array:
    """Factors on delivery, waste and beats from standard normal ``scores`` (n, 3), the same shape."""
    return np.maximum(model.value + model.sd * scores, _LEAST)


def thirsty(system: RamSystem, factor: float) -> RamSystem:
    """The system whose simulation runs short when the ram as built, drinking ``factor`` times as much, would.

    What reaches the drive tank is divided instead of the drink multiplied.
    """
    tank = system.drive_tank
    return replace(system, drive_tank=replace(tank, source_flow=tank.source_flow / factor))


def as_built(many: ManyResults, factors: Array) -> ManyResults:
    """Results with delivery, waste and beats times their factors, shape (n, 3), and what follows from them.

    Drive flow is waste and delivery; both efficiencies are those of the changed flows. No ram gives back
    more than it is given: delivery is held where Rankine's efficiency would pass 1.
    """
    lift, waste, beats = factors[:, DELIVERY], factors[:, WASTE], factors[:, BEATS]
    with np.errstate(divide="ignore", invalid="ignore"):
        rankine = many.efficiency_rankine
        lift = np.where(rankine > 0.0, np.minimum(lift, np.maximum(waste / rankine, 0.0)), lift)
        before = many.waste + many.delivery
        after = waste * many.waste + lift * many.delivery
        daubuisson = many.efficiency_daubuisson * lift * before / after
        grown = np.where(before > 0.0, after / before, waste)
    return replace(
        many,
        delivery=many.delivery * lift,
        waste=many.waste * waste,
        drive=many.drive * grown,
        beats_per_min=many.beats_per_min * beats,
        efficiency_rankine=rankine * lift / waste,
        efficiency_daubuisson=daubuisson,
    )
