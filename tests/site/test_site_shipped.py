"""What is shipped: the starter sheets, the schema and the examples."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import jsonschema
import pytest

from ramwright.errors import InputError
from ramwright.quantities import System
from ramwright.site import Site, facts_complete, json_schema, read_sheet, read_sheet_text, starter_sheet
from ramwright.site.problems import sections
from ramwright.site.schema import schema_text, shipped_schema_text
from ramwright.site.words import SYNONYMS

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))


def _filled(system: System) -> str:
    """The starter with every # taken away from its examples."""
    return re.sub(r"(?m)^#(?=\[|[a-z_0-9]+ = )", "", starter_sheet(system))


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_starter_reads_as_it_stands_and_claims_nothing(system: System) -> None:
    """Nobody's example is taken for a measurement: the facts are still missing."""
    site = read_sheet_text(starter_sheet(system), "starter")
    assert site.site.units == system
    with pytest.raises(InputError) as caught:
        facts_complete(site)
    assert caught.value.details["missing"] == ("fall", "lift", "source_flow")


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_starter_filled_in_is_a_whole_site(system: System) -> None:
    """With the # taken away every example is a good entry, and every section is there."""
    site = read_sheet_text(_filled(system), "starter")
    facts_complete(site)
    assert site.notes_on_input == ()
    assert all(getattr(site, name) for name in Site.model_fields)
    assert all(len(line) <= 110 for line in starter_sheet(system).splitlines())


def test_the_starter_names_most_entries() -> None:
    """Left out are only those few a first sheet does not need."""
    told = set(re.findall(r"(?m)^#?([a-z_0-9]+) = ", starter_sheet("us")))
    books = ("visit", "stage", "walk")  # of the field book it shows one way only
    sheet = [model for name, model in sections().items() if name.partition(".")[0] not in books]
    parts = {name for model in sheet for name in model.model_fields} - set(Site.model_fields)
    rare = {
        "damping_ratio", "stiffness", "spring_stiffness", "spring_preload", "arm", "tilt", "roughness",
        "free_air", "loss", "plan_area", "precharge", "mount", "air_pocket", "level", "file",
        "open_area", "holes",
    }  # fmt: skip
    models = {name.rpartition(".")[2] for name in sections()}
    assert parts - told - models == rare


def test_units_of_another_system_do_not_slip_in() -> None:
    """A metric starter has no feet, a US one no metres."""
    explained = re.compile(r"^#   .*$", re.MULTILINE)
    metric = explained.sub("", starter_sheet("metric"))
    us = explained.sub("", starter_sheet("us"))
    assert not re.search(r"\d (ft|in|gal|lb|F)\b", metric)
    assert not re.search(r"\d (m|mm|cm|L|kg|g|C)\b", us)
    with pytest.raises(InputError):
        starter_sheet("imperial")  # type: ignore[arg-type]


def test_the_shipped_schema_is_current() -> None:
    """Made anew from the models it is the same text."""
    assert shipped_schema_text() == schema_text()
    jsonschema.Draft202012Validator.check_schema(json_schema())


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples_are_good_sheets(path: Path) -> None:
    """They read, are complete, and validate against the schema by an independent library."""
    site = read_sheet(path)
    facts_complete(site)
    assert site.notes_on_input == ()
    jsonschema.validate(tomllib.loads(path.read_text(encoding="utf-8")), json_schema())


def test_there_are_examples_in_both_systems() -> None:
    """One for each way of measuring."""
    assert {read_sheet(path).site.units for path in EXAMPLES} == {"us", "metric"}


@pytest.mark.parametrize(
    "wrong",
    [
        {"site": {}},
        {"site": {"name": "x", "nmae": "y"}},
        {"site": {"name": "x"}, "facts": {"fall": 6.5}},
        {"site": {"name": "x"}, "drive_tank": {"kind": "pond"}},
        {"site": {"name": "x"}, "drive_pipe": {"length": "1 m"}},
        {"site": {"name": "x"}, "schema_version": 2},
    ],
)
def test_the_schema_refuses(wrong: dict[str, object]) -> None:
    """What an editor would underline."""
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(wrong, json_schema())


def test_entries_are_not_named_in_other_words() -> None:
    """The schema knows our words only."""
    others = {word for words in SYNONYMS.values() for word in words}
    names = {name for model in sections().values() for name in model.model_fields}
    assert not others & names


def test_the_site_needs_no_engine() -> None:
    """Reading a sheet loads neither the kernel's compiler nor the numeric libraries."""
    code = (
        "import sys, ramwright.site as s; s.read_sheet(sys.argv[1]);"
        "print([m for m in ('numba', 'scipy', 'numpy', 'matplotlib', 'fluids') if m in sys.modules])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, str(EXAMPLES[0])], capture_output=True, text=True, check=True
    )
    assert ran.stdout.strip() == "[]"
