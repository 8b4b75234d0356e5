"""Catalogues: every sentence is collected, .po files are read, .mo files are what gettext reads."""

from __future__ import annotations

import gettext
import io
from pathlib import Path

import pytest

from ramwright import cli
from ramwright.wording import catalogues, translate
from ramwright.wording.catalogues import compiled, languages, make, messages, read, written
from ramwright.wording.errors import sentences
from ramwright.wording.findings import TEMPLATES
from ramwright.wording.verdicts import templates

ROOT = Path(__file__).parents[2]
PAIRS = {"a": "á", 'say "it"\n': 'diga "eso"\n', "{a} \\ {b:length}": "{b:length} \\ {a}", "ñ": "ü"}


class Asked(gettext.NullTranslations):
    """Notes every message asked for, and leaves it as it is."""

    def __init__(self) -> None:
        super().__init__()
        self.ids: set[str] = set()

    def gettext(self, message: str) -> str:
        self.ids.add(message)
        return message


@pytest.mark.parametrize("text", [written(PAIRS), '# said\nmsgid ""\n"a"\nmsgstr "b"\n"c"\n'])
def test_a_po_file_is_read(text: str) -> None:
    assert read(text) in (PAIRS, {"a": "bc"})


def test_what_is_written_is_read_again() -> None:
    assert read(written(PAIRS, {"a": "somewhere"})) == PAIRS


@pytest.mark.parametrize(
    "text", ["msgid a\n", 'msgstr "a"\n', 'msgid "a"\n', 'msgid "a"\nmsgstr "b"\n' * 2, "x"]
)
def test_a_wrong_po_file_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"line|twice"):
        read(text)


def test_pythons_gettext_reads_what_is_compiled() -> None:
    found = gettext.GNUTranslations(io.BytesIO(compiled(PAIRS)))
    assert {message: found.gettext(message) for message in PAIRS} == PAIRS
    assert found.gettext("b") == "b"
    assert found.charset() == "UTF-8"


def test_files_that_contradict_each_other_are_refused(tmp_path: Path) -> None:
    (tmp_path / "xx").mkdir()
    for name, said in (("one", "x"), ("two", "y")):
        (tmp_path / "xx" / f"{name}.po").write_text(written({"a": said}), "utf-8")
    with pytest.raises(ValueError, match="otherwise"):
        make(tmp_path)
    (tmp_path / "xx" / "two.po").write_text(written({"b": "z"}), "utf-8")
    assert make(tmp_path) == [tmp_path / "xx" / "LC_MESSAGES" / "ramwright.mo"]
    assert translate.translate("b", "xx", folder=tmp_path) == "z"


def test_what_the_registries_hold_is_collected() -> None:
    held = {part for pair in sentences().values() for part in pair}
    held |= {part for parts in (*templates().values(), *TEMPLATES.values()) for part in parts}
    assert held - {""} <= messages().keys()


@pytest.mark.engine
@pytest.mark.parametrize("sheet", sorted(path.name for path in (ROOT / "examples").glob("*.toml")))
def test_every_message_asked_for_is_collected(
    sheet: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = Asked()
    monkeypatch.setattr(translate, "_catalogue", lambda *_: asked)
    path, out = str(ROOT / "examples" / sheet), str(tmp_path / "out")
    empty = tmp_path / "empty.toml"
    empty.write_text("fall = 3,5 ft\n")
    cli.run(["sheet", f"{out}.toml"])
    cli.run(["appraise", str(empty)])
    cli.run(["reduce", path])
    cli.run(["walk", path])
    cli.run(["appraise", path, "--draws", "10"])
    for command in ("profile", "beat", "start"):
        cli.run([command, path, "--picture", f"{out}-{command}.svg"])
    assert "Traceback" not in capsys.readouterr().err
    assert len(asked.ids) > 50
    assert asked.ids - messages().keys() == set()


def test_no_catalogue_lags_behind_its_files() -> None:
    """If it does: ``python -m ramwright.wording.catalogues``."""
    assert languages() == ["es"]
    for language in languages():
        assert catalogues.catalogue(language).read_bytes() == compiled(catalogues.translations(language))


def test_what_is_said_by_literals_is_collected() -> None:
    assert {"{run} {number} of visit {visit}", "likely", "{count} in 100"} <= messages().keys()
