"""Files appear whole or not at all, and never over another one."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from ramwright.cli.files import write_new
from ramwright.cli.settings import Settings
from ramwright.errors import InputError


def test_a_new_file_is_written_and_noted(tmp_path: Path) -> None:
    settings, path = Settings(), tmp_path / "site.toml"
    write_new(path, "fall = '6.5 ft'\nname = 'Æ'\n", settings)
    assert path.read_bytes() == "fall = '6.5 ft'\nname = 'Æ'\n".encode()
    assert settings.written == [str(path)]
    assert os.listdir(tmp_path) == ["site.toml"]


def test_what_could_not_be_finished_is_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("ramwright.cli.files.os.fsync", full)
    with pytest.raises(InputError, match="file_not_written") as caught:
        write_new(tmp_path / "site.toml", "x", Settings())
    assert caught.value.details == {"reason": "No space left on device"}
    assert os.listdir(tmp_path) == []


def test_a_file_that_is_there_is_left_as_it_was(tmp_path: Path) -> None:
    settings, path = Settings(), tmp_path / "site.toml"
    path.write_text("mine")
    with pytest.raises(InputError, match="file_exists"):
        write_new(path, "other", settings)
    assert path.read_text() == "mine"
    assert settings.written == []
    assert os.listdir(tmp_path) == ["site.toml"]


def test_a_link_that_leads_nowhere_is_not_followed(tmp_path: Path) -> None:
    link = tmp_path / "site.toml"
    link.symlink_to(tmp_path / "elsewhere.toml")
    with pytest.raises(InputError, match="file_exists"):
        write_new(link, "other", Settings())
    assert not (tmp_path / "elsewhere.toml").exists()


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="file_not_written") as caught:
        write_new(tmp_path / "nowhere" / "site.toml", "x", Settings())
    assert caught.value.details == {"reason": "No such file or directory"}
