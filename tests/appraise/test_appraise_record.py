"""Every default an appraisal takes is on record with its mark and has a name; what is typed is never one."""

from __future__ import annotations

import ast
import math
from pathlib import Path
from typing import Any

import pytest
from appraise_sheets import BARE, FULL, example, merged, sheet

from ramwright import appraise
from ramwright.appraise import Assumption, install
from ramwright.catalogue import Mark
from ramwright.errors import InputError
from ramwright.site import Site, site_from_entries
from ramwright.wording import answer
from ramwright.wording.errors import sentence, sentences

MEASURED = {"bore": "50 mm", "material": "steel", "length": "12 m"}
SHEETS: dict[str, dict[str, Any]] = {
    "bare": BARE,
    "swing check": merged(BARE, {"ram": {"waste_valve": {"kind": "swing check"}}}),
    "bladder": merged(BARE, {"air_vessel": {"kind": "bladder"}}),
    "measured pipe": merged(BARE, {"drive_pipe": [MEASURED], "delivery_line": [MEASURED, MEASURED]}),
    "not held": merged(BARE, {"drive_pipe_support": {"held": False}}),
    "supply line": merged(
        BARE,
        {
            "supply_line": [MEASURED],
            "profiles": {"supply_line": {"unit": "m", "rows": [[0, 1.0], [12, 0.0]]}},
        },
    ),
    "weighed valve": merged(BARE, {"ram": {"waste_valve": {"moving_mass": "500 g"}}}),
    **{kind: merged(BARE, {"drive_tank": {"kind": kind}}) for kind in ("drum", "bucket", "box", "standpipe")},
}
"""Sheets that between them leave everything unsaid that can be."""


def recorded(entries: dict[str, Any]) -> tuple[Assumption, ...]:
    return install(site_from_entries(entries)).assumptions


def last_part(name: ast.expr) -> str | None:
    """Last part of an entry's name as written in the source: text, or text after a blank."""
    match name:
        case ast.Constant(value=str(text)):
            return text.rpartition(".")[2]
        case ast.JoinedStr(values=[*_, ast.Constant(value=str(text))]):
            return text.rpartition(".")[2]
    return None


