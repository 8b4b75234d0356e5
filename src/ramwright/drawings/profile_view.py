"""One view of a profile: how large lengths and heights are drawn, and the drawing of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ramwright.drawings.axes import DASHED, SMALL
from ramwright.drawings.canvas import Box, Canvas, Style, text_box, text_width
from ramwright.drawings.place import Room
from ramwright.drawings.profile_data import (
    ProfileData,
    ProfileHeight,
    ProfileLabels,
    ProfileLine,
    ProfilePlace,
)
from ramwright.drawings.profile_symbols import BOXES, draw_place
from ramwright.drawings.scales import Scale, extent, known, window
from ramwright.quantities import System, show

Array = NDArray[np.float64]
_ROUND: Final = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)
_HEADROOM: Final = 44.0
"""Pixels above the highest point for its symbol and words, and below the lowest for the ground."""
_FOOT: Final = 46.0


@dataclass(frozen=True, slots=True)
class Frame:
    """One view: stations ``low`` to ``high`` (m) in a box; both scales; how much larger heights are."""

    low: float
    high: float
    box: Box
    across: Scale
    up: Scale
    times: float


def make_frame(data: ProfileData, span: tuple[float, float], box: Box, *, closer: bool) -> Frame:
    """Lengths as large as the box allows, heights a round number of times larger, or both alike.

    The box is cut to the height needed. A steep profile is drawn true and stands amid the box. A
    ``closer`` view leaves the delivery line's head out.
    """
    length = max(span[1] - span[0], 1e-6)
    bottom, top = extent([*levels_within(data, span, closer=closer)])
    rise = max(top - bottom, 1e-6)
    room = box.bottom - box.top - _HEADROOM - _FOOT
    per_metre = min((box.right - box.left) / length, room / rise)
    times = round_times(room / (rise * per_metre))
    used = rise * per_metre * times
    middle, half = 0.5 * (box.left + box.right), 0.5 * length * per_metre
    low_y = box.top + _HEADROOM + used
    return Frame(
        span[0],
        span[1],
        Box(box.left, box.top, box.right, low_y + _FOOT),
        Scale(span[0], span[0] + length, middle - half, middle + half),
        Scale(bottom, bottom + rise, low_y, low_y - used),
        times,
    )


def levels_within(data: ProfileData, span: tuple[float, float], *, closer: bool) -> Iterator[Array | float]:
    """Every level drawn over a span of stations."""
    graded = [line for line in data.lines if not (closer and line.kind == "delivery")]
    pairs = [data.ground(), *(line.pipe() for line in data.lines), *(line.grade() for line in graded)]
    for x, y in pairs:
        yield window(x, {"y": y}, *span)[1]["y"]
    yield from (place.level for place in data.places if span[0] <= place.station <= span[1])


def round_times(most: float) -> float:
    """The largest round number not above ``most``, at least 1."""
    if most < 1.0:
        return 1.0
    power = 10.0 ** np.floor(np.log10(most))
    return float(max(r * power for r in _ROUND if r * power <= most * (1.0 + 1e-9)))


@dataclass(frozen=True, slots=True, eq=False)
class Section:
    """What every part of one view needs: sheet, scales, what is told, what is taken, in which units.

    ``elsewhere`` is the span told in a closer view; ``closer`` whether this is that view.
    """

    canvas: Canvas
    frame: Frame
    data: ProfileData
    labels: ProfileLabels
    units: System
    elsewhere: tuple[float, float] | None = None
    closer: bool = False
    room: Room = field(default_factory=Room)

    def cut(self, x: Array, y: Array) -> tuple[Array, Array]:
        """A line within the frame, in pixels."""
        at, columns = window(x, {"y": y}, self.frame.low, self.frame.high)
        return self.frame.across.all(at), self.frame.up.all(columns["y"])

    def symbol_box(self, place: ProfilePlace) -> Box:
        """Room of a place's symbol; a tank reaches down to the lowest pipe that ends in it."""
        x, y = self.frame.across(place.station), self.frame.up(place.level)
        left, top, right, bottom = BOXES[place.kind]
        floor = y + bottom
        if place.kind in {"drive_tank", "tank"}:
            ends = [
                self.frame.up(float(levels[end])) + 6.0
                for stations, levels in (line.pipe() for line in self.data.lines)
                for end in ((0, -1) if len(stations) else ())
                if left < self.frame.across(float(stations[end])) - x < right
            ]
            floor = min(max(floor, *ends, floor), self.frame.box.bottom)
        return Box(x + left, y + top, x + right, floor)

    def told_here(self, *stations: float) -> bool:
        """Whether what lies at all these stations is in this view, and not left to the closer one."""
        inside = all(self.frame.low <= at <= self.frame.high for at in stations)
        return inside and not (
            self.elsewhere and all(self.elsewhere[0] <= at <= self.elsewhere[1] for at in stations)
        )

    def write(
        self, words: str, style: Style, spots: list[tuple[float, float]], *, spare: bool = False
    ) -> None:
        """Write words at the best of some places (left edge, base line), pushed into the frame.

        Words that can be spared are left out where they would cross something.
        """
        size = text_box(0.0, 0.0, words, style)
        edge = self.frame.box
        outer = Box(edge.left - 10.0, edge.top, edge.right + 10.0, edge.bottom - 4.0)
        boxes = []
        for left, base in spots:
            x = max(min(left, outer.right - size.right), outer.left)
            y = min(max(base, outer.top - size.top), outer.bottom - size.bottom)
            boxes.append(Box(x, y + size.top, x + size.right, y + size.bottom))
        if spare:
            boxes = [box for box in boxes if self.room.cost(box) == 0.0]
        if not boxes:
            return
        box, _ = self.room.best(boxes, order=0.05)
        self.canvas.text(box.left, box.top - size.top, words, style)


