"""How quick the pages are in a real browser, on a quiet computer.

Run by `pytest tests/benchmarks/test_pages.py -n 0 -s`. From a key press to the new picture, decoded
and in its place, at one pixel of the screen to one of the page; whether any frame between was
blank; how far a held key lags; how soon a planner's field is answered; how soon the first picture
stands. Everything is printed, pass or fail, and then asserted.
"""

import statistics
import time
from time import perf_counter

import pytest
from browser.conftest import browser, chrome, opened, server  # noqa: F401
from browser.eyes import loaded
from browser.hands import panel_of, predict, press, run_all

from pcbchem.bench.hazards.verdicts import VERDICTS
from pcbchem.bench.hazards.words import HEADS, NO_USE
from pcbchem.lesson.plan_a_bath.panel import planner
from pcbchem.lesson.why_water_slows_it import still_prediction, water_panel
from pcbchem.page.picture import Drawing

WATER, PLANNER = "04_why_water_slows_it.ipynb", "00_plan_a_bath.ipynb"
MAP = "what_if.ipynb"
LESSONS = {
    "02_acid_into_water.ipynb": "Acid and water",
    "03_where_the_copper_goes.ipynb": "What the tray can carry",
    "05_warm_baths.ipynb": "How warm a used bath gets",
    "06_weak_peroxide.ipynb": "Peroxide for the copper",
    "07_when_to_lift_it_out.ipynb": "A trace in the bath",
    "08_test_an_offcut.ipynb": "A made-up bench",
}
"""A panel with a slider of each."""
# limits [ms]
MOVE, SLOW_MOVE = 100, 160  # a move of the slider: the middle one, and 95 of 100
LAG = 200  # the last picture after a held key is released
PLAN, REFUSED_PLAN = 300, 400  # a field of the planner, the middle one: mixed, or refused
CURSOR, FIRST_MAP = 100, 2000  # a step of the map's cursor, the middle one; bottles' first map
FIRST = 6000  # the first picture after Run All Cells
PRESSES = 50  # keys pressed one by one
HOLD, RATE = 2.0, 30  # a key that is held [s], and how often a keyboard repeats it [1/s]
STEPS = 28  # as many steps as the slider of water has, and two to spare
# when keys were pressed, words and picture were new; frames, and how many of them were blank
NOTES = """img => {
    const panel = img.closest('.pcbchem-panel');
    const words = panel.querySelector('output');
    const now = () => performance.now();
    const note = window.note = { keys: [], up: 0, words: [], loaded: [], blank: 0, frames: 0 };
    panel.addEventListener('keydown', e => note.keys.push(e.timeStamp), true);
    panel.addEventListener('keyup', e => { note.up = e.timeStamp; }, true);
    const all = { childList: true, characterData: true, subtree: true };
    new MutationObserver(() => note.words.push(now())).observe(words, all);
    img.addEventListener('load', () => note.loaded.push(now()));
    const frame = () => {
        note.frames += 1;
        note.blank += !(img.complete && img.naturalWidth > 0 && img.checkVisibility());
        requestAnimationFrame(frame);
    };
    frame();
}"""
FIRST_PICTURE = """() => {
    const start = performance.now();
    window.first = 0;
    const look = () => {
        const img = document.querySelector('.pcbchem-panel img');
        if (img && img.complete && img.naturalWidth) window.first = performance.now() - start;
        else requestAnimationFrame(look);
    };
    look();
}"""


def tail(values, share=0.95):
    """Return the value that so large a share does not pass."""
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def noted(page):
    """Return what `NOTES` has noted so far."""
    return page.evaluate("() => window.note")


