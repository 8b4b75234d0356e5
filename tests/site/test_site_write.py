"""Writing a sheet and reading it back."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any, cast, get_args

from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel

from ramwright.quantities import KINDS, Kind, Reading, System, parse_reading, show
from ramwright.site import (
    AirVessel,
    DriveTank,
    Facts,
    Intake,
    Pipe,
    Route,
    Site,
    Snifter,
    read_sheet,
    read_sheet_text,
    site_from_entries,
    write_sheet,
)
from ramwright.site.booked import BLANKS, RowPart, UnitOf
from ramwright.site.fields import Choice, Quantity
from ramwright.site.level_models import HandLevelRun
from ramwright.site.listed import DateText, Listed, Word
from ramwright.site.points import Standing
from ramwright.site.problems import sections
from ramwright.site.ranges import bounds
from ramwright.site.visit_models import Visit


def _whole(text: str) -> bool:
    """No half letters, which no file can hold."""
    return not any("\ud800" <= letter <= "\udfff" for letter in text)


WORDS = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=30).filter(
    lambda text: text.strip() and text.strip() not in BLANKS
)


def _readings(quantity: Quantity, *, spreads: bool = True) -> st.SearchStrategy[str]:
    """Readings of one entry, within its plausible range, as they are printed and with odd blanks."""
    limits = bounds(quantity.limits, quantity.kind)
    assert limits.low is not None
    assert limits.high is not None
    low, width = limits.low, limits.high - limits.low

    def typed(share: float, system: System, spread: float | None, blank: str) -> str:
        sd = None if spread is None else spread * width * share
        return blank + show(low + share * width, quantity.kind, system, sd=sd).replace(" ±", blank + " ±")

    texts = st.builds(
        typed,
        st.floats(min_value=0.1, max_value=0.8),  # a rounding at the edge would step over it
        st.sampled_from(get_args(System)),
        st.sampled_from([None, 0.01, 0.1] if spreads else [None]),
        st.sampled_from(["", " "]),
    )
    return st.one_of(texts, st.just(quantity.word)) if quantity.word else texts


NAMED: dict[type, Callable[[Any], list[str]]] = {
    Standing: lambda _: ["ram, seat", "Drive tank: water", "TP 3", "peg\n'1\"", "intake, water, dam out"],
    Word: lambda mark: [mark.ours[0], mark.words[-1].rpartition("|")[2].upper()],
    Listed: lambda mark: list(mark.examples),
    DateText: lambda _: ["2024-02-29"],
    UnitOf: lambda mark: [example.rpartition(" ")[2] for example in KINDS[cast(Kind, mark.kind)].examples],
}
"""Entries that are one of many words: some of them."""
NUMBERS = st.one_of(st.integers(-5000, 5000), st.floats(-5000.0, 5000.0))
ROWS = st.one_of(
    st.tuples(NUMBERS, NUMBERS), st.tuples(NUMBERS, NUMBERS, st.text(max_size=20).filter(_whole))
)


def _forwards(rows: list[tuple[Any, ...]]) -> list[list[Any]]:
    """Rows with stations that rise."""
    return [[20_000 * i + row[0], *row[1:]] for i, row in enumerate(rows)]


def _entries(model: type[BaseModel]) -> st.SearchStrategy[dict[str, Any]]:
    """Any entries a part may have, but for those that exclude each other."""
    needed: dict[str, st.SearchStrategy[Any]] = {}
    maybe: dict[str, st.SearchStrategy[Any]] = {}
    spreads = not issubclass(model, RowPart) or model.single
    for name, info in model.model_fields.items():
        entry = _entry(info.annotation, info.metadata, spreads=spreads)
        (needed if info.is_required() else maybe)[name] = entry
    if model is Visit:  # a few of its many kinds of reading at a time
        some = st.lists(st.sampled_from(sorted(maybe)), max_size=3, unique=True)
        return some.flatmap(lambda names: st.fixed_dictionaries({name: maybe[name] for name in names}))
    return st.fixed_dictionaries(needed, optional=maybe).map(lambda entries: _possible(model, entries))


def _entry(annotation: Any, metadata: list[Any], *, spreads: bool = True) -> st.SearchStrategy[Any]:
    """What one entry may be, from how its field is marked."""
    marks = [*metadata, *getattr(annotation, "__metadata__", ())]
    inner = [a for a in get_args(annotation) if a is not type(None)]
    for mark in marks:
        if isinstance(mark, Quantity):
            return _readings(mark, spreads=spreads)
        if type(mark) in NAMED:
            return st.sampled_from(NAMED[type(mark)](mark))
        if isinstance(mark, Choice):
            return st.sampled_from(_texts(annotation))
    if annotation == Route.model_fields["rows"].annotation:
        return st.lists(ROWS, min_size=2, max_size=4).map(_forwards)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return _entries(annotation)
    if get_args(annotation)[1:] == (...,):
        least = max((getattr(mark, "min_length", 0) or 0 for mark in marks), default=0)
        return st.lists(_entry(inner[0], [], spreads=False), min_size=least, max_size=3)
    if annotation in (bool, int, str):
        return {bool: st.booleans(), int: st.integers(1, 20), str: WORDS}[annotation]
    return _entry(inner[0], marks, spreads=spreads) if inner and inner != [1] else st.just(1)


def _texts(annotation: Any) -> list[str]:
    """Words of a ``Literal`` in an annotation."""
    return [t for a in get_args(annotation) for t in ([a] if isinstance(a, str) else _texts(a))]


def _possible(model: type[BaseModel], entries: dict[str, Any]) -> dict[str, Any]:
    """``entries`` without those that another of them excludes."""
    out: tuple[str, ...] = ()
    if model is Facts and {"fall", "lift"} <= set(entries):
        fall, lift = (parse_reading(entries[name], "head").value for name in ("fall", "lift"))
        out = ("fall",) if lift <= fall else ()
    if model is Pipe and "bore" in entries:
        out = ("pipe",)
    elif model is Pipe:
        out = ("wall", "material", "roughness")
        entries["pipe"] = "PVC, schedule 40, 2 in"
    if model is DriveTank:
        measured = "plan_area" in entries or "diameter" in entries
        out = ("diameter",) if "plan_area" in entries else ()
        out = (*out, "volume") if measured or "height" not in entries else out
        out = (*out, "cover") if "height" in entries.get("overflow", {}) else out
    if model is Snifter and entries.get("fitted") is False:
        out = ("diameter", "height")
    if model is Intake:
        out = (
            ("blocked_share", "blocked_after")
            if len({"blocked_share", "blocked_after"} & set(entries)) == 1
            else ()
        )
        out = (*out, "open_area") if {"open_share", "holes"} & set(entries) else out
        out = out if "screen_area" in entries else (*out, "open_share")
        out = out if "opening" in entries else (*out, "holes")
    if model is Route:
        out = ("file",) if entries.setdefault("rows", [[0, 1], [2, 3]]) else ()
        entries.setdefault("unit", "ft")
    if model is Site and entries.get("drive_pipe_support", {}).get("held"):
        entries.get("ram", {}).pop("mount", None)
    if "contractions" in entries:
        entries["contractions"] %= 3
    if model is HandLevelRun:
        out = ("out",) if entries.get("steps") else ("steps", "last_reading")
        if not entries.get("steps"):
            entries["out"] = entries.get("out") or [["", "12 m"], ["1.2 m"]]
    if model is AirVessel:
        out = ("precharge",) if entries.get("kind") == "plain" else ()
        if "volume" in entries or ("height" in entries) != ("diameter" in entries):
            out = (*out, "height", "diameter")
    return {name: value for name, value in entries.items() if name not in out}


SITES = _entries(Site).map(site_from_entries)


@given(site=SITES)
def test_what_is_written_reads_back_equal(site: Site) -> None:
    """Every entry, whatever was typed; and writing again gives the same text."""
    text = write_sheet(site)
    again = read_sheet_text(text, "t")
    assert again == site
    assert write_sheet(again) == text
    assert Site.model_validate(site.model_dump()) == site


@given(name=WORDS, notes=st.text(max_size=200).filter(_whole))
def test_any_text_survives(name: str, notes: str) -> None:
    """Quotes, backslashes, control characters, line ends of every kind."""
    site = site_from_entries({"site": {"name": name, "notes": notes}})
    again = read_sheet_text(write_sheet(site), "t")
    assert (again.site.name, again.site.notes) == (name, notes)


def test_the_same_words_in_the_same_order() -> None:
    """Written in the order of the models, whatever the order was; counts and yes-or-no without quotes."""
    text = (
        "[tank]\ntop_inlet = true\n[[delivery_line]]\nlength = '90 m'\npipe = 'PE, 32 mm'\nbends_90 = 2\n"
        '[ram.waste_valve]\nstroke = "TUNE"\n[site]\nname = \'say "hi"\'\nnotes = "a\\nb"\n'
    )
    assert write_sheet(read_sheet_text(text, "t")) == (
        'schema_version = 1\n\n[site]\nname = "say \\"hi\\""\nnotes = """\na\nb"""\n\n[ram]\n\n'
        '[ram.waste_valve]\nstroke = "tune"\n\n[[delivery_line]]\npipe = "PE, 32 mm"\nlength = "90 m"\n'
        "bends_90 = 2\n\n[tank]\ntop_inlet = true\n"
    )


def test_every_range_is_used_and_reads_in_its_kind() -> None:
    """The table of plausible ranges against the entries: none missing, none idle, all the right way round."""
    used: dict[str, str] = {}
    for model in sections().values():
        for info in model.model_fields.values():
            for mark in _marks(info.annotation, info.metadata):
                limits = bounds(mark.limits, mark.kind)
                assert limits.low is not None
                assert limits.high is not None
                assert limits.low < limits.high
                used[mark.limits] = mark.kind
    from ramwright.site.ranges import _rows

    assert set(used) == set(_rows())
    assert set(used.values()) <= set(KINDS)


def _marks(annotation: Any, metadata: Any) -> list[Quantity]:
    own = [m for m in (*metadata, *getattr(annotation, "__metadata__", ())) if isinstance(m, Quantity)]
    return [*own, *(m for a in get_args(annotation) if a is not Reading for m in _marks(a, ()))]


def test_a_profile_is_written_a_row_a_line_and_reads_back() -> None:
    """Whole numbers stay whole; labels keep every letter."""
    rows = [[0, 12.5, 'by the "old" ash'], [80.25, 11], [1e6, -0.5]]
    profile = {"delivery_line": {"unit": "ft", "rows": rows}}
    text = write_sheet(site_from_entries({"site": {"name": "T"}, "profiles": profile}))
    assert text.endswith(
        '[profiles.delivery_line]\nunit = "ft"\nrows = [\n  [0, 12.5, "by the \\"old\\" ash"],\n'
        "  [80.25, 11],\n  [1000000.0, -0.5],\n]\n"
    )
    assert tomllib.loads(text)["profiles"]["delivery_line"]["rows"] == rows
    assert write_sheet(read_sheet_text(text, "t")) == text


def test_a_sheet_knows_the_folder_it_was_read_from(tmp_path: Path) -> None:
    """Profile files lie there; a text that never was a file has none."""
    sheet = tmp_path / "s.toml"
    sheet.write_text('[site]\nname = "T"\n', encoding="utf-8")
    assert read_sheet(sheet).folder == str(tmp_path)
    assert read_sheet_text('[site]\nname = "T"\n', "s.toml").folder is None
    assert read_sheet(sheet) == read_sheet_text('[site]\nname = "T"\n', "s.toml")


def test_written_sheets_are_plain_toml() -> None:
    """The standard reader alone gives the texts as typed."""
    site = site_from_entries({"site": {"name": "T"}, "facts": {"fall": " 6 ft ± 1 in "}})
    assert tomllib.loads(write_sheet(site))["facts"]["fall"] == " 6 ft ± 1 in "
