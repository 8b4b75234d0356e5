"""From a sheet's file to its appraisal, and to one beat in detail."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ramwright.appraise import Appraisal, Progress, appraise, builder, choose_setting, install, middle
from ramwright.ram import Beat, RamSystem, run_beat
from ramwright.site import Site, read_sheet
from ramwright.site.where import naming_lines


def appraise_sheet(path: Path, *, draws: int = 300, progress: Progress | None = None) -> Appraisal:
    """Read a sheet and appraise it. Raises ``InputError`` for what cannot be used."""
    with naming_lines(path):
        return appraise(read_sheet(path), draws=draws, progress=progress)


@dataclass(frozen=True, slots=True)
class SimulatedBeat:
    """A site's ram run in detail, every reading at its middle: what was run and what it did."""

    site: Site
    system: RamSystem
    beat: Beat


def simulate_beat(path: Path, *, beats: float = 3.0) -> SimulatedBeat:
    """Read a sheet and run its ram in detail for its last ``beats`` beats. Raises ``InputError``."""
    with naming_lines(path):
        site = read_sheet(path)
        installation, _ = choose_setting(install(site))
        system = builder(installation).system(middle(installation))
        return SimulatedBeat(site, system, run_beat(system, beats=beats))
