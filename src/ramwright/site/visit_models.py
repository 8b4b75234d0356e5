"""The field book on a sheet: visits with their readings, water levels by stage, and the first walk."""

from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field

from ramwright.quantities import Reading
from ramwright.site.booked import Booked, Noted, RowPart
from ramwright.site.fields import Choice, Name, Text
from ramwright.site.flow_models import (
    BucketFills,
    FloatRun,
    RectangularWeir,
    SaltConstant,
    SaltSlug,
    VNotchWeir,
)
from ramwright.site.level_models import (
    AbneyRun,
    GaugeOnHose,
    HandLevelRun,
    Hose,
    LevelBook,
    RaisedPipe,
    Tape,
    Unit,
)
from ramwright.site.listed import DateText, Listed, Word
from ramwright.site.parts import Part

ROUGH: Final = Listed(
    "instruments", ("height", "height of a sight", "height of a step"), ("altimeter", "hand level")
)
MOST_RUNS: Final = 100
"""Runs of one kind in a visit."""
MOST_VISITS: Final = 200
StageName = Literal["low", "normal", "flood"]
Above = Annotated[Reading, Noted("length", "water_over_seat")]


class Visit(Part):
    """A day's readings, kept as they were written."""

    date: Annotated[str, DateText()] | None = Field(None, description="The day.")
    stage: Annotated[StageName, Choice()] | None = Field(
        None, description="How the creek stood: low, normal or flood."
    )
    intake_dam: Annotated[str, Word(("in", "out", "none|no dam"))] | None = Field(
        None, description="Whether the intake dam stood when water levels were read there."
    )
    notes: Text | None = Field(None, description="Weather, who held what, which instrument.")
    tape: Annotated[tuple[Tape, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="Heights taped between two points of one place."
    )
    level_book: Annotated[tuple[LevelBook, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="A book of one run with a level and a staff."
    )
    hand_level: Annotated[tuple[HandLevelRun, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="A run with a hand level, or stepped up in eye heights."
    )
    abney: Annotated[tuple[AbneyRun, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="A line of slope lengths and angles."
    )
    hose: Annotated[tuple[Hose, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="Set-ups of a water-filled hose."
    )
    gauge: Annotated[tuple[GaugeOnHose, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="A pressure gauge on a filled hose."
    )
    raised_pipe: Annotated[tuple[RaisedPipe, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="The end of a running pipe raised until the flow stops."
    )
    bucket: Annotated[tuple[BucketFills, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="Timed fills of a bucket."
    )
    float_run: Annotated[tuple[FloatRun, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="Floats timed over a measured reach."
    )
    v_notch: Annotated[tuple[VNotchWeir, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="A V-notch weir."
    )
    rectangular_weir: Annotated[tuple[RectangularWeir, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="A rectangular weir."
    )
    salt_slug: Annotated[tuple[SaltSlug, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="Salt thrown in at once."
    )
    salt_constant: Annotated[tuple[SaltConstant, ...], Field(max_length=MOST_RUNS)] = Field(
        (), description="Brine let in at a constant rate."
    )


class StageWater(Booked):
    """Water levels at one stage of the creek, over the waste-valve seat."""

    name: Annotated[StageName, Choice()] = Field(description="low, normal or flood.")
    unit: Unit | None = Field(None, description="Unit of every length below that has none of its own.")
    creek_gauge: Annotated[Reading, Noted("length", "creek_gauge")] | None = Field(
        None, description="What a staff in the creek shows then."
    )
    feed: Above | None = Field(
        None, description="Water level in the drive tank; the fall itself if left out."
    )
    tailwater: Above | None = Field(
        None, description="Water level below the ram; minus where it lies lower than the seat."
    )
    notes: Text | None = Field(None, description="Flood marks, debris lines.")


Level = Annotated[Reading, Noted("length", "rough_level")]
Along = Annotated[Reading, Noted("length", "along_creek")]
Access = Annotated[str, Word(("road", "track|farm track|jeep", "on foot|foot|path|footpath", "climb"))]


class IntakeSpot(RowPart):
    """A place to take water."""

    single: ClassVar[bool] = True
    name: Name = Field(description="What to call it.")
    level: Level = Field(description="Rough level, over anything.")
    along: Along | None = Field(None, description="How far down the creek.")
    flow: Annotated[Reading, Noted("flow", "source_flow")] | None = Field(
        None, description="Rough flow there, with its unit."
    )
    access: Access | None = Field(None, description="How one gets there: road, track, on foot or climb.")


class RamSpot(RowPart):
    """A place for the ram."""

    single: ClassVar[bool] = True
    name: Name = Field(description="What to call it.")
    level: Level = Field(description="Rough level, over the same.")
    along: Along | None = Field(None, description="How far down the creek.")
    flood_mark: Level | None = Field(None, description="Level of the highest trace of flood there.")
    access: Access | None = Field(None, description="How one gets there: road, track, on foot or climb.")


class TankSpot(RowPart):
    """A place for the tank."""

    single: ClassVar[bool] = True
    name: Name = Field(description="What to call it.")
    level: Level = Field(description="Rough level of its inlet, over the same.")
    access: Access | None = Field(None, description="How one gets there: road, track, on foot or climb.")


class SpotDistance(RowPart):
    """How far it is from an intake to a ram spot, where that is not the way along the creek."""

    single: ClassVar[bool] = True
    intake: Name = Field(description="Which intake.")
    ram: Name = Field(description="Which ram spot.")
    length: Annotated[Reading, Noted("length", "pipe_length")] = Field(description="The way between.")


class Walk(Booked):
    """The first walk, before any level is set up: places that may do, with rough levels and distances."""

    instrument: Annotated[str, ROUGH] | None = Field(
        None, description="What the levels were taken with; its usual spread is taken."
    )
    unit: Unit | None = Field(None, description="Unit of every length below that has none of its own.")
    notes: Text | None = Field(None, description="Anything worth remembering.")
    intake: Annotated[tuple[IntakeSpot, ...], Field(max_length=50)] = Field(
        (), description="Places to take water."
    )
    ram: Annotated[tuple[RamSpot, ...], Field(max_length=50)] = Field((), description="Places for the ram.")
    tank: Annotated[tuple[TankSpot, ...], Field(max_length=50)] = Field(
        (), description="Places for the tank."
    )
    distance: Annotated[tuple[SpotDistance, ...], Field(max_length=500)] = Field(
        (), description="Distances between an intake and a ram spot."
    )


Visits = Annotated[tuple[Visit, ...], Field(max_length=MOST_VISITS)]
Stages = Annotated[tuple[StageWater, ...], Field(max_length=3)]
