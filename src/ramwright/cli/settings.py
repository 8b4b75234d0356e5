"""What the user chose for the whole command, and what the command has written so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal, TypeVar

import click

Units = Literal["us", "metric"]
_F = TypeVar("_F", bound=Callable[..., object])


@dataclass(slots=True)
class Settings:
    """Choices and traces of one command.

    ``units`` and ``language`` are None until chosen: the sheet's own units then count, and the system's
    language. ``written`` names the files finished so far, told should the command break down.
    """

    units: Units | None = None
    language: str | None = None
    written: list[str] = field(default_factory=list)

    def choose(self, *, units: str | None = None, language: str | None = None) -> None:
        """Take over what was given on the command line; None leaves a choice as it is.

        Raises ``InputError("language_missing")`` for a language that has no sentences here.
        """
        if units is not None:
            self.units = "metric" if units == "metric" else "us"
        if language is not None:
            self._check(language)
            self.language = language

    @staticmethod
    def _check(language: str) -> None:
        from ramwright.errors import InputError
        from ramwright.wording.translate import available

        known = available()
        if language not in known:
            raise InputError("language_missing", field="--language", value=language, known=known)


def units_option(command: _F) -> _F:
    """The option ``--units``, the same wherever it is given."""
    choice = click.Choice(["us", "metric"])
    return click.option("--units", type=choice, help="Units shown: US customary or metric.")(command)
