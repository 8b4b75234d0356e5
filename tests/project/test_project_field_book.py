"""Every example on the page of the field book is a visit that reads, is reduced and gives what it says."""

from __future__ import annotations

from docrun import blocks
from tree import ROOT, text

from ramwright.appraise import facts_of, walk_of
from ramwright.site import read_sheet_text

PAGE = ROOT / "docs" / "field-book.md"
EXAMPLES = [block for block in blocks(text(PAGE)) if block.language == "toml"]
KINDS = (
    *("level_book", "hand_level", "abney", "hose", "gauge", "raised_pipe", "tape"),
    *("bucket", "float_run", "v_notch", "rectangular_weir", "salt_slug", "salt_constant"),
)


GIVES = (
    *("", "", "lift", "lift", "lift", "fall", "fall", "fall", ""),
    *("source_flow", "source_flow", "source_flow", "source_flow", "fall", "walk"),
)
"""What each example gives, in the order of the page; nothing for a visit's head, a book and a tape alone."""


def test_each_example_of_the_page_gives_what_it_is_for() -> None:
    for block, gives in zip(EXAMPLES, GIVES, strict=True):
        site = read_sheet_text(f'[site]\nname = "Example"\n{block.text}', f"line {block.line}")
        assert site.notes_on_input == ()
        if gives == "walk":
            assert walk_of(site).ranked
        elif gives:
            assert getattr(facts_of(site), gives) is not None, block.line
        else:
            assert facts_of(site).reduction is not None


def test_the_page_shows_every_way_of_reading() -> None:
    shown = {kind for kind in KINDS for block in EXAMPLES if kind in block.text}
    assert shown == set(KINDS)
    assert any("[[stage]]" in block.text for block in EXAMPLES)
    assert any("[walk]" in block.text for block in EXAMPLES)
