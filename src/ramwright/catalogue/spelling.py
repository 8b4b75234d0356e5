"""What somebody wrote for a pipe, taken apart: stuff, class, standard and size.

Words come from the table ``pipe_words``; figures are known by what stands beside them (``sch 40``,
``SDR 11``, ``PN 16``, ``160 psi``, ``63 mm``, ``1-1/4"``).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from ramwright.catalogue.loader import table

_FRACTIONS: Final = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⁄": "/"}
_INCH: Final = r"(?:\"|inches\b|inch\b|in\b\.?|''|ins\b)"
_MIXED: Final = r"\d+\s+\d+/[1-9]\d*|\d+/[1-9]\d*|\d+\.\d+|\.\d+|\d+"
_CLASSES: Final[tuple[tuple[str, str], ...]] = (
    ("schedule", r"\bsch(?:ed(?:ule)?)?[\s.-]*(\d+)(?![\d.])"),
    ("sidr", r"\bsidr[\s-]*(\d+(?:\.\d+)?)"),
    ("sdr", r"\bs?dr[\s-]*(\d+(?:\.\d+)?)"),
    ("pn", r"\bpn[\s-]*(\d+(?:\.\d+)?)"),
    ("psi", r"\b(?:class|cl)[\s-]*(\d+)\b"),
    ("psi", r"(?<![\d.])(\d+)[\s-]*(?:psi|lbs?|#)(?:\b|(?<=#))"),
    ("type", r"\btype[\s-]*([a-z])\b"),
    ("grade", r"\bpe[\s-]*(100|80|\d{4})(?:[\s-]*rc)?\b"),
)
_SIZES: Final[tuple[tuple[str, str], ...]] = (
    ("dn", r"\bdn[\s-]*(\d+(?:\.\d+)?)"),
    ("mm", r"(?<![\d.])(\d+(?:\.\d+)?)[\s-]*mm\b"),
    ("inch", rf"(?<![\d./])({_MIXED})[\s-]*{_INCH}"),
    ("bare", rf"(?<![\d./a-z])({_MIXED})(?![\w./])"),
)


@dataclass(frozen=True, slots=True)
class Size:
    """A size as written: ``unit`` is ``inch``, ``mm``, ``dn`` or ``bare`` (none was given)."""

    number: float
    unit: str


@dataclass(frozen=True, slots=True)
class Spelling:
    """What was understood, and the words and the further sizes that were not."""

    features: tuple[tuple[str, str], ...]
    sizes: tuple[Size, ...]
    strange: tuple[str, ...]

    def get(self, feature: str) -> tuple[str, ...]:
        """Every value given for ``feature``."""
        return tuple(value for name, value in self.features if name == feature)


def number(text: str) -> float:
    """The number in ``text``: ``1 1/4``, ``3/4``, ``1.25``."""
    total = 0.0
    for part in text.split():
        top, _, bottom = part.partition("/")
        total += float(top) / float(bottom) if bottom else float(top)
    return total


@lru_cache(maxsize=1)
def _phrases() -> tuple[tuple[re.Pattern[str], str, str], ...]:
    """Patterns of the known phrases, longest first so that ``poly pipe`` wins over ``poly``."""
    rows = sorted(table("pipe_words"), key=lambda row: -len(row.text("phrase")))
    return tuple((_loosely(row.text("phrase")), row.text("feature"), row.text("value")) for row in rows)


def _loosely(phrase: str) -> re.Pattern[str]:
    """``phrase`` as a whole word, its words parted by blanks, dots, dashes or nothing."""
    words = r"[\s.-]*".join(map(re.escape, phrase.split()))
    return re.compile(rf"(?<![\w.])({words})(?![\w/])")


def _tidy(text: str) -> str:
    text = text.lower().strip()
    for sign, plain in _FRACTIONS.items():
        text = re.sub(rf"(?<=\d){sign}", f" {plain}", text) if sign != "⁄" else text.replace(sign, plain)
        text = text.replace(sign, plain)
    text = re.sub(r"[″”“]|''|′′", '"', text)
    text = re.sub(r"(?<=\d)\s*-\s*(?=\d+/\d)", " ", text)
    # A comma between digits is a decimal comma (SDR 13,6); any other parts words.
    text = re.sub(r"(?<=\d),(?=\d)", ".", text)
    return re.sub(r"[,;:()]", " ", text)


def _take(pattern: re.Pattern[str] | str, text: str) -> tuple[list[str], str]:
    """What ``pattern`` finds in ``text``, and the text without it."""
    found = [match.group(match.re.groups) for match in re.finditer(pattern, text)]
    return found, re.sub(pattern, " ; ", text)


def read_spelling(text: str) -> Spelling:
    """Take ``text`` apart; nothing is refused here."""
    rest = _tidy(text)
    features: list[tuple[str, str]] = []
    # Standards first: their numbers are no sizes. Other words wait for the classes, which may hold
    # some of them (PE 100).
    for pattern, feature, value in _phrases():
        if feature == "standard":
            found, rest = _take(pattern, rest)
            features += [(feature, value)] * bool(found)
    for kind, expression in _CLASSES:
        found, rest = _take(expression, rest)
        features += [(kind, f"pe{value}" if kind == "grade" else value) for value in found]
    sizes: list[Size] = []
    for unit, expression in _SIZES:
        found, rest = _take(expression, rest)
        sizes += [Size(number(value), unit) for value in found]
    for pattern, feature, value in _phrases():
        found, rest = _take(pattern, rest)
        if found and feature != "ignore":
            features.append((feature, value))
    strange = tuple(re.findall(r"[^\s;.\"'/-][^\s;]*", rest))
    return Spelling(tuple(dict.fromkeys(features)), tuple(sizes), strange)
