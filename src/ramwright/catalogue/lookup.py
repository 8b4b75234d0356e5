"""Find a row by its key or by the words people write for it."""

from __future__ import annotations

import re
from functools import cache

from ramwright.catalogue.loader import closest, table
from ramwright.catalogue.rows import Row
from ramwright.errors import InputError


def plain_words(text: str) -> str:
    """``text`` in lower case with single blanks, dashes and underscores taken for blanks."""
    return re.sub(r"[\s_-]+", " ", text.lower()).strip(" .")


@cache
def _named(table_name: str) -> dict[str, str]:
    """Every spelling -> the key it means."""
    found: dict[str, str] = {}
    listed = table(table_name)
    for row in listed:
        key = row.text(listed.key[0])
        words = row.text("words").split(";") if "words" in row.values else []
        for spelling in (key, *words):
            found.setdefault(plain_words(spelling), key)
    return found


def find_key(table_name: str, given: str, *, field: str | None = None) -> str:
    """The key of ``table_name`` that ``given`` means, by itself or by the table's ``words``.

    Raises ``InputError`` with the closest names when it means none.
    """
    named = _named(table_name)
    key = named.get(plain_words(given))
    if key is None:
        near = (named[name] for name in closest(plain_words(given), tuple(named), 6))
        raise InputError(
            "catalogue_name_unknown",
            field=field or table_name,
            value=given,
            closest=tuple(dict.fromkeys(near)),
        )
    return key


def find_row(table_name: str, given: str, *, field: str | None = None) -> Row:
    """The only row of ``table_name`` that ``given`` means; raises ``InputError`` like :func:`find_key`."""
    return table(table_name).row(find_key(table_name, given, field=field))
