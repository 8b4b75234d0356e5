"""Which decimal mark a table uses, and its numbers in the one way ``quantities`` reads."""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import StrEnum

from ramwright.errors import InputError
from ramwright.quantities import find_unit, parse_reading

_STARTS_LIKE_NUMBER = re.compile(r"[+\-−–]?\s*[.,]?\d")
_GAP_IN_THOUSANDS = re.compile(r"(?<=\d)[ \u00a0\u202f'’](?=\d{3}(?!\d))")
_MAY_BE_THOUSAND = re.compile(r"[+\-−–]?[1-9]\d{0,2},\d{3}(?!\d).*")


class DecimalMark(StrEnum):
    """What stands before the decimals."""

    POINT = "."
    COMMA = ","


def decimal_mark(cells: Iterable[tuple[int, str]], *, comma_parts_cells: bool) -> DecimalMark:
    """Return the decimal mark a table's number cells (line, text) agree on.

    Where commas part the cells (``comma_parts_cells``), "1,234" may be a thousand and is refused when
    nothing else in the table tells; elsewhere a lone comma is a decimal comma. Raises ``InputError`` with
    ``geometry_decimals_mixed`` or ``geometry_number_ambiguous``.
    """
    comma = point = doubtful = None
    for line, cell in cells:
        commas, points = cell.count(","), cell.count(".")
        if (commas and points and cell.rfind(",") > cell.rfind(".")) or (not commas and points > 1):
            comma = (line, cell)
        elif points or commas > 1:
            point = (line, cell)
        elif commas and comma_parts_cells and _MAY_BE_THOUSAND.fullmatch(cell):
            doubtful = (line, cell)
        elif commas:
            comma = (line, cell)
    if comma is not None and point is not None:
        first, second = sorted((comma, point))
        raise InputError("geometry_decimals_mixed", value=second[1], line=second[0], other=first[1])
    if doubtful is not None and comma is None and point is None:
        raise InputError("geometry_number_ambiguous", value=doubtful[1], line=doubtful[0])
    return DecimalMark.COMMA if comma is not None else DecimalMark.POINT


def parse_length(cell: str, *, mark: DecimalMark, unit: str, field: str, line: int | None = None) -> float:
    """Return the length written in ``cell``, m; a unit in the cell wins over ``unit``.

    ``mark`` is the decimal mark; the other mark, spaces and apostrophes before three digits part thousands.
    Raises ``InputError`` with the codes of ``quantities.parse_reading``.
    """
    other = r"\." if mark is DecimalMark.COMMA else ","
    text = _GAP_IN_THOUSANDS.sub("", cell)
    text = re.sub(rf"(?<=\d){other}(?=\d{{3}}(?!\d))", "", text).replace(mark.value, ".")
    bare = text.rstrip()
    if bare[-1:].isdigit() or bare[-1:] == ".":
        text = f"{bare.removesuffix('.')} {unit}"
    return parse_reading(text, "length", field=field, line=line).value


def looks_like_number(cell: str) -> bool:
    """Return whether ``cell`` starts like a number, so that it is data and not a heading."""
    return _STARTS_LIKE_NUMBER.match(cell) is not None


def is_length_unit(text: str) -> bool:
    """Return whether ``text`` names a unit of length."""
    return bool(text) and find_unit(text, "length") is not None
