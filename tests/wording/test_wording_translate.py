"""A language is added by its catalogue alone."""

from __future__ import annotations

import struct
from pathlib import Path

import pytest

from ramwright.wording.translate import available, translate, wanted

DEPTH = "{value} is too deep"


def compiled(pairs: dict[str, str]) -> bytes:
    """A catalogue in the binary form that GNU gettext reads (its manual, "The Format of GNU MO Files")."""
    pairs = {"": "Content-Type: text/plain; charset=UTF-8\n"} | pairs
    keys = sorted(pairs)
    texts = [key.encode() for key in keys] + [pairs[key].encode() for key in keys]
    head = struct.pack("<7I", 0x950412DE, 0, len(keys), 28, 28 + 8 * len(keys), 0, 0)
    start, table = 28 + 16 * len(keys), b""
    for text in texts:
        table += struct.pack("<2I", len(text), start)
        start += len(text) + 1
    return head + table + b"".join(text + b"\0" for text in texts)


@pytest.fixture
def languages(tmp_path: Path) -> Path:
    """A folder with one language."""
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "ramwright.mo").write_bytes(compiled({DEPTH: "{value} ist zu tief"}))
    return tmp_path


def test_a_catalogue_is_found_and_used(languages: Path) -> None:
    assert available(languages) == ("en", "de")
    assert translate(DEPTH, "de", folder=languages) == "{value} ist zu tief"


def test_what_a_catalogue_lacks_stays_english(languages: Path) -> None:
    assert translate("write a number", "de", folder=languages) == "write a number"
    assert translate(DEPTH, "fr", folder=languages) == DEPTH


def test_nothing_is_not_the_catalogues_own_heading(languages: Path) -> None:
    """gettext keeps its heading under the empty message."""
    assert translate("", "de", folder=languages) == ""


def test_english_is_english_whatever_the_environment(
    languages: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LANGUAGE", "de")
    assert translate(DEPTH, "en", folder=languages) == DEPTH
    assert translate(DEPTH, folder=languages) == "{value} ist zu tief"


@pytest.mark.parametrize(
    ("variables", "asked"),
    [
        ({"LANG": "de_AT.UTF-8"}, ("de_AT", "de")),
        ({"LANG": "de_AT.UTF-8", "LC_ALL": "C"}, ("C", "C")),
        ({"LANGUAGE": "en:de", "LANG": "fr"}, ("en", "en", "de", "de")),
        ({}, ()),
    ],
)
def test_the_environment_is_asked_in_gettexts_order(
    variables: dict[str, str], asked: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    for name, value in variables.items():
        monkeypatch.setenv(name, value)
    assert wanted() == asked


def test_english_before_another_language_wins(languages: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LANGUAGE", "en:de")
    assert translate(DEPTH, folder=languages) == DEPTH
