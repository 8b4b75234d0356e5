"""From bytes to raw entries: encoding, size, and what is wrong when it is not TOML.

Most broken sheets are broken in one of four ways (no quotes, an inch mark inside quotes, curly
quotes from a telephone, an entry written twice); each is recognised on the line it happens.
"""

from __future__ import annotations

import re
import tomllib
from typing import Any, Final, Self

from ramwright.errors import InputError
from ramwright.site.lines import Lines, locate
from ramwright.site.words import dotted

LARGEST_BYTES: Final = 1_000_000
"""A sheet is a few thousand bytes; more than this is some other file."""
_AT: Final = re.compile(r"\(at line (\d+), column (\d+)\)|\(at end of document\)")
_BARE_READING: Final = re.compile(r"^\s*[^=#\"']+=\s*(?P<value>[+\-.\d][^\"'#]*[^\W\d][^\"'#]*?)\s*(?:#.*)?$")
_BARE_WORD: Final = re.compile(r"^\s*[^=#\"']+=\s*(?P<value>[^\W\d][^\"'#=\[\]{}]*?)\s*(?:#.*)?$")
_INCH_MARK: Final = re.compile(r"^\s*[^=#\"']+=\s*\"(?P<value>[^\"]*\d)\s*\"\s*[^\s,#\]}]")
_CURLY: Final = re.compile(r"[“”„«»‘]")
_DUPLICATE: Final = ("Cannot overwrite", "Cannot declare", "Duplicate inline")
_LONGEST_LINE: Final = 80


class TypedNumber(float):
    """A number that remembers how it was typed: 1.420 was read to the millimetre."""

    def __new__(cls, text: str) -> Self:
        """The number in ``text``, as TOML writes it."""
        number = super().__new__(cls, text)
        number.text = text.replace("_", "")
        return number

    text: str

    def __repr__(self) -> str:
        """As typed."""
        return self.text

    __str__ = __repr__


def decode(data: bytes, *, sheet: str) -> str:
    """Text of a sheet; raises ``sheet_too_large``, ``sheet_utf16`` or ``sheet_not_utf8``."""
    if len(data) > LARGEST_BYTES:
        raise InputError("sheet_too_large", sheet=sheet, most_kb=LARGEST_BYTES // 1000)
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise InputError("sheet_utf16", sheet=sheet)
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise InputError("sheet_not_utf8", line=line, sheet=sheet, byte=f"{data[error.start]:02x}") from None


def entries(text: str, *, sheet: str) -> tuple[dict[str, Any], Lines]:
    """Raw entries of a sheet and their lines.

    Raises ``InputError`` ``sheet_too_large``, ``sheet_empty``, ``too_nested``, ``too_many_entries``,
    ``duplicate``, ``quotes_missing``, ``inch_mark_in_quotes``, ``curly_quotes`` or ``toml_syntax``.
    """
    # surrogates cannot be encoded; they are counted as they stand
    if len(text.encode("utf-8", "surrogatepass")) > LARGEST_BYTES:
        raise InputError("sheet_too_large", sheet=sheet, most_kb=LARGEST_BYTES // 1000)
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    if not text.strip():
        raise InputError("sheet_empty", sheet=sheet)
    lines = locate(text)
    try:
        return tomllib.loads(text, parse_float=TypedNumber), lines
    except tomllib.TOMLDecodeError as error:
        raise _explain(str(error), text, lines) from None
    except (RecursionError, ValueError, OverflowError):
        # an integer of thousands of digits, say: the standard reader lets some of Python's own errors out
        raise InputError("toml_syntax", sheet=sheet) from None


def _explain(message: str, text: str, lines: Lines) -> InputError:
    """What a person did, from where the reader stopped."""
    place = _AT.search(message)
    rows = text.split("\n")
    number = int(place[1]) if place and place[1] else len(rows)
    row = rows[min(number, len(rows)) - 1]
    if message.startswith(_DUPLICATE) and lines.twice:
        twice = lines.twice[0]
        name = dotted(twice.path)
        return InputError(
            "duplicate", field=name, value=str(twice.path[-1]), line=twice.second, first=twice.first
        )
    path = lines.path(number)
    at: dict[str, Any] = {
        "field": dotted(path) if path and lines.line(path) == number else None,
        "value": row.strip()[:_LONGEST_LINE],
        "line": number,
    }
    if _CURLY.search(row.partition("#")[0]):
        return InputError("curly_quotes", **at)
    inch = _INCH_MARK.match(row)
    if inch:
        return InputError("inch_mark_in_quotes", **at, write=f"{inch['value'].strip()} in")
    bare = _BARE_READING.match(row) or _BARE_WORD.match(row)
    if bare:
        return InputError("quotes_missing", **at, write=bare["value"].strip())
    return InputError("toml_syntax", **at)
