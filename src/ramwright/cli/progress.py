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

    def __init__(self, language: str | None) -> None:
        self._language = language
        self._begun = time.monotonic()
        self._last = 0.0
        self._shown = False

    def __enter__(self) -> Self:
        return self

    def step(self, done: int, of: int) -> bool:
        """Show where it stands; always says to go on."""
        now = time.monotonic()
        if now - self._begun > _SILENT_S and now - self._last > _EVERY_S and sys.stderr.isatty():
            from ramwright.wording.blanks import fill
            from ramwright.wording.progress import COUNTED
            from ramwright.wording.translate import translate

            said = fill(translate(COUNTED, self._language), {"done": done, "of": of}, "us")
            click.echo(f"\r{said} ", nl=False, err=True)
            self._last, self._shown = now, True
        return True

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._shown:
            click.echo("\r" + " " * 60 + "\r", nl=False, err=True)


def compiling(language: str | None) -> None:
    """Say that the engine has to be compiled first, if it has."""
    from ramwright.ram import CACHE_PROBLEM, is_warm

    if not CACHE_PROBLEM and is_warm():
        return
    from ramwright.wording.blanks import fill
    from ramwright.wording.progress import COMPILING, NO_CACHE
    from ramwright.wording.translate import translate

    said = translate(NO_CACHE if CACHE_PROBLEM else COMPILING, language)
    click.echo(fill(said, {"problem": CACHE_PROBLEM}, "us"), err=True)
