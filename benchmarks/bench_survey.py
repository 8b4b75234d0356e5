"""How long a visit of 500 readings takes to reduce: median and worst of many, in ms, after a warm start.

Run ``python benchmarks/bench_survey.py``; the aim is 50 ms.
"""

from __future__ import annotations

import statistics
import time
from itertools import pairwise

import numpy as np

from ramwright.quantities import Estimate
from ramwright.survey.consistency import Judging
from ramwright.survey.datum import OffsetRange, TapedOffset
from ramwright.survey.flow_bucket import Bucket, BucketRule, Fill, bucket_flow
from ramwright.survey.level_book import Allowance, AllowanceKind, BookRow, LevelBook
from ramwright.survey.level_sights import SightSpread
from ramwright.survey.level_water import HoseLine, HoseSetup
from ramwright.survey.points import LevelPoint, Stand, mark
from ramwright.survey.visit import Feed, FlowPlace, FlowReading, Roles, VisitReadings, VisitRule, reduce_visit

FEED = LevelPoint("drive tank", Stand.WATER_SURFACE)
GROUND = LevelPoint("ram", Stand.GROUND)
SEAT = LevelPoint("ram", Stand.WASTE_VALVE_SEAT)
TOP = LevelPoint("tank", Stand.TANK_INLET_TOP)
RULE = VisitRule(
    judging=Judging(significance=0.05, residual_limit=3.0),
    allowance=Allowance(AllowanceKind.PER_ROOT_SETUP, 0.005),
    booking_tolerance=0.0005,
    ranges=(OffsetRange(Stand.GROUND, Stand.WASTE_VALVE_SEAT, 0.1, 0.4),),
)


def book(label: str, stops: list[LevelPoint], heights: list[float], rng: np.random.Generator) -> LevelBook:
    """A book along ``stops`` at true ``heights`` (m), two readings a set-up, 2 mm each."""
    rows = []
    lines = [max(a, b) + 1.2 for a, b in pairwise(heights)]
    for i, stop in enumerate(stops):
        ahead = None if i == 0 else lines[i - 1] - heights[i] + rng.normal(0.0, 0.002)
        back = None if i == len(stops) - 1 else lines[i] - heights[i] + rng.normal(0.0, 0.002)
        rows.append(BookRow(stop, backsight=back, foresight=ahead, distance=20.0, backsight_distance=20.0))
    return LevelBook(label, tuple(rows), SightSpread(0.002, usual_length=20.0))


def visit(rng: np.random.Generator) -> tuple[VisitReadings, int]:
    """Three people's loops of levels, a hose line and buckets: 500 readings and a few more."""
    books = []
    for person in range(3):
        stops = [FEED, *(mark(f"a{person}.{i}") for i in range(9)), GROUND]
        heights = list(np.linspace(3.0, -0.25, 11))
        stops += [*(mark(f"b{person}.{i}") for i in range(19)), TOP]
        heights += list(np.linspace(-0.25, 18.0, 21)[1:])
        stops += [*(mark(f"c{person}.{i}") for i in range(29)), FEED]
        heights += list(np.linspace(18.0, 3.0, 31)[1:])
        books.append(book(f"book {person}", stops, heights, rng))
    hose_stops = [FEED, *(mark(f"h{i}") for i in range(19)), GROUND]
    hose_levels = np.linspace(3.0, -0.25, 21)
    setups = []
    for a, b, up, down in zip(hose_stops, hose_stops[1:], hose_levels, hose_levels[1:], strict=False):
        for _ in range(2):
            start = 0.5 + rng.normal(0.0, 0.003)
            setups.append(HoseSetup(a, b, start, start + up - down + rng.normal(0.0, 0.003)))
    flows = []
    for i in range(4):
        fills = [Fill(0.012, 8.0 + rng.normal(0.0, 0.2)) for _ in range(12)]
        bucket = Bucket(f"pail {i}", 0.01, 1e-4, 0.2)
        gauged = bucket_flow(f"pail {i}", fills, bucket=bucket, rule=BucketRule(3, 5.0, 0.05))
        flows.append(FlowReading(FlowPlace.CREEK, gauged))
    readings = VisitReadings(
        roles=Roles(FEED, SEAT, TOP, Feed.DRIVE_TANK),
        books=tuple(books),
        hoses=(HoseLine("hose", tuple(setups), 0.003),),
        offsets=(TapedOffset(GROUND, SEAT, Estimate(0.25, 0.005)),),
        flows=tuple(flows),
    )
    sights = sum(2 * (len(each.rows) - 1) for each in books)
    return readings, sights + 2 * len(setups) + 2 * sum(12 for _ in flows) + 1


def main() -> None:
    readings, count = visit(np.random.default_rng(1))
    reduce_visit(readings, rule=RULE)
    times = []
    for _ in range(40):
        start = time.perf_counter()
        reduce_visit(readings, rule=RULE)
        times.append((time.perf_counter() - start) * 1e3)
    print(f"{count} readings: median {statistics.median(times):.1f} ms, worst {max(times):.1f} ms")


if __name__ == "__main__":
    main()
