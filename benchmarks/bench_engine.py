"""How fast and how exactly the engine runs the drawn rams; figures are printed beside the kept baseline.

``--keep DATE`` writes them to ``baseline_engine.json``. Times of one core are processor time of this
process, so that other work on the machine counts less; two cores are by the clock.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import draws
import numpy as np

from ramwright.ram import OUTCOMES, Grid, ManyResults, RamSystem, run_many

BASELINE = Path(__file__).parent / "baseline_engine.json"
REPEATS = 3
FINE = Grid(reaches=80, glides=1280)
Figures = dict[str, float]


def rams_per_second(systems: list[RamSystem], workers: int) -> tuple[float, ManyResults]:
    """Best of several passes."""
    clock = time.process_time if workers == 1 else time.perf_counter
    best = float("inf")
    for _ in range(REPEATS):
        begun = clock()
        result = run_many(systems, workers=workers)
        best = min(best, clock() - begun)
    return len(systems) / best, result


def misses(result: ManyResults, fine: ManyResults) -> Figures:
    """Relative miss against the fine grid, per cent, of the rams that settle on both."""
    runs = OUTCOMES.index("runs")
    both = (result.outcome == runs) & (fine.outcome == runs)
    delivery = 100.0 * np.abs(result.delivery[both] / fine.delivery[both] - 1.0)
    beats = 100.0 * np.abs(result.beats_per_min[both] / fine.beats_per_min[both] - 1.0)
    return {
        "compared": float(both.sum()),
        "same_outcome_pct": 100.0 * float(np.mean(result.outcome == fine.outcome)),
        "delivery_miss_median_pct": float(np.median(delivery)),
        "delivery_miss_95th_pct": float(np.percentile(delivery, 95)),
        "beats_miss_median_pct": float(np.median(beats)),
        "beats_miss_95th_pct": float(np.percentile(beats, 95)),
    }


def one_class(kind: str) -> Figures:
    """All figures of one class."""
    systems = draws.read(kind)
    run_many(systems[:8], workers=1)  # compiled or loaded before the clock starts
    one, result = rams_per_second(systems, 1)
    two, _ = rams_per_second(systems, 2)
    rows = result.rows
    reaches = np.array([Grid().reaches_of(system) for system in systems])  # one stretch: as many cells
    updates = float((rows["steps"] * reaches).sum())
    figures = {
        "rams_per_s_one_core": one,
        "rams_per_s_two_cores": two,
        "grid_updates_per_s": updates * one / len(systems),
        "solves_per_step": float(rows["solves"].sum() / rows["steps"].sum()),
    }
    for i, name in enumerate(OUTCOMES):
        chosen = result.outcome == i
        figures[f"{name}_pct"] = 100.0 * float(chosen.mean())
        figures[f"{name}_steps_pct"] = 100.0 * float(rows["steps"][chosen].sum() / rows["steps"].sum())
    return figures | misses(result, run_many(systems, grid=FINE, workers=2))


def seconds_to_start() -> Figures:
    """Import alone, first run with an empty cache folder, first run with a full one; each in a process."""
    run = (
        "import sys; sys.path.insert(0, sys.argv[1]); import draws; from ramwright.ram import run_one;"
        "run_one(draws.read('plastic')[0])"
    )

    def seconds(code: str, cache: str) -> float:
        begun = time.perf_counter()
        subprocess.run(
            [sys.executable, "-c", code, str(Path(__file__).parent)],
            env=os.environ | {"RAMWRIGHT_CACHE": cache},
            check=True,
        )
        return time.perf_counter() - begun

    with tempfile.TemporaryDirectory() as cache:
        cold = seconds(run, cache)
        return {
            "bare_python_s": seconds("pass", cache),
            "import_s": seconds("import ramwright.ram", cache),
            "cold_s": cold,
            "warm_s": seconds(run, cache),
        }


def main() -> None:
    """Print every figure beside the baseline's."""
    figures = {"start": seconds_to_start()} | {kind: one_class(kind) for kind in draws.CLASSES}
    kept: dict[str, Any] = {"date": "none"}
    if BASELINE.exists():
        kept = json.loads(BASELINE.read_text("utf-8"))
    print(f"{'':32} {'now':>14} {'kept ' + kept['date']:>18}")
    for group, values in figures.items():
        print(group)
        for name, value in values.items():
            before = kept.get(group, {}).get(name)
            print(f"  {name:30} {value:14.4g} {'' if before is None else format(before, '18.4g')}")
    if sys.argv[1:2] == ["--keep"]:
        rounded = {g: {n: float(f"{v:.4g}") for n, v in vs.items()} for g, vs in figures.items()}
        BASELINE.write_text(json.dumps({"date": sys.argv[2]} | rounded, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    main()
