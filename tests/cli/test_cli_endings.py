"""How commands end: a sentence and a status, never a traceback unless asked for."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable

import click
import pytest

from ramwright import cli
from ramwright.cli.settings import Settings
from ramwright.errors import InputError, LimitError


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch) -> Callable[[BaseException], int]:
    """Runs a made-up command that ends with the error given."""

    def run_with(error: BaseException) -> int:
        @click.command()
        @click.pass_obj
        def fails(settings: Settings) -> None:
            settings.written.append("one.toml")
            raise error

        monkeypatch.setattr(cli.LazyGroup, "get_command", lambda *_: fails)
        return cli.run(["fails"])

    return run_with


def test_unusable_input_is_a_sentence_and_status_2(
    command: Callable[[BaseException], int], capsys: pytest.CaptureFixture[str]
) -> None:
    status = command(InputError("file_exists", field="--out", value="a.toml", line=3))
    said = capsys.readouterr()
    assert status == 2
    assert said.out == ""
    assert said.err.startswith("line 3, --out: a.toml is there already")


def test_every_error_of_the_family_ends_with_2(command: Callable[[BaseException], int]) -> None:
    assert command(LimitError("unheard_of")) == 2


def test_a_fault_of_ours_is_an_apology_that_names_what_is_kept(
    command: Callable[[BaseException], int],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.delenv("RAMWRIGHT_DEBUG", raising=False)
    status = command(ZeroDivisionError("division by zero"))
    said = capsys.readouterr().err
    assert status == 1
    assert "ZeroDivisionError: division by zero" in said
    assert "Kept: one.toml." in said
    assert "Traceback" not in said


@pytest.mark.parametrize("error", [ZeroDivisionError("x"), InputError("file_exists")])
def test_the_traceback_is_there_when_asked_for(
    error: Exception,
    command: Callable[[BaseException], int],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("RAMWRIGHT_DEBUG", "1")
    command(error)
    assert "Traceback" in capsys.readouterr().err


def test_stopping_it_is_quiet(
    command: Callable[[BaseException], int], capsys: pytest.CaptureFixture[str]
) -> None:
    assert command(KeyboardInterrupt()) == 130
    assert capsys.readouterr().err.strip() == ""


def test_a_wrong_option_is_shown_with_the_way_to_help(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["--units", "cubits"]) == 2
    assert "--help" in capsys.readouterr().err


def test_a_language_without_sentences_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["--language", "tlh", "sheet"]) == 2
    assert "--language: there are no sentences in tlh here. Choose one of: en, es." in capsys.readouterr().err


def test_a_reader_that_goes_away_is_no_fault() -> None:
    """The help goes into a pipe whose other end is closed already."""
    reading, writing = os.pipe()
    os.close(reading)
    ended = subprocess.run(
        [sys.executable, "-m", "ramwright", "--help"], stdout=writing, stderr=subprocess.PIPE, check=False
    )
    os.close(writing)
    assert (ended.returncode, ended.stderr) == (141, b"")
