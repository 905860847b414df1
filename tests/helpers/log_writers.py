"""Programs that add rows to one log at the same time, and programs that are killed while they do."""

import itertools
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from helpers.offcuts import mild
from pcbchem.bench.offcut.log import append_offcuts, read_log

TESTS = Path(__file__).parents[1]


def start(call, *arguments, **environment):
    """Start a program that calls one of the functions below."""
    code = f"import sys; from helpers import log_writers; log_writers.{call}(*sys.argv[1:])"
    paths = os.pathsep.join([str(TESTS), str(TESTS.parent)])
    return subprocess.Popen(
        [sys.executable, "-W", "error::Warning:pcbchem", "-c", code, *map(str, arguments)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": paths, **environment},
    )


def write(path, who, calls):
    """Add rows, five a call, when told to."""
    rows = [mild(note=f"{who} {number}") for number in range(5 * int(calls))]
    print("ready", flush=True)
    sys.stdin.readline()
    for first in range(0, len(rows), 5):
        append_offcuts(path, *rows[first : first + 5])


def check_two_writers(path, calls):
    """Let two programs add rows at the same time, and see that none is lost."""
    writers = []
    for who in "ab":
        # each has its own folder for temporary files: a lock in there would keep nobody out
        folder = path.parent / who
        folder.mkdir()
        places = dict.fromkeys(("TMPDIR", "TEMP", "TMP"), str(folder))
        writers.append(start("write", path, who, calls, **places))
    for writer in writers:
        assert writer.stdout.readline() == "ready\n", writer.stderr.read()
    for writer in writers:
        writer.stdin.write("go\n")
        writer.stdin.flush()
    for writer in writers:
        assert writer.communicate(timeout=120)[1] == "" and writer.returncode == 0
    log = read_log(path)
    notes = [offcut.note for offcut in log.offcuts]
    assert log.bad == () and len(notes) == 10 * calls
    for who in "ab":  # each writer's rows, in its own order
        mine = [note for note in notes if note[0] == who]
        assert mine == [f"{who} {number}" for number in range(5 * calls)]
    turns = sum(first[0] != second[0] for first, second in itertools.pairwise(notes))
    assert turns >= 2, "they did not write at the same time"


def check_kills(path, times):
    """Kill programs that add rows, and see that the log can be read and added to at once."""
    program = start("kill_writers", path, times)
    assert program.communicate(timeout=120)[1] == "" and program.returncode == 0


def kill_writers(path, times):
    """Kill so many; in a program of its own, for it forks."""
    path, times = Path(path), int(times)
    bad_before = added = 0
    append_offcuts(path, mild(note="first"))
    for turn in range(times):
        before = path.read_bytes()
        child = os.fork()
        if not child:
            for number in range(1000):
                append_offcuts(path, mild(note=f"{turn} {number} " + "x" * 600 + "\n, end"))
            os._exit(0)
        while path.stat().st_size == len(before):  # until it is at work
            time.sleep(0.0002)
        time.sleep(random.Random(turn).uniform(0, 0.01))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        after, log = path.read_bytes(), read_log(path)
        assert after.startswith(before), turn
        assert len(log.bad) <= bad_before + 1, (turn, log.bad)
        assert len(log.offcuts) + len(log.bad) >= before.count(b",240,"), turn
        added += after.count(b",240,") - before.count(b",240,")
        bad_before = len(log.bad)
        append_offcuts(path, mild(note=f"after {turn}"))
        assert read_log(path).offcuts[-1].note == f"after {turn}"
        if len(after) > 8_000:  # begin anew, so that it stays quick
            path.unlink()
            bad_before = 0
            append_offcuts(path, mild(note="first"))
    assert added > times, added
