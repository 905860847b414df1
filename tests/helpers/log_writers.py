"""Programs that add rows to one log at the same time, and programs killed while they do."""

import contextlib
import itertools
import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from helpers.offcuts import mild
from pcbchem.bench.offcut import log, log_file
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


PAUSE = 0.001
"""How long a writer waits after it read the log [s]: without a lock the other one writes then."""

TURN = 1.5 * log_file.LOCK_POLL
"""How long it rests after each call [s], also on a busy computer: the other one has its turn."""


def slow_reading(real):
    """Read a log, and then wait."""

    def read(handle):
        data = real(handle)
        time.sleep(PAUSE)
        return data

    return read


def append_all(path, who, calls):
    """Add rows, five a call, and in each call try a row that every writer tries."""
    for call in range(calls):
        numbers = range(5 * call, 5 * call + 5)
        append_offcuts(path, *(mild(note=f"{who} {number}") for number in numbers))
        with contextlib.suppress(ValueError):  # the other one was first
            append_offcuts(path, mild(note=f"both {call}"))
        time.sleep(TURN)


def check_rows(path, calls):
    """See that of two writers no row is lost, and none of those that both tried is there twice."""
    read = read_log(path)
    notes = [offcut.note for offcut in read.offcuts]
    assert read.bad == () and len(notes) == 11 * calls
    for who in "ab":  # each writer's rows, in its own order
        of_writer = [note for note in notes if note.startswith(f"{who} ")]
        assert of_writer == [f"{who} {number}" for number in range(5 * calls)]
    turns = sum(first[0] != second[0] for first, second in itertools.pairwise(notes))
    assert turns >= 4, "they did not write at the same time"


def write(path, who, calls):
    """Add rows when told to."""
    log.read_handle = slow_reading(log.read_handle)
    print("ready", flush=True)
    sys.stdin.readline()
    append_all(path, who, int(calls))


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
    check_rows(path, calls)


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
        after, read = path.read_bytes(), read_log(path)
        assert after.startswith(before), turn
        assert len(read.bad) <= bad_before + 1, (turn, read.bad)
        assert len(read.offcuts) + len(read.bad) >= before.count(b",240,"), turn
        added += after.count(b",240,") - before.count(b",240,")
        bad_before = len(read.bad)
        append_offcuts(path, mild(note=f"after {turn}"))
        assert read_log(path).offcuts[-1].note == f"after {turn}"
        if len(after) > 8_000:  # begin anew, so that it stays quick
            path.unlink()
            bad_before = 0
            append_offcuts(path, mild(note="first"))
    assert added > times, added
