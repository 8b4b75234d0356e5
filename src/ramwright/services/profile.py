"""The lines of a sheet: their tables as data, and their profile as a picture."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from ramwright.appraise import Appraisal
from ramwright.appraise.drive_line import piece_at
from ramwright.appraise.laid import LaidLine
from ramwright.appraise.line_table import LineTable, line_tables
from ramwright.drawings import (
    LIGHT,
    Picture,
    ProfileData,
    ProfileHeight,
    ProfileLabels,
    ProfileLine,
    ProfilePlace,
    Theme,
    Width,
    profile_picture,
)
from ramwright.drawings.profile_data import LineKind
from ramwright.quantities import System
from ramwright.wording.profile import PICTURE, PLACES, standing
from ramwright.wording.translate import translate

SCHEMA_VERSION = 1
#: Share of its length in which a buried line comes out of the ground at its ends.
_COMES_OUT = 0.03
Array = NDArray[np.float64]
_KINDS: dict[str, LineKind] = {"supply_line": "supply", "drive_pipe": "drive", "delivery_line": "delivery"}


def tables_of(appraisal: Appraisal) -> tuple[LineTable, ...]:
    """The tables of an appraisal's lines, in the order of the water."""
    return line_tables(appraisal.installation, appraisal.layout)


def profile_answer(
    appraisal: Appraisal, *, system: System = "metric", language: str | None = None
) -> dict[str, Any]:
    """The lines as plain data, SI throughout; only the words for what stands where use ``system``."""
    return {
        "schema_version": SCHEMA_VERSION,
        "site": appraisal.site.site.name,
        "fall_m": appraisal.installation.fall.value,
        "lift_m": appraisal.installation.lift.value,
        "lines": [_line(table, system, language) for table in tables_of(appraisal)],
    }


def _line(table: LineTable, system: System, language: str | None) -> dict[str, Any]:
    return {
        "name": table.name,
        "surveyed": table.surveyed,
        "heights_poor": table.poor,
        "length_m": table.length,
        "flow_m3_s": table.flow,
        "state": table.state,
        "points": [
            {
                "station_m": p.station,
                "level_m": p.level,
                "head_m": p.head,
                "pressure_m": p.pressure,
                "highest_pressure_m": p.highest,
                "allowed_pressure_m": p.allowed,
                "what": [
                    {"code": s.code, "text": standing(s.code, s.values, system, language)} for s in p.stands
                ],
            }
            for p in table.points
        ],
    }


def picture_of_profile(
    appraisal: Appraisal,
    *,
    units: System,
    language: str | None = None,
    theme: Theme = LIGHT,
    width: Width = "desktop",
) -> Picture:
    """The profile of an appraisal's lines, to scale."""
    words = {name: translate(text, language) for name, text in PICTURE.items()}
    labels = ProfileLabels(**words, caption=appraisal.site.site.name)
    data = _Unrolled(appraisal, language).data()
    return profile_picture(data, labels, units=units, theme=theme, width=width)


class _Unrolled:
    """Lays the lines out one after another over level ground distance."""

    def __init__(self, appraisal: Appraisal, language: str | None) -> None:
        layout = appraisal.layout
        supply = (layout.supply.laid,) if layout.supply is not None else ()
        self._laid: tuple[LaidLine, ...] = (*supply, layout.drive.laid, layout.delivery.laid)
        self._tables = {table.name: table for table in tables_of(appraisal)}
        self._i = appraisal.installation
        self._language = language
        self._starts: dict[str, float] = {}
        upto = 0.0
        for laid in self._laid:
            self._starts[laid.name] = upto
            upto += float(laid.profile.horizontal_distances[-1])

    def _at(self, laid: LaidLine, stations: Array) -> Array:
        """Level distances of stations of a line (m) along the whole way."""
        profile = laid.profile
        start = self._starts[laid.name]
        return np.asarray(start + np.interp(stations, profile.stations, profile.horizontal_distances))

    def _line(self, laid: LaidLine) -> ProfileLine:
        points = [p for p in self._tables[laid.name].points if p.head is not None]
        return ProfileLine(
            kind=_KINDS[laid.name],
            stations=self._at(laid, laid.profile.stations),
            levels=laid.profile.levels,
            grade_stations=self._at(laid, np.array([p.station for p in points])),
            grade_levels=np.array([p.head for p in points], dtype=np.float64),
        )

    def _ground(self) -> tuple[Array, Array]:
        """The ground over lines whose way was surveyed: as far over the pipe as it is buried.

        Where a line ends it comes out of the ground, to what stands there.
        """
        x: list[float] = []
        z: list[float] = []
        for laid in self._laid:
            if not laid.surveyed:
                continue
            inside, length = laid.profile.stations, laid.profile.length
            near = [_COMES_OUT * length, (1.0 - _COMES_OUT) * length]
            stations = np.unique(np.concatenate((inside, laid.joints[1:-1], near)))
            deep = np.array([piece_at(laid, s).buried or 0.0 for s in stations.tolist()])
            deep[[0, -1]] = 0.0
            x += self._at(laid, stations).tolist()
            z += (np.interp(stations, inside, laid.profile.levels) + deep).tolist()
        return np.array(x), np.array(z)

    def _places(self) -> tuple[ProfilePlace, ...]:
        def named(name: str) -> str:
            return translate(PLACES[name], self._language)

        i, drive, delivery = self._i, self._starts["drive_pipe"], self._starts["delivery_line"]
        found = [
            ProfilePlace(kind="drive_tank", station=drive, level=i.fall.value, words=named("drive_tank")),
            ProfilePlace(kind="ram", station=delivery, level=0.0, words=named("ram")),
        ]
        last = self._laid[-1]
        end = float(self._at(last, last.profile.stations[-1:])[0])
        found.append(
            ProfilePlace(kind="tank", station=end, level=float(last.profile.levels[-1]), words=named("tank"))
        )
        if self._laid[0].name == "supply_line":
            first = self._laid[0]
            level = float(first.profile.levels[0])
            found.insert(0, ProfilePlace(kind="intake", station=0.0, level=level, words=named("intake")))
        for laid in self._laid:
            for point in self._tables[laid.name].points:
                if any(s.code in ("air", "hump", "suction") for s in point.stands):
                    at = float(self._at(laid, np.array([point.station]))[0])
                    found.append(ProfilePlace(kind="air", station=at, level=point.level))
        return tuple(found)

    def data(self) -> ProfileData:
        """Everything the picture is drawn from."""
        i = self._i
        ground_x, ground_z = self._ground()
        drive, delivery = self._starts["drive_pipe"], self._starts["delivery_line"]
        last = self._laid[-1]
        top = int(np.argmax(last.profile.levels))
        top_at = float(self._at(last, last.profile.stations[top : top + 1])[0])
        return ProfileData(
            lines=tuple(self._line(laid) for laid in self._laid),
            ground_stations=ground_x,
            ground_levels=ground_z,
            places=self._places(),
            heights=(
                ProfileHeight(
                    words=translate(PLACES["fall"], self._language),
                    station=0.5 * (drive + delivery),
                    low=0.0,
                    low_station=delivery,
                    high=i.fall.value,
                    high_station=drive,
                ),
                ProfileHeight(
                    words=translate(PLACES["lift"], self._language),
                    station=delivery + 0.75 * (top_at - delivery),
                    low=0.0,
                    low_station=delivery,
                    high=i.lift.value,
                    high_station=top_at,
                ),
            ),
        )
