"""What can be measured: each kind of quantity, its SI unit, and the units it is printed in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

Kind = Literal[
    "length",
    "small_length",
    "area",
    "volume",
    "flow",
    "velocity",
    "mass",
    "force",
    "pressure",
    "head",
    "temperature",
    "time",
    "frequency",
    "angle",
    "density",
    "modulus",
    "stiffness",
    "conductivity",
    "fraction",
    "slope",
    "number",
]
System = Literal["us", "metric"]
Ladder = tuple[tuple[str, float], ...]
"""Units to print in, smallest first, each with the least SI magnitude it is used from."""

SYSTEMS: Final[tuple[System, ...]] = get_args(System)


@dataclass(frozen=True, slots=True)
class KindInfo:
    """One kind of quantity.

    ``dimension`` names the table of units it is read in; ``si`` is the unit of every value inside;
    ``us`` and ``metric`` are the units it is printed in, smallest first, each with the least SI
    magnitude it is used from; ``usual_us`` and ``usual_metric`` are the units a zero is printed in;
    ``examples`` are spellings to show someone whose unit was not understood, US then metric.
    """

    dimension: str
    si: str
    us: Ladder
    metric: Ladder
    usual_us: str
    usual_metric: str
    examples: tuple[str, str]

    def ladder(self, system: System) -> Ladder:
        """Units this kind is printed in, smallest first."""
        return self.us if system == "us" else self.metric

    def usual(self, system: System) -> str:
        """Unit a zero is printed in."""
        return self.usual_us if system == "us" else self.usual_metric


def _always(dimension: str, si: str, us: str, metric: str, examples: tuple[str, str]) -> KindInfo:
    return KindInfo(dimension, si, ((us, 0.0),), ((metric, 0.0),), us, metric, examples)


_IN, _FT, _LB, _GAL = 0.0254, 0.3048, 0.45359237, 0.003785411784
_MIN, _HOUR, _DAY = 60.0, 3600.0, 86400.0

KINDS: Final[dict[Kind, KindInfo]] = {
    "length": KindInfo(
        "length",
        "m",
        (("in", 0.0), ("ft", _FT)),
        (("mm", 0.0), ("m", 0.1)),
        "ft",
        "m",
        ("6.5 ft", "2.0 m"),
    ),
    "small_length": _always("length", "m", "in", "mm", ("1 1/4 in", "35 mm")),
    "area": KindInfo(
        "area",
        "m2",
        (("in²", 0.0), ("ft²", _FT**2)),
        (("cm²", 0.0), ("m²", 0.1)),
        "ft²",
        "m²",
        ("3.1 ft2", "0.29 m2"),
    ),
    "volume": KindInfo(
        "volume",
        "m3",
        (("fl oz", 0.0), ("gal", 0.25 * _GAL)),
        (("mL", 0.0), ("L", 1e-3), ("m³", 10.0)),
        "gal",
        "L",
        ("5 gal", "20 L"),
    ),
    "flow": KindInfo(
        "flow",
        "m3/s",
        (("gal/min", 0.0), ("ft³/s", 1000.0 * _GAL / _MIN)),
        (("L/min", 0.0), ("L/s", 1e-3), ("m³/s", 1.0)),
        "gal/min",
        "L/min",
        ("12 gal/min", "0.8 L/s"),
    ),
    "velocity": _always("velocity", "m/s", "ft/s", "m/s", ("1.5 ft/s", "0.5 m/s")),
    "mass": KindInfo(
        "mass", "kg", (("oz", 0.0), ("lb", _LB)), (("g", 0.0), ("kg", 1.0)), "lb", "kg", ("1.2 lb", "550 g")
    ),
    "force": KindInfo(
        "force", "N", (("lbf", 0.0),), (("N", 0.0), ("kN", 1000.0)), "lbf", "N", ("5 lbf", "22 N")
    ),
    "pressure": KindInfo(
        "pressure", "Pa", (("psi", 0.0),), (("kPa", 0.0), ("bar", 1e5)), "psi", "bar", ("20 psi", "1.4 bar")
    ),
    "head": _always("head", "m of water", "ft", "m", ("45 ft", "14 m")),
    "temperature": _always("temperature", "K", "°F", "°C", ("50 F", "10 C")),
    "time": KindInfo(
        "time",
        "s",
        (("ms", 0.0), ("s", 0.1), ("min", 2.0 * _MIN), ("h", 2.0 * _HOUR), ("days", 2.0 * _DAY)),
        (("ms", 0.0), ("s", 0.1), ("min", 2.0 * _MIN), ("h", 2.0 * _HOUR), ("days", 2.0 * _DAY)),
        "s",
        "s",
        ("21.4 s", "21.4 s"),
    ),
    "frequency": _always("frequency", "1/s", "beats/min", "beats/min", ("55 beats/min", "55 beats/min")),
    "angle": _always("angle", "rad", "°", "°", ("30 deg", "30 deg")),
    "density": _always("density", "kg/m3", "lb/ft³", "kg/m³", ("62.4 lb/ft3", "1000 kg/m3")),
    "modulus": KindInfo(
        "pressure",
        "Pa",
        (("psi", 0.0),),
        (("MPa", 0.0), ("GPa", 1e9)),
        "psi",
        "GPa",
        ("29000000 psi", "200 GPa"),
    ),
    "stiffness": KindInfo(
        "stiffness",
        "N/m",
        (("lbf/in", 0.0),),
        (("N/m", 0.0), ("N/mm", 1000.0)),
        "lbf/in",
        "N/mm",
        ("12 lbf/in", "2.1 N/mm"),
    ),
    "conductivity": KindInfo(
        "conductivity",
        "S/m",
        (("µS/cm", 0.0), ("mS/cm", 1.0)),
        (("µS/cm", 0.0), ("mS/cm", 1.0)),
        "µS/cm",
        "µS/cm",
        ("240 uS/cm", "240 uS/cm"),
    ),
    "fraction": _always("fraction", "1", "%", "%", ("15 %", "15 %")),
    "slope": _always("slope", "1", "%", "%", ("5 %", "1:20")),
    "number": _always("number", "1", "", "", ("2.5", "2.5")),
}
PER_DAY: Final[dict[System, Ladder]] = {
    "us": (("gal/day", 0.0),),
    "metric": (("L/day", 0.0), ("m³/day", 10.0 / _DAY)),
}
"""Units a flow is printed in when the day's amount is what matters."""
