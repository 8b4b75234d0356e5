"""The command line: a thin face that parses, calls, and shows.

Each command lives in a module of its own that is imported only when the command is called or its help
is shown, so those modules import nothing heavy at their top.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Final

import click

from ramwright import __version__
from ramwright.cli.settings import Settings, units_option

COMMANDS: Final[dict[str, str]] = {
    "sheet": "ramwright.cli.sheet:sheet",
    "walk": "ramwright.cli.walk:walk",
    "reduce": "ramwright.cli.reduce:reduce",
    "appraise": "ramwright.cli.appraise:appraise",
    "profile": "ramwright.cli.profile:profile",
    "beat": "ramwright.cli.beat:beat",
    "start": "ramwright.cli.start:start",
}
"""Name of a command -> where it is, in the order the help lists them."""


class LazyGroup(click.Group):
    """A group whose commands are imported when asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        """Names, in the order of ``COMMANDS``."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """The command of that name, imported now; None if there is none."""
        if cmd_name not in COMMANDS:
            return None
        module, _, name = COMMANDS[cmd_name].partition(":")
        command = getattr(import_module(module), name)
        assert isinstance(command, click.Command)
        return command


@click.group(
    cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(__version__, prog_name="ramwright", message="%(prog)s %(version)s")
@units_option
@click.option("--language", metavar="CODE", help="Language of sentences; the system's if not given.")
@click.pass_context
def ramwright(ctx: click.Context, units: str | None, language: str | None) -> None:
    """Will a hydraulic ram work here, how much water it lifts, and what to put in."""
    settings = ctx.obj
    assert isinstance(settings, Settings)
    settings.choose(units=units, language=language)


def run(arguments: Sequence[str]) -> int:
    """Run the command line with ``arguments`` and return its exit status.

    0 done; 1 a fault of ramwright's own; 2 the command or what it was given cannot be used; 130 stopped
    by the user; 141 whoever read the output went away.
    """
    from ramwright.cli import endings

    settings = Settings()
    try:
        # Not click's own ``main``: it would end the process itself where the reader has gone away.
        with ramwright.make_context("ramwright", list(arguments), obj=settings) as context:
            status = ramwright.invoke(context)
        sys.stdout.flush()
    except BaseException as error:
        return endings.status_of(error, settings)
    return status if isinstance(status, int) else 0
