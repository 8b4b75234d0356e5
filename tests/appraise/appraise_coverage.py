"""Sites drawn from a seed, read with noise, appraised, and held against what they truly deliver.

Everything is drawn from the spreads an appraisal states: readings stray from the truth by the spread the
sheet gives, the valve and what the simulation may miss from the appraisal's middle by theirs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from ramwright.appraise import Draw, Prediction, builder, choose_setting, install, predict
from ramwright.appraise.draws import REACH, drawn_values, estimates
from ramwright.appraise.model import WASTE, as_built, model_factors, thirsty
from ramwright.ram import Grid, run_many
from ramwright.site import site_from_entries

#: The truth is run on a grid far finer than the appraisal's.
FINE = Grid(reaches=24, glides=384)
_SIZES = ("1 1/4 in", "1 1/2 in", "2 in")
_BORES = (0.0351, 0.0409, 0.0525)


@dataclass(frozen=True, slots=True)
class Site:
    """What is true of a drawn site (SI) and the entries of the sheet somebody filled in there."""

    fall: float
    lift: float
    source_flow: float
    entries: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Case:
    """One appraisal and what the ram then truly did: water m3/s (0 where it stops), beats a minute."""

    prediction: Prediction
    delivery: float
    beats: float

    @property
    def holds(self) -> bool:
        """Whether the true delivery lies between low and high."""
        low, high = self.prediction.delivery.low, self.prediction.delivery.high
        return low <= self.delivery <= high


def drawn_site(rng: np.random.Generator) -> Site:
    """A small steel ram somewhere, common practice, no source; the creek usually feeds it."""
    size = int(rng.integers(len(_SIZES)))
    area = math.pi * _BORES[size] ** 2 / 4.0
    fall = math.exp(rng.uniform(math.log(1.5), math.log(5.0)))
    lift = fall * rng.uniform(4.0, 10.0)
    flow = area * rng.uniform(0.7, 1.5)
    spreads = {
        "fall": rng.uniform(0.01, 0.05),
        "lift": rng.uniform(0.01, 0.05),
        "flow": rng.uniform(0.04, 0.12),
    }
    read = {
        name: true * (1.0 + spreads[name] * float(np.clip(rng.standard_normal(), -REACH, REACH)))
        for name, true in (("fall", fall), ("lift", lift), ("flow", flow))
    }
    entries: dict[str, Any] = {
        "schema_version": 1,
        "site": {"name": "A Drawn Brook"},
        "facts": {
            "fall": f"{read['fall']:.6f} m ± {spreads['fall'] * fall:.6f} m",
            "lift": f"{read['lift']:.6f} m ± {spreads['lift'] * lift:.6f} m",
            "source_flow": f"{read['flow'] * 1e3:.6f} L/s ± {spreads['flow'] * flow * 1e3:.6f} L/s",
        },
        "drive_tank": {"kind": "drum"},
        "drive_pipe": [
            {"pipe": f"steel schedule 40, {_SIZES[size]}", "length": f"{fall * rng.uniform(4.0, 7.0):.2f} m"}
        ],
        "drive_pipe_support": {"held": True},
        "ram": {"size": _SIZES[size]},
        "delivery_line": [
            {"pipe": "PE100 SDR 11, 32 mm", "length": f"{lift * rng.uniform(3.0, 10.0):.1f} m"}
        ],
    }
    return Site(fall, lift, flow, entries)


def case(seed: int, number: int, *, draws: int, grid: Grid | None = None) -> Case:
    """Draw site ``number`` of a seed, read it, appraise it, and run what is truly there."""
    rng = np.random.default_rng((seed, number))
    site = drawn_site(rng)
    installation, _ = choose_setting(install(site_from_entries(site.entries)))
    prediction = predict(installation, draws=draws, grid=grid)
    true = {
        name: float(drawn_values(e, np.clip(rng.standard_normal(1), -REACH, REACH))[0])
        for name, e in estimates(installation).items()
    }
    factors = model_factors(installation.model, np.clip(rng.standard_normal((1, 3)), -REACH, REACH))
    truth = Draw(**true | {"fall": site.fall, "lift": site.lift, "source_flow": site.source_flow})
    system = thirsty(builder(installation).system(truth), float(factors[0, WASTE]))
    found = as_built(run_many([system], grid=FINE), factors)
    lifts = bool(found.lifts_water()[0])
    return Case(prediction, float(found.delivery[0]) if lifts else 0.0, float(found.beats_per_min[0]))
