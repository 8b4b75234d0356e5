"""The lines on a sheet and what stands at their ends: pipe, how it is held, drive tank, tank."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from ramwright.errors import InputError
from ramwright.quantities import Reading
from ramwright.site.fields import MOST_PIECES, Choice, Count, Name, Quantity, RefusedError, YesNo
from ramwright.site.parts import Part, one_of_two


class Pipe(Part):
    """One piece of the drive pipe or the delivery line: from the catalogue, or by its measures."""

    pipe: Name | None = Field(
        None, description='Series and size, with a comma: "steel schedule 40, 2 in".', examples=["PVC, 1 in"]
    )
    bore: Annotated[Reading, Quantity("small_length", "bore")] | None = Field(
        None, description="Inside diameter."
    )
    wall: Annotated[Reading, Quantity("small_length", "wall")] | None = Field(
        None, description="Wall thickness."
    )
    material: Name | None = Field(None, description="What it is made of.")
    roughness: Annotated[Reading, Quantity("small_length", "roughness")] | None = Field(
        None, description="Height of its roughness."
    )
    length: Annotated[Reading, Quantity("length", "pipe_length")] = Field(
        description="Length along the pipe."
    )
    bends_45: Count | None = Field(None, description="Number of 45-degree bends.")
    bends_90: Count | None = Field(None, description="Number of 90-degree bends.")
    gate_valves: Count | None = Field(None, description="Number of gate valves.")
    ball_valves: Count | None = Field(None, description="Number of ball valves.")
    loss: Annotated[Reading, Quantity("number", "loss")] | None = Field(
        None, description="Loss coefficient of anything else, on the velocity head in the bore."
    )
    free_air: Annotated[Reading, Quantity("fraction", "free_air")] | None = Field(
        None, description="Share of air bubbles in the water, by volume."
    )

    @model_validator(mode="after")
    def _catalogue_or_measures(self) -> Self:
        measures = [n for n in ("bore", "wall", "material", "roughness") if getattr(self, n) is not None]
        if self.pipe is None and self.bore is None:
            raise RefusedError(InputError("pipe_or_bore", field="pipe"))
        if self.pipe is not None and measures:
            raise one_of_two("pipe", measures[0])
        if self.pipe is not None and not (self.series and self.size):
            raise RefusedError(InputError("pipe_text", field="pipe", value=self.pipe))
        return self

    @property
    def series(self) -> str | None:
        """What stands before the comma of ``pipe``: ``"steel schedule 40"``."""
        return None if self.pipe is None else self.pipe.rpartition(",")[0].strip()

    @property
    def size(self) -> str | None:
        """What stands after the comma of ``pipe``: ``"2 in"``."""
        return None if self.pipe is None else self.pipe.rpartition(",")[2].strip()


class DrivePipeSupport(Part):
    """How the ram and the end of the drive pipe are held."""

    held: YesNo = Field(description="Whether ram and drive pipe are anchored so that they cannot move.")
    moving_mass: Annotated[Reading, Quantity("mass", "pipe_mass")] | None = Field(
        None, description="Mass that moves when they are not held."
    )
    stiffness: Annotated[Reading, Quantity("stiffness", "pipe_stiffness")] | None = Field(
        None, description="Force for a given movement along the pipe."
    )
    damping_ratio: Annotated[Reading, Quantity("number", "damping_ratio")] | None = Field(
        None, description="Share of critical damping."
    )


class DriveTank(Part):
    """The open vessel at the head of the drive pipe."""

    kind: Annotated[Literal["drum", "bucket", "box", "standpipe", "none"], Choice()] | None = Field(
        None, description="What it is made of; none when the drive pipe starts in the stream."
    )
    plan_area: Annotated[Reading, Quantity("area", "plan_area")] | None = Field(
        None, description="Area of its water surface."
    )
    diameter: Annotated[Reading, Quantity("small_length", "drive_tank_diameter")] | None = Field(
        None, description="Its diameter, when it is round."
    )
    cover: Annotated[Reading, Quantity("length", "cover")] | None = Field(
        None, description="Depth of water over the drive-pipe inlet."
    )
    entrance: (
        Annotated[Literal["square-edged", "bell-mouthed", "projecting", "strainer"], Choice()] | None
    ) = Field(None, description="How the drive pipe begins.")

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if self.plan_area is not None and self.diameter is not None:
            raise one_of_two("plan_area", "diameter")
        return self


class Tank(Part):
    """Where the water goes."""

    volume: Annotated[Reading, Quantity("volume", "tank_volume")] | None = Field(
        None, description="What it holds up to the overflow."
    )
    top_inlet: YesNo | None = Field(None, description="Whether the delivery line enters above the water.")
    float_valve: YesNo | None = Field(
        None, description="Whether a float valve shuts the line when it is full."
    )


Pieces = Annotated[tuple[Pipe, ...], Field(max_length=MOST_PIECES)]
