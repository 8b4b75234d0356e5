"""What pipe is made of: stiffness, roughness, and what warmth takes away."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Final

from ramwright.catalogue.loader import table
from ramwright.catalogue.lookup import find_key
from ramwright.catalogue.pipes import Pipe
from ramwright.catalogue.provenance import Figure, Mark, Provenance
from ramwright.errors import LimitError

_KELVIN: Final = 273.15


@dataclass(frozen=True, slots=True)
class Material:
    """A pipe material. Figures in SI: moduli Pa, density kg/m3, roughness m, expansion 1/K, degrees C, s.

    ``modulus_short`` is what a pressure wave meets, ``modulus_long`` that of decades. ``creep_share`` and
    ``creep_time`` are one Kelvin-Voigt element: retarded over elastic compliance, and its time.
    """

    key: str
    title: str
    family: str
    modulus_short: Figure
    modulus_long: Figure
    poisson: Figure
    density: Figure
    roughness_new: Figure
    roughness_aged: Figure
    expansion: Figure
    max_temperature: Figure
    creep_share: Figure
    creep_time: Figure
    brittle_in_frost: bool
    splits_if_frozen: bool
    rusts: bool


@cache
def material(key: str) -> Material:
    """The material called ``key``, or by the words for it; ``InputError`` with the closest names if none."""
    row = table("materials").row(find_key("materials", key))
    figures = {
        each.text("property"): each.figure
        for each in table("material_properties").where(material=row.text("material"))
    }
    return Material(
        key=row.text("material"),
        title=row.text("title"),
        family=row.text("family"),
        brittle_in_frost=row.flag("brittle_in_frost"),
        splits_if_frozen=row.flag("splits_if_frozen"),
        rusts=row.flag("rusts"),
        **figures,
    )


def temperature_factor(material_key: str, temperature_c: float) -> float:
    """Share of its rating that a pipe keeps at ``temperature_c`` (degrees C of its wall).

    Between the rows of ``temperature_factors`` a straight line; 1 at and below the first. Raises
    ``LimitError`` above the last row (PVC 60, PVC-U 45, polyethylene 40 degrees C).
    """
    stuff = table("materials").row(find_key("materials", material_key)).text("derated_as")
    rows = table("temperature_factors").where(material=stuff, used=True)
    points = [(row.number("temp_c"), row.number("factor")) for row in rows]
    hottest = points[-1][0]
    if temperature_c > hottest + 1e-9:
        raise LimitError(
            "material_too_warm",
            field=material_key,
            value=temperature_c + _KELVIN,
            highest=hottest + _KELVIN,
        )
    for (cool, at_cool), (warm, at_warm) in pairwise(points):
        if cool < temperature_c <= warm:
            return at_cool + (at_warm - at_cool) * (temperature_c - cool) / (warm - cool)
    return points[0][1] if temperature_c <= points[0][0] else points[-1][1]


def rating_at(pipe: Pipe, temperature_c: float) -> float:
    """Working pressure of ``pipe``, Pa, at ``temperature_c``; never above its rating.

    Rating x factor(temperature) / factor(temperature of the rating). Raises like
    :func:`temperature_factor`.
    """
    rated = temperature_factor(pipe.material, pipe.rating_temp_c)
    return pipe.rating_pa * min(1.0, temperature_factor(pipe.material, temperature_c) / rated)


def weakest_mark(*provenances: Provenance) -> Mark:
    """The least firm of the marks that several figures rest on."""
    order = (Mark.READ, Mark.DERIVED, Mark.MEMORY, Mark.PRACTICE, Mark.JUDGEMENT)
    return max((each.rests_on for each in provenances), key=order.index)
