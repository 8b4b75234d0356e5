"""Many runs: the same bytes whatever the threads and the order, progress, and a prompt stop."""

from __future__ import annotations

import threading
from typing import Any

import numpy as np
import pytest
from ram_cases import line, plastic, steel

from ramwright.ram import RamSystem, StoppedError, run_beat, run_many
from ramwright.ram.kernel import run_block

pytestmark = pytest.mark.engine


def _rams(count: int) -> list[RamSystem]:
    return [line(steel() if k % 2 else plastic(), lift_m=12.0 + 0.7 * k) for k in range(count)]


def test_bytes_do_not_depend_on_threads() -> None:
    rams = _rams(40)
    one, two = run_many(rams, workers=1), run_many(rams, workers=2)
    assert one.rows.tobytes() == two.rows.tobytes()


def test_bytes_do_not_depend_on_order() -> None:
    rams = _rams(20)
    forward, backward = run_many(rams, workers=2), run_many(rams[::-1], workers=2)
    assert forward.rows.tobytes() == backward.rows[::-1].tobytes()


@pytest.mark.parametrize("workers", [1, 2])
def test_progress_rises_to_the_whole(workers: int) -> None:
    told: list[tuple[int, int]] = []

    def progress(done: int, of: int) -> bool:
        told.append((done, of))
        return True

    run_many(_rams(20), workers=workers, progress=progress)
    assert told == sorted(told)
    assert told[-1] == (20, 20)


@pytest.mark.parametrize("workers", [1, 2])
def test_stop_leaves_the_rest_undone(workers: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopped at the first word of progress: of a hundred blocks a few are done, no thread stays behind."""
    done: list[int] = []

    def counted(systems: Any, results: Any, first: int, stop: int) -> None:
        done.append(first)
        run_block(systems, results, first, stop)

    monkeypatch.setattr("ramwright.ram.run.run_block", counted)
    before = threading.active_count()
    with pytest.raises(StoppedError):
        run_many(_rams(800), workers=workers, progress=lambda *_: False)
    assert 1 <= len(done) <= 20
    assert threading.active_count() == before


def test_one_beat_shown_agrees_with_the_run() -> None:
    beat = run_beat(steel())
    span = beat.trace["time"][-1] - beat.trace["time"][0]
    assert abs(span / (120.0 / beat.result.beats_per_min) - 1.0) <= 0.02
    delivered = np.mean(beat.trace["delivery"])
    assert abs(delivered / beat.result.delivery - 1.0) <= 0.02
    assert beat.highest.max() >= beat.result.delivery_bounds[0]
    assert beat.stations[0] > 0.0
    assert beat.stations[-1] < 12.0
