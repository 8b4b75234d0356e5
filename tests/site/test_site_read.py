"""Reading a sheet: what is understood, files of every kind, and errors told together."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from ramwright.errors import InputError
from ramwright.site import (
    SheetErrors,
    Site,
    facts_complete,
    read_sheet,
    read_sheet_bytes,
    read_sheet_text,
    site_from_entries,
)
from ramwright.wording.errors import report, sentence

FT, IN = 0.3048, 0.0254
PLACE = '[site]\nname = "Test"\n'


def test_readings_are_kept_as_typed_with_their_value() -> None:
    """Six feet five and a half inches, give or take two inches."""
    site = read_sheet_text(PLACE + '[facts]\nfall = "6 ft 5 1/2 in ± 2 in"\nlift = "20 psi"\n', "t")
    assert site.facts is not None
    assert site.facts.fall is not None
    assert site.facts.lift is not None
    assert site.facts.fall.text == "6 ft 5 1/2 in ± 2 in"
    assert site.facts.fall.value == pytest.approx(6 * FT + 5.5 * IN)
    assert site.facts.fall.sd == pytest.approx(2 * IN)
    # 2.31 ft of water = 1 psi (British Columbia factsheet 590.304-5, 2006, read)
    assert site.facts.lift.value == pytest.approx(20 * 2.31 * FT, rel=2e-3)


def test_what_is_not_said_is_none() -> None:
    """No default is invented by the sheet."""
    site = read_sheet_text(PLACE, "t")
    assert (site.facts, site.ram, site.air_vessel, site.drive_pipe) == (None, None, None, ())
    site = read_sheet_text(PLACE + "[facts]\n[ram]\n[air_vessel]\n", "t")
    for part in (site.facts, site.ram, site.air_vessel):
        assert part is not None
        assert set(part.model_dump().values()) == {None}


def test_pipes_by_name_and_by_measure() -> None:
    """A catalogue text is split at its last comma; measures stand for themselves."""
    text = PLACE + (
        '[[drive_pipe]]\npipe = "steel, schedule 40, 2 in"\nlength = "12 m"\nbends_45 = 2\n'
        '[[drive_pipe]]\nbore = "52 mm"\nwall = "4 mm"\nmaterial = "steel"\n'
        'length = "1 m"\nfree_air = "0.1 %"\n'
    )
    first, second = read_sheet_text(text, "t").drive_pipe
    assert (first.series, first.size, first.bends_45) == ("steel, schedule 40", "2 in", 2)
    assert (second.series, second.size, second.material) == (None, None, "steel")
    assert second.free_air is not None
    assert second.free_air.value == pytest.approx(0.001)


def test_special_ways_of_writing() -> None:
    """A stroke to be tuned, a nominal size, a day's volume, choices in any case."""
    text = PLACE + (
        'units = "Metric"\n[facts]\ndemand_per_day = "864 L"\n[ram]\nsize = "DN 32"\n'
        '[ram.waste_valve]\nstroke = "Tune"\nkind = "swing-check"\n[ram.delivery_valve]\nloss = 2.5\n'
    )
    site = read_sheet_text(text, "t")
    assert site.site.units == "metric"
    assert site.facts is not None
    assert site.facts.demand_per_day is not None
    assert site.facts.demand_per_day.value == pytest.approx(1e-5)
    assert site.ram is not None
    assert site.ram.size is not None
    assert site.ram.size.value == pytest.approx(0.032)
    assert site.ram.waste_valve is not None
    assert (site.ram.waste_valve.stroke, site.ram.waste_valve.kind) == ("tune", "swing check")
    assert site.ram.delivery_valve is not None
    assert site.ram.delivery_valve.loss is not None
    assert site.ram.delivery_valve.loss.text == "2.5"


def test_everything_wrong_is_told_at_once_in_order_of_lines() -> None:
    """And the report has a line for each."""
    text = PLACE + '[facts]\nsource_flow = "x"\nfall = "6"\nbogus = 1\n[[drive_pipe]]\nlength = "-1 m"\n'
    with pytest.raises(SheetErrors) as caught:
        read_sheet_text(text, "creek.toml")
    errors = caught.value.errors
    assert [(e.line, e.code) for e in errors] == [
        (4, "bad_number"),
        (5, "missing_unit"),
        (6, "unknown_entry"),
        (8, "must_be_positive"),
    ]
    assert caught.value.details["count"] == 4
    said = report(caught.value, "us", "en").splitlines()
    assert len(said) == 5
    assert "creek.toml" in said[0]
    assert said[2].startswith("  line 5, facts.fall:")


def test_many_errors_are_cut_but_counted() -> None:
    """Fifty at a time are enough to mend."""
    text = PLACE + "[facts]\n" + "".join(f"q{i} = 1\n" for i in range(300))
    with pytest.raises(SheetErrors) as caught:
        read_sheet_text(text, "t")
    assert len(caught.value.errors) == 50
    assert caught.value.details["count"] == 300
    assert "300" in report(caught.value, "us", "en").splitlines()[0]


