"""How small and quick live copies are: whole ones, opened from the disk, on a quiet computer.

Run by `pytest tests/benchmarks/test_copies.py -n 0 -s`; it draws every setting first, for minutes.
From the opening of the file to the first picture in its place, and from a key press to the next
one. Everything is printed, pass or fail, and then asserted.
"""

import statistics
import subprocess
import sys
from time import perf_counter

import pytest
from benchmarks.test_pages import PRESSES, pressed, tail
from browser.conftest import browser, chrome  # noqa: F401
from browser.opening import ROOT

# limits
SIZE = 6.0  # of a page [MB]
FIRST = 1000  # the first picture of a panel [ms]
MOVE = 50  # a move, the middle one [ms]
PAGES = (
    "01_what_is_in_the_bottle",
    "02_acid_into_water",
    "03_where_the_copper_goes",
    "04_why_water_slows_it",
    "04b_how_sure_is_it",
    "05_warm_baths",
    "06_weak_peroxide",
    "07_when_to_lift_it_out",
    "08_test_an_offcut",
    "09_what_goes_into_the_air",
    "10_after_the_last_board",
    "11_developer_and_tin",
)
SLIDERS = {
    "02_acid_into_water": "Acid and water",
    "03_where_the_copper_goes": "What the tray can carry",
    "04_why_water_slows_it": "Water and time",
    "05_warm_baths": "How warm a used bath gets",
    "06_weak_peroxide": "Peroxide for the copper",
    "07_when_to_lift_it_out": "A trace in the bath",
    "08_test_an_offcut": "A made-up bench",
    "10_after_the_last_board": "Copper in the clear water",
    "11_developer_and_tin": "Developer, unused",
}
"""A panel of each page that has a slider."""
SINCE_OPENED = """() => {
    const img = document.querySelector('.pcbchem-panel img');
    return img && img.complete && img.naturalWidth ? performance.now() : 0;
}"""


@pytest.fixture(scope="module")
def copies(tmp_path_factory):
    """A folder with the live copies of the lesson pages, and how long it took [s]."""
    folder = tmp_path_factory.mktemp("copies")
    pages = [str(ROOT / "notebooks" / f"{name}.ipynb") for name in PAGES]
    command = [sys.executable, "-m", "pcbchem.page.export", *pages, "--to", str(folder), "--live"]
    start = perf_counter()
    subprocess.run(command, check=True, timeout=2400)
    return folder, perf_counter() - start


@pytest.mark.parametrize("name", PAGES)
def test_a_copy_is_small_and_soon_there(copies, browser, say, name):  # noqa: F811
    folder, seconds = copies
    file = folder / f"{name}.html"
    size = file.stat().st_size / 1e6
    firsts = []
    for _ in range(5):
        page = browser.new_page()
        page.goto(file.as_uri())
        first = page.wait_for_function(SINCE_OPENED, polling=10).json_value()
        firsts.append(first)
        page.close()
    say(f"{name}: {size:.2f} MB, first picture after {statistics.median(firsts):.0f} ms")
    say(f"all pages written in {seconds:.0f} s")
    assert size <= SIZE and max(firsts) <= FIRST


@pytest.mark.parametrize("name, title", SLIDERS.items())
def test_moving_a_slider_of_a_copy(copies, browser, say, name, title):  # noqa: F811
    folder, _ = copies
    page = browser.new_page()
    page.goto((folder / f"{name}.html").as_uri())
    page.get_by_role("button", name="Show me without a prediction").first.click()
    panel = page.get_by_role("region", name=title)
    times, note = pressed(page, panel)
    say(
        f"{name}: {PRESSES} key presses: median {statistics.median(times):.0f} ms, 95 % under "
        f"{tail(times):.0f}, most {max(times):.0f} ms; {note['blank']} blank frames"
    )
    assert statistics.median(times) <= MOVE and note["blank"] == 0
