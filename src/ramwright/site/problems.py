"""From what is wrong with a sheet to errors with a field, the value as typed and a line."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any, Final, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from ramwright.errors import InputError
from ramwright.site.fields import MOST_ROWS, RefusedError
from ramwright.site.lines import Path
from ramwright.site.models import Site
from ramwright.site.words import SYNONYMS, Ours, dotted

MOST_ERRORS: Final = 50
"""Errors reported at once; after that many, mending comes first."""
_LONGEST_VALUE: Final = 80
# pydantic's kind of error -> our code, where nothing more is to be said
_CODES: Final = {
    "bool_type": "wrong_type_yes_no",
    "string_type": "wrong_type_text",
    "string_pattern_mismatch": "text_empty",
    "string_unicode": "text_unwritable",
    "string_too_short": "text_empty",
    "int_type": "wrong_type_count",
    "model_type": "wrong_type_section",
    "model_attributes_type": "wrong_type_section",
    "tuple_type": "wrong_type_pieces",
    "missing": "entry_missing",
}

_ROW_CODES: Final = {
    "too_long": "too_many_rows",
    "too_short": "too_few_rows",
    "tuple_type": "wrong_type_rows",
}


class SheetErrors(InputError):  # noqa: N818  # many errors in one
    """Everything found wrong in one sheet: ``errors`` by line, ``count`` of all (some may not be listed)."""

    def __init__(
        self, code: str, *, errors: tuple[InputError, ...], sheet: str, count: int | None = None
    ) -> None:
        self.errors = errors
        self.sheet = sheet
        total = len(errors) if count is None else count
        super().__init__(code, line=errors[0].line, sheet=sheet, count=total)

    def __str__(self) -> str:
        """Developer's view: every error on a line of its own."""
        return "\n".join([super().__str__(), *(f"  {error}" for error in self.errors)])


def gather(found: ValidationError, ours: Ours, sheet: str) -> SheetErrors:
    """All of pydantic's complaints and those of the words, as one error, in the order of the lines."""
    raw = _without_echoes(found.errors(include_url=False))
    errors = [*ours.errors, *(_error(one, ours) for one in raw[:MOST_ERRORS])]
    return together(errors, sheet, count=len(ours.errors) + len(raw))


def _without_echoes(raw: list[ErrorDetails]) -> list[ErrorDetails]:
    """Pydantic counts only good rows, and says that there are too few where some of them are wrong."""
    wrong = [one["loc"] for one in raw]
    return [
        one
        for one in raw
        if one["type"] != "too_short"
        or not any(loc[: len(one["loc"])] == one["loc"] for loc in wrong if loc != one["loc"])
    ]


def together(errors: list[InputError], sheet: str, *, count: int | None = None) -> SheetErrors:
    """``errors`` as one, in the order of their lines."""
    ordered = sorted(errors, key=lambda e: (e.line or 0, e.field or ""))
    return SheetErrors(
        "sheet_errors", errors=tuple(ordered[:MOST_ERRORS]), sheet=sheet, count=count or len(errors)
    )


def _error(one: ErrorDetails, ours: Ours) -> InputError:
    """One complaint of pydantic as an ``InputError``."""
    path: Path = tuple(one["loc"])
    kind, given = one["type"], one["input"]
    details: Mapping[str, Any] = one.get("ctx", {})
    refused = details.get("error")
    if isinstance(refused, RefusedError):
        error = refused.error
        path = (*path, *refused.at)
        value = given if error.value is None and not isinstance(given, dict) else error.value
        return InputError(
            error.code, field=dotted(path), value=_short(value), line=ours.line(path), **error.details
        )
    at: dict[str, Any] = {"field": dotted(path), "value": _short(given), "line": ours.line(path)}
    if kind == "extra_forbidden":
        return _unknown(path, at["line"])
    if kind == "literal_error":
        return InputError("not_one_of", **at, allowed=_allowed(path))
    if kind in ("greater_than_equal", "less_than_equal"):
        low, high = _count_range(path)
        return InputError("count_out_of_range", **at, low=low, high=high)
    if kind == "string_too_long":
        return InputError("text_too_long", **at, most=details.get("max_length", 0))
    if kind in _ROW_CODES and path[0] in ("visit", "stage", "walk"):
        at["value"] = None
        most, least = details.get("max_length", 0), details.get("min_length", 0)
        return InputError(_ROW_CODES[kind], **at, most=most, least=least)
    if kind in ("too_long", "tuple_type") and path[-1] == "rows":
        at["value"] = None
        return InputError("profile_too_long" if kind == "too_long" else "profile_rows", **at, most=MOST_ROWS)
    if kind == "too_long":
        at["value"] = None
        return InputError("too_many_pieces", **at, most=details.get("max_length", 0))
    if kind == "missing":
        at["value"] = None
        return InputError("entry_missing", **at, entry=str(path[-1]))
    return InputError(_CODES.get(kind, "wrong_entry"), **at)


