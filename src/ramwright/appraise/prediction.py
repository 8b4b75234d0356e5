"""What an installation will do, with its spread: runs of the engine over draws of what may be true."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise.assume import taken
from ramwright.appraise.draws import make_draws
from ramwright.appraise.installation import Installation
from ramwright.appraise.system import builder, middle
from ramwright.ram import OUTCOMES, ClosedForm, ManyResults, RamSystem, RunResult, closed_form, run_many
from ramwright.ram.result import pick

Progress = Callable[[int, int], bool]
LEVELS = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class Range:
    """Low, likely and high: exceeded nine times in ten, as often as not, once in ten."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """Figures over all draws, SI; flows count draws that do not run as nothing, the rest is given it runs.

    Flows are those of all rams together. ``uneven`` is the share of draws whose beats differ by more than
    is worth telling. ``beats_per_min`` and below are None where no draw runs. Of one ram each: ``middle``,
    the run with every value at its middle, ``system``, what was run, and ``check``, the closed form.
    """

    outcomes: dict[str, float]
    uneven: float
    delivery: Range
    waste: Range
    drive: Range
    beats_per_min: Range | None
    efficiency_daubuisson: Range | None
    efficiency_rankine: Range | None
    peak_head: Range | None
    lowest_head: Range | None
    shutoff_head: Range | None
    middle: RunResult
    system: RamSystem
    check: ClosedForm
    draws: int

    @property
    def runs(self) -> float:
        """Share of the draws that lift water."""
        return self.outcomes["runs"] + self.outcomes["no_period"]


def _range(values: NDArray[np.float64]) -> Range:
    low, likely, high = (float(x) for x in np.quantile(values, LEVELS))
    return Range(low, likely, high)


def predict(installation: Installation, *, draws: int = 300, progress: Progress | None = None) -> Prediction:
    """Run the middle and ``draws`` draws on all cores. Raises ``StoppedError`` if ``progress`` says no."""
    build = builder(installation)
    system = build.system(middle(installation))
    systems = [system, *(build.system(d) for d in make_draws(installation, draws))]
    many = run_many(systems, progress=progress)
    return summarise(many, system, draws)


def summarise(many: ManyResults, system: RamSystem, draws: int) -> Prediction:
    """Figures of the runs: the first is the middle, the others are the draws."""
    lifts = many.lifts_water()[1:]
    # A run without a fixed period that lifts nothing is no better than one that beats in vain.
    vain = (many.outcome[1:] == OUTCOMES.index("no_period")) & ~lifts
    codes = np.where(vain, OUTCOMES.index("lift_beyond"), many.outcome[1:])
    counts = np.bincount(codes, minlength=len(OUTCOMES))
    share = {code: float(counts[k]) / draws for k, code in enumerate(OUTCOMES)}

    def given(values: NDArray[np.float64]) -> Range | None:
        return _range(values[1:][lifts]) if lifts.any() else None

    rams = system.delivery_line.rams

    def flow(values: NDArray[np.float64]) -> Range:
        return _range(np.where(lifts, rams * values[1:], 0.0))

    rows = many.rows[1:]
    strays = (
        rows["beat_time_most"] - rows["beat_time_least"] > taken("uneven_beats").likely * rows["beat_time"]
    )

    return Prediction(
        outcomes=share,
        uneven=float(np.count_nonzero((codes == OUTCOMES.index("no_period")) & strays)) / draws,
        delivery=flow(many.delivery),
        waste=flow(many.waste),
        drive=flow(many.drive),
        beats_per_min=given(many.beats_per_min),
        efficiency_daubuisson=given(many.efficiency_daubuisson),
        efficiency_rankine=given(many.efficiency_rankine),
        peak_head=given(many.peak_head),
        lowest_head=given(many.lowest_head),
        shutoff_head=given(many.shutoff_head),
        middle=pick(many, 0),
        system=system,
        check=closed_form(system),
        draws=draws,
    )
