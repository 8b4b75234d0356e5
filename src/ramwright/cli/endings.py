"""How a command ends when it did not simply finish: the one place where errors become words and a status."""

from __future__ import annotations

import os
import sys
import traceback

import click

from ramwright.cli.settings import Settings
from ramwright.errors import RamwrightError

FAULT = 1
UNUSABLE = 2
STOPPED = 130
READER_GONE = 141


def status_of(error: BaseException, settings: Settings) -> int:
    """Say on standard error what has to be said of ``error``, and return the exit status."""
    match error:
        case BrokenPipeError():
            _forget_output()
            return READER_GONE
        case SystemExit():
            return error.code if isinstance(error.code, int) else FAULT
        case click.exceptions.Exit():
            return error.exit_code
        case click.ClickException():
            error.show(sys.stderr)
            return error.exit_code
        case click.Abort() | KeyboardInterrupt():
            return STOPPED
        case RamwrightError():
            return _unusable(error, settings)
        case _:
            return _fault(error, settings)


def _unusable(error: RamwrightError, settings: Settings) -> int:
    from ramwright.wording.errors import report

    _trace(error)
    click.echo(report(error, settings.units or "us", settings.language), err=True)
    return UNUSABLE


def _fault(error: BaseException, settings: Settings) -> int:
    from ramwright.wording.mishap import apology

    _trace(error)
    click.echo(apology(type(error).__name__, str(error), settings.written, settings.language), err=True)
    return FAULT


def _trace(error: BaseException) -> None:
    if os.environ.get("RAMWRIGHT_DEBUG") == "1":
        traceback.print_exception(error)


def _forget_output() -> None:
    # What is still buffered would fail again when Python closes the stream at its end.
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
