"""``ramwright profile``: the lines of a sheet, station by station, and drawn to scale."""

from __future__ import annotations

from pathlib import Path

import click

from ramwright.cli.appraise import SHEET
from ramwright.cli.settings import Settings, units_option


@click.command()
@SHEET
@units_option
@click.option("--json", "as_json", is_flag=True, help="One JSON object on standard output, SI units.")
@click.option(
    "--picture",
    type=click.Path(dir_okay=False, path_type=Path),
    help="New SVG or PNG file for the picture, by its ending.",
)
@click.option("--narrow", is_flag=True, help="Picture for a phone's width.")
@click.option("--dark", is_flag=True, help="Picture on a dark ground.")
@click.pass_obj
def profile(
    settings: Settings,
    sheet: Path,
    units: str | None,
    as_json: bool,
    picture: Path | None,
    narrow: bool,
    dark: bool,
) -> None:
    """Show the lines on SHEET: station, level, head and pressure, and what stands where."""
    from ramwright.cli.progress import Bar, compiling
    from ramwright.errors import InputError
    from ramwright.services import appraise_sheet
    from ramwright.services.profile import picture_of_profile, profile_answer, tables_of

    settings.choose(units=units)
    if picture is not None and picture.suffix.lower() not in (".svg", ".png"):
        raise InputError("picture_ending", field="--picture", value=str(picture))
    compiling(settings.language)
    with Bar(settings.language) as bar:
        found = appraise_sheet(sheet, draws=_DRAWS, progress=bar.step)
    system = settings.units or found.site.site.units or "us"
    if as_json:
        import json

        said = profile_answer(found, system=system, language=settings.language)
        click.echo(json.dumps(said, indent=2, allow_nan=False))
    else:
        from ramwright.wording.profile import tell_profile

        for line in tell_profile(found.site.site.name, tables_of(found), system, settings.language):
            click.echo(line)
    if picture is not None:
        from ramwright.cli.files import write_new
        from ramwright.drawings import DARK, LIGHT

        drawn = picture_of_profile(
            found,
            units=system,
            language=settings.language,
            theme=DARK if dark else LIGHT,
            width="phone" if narrow else "desktop",
        )
        content = drawn.svg() if picture.suffix.lower() == ".svg" else drawn.png()
        write_new(picture, content, settings, option="--picture")
        from ramwright.wording.mishap import wrote

        click.echo(wrote(picture, settings.language), err=as_json)


#: Enough for the spread of the pressures told; the answer itself is ``ramwright appraise``'s.
_DRAWS = 100
