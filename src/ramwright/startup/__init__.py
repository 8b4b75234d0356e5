"""Starting a ram in phases: priming, purging, gravity fill, hand presses or throttled, up to the tank."""

from ramwright.startup.alone import Alone, find_alone
from ramwright.startup.bench import Bench, make_bench
from ramwright.startup.climb import Climb, SoundedFlow, Sounding, climb_to_tank, flow_between
from ramwright.startup.dead_end import DeadEnd, LeakDown, dead_end, leak_down, leak_flow
from ramwright.startup.gravity import GravityFill, gravity_fill
from ramwright.startup.plan import StartPlan, plan_start
from ramwright.startup.presses import (
    Presses,
    PressSeries,
    PressTable,
    count_presses,
    press_by_press,
    press_table,
    press_volumes,
)
from ramwright.startup.priming import Means, Method, PrimingPlan, plan_priming, siphon_heights
from ramwright.startup.purge import Purge, purge_drive_pipe
from ramwright.startup.routes import SupplyLine, Ways, ways_of
from ramwright.startup.steps import Minding, Step
from ramwright.startup.throttle import Opening, Throttle, opening_area, throttled_start
from ramwright.startup.vessel import Vessel, vessel_of
from ramwright.startup.way import Way, way_of

__all__ = [
    "Alone",
    "Bench",
    "Climb",
    "DeadEnd",
    "GravityFill",
    "LeakDown",
    "Means",
    "Method",
    "Minding",
    "Opening",
    "PressSeries",
    "PressTable",
    "Presses",
    "PrimingPlan",
    "Purge",
    "SoundedFlow",
    "Sounding",
    "StartPlan",
    "Step",
    "SupplyLine",
    "Throttle",
    "Vessel",
    "Way",
    "Ways",
    "climb_to_tank",
    "count_presses",
    "dead_end",
    "find_alone",
    "flow_between",
    "gravity_fill",
    "leak_down",
    "leak_flow",
    "make_bench",
    "opening_area",
    "plan_priming",
    "plan_start",
    "press_by_press",
    "press_table",
    "press_volumes",
    "purge_drive_pipe",
    "siphon_heights",
    "throttled_start",
    "vessel_of",
    "way_of",
    "ways_of",
]
