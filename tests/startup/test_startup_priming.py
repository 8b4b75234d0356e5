"""Priming of siphons and purging of the drive pipe."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest
from fluids.friction import friction_factor
from scipy.optimize import brentq
from startup_sites import installed, varied

from ramwright.catalogue import table
from ramwright.geometry import Profile
from ramwright.hydraulics.line import Line, single_pipe
from ramwright.hydraulics.water import water_at
from ramwright.startup import Means, Purge, make_bench, plan_priming, purge_drive_pipe, vessel_of, way_of
from ramwright.startup.priming import METHODS, PrimingPlan, siphon_heights

TABLES = tomllib.loads((Path(__file__).parents[1] / "reference" / "startup_practice.toml").read_text("utf-8"))
SWEEPING = tomllib.loads(
    (Path(__file__).parents[1] / "reference" / "hydraulics_lines.toml").read_text("utf-8")
)["sweeping"]
G = 9.80665
WATER = water_at(10.0)


def line(levels: list[float], bore: float = 0.05) -> Line:
    """30 m of pipe with four points."""
    profile = Profile(stations=np.linspace(0.0, 30.0, len(levels)), levels=np.array(levels))
    return single_pipe(profile, bore=bore, roughness=1.5e-6)


def over(
    crest: float, *, outlet_level: float | None = None, means: Means | None = None, altitude_m: float = 0.0
) -> PrimingPlan:
    """Source at 10 m, a crest, an outlet at 4 m."""
    return plan_priming(
        line([9.0, crest, 7.0, 4.0]), water_at(10.0, altitude_m=altitude_m), source_level=10.0,
        outlet_level=outlet_level, means=means,
    )  # fmt: skip


def test_the_limit_falls_with_altitude_as_the_air_does() -> None:
    """Heads of the standard atmosphere at 20 C: what the air loses the siphon loses."""
    air = TABLES["air"]
    practical = table("siphon_limits").row("practical-lift").number("likely")
    for altitude, head in zip(air["altitude_m"], air["air_head_m"], strict=True):
        limit, recommended = siphon_heights(water_at(20.0, altitude_m=float(altitude)))
        assert abs(practical - limit - (air["air_head_m"][0] - head)) < 0.02
        assert recommended < limit


def test_a_crest_below_the_source_needs_no_priming() -> None:
    found = plan_priming(line([9.0, 9.2, 8.5, 9.05]), WATER, source_level=10.0)
    assert (found.outcome, found.methods) == ("not_needed", ())
    assert found.litres == 0.0


def test_a_line_that_only_falls_has_no_crest() -> None:
    found = plan_priming(line([9.0, 8.0, 7.0, 4.0]), WATER, source_level=10.0)
    assert found.outcome == "no_crest"


def test_an_outlet_above_the_source_is_named() -> None:
    found = plan_priming(line([9.0, 12.0, 11.0, 10.5]), WATER, source_level=10.0)
    assert found.outcome == "no_head"


def test_litres_are_what_stands_above_the_source_and_behind_the_crest() -> None:
    """10 m of pipe climb from 9 m to a crest at 12 m, 2/3 of them above 10 m; and 20 m beyond, bore 50 mm."""
    found = over(12.0)
    assert found.outcome == "by_hand"
    assert found.lift == pytest.approx(2.0)
    assert found.litres == pytest.approx(math.pi * 0.05**2 / 4.0 * (20.0 / 3.0 + 20.0), rel=1e-6)
    assert found.lowest_pressure < -2.0


def test_an_outlet_under_water_needs_less() -> None:
    """Water stands to 5 m in the last 10 m, which fall from 7 m to 4 m: a third of them is full."""
    less = math.pi * 0.05**2 / 4.0 * 10.0 / 3.0
    assert over(12.0, outlet_level=5.0).litres == pytest.approx(over(12.0).litres - less, rel=1e-6)


def test_beyond_the_limit_nothing_works_and_the_crest_must_come_down() -> None:
    found = over(16.9)
    assert found.outcome == "beyond_limit"
    assert {(m.works, m.why, m.next) for m in found.methods} == {(False, "beyond_limit", "lower_crest")}
    assert [m.code for m in found.methods] == list(METHODS)


def test_the_same_crest_holds_at_the_sea_and_not_on_the_mountain() -> None:
    assert over(13.0).outcome == "by_hand"
    assert over(13.0, altitude_m=3000.0).outcome == "beyond_limit"


def why(found: PrimingPlan) -> dict[str, tuple[bool, str]]:
    return {m.code: (m.works, m.why) for m in found.methods}


def test_each_way_is_judged_by_what_is_at_hand() -> None:
    means = Means(
        pump_head=20.0, pump_flow=0.01, pour_flow=0.01, raise_height=10.0, raise_mass=100.0, bends=True
    )
    assert all(m.works for m in over(12.0, outlet_level=4.5, means=means).methods)
    poor = Means(
        pump_head=5.0, pump_flow=0.01, pour_flow=1e-5, raise_height=2.0, raise_mass=25.0, ends_shut=False
    )
    found = why(over(12.0, outlet_level=4.5, means=poor))
    assert found["foot_valve"] == (True, "leg_kept_full")
    assert found["pour_and_cap"] == (False, "ends_open")
    assert found["small_pump"] == (False, "pump_too_low")
    assert found["fill_at_crest"] == (False, "poured_too_slow")
    assert found["raise_and_drop"] == (False, "raised_too_high")


def test_an_open_outlet_cannot_be_filled_at_the_crest() -> None:
    assert why(over(12.0))["fill_at_crest"] == (False, "outlet_open")


def test_a_heavy_or_a_stiff_end_cannot_be_raised() -> None:
    assert why(over(12.0, means=Means(raise_height=9.0, raise_mass=10.0)))["raise_and_drop"][1] == (
        "raised_too_heavy"
    )
    assert why(over(12.0, means=Means(bends=False)))["raise_and_drop"][1] == "line_stiff"


def test_what_fails_names_what_to_try() -> None:
    found = over(12.0)
    assert all(m.next == ("" if m.works else "foot_valve") for m in found.methods)


def purge(profile: Profile | None = None, **entries: str) -> Purge:
    site = varied(**entries)
    installation = installed(site)
    bench = make_bench(installation, way_of(installation)[0], vessel_of(site, installation), draws=20)
    return purge_drive_pipe(bench, profile)


def test_held_open_it_runs_as_fast_as_its_losses_let_it() -> None:
    """Darcy with the general library's factor, and the valve's loss on its port."""
    installation = installed(varied())
    pipe, valve = installation.drive_pipe[0], installation.valve
    k_valve = valve.port_loss.value + valve.curtain_loss.value * (valve.port / valve.stroke.value) ** 2
    area, port = math.pi * pipe.bore**2 / 4.0, math.pi * valve.port**2 / 4.0

    def left(flow: float) -> float:
        v = flow / area
        factor = friction_factor(
            v * pipe.bore / installation.water.kinematic_viscosity, pipe.roughness / pipe.bore
        )
        k = 1.0 + installation.entrance_loss + pipe.loss + installation.body_loss
        lost = (factor * pipe.length / pipe.bore + k) * v**2 / (2.0 * G)
        return installation.fall.value - lost - k_valve * (flow / port) ** 2 / (2.0 * G)

    found = purge()
    assert found.flow.likely == pytest.approx(brentq(left, 1e-9, 0.1), rel=0.03)
    assert found.velocity.low < found.velocity.likely < found.velocity.high
    assert found.litres == pytest.approx(3.0 * pipe.length * area)


def test_what_sweeps_the_air_is_wisner_s_velocity() -> None:
    """Reference table at 10 degrees below level, 26.6 mm and wider; the drive pipe lies between two rows."""
    found = purge(drive="35 ft")  # 6 ft 1 in over 35 ft: 10.0 degrees
    bore = installed(varied()).drive_pipe[0].bore
    expected = math.sqrt(bore / SWEEPING["bore_m"][1]) * SWEEPING["velocity_m_s"][1]
    assert found.stretches[0].needed == pytest.approx(expected, rel=2e-3)
    assert found.outcome == "swept"


def test_a_slow_pipe_lets_its_air_rise() -> None:
    assert purge(fall="4 in").outcome == "rises"


def test_a_hump_holds_its_air_unless_it_is_swept() -> None:
    length = 30.0 * 0.3048
    steep = Profile(stations=np.array([0.0, 3.0, 5.0, length]), levels=np.array([1.9, 1.0, 1.4, 0.0]))
    fast, slow = purge(steep), purge(steep, fall="4 in")
    assert len(fast.humps) == 1
    assert (fast.humps[0].station, fast.outcome) == (5.0, "swept")
    assert slow.outcome == "trapped"
