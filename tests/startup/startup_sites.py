"""The bundled examples, and variations of them, for the tests of starting."""

from __future__ import annotations

import re
from pathlib import Path

from ramwright.appraise import Installation, choose_setting, install
from ramwright.site import Site, read_sheet_text

EXAMPLES = Path(__file__).parents[2] / "examples"


def varied(
    name: str = "alder-fork", *, drive: str | None = None, delivery: str | None = None, **entries: str
) -> Site:
    """An example with the first entry of each name replaced, and the lengths of its two lines."""
    text = (EXAMPLES / f"{name}.toml").read_text("utf-8")
    for entry, value in entries.items():
        text, count = re.subn(rf'(?m)^{entry} = "[^"]*"', f'{entry} = "{value}"', text, count=1)
        assert count == 1, entry
    upper, lower = text.split("[[delivery_line]]")
    if drive is not None:
        upper = re.sub(r'(?m)^length = "[^"]*"', f'length = "{drive}"', upper, count=1)
    if delivery is not None:
        lower = re.sub(r'(?m)^length = "[^"]*"', f'length = "{delivery}"', lower, count=1)
    return read_sheet_text(f"{upper}[[delivery_line]]{lower}", "varied")


def installed(site: Site) -> Installation:
    """A site's installation with its waste valve set."""
    return choose_setting(install(site))[0]