def entries_in_the_source() -> set[str]:
    """Last part of every entry that the source hands to the ledger."""
    found: set[str | None] = set()
    for path in Path(appraise.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            match node:
                case ast.Call(func=ast.Attribute(value=ast.Name(id="ledger"), attr="take"), args=[name, *_]):
                    found.add(last_part(name))
                case ast.Call(
                    func=ast.Attribute(value=ast.Name(id="ledger"), attr="reading"), args=[_, name, *_]
                ):
                    found.add(last_part(name))
                case ast.Call(func=ast.Name(id="Assumption"), args=[ast.Name(id="name"), *_]):
                    pass  # the ledger itself
                case ast.Call(func=ast.Name(id="Assumption"), args=[name, *_]):
                    found.add(last_part(name))
    assert None not in found, "write the entry's name out where it is taken"
    return {name for name in found if name is not None}


def test_the_sheets_here_leave_all_unsaid_that_the_source_can_take() -> None:
    fields = {a.field.rpartition(".")[2] for entries in SHEETS.values() for a in recorded(entries)}
    assert fields == entries_in_the_source()


def test_every_assumption_has_a_name_and_no_name_is_left_over() -> None:
    fields = {a.field for entries in SHEETS.values() for a in recorded(entries)}
    for field in fields:
        name = answer.entry_name(field)
        assert name[0].islower() or name.startswith("D'"), field
        assert "_" not in name, field
    assert set(answer.NAMES) <= fields


@pytest.mark.parametrize("name", SHEETS)
def test_every_assumption_is_a_number_with_a_mark(name: str) -> None:
    for taken in recorded(SHEETS[name]):
        assert math.isfinite(taken.value), taken
        assert isinstance(taken.mark, Mark), taken
    fields = [taken.field for taken in recorded(SHEETS[name])]
    assert len(fields) == len(set(fields))


def typed(site: Site) -> set[str]:
    """Dotted names of everything that stands on a sheet."""
    found: set[str] = set()

    def walk(value: Any, name: str) -> None:
        if isinstance(value, dict):
            for key, inner in value.items():
                walk(inner, f"{name}.{key}" if name else key)
        elif isinstance(value, list | tuple):
            for k, inner in enumerate(value):
                walk(inner, f"{name}[{k}]")
        elif value is not None:
            found.add(name)

    walk(site.model_dump(), "")
    return found


@pytest.mark.parametrize(
    "site",
    [
        *(pytest.param(example(name), id=name) for name in ("alder-fork", "hoher-grund")),
        *(pytest.param(site_from_entries(entries), id=name) for name, entries in SHEETS.items()),
    ],
)
def test_nothing_typed_is_taken(site: Site) -> None:
    assert typed(site) & {a.field for a in install(site).assumptions} == set()


def test_a_sheet_that_says_everything_leaves_nothing_to_take() -> None:
    assert install(sheet(FULL)).assumptions == ()


@pytest.mark.parametrize(
    ("base", "field", "changes"),
    [
        ("bare", "site.water_temperature", {"site": {"water_temperature": "7 C"}}),
        ("bare", "site.altitude", {"site": {"altitude": "1200 m"}}),
        ("bare", "drive_tank.entrance", {"drive_tank": {"entrance": "projecting"}}),
        ("bare", "drive_tank.plan_area", {"drive_tank": {"plan_area": "2 m2"}}),
        ("bare", "drive_tank.plan_area", {"drive_tank": {"diameter": "50 cm"}}),
        ("bare", "drive_tank.plan_area", {"drive_tank": {"kind": "none"}}),
        ("bare", "drive_tank.cover", {"drive_tank": {"cover": "10 cm"}}),
        ("bare", "air_vessel.volume", {"air_vessel": {"volume": "20 L"}}),
        ("bare", "air_vessel.volume", {"air_vessel": {"diameter": "100 mm", "height": "60 cm"}}),
        ("bare", "air_vessel.air_share", {"air_vessel": {"kind": "bladder", "precharge": "1 bar"}}),
        ("bare", "ram.snifter.diameter", {"ram": {"snifter": {"diameter": "1.9 mm"}}}),
        ("bare", "ram.delivery_valve.lag", {"ram": {"delivery_valve": {"lag": "9 ms"}}}),
        ("bare", "ram.delivery_valve.leak", {"ram": {"delivery_valve": {"leak": "1 %"}}}),
        ("bare", "ram.waste_valve.leak", {"ram": {"waste_valve": {"leak": "1 %"}}}),
        ("supply line", "intake.cover", {"intake": {"cover": "20 cm"}}),
        ("supply line", "intake.kind", {"intake": {"kind": "strainer"}}),
        ("bare", "ram.waste_valve.port_diameter", {"ram": {"waste_valve": {"port_diameter": "61 mm"}}}),
        ("bare", "ram.waste_valve.stroke", {"ram": {"waste_valve": {"stroke": "9 mm"}}}),
        ("bare", "ram.delivery_valve.bore", {"ram": {"delivery_valve": {"bore": "30 mm"}}}),
        ("bare", "ram.delivery_valve.loss", {"ram": {"delivery_valve": {"loss": 3}}}),
        ("swing check", "ram.waste_valve.arm", {"ram": {"waste_valve": {"arm": "40 mm"}}}),
        ("swing check", "ram.waste_valve.tilt", {"ram": {"waste_valve": {"tilt": "10 deg"}}}),
        ("bladder", "air_vessel.precharge", {"air_vessel": {"precharge": "1 bar"}}),
        ("measured pipe", "drive_pipe[0].wall", {"drive_pipe": [MEASURED | {"wall": "3 mm"}]}),
        ("measured pipe", "drive_pipe[0].roughness", {"drive_pipe": [MEASURED | {"roughness": "1 mm"}]}),
        ("not held", "drive_pipe_support.moving_mass", {"drive_pipe_support": {"moving_mass": "9 kg"}}),
        ("not held", "drive_pipe_support.stiffness", {"drive_pipe_support": {"stiffness": "90 N/mm"}}),
        ("not held", "drive_pipe_support.damping_ratio", {"drive_pipe_support": {"damping_ratio": 0.3}}),
    ],
)
def test_typing_it_takes_it_off_the_record_and_changes_the_installation(
    base: str, field: str, changes: dict[str, Any]
) -> None:
    before = install(site_from_entries(SHEETS[base]))
    after = install(site_from_entries(merged(SHEETS[base], changes)))
    assert field in {a.field for a in before.assumptions}
    assert {a.field for a in before.assumptions} - {a.field for a in after.assumptions} == {field}
    from dataclasses import fields

    same = [
        f.name
        for f in fields(before)
        if f.name != "assumptions" and getattr(before, f.name) != getattr(after, f.name)
    ]
    assert same, "what was typed made no difference"


def test_a_water_temperature_taken_is_recorded_in_kelvin_as_every_quantity_is() -> None:
    installation = install(sheet(BARE))
    recorded_k = {a.field: a.value for a in installation.assumptions}["site.water_temperature"]
    assert abs(recorded_k - 273.15 - installation.water.temperature_c) < 1e-6
    assert 273.15 < recorded_k < 313.15


def test_spreads_stated_are_kept_and_others_are_said_to_be_usual_ones() -> None:
    full, bare = install(sheet(FULL)), install(sheet(BARE))
    assert abs(full.fall.sd - 0.02) < 1e-12
    assert abs(full.source_flow.sd - 0.05 * 3e-3) < 1e-12
    assert {full.fall.origin, full.lift.origin, full.source_flow.origin} == {"typed"}
    assert {bare.fall.origin, bare.lift.origin, bare.source_flow.origin} == {"spread_assumed"}
    assert min(bare.fall.sd, bare.lift.sd, bare.source_flow.sd) > 0.0


STEEL = [{"pipe": "steel schedule 40, 2 in", "length": "10 m"}]


@pytest.mark.parametrize(
    ("changes", "code", "field"),
    [
        ({"facts": None}, "facts_missing", "facts"),
        ({"facts": {"fall": None}}, "facts_missing", "facts"),
        ({"facts": {"lift": None, "source_flow": None}}, "facts_missing", "facts"),
        ({"drive_pipe": None}, "line_missing", "drive_pipe"),
        ({"delivery_line": None}, "line_missing", "delivery_line"),
        ({"drive_pipe": [{"bore": "50 mm", "length": "9 m"}]}, "material_missing", "drive_pipe[0].material"),
        (
            {"delivery_line": [*STEEL, {"bore": "9 mm", "material": "moonstone", "length": "9 m"}]},
            "catalogue_name_unknown",
            "delivery_line[1].material",
        ),
        (
            {"drive_pipe": [{"pipe": "unobtainium schedule 40, 2 in", "length": "9 m"}]},
            "pipe_word_unknown",
            "drive_pipe[0].pipe",
        ),
        (
            {"delivery_line": [MEASURED | {"roughness": "9 mm"}]},
            "roughness_too_large",
            "delivery_line[0].roughness",
        ),
    ],
)
def test_what_cannot_be_taken_is_asked_for_in_a_sentence(
    changes: dict[str, Any], code: str, field: str
) -> None:
    with pytest.raises(InputError) as caught:
        install(sheet(FULL, **changes))
    assert (caught.value.code, caught.value.field) == (code, field)
    assert code in sentences()
    for system in ("us", "metric"):
        said = sentence(caught.value, "us" if system == "us" else "metric")
        assert said.startswith(f"{field}: ")
        assert "?" not in said
        assert "{" not in said


def test_all_missing_facts_are_named_at_once() -> None:
    with pytest.raises(InputError) as caught:
        install(sheet(FULL, facts={"lift": None, "source_flow": None}))
    assert caught.value.details["missing"] == ("lift", "source_flow")
