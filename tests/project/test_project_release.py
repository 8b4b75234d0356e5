"""Version, lock and changelog say the same everywhere."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from importlib.metadata import version

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from tree import ROOT, SOURCE, files, shown, text

import ramwright

PROJECT = tomllib.loads(text(ROOT / "pyproject.toml"))
KINDS = frozenset(row["directory"] for row in PROJECT["tool"]["towncrier"]["type"])


def pins(lock: str) -> dict[str, str]:
    """Package -> version of a lock file."""
    found = re.findall(r"^([a-z0-9-]+)==(\S+?)(?: ;[^\\]*)? \\$", text(ROOT / lock), re.MULTILINE)
    return {canonicalize_name(name): pinned for name, pinned in found}


def test_the_version_is_written_once() -> None:
    """``ramwright/__init__.py`` holds it; the package's metadata is made from there."""
    assert PROJECT["project"]["dynamic"] == ["version"]
    assert version("ramwright") == ramwright.__version__
    literal = f'"{ramwright.__version__}"'
    elsewhere = [
        shown(p) for p in files() if p.is_relative_to(SOURCE) and p.suffix == ".py" and literal in text(p)
    ]
    assert elsewhere == ["src/ramwright/__init__.py"]


@pytest.mark.parametrize(
    ("lock", "groups"),
    [
        ("requirements.lock", ("dependencies", "build")),
        ("requirements-test.lock", ("dependencies", "build", "test")),
    ],
)
def test_the_lock_holds_what_the_project_asks_for(lock: str, groups: tuple[str, ...]) -> None:
    asked = {
        "dependencies": PROJECT["project"]["dependencies"],
        "build": PROJECT["dependency-groups"]["build"],
        "test": PROJECT["project"]["optional-dependencies"]["test"],
    }
    locked = pins(lock)
    for requirement in (Requirement(line) for group in groups for line in asked[group]):
        pinned = locked.get(canonicalize_name(requirement.name))
        assert pinned is not None, f"{requirement.name} is not in {lock}: ./run lock"
        assert requirement.specifier.contains(pinned), (
            f"{lock} has {pinned}, asked is {requirement}: ./run lock"
        )


def test_the_test_lock_is_the_lock_and_more() -> None:
    assert pins("requirements.lock").items() <= pins("requirements-test.lock").items()


@pytest.mark.parametrize("lock", ["requirements.lock", "requirements-test.lock"])
def test_every_pin_has_hashes(lock: str) -> None:
    blocks = re.split(r"(?m)^(?=[a-z])", text(ROOT / lock))[1:]
    assert len(blocks) == len(pins(lock))
    assert all("--hash=sha256:" in block for block in blocks)


def test_changelog_notes_are_named_and_written_as_agreed() -> None:
    """``<issue>.<kind>.md``, one or more whole sentences."""
    notes = [path for path in files() if path.parent == ROOT / "changelog.d" and path.name != "README.md"]
    for path in notes:
        name = re.fullmatch(r"(\d+|\+[a-z0-9-]+)\.([a-z]+)\.md", path.name)
        assert name, f"{path.name}: name it <issue>.<kind>.md"
        assert name[2] in KINDS, f"{path.name}: the kind is one of {sorted(KINDS)}"
        note = text(path).strip()
        assert re.fullmatch(r"[A-Z`].*[.)]", note, re.DOTALL), f"{path.name}: write whole sentences"
        assert not note.startswith("#"), f"{path.name}: no heading"


def test_the_changelog_can_be_made() -> None:
    command = [
        sys.executable,
        "-m",
        "towncrier",
        "build",
        "--draft",
        "--version",
        "0.0",
        "--date",
        "2000-01-01",
    ]
    made = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert made.returncode == 0, made.stderr
    assert "## 0.0 (2000-01-01)" in made.stdout
    start = PROJECT["tool"]["towncrier"]["start_string"].strip()
    assert start in text(ROOT / "CHANGELOG.md")
