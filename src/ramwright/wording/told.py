"""An appraisal told in plain text: the same words for the command line and for print."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator
from typing import Final

from ramwright.appraise import Appraisal, Range, Verdict
from ramwright.appraise.sensitivity import decides
from ramwright.quantities import Kind, System, choose_unit, from_si, show
from ramwright.wording.answer import FACTS, FIGURES, HEADINGS, SENTENCES, entry_name
from ramwright.wording.blanks import fill
from ramwright.wording.deciding import AGAIN, HEADING, NAMES
from ramwright.wording.deciding import SENTENCES as DECIDING
from ramwright.wording.outcomes import OUTCOMES
from ramwright.wording.page import noted
from ramwright.wording.points import named
from ramwright.wording.sources import SOURCES
from ramwright.wording.translate import translate
from ramwright.wording.units import shown_in, unit_word
from ramwright.wording.verdicts import words

_KINDS: Final[dict[str, Kind]] = {
    "delivery": "flow",
    "waste": "flow",
    "drive": "flow",
    "beats_per_min": "frequency",
    "efficiency_daubuisson": "fraction",
    "efficiency_rankine": "fraction",
    "peak_head": "head",
    "lowest_head": "head",
    "shutoff_head": "head",
}
_BADGE: Final = {"red": "[X]", "amber": "[!]", "note": "[i]"}
_SURE, _DOUBTFUL = 0.9, 0.1
_LIFTS: Final = ("runs", "no_period")
_WIDTH: Final = 88
_BELOW: Final = "      "
#: Columns of a name of an entry, unless one is longer.
_NAMED: Final = 44
#: Inputs shown among what decides; least share worth a line, worth measuring again, said to hang on one.
_TOP, _WORTH, _WORTH_AGAIN, _HANGS = 3, 0.05, 0.15, 0.3


def _rounded(values: list[float]) -> list[str]:
    """Numbers to the place their own spread allows: its first digits, three digits where there is none."""
    spread = max(values) - min(values)
    size = max(map(abs, values))
    if size == 0.0:
        return ["0"] * len(values)
    if spread > 1e-3 * size:
        # One digit of the spread of a bell of which eight in ten lie between; two where the first is a 1.
        sd = spread / 2.6
        place = math.floor(math.log10(sd))
        place -= sd < 2.0 * 10.0**place
    else:
        place = math.floor(math.log10(size)) - 2
    step = 10.0**place
    return [f"{round(v / step) * step + 0.0:.{max(-place, 0)}f}".replace("-", "−") for v in values]


class Teller:
    """Tells one appraisal in a unit system and a language, as lines of text."""

    def __init__(self, appraisal: Appraisal, system: System, language: str | None = None) -> None:
        self._a = appraisal
        self._system = system
        self._language = language

    def text(self) -> str:
        """The whole answer."""
        blocks = (
            self._head(),
            self._facts(),
            self._prediction(),
            self._setting(),
            self._deciders(),
            self._verdicts(cautions=False),
            self._verdicts(cautions=True),
            self._assumptions(),
            self._check(),
        )
        return "\n\n".join("\n".join(block) for block in map(list, blocks) if block) + "\n"

    def _say(self, template: str, **values: object) -> str:
        return fill(translate(template, self._language), values, self._system, self._language)

    def _heading(self, name: str) -> str:
        heading = self._say(HEADING if name == "deciders" else HEADINGS[name])
        return f"{heading}\n{'-' * len(heading)}"

    def _wrapped(self, text: str, indent: str = "") -> Iterator[str]:
        yield from textwrap.wrap(text, _WIDTH, initial_indent=indent, subsequent_indent=indent)

    def _head(self) -> Iterator[str]:
        p = self._a.prediction
        name = " ".join("".join(c if c.isprintable() else " " for c in self._a.site.site.name).split())
        wrapped = textwrap.wrap(name, _WIDTH) or ["-"]
        yield from wrapped
        yield "=" * max(map(len, wrapped))
        key = "runs" if p.runs >= _SURE else "may_run" if p.runs >= _DOUBTFUL else "not_run"
        yield from self._wrapped(self._say(SENTENCES[key], share=p.runs, draws=p.draws))
        if p.delivery.likely > 0.0:
            (low, likely, high), unit = self._cells("delivery", p.delivery, per_day=True)
            said = self._say(SENTENCES["day"], low=low, likely=likely, high=high, unit=unit)
            yield from self._wrapped(said)
        if p.runs < _SURE:
            stops = {code: share for code, share in p.outcomes.items() if code not in _LIFTS}
            yield from self._wrapped(self._say(OUTCOMES[max(stops, key=lambda code: stops[code])][1]))

    def _facts(self) -> Iterator[str]:
        yield self._heading("facts")
        i = self._a.installation
        for name, label in FACTS.items():
            estimate = getattr(i, name)
            kind: Kind = "flow" if name == "source_flow" else "head"
            shown = show(estimate.value, kind, self._system, sd=estimate.sd)
            note = f"({self._origin(estimate.origin)})" if estimate.origin != "typed" else ""
            yield from noted(f"  {self._say(label):<34}{shown}", note)

    def _origin(self, origin: str) -> str:
        """Where a fact comes from that was not simply typed."""
        usual = origin == "spread_assumed"
        return self._say(SENTENCES["spread_assumed"]) if usual else named(origin, self._language)

    def _prediction(self) -> Iterator[str]:
        yield self._heading("prediction")
        low, likely, high = (translate(w, self._language) for w in ("low", "likely", "high"))
        yield f"  {'':<34}{low:>9}{likely:>9}{high:>9}"
        p = self._a.prediction
        yield self._row("delivery", p.delivery, per_day=True)
        for name in FIGURES:
            found: Range | None = getattr(p, name)
            if found is not None and name != "delivery":
                yield self._row(name, found)
        yield from self._wrapped(self._say(SENTENCES["ranges"]), "  ")
        if p.model > 0.0:
            yield from self._wrapped(self._say(DECIDING["counted"], percent=f"{100.0 * p.model:.0f}"), "  ")

    def _row(self, name: str, found: Range, *, per_day: bool = False) -> str:
        shown, unit = self._cells(name, found, per_day=per_day)
        cells = "".join(f"{cell:>9}" for cell in shown)
        return f"  {self._say(FIGURES[name]):<34}{cells}  {unit}"

    def _cells(self, name: str, found: Range, *, per_day: bool) -> tuple[list[str], str]:
        """Low, likely and high rounded alike, and their unit."""
        kind = _KINDS[name]
        values = (found.low, found.likely, found.high)
        if kind == "frequency":
            values = (found.low / 60.0, found.likely / 60.0, found.high / 60.0)
        unit = choose_unit(max(map(abs, values)), kind, self._system, per_day=per_day)
        return _rounded([from_si(v, unit, kind) for v in values]), unit_word(unit, self._language)

    def _deciders(self) -> Iterator[str]:
        yield self._heading("deciders")
        p = self._a.prediction
        found = decides(p)
        if not found:
            yield from self._wrapped(self._say(DECIDING["nothing"]), "  ")
            return
        doubtful = any(d.running_share is not None for d in found)
        top = [d for k, d in enumerate(found[:_TOP]) if k == 0 or d.delivery_share >= _WORTH]
        said = {name: self._say(text) for name, text in DECIDING.items() if "{" not in text}
        heads = (
            (said["share"], said["twice"], ""),
            (said["spread"], said["tank"], said["chance"] if doubtful else ""),
        )
        for share, then, runs in heads:
            yield f"  {'':<44}{share:>10}  {then:<24}{runs:>5}".rstrip()
        for d in top:
            (low, _, high), unit = self._cells("delivery", d.delivery, per_day=True)
            then = self._say(DECIDING["range"], low=low, high=high, unit=unit)
            runs = f"{100.0 * d.runs:.0f} %" if doubtful else ""
            share = f"{100.0 * d.delivery_share:.0f} %"
            yield f"  {self._say(NAMES[d.name]):<44}{share:>10}  {then:<24}{runs:>5}".rstrip()
        hangs = max(found, key=lambda d: d.running_share or 0.0)
        if hangs.running_share is not None and hangs.running_share >= _HANGS:
            name, share_of = self._say(NAMES[hangs.name]), hangs.running_share
            yield from self._wrapped(self._say(DECIDING["hangs"], name=name, share=share_of), "  ")
        again = hangs if hangs.name in AGAIN and (hangs.running_share or 0.0) >= _HANGS else None
        again = again or next((d for d in top if d.name in AGAIN and d.delivery_share >= _WORTH_AGAIN), None)
        yield from self._wrapped(self._say(AGAIN[again.name] if again else DECIDING["ram"]), "  ")

    def _setting(self) -> Iterator[str]:
        setting = self._a.setting
        if setting is None:
            return
        valve = self._a.installation.valve
        yield self._heading("setting")
        if setting.what == "weight":
            said = self._say(SENTENCES["weight"], value=valve.mass.value, stroke=valve.stroke.value)
        else:
            said = self._say(SENTENCES["stroke"], value=setting.value)
        told = "setting_drive" if self._a.installation.rams == 1 else "setting_drive_each"
        said = f"{said} {self._say(SENTENCES[told], drive=setting.drive)}"
        if not setting.fits:
            said = f"{said} {self._say(SENTENCES['setting_unfit'])}"
        yield from self._wrapped(said, "  ")

    def _verdicts(self, *, cautions: bool) -> Iterator[str]:
        found = [v for v in self._a.verdicts if v.code.startswith("caution_") == cautions]
        if not found:
            return
        yield self._heading("cautions" if cautions else "verdicts")
        for verdict in found:
            yield from self._verdict(verdict)

    def _verdict(self, verdict: Verdict) -> Iterator[str]:
        said = words(verdict.code, verdict.numbers, self._system, self._language)
        yield f"  {_BADGE[verdict.grade]} {said.title}"
        yield from self._wrapped(said.why, _BELOW)
        yield from self._wrapped(said.do, _BELOW)
        if verdict.limit is not None:
            yield from self._wrapped(f"({self._source(verdict.source)}; {self._say(verdict.mark)})", _BELOW)

    def _source(self, source: str) -> str:
        return self._say(source) if source in SOURCES else source

    def _assumptions(self) -> Iterator[str]:
        taken = self._a.installation.assumptions
        if not taken:
            return
        yield self._heading("assumptions")
        names = [entry_name(a.field, self._language) for a in taken]
        wide = max(_NAMED, *map(len, names))
        for name, a in zip(names, taken, strict=True):
            value = shown_in(a.value, a.kind, self._system, self._language)
            yield f"  {name:<{wide}}{value:>12}  ({self._say(a.mark)})"

    def _check(self) -> Iterator[str]:
        check = self._a.prediction.check
        yield self._heading("check")
        if check.hangs_open:
            yield from self._wrapped(self._say(SENTENCES["check_hangs"]), "  ")
            return
        if math.isinf(check.beat_time):
            yield from self._wrapped(self._say(SENTENCES["check_shut"]), "  ")
            return
        beats = f"{60.0 / check.beat_time:.0f}"
        # The closed form is one ram's; the figures above are those of all of them.
        rams = self._a.installation.rams
        delivery, waste = rams * check.delivery, rams * check.waste
        said = self._say(SENTENCES["check"], delivery=delivery, waste=waste, beats=beats)
        yield from self._wrapped(said, "  ")


def tell(appraisal: Appraisal, system: System, language: str | None = None) -> str:
    """The appraisal as plain text."""
    return Teller(appraisal, system, language).text()
