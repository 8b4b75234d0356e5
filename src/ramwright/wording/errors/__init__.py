"""Error sentences: what is wrong and what to do, by code, from one file a room.

Each ``<room>.py`` beside this one holds ``SENTENCES: dict[str, tuple[str, str]]``: code -> (what is
wrong, what to do), with the error's ``{field}``, ``{value}``, ``{line}`` and details as blanks (see
``ramwright.wording.blanks``). A code is said in one file only.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Mapping
from functools import cache
from importlib import import_module
from types import MappingProxyType
from typing import Final

from ramwright.errors import RamwrightError
from ramwright.quantities import KINDS, System
from ramwright.wording.blanks import fill
from ramwright.wording.translate import translate

UNSAID: Final = {"field": "this entry", "value": "nothing", "line": "?"}
"""What stands in a blank the error has nothing for."""
WHERE: Final = {"both": "line {line}, {field}", "line": "line {line}"}
"""Where an error is."""
MEASURES: Final = tuple(sorted({info.dimension for info in KINDS.values()}))
"""What a unit measures, as errors about units name it."""
_MEASURED: Final = ("wanted", "given")


def merge(files: Mapping[str, Mapping[str, tuple[str, str]]]) -> Mapping[str, tuple[str, str]]:
    """All sentences of ``files`` (name -> its ``SENTENCES``); raises ``ImportError`` on a code said twice."""
    merged: dict[str, tuple[str, str]] = {}
    said_in: dict[str, str] = {}
    for name, sentences in files.items():
        for code, pair in sentences.items():
            if code in merged:
                raise ImportError(f"code {code!r} has a sentence in {said_in[code]} and in {name}")
            merged[code], said_in[code] = pair, name
    return MappingProxyType(merged)


def files() -> dict[str, Mapping[str, tuple[str, str]]]:
    """Each file's ``SENTENCES``, by its name."""
    return {
        module.name: import_module(f"{__name__}.{module.name}").SENTENCES
        for module in pkgutil.iter_modules(__path__)
    }


@cache
def sentences() -> Mapping[str, tuple[str, str]]:
    """Every code's pair: what is wrong, what to do."""
    return merge(files())


def where(error: RamwrightError, language: str | None = None) -> str:
    """Where the error is: ``line 12, fall``, or one of the two, or ''."""
    if error.line is None:
        return error.field or ""
    template = WHERE["both" if error.field else "line"]
    values = {"line": error.line, "field": error.field}
    return fill(translate(template, language), values, "us", language)


def sentence(error: RamwrightError, system: System = "us", language: str | None = None) -> str:
    """The error as a person reads it: where it is, what is wrong, what to do.

    ``system`` gives the units of numbers in it; ``language`` None means the environment's. A code that
    has no sentence is shown as a developer sees it.
    """
    return _said(error, where(error, language), system, language)


def report(error: RamwrightError, system: System = "us", language: str | None = None) -> str:
    """Like ``sentence``; an error that holds several (``errors``) is followed by each of theirs."""
    several: tuple[RamwrightError, ...] = getattr(error, "errors", ())
    if not several:
        return sentence(error, system, language)
    return "\n".join(
        [_said(error, "", system, language), *(f"  {sentence(one, system, language)}" for one in several)]
    )


def _said(error: RamwrightError, place: str, system: System, language: str | None) -> str:
    pair = sentences().get(error.code)
    if pair is None:
        return RamwrightError.__str__(error)
    given = {"field": error.field, "value": error.value, "line": error.line}
    values = {
        name: translate(UNSAID[name], language) if value is None else value for name, value in given.items()
    } | error.details
    for name in _MEASURED:
        if values.get(name) in MEASURES:
            values[name] = translate(str(values[name]), language)
    wrong, to_do = (translate(part, language).strip().rstrip(".") for part in pair)
    if place:
        start = f"{place}: {fill(wrong, values, system, language)}."
    else:
        start = f"{_opening(wrong, values, system, language)}."
    return f"{start} {_opening(to_do, values, system, language)}." if to_do else start


def _opening(template: str, values: Mapping[str, object], system: System, language: str | None) -> str:
    """``template`` filled, as the start of a sentence; what the user typed keeps its case."""
    if not template.startswith("{"):
        template = template[:1].upper() + template[1:]
    return fill(template, values, system, language)
