"""Other words of the trade are understood, and said to have been."""

from __future__ import annotations

import pytest

from ramwright.errors import InputError
from ramwright.site import SheetErrors, read_sheet_text, write_sheet
from ramwright.site.problems import sections
from ramwright.site.words import SYNONYMS, dotted, spelt
from ramwright.wording.errors import sentence

PLACE = '[site]\nname = "Test"\n'
PIPE = '\npipe = "steel schedule 40, 2 in"\nlength = "12 m"\n'


def test_a_sheet_in_other_words_is_the_same_site() -> None:
    """A sheet in a handbook's words against one in ours."""
    theirs = read_sheet_text(
        PLACE
        + '[facts]\nworking_fall = "2 m"\nelevation = "15 m"\n[standpipe]\ndiameter = "30 cm"\n'
        + f"[injection_pipe]{PIPE}[[rising_main]]{PIPE}[air_chamber]\nvolume = '5 L'\n"
        + "[ram.impetus_valve]\nstroke = '8 mm'\n[ram.non-return-valve]\nloss = 4\n"
        + "[ram.snifting_valve]\nfitted = true\n",
        "t",
    )
    ours = read_sheet_text(
        PLACE
        + '[facts]\nfall = "2 m"\nlift = "15 m"\n[drive_tank]\nkind = "standpipe"\ndiameter = "30 cm"\n'
        + f"[[drive_pipe]]{PIPE}[[delivery_line]]{PIPE}[air_vessel]\nvolume = '5 L'\n"
        + "[ram.waste_valve]\nstroke = '8 mm'\n[ram.delivery_valve]\nloss = 4\n"
        + "[ram.snifter]\nfitted = true\n",
        "t",
    )
    assert theirs == ours
    assert ours.notes_on_input == ()
    notes = {(note.value, note.details["ours"], note.line) for note in theirs.notes_on_input}
    assert notes == {
        ("working_fall", "fall", 4),
        ("elevation", "lift", 5),
        ("standpipe", "drive_tank", 6),
        ("injection_pipe", "drive_pipe", 8),
        ("rising_main", "delivery_line", 11),
        ("air_chamber", "air_vessel", 14),
        ("impetus_valve", "waste_valve", 16),
        ("non-return-valve", "delivery_valve", 18),
        ("snifting_valve", "snifter", 20),
    }


def test_print_uses_our_words_only() -> None:
    """What is written never holds another word, and the notes are not part of the site."""
    site = read_sheet_text(PLACE + f"[[supply_pipe]]{PIPE}", "t")
    again = read_sheet_text(write_sheet(site), "t")
    assert "supply_pipe" not in write_sheet(site)
    assert again == site
    assert hash(again) == hash(site)
    assert (len(site.notes_on_input), len(again.notes_on_input)) == (1, 0)


def test_the_supply_pipe_is_taken_for_the_drive_pipe_with_a_warning() -> None:
    """Some handbooks call the drive pipe so; others mean the pipe to the drive tank."""
    (note,) = read_sheet_text(PLACE + f"[[supply_pipe]]{PIPE}", "t").notes_on_input
    assert (note.code, note.field, note.value, note.line) == (
        "note_supply_pipe",
        "drive_pipe",
        "supply_pipe",
        3,
    )
    assert "fills the drive tank" in sentence(note, "us", "en")


def test_errors_in_other_words_have_our_field_and_their_line() -> None:
    """The line leads to what was typed, whatever it is called."""
    with pytest.raises(SheetErrors) as caught:
        read_sheet_text(
            PLACE + "[facts]\nhead = '6 gpm'\n[injection_pipe]\npipe = 'a, b'\nlength = '1 gpm'\n", "t"
        )
    assert [(e.field, e.line, e.value) for e in caught.value.errors] == [
        ("facts.fall", 4, "6 gpm"),
        ("drive_pipe[0].length", 7, "1 gpm"),
    ]


@pytest.mark.parametrize(
    ("text", "value", "other", "line"),
    [
        ("[facts]\nfall = '2 m'\nhead = '3 m'\n", "head", "fall", 5),
        ("[facts]\nFall = '2 m'\nfall = '3 m'\n", "fall", "Fall", 5),
        ("[air_vessel]\nvolume = '1 L'\n[dome]\nvolume = '2 L'\n", "dome", "air_vessel", 5),
    ],
)
def test_the_same_thing_in_two_words_is_refused(text: str, value: str, other: str, line: int) -> None:
    """Neither is preferred in silence."""
    with pytest.raises(InputError) as caught:
        read_sheet_text(PLACE + text, "t")
    assert isinstance(caught.value, SheetErrors)
    (error,) = caught.value.errors
    assert (error.code, error.value, error.details["other"], error.line) == ("said_twice", value, other, line)


def test_every_other_word_stands_for_an_entry_and_for_one_only() -> None:
    """No word is ours and theirs at once, and each leads to an entry that exists."""
    for section, words in SYNONYMS.items():
        entries = set(sections()[section].model_fields)
        assert set(words.values()) <= entries
        assert not set(words) & entries
        assert all(word == spelt(word) for word in words)


def test_spelling_and_paths() -> None:
    """Capitals, blanks and hyphens do not matter; a path is written as in every error."""
    assert spelt(" Drive-Pipe ") == spelt("drive pipe") == "drive_pipe"
    assert dotted(("drive_pipe", 0, "length")) == "drive_pipe[0].length"
