"""Two sheets without profiles, and variations of them, for the tests of starting."""

from __future__ import annotations

import re
from pathlib import Path

from ramwright.appraise import Installation, choose_setting, install
from ramwright.site import Site, read_sheet_text

SHEETS = Path(__file__).parent


def varied(
    name: str = "creek",
    *,
    drive: str | None = None,
    delivery: str | None = None,
    lag: str | None = "1 ms ± 0.2 ms",
    **entries: str,
) -> Site:
    """A sheet with the first entry of each name replaced, and the lengths of its two lines.

    Its delivery valve is made to shut at once (``lag``; None leaves it open): what it lets back decides
    how soon the ram runs, and the tests are about the rest.
    """
    text = (SHEETS / f"{name}.toml").read_text("utf-8")
    if lag is not None:
        text = text.replace("[ram.delivery_valve]", f'[ram.delivery_valve]\nlag = "{lag}"')
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
