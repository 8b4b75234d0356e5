"""The ``run`` script: what it says where Python is lacking, and what it does with a job it does not have."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from tree import ROOT, text

TOOLS = ("bash", "cat", "chmod", "cksum", "cp", "dirname", "env", "mkdir", "readlink", "rm", "tail")
# Stands in for Python: notes what it is told, and makes an environment that holds itself.
STAND_IN = """#!/usr/bin/env bash
echo "$*" >> "{log}"
[ "$1 $2" != "-m venv" ] || {{
  mkdir -p "$4/bin" && cp "$0" "$4/bin/python"
  printf '#!/usr/bin/env bash\\necho "did: $*"\\n' > "$4/bin/ramwright" && chmod +x "$4/bin/ramwright"
}}
[ ! -e "{log}.fail" ] || {{ echo no network; exit 1; }}
"""


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
    ended = start(bare)
    assert ended.returncode == 1
    assert said in ended.stderr


@pytest.fixture
def log(bare: Path) -> Path:
    """What the stand-in for Python was told."""
    python = bare / "bin" / "python3"
    python.write_text(STAND_IN.format(log=bare / "log"))
    python.chmod(0o755)
    return bare / "log"


def told(log: Path) -> list[str]:
    """First words of what the stand-in was told since the last look."""
    lines = log.read_text().splitlines() if log.exists() else []
    log.unlink(missing_ok=True)
    return [" ".join(line.split()[1:3]) for line in lines if line != "-"]


SET_UP = ["venv --clear", "pip install", "pip install"]


def test_the_first_start_sets_up_and_the_second_goes_straight_to_the_job(bare: Path, log: Path) -> None:
    for expected in (SET_UP, []):
        ended = start(bare)
        assert (ended.returncode, ended.stdout) == (0, "did: appraise examples/alder-fork.toml\n"), (
            ended.stderr
        )
        assert told(log) == expected


@pytest.mark.parametrize("name", ["requirements.lock", "pyproject.toml", "src/ramwright/__init__.py"])
def test_what_it_was_made_from_changed_so_it_installs_again(name: str, bare: Path, log: Path) -> None:
    start(bare)
    told(log)
    with (bare / "a project" / name).open("a") as file:
        file.write("# changed\n")
    assert start(bare).returncode == 0
    assert told(log) == SET_UP[1:]


def test_a_folder_that_moved_gets_a_new_environment(bare: Path, log: Path) -> None:
    """What is installed in an environment holds the folder's path."""
    start(bare)
    told(log)
    (bare / "a project").rename(bare / "elsewhere")
    (bare / "a project").symlink_to("elsewhere")
    assert "moved" in start(bare).stderr
    assert told(log) == SET_UP


def test_a_set_up_that_failed_says_so_and_is_taken_up_again(bare: Path, log: Path) -> None:
    fail = Path(f"{log}.fail")
    start(bare)
    (bare / "a project" / "pyproject.toml").write_text("# changed")
    fail.touch()
    ended = start(bare)
    assert (ended.returncode, ended.stdout) == (1, "")
    assert "no network" in ended.stderr
    fail.unlink()
    told(log)
    assert start(bare).returncode == 0
    assert told(log) == SET_UP[1:]


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