def pressed(page, panel):
    """Press arrow keys on a panel's slider; return the times to each new picture [ms], and notes.

    Four steps to and fro: some sliders stand near an end.
    """
    slider, img = panel.get_by_role("slider"), panel.locator("img")
    slider.wait_for()
    loaded(img)
    img.evaluate(NOTES)
    slider.focus()
    times = []
    for count in range(PRESSES):
        press(page, "ArrowRight" if count // 4 % 2 else "ArrowLeft")
        page.wait_for_function("count => window.note.loaded.length > count", arg=count)
        note = noted(page)
        times.append(note["loaded"][-1] - note["keys"][-1])
    return times, note


def test_moving_the_slider_of_water(opened, say):  # noqa: F811
    page = opened(WATER)
    run_all(page)
    assert page.evaluate("() => devicePixelRatio") == 1
    predict(page, "18 min")
    panel = panel_of(page, "Water and time")
    panel.get_by_text("Your prediction").wait_for()
    slider, img = panel.get_by_role("slider"), panel.locator("img")
    loaded(img)
    img.evaluate(NOTES)
    slider.focus()
    times, to_words, to_swap = [], [], []
    for count in range(PRESSES):
        # to and fro: the slider has an end
        press(page, "ArrowRight" if count // 10 % 2 else "ArrowLeft")
        page.wait_for_function("count => window.note.loaded.length > count", arg=count)
        note = noted(page)
        times.append(note["loaded"][-1] - note["keys"][-1])
        to_words.append(note["words"][-1] - note["keys"][-1])
        to_swap.append(note["loaded"][-1] - note["words"][-1])
    say(
        f"{PRESSES} key presses: median {statistics.median(times):.0f} ms, 95 % under "
        f"{tail(times):.0f}, most {max(times):.0f} ms; to the words "
        f"{statistics.median(to_words):.0f}, then decode and swap "
        f"{statistics.median(to_swap):.0f} ms; {note['blank']} blank of {note['frames']} frames"
    )
    blank_one_by_one, before = note["blank"], len(note["loaded"])

    press(page, "Home")
    page.wait_for_function(
        "output => output.textContent.startsWith('No water')",
        arg=panel.locator("output").element_handle(),
    )
    held = min(round(HOLD * RATE), STEPS)
    start = perf_counter()
    for count in range(held):
        page.keyboard.down("ArrowRight")
        time.sleep(max(0.0, start + (count + 1) / RATE - perf_counter()))
    page.keyboard.up("ArrowRight")
    hold = perf_counter() - start
    number = f"{float(slider.input_value()):g} parts of water"
    page.wait_for_function(
        "([output, words]) => output.textContent.startsWith(words)",
        arg=[panel.locator("output").element_handle(), number],
    )
    page.wait_for_function("() => window.note.loaded.at(-1) >= window.note.words.at(-1)")
    note = noted(page)
    lag = note["loaded"][-1] - note["up"]
    say(
        f"an arrow key held {hold:.1f} s: {held} presses, "
        f"{len(note['loaded']) - before} pictures, the last {lag:.0f} ms after release; "
        f"{note['blank']} blank frames; ends at {number}"
    )
    assert statistics.median(times) < MOVE and tail(times) < SLOW_MOVE
    assert blank_one_by_one == note["blank"] == 0
    assert lag < LAG


@pytest.mark.parametrize("name, title", LESSONS.items())
def test_moving_the_slider_of_a_first_lesson(opened, say, name, title):  # noqa: F811
    page = opened(name)
    run_all(page)
    panel = panel_of(page, title)
    img = panel.locator("img")
    loaded(img)
    before = img.get_attribute("src")
    page.get_by_role("button", name="Show me without a prediction").first.click()
    # the answer's own picture is no reply to a key
    page.wait_for_function("([img, src]) => img.src !== src", arg=[img.element_handle(), before])
    times, _ = pressed(page, panel)
    say(
        f"{name}: {PRESSES} key presses: median {statistics.median(times):.0f} ms, 95 % under "
        f"{tail(times):.0f}, most {max(times):.0f} ms"
    )
    assert statistics.median(times) < MOVE


# one after the other, from the workshop's bath to strong ones and back to mild
REFUSALS = (HEADS[VERDICTS[-1]], NO_USE)
FIELDS = [
    ("air (°C)", "25"),
    ("water (parts)", "1"),
    ("bath in all (mL)", "200"),
    ("copper foil (oz)", "2"),
    ("bare, to be etched (%)", "40"),
    ("acid", "15"),
    ("water (parts)", "0"),
    ("peroxide", "30"),
    ("acid", "31"),
    ("bath in all (mL)", "80"),
    ("peroxide", "12"),
    ("acid", "10"),
]


def test_changing_a_field_of_the_planner(opened, say):  # noqa: F811
    page = opened(PLANNER)
    run_all(page)
    panel = panel_of(page, "Planner")
    for group in panel.locator("details.pcbchem-group > summary").all():
        group.press("Enter")
    img = panel.locator("img.pcbchem-picture")
    loaded(img)
    img.evaluate(NOTES)
    times = {False: [], True: []}
    for name, value in FIELDS:
        before = noted(page)
        field = panel.get_by_role("textbox", name=name, exact=True)
        field.fill(value)
        field.press("Enter")
        page.wait_for_function(
            "count => window.note.loaded.length > count", arg=len(before["loaded"])
        )
        note = noted(page)
        key, words = note["keys"][-1], note["words"][-1]
        whole = max(words, note["loaded"][-1]) - key
        verdict = panel.locator(".pcbchem-headline").inner_text()
        times[verdict in REFUSALS].append(whole)
        say(f"{name} {value}: {whole:.0f} ms, to the words {words - key:.0f}: {verdict}")
    for is_refused, some in times.items():
        say(
            f"planner, {len(some)} fields, refused {is_refused}: median "
            f"{statistics.median(some):.0f} ms, most {max(some):.0f} ms"
        )
    say(f"{note['blank']} blank of {note['frames']} frames")
    assert statistics.median(times[False]) < PLAN
    assert statistics.median(times[True]) < REFUSED_PLAN
    assert note["blank"] == 0


def test_moving_the_cursor_of_the_map(opened, say):  # noqa: F811
    page = opened(MAP)
    run_all(page)
    panel = panel_of(page, "What if")
    img, slider = panel.locator("img.pcbchem-picture"), panel.get_by_role("slider").first
    loaded(img)
    page.wait_for_timeout(3000)  # until the finer map is there too
    img.evaluate(NOTES)
    slider.focus()
    times = []
    for count in range(PRESSES):
        press(page, "ArrowLeft" if count // 10 % 2 else "ArrowRight")
        page.wait_for_function("count => window.note.loaded.length > count", arg=count)
        note = noted(page)
        times.append(note["loaded"][-1] - note["keys"][-1])
    say(
        f"{PRESSES} steps of the cursor: median {statistics.median(times):.0f} ms, 95 % under "
        f"{tail(times):.0f}, most {max(times):.0f} ms"
    )
    before = len(note["loaded"])
    field = panel.get_by_role("textbox", name="acid", exact=True)
    field.fill("31.45")
    field.press("Enter")
    page.wait_for_function("count => window.note.loaded.length > count", arg=before)
    first = noted(page)["loaded"][before] - noted(page)["keys"][-1]
    page.wait_for_function("count => window.note.loaded.length > count + 1", arg=before)
    whole = noted(page)["loaded"][before + 1] - noted(page)["keys"][-1]
    say(f"another bottle: first picture {first:.0f} ms, the whole map {whole:.0f} ms")
    assert statistics.median(times) < CURSOR and first < FIRST_MAP


@pytest.mark.parametrize("name", [PLANNER, WATER])
def test_the_first_picture_after_run_all(opened, say, name):  # noqa: F811
    """Opened twice: the first time reads the disk."""
    for turn in ("first", "second"):
        page = opened(name)
        page.wait_for_function(
            "() => window.jupyterapp?.shell?.currentWidget?.content?.model?.cells.length"
        )
        page.evaluate(FIRST_PICTURE)
        start = perf_counter()
        run_all(page)
        whole = perf_counter() - start
        page.wait_for_function("() => window.first")
        first = page.evaluate("() => window.first")
        say(
            f"{name}, {turn} opening: first picture {first / 1000:.1f} s after Run All, "
            f"last cell {whole:.1f} s"
        )
    assert first < FIRST


def test_where_the_time_goes(say, monkeypatch):
    """Python alone, in this process: no limit, a help for the reader of the numbers above."""
    spent = {}

    def timed(name, work):
        def wrapped(*args, **kwargs):
            start = perf_counter()
            try:
                return work(*args, **kwargs)
            finally:
                spent[name] = spent.get(name, 0.0) + perf_counter() - start

        return wrapped

    moves = [round(0.1 * (1 + count % 20), 1) for count in range(40)]
    water = water_panel(still_prediction())
    water.prediction.choice, water.prediction.reason = "page", "more"
    plan = planner()
    for name, panel, changes in (
        ("water", water, [{"water": w} for w in moves]),
        ("planner", plan, [{"air": 15 + count} for count in range(8)]),
    ):
        for dpr in (1.0, 2.0):
            panel.dpr = dpr
            panel.redraw(**changes[-1])
            spent.clear()
            with monkeypatch.context() as patch:
                patch.setattr(panel, "show", timed("words and artists", panel.show))
                patch.setattr(Drawing, "png", timed("pixels", Drawing.png))
                start = perf_counter()
                for change in changes:
                    panel.redraw(**change)
                whole = perf_counter() - start
            parts = ", ".join(
                f"{part} {1000 * seconds / len(changes):.1f}" for part, seconds in spent.items()
            )
            say(
                f"Python, {name}, {dpr:g}×: {1000 * whole / len(changes):.1f} ms a move: {parts}; "
                f"{len(panel.png) / 1024:.0f} kB"
            )
