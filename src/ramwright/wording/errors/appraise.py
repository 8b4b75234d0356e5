"""Sentences for what an appraisal misses on a sheet."""

from __future__ import annotations

from typing import Final

SENTENCES: Final[dict[str, tuple[str, str]]] = {
    "line_missing": (
        "there is no pipe here yet",
        "write [[{field}]] with a pipe and its length: the pipe that is there, or the one you have in mind",
    ),
    "material_missing": (
        "a pipe given by its bore needs its material",
        'write material = "steel", or what it is made of',
    ),
    "roughness_too_large": (
        "{value} is rougher than a bore of {bore:small_length} allows",
        "roughness is the height of the bumps on the wall, far below a twentieth of the bore; check both",
    ),
}
