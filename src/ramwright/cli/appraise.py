"""``ramwright appraise``: will a ram run here, how much water will it lift, and why."""

from __future__ import annotations

from pathlib import Path

import click

from ramwright.cli.settings import Settings, units_option

SHEET = click.argument("sheet", type=click.Path(path_type=Path))


@click.command()
@SHEET
@units_option
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output, SI units.")
@click.option(
    "--draws", type=click.IntRange(10, 20_000), default=300, show_default=True, help="How many draws are run."
)
@click.pass_obj
def appraise(settings: Settings, sheet: Path, units: str | None, as_json: bool, draws: int) -> None:
    """Appraise the installation on SHEET: does it run, what does it lift, what is to mind."""
    from ramwright.cli.progress import Bar, compiling
    from ramwright.services import answer, appraise_sheet

    settings.choose(units=units)
    compiling(settings.language)
    with Bar(settings.language) as bar:
        found = appraise_sheet(sheet, draws=draws, progress=bar.step)
    system = settings.units or found.site.site.units or "us"
    for note in found.site.notes_on_input:
        from ramwright.wording.errors import sentence

        click.echo(sentence(note, system, settings.language), err=True)
    if as_json:
        import json

        said = answer(found, system=system, language=settings.language)
        click.echo(json.dumps(said, indent=2, allow_nan=False))
        return
    from ramwright.wording.told import tell

    click.echo(tell(found, system, settings.language), nl=False)
