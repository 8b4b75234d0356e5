"""Profiles.

The stations and levels of a supply, drive or delivery line as arrays, and the files they come from.
"""

from ramwright.geometry.profile import Measured, Profile
from ramwright.geometry.shape import Turn, TurnKind, dips, highest_point, resample, summits, turns

__all__ = [
    "Measured",
    "Profile",
    "Turn",
    "TurnKind",
    "dips",
    "highest_point",
    "resample",
    "summits",
    "turns",
]
