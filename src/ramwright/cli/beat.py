"""``ramwright beat``: one ram's beat in detail, as lines, as traces and as a picture."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from ramwright.cli.appraise import SHEET
from ramwright.cli.settings import Settings, units_option

if TYPE_CHECKING:
    from ramwright.quantities import System
    from ramwright.services import SimulatedBeat

_NEW = click.Path(dir_okay=False, path_type=Path)


@click.command()
@SHEET
@units_option
@click.option("--traces", type=_NEW, help="New CSV file for the traces, SI.")
@click.option("--picture", type=_NEW, help="New SVG or PNG file for the picture, by its ending.")
@click.option("--narrow", is_flag=True, help="Picture for a phone's width.")
@click.option("--dark", is_flag=True, help="Picture on a dark ground.")
@click.pass_obj
def beat(
    settings: Settings,
    sheet: Path,
    units: str | None,
    traces: Path | None,
    picture: Path | None,
    narrow: bool,
    dark: bool,
) -> None:
    """Simulate one beat of the ram on SHEET in detail, every reading at its middle."""
    from ramwright.cli.files import write_new
    from ramwright.cli.progress import compiling
    from ramwright.errors import InputError
    from ramwright.services import simulate_beat

    settings.choose(units=units)
    if picture is not None and picture.suffix.lower() not in (".svg", ".png"):
        raise InputError("picture_ending", field="--picture", value=str(picture))
    compiling(settings.language)
    simulated = simulate_beat(sheet)
    system = settings.units or simulated.site.site.units or "us"
    for line in _lines(simulated, system, settings.language):
        click.echo(line)
    if traces is not None:
        from ramwright.services.pictures import traces_csv

        write_new(traces, traces_csv(simulated.beat), settings, option="--traces")
    if picture is not None:
        from ramwright.drawings import DARK, LIGHT
        from ramwright.services.pictures import picture_of_beat

        drawn = picture_of_beat(
            simulated,
            units=system,
            language=settings.language,
            theme=DARK if dark else LIGHT,
            width="phone" if narrow else "desktop",
        )
        content = drawn.svg() if picture.suffix.lower() == ".svg" else drawn.png()
        write_new(picture, content, settings, option="--picture")
    from ramwright.wording.mishap import wrote

    for written in settings.written:
        click.echo(wrote(written, settings.language))


def _lines(simulated: SimulatedBeat, system: System, language: str | None) -> list[str]:
    """What the beat comes to, a line a figure."""
    from ramwright.wording.beat import LINES
    from ramwright.wording.blanks import fill
    from ramwright.wording.outcomes import OUTCOMES
    from ramwright.wording.translate import translate

    def say(name: str, **values: object) -> str:
        return "  " + fill(translate(LINES[name], language), values, system, language)

    found, result = simulated.beat, simulated.beat.result
    name, told = OUTCOMES[result.outcome]
    lines = [f"{simulated.site.site.name}: {translate(name, language)}"]
    if not result.beats_per_min > 0.0:
        return [*lines, translate(told, language)]
    lines += [
        say("beats", value=f"{result.beats_per_min:.0f}"),
        say("waste", value=result.waste_per_beat),
        say("delivered", value=result.delivered_per_beat),
        say("recoil", value=result.recoil_per_beat),
        say("closing", value=result.closing_velocity),
        say("peak", value=float(found.highest.max()), at=found.peak_station),
        say("low", value=float(found.lowest.min()), at=found.low_station),
        say("vessel", low=result.vessel_low, high=result.vessel_high),
    ]
    if found.wave_speed_change > 0.0:
        lines.append(say("adjusted", value=found.wave_speed_change))
    return lines
