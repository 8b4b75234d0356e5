"""``ramwright start``: how to start the ram, step by step."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from ramwright.cli.appraise import SHEET
from ramwright.cli.settings import Settings, units_option

if TYPE_CHECKING:
    from ramwright.quantities import System
    from ramwright.services.start_sheet import StartOfSheet

_NEW = click.Path(dir_okay=False, path_type=Path)
_OLD = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command()
@SHEET
@units_option
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output, SI units.")
@click.option(
    "--profile", type=_OLD, help="CSV file of the delivery line from ram to tank: stations and levels."
)
@click.option("--picture", type=_NEW, help="New SVG or PNG file for the picture, by its ending.")
@click.option("--narrow", is_flag=True, help="Picture for a phone's width.")
@click.option("--dark", is_flag=True, help="Picture on a dark ground.")
@click.pass_obj
def start(
    settings: Settings,
    sheet: Path,
    units: str | None,
    as_json: bool,
    profile: Path | None,
    picture: Path | None,
    narrow: bool,
    dark: bool,
) -> None:
    """Plan how to start the ram on SHEET: purging, filling, hand presses, up to the tank."""
    from ramwright.cli.progress import Bar, compiling
    from ramwright.errors import InputError
    from ramwright.services.start_sheet import start_answer, start_sheet

    settings.choose(units=units)
    if picture is not None and picture.suffix.lower() not in (".svg", ".png"):
        raise InputError("picture_ending", field="--picture", value=str(picture))
    ground = None if profile is None else profile.read_bytes()
    compiling(settings.language)
    with Bar(settings.language) as bar:
        found = start_sheet(sheet, profile=ground, progress=bar.step)
    system = settings.units or found.site.site.units or "us"
    if picture is not None:
        _draw(found, picture, system, settings, narrow=narrow, dark=dark)
    if as_json:
        import json

        click.echo(json.dumps(start_answer(found, system=system, language=settings.language), indent=2))
        return
    from ramwright.wording.errors import sentence
    from ramwright.wording.startup_told import tell_start

    for note in found.site.notes_on_input:
        click.echo(sentence(note, system, settings.language), err=True)
    click.echo(tell_start(found.plan, found.site.site.name, system, settings.language), nl=False)
    from ramwright.wording.mishap import wrote

    for written in settings.written:
        click.echo(wrote(written, settings.language))


def _draw(
    found: StartOfSheet, picture: Path, system: System, settings: Settings, *, narrow: bool, dark: bool
) -> None:
    from ramwright.cli.files import write_new
    from ramwright.drawings import DARK, LIGHT
    from ramwright.services.start_sheet import picture_of_start

    drawn = picture_of_start(
        found,
        units=system,
        language=settings.language,
        theme=DARK if dark else LIGHT,
        width="phone" if narrow else "desktop",
    )
    content = drawn.svg() if picture.suffix.lower() == ".svg" else drawn.png()
    write_new(picture, content, settings, option="--picture")
