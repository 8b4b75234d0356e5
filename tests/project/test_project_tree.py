"""The tree stands on its own: nothing of one machine, nothing fetched while running, no file too long.

A letter in brackets in a pattern keeps this file from finding itself.
"""

from __future__ import annotations

import re

import pytest
from tree import files, lines_matching, shown, text

MACHINE = {
    "a folder of one machine": r"(?<![\w.])/(?:wor[k]|roo[t]|tm[p])/|/hom[e]/\w|/User[s]/\w|[A-Z]:\\User[s]",
    "a package registry": (
        r"pyp[i]\.org|pythonhoste[d]|npmj[s]\.|de[b]\.debian|crate[s]\.io|golan[g]\.org|mave[n]\.org"
    ),
    "a host that serves scripts or fonts": (
        r"unpk[g]\.com|jsdelive[r]|cdnj[s]|googleapi[s]\.|gstati[c]\.|skypac[k]|bootstrapcd[n]"
    ),
}
PAGE_SUFFIXES = frozenset({".html", ".jinja", ".j2", ".css", ".js", ".mjs", ".svg", ".typ"})
LOADS = (
    r"(?<!<a )\b(?:src|href)\s*=\s*[\"']?(?:https?:)?//(?!www\.w3\.org)"
    r"|url\(\s*[\"']?(?:https?:)?//|@import\s+[\"'](?:https?:)?//"
    r"|\bfrom\s+[\"']https?://|\b(?:fetch|import)\(\s*[\"']https?://"
)
LONGEST = 400
COUNTED = frozenset({"", ".py", ".js", ".css", ".html", ".jinja", ".j2", ".md", ".sh", ".toml", ".typ"})
LONGER_FOR_A_REASON: dict[str, str] = {}
"""Files that may be longer, each with the reason a stranger accepts."""


@pytest.mark.parametrize("what", MACHINE)
def test_nothing_names(what: str) -> None:
    assert lines_matching(MACHINE[what]) == []


def test_pages_load_nothing_from_the_network() -> None:
    assert lines_matching(LOADS, suffixes=PAGE_SUFFIXES) == []


@pytest.mark.parametrize(
    "line",
    [
        '<script src="https://example.org/a.js">',
        "<link href='//example.org/a.css'>",
        "@font-face { src: url(https://example.org/a.woff2) }",
        'import { x } from "https://example.org/x.js"',
    ],
)
def test_the_pattern_for_loads_finds_them(line: str) -> None:
    assert re.search(LOADS, line)


def test_links_and_namespaces_are_no_loads() -> None:
    for line in ('<a href="https://example.org/">', '<svg xmlns="http://www.w3.org/2000/svg">'):
        assert not re.search(LOADS, line)


def test_no_file_is_too_long() -> None:
    """A file that outgrows the limit is usually two files. Data, locks and vendored files are not counted."""
    long = {
        shown(path): lines
        for path in files()
        if path.suffix in COUNTED and not {"vendor", "data", "reference"} & set(path.parts)
        if (lines := len(text(path).splitlines())) > LONGEST
    }
    assert long.keys() == LONGER_FOR_A_REASON.keys(), long
