"""Spanish: all of it is there, its blanks are those of the English, and the commands speak it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from ramwright import cli
from ramwright.errors import InputError
from ramwright.quantities import parse_reading
from ramwright.wording.blanks import blanks
from ramwright.wording.catalogues import messages, translations
from ramwright.wording.errors import sentence

ROOT = Path(__file__).parents[2]
SPANISH = translations("es")
PAIRS = sorted(SPANISH.items())
ENDS = ".:?!"
# Terms of the trade in English, and the words that stand for them.
TERMS = {
    r"\bwaste[- ]valve\b": r"válvulas? de descarte",
    r"\bdelivery valve\b": r"válvulas? de retención de entrega",
    r"\bair vessels?\b": r"cámaras? de aire",
    r"\bdrive pipes?\b": r"tubos? de alimentación",
    r"\bdrive tank\b": r"tanques? de alimentación",
    r"\bdelivery line\b": r"líneas? de entrega",
    r"\bsupply line\b": r"líneas? de captación",
    r"\bsnifter\b": r"orificio de aire",
}
# English words no Spanish sentence has; sheet entries and names in quotes or code are taken out first.
ENGLISH = re.compile(
    r"\b(the|and|of|is|are|water|valve|pipe|with|from|this|that|which|runs)\b", re.IGNORECASE
)
KEPT = re.compile(r"`[^`]*`|\"[^\"]*\"|“[^”]*”|\[[^\]]*\]|\{[^}]*\}|\b\w+ = \S+|[\w/.-]+\.(?:md|toml|svg)")


def test_nothing_is_missing_and_nothing_is_left_over() -> None:
    """If something is missing: ``python -m ramwright.wording.catalogues missing es``."""
    known = messages().keys()
    assert sorted(known - SPANISH.keys()) == []
    assert sorted(SPANISH.keys() - known) == []


def test_no_translation_is_empty() -> None:
    assert [english for english, spanish in PAIRS if not spanish.strip()] == []


def test_blanks_and_their_kinds_are_those_of_the_english() -> None:
    assert [english for english, spanish in PAIRS if blanks(english) != blanks(spanish)] == []


def test_a_sentence_ends_as_it_does_in_english() -> None:
    def end(text: str) -> str:
        return text[-1] if text[-1] in ENDS else ""

    assert [english for english, spanish in PAIRS if end(english) != end(spanish)] == []


def test_a_question_opens_as_it_closes() -> None:
    assert [
        spanish for _, spanish in PAIRS if spanish.count("¿") != spanish.count("?") and spanish != "?"
    ] == []


def test_terms_of_the_trade_are_said_alike_everywhere() -> None:
    # Names that stand in a table's narrow column may be shorter.
    narrow = {message for message, place in messages().items() if place.endswith(":NAMES")}
    differing = [
        (english, spanish)
        for english, spanish in PAIRS
        for term, word in TERMS.items()
        if english not in narrow
        and re.search(term, KEPT.sub("", english), re.IGNORECASE)
        and not re.search(word, spanish, re.IGNORECASE)
    ]
    assert differing == []


def test_no_english_is_left_in_it() -> None:
    assert [spanish for _, spanish in PAIRS if ENGLISH.search(KEPT.sub("", spanish))] == []


def test_the_waste_valve_has_no_second_name() -> None:
    assert [spanish for _, spanish in PAIRS if "impulso" in spanish] == []


@pytest.mark.engine
@pytest.mark.parametrize(
    ("arguments", "said", "unsaid"),
    [
        (["appraise", "alder-fork.toml", "--draws", "10"], ["Caída", "de cada 100"], ["Fall", "in 100"]),
        (["beat", "alder-fork.toml"], ["Golpes por minuto"], ["Beats"]),
        (["reduce", "field-book.toml"], ["Caída", "Mayor residuo"], ["Fall", "Facts"]),
        (["start", "alder-fork.toml"], ["Arránquelo", "empuje"], ["Priming", "It runs", " to "]),
        (["profile", "alder-fork.toml"], ["Tubo de alimentación"], ["Drive pipe"]),
    ],
)
def test_commands_speak_spanish(
    arguments: list[str], said: list[str], unsaid: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    command, sheet, *rest = arguments
    status = cli.run(["--language", "es", command, str(ROOT / "examples" / sheet), *rest])
    out = capsys.readouterr().out
    assert status == 0
    for word in said:
        assert word in out
    for word in unsaid:
        assert word not in out


def test_an_error_is_told_in_spanish(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.run(["--language", "es", "appraise", str(tmp_path / "none.toml")]) == 2
    err = capsys.readouterr().err
    assert "no hay ningún archivo" in err.lower()
    assert "Revise el nombre y la carpeta." in err


def test_numbers_keep_their_decimal_point() -> None:
    """What is typed has a point too: a comma would be read two ways."""
    with pytest.raises(InputError) as caught:
        parse_reading("6,5 ft", "length")
    assert '"6.5 ft"' in sentence(caught.value, "us", "es")


def test_a_measure_is_named_in_spanish() -> None:
    with pytest.raises(InputError) as caught:
        parse_reading("3 furlongs", "flow")
    assert "una medida de caudal" in sentence(caught.value, "us", "es")
    assert "A measure of flow" in sentence(caught.value, "us", "en")
