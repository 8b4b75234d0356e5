"""Numbers as people write them: decimals, fractions, mixed fractions, and the commas we refuse."""

from __future__ import annotations

import math
import re
from typing import Final

from ramwright.errors import InputError

_VULGAR: Final = {
    "½": (1, 2),
    "¼": (1, 4),
    "¾": (3, 4),
    "⅓": (1, 3),
    "⅔": (2, 3),
    "⅛": (1, 8),
    "⅜": (3, 8),
    "⅝": (5, 8),
    "⅞": (7, 8),
}
_GLYPHS: Final = "".join(_VULGAR)
NUMBER: Final = re.compile(
    r"(?P<sign>[+\-−–])?\s*(?:"
    rf"(?P<whole>\d+)(?:\s*-\s*|\s+|\s*(?=[{_GLYPHS}]))(?:(?P<top>\d+)\s*[/⁄]\s*(?P<bottom>\d+)|(?P<glyph>[{_GLYPHS}]))"
    rf"|(?P<top2>\d+)\s*[/⁄]\s*(?P<bottom2>\d+)|(?P<glyph2>[{_GLYPHS}])"
    r"|(?P<decimal>(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+\-]?\d{1,4})?(?![\d.]))"
    r"|(?P<odd>(?i:nan|inf(?:inity)?)(?![A-Za-z])))"
)
"""One number at the start of a text: ``6.5``, ``.5``, ``1e-3``, ``3/4``, ``1 1/2``, ``1-1/2``, ``6½``."""
_COMMA: Final = re.compile(r"\d,\d")
_THOUSANDS: Final = re.compile(r"(?<![\d,.])\d{1,3}(?:,\d{3})+(?![\d,])")


def number_at(match: re.Match[str], *, value: str, field: str | None, line: int | None) -> float:
    """The number a ``NUMBER`` match stands for; raises ``bad_number`` (over zero) or ``not_finite``."""
    part = match.groupdict()
    if part["odd"]:
        raise InputError("not_finite", field=field, value=value, line=line)
    if part["decimal"]:
        size = float(part["decimal"])
    else:
        glyph = part["glyph"] or part["glyph2"]
        top, bottom = _VULGAR[glyph] if glyph else (int(part["top"] or part["top2"]), 0)
        if not glyph:
            bottom = int(part["bottom"] or part["bottom2"])
        if bottom == 0:
            raise InputError("bad_number", field=field, value=value, line=line, number=match.group().strip())
        try:
            size = int(part["whole"] or 0) + top / bottom
        except OverflowError:
            size = math.inf
    if not math.isfinite(size):
        raise InputError("not_finite", field=field, value=value, line=line)
    return -size if part["sign"] in ("-", "−", "–") else size


def refuse_commas(text: str, *, field: str | None, line: int | None) -> None:
    """A comma between digits is a decimal to some and a thousand to others: ask instead of guessing.

    Raises ``ambiguous_comma`` when it could be either, else ``decimal_comma``; both with what to write.
    """
    if not _COMMA.search(text):
        return
    decimal = re.sub(r"(?<=\d),(?=\d)", ".", text, count=1) if text.count(",") == 1 else ""
    if _THOUSANDS.search(text):
        plain = re.sub(r"(?<=\d),(?=\d)", "", text)
        raise InputError(
            "ambiguous_comma", field=field, value=text, line=line, thousands=plain, decimal=decimal or plain
        )
    write = re.sub(r"(?<=\d),(?=\d)", ".", text)
    raise InputError("decimal_comma", field=field, value=text, line=line, write=write)