def draw_section(section: Section) -> None:
    """Ground, grade lines, pipes, heights, places and their names."""
    canvas, frame, data, room = section.canvas, section.frame, section.data, section.room
    _draw_ground(section)
    for line in data.lines:
        if not (section.closer and line.kind == "delivery"):
            across, up = section.cut(*line.grade())
            canvas.line(across, up, canvas.theme.water, width=1.5, dash=DASHED)
            room.avoid(across, up)
            _draw_suction(section, line)
    for line in data.lines:
        across, up = section.cut(*line.pipe())
        drive = line.kind == "drive"
        canvas.line(
            across, up, canvas.theme.ink if drive else canvas.theme.water, width=3.4 if drive else 2.4
        )
        room.avoid(across, up)
    heights = [height for height in data.heights if _is_told(section, height)]
    for height in heights:
        _draw_height(section, height)
    inside = [
        place for place in data.places if frame.low <= place.station <= frame.high and known(place.level)
    ]
    for place in inside:
        x, y = frame.across(place.station), frame.up(place.level)
        left, top, right, bottom = section.symbol_box(place)
        draw_place(canvas, place.kind, x, y, floor=bottom)
        room.take(Box(left, top, right, bottom))
    for place in inside:
        if place.kind == "ram" or section.told_here(place.station):
            _name_place(section, place)
    for height in heights:
        _name_height(section, height)
    for line in data.lines:
        _name_line(section, line)


def _is_told(section: Section, height: ProfileHeight) -> bool:
    """Whether a height belongs into this view: the closer one takes what it can show whole."""
    if not (known(height.low) and known(height.high)):
        return False
    if section.closer:
        return section.told_here(height.station, height.low_station, height.high_station)
    return section.told_here(height.station) or section.told_here(height.low_station, height.high_station)


def _upright(section: Section, height: ProfileHeight) -> float:
    """Where the upright of a height stands: at its station, or beside a symbol that stands there."""
    frame = section.frame
    x = frame.across(height.station)
    low, high = sorted((frame.up(height.low), frame.up(height.high)))
    for place in section.data.places:
        box = section.symbol_box(place).grown(8.0)
        if low <= box.bottom and box.top <= high and box.left < x < box.right:
            x = box.right if x > frame.across(place.station) else box.left
    return x


def _draw_ground(section: Section) -> None:
    x, y = section.cut(*section.data.ground())
    section.canvas.area(x, np.full_like(y, section.frame.box.bottom), y, section.canvas.theme.earth)
    section.canvas.line(x, y, section.canvas.theme.soft, width=1.0)
    section.room.avoid(x, y)


