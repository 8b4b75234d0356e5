"""The ram's beat, simulated as water hammer. Public face: a system in, a result out."""

from ramwright.ram.chart import Chart, Edge, Vary, chart, varied
from ramwright.ram.closed_form import ClosedForm, closed_form
from ramwright.ram.compiled import CACHE_PROBLEM, is_warm
from ramwright.ram.grid import Grid
from ramwright.ram.layout import OUTCOMES
from ramwright.ram.result import ManyResults, RunResult
from ramwright.ram.run import Beat, StoppedError, run_beat, run_many, run_one
from ramwright.ram.system import (
    AirVessel,
    DeliveryLine,
    DeliveryValve,
    DriveTank,
    Mount,
    RamSystem,
    Segment,
    Snifter,
    WasteValve,
    Water,
)

__all__ = [
    "CACHE_PROBLEM",
    "OUTCOMES",
    "AirVessel",
    "Beat",
    "Chart",
    "ClosedForm",
    "DeliveryLine",
    "DeliveryValve",
    "DriveTank",
    "Edge",
    "Grid",
    "ManyResults",
    "Mount",
    "RamSystem",
    "RunResult",
    "Segment",
    "Snifter",
    "StoppedError",
    "Vary",
    "WasteValve",
    "Water",
    "chart",
    "closed_form",
    "is_warm",
    "run_beat",
    "run_many",
    "run_one",
    "varied",
]
