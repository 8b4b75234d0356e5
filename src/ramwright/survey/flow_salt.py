"""Salt dilution: a slug thrown in at once, or a solution let in at a constant rate.

Conductivities are in S/m (1 uS/cm = 1e-4 S/m) and temperature-corrected alike; concentrations in kg/m3.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ramwright.errors import InputError
from ramwright.quantities import Estimate
from ramwright.survey._checks import column, positive, rising
from ramwright.survey.findings import Finding, found
from ramwright.survey.gaugings import Gauging, SpreadTerm, gauging


@dataclass(frozen=True, slots=True)
class SaltCalibration:
    """Salt by conductivity: ``factor`` kg/m3 per S/m with its spread; ``calibrated`` whether it was found
    with this stream's water and this probe; ``probe`` names the probe.
    """

    factor: Estimate
    calibrated: bool
    probe: str


@dataclass(frozen=True, slots=True)
class SaltRule:
    """What is called a cut tail or a missed start (share of the peak), too few readings across the wave,
    too low a peak (in reading spreads), too short a mixing reach (widths), too large a flow (m3/s) or too
    wide a stream (m) for constant-rate injection, and a background that moved beyond chance (in its own
    spreads).
    """

    most_edge_share: float
    least_readings: int
    least_peak: float
    least_widths: float
    most_constant_flow: float
    most_constant_width: float
    drift_limit: float


@dataclass(frozen=True, slots=True)
class SlugReadings:
    """A slug of ``mass`` kg: ``times`` s and ``conductivities`` S/m downstream, from before the wave to
    after it.

    ``background`` S/m before, ``background_after`` S/m after it (None if not read); ``reading_sd`` S/m;
    ``mixing_length`` and ``width`` m of the reach, None if not measured.
    """

    mass: Estimate
    times: tuple[float, ...]
    conductivities: tuple[float, ...]
    background: Estimate
    reading_sd: float
    background_after: Estimate | None = None
    mixing_length: float | None = None
    width: float | None = None


@dataclass(frozen=True, slots=True)
class PlateauReadings:
    """A solution of ``concentration`` kg/m3 (salt over the stream's own) let in at ``rate`` m3/s.

    ``plateau`` S/m, readings once steady, at ``times`` s; ``background`` S/m; ``reading_sd`` S/m.
    """

    rate: Estimate
    concentration: Estimate
    times: tuple[float, ...]
    plateau: tuple[float, ...]
    background: Estimate
    reading_sd: float
    mixing_length: float | None = None
    width: float | None = None


def area_over_background(
    times: NDArray[np.float64], values: NDArray[np.float64], before: float, after: float
) -> float:
    """Area between a wave and a straight background, by trapezoids: integral of (value - background) dt.

    ``times`` s rising, shape (n,); ``values``, ``before`` and ``after`` (the background at the first and last
    reading) in one unit; the result in that unit times s. Raises ``InputError``.
    """
    rising("times", times)
    base = before + (after - before) * (times - times[0]) / (times[-1] - times[0])
    above = values - base
    return float(np.sum(np.diff(times) * (above[:-1] + above[1:]) / 2.0))


def slug_flow(mass: float, concentration_area: float) -> float:
    """Flow from a slug (m3/s): Q = M / integral of (c - c0) dt.

    ``mass`` kg, ``concentration_area`` kg s/m3. Conservation of salt; Moore 2005 and ICIMOD 2006 (from
    memory), Richardson et al. 2017 for the factor from conductivity (abstract read). Raises ``InputError``.
    """
    return positive("mass", mass) / positive("concentration_area", concentration_area)


def constant_rate_flow(rate: float, *, solution: float, plateau: float) -> float:
    """Flow from a constant-rate injection (m3/s): Q = q (C1 - C) / C.

    ``rate`` q m3/s; ``solution`` C1 and ``plateau`` C kg/m3, both over the stream's own concentration, so
    that q (C1 - C2)/(C2 - C0) of the textbooks takes this form. Moore 2004, part 2 (title and limits read).
    Raises ``InputError``, also for a plateau not below the solution.
    """
    positive("rate", rate)
    positive("plateau", plateau)
    if plateau >= solution:
        raise InputError("survey_plateau_over_solution", field="plateau", value=plateau, solution=solution)
    return rate * (solution - plateau) / plateau


def slug_gauging(
    label: str, readings: SlugReadings, *, calibration: SaltCalibration, rule: SaltRule
) -> Gauging:
    """Flow from a salt slug, with the spread of mass, calibration, readings and background.

    The background's spread counts over the whole time logged, so a long log of a weak wave is not sure.
    Raises ``InputError``: fewer than three readings, times that do not rise, no wave over the background.
    """
    times = column(f"{label}.times", readings.times, least=3)
    values = column(f"{label}.conductivities", readings.conductivities, least=3)
    if times.size != values.size:
        raise InputError(
            "survey_columns_differ", field=f"{label}.conductivities", value=values.size, other=times.size
        )
    sd = positive("reading_sd", readings.reading_sd)
    before, after = readings.background, readings.background_after or readings.background
    area = area_over_background(times, values, before.value, after.value)
    if area <= 0.0:
        raise InputError("survey_no_salt_wave", field=label, value=area)
    factor = calibration.factor
    flow = slug_flow(readings.mass.value, positive("factor", factor.value) * area)
    span = float(times[-1] - times[0])
    held = np.diff(np.concatenate(([times[0]], (times[:-1] + times[1:]) / 2.0, [times[-1]])))
    base_sd = before.sd if readings.background_after is None else math.hypot(before.sd, after.sd) / 2.0
    terms = [
        SpreadTerm("salt weighed", flow * readings.mass.sd / readings.mass.value),
        SpreadTerm("calibration", flow * factor.sd / factor.value, calibration.probe),
        SpreadTerm("readings", flow * sd * float(np.linalg.norm(held)) / area),
        SpreadTerm("background", flow * base_sd * span / area),
    ]
    findings = _slug_findings(label, readings, values, rule)
    findings += _mixing(label, readings.mixing_length, readings.width, rule)
    findings += _calibration(label, calibration)
    return gauging(label, flow, f"salt slug, {times.size} readings", terms, findings)


def plateau_gauging(
    label: str, readings: PlateauReadings, *, calibration: SaltCalibration, rule: SaltRule
) -> Gauging:
    """Flow from salt let in at a constant rate, with the spread of all that goes in.

    Raises ``InputError``: no reading, a plateau not above the background.
    """
    values = column(f"{label}.plateau", readings.plateau)
    times = column(f"{label}.times", readings.times)
    if times.size != values.size:
        raise InputError(
            "survey_columns_differ", field=f"{label}.plateau", value=values.size, other=times.size
        )
    rising(f"{label}.times", times)
    sd = positive("reading_sd", readings.reading_sd)
    rise = float(values.mean()) - readings.background.value
    if rise <= 0.0:
        raise InputError("survey_no_salt_wave", field=label, value=rise)
    factor = calibration.factor
    salt = positive("factor", factor.value) * rise
    solution = readings.concentration
    flow = constant_rate_flow(readings.rate.value, solution=solution.value, plateau=salt)
    # d ln Q / d ln C = -C1 / (C1 - C), which is near -1; d ln Q / d ln C1 is its opposite.
    lean = solution.value / (solution.value - salt)
    rise_sd = math.hypot(sd / math.sqrt(values.size), readings.background.sd)
    terms = [
        SpreadTerm("rate of injection", flow * readings.rate.sd / readings.rate.value),
        SpreadTerm("solution", flow * lean * solution.sd / solution.value),
        SpreadTerm("calibration", flow * lean * factor.sd / factor.value, calibration.probe),
        SpreadTerm("plateau and background", flow * lean * rise_sd / rise),
    ]
    findings = _plateau_findings(label, readings, flow, rule)
    findings += _mixing(label, readings.mixing_length, readings.width, rule)
    findings += _calibration(label, calibration)
    return gauging(label, flow, f"salt at a constant rate, {values.size} readings", terms, findings)


def _slug_findings(
    label: str,
    readings: SlugReadings,
    values: NDArray[np.float64],
    rule: SaltRule,
) -> list[Finding]:
    out: list[Finding] = []
    before = readings.background.value
    after = before if readings.background_after is None else readings.background_after.value
    peak = float(values.max()) - before
    first, last = (float(values[0]) - before) / peak, (float(values[-1]) - after) / peak
    if first > rule.most_edge_share:
        out.append(found("salt_start_missed", label, first_share_of_peak=first, most=rule.most_edge_share))
    if last > rule.most_edge_share:
        out.append(found("salt_tail_cut", label, last_share_of_peak=last, most=rule.most_edge_share))
    across = int(np.count_nonzero(values - before > rule.most_edge_share * peak))
    if across < rule.least_readings:
        out.append(
            found("salt_sampling_coarse", label, readings_across_wave=across, least=rule.least_readings)
        )
    if peak / readings.reading_sd < rule.least_peak:
        out.append(
            found("salt_peak_low", label, peak_over_noise=peak / readings.reading_sd, least=rule.least_peak)
        )
    if readings.background_after is not None:
        expected = math.hypot(readings.background.sd, readings.background_after.sd)
        out += _drift("salt_background_drift", label, after - before, expected, rule)
    return out


def _plateau_findings(
    label: str,
    readings: PlateauReadings,
    flow: float,
    rule: SaltRule,
) -> list[Finding]:
    out: list[Finding] = []
    times, values = np.array(readings.times), np.array(readings.plateau)
    if values.size > 2:
        centred = times - times.mean()
        trend = float(centred @ values / (centred @ centred))
        span = float(times[-1] - times[0])
        expected = readings.reading_sd / math.sqrt(float(centred @ centred)) * span
        out += _drift("salt_plateau_drift", label, trend * span, expected, rule)
    if flow > rule.most_constant_flow:
        out.append(found("salt_flow_large", label, flow_m3_s=flow, most_m3_s=rule.most_constant_flow))
    if readings.width is not None and readings.width > rule.most_constant_width:
        out.append(found("salt_stream_wide", label, width_m=readings.width, most_m=rule.most_constant_width))
    return out


def _drift(code: str, label: str, drift: float, expected: float, rule: SaltRule) -> list[Finding]:
    if abs(drift) <= rule.drift_limit * expected:
        return []
    return [found(code, label, drift_S_m=drift, expected_S_m=expected)]


def _mixing(label: str, length: float | None, width: float | None, rule: SaltRule) -> list[Finding]:
    if length is None or width is None:
        return []
    widths = positive("mixing_length", length) / positive("width", width)
    if widths >= rule.least_widths:
        return []
    return [found("salt_mixing_short", label, widths=widths, least=rule.least_widths)]


def _calibration(label: str, calibration: SaltCalibration) -> Sequence[Finding]:
    if calibration.calibrated:
        return []
    share = calibration.factor.sd / calibration.factor.value
    return [found("salt_not_calibrated", label, share_sd=share)]
