"""A page of plain text: headings, wrapped sentences, tables; the same for every teller."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from ramwright.quantities import Kind, System, from_si
from ramwright.wording.blanks import fill
from ramwright.wording.translate import translate

WIDTH: Final = 88
"""Columns of a page."""


class Page:
    """Says things in a unit system and a language."""

    def __init__(self, system: System, language: str | None = None) -> None:
        self.system = system
        self.language = language

    def say(self, template: str, **values: object) -> str:
        """The sentence ``template`` with its blanks filled."""
        return fill(translate(template, self.language), values, self.system, self.language)

    def heading(self, template: str, **values: object) -> list[str]:
        """A heading, underlined."""
        said = self.say(template, **values)
        return [said, "-" * len(said)]

    def wrapped(self, text: str, indent: str = "") -> list[str]:
        """A sentence in lines of the page's width."""
        return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)

    def title(self, name: str) -> list[str]:
        """A name typed by someone, as the title of a page."""
        plain = " ".join("".join(c if c.isprintable() else " " for c in name).split())
        lines = textwrap.wrap(plain, WIDTH) or ["-"]
        return [*lines, "=" * max(map(len, lines))]

    def fixed(self, value: float, unit: str, kind: Kind, decimals: int) -> str:
        """A number (SI) in a fixed unit and with fixed decimals, for columns; a true minus."""
        text = f"{from_si(value, unit, kind):.{decimals}f}"
        if text.startswith("-"):
            text = "−" + text[1:] if text.strip("-0.") else text[1:]
        return text


def noted(line: str, note: str, indent: str = "      ") -> list[str]:
    """A line with a note behind it, or below it where the page is too narrow."""
    if not note:
        return [line]
    if len(line) + 2 + len(note) <= WIDTH:
        return [f"{line}  {note}"]
    return [line, *textwrap.wrap(note, WIDTH, initial_indent=indent, subsequent_indent=indent)]


def table(rows: Sequence[Sequence[str]], *, left: int = 1, indent: str = "  ") -> Iterator[str]:
    """Rows as aligned columns; the first ``left`` are flush left, the others flush right."""
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    for row in rows:
        cells = [
            cell.ljust(width) if i < left else cell.rjust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield (indent + "  ".join(cells)).rstrip()