def test_files(tmp_path: Path) -> None:
    """A good one with a byte-order mark and Windows line ends; none; a folder; too large; other encodings."""
    good = tmp_path / "good.toml"
    good.write_bytes(b"\xef\xbb\xbf" + PLACE.replace("\n", "\r\n").encode())
    assert read_sheet(good).site.name == "Test"
    cases = {
        "latin.toml": (PLACE + 'notes = "\nfall = "6 ft ± 1 in"').encode("latin-1"),
        "wide.toml": PLACE.encode("utf-16"),
        "large.toml": b"# " + b"x" * 1_000_000,
    }
    codes = {}
    for name, data in cases.items():
        (tmp_path / name).write_bytes(data)
        with pytest.raises(InputError) as caught:
            read_sheet(tmp_path / name)
        codes[name] = (caught.value.code, caught.value.line)
    assert codes == {
        "latin.toml": ("sheet_not_utf8", 4),
        "wide.toml": ("sheet_utf16", None),
        "large.toml": ("sheet_too_large", None),
    }
    for path, code in (
        (tmp_path / "none.toml", "sheet_missing"),
        (tmp_path, "sheet_unreadable"),
        ("a\0b", "sheet_unreadable"),
    ):
        with pytest.raises(InputError) as caught:
            read_sheet(path)
        assert caught.value.code == code
        assert "?" not in sentence(caught.value, "us", "en")


def test_a_huge_file_is_not_read_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Fifty megabytes (a hole in the file): no more than the limit and one byte are asked for."""
    huge = tmp_path / "huge.toml"
    with huge.open("wb") as file:
        os.truncate(file.fileno(), 50_000_000)
    seen: list[int] = []

    def note(data: bytes, _name: str) -> Site:
        seen.append(len(data))
        return site_from_entries({"site": {"name": "stub"}})

    monkeypatch.setattr("ramwright.site.read.read_sheet_bytes", note)
    read_sheet(huge)
    assert seen == [1_000_001]
    with pytest.raises(InputError) as caught:
        read_sheet_bytes(b"\0" * seen[0], "huge")
    assert caught.value.code == "sheet_too_large"
    with pytest.raises(InputError) as caught:
        read_sheet_text("#" + "é" * 500_000, "huge")
    assert caught.value.code == "sheet_too_large"


def test_entries_of_a_form_are_checked_in_the_same_way() -> None:
    """No text, hence no lines, but the same codes and fields."""
    site = site_from_entries({"site": {"name": "Test"}, "facts": {"fall": "6 ft"}})
    assert site == read_sheet_text(PLACE + '[facts]\nfall = "6 ft"', "t")
    with pytest.raises(SheetErrors) as caught:
        site_from_entries({"site": {"name": "Half \ud83d"}, "facts": {"fall": "6"}})
    errors = {e.field: (e.code, e.line) for e in caught.value.errors}
    assert errors == {"site.name": ("text_unwritable", None), "facts.fall": ("missing_unit", None)}
    too_many = [{"pipe": "a, b", "length": "1 m"}] * 101
    with pytest.raises(SheetErrors) as caught:
        site_from_entries({"site": {"name": "T"}, "drive_pipe": too_many})
    assert [e.code for e in caught.value.errors] == ["too_many_pieces"]
    with pytest.raises(SheetErrors) as caught:
        site_from_entries({"site": {"name": "T"}, "drive_pipe": "steel, 2 in"})
    assert [e.code for e in caught.value.errors] == ["wrong_type_pieces"]


def test_which_facts_are_missing() -> None:
    """Named together, in the order they are measured."""
    for facts, missing in (
        ("", ("fall", "lift", "source_flow")),
        ('[facts]\nlift = "45 ft"', ("fall", "source_flow")),
    ):
        with pytest.raises(InputError) as caught:
            facts_complete(read_sheet_text(PLACE + facts, "t"))
        assert (caught.value.code, caught.value.details["missing"]) == ("facts_missing", missing)
    facts_complete(
        read_sheet_text(PLACE + '[facts]\nfall = "6 ft"\nlift = "45 ft"\nsource_flow = "9 gpm"', "t")
    )


def test_a_site_cannot_be_changed() -> None:
    """Frozen all the way down, and usable as a key."""
    site = read_sheet_text(PLACE + '[facts]\nfall = "6 ft"', "t")
    with pytest.raises(ValueError, match="frozen"):
        site.site = None  # type: ignore[assignment]
    assert site.facts is not None
    with pytest.raises(ValueError, match="frozen"):
        site.facts.fall = None
    assert {site: 1}[Site.model_validate(site.model_dump())] == 1
    assert site != "site"
