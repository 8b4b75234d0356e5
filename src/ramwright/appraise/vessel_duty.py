"""The air vessel at work: its size against a beat, and how long a plain one keeps its air."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ramwright.appraise.installation import Installation
from ramwright.appraise.prediction import Prediction
from ramwright.catalogue import Material, material, table
from ramwright.errors import InputError
from ramwright.hydraulics.water import STANDARD_GRAVITY
from ramwright.site import Site

_HOUR_S = 3600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class VesselJudged:
    """How the air vessel does.

    ``beats_held``: its volume over what a beat delivers, None where nothing is delivered. ``loses_air``:
    plain, and nothing brings new air; then ``soonest`` and ``likely`` s until it is full of water.
    ``stuff`` is what it is made of, where the sheet says so.
    """

    beats_held: float | None
    loses_air: bool
    soonest: float | None
    likely: float | None
    stuff: Material | None


def time_to_waterlog(
    *, volume: float, delivery: float, pressure_ratio: float, solubility: float, saturation: float
) -> float:
    """Time (s) in which the water passing through takes up all the air of a vessel.

    ``volume`` m3 of air at the outside pressure, ``delivery`` m3/s, ``pressure_ratio`` absolute pressure in
    the vessel over outside (above 1), ``solubility`` m3 of air by m3 of water under outside pressure,
    ``saturation`` 0 to 1 how far the water fills up on its way. Henry's law: water that came in saturated
    outside takes up solubility x (ratio - 1) x saturation. Own statement.
    """
    return volume / (delivery * solubility * (pressure_ratio - 1.0) * saturation)


def judge_vessel(site: Site, i: Installation, p: Prediction) -> VesselJudged:
    """Hold the air vessel against the beat, and against the water that carries its air away."""
    vessel = site.air_vessel
    plain = vessel is None or vessel.kind != "bladder"
    per_beat = p.middle.delivered_per_beat
    soonest = likely = None
    loses = plain and i.snifter is None
    if loses and p.middle.delivery > 0.0:
        rows = table("air_solubility")
        solubility = float(
            np.interp(
                i.water.temperature_c,
                [r.number("temp_c") for r in rows],
                [r.number("volume") for r in rows],
            )
        )
        outside = i.water.atmospheric_pressure / (i.water.density * STANDARD_GRAVITY)
        share = table("layout_rules").row("vessel-saturation").figure
        soonest, likely = (
            time_to_waterlog(
                volume=i.vessel_volume,
                delivery=p.middle.delivery,
                pressure_ratio=1.0 + i.lift.value / outside,
                solubility=solubility,
                saturation=saturation,
            )
            for saturation in (share.high, share.likely)
        )
    return VesselJudged(
        beats_held=i.vessel_volume / per_beat if per_beat > 0.0 else None,
        loses_air=loses,
        soonest=soonest,
        likely=likely,
        stuff=_stuff(site),
    )


def _stuff(site: Site) -> Material | None:
    named = site.air_vessel.material if site.air_vessel is not None else None
    if named is None:
        return None
    try:
        return material(named)
    except InputError as error:
        error.field = "air_vessel.material"
        raise
