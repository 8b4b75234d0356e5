"""``ramwright reduce`` and ``ramwright walk``: readable, for scripts, and clear about what is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from ramwright import cli
from ramwright.services.reduce_sheet import reduction_schema

EXAMPLES = Path(__file__).parents[2] / "examples"
BOOK = EXAMPLES / "field-book.toml"
NAMES = ("alder-fork", "field-book", "hoher-grund")


@pytest.mark.parametrize("name", NAMES)
def test_a_field_book_is_told(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["reduce", str(EXAMPLES / f"{name}.toml")]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert "Facts\n-----\n  Fall " in said.out
    assert said.out.endswith(".\n")


@pytest.mark.parametrize(("units", "shown"), [("us", " ft"), ("metric", " m ")])
def test_in_the_units_asked_for(units: str, shown: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["reduce", str(BOOK), "--units", units]) == 0
    (line,) = [line for line in capsys.readouterr().out.splitlines() if line.startswith("  Lift   ")][:1]
    assert shown in line


@pytest.mark.parametrize("name", NAMES)
def test_for_scripts_it_is_one_object_that_keeps_to_its_schema(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Numbers are SI whatever the units asked for; only sentences follow them."""
    jsonschema.Draft202012Validator.check_schema(reduction_schema())
    answers = []
    for units in ("us", "metric"):
        assert cli.run(["reduce", str(EXAMPLES / f"{name}.toml"), "--json", "--units", units]) == 0
        answers.append(json.loads(capsys.readouterr().out))
        jsonschema.validate(answers[-1], reduction_schema())
    us, metric = answers
    assert us["facts"] == metric["facts"]
    assert us["schema_version"] == 1
    for one in us["findings"]:
        assert one["title"]
        assert one["why"]


def test_the_object_says_what_the_page_says(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["reduce", str(BOOK), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    (book,) = answer["books"]
    assert abs(book["misclosure_m"]) < book["allowed_m"]
    rises = [row["rise_m"] for row in book["rows"][1:]]
    assert abs(sum(rises) - book["misclosure_m"]) < 1e-9, "out and back to the first point"
    legs = [leg for leg in answer["levels"]["legs"] if leg["run"] == "gauge"]
    assert abs(legs[0]["normalised"]) > 3.0
    assert {one["code"] for one in answer["findings"]} >= {"level_outlier", "misclosure_within"}
    creek = next(each for each in answer["flows"] if each["stage"] == "low")
    assert abs(sum(each["share"] for each in creek["gaugings"]) - 1.0) < 1e-9


def test_a_schema_that_would_take_anything_is_none() -> None:
    answer = {"schema_version": 1, "site": "x", "facts": {"fall_m": {"value": "high"}}}
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(answer, reduction_schema())


def test_the_walk_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["walk", str(BOOK), "--units", "us"]) == 0
    out = capsys.readouterr().out
    assert "beech pool - gravel bar" in out
    assert " ft" in out


BAD = {
    "no readings": ('[site]\nname = "x"\n', "reduce", "there are no readings on this sheet"),
    "no walk": ('[site]\nname = "x"\n', "walk", "this sheet has no walk"),
    "a slip in a row": (
        '[site]\nname = "x"\n[[visit]]\n[[visit.hose]]\nunit = "m"\nrows = [["a", "b", 1, "x"]]\n',
        "reduce",
        "line 6, visit[0].hose[0].rows[0].end_reading: ",
    ),
    "a slip of the book": (
        '[site]\nname = "x"\n[[visit]]\n[[visit.level_book]]\nunit = "m"\nrows = [\n["a", 1],\n["b", 1]]\n',
        "reduce",
        "line 8, visit[0].level_book[0].rows[1]: ",
    ),
}


@pytest.mark.parametrize("case", BAD)
@pytest.mark.parametrize("form", [[], ["--json"]])
def test_what_cannot_be_used_is_said_and_the_sheet_left_alone(
    case: str, form: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text, command, told = BAD[case]
    if command == "walk" and form:
        form = []
    sheet = tmp_path / "sheet.toml"
    sheet.write_text(text, encoding="utf-8")
    assert cli.run([command, str(sheet), *form]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert told in said.err
    assert sheet.read_text(encoding="utf-8") == text


def test_a_note_on_other_words_goes_to_standard_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = tmp_path / "sheet.toml"
    sheet.write_text(
        '[site]\nname = "x"\n[[visit]]\n[[visit.clinometer]]\nstart = "seat"\nend = "tank inlet"\n'
        'unit = "m"\nangle_unit = "deg"\nout = [[20, 10]]\n',
        encoding="utf-8",
    )
    assert cli.run(["reduce", str(sheet), "--json"]) == 0
    said = capsys.readouterr()
    assert "clinometer" in said.err
    assert json.loads(said.out)["facts"]["lift_m"]["value"] > 3.0
