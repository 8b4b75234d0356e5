"""The lines on a sheet and what stands along them: pipe, how it is held, drive tank, tank."""

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

    joint: Name | None = Field(
        None, description="How its ends are joined.", examples=["screwed", "barb with two clamps"]
    )
    supports_every: Annotated[Reading, Quantity("length", "supports_every")] | None = Field(
        None, description="From one support to the next, where it hangs free."
    )
    buried: Annotated[Reading, Quantity("length", "buried")] | None = Field(
        None, description="Depth of ground over it; 0 where it lies open."
    )
    air_pocket: Annotated[Reading, Quantity("volume", "air_pocket")] | None = Field(
        None, description="Air caught at a hump at its lower end, at rest."
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


class Overflow(Part):
    """Where the drive tank spills what the ram does not drink."""

    kind: Annotated[Literal["notch", "upright pipe", "side pipe"], Choice()] | None = Field(
        None, description="A notch in the rim, a pipe standing in the tank, or a pipe through its side."
    )
    width: Annotated[Reading, Quantity("small_length", "overflow_width")] | None = Field(
        None, description="Width of the notch, or bore of the pipe."
    )
    height: Annotated[Reading, Quantity("length", "cover")] | None = Field(
        None, description="Its lip above the top of the drive-pipe inlet."
    )
    freeboard: Annotated[Reading, Quantity("length", "freeboard")] | None = Field(
        None, description="From its lip up to the rim of the tank."
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
    volume: Annotated[Reading, Quantity("volume", "drive_tank_volume")] | None = Field(
        None, description="What it holds when full, for want of its plan area."
    )
    height: Annotated[Reading, Quantity("length", "drive_tank_height")] | None = Field(
        None, description="Depth of water in it when full."
    )
    cover: Annotated[Reading, Quantity("length", "cover")] | None = Field(
        None, description="Depth of water over the drive-pipe inlet."
    )
    sump: Annotated[Reading, Quantity("length", "sump")] | None = Field(
        None, description="Depth below the drive-pipe inlet, where silt may lie."
    )
    washout: Annotated[Reading, Quantity("small_length", "bore")] | None = Field(
        None, description="Bore of the drain at its bottom."
    )
    lid: Annotated[Literal["open", "sealed"], Choice()] | None = Field(
        None, description="Whether air gets to its water: open also means a loose lid."
    )
    overflow: Overflow | None = None
    entrance: (
        Annotated[Literal["square-edged", "bell-mouthed", "projecting", "strainer"], Choice()] | None
    ) = Field(None, description="How the drive pipe begins.")

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if self.plan_area is not None and self.diameter is not None:
            raise one_of_two("plan_area", "diameter")
        measured = "plan_area" if self.plan_area is not None else "diameter"
        if self.volume is not None and getattr(self, measured) is not None:
            raise one_of_two(measured, "volume")
        if self.volume is not None and self.height is None:
            raise RefusedError(InputError("needs_other", field="volume", missing="height"))
        if self.cover is not None and self.overflow is not None and self.overflow.height is not None:
            raise RefusedError(one_of_two("cover", "height").error, ("overflow", "height"))
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
    overflow: Annotated[Reading, Quantity("small_length", "bore")] | None = Field(
        None, description="Bore of its overflow."
    )
    stand_height: Annotated[Reading, Quantity("length", "stand_height")] | None = Field(
        None, description="Height of the stand it is on."
    )
    use: Annotated[Literal["drinking", "stock", "garden"], Choice()] | None = Field(
        None, description="What the water is for."
    )


Pieces = Annotated[tuple[Pipe, ...], Field(max_length=MOST_PIECES)]
