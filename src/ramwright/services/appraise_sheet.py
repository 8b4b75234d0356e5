"""From a sheet's file to its appraisal, and to one beat in detail."""

from __future__ import annotations

from pathlib import Path

from ramwright.appraise import Appraisal, Progress, appraise, builder, choose_setting, install, middle
from ramwright.ram import Beat, run_beat
from ramwright.site import Site, read_sheet


def appraise_sheet(path: Path, *, draws: int = 300, progress: Progress | None = None) -> Appraisal:
    """Read a sheet and appraise it. Raises ``InputError`` for what cannot be used."""
    return appraise(read_sheet(path), draws=draws, progress=progress)


def show_beat(path: Path, *, beats: float = 2.0) -> tuple[Site, Beat]:
    """Read a sheet and simulate its ram in detail, every value at its middle; the site and the beat."""
    site = read_sheet(path)
    installation, _ = choose_setting(install(site))
    return site, run_beat(builder(installation).system(middle(installation)), beats=beats)
