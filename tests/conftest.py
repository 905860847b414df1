"""Lets every test import what stands beside this file, and shares the test files out among the processes."""

import sys
from itertools import zip_longest
from pathlib import Path

import pytest
from xdist.scheduler import LoadFileScheduling

sys.path.insert(0, str(Path(__file__).parent))
# these files use the same plans or the same page, made once: one process runs them, one after the other
TOGETHER = (
    {"tests/laws/test_random_plans.py", "tests/laws/test_refused.py"},
    {"tests/lesson/plan_a_bath/test_page.py", "tests/lesson/test_pages.py"},
)


class InOneProcess(LoadFileScheduling):
    """A process takes a whole file, or files that belong together."""

    def _split_scope(self, nodeid):
        file = super()._split_scope(nodeid)
        return next((min(files) for files in TOGETHER if file in files), file)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    return InOneProcess(config, log) if config.getvalue("dist") == "loadfile" else None


def pytest_collection_modifyitems(items):
    """In turn a file that waits for a browser or a kernel, and one that reckons itself: so no core stands idle."""
    files = {}
    for item in items:
        files.setdefault(item.nodeid.split("::")[0], []).append(item)
    waits = [file for file in files if file.startswith(("tests/browser/", "notebooks/"))]
    reckons = [file for file in files if file not in waits]
    items[:] = [
        item
        for pair in zip_longest(reckons, waits)
        for file in pair
        if file
        for item in files[file]
    ]
