"""Lets tests import what stands beside this file, and shares the test files among processes."""

import gc
import os
import shutil
import sys
from itertools import zip_longest
from pathlib import Path

import pytest
from xdist.scheduler import LoadFileScheduling

sys.path.insert(0, str(Path(__file__).parent))
# kernels, servers and exports begin with the package: else each of them would compile it anew
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
# and each of these processes would rewrite all the asserts of the tests
sys.dont_write_bytecode = False

TOGETHER = (
    {"tests/laws/test_random_plans.py", "tests/laws/test_refused.py"},
    {"tests/lesson/plan_a_bath/test_page.py", "tests/lesson/test_pages.py"},
    {f"tests/lesson/bath/test_{name}.py" for name in ("jug", "plan_picture", "plan_words")},
    {
        f"tests/lesson/why_water_slows_it/test_{name}.py"
        for name in ("panel", "picture", "words", "questions")
    },
    {
        f"tests/lesson/test_an_offcut/test_{name}.py"
        for name in ("benches", "numbers", "panel", "picture", "words")
    },
)
"""Files that share what is slow to make: one process runs them, one after the other."""
RUN_IN_LAB = {
    "notebooks/00_plan_a_bath.ipynb": "tests/browser/test_planner.py",
    "notebooks/04_why_water_slows_it.ipynb": "tests/browser/test_water.py",
    "notebooks/what_if.ipynb": "tests/browser/test_what_if.py",
}
"""Pages that JupyterLab runs to their end, in a kernel, and the files where it does."""
WAITING = ("tests/browser/", "notebooks/")
"""Where files lie that mostly wait, for a browser or for a kernel."""
LONGEST_FIRST = ("tests/laws/", "tests/lesson/", "tests/bench/", "tests/reaction/", "tests/house/")
"""Where the other long files lie, the longest first; anything else takes a second at most."""


class InOneProcess(LoadFileScheduling):
    """Gives a process a whole file, or all the files that belong together."""

    def _split_scope(self, nodeid):
        file = super()._split_scope(nodeid)
        for files in TOGETHER:
            if file in files:
                return min(files)
        return file


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    if config.getvalue("dist") == "loadfile":
        return InOneProcess(config, log)
    return None


def rank(file):
    """Return the place of a file among those that do not wait: a small number is early."""
    for place, folder in enumerate(LONGEST_FIRST):
        if file.startswith(folder):
            return place
    return len(LONGEST_FIRST)


def in_order(files):
    """Order files so that processes that take them in turn have work until the end, all of them.

    What waits and what computes take turns, so that no core stands idle. What is long comes early
    and what is short late: the last files decide how far apart the processes finish.
    """
    waiting = [file for file in files if file.startswith(WAITING)]
    computing = sorted((file for file in files if file not in waiting), key=rank)
    pairs = zip_longest(waiting, computing)
    return [file for pair in pairs for file in pair if file is not None]


def without_second_runs(tests):
    """Leave out pages that nbval would run in a kernel where JupyterLab does so too.

    Without a browser it does not, nor where somebody asks for the page alone.
    """
    browsers = (
        os.environ.get("CHROMIUM"),
        shutil.which("chromium"),
        shutil.which("chromium-browser"),
    )
    if not any(browsers):
        return tests
    return {file: items for file, items in tests.items() if RUN_IN_LAB.get(file) not in tests}


@pytest.hookimpl(wrapper=True)
def pytest_collection():
    """Collect the tests while nothing is thrown away, and keep what is there then for good.

    Else Python looks through a million objects for garbage again and again, in vain: a third of
    the time that collecting takes, and a tenth of that of the tests.
    """
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.set_threshold(10_000, 10, 10)  # usually 700: figures fill that many times over
        gc.enable()


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector):
    """Let every second process read the files from the last to the first.

    So it comes to files that another process has rewritten for pytest already, which takes longer
    than all else that collecting does. What it finds is put in order below, the same for all.
    """
    report = yield
    number = os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw")
    if int(number) % 2 and isinstance(collector, pytest.Session | pytest.Directory):
        report.result.sort(key=lambda found: found.path, reverse=True)
    return report


def pytest_collection_modifyitems(items):
    tests = {}
    for item in items:
        tests.setdefault(item.nodeid.split("::")[0], []).append(item)
    tests = without_second_runs(tests)
    items[:] = [item for file in in_order(sorted(tests)) for item in tests[file]]
