"""The ram on a sheet: its valves, its snifter and its air vessel."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from ramwright.errors import InputError
from ramwright.quantities import Reading
from ramwright.site.fields import Choice, Name, Quantity, Rams, RefusedError, YesNo
from ramwright.site.parts import Part, one_of_two

Stroke = Annotated[Reading | Literal["tune"], Quantity("small_length", "stroke", word="tune")]


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
    leak: Annotated[Reading, Quantity("fraction", "leak")] | None = Field(
        None, description="Area it leaks through when shut, as a share of its port."
    )


class DeliveryValve(Part):
    """The valve that lets water into the air vessel and not back."""

    bore: Annotated[Reading, Quantity("small_length", "valve_bore")] | None = Field(
        None, description="Diameter of its passage."
    )
    loss: Annotated[Reading, Quantity("number", "loss")] | None = Field(
        None, description="Loss coefficient when open, on the velocity head in its bore."
    )
    leak: Annotated[Reading, Quantity("fraction", "leak")] | None = Field(
        None, description="Area it leaks through when shut, as a share of its passage."
    )
    lag: Annotated[Reading, Quantity("time", "lag")] | None = Field(
        None, description="Time it takes to fall shut after the flow has turned."
    )


class Snifter(Part):
    """The small hole that lets air in at each recoil."""

    fitted: YesNo | None = Field(None, description="Whether there is one.")
    diameter: Annotated[Reading, Quantity("small_length", "snifter_diameter")] | None = Field(
        None, description="Diameter of the hole."
    )
    height: Annotated[Reading, Quantity("length", "snifter_height")] | None = Field(
        None, description="Height of the hole above the waste-valve seat."
    )

    @model_validator(mode="after")
    def _there_or_not(self) -> Self:
        for name in ("diameter", "height"):
            given = getattr(self, name)
            if self.fitted is False and given is not None:
                raise RefusedError(InputError("snifter_not_fitted", field=name, value=given.text))
        return self


class Ram(Part):
    """The ram itself."""

    size: Annotated[Reading, Quantity("small_length", "ram_size", form="nominal")] | None = Field(
        None, description="Nominal size of its drive-pipe connection: 1 1/4 in, DN 32."
    )
    count: Rams | None = Field(
        None, description="Number of rams alike side by side, each with a drive pipe of its own."
    )
    mount: Name | None = Field(
        None, description="How it is held.", examples=["strapped to a board", "set in concrete"]
    )
    tailwater: Annotated[Reading, Quantity("length", "tailwater")] | None = Field(
        None, description="Water standing over the waste-valve seat outside."
    )
    waste_valve: WasteValve | None = None
    delivery_valve: DeliveryValve | None = None
    snifter: Snifter | None = None


class AirVessel(Part):
    """The vessel whose air makes a steady flow of the beats."""

    kind: Annotated[Literal["plain", "bladder"], Choice()] | None = Field(
        None, description="plain: air over water; bladder: air kept apart by a skin."
    )
    material: Name | None = Field(None, description="What it is made of.")
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
            raise one_of_two("volume", second)
        if (self.diameter is None) != (self.height is None):
            here, missing = ("diameter", "height") if self.height is None else ("height", "diameter")
            raise RefusedError(InputError("needs_other", field=here, missing=missing))
        if self.precharge is not None and self.kind == "plain":
            raise RefusedError(InputError("precharge_of_plain", field="precharge", value=self.precharge.text))
        return self
