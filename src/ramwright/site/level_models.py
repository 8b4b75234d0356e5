"""Readings of level in the field book: level books, runs out and back, hoses, gauges, raised pipes, tapes."""

from typing import Annotated, ClassVar, Final, Self

from pydantic import Field, model_validator

from ramwright.errors import InputError
from ramwright.quantities import Reading
from ramwright.site.booked import Booked, Noted, RowPart, UnitOf
from ramwright.site.fields import Count, Name, RefusedError, Text, YesNo
from ramwright.site.listed import Listed
from ramwright.site.parts import one_of_two
from ramwright.site.points import Spot, Standing

MOST_LINES: Final = 1000
"""Rows of one book; a longer one is two books."""

Point = Annotated[Spot, Standing()]
Unit = Annotated[str, UnitOf("length")]
Staff = Annotated[Reading, Noted("length", "staff_reading")]
SightLength = Annotated[Reading, Noted("length", "sight_length")]
WaterHeight = Annotated[Reading, Noted("length", "water_over_point")]
Pressure = Annotated[Reading, Noted("pressure", "gauge_reading")]
Offset = Annotated[Reading, Noted("length", "offset")]
Lip = Annotated[Reading, Noted("length", "lip_height")]
LengthSpread = Annotated[Reading, Noted("length", "spread_length")]

HAND_LEVELS: Final = Listed(
    "instruments", ("height of a sight", "height of a step"), ("hand level", "eye height")
)
_LABEL: Final = "What to call it: who, which way. Its place on the sheet where left out."
_UNIT: Final = "Unit of every length below that has none of its own."
_NOTES: Final = "Anything worth remembering."


class BookRow(RowPart):
    """One line of a level book: where the staff stood and what was read on it."""

    point: Point = Field(description="Where the staff stood.")
    backsight: Staff | None = Field(None, description="First reading from a set-up.")
    intermediate: Staff | None = Field(None, description="Reading between the first and the last.")
    foresight: Staff | None = Field(None, description="Last reading from a set-up.")
    distance: SightLength | None = Field(
        None, description="From the level to the staff, for the intermediate sight or foresight."
    )
    backsight_distance: SightLength | None = Field(None, description="The same for the backsight.")
    level: Annotated[Reading, Noted("length", "booked_level")] | None = Field(
        None, description="The level you worked out yourself; it is compared."
    )


class TwoPeg(Booked):
    """A two-peg test: how far the line of sight is from level."""

    unit: Unit | None = Field(None, description=_UNIT)
    middle_a: Staff = Field(description="Reading on peg A from half way.")
    middle_b: Staff = Field(description="Reading on peg B from half way.")
    end_a: Staff = Field(description="Reading on peg A from near one end.")
    end_b: Staff = Field(description="Reading on peg B from the same place.")
    to_a: SightLength = Field(description="From there to peg A.")
    to_b: SightLength = Field(description="From there to peg B.")


class LevelBook(Booked):
    """A book of one run with one level and staff; it closes where it ends on its first point."""

    label: Name | None = Field(None, description=_LABEL)
    instrument: (
        Annotated[str, Listed("instruments", ("height of a sight",), ("builder's level", "hand level"))]
        | None
    ) = Field(None, description="What was looked through; its usual spread is taken.")
    unit: Unit | None = Field(None, description=_UNIT)
    spread: LengthSpread | None = Field(
        None, description="How far one reading may be off, if you know better than the table."
    )
    usual_distance: SightLength | None = Field(
        None, description="Usual distance to the staff, where a row has none."
    )
    notes: Text | None = Field(None, description=_NOTES)
    rows: Annotated[tuple[BookRow, ...], Field(min_length=2, max_length=MOST_LINES)] = Field(
        description="The lines of the book."
    )
    two_peg: TwoPeg | None = None


class HandSight(RowPart):
    """One level sight forward, from eye height to a staff; no reading where it met the ground."""

    reading: Staff | None = Field(None, description="Reading on the staff.")
    distance: SightLength | None = Field(None, description="From eye to staff.")


HandSights = Annotated[tuple[HandSight, ...], Field(max_length=MOST_LINES)]


class HandLevelRun(Booked):
    """A run with a hand level, or by stepping up in eye heights; out and, if you can, back."""

    label: Name | None = Field(None, description=_LABEL)
    start: Point = Field(description="Where the run out begins.")
    end: Point = Field(description="Where it ends.")
    instrument: (
        Annotated[
            str,
            Listed("instruments", ("height of a sight", "height of a step"), ("hand level", "eye height")),
        ]
        | None
    ) = Field(None, description="hand level if not said; eye height for stepping.")
    unit: Unit | None = Field(None, description=_UNIT)
    eye: Annotated[Reading, Noted("length", "eye_height")] = Field(
        description="Height of the eye, or of the boning rod, over the point stood on."
    )
    spread: LengthSpread | None = Field(
        None, description="How far one sight may be off, if you know better than the table."
    )
    steps: Count | None = Field(None, description="Eye heights stepped up, in place of out.")
    step_length: SightLength | None = Field(None, description="Usual length of a step or sight.")
    last_reading: Staff | None = Field(None, description="Reading on a staff at the last step.")
    notes: Text | None = Field(None, description=_NOTES)
    out: HandSights = Field((), description="Sights from start to end.")
    back: HandSights = Field((), description="Sights from end to start.")

    @model_validator(mode="after")
    def _steps_or_sights(self) -> Self:
        if self.steps and self.out:
            raise one_of_two("out", "steps")
        if not self.steps and not self.out:
            raise RefusedError(InputError("entry_missing", field="out", entry="out"))
        if self.last_reading is not None and not self.steps:
            raise RefusedError(InputError("needs_other", field="last_reading", missing="steps"))
        return self


