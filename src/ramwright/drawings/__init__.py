"""Pictures from plain data: numbers and arrays in SI, and words already in the reader's language.

Each function returns a ``Picture``, which gives itself as SVG text or as PNG bytes. Importing this
room loads no drawing library; the first picture does.
"""

from ramwright.drawings.beat import beat_picture
from ramwright.drawings.beat_data import BeatData, BeatLabels, with_traces
from ramwright.drawings.curve import CurveData, CurveLabels, curve_picture
from ramwright.drawings.palette import DARK, LIGHT, THEMES, Theme
from ramwright.drawings.picture import PIXELS, Picture, Width
from ramwright.drawings.profile import profile_picture
from ramwright.drawings.profile_data import (
    ProfileData,
    ProfileHeight,
    ProfileLabels,
    ProfileLine,
    ProfilePlace,
)
from ramwright.drawings.spread import Outcome, SpreadData, SpreadLabels, spread_picture

__all__ = [
    "DARK",
    "LIGHT",
    "PIXELS",
    "THEMES",
    "BeatData",
    "BeatLabels",
    "CurveData",
    "CurveLabels",
    "Outcome",
    "Picture",
    "ProfileData",
    "ProfileHeight",
    "ProfileLabels",
    "ProfileLine",
    "ProfilePlace",
    "SpreadData",
    "SpreadLabels",
    "Theme",
    "Width",
    "beat_picture",
    "curve_picture",
    "profile_picture",
    "spread_picture",
    "with_traces",
]
