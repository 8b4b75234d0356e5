"""What a person sees on standard error while something takes longer than a second."""

from __future__ import annotations

import sys
import time
from types import TracebackType
from typing import Self

import click

_SILENT_S = 1.0
_EVERY_S = 0.1


class Bar:
    """Counts on one line of standard error, once a second has gone by and only for a terminal."""

    def __init__(self, what: str) -> None:
        self._what = what
        self._begun = time.monotonic()
        self._last = 0.0
        self._shown = False

    def __enter__(self) -> Self:
        return self

    def step(self, done: int, of: int) -> bool:
        """Show where it stands; always says to go on."""
        now = time.monotonic()
        if now - self._begun > _SILENT_S and now - self._last > _EVERY_S and sys.stderr.isatty():
            click.echo(f"\r{done} of {of} {self._what} ", nl=False, err=True)
            self._last, self._shown = now, True
        return True

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._shown:
            click.echo("\r" + " " * 60 + "\r", nl=False, err=True)


def compiling() -> None:
    """Say that the engine has to be compiled first, if it has."""
    from ramwright.ram import CACHE_PROBLEM, is_warm

    if CACHE_PROBLEM:
        click.echo(
            f"The engine is compiled anew each time: its cache cannot be kept ({CACHE_PROBLEM}).", err=True
        )
    elif not is_warm():
        click.echo("Compiling the engine, this once (about 15 s) ...", err=True)
