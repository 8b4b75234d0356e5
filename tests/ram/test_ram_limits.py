"""Limits with closed forms: valve without mass, stiff pipe, no other loss than the sheet's."""

from __future__ import annotations

import itertools
import math
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from ram_cases import G, Stepper, bare_pipe, ideal

from ramwright.ram import AirVessel, DeliveryLine, DeliveryValve, Grid, Segment, closed_form, run_one

pytestmark = pytest.mark.engine
SHEET = tomllib.loads((Path(__file__).parents[1] / "reference" / "ram_closed_form.toml").read_text("utf-8"))
CASE = SHEET["case"]
COARSE = Grid(reaches=4)


def _first_beat(wave_speed: float) -> tuple[float, float, float]:
    """Time (s), waste (m3) and velocity (m/s) of the column from rest to closure."""
    ram = Stepper(ideal(wave_speed=wave_speed), COARSE)
    waste = fastest = 0.0
    while not ram.s["shut_event"]:
        ram.step()
        waste += float(ram.s["waste"] * ram.s["dt"])
        fastest = max(fastest, float(ram.s["drive"]))
    return float(ram.s["time"]), waste, fastest / float(ram.p["end_area"])


def test_column_from_rest_to_closure() -> None:
    """Reference case of the closed-form sheet (derived): t1, waste and V0 to 1 %."""
    time, waste, velocity = _first_beat(20000.0)
    assert abs(time / CASE["acceleration_s"] - 1.0) <= 0.01
    assert abs(1e3 * waste / CASE["waste_l"] - 1.0) <= 0.01
    assert abs(velocity / CASE["closing_m_s"] - 1.0) <= 0.01


def test_column_follows_the_tanh_law_all_the_way() -> None:
    """V = V_inf tanh(g H t / (L V_inf)) (closed-form sheet, derived), to 1 % of V_inf; valve held open."""
    system = ideal(x=0.999, mass_kg=1e3, wave_speed=20000.0)
    ram = Stepper(system, COARSE)
    limit = CASE["terminal_m_s"]
    for k in range(1, 12001):
        ram.step()
        if k % 1000 == 0:
            law = limit * math.tanh(float(ram.s["time"]) * G * CASE["fall_m"] / (CASE["length_m"] * limit))
            assert abs(float(ram.s["drive"] / ram.p["end_area"]) - law) <= 0.01 * limit


@pytest.mark.parametrize(("x", "rankine"), list(zip(*SHEET["efficiency"].values(), strict=True)))
def test_efficiency_approaches_its_limit(x: float, rankine: float) -> None:
    """True Rankine efficiency x^2 / -ln(1 - x^2) (closed-form sheet, derived), to 1 %; high lift."""
    result = run_one(ideal(x=x, darcy_f=1e-9, lift_m=60.0, wave_speed=10000.0), grid=COARSE)
    assert abs(result.efficiency_rankine / rankine - 1.0) <= 0.01


def test_volumes_of_a_beat_approach_their_limits_as_the_pipe_stiffens() -> None:
    """Waste -(A L/K) ln(1 - x^2), delivery A L V0^2 / (2 g (h - H)), to 1 % at last, nearer at each step."""
    misses = []
    for wave_speed in (1386.0, 3000.0, 10000.0):
        system = ideal(lift_m=60.0, wave_speed=wave_speed)
        result, sheet = run_one(system, grid=COARSE), closed_form(system)
        misses.append(
            (
                abs(result.waste_per_beat / sheet.waste_volume - 1.0),
                abs(result.delivered_per_beat / sheet.delivered_volume - 1.0),
            )
        )
    for first, second in itertools.pairwise(misses):
        assert second[0] < first[0]
        assert second[1] < first[1]
    assert max(misses[-1]) <= 0.01


def test_pipe_friction_while_delivering_explains_what_is_left_at_low_lift() -> None:
    """At 15 m the column also loses head to pipe friction while it delivers; then 1.5 % again.

    Same equation of motion with friction kept (derived): the sheet's delivery times ln(1 + c)/c,
    c = K' V0^2 / (2 g (h - H)) with K' the losses of pipe and entrance.
    """
    system = ideal(wave_speed=3000.0)
    result = run_one(system, grid=COARSE)
    v0 = result.closing_velocity
    c = (0.025 * 12.0 / 0.0508 + 1.0) * v0**2 / (2.0 * G * 12.0)
    plain = math.pi * 0.0508**2 / 4.0 * 12.0 * v0**2 / (2.0 * G * 12.0)
    assert abs(result.delivered_per_beat / (plain * math.log1p(c) / c) - 1.0) <= 0.015


def _closed(velocity: float) -> tuple[Stepper, float]:
    """A frictionless column stopped under a lift within reach; with the velocity lost at first."""
    speed, fall, lift = 400.0, 3.0, 15.0
    bare = bare_pipe((Segment(length_m=12.0, bore_m=0.0508, wave_speed=speed),), fall_m=fall, reaches=8)
    system = replace(
        ideal(),
        delivery_valve=DeliveryValve(bore_m=0.5, loss=1e-2),
        air_vessel=AirVessel(air_m3=1e4),
        delivery_line=DeliveryLine(lift_m=lift, inertia=1e12),
    )
    like = Stepper(system, Grid(reaches=8))
    for name in ("delivery_flow", "air", "lift", "inertia"):
        bare.p[name] = like.p[name]
    bare.s["vessel_head"], bare.s["air"], bare.s["line_flow"] = lift, 1e4, 0.0
    bare.flow(velocity * float(bare.p["end_area"]))
    return bare, G * (lift - fall) / speed


def test_velocity_falls_in_the_steps_of_the_sheet() -> None:
    """By g (h - H_r)/a at closure, then by 2 g (h - H)/a each 2 L/a (closed-form sheet, derived), to 1 %."""
    bare, drop = _closed(1.2)
    seen = []
    for _ in range(3):
        for _ in range(16):
            bare.step()
        seen.append(float(bare.s["delivery"] / bare.p["end_area"]))
    for k, velocity in enumerate(seen):
        expected = max(1.2 - drop - 2.0 * k * drop, 0.0)
        assert abs(velocity - expected) <= 0.01 * 1.2


def test_no_delivery_below_the_threshold() -> None:
    """No delivery unless V0 > g (h - H_r)/a (closed-form sheet, derived): 1 % below and 1 % above."""
    _, drop = _closed(1.0)
    for share, lifts in ((0.99, False), (1.01, True)):
        bare, _ = _closed(share * drop)
        bare.step()
        assert (float(bare.s["delivery"]) > 0.0) is lifts
