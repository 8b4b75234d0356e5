"""What the documentation shows is true: commands are run, TOML is read, links lead somewhere."""

from __future__ import annotations

import re
import shutil
import tomllib
from pathlib import Path

import pytest
import sheet_page
from docrun import Block, blocks, commands, run
from tree import ROOT, files, shown, text

from ramwright.site import read_sheet_text

PAGES = [path for path in files() if path.suffix == ".md" and path.parent in (ROOT, ROOT / "docs")]
LANGUAGES = frozenset({"console", "toml", "python", "sh", "text", "markdown"})


def of(page: Path, language: str) -> list[Block]:
    """Blocks of a page in one language."""
    return [block for block in blocks(text(page)) if block.language == language]


WITH_COMMANDS = [page for page in PAGES if of(page, "console")]


@pytest.mark.parametrize("page", WITH_COMMANDS, ids=shown)
def test_commands_do_what_the_page_shows(page: Path, tmp_path: Path) -> None:
    """A page's commands run one after another in a folder that holds a copy of the examples."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    jobs = set(
        re.findall(
            r"^\./run(?: (\w+))?", text(ROOT / "run").split("<<'TEXT'")[1].split("\nTEXT")[0], re.MULTILINE
        )
    )
    for command in (command for block in of(page, "console") for command in commands(block)):
        if command.arguments[0] == "./run":
            # Running the set-up or the checks from within the checks would take minutes.
            assert " ".join(command.arguments[1:2]) in jobs, command
        else:
            assert command.arguments[0] == "ramwright", f"line {command.line}: use ```sh for what is not run"
            assert run(command, tmp_path) == []


@pytest.mark.parametrize("page", PAGES, ids=shown)
def test_toml_can_be_read(page: Path) -> None:
    for block in of(page, "toml"):
        assert tomllib.loads(block.text), f"line {block.line}"


@pytest.mark.engine
@pytest.mark.parametrize("page", [page for page in PAGES if of(page, "python")], ids=shown)
def test_python_runs(page: Path) -> None:
    """Blocks of Python on a page run one after another, as one program."""
    program = "\n".join(block.text for block in of(page, "python"))
    exec(compile(program, shown(page), "exec"), {})


@pytest.mark.parametrize("page", PAGES, ids=shown)
def test_every_block_says_its_language(page: Path) -> None:
    fences = re.findall(r"^```(.*)$", text(page), re.MULTILINE)
    assert {opened.split()[0] if opened else "" for opened in fences[::2]} <= LANGUAGES
    assert set(fences[1::2]) <= {""}


@pytest.mark.parametrize("page", PAGES, ids=shown)
def test_links_within_the_project_lead_somewhere(page: Path) -> None:
    links = re.findall(r"\]\((?!https?:|mailto:|#)([^)#\s]+)", text(page))
    assert [link for link in links if not (page.parent / link).exists()] == []


def test_the_runner_notices_a_wrong_page(tmp_path: Path) -> None:
    lying = "```console\n$ ramwright --version\nramwright 999\n```\n"
    failing = "```console status=2\n$ ramwright no-such\nError: ...\n```\n"
    one, other = (commands(block)[0] for block in blocks(lying + failing))
    assert "line 2: not in the output: ramwright 999" in run(one, tmp_path)
    assert run(other, tmp_path) == []
    assert (other.status, other.line) == (2, 6)


@pytest.mark.parametrize("page", sheet_page.PAGES, ids=shown)
def test_the_tables_of_the_sheet_are_those_of_the_models(page: Path) -> None:
    assert text(page) == sheet_page.made(page), "python tests/project/sheet_page.py"


def test_the_sheets_shown_can_be_read() -> None:
    """A TOML block that names its schema is a whole sheet."""
    sheets = [block.text for page in PAGES for block in of(page, "toml") if "schema_version" in block.text]
    assert sheets
    for sheet in sheets:
        assert read_sheet_text(sheet, "shown").site.name
