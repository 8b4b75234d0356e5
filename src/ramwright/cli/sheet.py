"""``ramwright sheet``: a starter sheet to fill in."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

from ramwright.cli.settings import Settings, units_option


@click.command()
@units_option
@click.option(
    "--out",
    type=click.Path(dir_okay=False, path_type=Path),
    default=Path("site.toml"),
    show_default=True,
    help="File to write.",
)
@click.pass_obj
def sheet(settings: Settings, units: str | None, out: Path) -> None:
    """Write a starter sheet to fill in with a site's readings."""
    from ramwright.cli.files import write_new
    from ramwright.site import starter_sheet
    from ramwright.wording.mishap import started

    settings.choose(units=units)
    write_new(out, starter_sheet(settings.units or "us"), settings)
    command = f"ramwright appraise {shlex.quote(str(out))}"
    click.echo(started(out, command, settings.language))
