"""Verdicts in words: a title, why it is so, and what to do, by code, from one file a subject.

Each file beside this one holds ``TEMPLATES: dict[str, Templates]``. The numbers a verdict carries (SI)
fill the blanks, see ``ramwright.wording.blanks``. A code is said in one file only.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping
from functools import cache
from importlib import import_module
from types import MappingProxyType
from typing import NamedTuple

from ramwright.quantities import System
from ramwright.wording.blanks import fill
from ramwright.wording.points import spoken
from ramwright.wording.translate import translate


class Templates(NamedTuple):
    """A verdict's sentences: ``title`` in a few words, ``why``, and what to ``do`` ('' if nothing)."""

    title: str
    why: str
    do: str


def merge(files: Mapping[str, Mapping[str, Templates]]) -> Mapping[str, Templates]:
    """All templates of ``files`` (name -> its ``TEMPLATES``); raises ``ImportError`` on a code said twice."""
    merged: dict[str, Templates] = {}
    for name, templates in files.items():
        twice = merged.keys() & templates.keys()
        if twice:
            raise ImportError(f"verdicts {sorted(twice)} are worded in {name} and in another file too")
        merged.update(templates)
    return MappingProxyType(merged)


@cache
def templates() -> Mapping[str, Templates]:
    """Every verdict's templates, by code."""
    names = [module.name for module in pkgutil.iter_modules(__path__)]
    return merge({name: import_module(f"{__name__}.{name}").TEMPLATES for name in names})


def words(
    code: str, numbers: Mapping[str, object], system: System = "us", language: str | None = None
) -> Templates:
    """The verdict ``code`` in words, blanks filled from ``numbers`` (SI); ``KeyError`` if unknown."""
    found = templates()[code]
    values = spoken(numbers, language)
    return Templates(*(fill(translate(part, language), values, system, language) for part in found))
