"""Blocks of code in the documentation, and running the commands shown in them."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

FENCE = re.compile(r"^```([a-z]+)([^\n]*)\n(.*?)^```\s*$", re.MULTILINE | re.DOTALL)
PROMPT = "$ "


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block: its language, the words after it, its text, and the line it starts at."""

    language: str
    words: tuple[str, ...]
    text: str
    line: int


@dataclass(frozen=True, slots=True)
class Command:
    """A command shown in a console block, the output shown under it, its exit status, and its line."""

    arguments: tuple[str, ...]
    shown: tuple[str, ...]
    status: int
    line: int


def blocks(page: str) -> list[Block]:
    """All fenced blocks of a page that name a language."""
    return [
        Block(found[1], tuple(found[2].split()), found[3], page[: found.start()].count("\n") + 1)
        for found in FENCE.finditer(page)
    ]


def commands(block: Block) -> list[Command]:
    """Commands of a ``console`` block; ``status=2`` after its language is the exit status they end with."""
    status = next(
        (int(word.removeprefix("status=")) for word in block.words if word.startswith("status=")), 0
    )
    found: list[Command] = []
    for number, line in enumerate(block.text.splitlines(), block.line + 1):
        if line.startswith(PROMPT):
            found.append(Command(tuple(shlex.split(line.removeprefix(PROMPT))), (), status, number))
        elif found and line.strip():
            last = found[-1]
            found[-1] = Command(last.arguments, (*last.shown, line.strip()), last.status, last.line)
    return found


def run(command: Command, folder: Path) -> list[str]:
    """Run a ``ramwright`` command in ``folder``; return what differs from the page, nothing if all is well.

    A shown line must occur in the output, spaces aside; one with ``...`` in it is not looked for.
    """
    environment = {
        name: value for name, value in os.environ.items() if not name.startswith("RAMWRIGHT_DEBUG")
    }
    environment |= {"LANGUAGE": "en", "COLUMNS": "100"}
    ended = subprocess.run(
        [sys.executable, "-m", *command.arguments],
        cwd=folder,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    output = [" ".join(line.split()) for line in ended.stdout.splitlines()]
    wrong = [
        f"line {command.line}: not in the output: {line}"
        for line in command.shown
        if "..." not in line and not any(" ".join(line.split()) in seen for seen in output)
    ]
    if ended.returncode != command.status:
        wrong.append(f"line {command.line}: ended with {ended.returncode}, not {command.status}")
    return [*wrong, "it said:", *output] if wrong else []
