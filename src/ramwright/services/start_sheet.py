"""From a sheet's file to the plan of its start, as a plan, as plain data and as a picture."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from ramwright.drawings import LIGHT, Picture, Theme, Width
from ramwright.drawings.start_picture import StartData, StartLabels, start_picture
from ramwright.geometry import Profile
from ramwright.geometry.tables import profile_from_csv
from ramwright.quantities import System
from ramwright.site import Site, read_sheet
from ramwright.site.where import naming_lines
from ramwright.startup import StartPlan, plan_start
from ramwright.startup.plan import DRAWS, Progress
from ramwright.wording.startup import PICTURE
from ramwright.wording.startup_told import say, told_minding, told_step
from ramwright.wording.translate import translate

SCHEMA_VERSION = 1
_PARTS = ("gravity", "presses", "throttle", "climb", "dead_end", "purge", "priming")


@dataclass(frozen=True, slots=True)
class StartOfSheet:
    """A site and how its ram is started."""

    site: Site
    plan: StartPlan


def start_sheet(
    path: Path,
    *,
    profile: bytes | None = None,
    draws: int = DRAWS,
    progress: Progress | None = None,
) -> StartOfSheet:
    """Read a sheet and plan its start. Raises ``InputError`` for what cannot be used.

    ``profile`` is a CSV file of the delivery line from the ram to the tank, stations and levels, in place of
    the sheet's own.
    """
    ground: Profile | None = None if profile is None else profile_from_csv(profile)
    with naming_lines(path):
        site = read_sheet(path)
        return StartOfSheet(site, plan_start(site, draws=draws, profile=ground, progress=progress))


def start_answer(
    found: StartOfSheet, *, system: System = "metric", language: str | None = None
) -> dict[str, Any]:
    """The plan as plain data, SI throughout; only the sentences of steps and cautions use ``system``."""
    plan = found.plan
    return {
        "schema_version": SCHEMA_VERSION,
        "site": found.site.site.name,
        "outcome": plan.outcome,
        "outcomes": dict(plan.outcomes),
        "runs_alone": plan.runs,
        "may_stumble": plan.stumbles,
        "fall_m": plan.fall,
        "lift_m": plan.lift,
        "draws": plan.draws,
        **{name: _plain(getattr(plan, name)) for name in _PARTS},
        "vents_m": list(plan.vents),
        "steps": [
            {"code": s.code, "numbers": _plain(s.numbers), "text": told_step(s, system, language)}
            for s in plan.steps
        ],
        "minding": [
            {"code": m.code, "grade": m.grade, "numbers": _plain(m.numbers), "title": title, "why": why}
            for m in plan.minding
            for title, why in (told_minding(m, system, language),)
        ],
    }


def _plain(value: object) -> object:
    """Dataclasses as objects, arrays as lists; numbers that JSON has no word for become null."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {str(name): _plain(part) for name, part in value.items()}
    if isinstance(value, np.ndarray):
        return [_plain(part) for part in value.tolist()]
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def picture_of_start(
    found: StartOfSheet,
    *,
    units: System,
    language: str | None = None,
    theme: Theme = LIGHT,
    width: Width = "desktop",
) -> Picture:
    """The picture of a start, press by press and up to the tank."""
    plan = found.plan
    presses, climb = plan.presses, plan.climb
    series = presses.series if presses is not None else None
    slow = presses.slow_series if presses is not None else None
    numbers: dict[str, object] = {"place": found.site.site.name}
    caption = PICTURE["caption_not"]
    if presses is not None and presses.count is not None and climb is not None:
        caption = PICTURE["caption"]
        count, seconds = presses.count, climb.seconds
        numbers |= {"presses_low": count.low, "presses_likely": count.likely, "presses_high": count.high}
        numbers |= {
            "seconds_low": seconds.low,
            "seconds_likely": seconds.likely,
            "seconds_high": seconds.high,
        }
    nothing = np.empty(0)
    data = StartData(
        number=series.number if series is not None else nothing,
        level=series.level if series is not None else nothing,
        head=series.head if series is not None else nothing,
        times=climb.times if climb is not None else nothing,
        levels=climb.levels if climb is not None else nothing,
        feed=plan.fall,
        alone_low=presses.level_alone.low if presses is not None else math.nan,
        alone_likely=presses.level_alone.likely if presses is not None else math.nan,
        alone_high=presses.level_alone.high if presses is not None else math.nan,
        tank=plan.lift,
        slow_number=slow.number if slow is not None else nothing,
        slow_level=slow.level if slow is not None else nothing,
    )
    words = {
        name: translate(text, language) for name, text in PICTURE.items() if not name.startswith("caption")
    }
    labels = StartLabels(**words, caption=say(caption, numbers, units, language))
    return start_picture(data, labels, units=units, theme=theme, width=width)
