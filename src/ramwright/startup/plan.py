"""One start of one installation, planned in phases."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ramwright.appraise import Installation, Setting, choose_setting, install
from ramwright.geometry import Profile
from ramwright.hydraulics.water import Water
from ramwright.ram import OUTCOMES
from ramwright.site import Site
from ramwright.startup.alone import NEEDS_THROTTLE, RUNS_ALONE, STARVED, Alone, find_alone
from ramwright.startup.bench import make_bench
from ramwright.startup.climb import Climb, climb_to_tank
from ramwright.startup.dead_end import DeadEnd, dead_end
from ramwright.startup.gravity import GravityFill, gravity_fill
from ramwright.startup.presses import Presses, count_presses, press_table
from ramwright.startup.priming import PrimingPlan, plan_priming
from ramwright.startup.purge import Purge, purge_drive_pipe
from ramwright.startup.routes import SupplyLine, Ways, ways_of
from ramwright.startup.rules import rule
from ramwright.startup.steps import Minding, Step, minding, steps
from ramwright.startup.throttle import Throttle, throttled_start
from ramwright.startup.vessel import Vessel, vessel_of
from ramwright.startup.way import Way, way_of

Progress = Callable[[int, int], bool]
DRAWS = 20
_HALF = 0.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StartPlan:
    """How to start one ram, SI; heads and levels in m above the waste-valve seat.

    ``outcome``: ``hand_presses``; ``throttle`` (too many presses for a hand); ``throttle_for_good`` (it
    runs only against more head than the line gives); ``starved`` (starts, and later runs short); or what
    the engine says of a ram that does not run at the lift (``hangs_open``, ``hangs_shut``, ``chatters``,
    ``lift_beyond``). ``outcomes`` shares of the draws; ``runs`` the share that runs alone.
    ``presses``, ``throttle`` and ``climb`` are None where no draw gets there. ``vents`` stations (m along
    the delivery line) of summits whose air should be let out, ``lost_head`` m what it costs else;
    ``stumbles`` the share of the draws that may hang shut once on the way up.
    """

    installation: Installation
    setting: Setting | None
    outcome: str
    outcomes: dict[str, float]
    runs: float
    fall: float
    lift: float
    vessel: Vessel
    way: Way
    gravity: GravityFill
    presses: Presses | None
    throttle: Throttle | None
    climb: Climb | None
    dead_end: DeadEnd
    purge: Purge
    priming: PrimingPlan | None
    vents: tuple[float, ...]
    lost_head: float
    stumbles: float
    draws: int

    @property
    def steps(self) -> tuple[Step, ...]:
        """What to do, in order."""
        return tuple(steps(self))

    @property
    def minding(self) -> tuple[Minding, ...]:
        """What to mind, gravest first."""
        order = {"stop": 0, "caution": 1, "note": 2}
        return tuple(sorted(minding(self), key=lambda m: order[m.grade]))


def plan_start(
    site: Site | Installation,
    *,
    draws: int = DRAWS,
    profile: Profile | None = None,
    drive_profile: Profile | None = None,
    supply: SupplyLine | None = None,
    progress: Progress | None = None,
) -> StartPlan:
    """Plan the start of a site's ram, or of an installation whose air vessel is plain and valve set.

    ``profile`` of the delivery line from the ram to the tank, ``drive_profile`` of the drive pipe from the
    drive tank to the ram, each in any datum, ``supply`` a supply line to prime: where None, the sheet's own,
    and an even slope where the sheet has none. ``draws`` truths beside the middle. Raises ``InputError`` for
    what is missing or does not fit, and ``StoppedError`` if ``progress`` says no.
    """
    installation, setting, vessel, ways = _at_hand(site)
    profile, drive_profile, supply = (
        profile or ways.delivery,
        drive_profile or ways.drive,
        supply or ways.supply,
    )
    way, filling = way_of(installation, profile)
    bench = make_bench(installation, way, vessel, draws=draws)
    alone = find_alone(bench, progress=progress)
    table = press_table(bench, alone)
    presses = count_presses(bench, alone, table)
    outcomes = _outcomes(alone)
    pockets = filling.pockets if filling is not None else ()
    return StartPlan(
        installation=installation,
        setting=setting,
        outcome=_outcome(outcomes, presses),
        outcomes=outcomes,
        runs=outcomes.get(RUNS_ALONE, 0.0) + outcomes.get(STARVED, 0.0),
        fall=installation.fall.value,
        lift=installation.lift.value,
        vessel=vessel,
        way=bench.ways[0],
        gravity=gravity_fill(bench),
        presses=presses,
        throttle=throttled_start(bench, alone, table),
        climb=climb_to_tank(bench, alone),
        dead_end=dead_end(bench, alone),
        purge=purge_drive_pipe(bench, drive_profile),
        priming=_primed(supply, installation.water),
        vents=tuple(p.summit for p in pockets if p.lost_head > 0.0),
        lost_head=sum(p.lost_head for p in pockets),
        stumbles=float(np.mean(alone.stumbles[1:])) if len(alone.stumbles) > 1 else 0.0,
        draws=draws,
    )


def _at_hand(site: Site | Installation) -> tuple[Installation, Setting | None, Vessel, Ways]:
    """What is started, its valve set, and what is known of its air vessel and the ways of its lines."""
    if not isinstance(site, Site):
        return site, None, vessel_of(None, site), Ways()
    installation, setting = choose_setting(install(site))
    return installation, setting, vessel_of(site, installation), ways_of(site, installation)


def _primed(supply: SupplyLine | None, water: Water) -> PrimingPlan | None:
    if supply is None:
        return None
    return plan_priming(
        supply.line,
        water,
        source_level=supply.source_level,
        outlet_level=supply.outlet_level,
        means=supply.means,
        least_summit=supply.least_summit,
    )


def _outcomes(alone: Alone) -> dict[str, float]:
    """Share of the draws of every outcome there is, those that happen."""
    known = (RUNS_ALONE, NEEDS_THROTTLE, STARVED, *OUTCOMES)
    shares = {code: alone.share(code) for code in dict.fromkeys(known)}
    return {code: share for code, share in shares.items() if share > 0.0}


def _outcome(outcomes: dict[str, float], presses: Presses | None) -> str:
    """What to tell: the start of a ram that likely runs, else the likeliest reason that it does not."""
    runs = outcomes.get(RUNS_ALONE, 0.0) + outcomes.get(STARVED, 0.0)
    if runs < _HALF:
        others = {code: share for code, share in outcomes.items() if code not in (RUNS_ALONE, STARVED)}
        likeliest = max(others, key=lambda code: others[code])
        return "throttle_for_good" if likeliest == NEEDS_THROTTLE else likeliest
    if outcomes.get(STARVED, 0.0) >= _HALF:
        return STARVED
    if presses is None or presses.count is None or presses.outcomes["reached"] < _HALF:
        return "throttle"
    return "throttle" if presses.count.likely > rule("presses-by-hand").likely else "hand_presses"
