"""How long a full appraisal of 1,000 draws takes, and what of it; printed beside the kept baseline.

``--keep DATE`` writes the figures to ``baseline_appraise.json``. The aim is 2 s on 2 cores once the program
has been started before. Times of the parts are processor time of this process, so that other work on the
machine counts less; of the whole, both that and the clock. The best of several passes is kept.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from ramwright.appraise import Appraisal, appraise, builder, choose_setting, install, judge, middle, predict
from ramwright.appraise.draws import make_draws
from ramwright.appraise.layout import lay_out
from ramwright.appraise.sensitivity import decides
from ramwright.ram import Grid, run_many
from ramwright.ram.grid import to_rows
from ramwright.site import read_sheet
from ramwright.wording.told import tell

HERE = Path(__file__).parent
BASELINE = HERE / "baseline_appraise.json"
SHEETS = ("alder-fork", "hoher-grund")
DRAWS = 1000
REPEATS = 3
FINE = Grid(reaches=40, glides=640)
Figures = dict[str, float]


def best(work: Callable[[], Any], clock: Callable[[], float]) -> float:
    """Seconds of the fastest of several passes."""
    passes = []
    for _ in range(REPEATS):
        begun = clock()
        work()
        passes.append(clock() - begun)
    return min(passes)


def parts(sheet: Path) -> Figures:
    """Processor seconds of an appraisal's parts."""
    site = read_sheet(sheet)
    whole: Appraisal = appraise(site, draws=DRAWS)
    installation, prediction = whole.installation, whole.prediction
    build = builder(installation)
    drawn = make_draws(installation, DRAWS)
    systems = [build.system(draw) for draw in drawn]
    work: dict[str, Callable[[], Any]] = {
        "read_sheet_s": lambda: read_sheet(sheet),
        "install_s": lambda: install(site),
        "setting_s": lambda: choose_setting(install(site)),
        "draws_and_systems_s": lambda: [build.system(d) for d in make_draws(installation, DRAWS)],
        "rows_s": lambda: to_rows(systems, Grid()),
        "runs_s": lambda: run_many(systems, workers=1),
        "predict_s": lambda: predict(installation, draws=DRAWS),
        "layout_and_verdicts_s": lambda: judge(
            installation, prediction, whole.setting, lay_out(site, installation, prediction)
        ),
        "deciders_s": lambda: decides(prediction),
        "told_s": lambda: tell(whole, "us"),
    }
    return {name: best(job, time.process_time) for name, job in work.items()}


def whole(sheet: Path) -> Figures:
    """An appraisal from the sheet to the last verdict, by the clock (all cores) and in processor seconds."""

    def once() -> None:
        appraise(read_sheet(sheet), draws=DRAWS)

    command = [sys.executable, "-m", "ramwright", "appraise", str(sheet), "--draws", str(DRAWS), "--json"]
    return {
        "appraisal_s": best(once, time.perf_counter),
        "appraisal_processor_s": best(once, time.process_time),
        "command_s": best(
            lambda: subprocess.run(command, check=True, capture_output=True), time.perf_counter
        ),
    }


def grid_costs(sheet: Path) -> Figures:
    """What the engine's grid costs in truth: low, likely and high of delivery against a fine grid's."""
    installation, _ = choose_setting(install(read_sheet(sheet)))
    build = builder(installation)
    systems = [build.system(draw) for draw in (*make_draws(installation, 300), middle(installation))]

    def levels(grid: Grid) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        many = run_many(systems, grid=grid)
        return np.quantile(np.where(many.lifts_water(), many.delivery, 0.0), (0.1, 0.5, 0.9))

    off = 100.0 * (levels(Grid()) / levels(FINE) - 1.0)
    return {
        f"{name}_off_pct": float(value) for name, value in zip(("low", "likely", "high"), off, strict=True)
    }


def main() -> None:
    """Print every figure beside the baseline's."""
    folder = HERE.parent / "examples"
    figures: dict[str, Figures] = {}
    for name in SHEETS:
        sheet = folder / f"{name}.toml"
        figures[name] = parts(sheet) | whole(sheet) | grid_costs(sheet)
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
