"""A field book told: the facts with their spread, the book reduced, who disagrees, and what was noticed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ramwright.appraise import FactsFound, Reduction
from ramwright.appraise.book_verdicts import GRADES
from ramwright.quantities import Estimate, Kind, System, choose_unit, show
from ramwright.survey import HeightNet, LegResidual
from ramwright.wording.findings import told
from ramwright.wording.page import Page, noted, table
from ramwright.wording.points import named

FACTS: Final = {"fall": "Fall", "lift": "Lift", "source_flow": "Source flow"}
HEADINGS: Final = {
    "facts": "Facts",
    "alone": "What each way gives by itself",
    "flows": "Flows",
    "book": "Row by row: {name}",
    "levels": "Levels over the waste-valve seat, all readings together",
    "residuals": "Largest residual of each run",
    "apart": "Who disagrees with whom",
    "stages": "Fall by stage",
    "balance": "What is left where",
    "findings": "What was noticed, most serious first",
}
COLUMNS: Final = {
    "point": "point",
    "rise": "rise",
    "fall": "fall",
    "level": "level",
    "adjusted": "adjusted",
    "run": "run",
    "flow": "flow",
    "residual": "residual",
    "spreads": "in spreads",
    "share": "share",
    "stage": "stage",
    "feed": "feed",
    "tail": "tailwater",
}
SENTENCES: Final = {
    "missing": "not measured",
    "from": "({origin})",
    "unit": "Lengths in {unit}.",
    "closes": "It misses its start by {value:length}; {allowed:length} is allowed.",
    "misses": "It misses its start by {value:length}, more than the {allowed:length} allowed.",
    "unjudged": "It misses its start by {value:length}.",
    "open": "It ends elsewhere than it began.",
    "unchecked": "unchecked",
    "at_stage": "{flow}, {stage}",
    "no_stage": "stage not stated",
    "apart": "{fact}: {one} and {other} differ by {difference}, {spreads:number} times the spread of that.",
    "drowned": "drowned",
    "intake_to_tank": "in the creek between intake and drive tank",
    "tank_to_ram": "in the creek between drive tank and ram",
    "below_ram": "in the creek below the ram",
    "overflow": "spilled at the drive tank",
    "waste": "wasted at the ram",
    "nothing": "Nothing stands in the way.",
}
BADGES: Final = {"red": "[X]", "amber": "[!]", "note": "[i]"}
_ORDER: Final = {"red": 0, "amber": 1, "note": 2}
_BELOW: Final = "      "
_DECIMALS: Final = 3


class Teller:
    """Tells one reduction in a unit system and a language, as lines of text."""

    def __init__(self, name: str, found: FactsFound, system: System, language: str | None = None) -> None:
        self._name = name
        self._found = found
        self._page = Page(system, language)
        self._unit = "ft" if system == "us" else "m"

    def text(self) -> str:
        """All of it."""
        blocks = [[*self._page.title(self._name)], list(self._facts())]
        reduction = self._found.reduction
        if reduction is not None:
            blocks += [
                list(self._alone(reduction)),
                list(self._flows(reduction)),
                *(list(block) for block in self._books(reduction)),
                list(self._levels(reduction)),
                list(self._residuals(reduction)),
                list(self._apart(reduction)),
                list(self._stages(reduction)),
                list(self._balance(reduction)),
            ]
        blocks.append(list(self._findings()))
        return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"

    def _called(self, text: str) -> str:
        return named(text, self._page.language)

    def _shown(self, estimate: Estimate, kind: Kind) -> str:
        return show(estimate.value, kind, self._page.system, sd=estimate.sd)

    def _head(self, *columns: str) -> list[str]:
        return [self._page.say(COLUMNS[each]) if each else "" for each in columns]

    def _length(self, value: float) -> str:
        return self._page.fixed(value, self._unit, "length", _DECIMALS)

    def _facts(self) -> Iterator[str]:
        page = self._page
        yield from page.heading(HEADINGS["facts"])
        rows: list[list[str]] = []
        notes: list[str] = []
        for name, label in FACTS.items():
            estimate: Estimate | None = getattr(self._found, name)
            shown, note = page.say(SENTENCES["missing"]), ""
            if estimate is not None:
                shown = self._shown(estimate, "flow" if name == "source_flow" else "head")
                note = page.say(SENTENCES["from"], origin=self._called(estimate.origin))
            rows.append([page.say(label), shown])
            notes.append(note)
        for line, note in zip(table(rows, left=2), notes, strict=True):
            yield from noted(line, note)

    def _alone(self, reduction: Reduction) -> Iterator[str]:
        rows: list[list[str]] = []
        for name in ("fall", "lift"):
            fact = getattr(reduction.facts, name)
            ways = fact.alone if fact is not None else ()
            rows += [
                [self._page.say(FACTS[name]), self._called(label), self._shown(each, "head")]
                for label, each in ways
            ]
        if rows:
            yield from self._page.heading(HEADINGS["alone"])
            yield from table(rows, left=2)

    def _flows(self, reduction: Reduction) -> Iterator[str]:
        if not reduction.flows:
            return
        page = self._page
        yield from page.heading(HEADINGS["flows"])
        rows = [self._head("flow", "", "residual", "spreads", "share")]
        for flow in reduction.flows:
            stage = flow.stage or page.say(SENTENCES["no_stage"])
            name = self._called(f"flow, {flow.place.value}")
            told_name = page.say(SENTENCES["at_stage"], flow=name, stage=self._called(stage))
            unit = choose_unit(flow.adjusted.estimate.value, "flow", page.system)
            adjusted = flow.adjusted.estimate
            shown = show(adjusted.value, "flow", page.system, sd=adjusted.sd, unit=unit)
            rows.append([told_name, shown, "", "", ""])
            for row in flow.adjusted.rows:
                single = len(flow.adjusted.rows) == 1
                rows.append(
                    [
                        f"  {self._called(row.label)}",
                        show(row.value, "flow", page.system, sd=row.sd, unit=unit),
                        "" if single else show(row.residual, "flow", page.system, unit=unit, digits=2),
                        "" if single else _signed(row.normalised, 1),
                        "" if single else f"{_signed(100.0 * row.share, 0)} %",
                    ]
                )
        yield from table(rows)

    def _books(self, reduction: Reduction) -> Iterator[Iterator[str]]:
        for number in range(len(reduction.books)):
            yield self._book(reduction, number)

    def _book(self, reduction: Reduction, number: int) -> Iterator[str]:
        page, book, net = self._page, reduction.books[number], reduction.facts.net
        yield from page.heading(HEADINGS["book"], name=self._called(book.label))
        rows = [self._head("point", "rise", "fall", "level", "adjusted", "")]
        rows[0][-1] = "±"
        first = book.reduction.rows[0].point.key
        start = net.level(first).value if net is not None and first in net.index else 0.0
        for row in book.reduction.rows:
            rise = row.rise
            cells = [self._called(row.point.key.removeprefix(f"{book.label} "))]
            cells.append(self._length(rise) if rise is not None and rise >= 0.0 else "")
            cells.append(self._length(-rise) if rise is not None and rise < 0.0 else "")
            cells.append(self._length(start + row.level))
            if net is not None and row.point.key in net.index:
                level = net.level(row.point.key)
                cells += [self._length(level.value), self._length(level.sd)]
            else:
                cells += ["", ""]
            rows.append(cells)
        yield from table(rows)
        closing = book.misclosure
        if closing is None:
            said = page.say(SENTENCES["open"])
        elif closing.allowed is None:
            said = page.say(SENTENCES["unjudged"], value=closing.value)
        else:
            key = "closes" if closing.within else "misses"
            said = page.say(SENTENCES[key], value=closing.value, allowed=closing.allowed)
        yield from page.wrapped(f"{said} {page.say(SENTENCES['unit'], unit=self._unit)}", "  ")

    def _levels(self, reduction: Reduction) -> Iterator[str]:
        net = reduction.facts.net
        if net is None:
            return
        yield from self._page.heading(HEADINGS["levels"])
        labels = tuple(book.label for book in reduction.books)
        rows = [
            [self._called(point), show(level.value, "head", self._page.system, sd=level.sd or None)]
            for point, level in ((p, net.level(p)) for p in net.points if not _passing(p, labels))
        ]
        yield from table(rows)

    def _residuals(self, reduction: Reduction) -> Iterator[str]:
        net = reduction.facts.net
        if net is None:
            return
        yield from self._page.heading(HEADINGS["residuals"])
        rows = [self._head("run", "residual", "spreads")]
        for label, worst in _worst(net):
            if worst.normalised is None:
                rows.append([self._called(label), "", self._page.say(SENTENCES["unchecked"])])
                continue
            residual = show(worst.residual, "length", self._page.system)
            rows.append([self._called(label), residual, _signed(worst.normalised, 1)])
        yield from table(rows)

    def _apart(self, reduction: Reduction) -> Iterator[str]:
        found = reduction.facts.disagreements
        if not found:
            return
        yield from self._page.heading(HEADINGS["apart"])
        for each in found:
            kind: Kind = "flow" if each.fact.startswith("flow") else "length"
            said = self._page.say(
                SENTENCES["apart"],
                fact=self._called(each.fact),
                one=self._called(each.one),
                other=self._called(each.other),
                difference=show(abs(each.difference), kind, self._page.system),
                spreads=abs(each.normalised),
            )
            yield from self._page.wrapped(said[:1].upper() + said[1:], "  ")

    def _stages(self, reduction: Reduction) -> Iterator[str]:
        stages = reduction.stages
        if stages is None:
            return
        yield from self._page.heading(HEADINGS["stages"])
        rows = [self._head("stage", "feed", "tail", "fall", "")]
        for name, at, level in zip(stages.names, stages.at, stages.curve.tails, strict=True):
            tail = show(float(level), "head", self._page.system)
            drowned = self._page.say(SENTENCES["drowned"]) if at.drowned else ""
            feed = show(at.feed.value, "head", self._page.system)
            rows.append([self._called(name), feed, tail, self._shown(at.fall, "head"), drowned])
        yield from table(rows)

    def _balance(self, reduction: Reduction) -> Iterator[str]:
        balance = reduction.balance
        if balance is None:
            return
        yield from self._page.heading(HEADINGS["balance"])
        flows = {
            "intake_to_tank": balance.intake_to_tank.estimate,
            "tank_to_ram": balance.tank_to_ram.estimate,
            "below_ram": balance.below_ram.estimate,
            "overflow": balance.overflow,
            "waste": balance.waste,
        }
        rows = [[self._page.say(SENTENCES[name]), self._shown(flow, "flow")] for name, flow in flows.items()]
        yield from table(rows)

    def _findings(self) -> Iterator[str]:
        graded = [each for each in self._found.findings if each.code in GRADES]
        if not graded:
            return
        yield from self._page.heading(HEADINGS["findings"])
        for finding in sorted(graded, key=lambda each: _ORDER[GRADES[each.code]]):
            said = told(finding, self._page.system, self._page.language)
            yield f"  {BADGES[GRADES[finding.code]]} {said.title}"
            yield from self._page.wrapped(said.why, _BELOW)
            yield from self._page.wrapped(said.do, _BELOW)


def _signed(value: float, decimals: int) -> str:
    """A number with a true minus, and no minus before nothing."""
    text = f"{value:.{decimals}f}"
    return text.removeprefix("-") if not text.strip("-0.") else text.replace("-", "−")


def _passing(point: str, labels: tuple[str, ...]) -> bool:
    """Lines of sight and change points: of use to their own book only."""
    return any(point.startswith((f"{label}#", f"{label} tp ")) for label in labels)


def _worst(net: HeightNet) -> list[tuple[str, LegResidual]]:
    """Of each run the leg with the largest normalised residual."""
    found: dict[str, LegResidual] = {}
    for row in net.legs:
        held = found.get(row.leg.label)
        if held is None or abs(row.normalised or 0.0) > abs(held.normalised or 0.0):
            found[row.leg.label] = row
    return list(found.items())


def tell_reduction(name: str, found: FactsFound, system: System, language: str | None = None) -> str:
    """A reduction as plain text."""
    return Teller(name, found, system, language).text()
