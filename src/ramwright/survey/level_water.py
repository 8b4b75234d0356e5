"""Levels found with water itself: a filled hose, a gauge on a hose, a running pipe raised until it stops."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ramwright.quantities import Estimate
from ramwright.survey._checks import at_least, between, column, finite, positive
from ramwright.survey.consistency import chi_square_tail, repeat
from ramwright.survey.findings import Finding, found
from ramwright.survey.level_net import HeightDifference
from ramwright.survey.points import LevelPoint

STANDARD_GRAVITY = 9.80665
"""Standard gravity, m/s2 (3rd General Conference on Weights and Measures, 1901: by definition)."""


@dataclass(frozen=True, slots=True)
class HoseSetup:
    """A filled hose laid once from ``start`` to ``end``: how high (m) the water stands over each point."""

    start: LevelPoint
    end: LevelPoint
    start_reading: float
    end_reading: float
    line: int | None = None


@dataclass(frozen=True, slots=True)
class HoseLine:
    """Set-ups of one hose; ``reading_sd`` m at each end; ``label`` names the line."""

    label: str
    setups: tuple[HoseSetup, ...]
    reading_sd: float


def hose_legs(line: HoseLine, *, significance: float) -> tuple[list[HeightDifference], tuple[Finding, ...]]:
    """Differences of level from a water-filled hose: end - start = reading at start - reading at end, m.

    Water stands level in both ends as long as no air is caught between them; each set-up has a spread of
    sqrt 2 x ``reading_sd``. Set-ups between the same two points that differ beyond chance
    (``significance``) are called out: the usual cause is a bubble. Taught in Peace Corps 1981, session 4.
    Raises ``InputError``.
    """
    at_least(f"{line.label}.setups", line.setups, 1)
    positive("reading_sd", line.reading_sd)
    sd = math.sqrt(2.0) * line.reading_sd
    legs: list[HeightDifference] = []
    pairs: dict[tuple[str, str], list[float]] = {}
    for i, setup in enumerate(line.setups):
        where = f"{line.label}[{i}]"
        start = finite(f"{where}.start_reading", setup.start_reading, line=setup.line)
        end = finite(f"{where}.end_reading", setup.end_reading, line=setup.line)
        legs.append(HeightDifference(setup.start.key, setup.end.key, start - end, sd, line.label))
        low, high = sorted((setup.start.key, setup.end.key))
        sign = 1.0 if setup.start.key == low else -1.0
        pairs.setdefault((low, high), []).append(sign * (start - end))
    findings = []
    for pair, heights in pairs.items():
        spread = repeat(column("hose", heights), expected=sd, significance=significance)
        if spread.scattered:
            findings.append(
                found(
                    "hose_setups_disagree",
                    line.label,
                    names=pair,
                    spread_m=spread.scatter,
                    expected_m=sd,
                )
            )
    return legs, tuple(findings)


@dataclass(frozen=True, slots=True)
class PressureGauge:
    """A gauge: ``full_scale`` Pa; ``class_percent``, the error its class allows in per cent of full scale;
    ``reading_sd`` Pa, how closely the needle is read.
    """

    full_scale: float
    class_percent: float
    reading_sd: float

    def __post_init__(self) -> None:
        positive("full_scale", self.full_scale)
        positive("class_percent", self.class_percent)
        positive("reading_sd", self.reading_sd)

    @property
    def class_error(self) -> float:
        """Largest error the class allows, Pa: class / 100 x full scale (EN 837-1, from memory)."""
        return self.class_percent / 100.0 * self.full_scale


@dataclass(frozen=True, slots=True)
class GaugeReadings:
    """Readings of one gauge on a filled hose or standing pipe whose other end is open at ``water``.

    ``pressures`` Pa; ``zero`` Pa, what it showed open to the air at the same height, None if not looked at;
    ``gauge_above_point`` m, how much higher the middle of the gauge is than ``point``; ``air_purged`` whether
    all air was let out, None if not said.
    """

    label: str
    point: LevelPoint
    water: LevelPoint
    pressures: tuple[float, ...]
    gauge: PressureGauge
    gauge_above_point: Estimate
    zero: float | None = None
    air_purged: bool | None = None


@dataclass(frozen=True, slots=True)
class WaterHeight:
    """How much higher a water surface is than a point (m), the point, the surface, and what was noticed."""

    label: str
    point: LevelPoint
    water: LevelPoint
    height: Estimate
    findings: tuple[Finding, ...]

    def leg(self) -> HeightDifference:
        """As one difference of level for a network."""
        return HeightDifference(self.point.key, self.water.key, self.height.value, self.height.sd, self.label)


def gauge_height(
    readings: GaugeReadings, *, density: Estimate, least_share: float, significance: float
) -> WaterHeight:
    """Height of the water surface over a point from a gauge: (p - zero)/(rho g) + height of the gauge, m.

    The class error is a limit, taken as even chances up to it: sd = limit / sqrt 3 (GUM 4.3.7, from
    memory); it is the same in every reading of the gauge and repeats do not lessen it. ``density`` rho of
    the water, kg/m3: over 5 to 25 C it moves the head by 0.3 %, 8 mm in 3 m, so its spread is carried but
    the temperature is not asked for. ``least_share`` of the scale below which a reading is called low.
    Raises ``InputError``.
    """
    values = column(f"{readings.label}.pressures", readings.pressures)
    positive("density", density.value)
    between("least_share", least_share, 0.0, 1.0)
    gauge = readings.gauge
    weight = density.value * STANDARD_GRAVITY
    repeats = repeat(values, expected=gauge.reading_sd, significance=significance)
    zero = 0.0 if readings.zero is None else finite(f"{readings.label}.zero", readings.zero)
    head = (repeats.mean - zero) / weight
    zero_sd = 0.0 if readings.zero is None else gauge.reading_sd
    sd = math.sqrt(
        (repeats.sd**2 + zero_sd**2 + gauge.class_error**2 / 3.0) / weight**2
        + (head * density.sd / density.value) ** 2
        + readings.gauge_above_point.sd**2
    )
    height = Estimate(head + readings.gauge_above_point.value, sd, f"{readings.label}, gauge")
    rules = gauge.class_error**2 / 3.0 > (sd * weight) ** 2 / 2.0
    findings = _gauge_findings(
        readings, repeats.mean, weight=weight, class_rules=rules, least_share=least_share
    )
    return WaterHeight(readings.label, readings.point, readings.water, height, findings)


def _gauge_findings(
    readings: GaugeReadings, pressure: float, *, weight: float, class_rules: bool, least_share: float
) -> tuple[Finding, ...]:
    """``pressure`` Pa as read, ``weight`` of the water N/m3; the class rules when it is most of the
    variance.
    """
    gauge, label = readings.gauge, readings.label
    class_error = gauge.class_error / weight
    head = (pressure - (readings.zero or 0.0)) / weight
    share = pressure / gauge.full_scale
    out: list[Finding] = []
    if share > 1.0:
        out.append(found("gauge_beyond_scale", label, share_of_scale=share))
    elif share < least_share:
        out.append(found("gauge_low_in_range", label, share_of_scale=share, least_share=least_share))
    if readings.zero is None:
        out.append(found("gauge_zero_unchecked", label, class_error_m=class_error))
    elif abs(readings.zero) > gauge.class_error:
        zero = readings.zero / weight
        out.append(found("gauge_zero_off", label, zero_m=zero, class_error_m=class_error))
    if readings.air_purged is not True:
        out.append(found("gauge_air_not_purged", label, head_m=head))
    if class_rules and head > 0.0:
        ratio = class_error / head
        out.append(found("gauge_class_rules", label, class_error_m=class_error, share_of_head=ratio))
    return tuple(out)


@dataclass(frozen=True, slots=True)
class RaisedPipe:
    """The end of a running pipe raised until the flow just stops, and lowered until it just starts.

    ``stopped`` and ``started`` m, heights of the lip over ``point`` at those moments; ``held_back`` m, how
    much higher the feed stands than the lip when it stops (water bulging at the lip, the last trickle's
    friction, air caught at summits), None if nobody has said; ``reading_sd`` m.
    """

    label: str
    point: LevelPoint
    feed: LevelPoint
    stopped: tuple[float, ...]
    reading_sd: float
    started: tuple[float, ...] = ()
    held_back: Estimate | None = None


def raised_pipe(readings: RaisedPipe, *, significance: float) -> WaterHeight:
    """Feed level over a point: the lip's height when the flow just stops, plus what held the water back, m.

    In a pipe at rest the lip stands at feed level, less ``held_back``. The moving column overshoots a
    little when the pipe is raised and lags when it is lowered, so with both the middle is taken and half
    their difference added to the spread. Statics of a U-tube; the correction is the surveyor's. Raises
    ``InputError``.
    """
    label = readings.label
    stop = repeat(
        column(f"{label}.stopped", readings.stopped),
        expected=readings.reading_sd,
        significance=significance,
    )
    held = readings.held_back
    lip, variance = stop.mean, stop.sd**2
    findings: list[Finding] = []
    if readings.started:
        start = repeat(
            column(f"{label}.started", readings.started),
            expected=readings.reading_sd,
            significance=significance,
        )
        gap = stop.mean - start.mean
        lip, variance = (stop.mean + start.mean) / 2.0, (stop.sd**2 + start.sd**2) / 4.0 + gap**2 / 4.0
        if chi_square_tail(gap**2 / (stop.sd**2 + start.sd**2), 1) < significance:
            findings.append(found("raised_pipe_hysteresis", label, between_stop_and_start_m=gap))
    else:
        findings.append(found("raised_pipe_one_sided", label, height_m=stop.mean))
    if held is None:
        findings.append(found("raised_pipe_correction_unstated", label))
    value = lip + (held.value if held else 0.0)
    sd = math.sqrt(variance + (held.sd**2 if held else 0.0))
    height = Estimate(value, sd, f"{label}, pipe raised until the flow stops")
    return WaterHeight(label, readings.point, readings.feed, height, tuple(findings))
