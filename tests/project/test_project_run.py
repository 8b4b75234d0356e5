"""The ``run`` script: what it says where Python is lacking, and what it does with a job it does not have."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from tree import ROOT, text

TOOLS = ("bash", "cat", "cksum", "dirname", "readlink", "rm", "mkdir", "tail")


@pytest.fixture
def bare(tmp_path: Path) -> Path:
    """A copy of the script on a machine that has the usual small tools and nothing else."""
    (tmp_path / "bin").mkdir()
    for tool in TOOLS:
        found = shutil.which(tool)
        assert found
        (tmp_path / "bin" / tool).symlink_to(found)
    project = tmp_path / "a project"
    (project / "src" / "ramwright").mkdir(parents=True)
    for name in ("run", "requirements.lock", "pyproject.toml", "src/ramwright/__init__.py"):
        shutil.copy(ROOT / name, project / name)
    return tmp_path


def start(bare: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the script from another folder, with no standard input."""
    return subprocess.run(
        [str(bare / "a project" / "run"), *arguments],
        cwd=bare,
        env={"PATH": str(bare / "bin"), "CI": "true", "HOME": os.environ.get("HOME", "/")},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def test_without_python_it_says_what_to_install(bare: Path) -> None:
    ended = start(bare)
    assert ended.returncode == 1
    assert "no python3 at all" in ended.stderr
    assert "apt-get install -y python3 python3-venv" in ended.stderr
    assert not (bare / "a project" / ".venv").exists()


@pytest.mark.parametrize(
    ("stub", "said"),
    [
        ("sys.version_info = (3, 10, 2, 'final', 0)", "Python 3.10.2"),
        ("sys.version_info = (3, 14, 0, 'final', 0)", "Python 3.14.0"),
        ("sys.modules['ensurepip'] = None", "comes without the modules venv and ensurepip"),
    ],
)
def test_a_python_that_does_not_serve_is_named(bare: Path, stub: str, said: str) -> None:
    real = shutil.which("python3")
    python = bare / "bin" / "python3"
    python.write_text(f'#!/usr/bin/env bash\nexec "{real}" -c "import sys; {stub}; exec(sys.stdin.read())"\n')
    python.chmod(0o755)
    env = (bare / "bin" / "env", shutil.which("env"))
    assert env[1]
    env[0].symlink_to(env[1])
    ended = start(bare)
    assert ended.returncode == 1
    assert said in ended.stderr


def test_help_lists_every_job_and_needs_no_set_up(bare: Path) -> None:
    ended = start(bare, "help")
    assert ended.returncode == 0
    assert all(f"./run {job}" in ended.stdout for job in ("test", "prove", "bench", "lock", "help"))
    assert not (bare / "a project" / ".venv").exists()


def test_an_unknown_job_is_refused_with_the_list(bare: Path) -> None:
    ended = start(bare, "tset")
    assert ended.returncode == 2
    assert "no job called tset" in ended.stderr
    assert "./run test" in ended.stderr


def test_the_integration_runs_the_same_checks_as_a_person() -> None:
    assert text(ROOT / ".ci" / "run").splitlines()[-1] == 'exec "$(dirname "${BASH_SOURCE[0]}")/../run" test'