def _short(value: object) -> object:
    """A value as typed, cut to a length that can be shown; tables and lists are not."""
    if value is None or isinstance(value, dict | list | tuple):
        return None
    if isinstance(value, bool):
        return "true" if value else "false"
    try:
        text = str(value)
    except ValueError:  # an integer of thousands of digits
        return None
    return text if len(text) <= _LONGEST_VALUE else text[: _LONGEST_VALUE - 1] + "…"


@cache
def sections() -> dict[str, type[BaseModel]]:
    """Every section of a sheet by its dotted name ("" for the sheet itself), with its model."""
    found: dict[str, type[BaseModel]] = {}

    def walk(name: str, model: type[BaseModel]) -> None:
        found[name] = model
        for entry, info in model.model_fields.items():
            inside = _model_in(info.annotation)
            if inside is not None:
                walk(f"{name}.{entry}" if name else entry, inside)

    walk("", Site)
    return found


def _model_in(annotation: Any) -> type[BaseModel] | None:
    """The part a field holds: itself, or None, or several."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((m for a in get_args(annotation) if (m := _model_in(a)) is not None), None)


def _section(path: Path) -> str:
    """Dotted name of the section ``path`` leads to, list indices left out."""
    return ".".join(str(part) for part in path if not isinstance(part, int))


def _count_range(path: Path) -> tuple[int, int]:
    """Least and greatest number a count may be."""
    model = sections()[_section(path[:-1])]
    found: dict[str, int] = {}

    def walk(annotation: Any) -> None:
        for mark in (*getattr(annotation, "__metadata__", ()), *get_args(annotation)):
            for limit in (mark, *getattr(mark, "metadata", ())):
                found.update({n: getattr(limit, n) for n in ("ge", "le") if hasattr(limit, n)})
            walk(mark)

    field = model.model_fields[str(path[-1])]
    walk(Annotated[field.annotation, *field.metadata, None])
    return found.get("ge", 0), found.get("le", 0)


def _allowed(path: Path) -> tuple[str, ...]:
    """Words a choice may be."""
    model = sections()[_section(path[:-1])]
    words: list[str] = []

    def walk(annotation: Any) -> None:
        for a in get_args(annotation):
            if isinstance(a, str | int):
                words.append(str(a))
            else:
                walk(a)

    walk(model.model_fields[str(path[-1])].annotation)
    return tuple(words)


def _unknown(path: Path, line: int | None) -> InputError:
    """A name no section has: with the nearest name, or the section that has it, or all names here."""
    from difflib import get_close_matches

    section, name = _section(path[:-1]), str(path[-1])[:60]
    here = {entry: entry for entry in sections()[section].model_fields} | SYNONYMS.get(section, {})
    at: dict[str, Any] = {"field": dotted((*path[:-1], name)), "line": line}
    near = get_close_matches(name, list(here), n=1, cutoff=0.7)
    if near:
        return InputError("unknown_entry_close", **at, entry=name, closest=here[near[0]])
    for other, model in sections().items():
        ours = SYNONYMS.get(other, {}).get(name, name)
        if ours in model.model_fields:
            where = f"{other}.{ours}" if other else ours
            return InputError("unknown_entry_elsewhere", **at, entry=name, closest=where)
    allowed = tuple(sections()[section].model_fields)
    return InputError("unknown_entry", **at, entry=name, allowed=allowed)
