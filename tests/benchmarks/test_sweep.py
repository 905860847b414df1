"""Very many baths: time, what a second process is worth, and memory: `pytest tests/benchmarks`.

Baths are spread over the strengths that people mix, as in `test_speed`. What is asserted: 10⁶ in at
most 20 s in one process, two at least 1.7 times as quick, a worker under 200 MB; 10⁷ to a file
under 1 GB in all processes together, their inputs counted. A row for `speed.md` is printed.
"""

import multiprocessing
import os
import re
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from time import perf_counter

import numpy as np
import pytest

from pcbchem import Board
from pcbchem.reaction.sweep import sweep

BOARD = Board(area=40e-4)
MILLION, RUNS = 1_000_000, 3
MOST_SECONDS, LEAST_GAIN = 20, 1.7
MOST_WORKER_MB, MOST_MB = 200, 1000


def lot_of(count):
    """Draw baths [SI] of the strengths that people mix."""
    generator = np.random.default_rng(3)
    return {
        "HCl": generator.uniform(800, 5000, count),
        "H2O2": generator.uniform(300, 4900, count),
        "T": generator.uniform(288, 303, count),
        "bath_per_area": generator.uniform(0.01, 0.1, count),
    }


def peak(pid):
    """Most memory of a process so far [MB]."""
    status = Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    return int(re.search(r"VmHWM:\s+(\d+)", status)[1]) / 1024


def children():
    """List the processes that this one started."""
    return Path(f"/proc/self/task/{os.getpid()}/children").read_text(encoding="ascii").split()


def two_processes():
    """Return two workers that share nothing with this process, and are there already."""
    pool = ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("spawn"))
    sweep(lot_of(40_000), BOARD, executor=pool)
    return pool


def seconds(count, **settings):
    """Sweep so many baths, and return how long it took [s]."""
    lot = lot_of(count)
    begun = perf_counter()
    sweep(lot, BOARD, **settings)
    return perf_counter() - begun


needs_proc = pytest.mark.skipif(not Path("/proc/self").exists(), reason="peaks are read in /proc")


@needs_proc
def test_a_million_baths(say):
    with two_processes() as pool:
        # in turns, and the shortest of each: what else the machine does only makes one longer
        runs = [(seconds(MILLION), seconds(MILLION, executor=pool)) for _ in range(RUNS)]
        worker = max(map(peak, children()))
    alone, pair = (min(times) for times in zip(*runs, strict=True))
    say(
        f"| a sweep of a million baths, in one / two processes, best of {RUNS} | "
        f"{alone:.1f} / {pair:.1f} s, {alone / pair:.2f} times; {worker:.0f} MB a worker | "
        "20 s; 1.7 times; 200 MB |"
    )
    assert alone <= MOST_SECONDS
    assert alone / pair >= LEAST_GAIN
    assert worker <= MOST_WORKER_MB


CHILD = """
import os, sys
sys.path[:0] = sys.argv[2:]
from benchmarks.test_sweep import children, peak, seconds, two_processes
with two_processes() as pool:
    took = seconds(10_000_000, executor=pool, to=sys.argv[1])
    print(took, sum(map(peak, children())) + peak(os.getpid()))
"""


@needs_proc
def test_ten_million_baths_to_a_file(say, tmp_path):
    path = tmp_path / "lot.parquet"
    tests = Path(__file__).parents[1]
    # in a process of its own: what this one did before would count
    child = subprocess.run(
        [sys.executable, "-c", CHILD, path, tests, tests.parent],
        capture_output=True,
        text=True,
        check=False,
    )
    assert child.returncode == 0, child.stderr
    took, megabytes = (float(word) for word in child.stdout.split())
    say(
        f"| ten million baths to a Parquet file of {path.stat().st_size / 1e6:.0f} MB, two "
        f"processes | {took:.0f} s; {megabytes:.0f} MB in all | 1 GB |"
    )
    assert megabytes <= MOST_MB
