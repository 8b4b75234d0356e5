"""Starting is light: what a command does not need is not imported."""

from __future__ import annotations

import subprocess
import sys

import pytest

import ramwright
from ramwright import cli

HEAVY = {"numpy", "scipy", "numba", "pydantic", "matplotlib", "fluids"}


@pytest.mark.parametrize(
    "arguments", [["--help"], ["--version"], *([name, "--help"] for name in cli.COMMANDS)]
)
def test_help_imports_nothing_heavy(arguments: list[str]) -> None:
    """In its own process, since the tests themselves have imported everything by now."""
    program = (
        "import sys; from ramwright import cli; status = cli.run(sys.argv[1:]);"
        "print(status, *sorted({name.partition('.')[0] for name in sys.modules}))"
    )
    ended = subprocess.run(
        [sys.executable, "-c", program, *arguments], capture_output=True, text=True, check=True
    )
    status, *modules = ended.stdout.splitlines()[-1].split()
    assert status == "0"
    assert "click" in modules
    assert HEAVY & set(modules) == set()


def test_the_module_is_the_command() -> None:
    ended = subprocess.run(
        [sys.executable, "-m", "ramwright", "--version"], capture_output=True, text=True, check=True
    )
    assert ended.stdout == f"ramwright {ramwright.__version__}\n"


def test_every_command_is_where_it_is_said_to_be(capsys: pytest.CaptureFixture[str]) -> None:
    for name in cli.COMMANDS:
        assert cli.run([name, "--help"]) == 0
        assert f"Usage: ramwright {name}" in capsys.readouterr().out