def _draw_suction(section: Section, line: ProfileLine) -> None:
    """Upright hatching between a pipe and the grade line where that lies below it."""
    at, pipe, grade = line.suction()
    if not len(at):
        return
    frame, theme = section.frame, section.canvas.theme
    for x in np.arange(frame.across.start, frame.across.end, 4.0).tolist():
        station = frame.low + (x - frame.across.start) / frame.across.per_unit
        upper = np.interp(station, at, pipe)
        lower = np.interp(station, at, grade, left=np.nan, right=np.nan)
        if lower < upper:
            ends = (frame.up(float(upper)), frame.up(float(lower)))
            section.canvas.line((x, x), ends, theme.caution, width=1.2)


def _draw_height(section: Section, height: ProfileHeight) -> None:
    """An upright with arrow heads between two levels, and thin lines to where the levels are."""
    canvas, frame, theme = section.canvas, section.frame, section.canvas.theme
    x, low, high = _upright(section, height), frame.up(height.low), frame.up(height.high)
    for level, station in ((low, height.low_station), (high, height.high_station)):
        ends = sorted((x, min(max(frame.across(station), frame.box.left), frame.box.right)))
        canvas.line(ends, (level, level), theme.soft, width=1.0, dash=(1.5, 3.0))
        section.room.avoid(ends, (level, level), weight=0.3)
    canvas.line((x, x), (low, high), theme.ink, width=1.2)
    section.room.avoid((x, x), (low, high))
    for tip, way in ((low, -1.0), (high, 1.0)):
        if abs(low - high) > 20.0:
            head = np.array([(x, tip), (x - 3.5, tip + 8.0 * way), (x + 3.5, tip + 8.0 * way)])
            canvas.polygon(head, theme.ink)


def _name_height(section: Section, height: ProfileHeight) -> None:
    """Words and value of a height beside its upright."""
    frame = section.frame
    x, low, high = _upright(section, height), frame.up(height.low), frame.up(height.high)
    words = height.words.replace("{value}", show(height.high - height.low, "head", section.units))
    style = Style(SMALL, section.canvas.theme.ink, bold=True)
    wide = text_width(words, style.size, style.bold)
    spots = [
        (side, low + share * (high - low) + 0.3 * SMALL)
        for share in (0.5, 0.35, 0.65, 0.2, 0.8, -0.3, 1.3)
        for side in (x - wide - 7.0, x + 7.0)
    ]
    section.write(words, style, spots)


def _name_place(section: Section, place: ProfilePlace) -> None:
    """Name of a place near its symbol."""
    if not place.words:
        return
    theme, frame = section.canvas.theme, section.frame
    x = frame.across(place.station)
    style = Style(SMALL, theme.caution if place.kind == "air" else theme.ink)
    wide = text_width(place.words, style.size)
    left, top, right, bottom = section.symbol_box(place)
    lefts = (x - 0.5 * wide, right + 6.0, left - 6.0 - wide, x - 0.2 * wide, x - 0.8 * wide)
    bases = (top - 7.0, 0.5 * (top + bottom) + 4.0, bottom + SMALL + 4.0)
    near = [(lefts[0], bases[0]), (lefts[1], bases[1]), (lefts[2], bases[1]), (lefts[0], bases[2])]
    near += [(at, base) for base in (bases[0], bases[2]) for at in lefts[1:]]
    far = [(at, base + dy) for dy in (-16.0, 16.0, -32.0, 32.0, -48.0) for base in bases[::2] for at in lefts]
    section.write(place.words, style, near + far)


def _name_line(section: Section, line: ProfileLine) -> None:
    """Name of a line beside it, near its middle."""
    labels = section.labels
    words = {"supply": labels.supply, "drive": labels.drive, "delivery": labels.delivery}[line.kind]
    x, y = section.cut(*line.pipe())
    if not words or len(x) < 2 or not section.told_here(*line.pipe()[0][[0, -1]]):
        return
    style = Style(SMALL, section.canvas.theme.ink)
    wide = text_width(words, style.size)
    spots = []
    for shift in (6.0, 14.0, 26.0, 40.0):
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
            at = float(x[0] + share * (x[-1] - x[0]))
            level = float(np.interp(at, x, y))
            for left in (at - wide - 6.0, at + 6.0, at - 0.5 * wide):
                spots += [(left, level - shift), (left, level + shift + 0.8 * SMALL)]
    section.write(words, style, spots, spare=True)
