"""The ram with a line that is not full yet: what the engine is given for each possible truth and head."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Builder, Draw, Installation, builder, middle
from ramwright.appraise.draws import make_draws
from ramwright.ram import AirVessel, RamSystem
from ramwright.startup.vessel import Vessel
from ramwright.startup.way import Way

Array = NDArray[np.float64]
#: The engine wants some column and some head over the fall, however little.
_LEAST_SHARE = 1e-3
_LEAST_OVER = 1.001


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """One installation under ``n`` possible truths, the first with every value at its middle.

    ``systems`` with a full line; ``ways`` of the delivery line, one a truth; ``vessel`` as drained or
    charged before the start.
    """

    installation: Installation
    draws: tuple[Draw, ...]
    systems: tuple[RamSystem, ...]
    ways: tuple[Way, ...]
    vessel: Vessel

    def __len__(self) -> int:
        return len(self.draws)

    @property
    def falls(self) -> Array:
        """Fall of each truth, m, shape (n,)."""
        return np.array([s.fall_m for s in self.systems])

    def system(self, k: int, head: float) -> RamSystem:
        """Truth ``k`` with water in the line up to ``head`` (m) on the ram, and a drive tank never short.

        The column in the line is as long as the water in it. The air is what the air vessel held before
        the start, squeezed. Of several rams on the line it is the first to be started.
        """
        full, way = self.systems[k], self.ways[k]
        felt = max(self.vessel.felt(head), _LEAST_OVER * full.fall_m)
        line = full.delivery_line
        inertia, r1, r2 = (
            max(way.at_head(values, head) / values[-1], _LEAST_SHARE) if values[-1] > 0.0 else _LEAST_SHARE
            for values in (way.inertia, way.r1, way.r2)
        )
        return replace(
            full,
            delivery_line=replace(
                line, rams=1, lift_m=felt, inertia=line.inertia * inertia, r1=line.r1 * r1, r2=line.r2 * r2
            ),
            air_vessel=AirVessel(air_m3=float(self.vessel.air(felt)), exponent=full.air_vessel.exponent),
            drive_tank=replace(full.drive_tank, source_flow=math.inf),
        )

    def stored(self, k: int) -> Array:
        """Water (m3) in line and air vessel when the front stands at each point of truth ``k``'s way."""
        way = self.ways[k]
        return way.volumes + self.vessel.taken(way.heads)


def make_bench(installation: Installation, way: Way, vessel: Vessel, *, draws: int) -> Bench:
    """A bench of the middle and ``draws`` draws (the appraisal's, so the same truths are meant)."""
    build: Builder = builder(installation)
    truths = (middle(installation), *make_draws(installation, draws))
    systems = tuple(build.system(d) for d in truths)
    ways = tuple(way.to_lift(s.delivery_line.lift_m) for s in systems)
    return Bench(installation, truths, systems, ways, vessel)
