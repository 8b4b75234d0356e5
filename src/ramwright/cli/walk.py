"""``ramwright walk``: places from the first walk, ranked."""

from __future__ import annotations

from pathlib import Path

import click

from ramwright.cli.appraise import SHEET
from ramwright.cli.settings import Settings, units_option


@click.command()
@SHEET
@units_option
@click.pass_obj
def walk(settings: Settings, sheet: Path, units: str | None) -> None:
    """Rank the intakes and ram spots of the walk on SHEET, before any level is set up."""
    from ramwright.services.reduce_sheet import walk_sheet
    from ramwright.wording.errors import sentence
    from ramwright.wording.walked import tell_walk

    settings.choose(units=units)
    walked = walk_sheet(sheet)
    system = settings.units or walked.site.site.units or "us"
    for note in walked.site.notes_on_input:
        click.echo(sentence(note, system, settings.language), err=True)
    click.echo(tell_walk(walked.site.site.name, walked.walk, system, settings.language), nl=False)
