"""The document of one site: what was read there, and what stands or is to stand there.

Readings are kept as typed, with their value in SI beside them. What the sheet does not say is
``None``: no default is invented here; whoever appraises the site decides, and says so.
"""

from typing import Annotated, Final, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr, model_validator

from ramwright.errors import InputError, RamwrightError
from ramwright.quantities import Reading, System
from ramwright.site.fields import MOST_PIECES, Choice, Count, Name, Quantity, RefusedError, Text, YesNo

SCHEMA_VERSION: Final = 1

Fall = Annotated[Reading, Quantity("head", "fall")]
Lift = Annotated[Reading, Quantity("head", "lift")]
SourceFlow = Annotated[Reading, Quantity("flow", "source_flow")]
ResidualFlow = Annotated[Reading, Quantity("flow", "residual_flow")]
PerDay = Annotated[Reading, Quantity("flow", "demand_per_day", form="daily")]
Stroke = Annotated[Reading | Literal["tune"], Quantity("small_length", "stroke", word="tune")]


class InputNote(RamwrightError):  # noqa: N818  # not an error: it is only said like one
    """Something the reader of a sheet took to be meant, said like an error but never raised."""


class Part(BaseModel):
    """Base of everything on a sheet: cannot be changed, knows no other entries than its own."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True, hide_input_in_errors=True)


def _one_of_two(first: str, second: str) -> RefusedError:
    """Both of two entries that say the same thing; the ``second`` is named as the one too many."""
    return RefusedError(InputError("one_of_two", field=second, first=first, second=second))


class Place(Part):
    """Where it is, and how its owner likes numbers printed."""

    name: Name = Field(description="What the place is called.")
    notes: Text | None = Field(None, description="Anything worth remembering.")
    altitude: Annotated[Reading, Quantity("length", "altitude")] | None = Field(
        None, description="Height above the sea; it sets the air pressure."
    )
    water_temperature: Annotated[Reading, Quantity("temperature", "water_temperature")] | None = Field(
        None, description="Temperature of the water at the source."
    )
    units: Annotated[System, Choice()] | None = Field(None, description="Units to print: us or metric.")


class Facts(Part):
    """What was measured on the ground. ± is one standard deviation."""

    fall: Fall | None = Field(None, description="Drive-tank water level down to the waste-valve seat.")
    lift: Lift | None = Field(None, description="Waste-valve seat up to the highest point of the water.")
    source_flow: SourceFlow | None = Field(None, description="Flow of the creek or spring at the intake.")
    residual_flow: ResidualFlow | None = Field(None, description="Flow that must stay in the creek.")
    demand_per_day: PerDay | None = Field(None, description="Water wanted at the tank in a day.")

    @model_validator(mode="after")
    def _lift_above_fall(self) -> Self:
        """Below the fall the water would run there by itself."""
        if self.fall is not None and self.lift is not None and self.lift.value <= self.fall.value:
            raise RefusedError(
                InputError("lift_below_fall", field="lift", value=self.lift.text, fall=self.fall.text)
            )
        return self


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
            raise _one_of_two("plan_area", "diameter")
        return self


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
            raise _one_of_two("pipe", measures[0])
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


class WasteValve(Part):
    """The valve that claps: it lets the water run until the water shuts it."""

    kind: Annotated[Literal["poppet", "swing check"], Choice()] | None = Field(
        None, description="poppet: a weighted plate that lifts; swing check: a hinged flap."
    )
    port_diameter: Annotated[Reading, Quantity("small_length", "port_diameter")] | None = Field(
        None, description="Diameter of the hole it closes."
    )
    moving_mass: Annotated[Reading, Quantity("mass", "valve_mass")] | None = Field(
        None, description="Mass of everything that moves with it, weights included."
    )
    stroke: Stroke | None = Field(None, description='Its full travel, or "tune" to let the program choose.')
    arm: Annotated[Reading, Quantity("small_length", "arm")] | None = Field(
        None, description="Hinge to the middle of the flap of a swing check."
    )
    tilt: Annotated[Reading, Quantity("angle", "tilt")] | None = Field(
        None, description="Angle the valve stands at from upright."
    )
    spring_stiffness: Annotated[Reading, Quantity("stiffness", "spring_stiffness")] | None = Field(
        None, description="Stiffness of its spring."
    )
    spring_preload: Annotated[Reading, Quantity("force", "spring_preload")] | None = Field(
        None, description="Force of its spring with the valve fully open."
    )


class DeliveryValve(Part):
    """The valve that lets water into the air vessel and not back."""

    bore: Annotated[Reading, Quantity("small_length", "valve_bore")] | None = Field(
        None, description="Diameter of its passage."
    )
    loss: Annotated[Reading, Quantity("number", "loss")] | None = Field(
        None, description="Loss coefficient when open, on the velocity head in its bore."
    )


class Snifter(Part):
    """The small hole that lets air in at each recoil."""

    fitted: YesNo | None = Field(None, description="Whether there is one.")
    diameter: Annotated[Reading, Quantity("small_length", "snifter_diameter")] | None = Field(
        None, description="Diameter of the hole."
    )

    @model_validator(mode="after")
    def _there_or_not(self) -> Self:
        if self.fitted is False and self.diameter is not None:
            raise RefusedError(InputError("snifter_not_fitted", field="diameter", value=self.diameter.text))
        return self


class Ram(Part):
    """The ram itself."""

    size: Annotated[Reading, Quantity("small_length", "ram_size", form="nominal")] | None = Field(
        None, description="Nominal size of its drive-pipe connection: 1 1/4 in, DN 32."
    )
    waste_valve: WasteValve | None = None
    delivery_valve: DeliveryValve | None = None
    snifter: Snifter | None = None


class AirVessel(Part):
    """The vessel whose air makes a steady flow of the beats."""

    kind: Annotated[Literal["plain", "bladder"], Choice()] | None = Field(
        None, description="plain: air over water; bladder: air kept apart by a skin."
    )
    volume: Annotated[Reading, Quantity("volume", "air_vessel_volume")] | None = Field(
        None, description="All the room in it."
    )
    diameter: Annotated[Reading, Quantity("small_length", "air_vessel_diameter")] | None = Field(
        None, description="Inside diameter, when the volume is not known."
    )
    height: Annotated[Reading, Quantity("length", "air_vessel_height")] | None = Field(
        None, description="Inside height, when the volume is not known."
    )
    precharge: Annotated[Reading, Quantity("pressure", "precharge")] | None = Field(
        None, description="Gauge pressure in the bladder before any water comes."
    )

    @model_validator(mode="after")
    def _one_size(self) -> Self:
        if self.volume is not None and (self.diameter is not None or self.height is not None):
            second = "diameter" if self.diameter is not None else "height"
            raise _one_of_two("volume", second)
        if (self.diameter is None) != (self.height is None):
            here, missing = ("diameter", "height") if self.height is None else ("height", "diameter")
            raise RefusedError(InputError("needs_other", field=here, missing=missing))
        if self.precharge is not None and self.kind == "plain":
            raise RefusedError(InputError("precharge_of_plain", field="precharge", value=self.precharge.text))
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


class Site(Part):
    """A whole sheet. Two sites are equal when their entries are, however they were spelt."""

    schema_version: Literal[1] = SCHEMA_VERSION
    site: Place
    facts: Facts | None = None
    drive_tank: DriveTank | None = None
    drive_pipe: Pieces = Field((), description="From the drive tank down to the ram, piece by piece.")
    drive_pipe_support: DrivePipeSupport | None = None
    ram: Ram | None = None
    air_vessel: AirVessel | None = None
    delivery_line: Pieces = Field((), description="From the ram up to the tank, piece by piece.")
    tank: Tank | None = None
    _notes_on_input: tuple[InputNote, ...] = PrivateAttr(())

    @property
    def notes_on_input(self) -> tuple[InputNote, ...]:
        """What was taken to be meant when the sheet was read: other words of the trade."""
        return self._notes_on_input

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Site):
            return NotImplemented
        return self.__dict__ == other.__dict__

    def __hash__(self) -> int:
        return hash(tuple(self.__dict__.values()))
