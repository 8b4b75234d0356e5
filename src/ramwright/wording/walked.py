"""The first walk told: pairs of places, best first, those left out and why."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ramwright.appraise.book_verdicts import GRADES
from ramwright.quantities import System, show
from ramwright.survey import Finding, SpotPair, WalkSheet
from ramwright.wording.findings import told
from ramwright.wording.page import Page, table
from ramwright.wording.reduced import BADGES

HEADINGS: Final = {
    "ranked": "Pairs of places worth levelling, most fall for their length first",
    "dropped": "Left out",
    "findings": "What was noticed",
}
COLUMNS: Final = {
    "pair": "intake - ram",
    "fall": "fall",
    "length": "length",
    "slope": "fall/length",
    "flood": "over flood mark",
    "flow": "flow",
    "access": "access",
    "lift": "lift to {tank}",
}
ACCESS: Final = {"road": "road", "track": "track", "on_foot": "on foot", "climb": "climb"}
SENTENCES: Final = {
    "none": "No pair of places has a fall worth looking at.",
    "dropped": "{pair}: {better} has at least as much of everything, and more of this: {what}.",
}
BETTER: Final = {
    "fall": "fall",
    "length": "shorter way",
    "flood_margin": "height over the flood mark",
    "access": "easier access",
    "flow": "flow",
}


class WalkTeller:
    """Tells one walk in a unit system and a language."""

    def __init__(self, name: str, walk: WalkSheet, system: System, language: str | None = None) -> None:
        self._name = name
        self._walk = walk
        self._page = Page(system, language)

    def text(self) -> str:
        """All of it."""
        blocks = [
            self._page.title(self._name),
            *map(list, (self._ranked(), self._dropped(), self._noticed())),
        ]
        return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"

    def _ranked(self) -> Iterator[str]:
        page, walk = self._page, self._walk
        yield from page.heading(HEADINGS["ranked"])
        if not walk.ranked:
            yield page.say(SENTENCES["none"])
            return
        tanks = [tank for tank, _ in walk.ranked[0].lifts]
        names = ("pair", "fall", "length", "slope", "flood", "flow", "access")
        head = [page.say(COLUMNS[name]) for name in names]
        rows = [head + [page.say(COLUMNS["lift"], tank=tank) for tank in tanks]]
        rows += [self._row(pair) for pair in walk.ranked]
        yield from table(rows)

    def _row(self, pair: SpotPair) -> list[str]:
        system = self._page.system
        access = "" if pair.access is None else self._page.say(ACCESS[pair.access.name.lower()])
        return [
            pair.label,
            show(pair.fall.value, "head", system, sd=pair.fall.sd),
            show(pair.length, "length", system),
            show(pair.per_length, "slope", system),
            "?" if pair.flood_margin is None else show(pair.flood_margin, "head", system),
            "?" if pair.flow is None else show(pair.flow.value, "flow", system, sd=pair.flow.sd),
            access or "?",
            *(show(lift.value, "head", system, sd=lift.sd) for _, lift in pair.lifts),
        ]

    def _dropped(self) -> Iterator[str]:
        page = self._page
        if not self._walk.dropped:
            return
        yield from page.heading(HEADINGS["dropped"])
        for each in self._walk.dropped:
            what = [page.say(BETTER[name]) for name in each.better_in]
            said = page.say(SENTENCES["dropped"], pair=each.pair.label, better=each.beaten_by, what=what)
            yield from page.wrapped(said, "  ")

    def _noticed(self) -> Iterator[str]:
        found: list[Finding] = [*self._walk.findings]
        for pair in self._walk.ranked:
            found += pair.findings
        if not found:
            return
        yield from self._page.heading(HEADINGS["findings"])
        for finding in found:
            said = told(finding, self._page.system, self._page.language)
            yield f"  {BADGES[GRADES[finding.code]]} {said.title}"
            yield from self._page.wrapped(said.why, "      ")
            yield from self._page.wrapped(said.do, "      ")


def tell_walk(name: str, walk: WalkSheet, system: System, language: str | None = None) -> str:
    """A walk as plain text."""
    return WalkTeller(name, walk, system, language).text()
