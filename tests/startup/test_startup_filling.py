"""Gravity fill, the climb to the tank, soundings, the throttled start and leaks, each found another way."""

from __future__ import annotations

import math
import tomllib
from pathlib import Path

import numpy as np
import pytest
from fluids.friction import friction_factor
from scipy.integrate import quad, solve_ivp
from startup_sites import installed, varied

from ramwright.appraise import Installation
from ramwright.errors import InputError
from ramwright.geometry import Profile
from ramwright.hydraulics.air import Filling
from ramwright.quantities import Estimate
from ramwright.startup import (
    Alone,
    Bench,
    Sounding,
    Vessel,
    climb_to_tank,
    flow_between,
    gravity_fill,
    leak_down,
    leak_flow,
    make_bench,
    opening_area,
    vessel_of,
    way_of,
)

TABLES = tomllib.loads((Path(__file__).parents[1] / "reference" / "startup_practice.toml").read_text("utf-8"))
G = 9.80665


def bench_of(name: str = "creek", draws: int = 0) -> Bench:
    site = varied(name)
    installation = installed(site)
    return make_bench(installation, way_of(installation)[0], vessel_of(site, installation), draws=draws)


def friction(flow: float, bore: float, rough: float, length: float, nu: float) -> float:
    """Head lost (m) by Darcy-Weisbach with the general library's factor."""
    speed = flow / (math.pi * bore**2 / 4.0)
    factor = friction_factor(max(speed, 1e-9) * bore / nu, rough / bore)
    return float(factor) * length / bore * speed**2 / (2.0 * G)


def fall_left(i: Installation, flow: float, front: float, rise: float) -> float:
    """Fall left over at a flow with the front at ``front`` (m) along the line, which rises ``rise`` (m/m)."""
    pipe, line = i.drive_pipe[0], i.delivery_line[0]
    nu = i.water.kinematic_viscosity
    drive, bore = flow / (math.pi * pipe.bore**2 / 4.0), flow / (math.pi * line.bore**2 / 4.0)
    valve = flow / (math.pi * i.delivery_bore**2 / 4.0)
    lost = friction(flow, pipe.bore, pipe.roughness, pipe.length, nu)
    lost += friction(flow, line.bore, line.roughness, front, nu)
    lost += (1.0 + i.entrance_loss + pipe.loss + i.body_loss) * drive**2 / (2.0 * G)
    lost += i.delivery_loss * valve**2 / (2.0 * G)
    lost += (1.0 + line.loss * front / line.length) * bore**2 / (2.0 * G)
    return i.fall.value - rise * front - lost


@pytest.mark.parametrize("name", ["creek", "hut"])
def test_gravity_fill_agrees_with_an_integration_of_its_own(name: str) -> None:
    """Darcy with the general library ``fluids`` at each place of the front, stepped by scipy."""
    from scipy.optimize import brentq

    bench = bench_of(name)
    i, line = bench.installation, bench.installation.delivery_line[0]
    rise = i.lift.value / line.length
    area = math.pi * line.bore**2 / 4.0

    def speed(_t: float, front: np.ndarray) -> list[float]:
        x, step = float(front[0]), 1e-4
        flow = brentq(lambda q: fall_left(i, q, x, rise), 1e-12, 0.1)
        # the air vessel takes in a little as the head rises
        taken = (bench.vessel.taken(rise * (x + step)) - bench.vessel.taken(rise * x)) / step
        return [flow / (area + taken)]

    found = gravity_fill(bench)
    full = i.fall.value / rise
    volumes = np.linspace(0.0, full, 4001) * area + bench.vessel.taken(rise * np.linspace(0.0, full, 4001))
    front = float(np.interp(found.timed * volumes[-1], volumes, np.linspace(0.0, full, 4001)))

    def there(_t: float, x: np.ndarray) -> float:
        return float(x[0]) - front

    there.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(speed, (0.0, 1e4), [1e-6], events=there, rtol=1e-6)
    assert run.t_events is not None
    assert found.length.likely == pytest.approx(full, rel=1e-6)
    assert found.volume.likely == pytest.approx(float(volumes[-1]), rel=1e-3)
    assert found.seconds.likely == pytest.approx(float(run.t_events[0][0]), rel=0.05)


def test_gravity_fill_stops_at_the_feed_level() -> None:
    bench = bench_of(draws=30)
    found = gravity_fill(bench)
    assert found.level.low < bench.installation.fall.value < found.level.high
    assert found.length.low < found.length.likely < found.length.high


def a_climb(bench: Bench, heads: list[float], flows: list[float]) -> float:
    """Seconds to the tank of the middle with a made-up delivery over the head."""
    alone = Alone(
        outcome=("runs_alone",),
        level=np.array([heads[0]]),
        below=np.array([np.nan]),
        heads=(np.array(heads),),
        flows=(np.array(flows),),
        shutoff=np.array([np.nan]),
        stumbles=np.array([False]),
    )
    found = climb_to_tank(bench, alone)
    assert found is not None
    assert found.times[-1] == pytest.approx(found.seconds.likely)
    assert found.levels[-1] == pytest.approx(bench.ways[0].lift)
    return found.seconds.likely


def test_at_one_delivery_the_climb_takes_volume_over_flow() -> None:
    bench = bench_of()
    lift, stored = bench.ways[0].lift, bench.stored(0)
    first = float(np.interp(3.0, bench.ways[0].heads, stored))
    assert a_climb(bench, [3.0, lift], [1e-4, 1e-4]) == pytest.approx(
        (float(stored[-1]) - first) / 1e-4, rel=1e-6
    )


