"""What the room's public face takes is told in its docstrings."""

from __future__ import annotations

import dataclasses
import inspect
import re
from typing import Any

import pytest

import ramwright.ram as room

#: Results of the closed form carry the names of the run's; each is said in the class's own sentence.
SAID_BY_NAME = {"ClosedForm", "RunResult", "ManyResults"}


#: Gaps known today, to be closed in the docstrings and then struck out here; a new gap fails.
UNTOLD = {
    "Beat": ["result", "wave_speed_change"],
    "Mount": ["damping_ratio"],
    "RamSystem": ["drive_pipe", "delivery_valve", "air_vessel", "delivery_line", "mount", "snifter"],
    "WasteValve": ["port_diameter_m", "stroke_m", "kind", "damping", "leak_area_m2"],
    "Water": ["atmosphere_m"],
    "closed_form": ["system"],
    "run_beat": ["system"],
    "run_one": ["system", "grid"],
}


def _faces() -> list[Any]:
    found = [getattr(room, name) for name in room.__all__]
    return [f for f in found if inspect.isclass(f) or inspect.isfunction(f)]


def _named(face: Any) -> list[str]:
    if dataclasses.is_dataclass(face):
        return [field.name for field in dataclasses.fields(face)]
    if inspect.isclass(face):
        return []
    return list(inspect.signature(face).parameters)


def _said(name: str, text: str) -> bool:
    plain = re.sub(r"_(m|m2|m3|s|kg)$", "", name).replace("_", " ")
    return name in text or plain in re.sub(r"[-\s]+", " ", text.lower())


@pytest.mark.parametrize("face", _faces(), ids=lambda f: f.__name__)
def test_there_is_a_docstring(face: Any) -> None:
    assert face.__doc__
    assert len(face.__doc__) > 20


@pytest.mark.parametrize(
    "face", [f for f in _faces() if f.__name__ not in SAID_BY_NAME], ids=lambda f: f.__name__
)
def test_every_parameter_is_mentioned(face: Any) -> None:
    missing = [name for name in _named(face) if not _said(name, face.__doc__ or "")]
    assert missing == UNTOLD.get(face.__name__, [])
