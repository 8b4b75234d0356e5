"""What the project consists of: the files git has or would take."""

from __future__ import annotations

import re
import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "ramwright"


@cache
def files() -> tuple[Path, ...]:
    """Every file of the project, whether committed yet or not."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    found = tuple(ROOT / name for name in listed.split("\0") if name and (ROOT / name).is_file())
    assert len(found) > 20, "git lists next to nothing: these checks would look at an empty tree"
    return found


@cache
def text(path: Path) -> str:
    """The file's text; '' for a file that is not text."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return ""


def shown(path: Path) -> str:
    """The path as a reader knows it."""
    return path.relative_to(ROOT).as_posix()


def lines_matching(pattern: str, *, suffixes: frozenset[str] | None = None) -> list[str]:
    """``file:line: text`` wherever the regular expression is found, in files with one of ``suffixes``."""
    wanted = re.compile(pattern, re.IGNORECASE)
    return [
        f"{shown(path)}:{number}: {line.strip()[:120]}"
        for path in files()
        if suffixes is None or path.suffix in suffixes
        for number, line in enumerate(text(path).splitlines(), 1)
        if wanted.search(line)
    ]
