"""What an installation will do, with its spread: runs of the engine over draws of what may be true."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise.assume import taken
from ramwright.appraise.draws import Drawn, estimates, make_draws, standard_scores
from ramwright.appraise.installation import Installation
from ramwright.appraise.model import COLUMNS, WASTE, as_built, model_factors, thirsty
from ramwright.appraise.system import builder, middle
from ramwright.ram import (
    OUTCOMES,
    ClosedForm,
    Grid,
    ManyResults,
    RamSystem,
    RunResult,
    closed_form,
    run_many,
    run_one,
)

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

    Flows are those of all rams together, spread by what the simulation itself may miss (``model``, a share).
    ``uneven`` is the share of draws whose beats differ by more than
    is worth telling. ``beats_per_min`` and below are None where no draw runs. Of one ram each: ``middle``,
    the run with every value at its middle, ``system``, what was run, and ``check``, the closed form.
    ``drawn`` keeps every draw and what came of it.
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
    model: float
    drawn: Drawn

    @property
    def runs(self) -> float:
        """Share of the draws that lift water."""
        return self.outcomes["runs"] + self.outcomes["no_period"]


def _range(values: NDArray[np.float64]) -> Range:
    # The rule by which the next draw lies below each with just that chance, however few there are.
    low, likely, high = (float(x) for x in np.quantile(values, LEVELS, method="weibull"))
    return Range(low, likely, high)


def predict(
    installation: Installation,
    *,
    draws: int = 300,
    progress: Progress | None = None,
    grid: Grid | None = None,
) -> Prediction:
    """Run the middle and ``draws`` draws on all cores, the draws on another ``grid`` if one is given.

    Raises ``StoppedError`` if ``progress`` says no.
    """
    build = builder(installation)
    system = build.system(middle(installation))
    uncertain = estimates(installation)
    names = (*uncertain, *COLUMNS)
    scores = standard_scores(draws, names)
    factors = model_factors(installation.model, scores[:, len(uncertain) :])
    systems = [
        thirsty(build.system(draw), float(factor))
        for draw, factor in zip(make_draws(installation, draws), factors[:, WASTE], strict=True)
    ]
    many = as_built(run_many(systems, grid=grid, progress=progress), factors)
    spreads = [e.sd for e in uncertain.values()] + [installation.model.sd] * len(COLUMNS)
    open_ = [k for k, sd in enumerate(spreads) if sd > 0.0]
    return summarise(
        many,
        run_one(system),
        system,
        names=tuple(names[k] for k in open_),
        scores=scores[:, open_],
        model=installation.model.sd,
    )


def summarise(
    many: ManyResults,
    at_middle: RunResult,
    system: RamSystem,
    *,
    names: tuple[str, ...],
    scores: NDArray[np.float64],
    model: float,
) -> Prediction:
    """Figures of the draws' runs; ``names`` and ``scores`` say what was drawn, see ``Drawn``."""
    draws = len(many.outcome)
    lifts = many.lifts_water()
    # A run without a fixed period that lifts nothing is no better than one that beats in vain.
    vain = (many.outcome == OUTCOMES.index("no_period")) & ~lifts
    codes = np.where(vain, OUTCOMES.index("lift_beyond"), many.outcome)
    counts = np.bincount(codes, minlength=len(OUTCOMES))
    share = {code: float(counts[k]) / draws for k, code in enumerate(OUTCOMES)}

    def given(values: NDArray[np.float64]) -> Range | None:
        return _range(values[lifts]) if lifts.any() else None

    rams = system.delivery_line.rams

    def flow(values: NDArray[np.float64]) -> Range:
        return _range(np.where(lifts, rams * values, 0.0))

    rows = many.rows
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
        middle=at_middle,
        system=system,
        check=closed_form(system),
        draws=draws,
        model=model,
        drawn=Drawn(
            names=names, scores=scores, delivery=np.where(lifts, rams * many.delivery, 0.0), lifts=lifts
        ),
    )
