"""Published tables to hold the catalogue against."""

from __future__ import annotations

import csv
from pathlib import Path

REFERENCE = Path(__file__).parents[1] / "reference"


def read_reference(name: str) -> list[dict[str, str]]:
    """Rows of ``tests/reference/catalogue_<name>.csv``; its first lines say where it comes from."""
    lines = (REFERENCE / f"catalogue_{name}.csv").read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("#")
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))
