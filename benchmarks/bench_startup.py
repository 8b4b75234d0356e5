"""How long the command line takes before it does anything: the median of several starts, in a process each.

Aim: 150 ms for ``ramwright --help``; 3 s for a second ``./run``, in which this is the part that is ours.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

STARTS = 15


def milliseconds(*command: str) -> float:
    """Median time of a command, ms."""
    times = []
    for _ in range(STARTS):
        begun = time.perf_counter()
        subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
        times.append(1e3 * (time.perf_counter() - begun))
    return statistics.median(times)


def main() -> None:
    """Print the figures."""
    bare = milliseconds(sys.executable, "-c", "pass")
    helped = milliseconds(sys.executable, "-m", "ramwright", "--help")
    print(f"python alone          {bare:6.0f} ms")
    print(f"ramwright --help      {helped:6.0f} ms   (aim: below 150 ms)")


if __name__ == "__main__":
    main()
