"""Verdicts: each a small rule giving a code, how grave it is, its numbers, its limit and its source."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from ramwright.appraise.book_verdicts import survey_findings
from ramwright.appraise.installation import Installation
from ramwright.appraise.prediction import Prediction
from ramwright.appraise.setting import Setting
from ramwright.appraise.stretches import Stretch
from ramwright.appraise.verdict import Grade, Verdict
from ramwright.catalogue import Mark, Row, table, temperature_factor
from ramwright.errors import LimitError

_G = 9.80665
_ORDER: dict[Grade, int] = {"red": 0, "amber": 1, "note": 2}
#: An outcome that fewer draws than this share show is not worth a line.
_RARE = 0.02
_LIKELY = 0.5

Rule = Callable[[Installation, Prediction, Setting | None], Iterator[Verdict]]
_OWN = "simulated runs"


def outcomes(_i: Installation, p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """What may keep the ram from running, by how likely it is."""
    for code, share in p.outcomes.items():
        if code == "runs" or (p.uneven if code == "no_period" else share) < _RARE:
            continue
        grade: Grade = "red" if share >= _LIKELY and code != "no_period" else "amber"
        yield Verdict(f"may_{code}", grade, None, {"share": share}, _RARE, _OWN)


def setting_drinks_too_much(i: Installation, _p: Prediction, s: Setting | None) -> Iterator[Verdict]:
    """No setting of the valve runs on the flow there is on a low day."""
    if s is not None and not s.fits:
        yield Verdict("setting_drinks_too_much", "amber", "facts.source_flow",
                      {"drive": s.drive, "flow": i.usable_flow}, i.usable_flow, _OWN)  # fmt: skip


def residual_takes_all(i: Installation, _p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """Nothing is left for the ram once the creek has had its share."""
    if i.usable_flow <= 0.0:
        numbers: dict[str, object] = {"flow": i.source_flow.value, "residual": i.residual_flow}
        yield Verdict(
            "residual_takes_all", "red", "facts.residual_flow", numbers, i.residual_flow, "the sheet"
        )


def fall_small(i: Installation, _p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """Falls that practice calls unworkable or doubtful."""
    steps: tuple[tuple[str, str, Grade], ...] = (
        ("fall_too_small", "least-fall", "red"),
        ("fall_doubtful", "doubtful-fall", "amber"),
    )
    for code, rule, grade in steps:
        row = table("ram_limits").row(rule)
        limit = row.number("low")
        if i.fall.value < limit:
            numbers: dict[str, object] = {"value": i.fall.value, "limit": limit}
            yield Verdict(code, grade, "facts.fall", numbers, limit, _said_by(row), row.provenance.mark)
            return


def drive_length(i: Installation, _p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """Drive pipe outside every length practice names; never red: the engine shows what it costs."""
    length, bore = i.drive_length, i.drive_pipe[-1].bore
    ratios = (("length over bore", length / bore), ("length over fall", length / i.fall.value))
    for what, ratio in ratios:
        rows = table("drive_length_rules").where(ratio=what)
        least = min(r.number("low") for r in rows)
        most = max(r.number("high") for r in rows)
        if not least <= ratio <= most:
            said = tuple(f"{r.number('low'):g}-{r.number('high'):g} ({_said_by(r)})" for r in rows)
            limit = least if ratio < least else most
            code = f"{what.replace(' ', '_')}_outside"
            numbers = {"ratio": ratio, "least": least, "most": most, "said": said}
            yield Verdict(code, "amber", "drive_pipe", numbers, limit, "handbooks that disagree", Mark.MEMORY)


def pressure(i: Installation, p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """Pipe against its class: the beat's peak and the head when the delivery is shut off."""
    if p.peak_head is None or p.shutoff_head is None:
        return
    for stretch in i.drive_pipe:
        yield from _over(stretch, p.peak_head.high, "peak_over_class", "red", i)
        if p.peak_head.high <= _class_head(stretch, i):
            yield from _over(stretch, p.shutoff_head.high, "shutoff_over_class", "amber", i)
    for stretch in i.delivery_line:
        yield from _over(stretch, p.peak_head.high, "delivery_over_class", "red", i)


def _class_head(stretch: Stretch, i: Installation) -> float:
    if stretch.rating is None:
        return math.inf
    try:
        factor = temperature_factor(stretch.material, i.water.temperature_c)
    except LimitError:
        return 0.0
    return stretch.rating * min(1.0, factor) / (i.water.density * _G)


def _over(stretch: Stretch, head: float, code: str, grade: Grade, i: Installation) -> Iterator[Verdict]:
    rated = _class_head(stretch, i)
    if head > rated:
        yield Verdict(code, grade, stretch.field, {"pipe": stretch.name, "head": head, "rated": rated},
                      rated, "the pipe's rating in the catalogue")  # fmt: skip


def plastic_drive_pipe(i: Installation, p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """A plastic drive pipe gives way to the surge: it lifts less, and its joints are worked hard."""
    soft = [s for s in i.drive_pipe if s.plastic]
    if soft:
        beats = p.beats_per_min.likely if p.beats_per_min else 60.0
        yield Verdict("plastic_drive_pipe", "note", soft[0].field,
                      {"pipe": soft[0].name, "millions_a_year": beats * 0.5256}, None, _OWN)  # fmt: skip


def not_held(i: Installation, _p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """Ram and pipe end that move with each beat."""
    if i.mount is not None:
        yield Verdict("not_held", "amber", "drive_pipe_support", {}, None, _OWN)


def demand(i: Installation, p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """Whether the water wanted will come, and how surely."""
    if i.demand is None:
        return
    if p.delivery.high < i.demand:
        yield Verdict("demand_not_met", "red", "facts.demand_per_day",
                      {"demand": i.demand, "delivery": p.delivery.likely}, i.demand, "the sheet")  # fmt: skip
    elif p.delivery.low < i.demand:
        yield Verdict("demand_unsure", "amber", "facts.demand_per_day",
                      {"demand": i.demand, "low": p.delivery.low}, i.demand, "the sheet")  # fmt: skip


def cautions(i: Installation, p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """What can hurt someone, said every time."""
    head = p.peak_head.high if p.peak_head is not None else i.lift.value
    yield Verdict(
        "caution_trapped_pressure", "note", None, {"head": head}, None, "common practice", Mark.PRACTICE
    )
    yield Verdict("caution_water_rights", "note", None, {}, None, "common practice", Mark.PRACTICE)
    yield Verdict("caution_drinking_water", "note", None, {}, None, "common practice", Mark.PRACTICE)


def field_book(i: Installation, _p: Prediction, _s: Setting | None) -> Iterator[Verdict]:
    """What was noticed when the field book was turned into facts."""
    yield from survey_findings(i.found)


RULES: tuple[Rule, ...] = (
    residual_takes_all,
    outcomes,
    setting_drinks_too_much,
    fall_small,
    pressure,
    demand,
    drive_length,
    not_held,
    plastic_drive_pipe,
    field_book,
    cautions,
)


def _said_by(row: Row) -> str:
    return row.provenance.source.text


def judge(i: Installation, p: Prediction, s: Setting | None) -> tuple[Verdict, ...]:
    """Every verdict, gravest first; among equals in the order of ``RULES``."""
    found = [v for rule in RULES for v in rule(i, p, s)]
    return tuple(sorted(found, key=lambda v: _ORDER[v.grade]))
