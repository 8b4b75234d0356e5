"""The tables of ``docs/sheet.md`` and ``docs/field-book-entries.md``, made from the models of the sheet.

Run as a script it writes them anew; a test fails when a page lags behind the models.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from tree import ROOT, text

from ramwright.site import json_schema

SHEET = ROOT / "docs" / "sheet.md"
BOOK = ROOT / "docs" / "field-book-entries.md"
PAGES = (SHEET, BOOK)
IN_BOOK = ("visit", "stage", "walk")
MARK = "<!-- From here on made by: python tests/project/sheet_page.py -->\n"
Schema = Mapping[str, Any]


def tables(page: Path) -> str:
    """A heading and a table for each section the page tells of, in the order of the sheet."""
    whole = json_schema()
    told: list[str] = []
    seen: dict[str, Schema] = {}
    for name, part, lead in _sections(whole, whole["$defs"], ""):
        if (re.findall(r"\w+", name)[0] in IN_BOOK) != (page == BOOK):
            continue
        same = next((other for other, known in seen.items() if known == part), None)
        seen[name] = part
        told.append(
            f"## `{name}`\n\n{lead} Entries as in `{same}`.\n"
            if same
            else _section(name, part, lead, whole["$defs"])
        )
    return "\n".join(told)


def made(page: Path) -> str:
    """The page as it should be: its own opening, then the tables."""
    opening, mark, _ = text(page).partition(MARK)
    assert mark, f"{page.name} lacks the line {MARK}"
    return f"{opening}{MARK}\n{tables(page)}"


def _sections(schema: Schema, parts: Schema, above: str) -> Iterator[tuple[str, Schema, str]]:
    for name, entry in schema["properties"].items():
        part = _part(entry, parts)
        if part is not None and "x-row" not in part:
            listed = entry.get("type") == "array"
            path = f"{above}{name}"
            yield f"[[{path}]]" if listed else f"[{path}]", part, entry.get("description", "")
            yield from _sections(part, parts, f"{path}.")


def _part(entry: Schema, parts: Schema) -> Schema | None:
    """The section an entry is, when it is one."""
    for one in (entry, *entry.get("anyOf", ()), entry.get("items", {})):
        if "$ref" in one:
            return dict(parts[one["$ref"].rpartition("/")[2]])
    return None


def _row_in(entry: Schema, parts: Schema) -> Schema:
    """An entry that is rows of a book, with its columns in place of what leads to them."""
    row = _part(entry, parts)
    if row is None or "x-row" not in row:
        return entry
    needed = len(row["anyOf"][1].get("required", ()))
    columns = [f"`{name}`" if i < needed else f"`{name}`?" for i, name in enumerate(row["x-row"])]
    return {"description": entry.get("description", ""), "columns": ", ".join(columns)}


def _section(name: str, part: Schema, lead: str, parts: Schema) -> str:
    told = re.sub(r"^``\[.*?\]``[:.]?\s*", "", part.get("description", "")).split("\n")[0]
    told = lead or (told[:1].upper() + told[1:])
    rows = [
        f"| `{entry}` | {described.get('description', '')} | {_written(entry, described, part)} |"
        for entry, described in ((name, _row_in(one, parts)) for name, one in part["properties"].items())
        if "$ref" not in str(described)
    ]
    lines = [f"## `{name}`", ""]
    lines += [told, ""] if told else []
    lines += ["| entry | what it is | written as |", "| --- | --- | --- |", *rows] if rows else []
    return "\n".join(lines).rstrip() + "\n"


def _written(entry: str, described: Schema, part: Schema) -> str:
    kinds = [one for one in described.get("anyOf", (described,)) if one.get("type") != "null"]
    ways = [way for kind in kinds for way in _ways(kind)]
    needed = " (needed)" if entry in part.get("required", ()) else ""
    return " or ".join(dict.fromkeys(ways)) + needed


def _ways(kind: Schema) -> Iterator[str]:
    if "columns" in kind:
        yield f"rows of {kind['columns']}"
    elif kind.get("type") == "array" and "examples" not in kind:
        yield "a list of readings: " + " or ".join(f"`{one}`" for one in kind["items"]["examples"])
    elif "enum" in kind or "const" in kind:
        yield from (f"`{word}`" for word in kind.get("enum", [kind.get("const")]))
    elif "examples" in kind:
        yield from (f"`{example}`" for example in kind["examples"])
    else:
        yield {"boolean": "`true` or `false`", "integer": "a whole number", "string": "text"}[kind["type"]]


if __name__ == "__main__":
    for each in PAGES:
        each.write_text(made(each), encoding="utf-8")
