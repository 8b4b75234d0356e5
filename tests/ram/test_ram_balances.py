"""Energy and water of settled beats: every term is integrated by itself, and the check can fail."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from ram_cases import audited, line, pipe, plastic, steel

from ramwright.ram import DeliveryValve, Mount, RamSystem, Segment, Snifter

pytestmark = pytest.mark.engine
TERMS = (
    "entrance",
    "friction",
    "waste",
    "delivery_valve",
    "lift",
    "line_friction",
    "mount",
    "cavity",
    "wall",
)
MIXED = steel(
    drive_pipe=(
        Segment(length_m=6.0, bore_m=0.0525, wave_speed=1380.0, c2=0.02),
        Segment(
            length_m=9.0, bore_m=0.0446, wave_speed=440.0, c2=0.03, creep=0.05, unsteady=1.3e-6, loss=0.5
        ),
    )
)
CASES: dict[str, RamSystem] = {
    "steel": steel(),
    "unsteady friction": pipe(steel(), unsteady=1.3e-6),
    "pvc": plastic(),
    "pe": pipe(plastic(), wave_speed=300.0, creep=0.15),
    "mixed": MIXED,
    "pocket": replace(
        MIXED,
        drive_pipe=(
            replace(MIXED.drive_pipe[0], pocket_m3=1e-5, pocket_level_m=1.0),
            MIXED.drive_pipe[1],
        ),
    ),
    "mount": steel(mount=Mount(mass_kg=15.0, stiffness=3e5)),
    "stiff mount": steel(mount=Mount(mass_kg=15.0, stiffness=1e7)),
    "drowned": steel(tailwater_m=0.3),
    "body": steel(body_compliance_m2=1e-7),
    "snifter": steel(snifter=Snifter(diameter_m=0.0015)),
    "lagging delivery valve": steel(delivery_valve=DeliveryValve(bore_m=0.03, lag_s=0.01, leak_area_m2=1e-6)),
    "broken column": line(steel(), lift_m=120.0),
    "two rams": line(steel(), rams=2),
}


def _energy_miss(row: Any, without: str = "") -> float:
    """What the terms leave over, of the energy supplied."""
    audit = row["audit"]
    used = sum(float(audit[name]) for name in TERMS if name != without)
    kept = float(audit["stored_after"]) - float(audit["stored_before"])
    return (float(audit["supplied"]) - used - kept) / float(audit["supplied"])


@pytest.mark.parametrize("name", CASES)
def test_energy_and_water_close(name: str) -> None:
    """0.5 % of the energy supplied; 1e-9 of a beat's volume (aims of the project's physics notes)."""
    row = audited(CASES[name])
    audit = row["audit"]
    water = float(audit["water_in"]) - float(audit["water_out"])
    water -= float(audit["held_after"]) - float(audit["held_before"])
    assert float(audit["supplied"]) > 0.0
    assert abs(_energy_miss(row)) <= 0.005
    assert abs(water) <= 1e-9 * (float(row["waste_volume"]) + float(row["delivered_volume"]))


@pytest.mark.parametrize(
    ("name", "term"),
    [
        ("pe", "wall"),
        ("mount", "mount"),
        ("steel", "friction"),
        ("steel", "waste"),
        ("steel", "entrance"),
        ("steel", "delivery_valve"),
        ("steel", "lift"),
    ],
)
def test_the_check_fails_where_a_term_is_left_out(name: str, term: str) -> None:
    assert abs(_energy_miss(audited(CASES[name]), without=term)) > 0.005
