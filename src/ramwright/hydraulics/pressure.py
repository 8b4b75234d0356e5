"""What a pipe must hold at each station: standing head and surge against its rating as warmed and joined."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ramwright.geometry.profile import FloatArray, Profile
from ramwright.hydraulics._checks import between, finite, not_negative, positive
from ramwright.hydraulics.limits import Held, Side
from ramwright.hydraulics.line import joint_stations
from ramwright.hydraulics.water import STANDARD_GRAVITY, Water
from ramwright.hydraulics.wave_speed import joukowsky_head


@dataclass(frozen=True, slots=True)
class RatedPipe:
    """A stretch of one pipe: ``length`` m.

    ``rated_pressure`` Pa gauge at its reference temperature; ``temperature_factor`` and ``joint_factor``
    (threads cut in plastic, clamps) 0 to 1, both taken off the rating.
    """

    length: float
    rated_pressure: float
    temperature_factor: float = 1.0
    joint_factor: float = 1.0

    def __post_init__(self) -> None:
        positive("pipe.length", self.length)
        positive("pipe.rated_pressure", self.rated_pressure)
        between("pipe.temperature_factor", self.temperature_factor, 0.0, 1.0)
        between("pipe.joint_factor", self.joint_factor, 0.0, 1.0)

    @property
    def allowed_pressure(self) -> float:
        """Pressure it may see here, Pa gauge."""
        return self.rated_pressure * self.temperature_factor * self.joint_factor


@dataclass(frozen=True, slots=True, eq=False)
class PressureCheck:
    """Heads along a line against what its pipes may hold; arrays (n,).

    ``stations`` m; ``static_head``, ``peak_head``, ``lowest_head`` and ``allowed_head`` m of water, gauge;
    ``rules`` the station with the largest share of its limit in use, or the least pressure where that is
    beyond boiling; ``static_alone`` whether standing pressure breaks the limit by itself.
    """

    stations: FloatArray
    static_head: FloatArray
    peak_head: FloatArray
    lowest_head: FloatArray
    allowed_head: FloatArray
    rules: Held
    lowest: Held
    static_alone: bool


def shut_off_head(*, fall: float, wave_speed: float, velocity: float) -> float:
    """Return the head a ram climbs to against a closed delivery, m above the seat: H + a V0 / g.

    ``fall`` H m, ``wave_speed`` a m/s, ``velocity`` V0 m/s in the drive pipe when the waste valve closes.
    Joukowsky 1898; reached over many beats, friction and the valve's leak left out. Raises ``InputError``.
    """
    return not_negative("fall", fall) + joukowsky_head(wave_speed, not_negative("velocity", velocity))


def check_pressure(
    profile: Profile,
    pipes: Sequence[RatedPipe],
    water: Water,
    *,
    standing_level: float,
    surge_head: float = 0.0,
    drop_head: float | None = None,
) -> PressureCheck:
    """Return the pressures along ``profile`` at rest, with a surge on top, against its pipes' ratings.

    ``standing_level`` m, to which water would stand in an open tube: the source, the tank, or for a shut
    delivery line the seat plus ``shut_off_head``; ``surge_head`` m added at its peak and ``drop_head`` m
    (default the same) taken off at its lowest, both taken at full height everywhere; ``pipes`` in order,
    together as long as the line. Hydrostatics. Raises ``InputError``.
    """
    surge = not_negative("surge_head", surge_head)
    drop = surge if drop_head is None else not_negative("drop_head", drop_head)
    stations, allowed = _allowed(profile, pipes, water)
    levels = np.interp(stations, profile.stations, profile.levels)
    static = finite("standing_level", standing_level) - levels
    peak, low = static + surge, static - drop
    shares = np.where(allowed > 0.0, peak / np.maximum(allowed, 1e-12), np.inf)
    worst, least = int(np.argmax(shares)), int(np.argmin(low))
    return PressureCheck(
        stations=stations,
        static_head=static,
        peak_head=peak,
        lowest_head=low,
        allowed_head=allowed,
        rules=Held(
            "pressure", float(peak[worst]), float(allowed[worst]), Side.AT_MOST, float(stations[worst])
        ),
        lowest=Held(
            "boiling", float(low[least]), water.vapour_gauge_head, Side.AT_LEAST, float(stations[least])
        ),
        static_alone=bool(np.any(static > allowed)),
    )


def _allowed(profile: Profile, pipes: Sequence[RatedPipe], water: Water) -> tuple[FloatArray, FloatArray]:
    """Return profile points and joints (m), and the lesser allowed head of the pipes meeting there (m)."""
    ends = joint_stations(profile, [p.length for p in pipes], field="pipes")
    stations = np.unique(np.concatenate((profile.stations, ends)))
    heads = np.array([p.allowed_pressure for p in pipes]) / (water.density * STANDARD_GRAVITY)
    before = np.clip(np.searchsorted(ends, stations, side="left") - 1, 0, len(pipes) - 1)
    after = np.clip(np.searchsorted(ends, stations, side="right") - 1, 0, len(pipes) - 1)
    return stations, np.minimum(heads[before], heads[after])
