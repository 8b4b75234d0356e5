"""The document of one site: what was read there, and what stands or is to stand there.

Readings are kept as typed, with their value in SI beside them. What the sheet does not say is
``None``: no default is invented here; whoever appraises the site decides, and says so.
"""

from typing import Annotated, Final, Literal, Self

from pydantic import Field, PrivateAttr, model_validator

from ramwright.errors import InputError
from ramwright.quantities import Reading, System
from ramwright.site.fields import Choice, Name, Quantity, RefusedError, Text
from ramwright.site.intake_models import Intake, Profiles
from ramwright.site.line_models import DrivePipeSupport, DriveTank, Pieces, Tank
from ramwright.site.parts import InputNote, Part
from ramwright.site.ram_models import AirVessel, Ram
from ramwright.site.visit_models import Stages, Visits, Walk

SCHEMA_VERSION: Final = 1

Fall = Annotated[Reading, Quantity("head", "fall")]
Lift = Annotated[Reading, Quantity("head", "lift")]
SourceFlow = Annotated[Reading, Quantity("flow", "source_flow")]
ResidualFlow = Annotated[Reading, Quantity("flow", "residual_flow")]
PerDay = Annotated[Reading, Quantity("flow", "demand_per_day", form="daily")]


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
    frost_depth: Annotated[Reading, Quantity("length", "frost_depth")] | None = Field(
        None, description="Depth to which the ground freezes in a hard winter."
    )
    units: Annotated[System, Choice()] | None = Field(None, description="Units to print: us or metric.")


class Facts(Part):
    """What was measured on the ground. ± is one standard deviation."""

    fall: Fall | None = Field(None, description="Drive-tank water level down to the waste-valve seat.")
    lift: Lift | None = Field(None, description="Waste-valve seat up to the highest point of the water.")
    source_flow: SourceFlow | None = Field(None, description="Flow of the creek or spring at the intake.")
    residual_flow: ResidualFlow | None = Field(None, description="Flow that must stay in the creek.")
    mean_flow: SourceFlow | None = Field(None, description="Mean flow of the creek over the year.")
    low_flow: SourceFlow | None = Field(None, description="Flow it falls below one day in twenty.")
    demand_per_day: PerDay | None = Field(None, description="Water wanted at the tank in a day.")

    @model_validator(mode="after")
    def _lift_above_fall(self) -> Self:
        """Below the fall the water would run there by itself."""
        if self.fall is not None and self.lift is not None and self.lift.value <= self.fall.value:
            raise RefusedError(
                InputError("lift_below_fall", field="lift", value=self.lift.text, fall=self.fall.text)
            )
        return self


class Site(Part):
    """A whole sheet. Two sites are equal when their entries are, however they were spelt."""

    schema_version: Literal[1] = SCHEMA_VERSION
    site: Place
    facts: Facts | None = None
    intake: Intake | None = None
    supply_line: Pieces = Field((), description="From the intake to the drive tank, piece by piece.")
    drive_tank: DriveTank | None = None
    drive_pipe: Pieces = Field((), description="From the drive tank down to the ram, piece by piece.")
    drive_pipe_support: DrivePipeSupport | None = None
    ram: Ram | None = None
    air_vessel: AirVessel | None = None
    delivery_line: Pieces = Field((), description="From the ram up to the tank, piece by piece.")
    tank: Tank | None = None
    profiles: Profiles | None = None
    visit: Visits = Field((), description="A day's readings, kept as they were written.")
    stage: Stages = Field(
        (), description="Water levels at one stage of the creek, over the waste-valve seat."
    )
    walk: Walk | None = None
    _notes_on_input: tuple[InputNote, ...] = PrivateAttr(())
    _folder: str | None = PrivateAttr(None)

    @model_validator(mode="after")
    def _held_once(self) -> Self:
        """``mount`` says how it is held; that it cannot move at all is said in its place."""
        support = self.drive_pipe_support
        if self.ram is not None and self.ram.mount is not None and support is not None and support.held:
            raise RefusedError(InputError("mount_and_held", value=self.ram.mount), ("ram", "mount"))
        return self

    @property
    def folder(self) -> str | None:
        """The folder the sheet was read from, where its profile files lie; None if it never was a file."""
        return self._folder

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
