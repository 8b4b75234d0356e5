"""The compiled kernel is kept by its sources; where it cannot be kept, it still works and says why."""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import ramwright.ram
from ramwright.ram import compiled

ROOM = Path(ramwright.ram.__file__).parent
HASH = "import sys; sys.path.insert(0, sys.argv[1]); import compiled; print(compiled.source_hash())"
WORKS = (
    "from ramwright.ram.compiled import CACHE_FOLDER, CACHE_PROBLEM\n"
    "from ramwright.ram.pipe import joint\n"
    "print(CACHE_FOLDER, '|', CACHE_PROBLEM, '|', joint(1.0, 3.0, 1.0, 1.0))\n"
)
PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH = 24, 1, 2


def _obey_permissions() -> None:
    """Take from the superuser what lets it write anywhere; without that the test would prove nothing."""
    libc = ctypes.CDLL(None, use_errno=True)
    for capability in (CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH):
        if libc.prctl(PR_CAPBSET_DROP, capability, 0, 0, 0) != 0:
            raise OSError(ctypes.get_errno(), "prctl")


def _run(code: str, *arguments: str, cache: Path, bound: bool = False) -> str:
    return subprocess.run(
        [sys.executable, "-c", code, *arguments],
        env={"PATH": os.environ["PATH"], "RAMWRIGHT_CACHE": str(cache), "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
        check=True,
        preexec_fn=_obey_permissions if bound and os.getuid() == 0 else None,
    ).stdout


def test_the_hash_follows_every_file_of_the_room(tmp_path: Path) -> None:
    copy = tmp_path / "room"
    shutil.copytree(ROOM, copy, ignore=shutil.ignore_patterns("__pycache__"))
    cache = tmp_path / "cache"
    first = _run(HASH, str(copy), cache=cache)
    assert first == _run(HASH, str(copy), cache=cache)
    assert first.strip() == compiled.source_hash()
    for name in ("pipe.py", "layout.py"):
        with (copy / name).open("a", encoding="utf-8") as file:
            file.write("# touched\n")
        changed = _run(HASH, str(copy), cache=cache)
        assert changed != first
        first = changed


@pytest.mark.engine
def test_a_folder_that_cannot_be_written_is_done_without(tmp_path: Path) -> None:
    locked = tmp_path / "locked"
    locked.mkdir(mode=0o555)
    folder_name, problem, parcels = _run(WORKS, cache=locked / "inner", bound=True).split(" | ")
    assert folder_name == "None"
    assert "ermission" in problem
    assert parcels.strip() == "(1.0, 3.0)"  # two equal pipes: both waves pass unchanged
    assert list(locked.iterdir()) == []