def test_a_delivery_that_falls_with_the_head_is_integrated() -> None:
    """Line alone (no air vessel): t = integral of A dx / q(h) by quadrature."""
    bench = bench_of()
    small = Bench(
        bench.installation, bench.draws, bench.systems, bench.ways,
        Vessel(volume=1e-12, charge=10.0, atmosphere=10.0),
    )  # fmt: skip
    way = bench.ways[0]
    lift = way.lift
    expected, _ = quad(lambda h: way.volume / lift / (2e-4 - (h - 3.0) / (lift - 3.0) * 1.5e-4), 3.0, lift)
    assert a_climb(small, [3.0, lift], [2e-4, 0.5e-4]) == pytest.approx(expected, rel=2e-3)


def test_two_soundings_give_the_flow_and_its_spread() -> None:
    """200 ft of line between 5 and 12 minutes; spread against drawn readings."""
    way = way_of(installed(varied()))[0]
    one = Sounding(Estimate(20.0, 1.5, "heard"), Estimate(300.0, 10.0, "watch"))
    two = Sounding(Estimate(80.0, 2.0, "heard"), Estimate(720.0, 10.0, "watch"))
    found = flow_between(way, one, two)
    per_metre = way.volume / way.length
    assert found.flow.value == pytest.approx(per_metre * 60.0 / 420.0)
    rng = np.random.default_rng(3)
    n = 200_000
    places = rng.normal(80.0, 2.0, n) - rng.normal(20.0, 1.5, n)
    times = rng.normal(720.0, 10.0, n) - rng.normal(300.0, 10.0, n)
    assert found.flow.sd == pytest.approx(float(np.std(per_metre * places / times)), rel=0.03)
    assert found.low_head == pytest.approx(way.lift * 20.0 / way.length)


def test_soundings_out_of_order_or_off_the_line_are_refused() -> None:
    way = way_of(installed(varied()))[0]
    at = [
        Sounding(Estimate(x, 1.0), Estimate(t, 5.0))
        for x, t in ((20.0, 300.0), (80.0, 200.0), (500.0, 900.0))
    ]
    with pytest.raises(InputError) as order:
        flow_between(way, at[0], at[1])
    assert order.value.code == "startup_soundings_order"
    with pytest.raises(InputError) as off:
        flow_between(way, at[0], at[2])
    assert (off.value.code, off.value.field) == ("startup_off_the_line", "second.station")


def test_the_opening_is_torricelli_s() -> None:
    """0.15 L/s at 2.3 m through a sharp hole: V = sqrt(2 g h) = 6.716 m/s, 0.61 of it: 36.6 mm2."""
    assert opening_area(0.15e-3, drop=2.3, coefficient=0.61) == pytest.approx(36.61e-6, rel=1e-3)


def test_a_leak_lets_the_gauge_down_as_quadrature_says() -> None:
    """dV/dh of Boyle's air over a hole's flow, by scipy."""
    vessel = Vessel(volume=5e-3, charge=10.2, atmosphere=10.2)

    def slow(h: float, back: float) -> float:
        given = 5e-3 * 10.2 / (10.2 + h) ** 2
        return given / (2e-6 * math.sqrt((h - back) / (14.0 - back)))

    for back in (0.0, 2.0):
        expected, _ = quad(slow, 5.0, 14.0, args=(back,))
        found = leak_down(vessel, head=14.0, until=5.0, flow=2e-6, back=back)
        assert found == pytest.approx(expected, rel=1e-4)
        assert leak_flow(vessel, head=14.0, until=5.0, seconds=found, back=back) == pytest.approx(2e-6)


@pytest.mark.parametrize(
    ("until", "seconds", "code"),
    [(20.0, 10.0, "startup_leak_heads"), (-1.0, 10.0, "startup_leak_heads"), (5.0, 0.0, "startup_leak_time")],
)
def test_a_leak_that_cannot_be_is_refused(until: float, seconds: float, code: str) -> None:
    vessel = Vessel(volume=5e-3, charge=10.2, atmosphere=10.2)
    with pytest.raises(InputError) as refused:
        leak_flow(vessel, head=14.0, until=until, seconds=seconds)
    assert refused.value.code == code


def hump() -> Profile:
    table = TABLES["lost_heads"]
    return Profile(stations=np.array(table["stations_m"]), levels=np.array(table["levels_m"]))


def humped() -> tuple[Installation, Filling]:
    installation = installed(varied("hut", lift="12 m", delivery="110 m"))
    _, filling = way_of(installation, hump())
    assert filling is not None
    return installation, filling


def test_air_shut_in_costs_head_up_to_the_depth_of_its_leg() -> None:
    """Jordan 1984 (memory): lost heads add up; one pocket, at most 3 m deep."""
    installation, filling = humped()
    way, _ = way_of(installation, hump())
    lost = sum(p.lost_head for p in filling.pockets)
    assert 0.0 < lost <= TABLES["lost_heads"]["deepest_pocket_m"]
    assert way.last_head == pytest.approx(12.0 + lost)
    assert (np.diff(way.heads) >= -1e-12).all()
    # while the front runs down behind the summit the head on the ram stays that of the summit
    assert float(np.interp(50.0, way.stations, way.heads)) == pytest.approx(8.0)


def test_a_profile_of_another_line_is_refused() -> None:
    installation = installed(varied("hut", lift="14 m", delivery="110 m"))
    with pytest.raises(InputError) as refused:
        way_of(installation, hump())
    assert refused.value.code == "startup_profile_top"


def test_an_even_line_holds_what_its_bore_holds() -> None:
    installation = installed(varied())
    way, filling = way_of(installation)
    assert filling is None
    bore = installation.delivery_line[0].bore
    assert way.volume == pytest.approx(math.pi * bore**2 / 4.0 * 300.0 * 0.3048)
    assert way.at_head(way.stations, 0.5 * way.lift) == pytest.approx(0.5 * way.length)
