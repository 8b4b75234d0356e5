"""Where the water is taken on a sheet, and the ways the lines go."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from ramwright.errors import InputError
from ramwright.quantities import Reading
from ramwright.site.fields import MOST_ROWS, Choice, Holes, Name, Quantity, RefusedError, Row, YesNo
from ramwright.site.parts import Part, one_of_two


class Intake(Part):
    """Where the water is taken: what it passes through, and what the creek brings along."""

    kind: Annotated[Literal["strainer", "screen box", "perforated pipe", "open end"], Choice()] | None = (
        Field(None, description="What the water passes through.")
    )
    screen_area: Annotated[Reading, Quantity("area", "screen_area")] | None = Field(
        None, description="Area of the screen that the water meets, framing left out."
    )
    open_share: Annotated[Reading, Quantity("fraction", "open_share")] | None = Field(
        None, description="Share of that area that is open."
    )
    open_area: Annotated[Reading, Quantity("area", "screen_area")] | None = Field(
        None, description="All its openings together."
    )
    opening: Annotated[Reading, Quantity("small_length", "opening")] | None = Field(
        None, description="Its widest hole, slot or mesh."
    )
    holes: Holes | None = Field(None, description="Number of holes, when they are round and alike.")
    self_cleaning: YesNo | None = Field(None, description="Whether the creek keeps it clean by itself.")
    level: Annotated[Reading, Quantity("length", "level")] | None = Field(
        None, description="Level of the top of its opening, on the datum of the profiles."
    )
    cover: Annotated[Reading, Quantity("length", "cover")] | None = Field(
        None, description="Water over it in the driest season."
    )
    drop: Annotated[Reading, Quantity("head", "drop")] | None = Field(
        None, description="Water level at the intake down to that in the drive tank."
    )
    debris: Annotated[Literal["little", "leaves", "heavy"], Choice()] | None = Field(
        None, description="What drifts down the creek: little, leaves in season, or heavy."
    )
    blocked_share: Annotated[Reading, Quantity("fraction", "share")] | None = Field(
        None, description="Share of the screen found blocked."
    )
    blocked_after: Annotated[Reading, Quantity("time", "blocked_after")] | None = Field(
        None, description="Time since it had last been cleaned."
    )
    silt: Annotated[Reading, Quantity("density", "silt")] | None = Field(
        None, description="Silt and sand in the water."
    )
    fish: Annotated[Literal["none", "fingerlings", "fry"], Choice()] | None = Field(
        None, description="The smallest fish there."
    )

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        if self.open_area is not None and self.open_share is not None:
            raise one_of_two("open_share", "open_area")
        if self.open_area is not None and self.holes is not None:
            raise one_of_two("open_area", "holes")
        needs = (("holes", "opening"), ("open_share", "screen_area"))
        for here, missing in (*needs, ("blocked_share", "blocked_after"), ("blocked_after", "blocked_share")):
            if getattr(self, here) is not None and getattr(self, missing) is None:
                raise RefusedError(InputError("needs_other", field=here, missing=missing))
        return self


class Route(Part):
    """The way one line goes, from where its water enters: points along it and their levels."""

    unit: Annotated[Literal["ft", "m"], Choice()] | None = Field(
        None, description="Unit of both numbers of a row, and of a file that names none."
    )
    rows: Annotated[tuple[Row, ...], Field(max_length=MOST_ROWS)] = Field(
        (),
        description="Station, level and perhaps what stands there, point by point.",
        examples=['[[0, 12.5, "intake"], [80, 11.9]]'],
    )
    file: Name | None = Field(
        None,
        description="A CSV or GPX file beside the sheet instead of rows.",
        examples=["delivery.csv"],
    )
    measured: Annotated[Literal["along the slope", "level"], Choice()] | None = Field(
        None, description="How the tape lay; along the slope if not said."
    )
    level_spread: Annotated[Reading, Quantity("length", "level_spread")] | None = Field(
        None, description="How far a level may be off: one standard deviation."
    )

    @model_validator(mode="after")
    def _rows_or_file(self) -> Self:
        if self.rows and self.file is not None:
            raise one_of_two("rows", "file")
        if not self.rows and self.file is None:
            raise RefusedError(InputError("needs_other", field="rows", missing="file"))
        if self.rows and self.unit is None:
            raise RefusedError(InputError("needs_other", field="rows", missing="unit"))
        if len(self.rows) == 1:
            raise RefusedError(InputError("profile_short", field="rows"))
        for i, (before, after) in enumerate(zip(self.rows, self.rows[1:], strict=False), 1):
            if not float(after[0]) > float(before[0]):
                refused = InputError("profile_backwards", value=str(after[0]), before=str(before[0]))
                raise RefusedError(refused, ("rows", i))
        return self


class Profiles(Part):
    """The ways the lines go: levels on any one datum; without ``seat`` each line is hung up by its end."""

    seat: Annotated[Reading, Quantity("length", "level")] | None = Field(
        None, description="Level of the waste-valve seat on the datum of the profiles."
    )
    supply_line: Route | None = None
    drive_pipe: Route | None = None
    delivery_line: Route | None = None
