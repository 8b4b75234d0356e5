"""Pictures of what was found, with words in the reader's language and units."""

from __future__ import annotations

import csv
import io

from ramwright.drawings import LIGHT, BeatData, BeatLabels, Picture, Theme, Width, beat_picture, with_traces
from ramwright.quantities import System
from ramwright.ram import Beat
from ramwright.ram.events import find_events
from ramwright.services.appraise_sheet import SimulatedBeat
from ramwright.wording.beat import CAPTION, COLUMNS, EVENTS, LABELS, STAGES, STANDS
from ramwright.wording.blanks import fill
from ramwright.wording.translate import translate


def _data(simulated: SimulatedBeat) -> BeatData:
    beat, system = simulated.beat, simulated.system
    events = tuple(find_events(beat.trace, stroke=system.waste_valve.stroke_m))
    return with_traces(beat.trace, fall=system.fall_m, lift=system.delivery_line.lift_m, events=events)


def picture_of_beat(
    simulated: SimulatedBeat,
    *,
    units: System,
    language: str | None = None,
    theme: Theme = LIGHT,
    width: Width = "desktop",
) -> Picture:
    """The picture of a simulated beat."""
    result = simulated.beat.result
    template = CAPTION if result.beats_per_min > 0.0 else STANDS
    values = {
        "place": simulated.site.site.name,
        "beats": f"{result.beats_per_min:.0f}",
        "waste": result.waste_per_beat,
        "delivered": result.delivered_per_beat,
    }
    labels = BeatLabels(
        **{name: translate(words, language) for name, words in LABELS.items()},
        caption=fill(translate(template, language), values, units, language),
        stages=tuple(translate(words, language) for words in STAGES),
        events={key: translate(words, language) for key, words in EVENTS.items()},
    )
    return beat_picture(_data(simulated), labels, units=units, theme=theme, width=width)


def traces_csv(beat: Beat) -> str:
    """The traces of a beat as CSV, SI, one row a time step."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS.values())
    columns = [beat.trace[name].tolist() for name in COLUMNS]
    writer.writerows([f"{value:.8g}" for value in row] for row in zip(*columns, strict=True))
    return out.getvalue()
