"""The first walk: places on the sheet, paired and ranked by the survey."""

from __future__ import annotations

from ramwright import survey
from ramwright.appraise.book_levels import value_of
from ramwright.appraise.book_rules import rule, spread_of_instrument, walk_rule
from ramwright.errors import InputError
from ramwright.quantities import Estimate, Reading
from ramwright.site import Site
from ramwright.site.visit_models import Walk
from ramwright.survey import Access, WalkSheet

_ACCESS = {
    "road": Access.ROAD,
    "track": Access.TRACK,
    "on foot": Access.ON_FOOT,
    "climb": Access.CLIMB,
}


def walk_of(site: Site) -> WalkSheet:
    """The walk's places ranked. Raises ``InputError`` for a sheet without one, or what is wrong in it."""
    walk = site.walk
    if walk is None:
        raise InputError("walk_missing", field="walk")
    for name in ("intake", "ram"):
        if not getattr(walk, name):
            raise InputError("walk_empty", field=f"walk.{name}", value=name)
    sd = _usual(walk)
    _check(walk)
    try:
        return survey.walk_sheet(
            [
                survey.IntakeSpot(
                    spot.name,
                    spot.level.estimate(default_sd=sd),
                    value_of(spot.along),
                    _flow(spot.flow),
                    _access(spot.access),
                )
                for spot in walk.intake
            ],
            [
                survey.RamSpot(
                    spot.name,
                    spot.level.estimate(default_sd=sd),
                    value_of(spot.along),
                    value_of(spot.flood_mark),
                    _access(spot.access),
                )
                for spot in walk.ram
            ],
            [
                survey.TankSpot(spot.name, spot.level.estimate(default_sd=sd), _access(spot.access))
                for spot in walk.tank
            ],
            lengths={(each.intake, each.ram): each.length.value for each in walk.distance},
            rule=walk_rule(),
        )
    except InputError as error:
        if error.code == "survey_not_positive":  # two places at one distance along the creek
            raise InputError("walk_same_place", field="walk", value=error.field) from None
        if error.code == "survey_length_missing":
            raise InputError(
                "walk_distance_missing", field="walk", value=error.value, intake=error.field
            ) from None
        raise


def _usual(walk: Walk) -> float:
    """Spread of a level that does not state its own."""
    if walk.instrument is None:
        return rule("walk-level")
    for quantity in ("height", "height of a sight", "height of a step"):
        found = spread_of_instrument(walk.instrument, walk.instrument, quantity)
        if found is not None:
            return found
    return rule("walk-level")


def _check(walk: Walk) -> None:
    """Distances are between places that are there."""
    for i, each in enumerate(walk.distance):
        for kind in ("intake", "ram"):
            known = tuple(spot.name for spot in getattr(walk, kind))
            if getattr(each, kind) not in known:
                value = getattr(each, kind)
                raise InputError("walk_unknown", field=f"walk.distance[{i}]", value=value, known=known)


def _flow(reading: Reading | None) -> Estimate | None:
    return None if reading is None else reading.estimate(default_sd=rule("walk-flow") * reading.value)


def _access(word: str | None) -> Access | None:
    return None if word is None else _ACCESS[word]
