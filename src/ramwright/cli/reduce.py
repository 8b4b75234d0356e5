"""``ramwright reduce``: from the readings of the field book to fall, lift and flow."""

from __future__ import annotations

from pathlib import Path

import click

from ramwright.cli.appraise import SHEET
from ramwright.cli.settings import Settings, units_option


@click.command()
@SHEET
@units_option
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output, SI units.")
@click.pass_obj
def reduce(settings: Settings, sheet: Path, units: str | None, as_json: bool) -> None:
    """Work out fall, lift and source flow from the visits on SHEET, and say what does not fit."""
    from ramwright.services.reduce_sheet import reduce_sheet, reduction_answer
    from ramwright.wording.errors import sentence

    settings.choose(units=units)
    reduced = reduce_sheet(sheet)
    system = settings.units or reduced.site.site.units or "us"
    for note in reduced.site.notes_on_input:
        click.echo(sentence(note, system, settings.language), err=True)
    if as_json:
        import json

        said = reduction_answer(reduced, system=system, language=settings.language)
        click.echo(json.dumps(said, indent=2, allow_nan=False))
        return
    from ramwright.wording.reduced import tell_reduction

    name = reduced.site.site.name
    click.echo(tell_reduction(name, reduced.found, system, settings.language), nl=False)
