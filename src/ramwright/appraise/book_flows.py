"""From the sheet's readings of flow to gaugings: buckets, floats, weirs and salt with their spreads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ramwright import survey
from ramwright.appraise.book_findings import noticed
from ramwright.appraise.book_levels import value_of
from ramwright.appraise.book_rules import (
    bucket_rule,
    contraction_table,
    float_rule,
    instrument_figure,
    rectangular_limits,
    rule,
    salt_rule,
    v_notch_limits,
)
from ramwright.appraise.book_runs import FLOWS, Run, naming
from ramwright.catalogue import find_key, table
from ramwright.quantities import Estimate, Reading
from ramwright.site import flow_models as sheet
from ramwright.survey import FlowPlace, Gauging, RectangularRelation

# mg/L for each uS/cm, in kg/m3 for each S/m: 1e-3 kg/m3 over 1e-4 S/m.
_FACTOR_TO_SI = 10.0
_PLACES = {
    "creek": FlowPlace.CREEK,
    "supply line": FlowPlace.SUPPLY,
    "drive": FlowPlace.DRIVE,
    "delivery": FlowPlace.DELIVERY,
}


@dataclass(frozen=True, slots=True)
class GaugedFlow:
    """A gauging, which flow it is of, and how the creek stood ("" where not stated)."""

    stage: str
    place: FlowPlace
    gauging: Gauging


def gauged_flows(runs: Sequence[Run]) -> tuple[GaugedFlow, ...]:
    """Every gauging of ``runs``. Raises ``InputError`` about the entry that cannot be used."""
    found: list[GaugedFlow] = []
    for run in runs:
        if run.kind in FLOWS:
            with naming([run]):
                assert isinstance(run.part, sheet.BucketFills | sheet.FloatRun | sheet.Weir | sheet.Salt)
                place = _PLACES[run.part.flow]
                found.append(GaugedFlow(run.stage, place, _MAKERS[run.kind](run)))
    return tuple(found)


def _share(reading: Reading, usual: float) -> float:
    """Spread of a reading as a share of it: as typed, or the ``usual`` one."""
    return usual if reading.sd is None else reading.sd / abs(reading.value)


def _seconds(readings: Sequence[Reading]) -> tuple[float, ...]:
    return tuple(reading.value for reading in readings)


def _bucket(run: Run) -> Gauging:
    part = run.part
    assert isinstance(part, sheet.BucketFills)
    volume = part.volume.value
    bucket = survey.Bucket(
        part.bucket or run.label,
        volume_share_sd=_share(part.volume, instrument_figure(None, "bucket", "share of volume")),
        fill_sd=rule("bucket-brim") * volume,
        reaction_sd=part.spread.value if part.spread else instrument_figure(None, "watch", "time"),
    )
    caught = part.caught
    return survey.bucket_flow(
        run.label,
        [survey.Fill(volume, time) for time in _seconds(part.times)],
        bucket=bucket,
        rule=bucket_rule(),
        # a share nobody measured may be off by half of what is missing
        caught=None if caught is None else caught.estimate(default_sd=(1.0 - caught.value) / 2.0),
    )


def _float(run: Run) -> Gauging:
    part = run.part
    assert isinstance(part, sheet.FloatRun)
    depths = [section.spread.value for section in part.section if section.spread is not None]
    spread = survey.FloatSpread(
        offset_sd=rule("float-offset"),
        depth_sd=max(depths) if len(depths) == len(part.section) else rule("float-depth"),
        length_share_sd=_share(part.length, instrument_figure(None, "tape", "share of length")),
        reaction_sd=part.spread.value if part.spread else instrument_figure(None, "watch", "time"),
        run_share_sd=rule("float-run"),
        section_share_sd=rule("float-section"),
    )
    coefficient, low, high = _coefficient(part)
    gauging = survey.float_flow(
        run.label,
        length=part.length.value,
        times=_seconds(part.times),
        sections=[
            survey.CrossSection(
                tuple(row.across.value for row in section.rows),
                tuple(row.depth.value for row in section.rows),
                value_of(section.along),
            )
            for section in part.section
        ],
        coefficient=coefficient,
        spread=spread,
        rule=float_rule(),
    )
    typed = value_of(part.coefficient)
    if typed is None or low <= typed <= high:
        return gauging
    names = (part.bed,) if part.bed else ()
    unfit = noticed("float_coefficient_unfit", run.label, names=names, coefficient=typed, low=low, high=high)
    return replace(gauging, findings=(*gauging.findings, unfit))


def _coefficient(part: sheet.FloatRun) -> tuple[survey.FloatCoefficient, float, float]:
    """The coefficient to use, and the range (low, high) of the bed, or of all beds where none was stated."""
    rows = table("float_coefficients")
    key = find_key("float_coefficients", part.bed) if part.bed else "single-value"
    used = [row.figure for row in rows if row.flag("used")]
    low, high = min(figure.low for figure in used), max(figure.high for figure in used)
    if key != "single-value":  # that row is for a bed nobody knows
        figure = rows.row(key).figure
        chosen = survey.FloatCoefficient(key, figure.estimate())
        low, high = figure.low, figure.high
    else:
        chosen = survey.bed_unstated(low, high)
    if part.coefficient is not None:
        usual = table("float_and_bucket_rules").row("float-spread").number("likely") * part.coefficient.value
        chosen = survey.FloatCoefficient(key, part.coefficient.estimate(default_sd=usual))
    return chosen, low, high


def _heads(part: sheet.Weir, instrument: str) -> survey.HeadReadings:
    usual = instrument_figure(None, instrument, "head reading")
    return survey.HeadReadings(
        tuple(head.value for head in part.heads),
        reading_sd=part.spread.value if part.spread else usual,
        zero_sd=usual,
        gauge_distance=value_of(part.gauge_distance),
        tailwater=value_of(part.tailwater),
    )


def _v_notch(run: Run) -> Gauging:
    part = run.part
    assert isinstance(part, sheet.VNotchWeir)
    notch = survey.VNotch(
        run.label,
        angle=part.angle.value,
        angle_sd=rule("notch-angle") if part.angle.sd is None else part.angle.sd,
        crest_height=part.crest_height.value,
        channel_width=part.channel_width.value,
    )
    return survey.v_notch_gauging(
        run.label,
        notch,
        _heads(part, "v-notch"),
        limits=v_notch_limits(),
        significance=rule("significance"),
    )


def _rectangular(run: Run) -> Gauging:
    part = run.part
    assert isinstance(part, sheet.RectangularWeir)
    width, channel = part.width, part.channel_width.value
    width_sd = rule("crest-width") if width.sd is None else width.sd
    full = abs(channel - width.value) <= width_sd
    relation = RectangularRelation((part.relation or ("rehbock" if full else "francis")).replace("-", "_"))
    ends = part.contractions if part.contractions is not None else (0 if full else 2)
    weir = survey.RectangularWeir(
        run.label,
        width=width.value,
        width_sd=width_sd,
        crest_height=part.crest_height.value,
        channel_width=channel,
        contractions=ends,
        relation=relation,
        table=contraction_table() if relation is RectangularRelation.KINDSVATER_CARTER else None,
    )
    return survey.rectangular_gauging(
        run.label,
        weir,
        _heads(part, "rectangular-weir"),
        limits=rectangular_limits(),
        significance=rule("significance"),
    )


def _calibration(part: sheet.Salt) -> survey.SaltCalibration:
    probe = part.probe or "probe"
    if part.factor is not None:
        usual = table("salt_dilution").row("spread-calibrated").number("likely")
        value, share = part.factor.value, _share(part.factor, usual)
        factor = Estimate(value * _FACTOR_TO_SI, share * value * _FACTOR_TO_SI)
        return survey.SaltCalibration(factor, True, probe)
    figure = table("salt_dilution").row("calibration-factor").figure
    # its source prints a plus-or-minus and not what share of cases it covers: taken as one spread
    sd = (figure.high - figure.low) / 2.0
    return survey.SaltCalibration(Estimate(figure.likely * _FACTOR_TO_SI, sd * _FACTOR_TO_SI), False, probe)


def _conductivity_sd(part: sheet.Salt) -> float:
    return part.spread.value if part.spread else instrument_figure(None, "probe", "conductivity reading")


def _salt_slug(run: Run) -> Gauging:
    part = run.part
    assert isinstance(part, sheet.SaltSlug)
    sd = _conductivity_sd(part)
    usual = instrument_figure(None, "scales", "share of mass")
    after = part.background_after
    readings = survey.SlugReadings(
        mass=Estimate(part.salt.value, part.salt.value * _share(part.salt, usual)),
        times=tuple(row.time.value for row in part.rows),
        conductivities=tuple(row.conductivity.value for row in part.rows),
        background=part.background.estimate(default_sd=sd),
        reading_sd=sd,
        background_after=None if after is None else after.estimate(default_sd=sd),
        mixing_length=value_of(part.mixing_length),
        width=value_of(part.width),
    )
    return survey.slug_gauging(run.label, readings, calibration=_calibration(part), rule=salt_rule())


def _salt_constant(run: Run) -> Gauging:
    part = run.part
    assert isinstance(part, sheet.SaltConstant)
    sd = _conductivity_sd(part)
    readings = survey.PlateauReadings(
        rate=part.rate.estimate(default_sd=rule("injection-rate") * part.rate.value),
        concentration=part.concentration.estimate(default_sd=rule("brine") * part.concentration.value),
        times=tuple(row.time.value for row in part.rows),
        plateau=tuple(row.conductivity.value for row in part.rows),
        background=part.background.estimate(default_sd=sd),
        reading_sd=sd,
        mixing_length=value_of(part.mixing_length),
        width=value_of(part.width),
    )
    return survey.plateau_gauging(run.label, readings, calibration=_calibration(part), rule=salt_rule())


_MAKERS = {
    "bucket": _bucket,
    "float_run": _float,
    "v_notch": _v_notch,
    "rectangular_weir": _rectangular,
    "salt_slug": _salt_slug,
    "salt_constant": _salt_constant,
}
