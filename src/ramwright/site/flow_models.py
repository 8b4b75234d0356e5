"""Readings of flow in the field book: buckets, floats, weirs and salt."""

from typing import Annotated, Final

from pydantic import Field

from ramwright.quantities import Reading
from ramwright.site.booked import Booked, Noted, RowPart, UnitOf
from ramwright.site.fields import Name, Text
from ramwright.site.level_models import MOST_LINES, LengthSpread, Unit
from ramwright.site.listed import Listed, Word

_LABEL: Final = "What to call it: who, which bucket. Its place on the sheet where left out."
_UNIT: Final = "Unit of every length below that has none of its own."
_NOTES: Final = "Anything worth remembering."
_WHICH: Final = "Which of the four flows: in the creek, in the supply line, through the ram, or delivered."

Which = Annotated[
    str,
    Word(
        (
            "creek|stream|brook|spring|source|source flow",
            "supply line|supply|feed line|feed pipe",
            "drive|drive flow|ram|through the ram|drive pipe",
            "delivery|delivery flow|delivered|delivery line|tank|at the tank",
        )
    ),
]
TimeUnit = Annotated[str, UnitOf("time")]
Width = Annotated[Reading, Noted("length", "channel_width")]
Spot = Annotated[Reading, Noted("length", "across")]
Heads = Annotated[
    tuple[Annotated[Reading, Noted("length", "weir_head")], ...], Field(min_length=1, max_length=MOST_LINES)
]
FloatTime = Annotated[Reading, Noted("time", "float_time")]
FillTime = Annotated[Reading, Noted("time", "fill_time")]
Conductivity = Annotated[Reading, Noted("conductivity", "conductivity")]


class BucketFills(Booked):
    """Timed fills of one bucket."""

    label: Name | None = Field(None, description=_LABEL)
    flow: Which = Field(description=_WHICH)
    bucket: Name | None = Field(
        None, description="Which bucket, when several gaugings share it and so its error."
    )
    volume: Annotated[Reading, Noted("volume", "bucket_volume")] = Field(description="What it holds.")
    time_unit: TimeUnit | None = Field(None, description="Unit of the times: s.")
    times: Annotated[tuple[FillTime, ...], Field(min_length=1, max_length=MOST_LINES)] = Field(
        description="One time for each fill."
    )
    caught: Annotated[Reading, Noted("fraction", "share_caught")] | None = Field(
        None, description="Share of the flow that went into the bucket; all of it if not said."
    )
    spread: Annotated[Reading, Noted("time", "spread_time")] | None = Field(
        None, description="How far one time may be off, watch and hand together."
    )
    notes: Text | None = Field(None, description=_NOTES)


class SectionRow(RowPart):
    """One depth of a cross-section."""

    across: Spot = Field(description="From a mark on one bank.")
    depth: Annotated[Reading, Noted("length", "depth")] = Field(description="Depth of water there.")


class Section(Booked):
    """Depths across the creek, from water's edge to water's edge."""

    unit: Unit | None = Field(None, description=_UNIT)
    along: Annotated[Reading, Noted("length", "along_reach")] | None = Field(
        None, description="How far down the reach it lies."
    )
    spread: LengthSpread | None = Field(None, description="How far one depth may be off.")
    rows: Annotated[tuple[SectionRow, ...], Field(min_length=2, max_length=MOST_LINES)] = Field(
        description="Depths across, both edges included."
    )


class FloatRun(Booked):
    """A float timed over a measured reach, with the cross-sections of the creek."""

    label: Name | None = Field(None, description=_LABEL)
    flow: Which = Field(description=_WHICH)
    bed: (
        Annotated[
            str,
            Listed(
                "float_coefficients",
                examples=("small regular stream", "shallow turbulent stream", "very shallow rocky stream"),
            ),
        ]
        | None
    ) = Field(None, description="What the bed is like; the whole range is taken if not said.")
    coefficient: Annotated[Reading, Noted("number", "float_coefficient")] | None = Field(
        None, description="Mean over surface velocity, if you know better than the table."
    )
    unit: Unit | None = Field(None, description=_UNIT)
    length: Annotated[Reading, Noted("length", "reach_length")] = Field(description="Length of the reach.")
    time_unit: TimeUnit | None = Field(None, description="Unit of the times: s.")
    times: Annotated[
        tuple[Annotated[Reading, Noted("time", "float_time")], ...],
        Field(min_length=1, max_length=MOST_LINES),
    ] = Field(description="One time for each float.")
    spread: Annotated[Reading, Noted("time", "spread_time")] | None = Field(
        None, description="How far one time may be off, watch and hand together."
    )
    notes: Text | None = Field(None, description=_NOTES)
    section: Annotated[tuple[Section, ...], Field(min_length=1, max_length=100)] = Field(
        description="Cross-sections of the reach, in any number."
    )


