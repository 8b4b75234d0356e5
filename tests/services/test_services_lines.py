"""What is found wrong after a sheet was read still names its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from ramwright.errors import InputError
from ramwright.site.where import entry_line, naming_lines

TEXT = """[facts]
head = "2 m"

[[supply_pipe]]
length = "1 m"
[[supply_pipe]]
length = "9 m"

[ram]
waste_valve = { stroke = "3 mm" }
"""


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "site.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("field", "line"),
    [
        ("facts.fall", 2),  # written in another word of the trade
        ("facts.lift", 1),  # not there: the section it belongs to
        ("drive_pipe[1].length", 7),
        ("drive_pipe[1].material", 6),
        ("drive_pipe", 4),
        ("ram.waste_valve.stroke", 10),
        ("delivery_line", None),
    ],
)
def test_an_entry_is_found_where_it_was_written(field: str, line: int | None, sheet: Path) -> None:
    assert entry_line(sheet, field) == line


def test_an_error_gets_its_line_and_keeps_one_it_has(sheet: Path) -> None:
    for given, line in ((None, 2), (77, 77)):
        with pytest.raises(InputError) as caught, naming_lines(sheet):
            raise InputError("facts_missing", field="facts.fall", line=given)
        assert caught.value.line == line


def test_a_sheet_that_cannot_be_read_again_gives_no_line(tmp_path: Path) -> None:
    assert entry_line(tmp_path / "gone.toml", "facts.fall") is None
    (tmp_path / "bad.toml").write_bytes(b"fall = \xff")
    assert entry_line(tmp_path / "bad.toml", "facts.fall") is None
