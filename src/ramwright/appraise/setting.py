"""Choosing the waste valve's setting where the sheet leaves it open."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ramwright.appraise.assume import taken
from ramwright.appraise.installation import Installation
from ramwright.appraise.system import builder, middle, with_setting
from ramwright.ram import RamSystem, run_many

_TRIALS = 25
_LIGHTEST, _HEAVIEST = 0.12, 8.0
_LOW = 1.2816


@dataclass(frozen=True, slots=True)
class Setting:
    """The setting chosen: ``what`` was set (``weight`` or ``stroke``), to ``value`` (N or m).

    ``drive`` is what each ram then drinks, m3/s; ``fits`` whether that is less than the flow on a low day;
    where none that runs does, it is the one that drinks least.
    """

    what: str
    value: float
    drive: float
    fits: bool


def _never_short(system: RamSystem) -> RamSystem:
    return replace(system, drive_tank=replace(system.drive_tank, source_flow=math.inf))


def choose_setting(installation: Installation) -> tuple[Installation, Setting | None]:
    """Set the waste valve for the most water from the flow there is; the installation so set.

    Tries weights (or strokes) from far lighter to far heavier than usual, everything else at its middle
    and the drive tank never short, and takes the one that delivers most while drinking less than the
    usable flow at its low end, less a share kept spare. ``None``: nothing was left open, or nothing runs.
    """
    what = installation.valve.to_set
    if what is None:
        return installation, None
    usual = installation.valve.weight.value if what == "weight" else installation.valve.stroke.value
    span = math.log(_HEAVIEST / _LIGHTEST)
    values = [usual * _LIGHTEST * math.exp(span * k / (_TRIALS - 1)) for k in range(_TRIALS)]
    if what == "stroke":
        values = [v for v in values if v <= installation.valve.port]
    tried = [with_setting(installation, **{what: value}) for value in values]
    shared = builder(installation)
    many = run_many([_never_short(replace(shared, installation=t).system(middle(t))) for t in tried])
    runs = many.lifts_water()
    source = installation.source_flow
    low = installation.reaching(source.value - _LOW * source.sd) / installation.rams
    limit = low * (1.0 - taken("spare_share").likely)
    best: int | None = None
    for i in range(len(tried)):
        if runs[i] and many.drive[i] <= limit and (best is None or many.delivery[i] > many.delivery[best]):
            best = i
    fits = best is not None
    if best is None:
        running = [i for i in range(len(tried)) if runs[i]]
        if not running:
            return installation, None
        best = min(running, key=lambda i: float(many.drive[i]))
    return tried[best], Setting(what, values[best], float(many.drive[best]), fits)