class Weir(Booked):
    """What every thin-plate weir is read by."""

    label: Name | None = Field(None, description=_LABEL)
    flow: Which = Field(description=_WHICH)
    unit: Unit | None = Field(None, description=_UNIT)
    crest_height: Annotated[Reading, Noted("length", "crest_height")] = Field(
        description="Bottom of the notch over the bed of the pool."
    )
    channel_width: Width = Field(description="Width of the pool.")
    heads: Heads = Field(description="Water over the crest, well upstream; once or several times.")
    gauge_distance: Annotated[Reading, Noted("length", "gauge_distance")] | None = Field(
        None, description="How far upstream of the board the head was read."
    )
    tailwater: Annotated[Reading, Noted("length", "tailwater_over_crest")] | None = Field(
        None, description="Water below the board over its crest; minus where it lies lower."
    )
    spread: LengthSpread | None = Field(None, description="How far one head may be off.")
    notes: Text | None = Field(None, description=_NOTES)


class VNotchWeir(Weir):
    """A V-notch board."""

    angle: Annotated[Reading, Noted("angle", "notch_angle")] = Field(
        description="Angle of the notch, with its unit."
    )


class RectangularWeir(Weir):
    """A rectangular notch, or a board across the whole channel."""

    width: Annotated[Reading, Noted("length", "weir_width")] = Field(description="Width of the crest.")
    contractions: Annotated[int, Field(strict=True, ge=0, le=2)] | None = Field(
        None, description="Ends of the crest that stand clear of the channel's sides."
    )
    relation: Annotated[str, Word(("francis", "rehbock", "kindsvater-carter"))] | None = Field(
        None, description="Relation to read it by; rehbock at full width and francis else, if not said."
    )


class WaveRow(RowPart):
    """One reading of a conductivity log."""

    time: Annotated[Reading, Noted("time", "log_time")] = Field(description="Time by the watch.")
    conductivity: Conductivity = Field(description="Conductivity then.")


class Salt(Booked):
    """What every gauging with salt is read by."""

    label: Name | None = Field(None, description=_LABEL)
    flow: Which = Field(description=_WHICH)
    time_unit: TimeUnit | None = Field(None, description="Unit of the times: s.")
    conductivity_unit: Annotated[str, UnitOf("conductivity")] | None = Field(
        None, description="Unit of the conductivities: uS/cm."
    )
    background: Conductivity = Field(description="Conductivity of the creek before.")
    factor: Annotated[Reading, Noted("number", "salt_factor")] | None = Field(
        None, description="Your own calibration: mg of salt a litre for each uS/cm."
    )
    probe: Name | None = Field(
        None, description="Which probe, when several gaugings share it and so its error."
    )
    mixing_length: Annotated[Reading, Noted("length", "mixing_length")] | None = Field(
        None, description="From where the salt went in to the probe."
    )
    width: Width | None = Field(None, description="Usual width of the creek between.")
    spread: Annotated[Reading, Noted("conductivity", "spread_conductivity")] | None = Field(
        None, description="How far one conductivity may be off."
    )
    notes: Text | None = Field(None, description=_NOTES)


class SaltSlug(Salt):
    """Salt thrown in at once, and the wave that passes downstream."""

    salt: Annotated[Reading, Noted("mass", "salt_mass")] = Field(description="Dry salt thrown in.")
    background_after: Conductivity | None = Field(None, description="Conductivity when it had passed.")
    rows: Annotated[tuple[WaveRow, ...], Field(min_length=3, max_length=MOST_LINES)] = Field(
        description="The log, from before the wave to after it."
    )


class SaltConstant(Salt):
    """Brine let in at a constant rate until the conductivity downstream is steady."""

    rate: Annotated[Reading, Noted("flow", "injection_rate")] = Field(description="Flow of the brine.")
    concentration: Annotated[Reading, Noted("density", "brine")] = Field(
        description="Salt in the brine, over what the creek itself has."
    )
    rows: Annotated[tuple[WaveRow, ...], Field(min_length=1, max_length=MOST_LINES)] = Field(
        description="The log once it is steady."
    )
