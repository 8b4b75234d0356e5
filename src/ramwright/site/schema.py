"""The shape of a sheet as JSON Schema, for editors that check while one types."""

from __future__ import annotations

from typing import Any, Final

from ramwright.site.models import Site

FILE: Final = "sheet.schema.json"


def json_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of a sheet, made from the models."""
    schema = _tidy(Site.model_json_schema())
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "ramwright sheet", **schema}


def _tidy(node: Any) -> Any:
    """Without what TOML has no word for (null), and without names made up from names."""
    if isinstance(node, list):
        return [_tidy(item) for item in node]
    if isinstance(node, str):
        return node.replace("``", "")
    if not isinstance(node, dict):
        return node
    # a "title" that is a text is pydantic's; one that is a table would be an entry of that name
    kept = {
        key: _tidy(value)
        for key, value in node.items()
        if not (key == "title" and isinstance(value, str)) and (key, value) != ("default", None)
    }
    some = [one for one in kept.get("anyOf", []) if one != {"type": "null"}]
    if len(some) == 1:
        kept = {**some[0], **{key: value for key, value in kept.items() if key != "anyOf"}}
    return kept


def schema_text() -> str:
    """The schema as the shipped file holds it."""
    import json

    return json.dumps(json_schema(), indent=2, ensure_ascii=False) + "\n"


def shipped_schema_text() -> str:
    """The shipped file."""
    from importlib.resources import files

    return files("ramwright.site").joinpath(FILE).read_text(encoding="utf-8")