class SlopeSight(RowPart):
    """One Abney sight forward along the slope."""

    length: Annotated[Reading, Noted("length", "slope_length")] = Field(description="Along the slope.")
    angle: Annotated[Reading, Noted("angle", "slope_angle")] = Field(description="Up positive.")
    target_above_eye: Offset | None = Field(
        None, description="How much higher the mark sighted is over its point than the eye over its own."
    )


SlopeSights = Annotated[tuple[SlopeSight, ...], Field(max_length=MOST_LINES)]


class AbneyRun(Booked):
    """A line of slope lengths and angles, out and, if you can, back."""

    label: Name | None = Field(None, description=_LABEL)
    start: Point = Field(description="Where the run out begins.")
    end: Point = Field(description="Where it ends.")
    unit: Unit | None = Field(None, description=_UNIT)
    angle_unit: Annotated[str, UnitOf("angle")] | None = Field(None, description="Unit of the angles: deg.")
    spread: Annotated[Reading, Noted("angle", "spread_angle")] | None = Field(
        None, description="How far one angle may be off, if you know better than the table."
    )
    notes: Text | None = Field(None, description=_NOTES)
    out: Annotated[tuple[SlopeSight, ...], Field(min_length=1, max_length=MOST_LINES)] = Field(
        description="Sights from start to end."
    )
    back: SlopeSights = Field((), description="Sights from end to start.")


class HoseRow(RowPart):
    """A filled hose laid once from one point to another: how high the water stands over each."""

    start: Point = Field(description="Where one end was held.")
    end: Point = Field(description="Where the other was held.")
    start_reading: WaterHeight = Field(description="Water over the first point.")
    end_reading: WaterHeight = Field(description="Water over the second.")


class Hose(Booked):
    """Set-ups of a water-filled hose."""

    label: Name | None = Field(None, description=_LABEL)
    unit: Unit | None = Field(None, description=_UNIT)
    spread: LengthSpread | None = Field(
        None,
        description="How far one difference may be off, if you know better than the table.",
    )
    notes: Text | None = Field(None, description=_NOTES)
    rows: Annotated[tuple[HoseRow, ...], Field(min_length=1, max_length=MOST_LINES)] = Field(
        description="The set-ups."
    )


class GaugeOnHose(Booked):
    """A pressure gauge at the low end of a filled hose or pipe whose other end is open at a water surface."""

    label: Name | None = Field(None, description=_LABEL)
    point: Point = Field(description="The point whose depth below the water is wanted.")
    water: Point = Field(description="The water surface the hose is open to.")
    instrument: (
        Annotated[str, Listed("instruments", ("share of full scale",), ("gauge class 1.6", "cheap gauge"))]
        | None
    ) = Field(None, description="Class of the gauge; gauge class 4 if not said.")
    full_scale: Annotated[Reading, Noted("pressure", "full_scale")] = Field(description="Its highest figure.")
    pressure_unit: Annotated[str, UnitOf("pressure")] | None = Field(
        None, description="Unit of every pressure below that has none of its own."
    )
    readings: Annotated[tuple[Pressure, ...], Field(min_length=1, max_length=MOST_LINES)] = Field(
        description="What it showed, once or several times."
    )
    zero: Pressure | None = Field(None, description="What it showed open to the air at the same height.")
    gauge_above_point: Offset | None = Field(
        None, description="How much higher the middle of the gauge is than the point."
    )
    air_purged: YesNo | None = Field(None, description="Whether all air was let out of the hose.")
    spread: Annotated[Reading, Noted("pressure", "spread_pressure")] | None = Field(
        None, description="How closely the needle was read."
    )
    notes: Text | None = Field(None, description=_NOTES)


class RaisedPipe(Booked):
    """The end of a running pipe raised until the flow just stops, and lowered until it just starts."""

    label: Name | None = Field(None, description=_LABEL)
    point: Point = Field(description="The point its lip was measured from.")
    water: Point = Field(description="The water surface that feeds the pipe.")
    unit: Unit | None = Field(None, description=_UNIT)
    stopped: Annotated[tuple[Lip, ...], Field(min_length=1, max_length=MOST_LINES)] = Field(
        description="Height of the lip over the point when the flow just stopped."
    )
    started: Annotated[tuple[Lip, ...], Field(max_length=MOST_LINES)] = Field(
        (), description="The same when it just started again."
    )
    held_back: Annotated[Reading, Noted("length", "held_back")] | None = Field(
        None, description="How much higher the water stands than the lip when it stops."
    )
    spread: LengthSpread | None = Field(None, description="How far one height may be off.")
    notes: Text | None = Field(None, description=_NOTES)


class Tape(RowPart):
    """A height taped between two points of one place: ground up to seat, lip up to water."""

    single: ClassVar[bool] = True

    start: Point = Field(description="The lower point, or the one measured from.")
    end: Point = Field(description="The point measured to.")
    height: Annotated[Reading, Noted("length", "offset")] = Field(
        description="How much higher the second is, with its unit."
    )
