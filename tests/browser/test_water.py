"""Law: by keyboard alone one can predict, move every control and take a bath to the planner.

Covers the page 04: the laws of every page; an answer that waits for a prediction, which is kept
when cells run again and asked for anew; each control moved; values that cannot be; the way by Tab;
a bath handed to the planner, and bottles that lead nowhere.
"""

import re

import pytest
from playwright.sync_api import expect

from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.lesson.why_water_slows_it import panel as water
from pcbchem.lesson.why_water_slows_it.one_effect_away import taken_away_panel
from pcbchem.lesson.workshop import PAIRS
from pcbchem.page import Prediction
from pcbchem.page.widget.controls import Choice, all_controls
from pcbchem.page.widget.quiz import KEPT

from .eyes import (
    complaints,
    loaded,
    named,
    no_errors,
    seen_text,
    shows,
    swapped,
    swaps,
    watch_swaps,
)
from .hands import (
    choose,
    idle,
    number_field,
    panel_of,
    predict,
    press,
    reset,
    start_run,
    wait_for_run,
    write,
)
from .opening import cut_after
from .page_laws import PageLaws

PAGE, PLANNER = "04_why_water_slows_it.ipynb", "00_plan_a_bath.ipynb"
GUESS, GUESS_WORDS = "2-4", "×2–4"
CURVE, TAKEN, ROOMY = "Water and time", "Take one effect away", "Water and time in a roomy tray"
PRESSES = 5
MEASURED = re.compile(r"Measured on .* People say: .*? at [\d.]+ mol/L\. ")
ANSWER = re.compile(r"\d (s|min|h)\b|times longer[^?]|undiluted time|µm|never clear|×\d")


@pytest.fixture(scope="module")
def running(opened_once):
    """The page, run down to its questions: it may not be ready yet."""
    page = opened_once(PAGE, among_others=True)
    start_run(page, last="questions")
    return page


@pytest.fixture(scope="module")
def package(running):
    """The same panels in this process, with two predictions, made while the page is busy."""
    KEPT.clear()
    guess = Prediction("one", "How many times longer?", water.GUESSES)
    other_guess = Prediction("two", "And now?", water.GUESSES)
    panels = {
        CURVE: water.water_panel(guess),
        TAKEN: taken_away_panel(),
        ROOMY: water.roomy_panel(other_guess),
    }
    assert [panel.title for panel in panels.values()] == list(panels)
    return panels


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    return running


class TestPage(PageLaws):
    """The laws of every page."""

    def test_law_it_asks_twice_and_leads_on(self, page):
        """So the laws of style sheets and of links have something to look at."""
        assert page.locator(".pcbchem-quiz").count() == 3
        assert page.locator(".pcbchem-widget a:visible").count() >= 1


@pytest.fixture
def predicted(page, package):
    """The page after a prediction for each question, by keyboard, unless it is there already."""
    for number, title in enumerate((CURVE, ROOMY)):
        if not panel_of(page, title).locator(".pcbchem-prediction").is_visible():
            predict(page, GUESS_WORDS, number)
        package[title].prediction.choice = GUESS
    return page


def words_of(package, title, **values):
    return package[title].picture_and_words(False, **values)[1]


def test_law_nothing_of_the_answer_shows_before(page, package):
    """Before a prediction: not in the words, nor in those of the picture."""
    for title in (CURVE, ROOMY):
        panel = panel_of(page, title)
        for presses in (0, PRESSES):
            panel.get_by_role("slider").focus()
            press(page, "ArrowRight", presses)
            words = words_of(package, title, water=presses / 10, predicted=None)
            shows(panel, words, besides=["0.5"])  # the slider's own
            alt = panel.locator("img").get_attribute("alt")
            heard = seen_text(panel) + MEASURED.sub("", alt)
            assert "Predict first" in heard
            assert not ANSWER.search(heard), ANSWER.search(heard)
    assert ANSWER.search(words_of(package, CURVE, predicted="-").readout), "the pattern sees one"


def test_law_a_prediction_is_kept_and_shown(page, package):
    """By keyboard; it stands beside the result."""
    quiz, panel = page.locator(".pcbchem-quiz").first, panel_of(page, CURVE)
    ours = package[CURVE]
    expect(panel.locator(".pcbchem-prediction")).to_be_hidden()
    height = quiz.bounding_box()["height"]
    predict(page, GUESS_WORDS)
    ours.prediction.choice = GUESS
    ours.redraw(water=PRESSES / 10)
    kept = quiz.get_by_role("status").filter(has_text="Your prediction is kept")
    expect(kept).to_have_text(ours.prediction.kept_words)
    assert quiz.bounding_box()["height"] == height, "what is said had its place from the start"
    assert ours.predicted.startswith(f"Your prediction: {GUESS_WORDS}")
    assert GUESS_WORDS in ours.prediction.kept_words
    expect(panel.locator(".pcbchem-prediction")).to_have_text(ours.predicted)
    shows(panel, words_of(package, CURVE))
    mark = f"Your prediction, {GUESS_WORDS}, is a hollow mark"
    assert mark in panel.locator("img").get_attribute("alt")
    assert "Predict first" in seen_text(panel_of(page, ROOMY)), "the other question still waits"


def test_law_it_is_still_there_when_cells_run_again(page, package):
    start_run(page, last="panel")
    wait_for_run(page)
    no_errors(page)
    quiz, panel = page.locator(".pcbchem-quiz").first, panel_of(page, CURVE)
    expect(quiz.get_by_role("radio", name=GUESS_WORDS, exact=True)).to_be_checked()
    ours = package[CURVE]
    ours.prediction.choice = GUESS
    ours.redraw(water=0.0)
    expect(panel.locator(".pcbchem-prediction")).to_have_text(ours.predicted)
    shows(panel, words_of(package, CURVE))


def test_law_who_is_asked_again_sees_no_answer(page, package):
    quiz, panel = page.locator(".pcbchem-quiz").first, panel_of(page, CURVE)
    quiz.get_by_role("button", name="Ask me again").press("Enter")
    package[CURVE].prediction.choice = ""
    shows(panel, words_of(package, CURVE))
    expect(panel.locator(".pcbchem-prediction")).to_be_hidden()


@pytest.mark.parametrize("title", [CURVE, TAKEN, ROOMY])
def test_law_every_control_moves_what_it_should(predicted, package, title):
    """From the first to the last, by keyboard; after each the page says what the package says."""
    panel, ours = panel_of(predicted, title), package[title]
    reset(panel)
    values = {control.name: control.start for control in ours.controls}
    shows(panel, words_of(package, title, **values))
    named(panel, ours.controls)
    watch_swaps(panel)
    count = 0
    for control in ours.controls:
        moves = choices if isinstance(control, Choice) else slides
        for value in moves(panel, control):
            values[control.name] = value
            shows(panel, words_of(package, title, **values))
            swapped(panel, count + 1)
            count = swaps(panel)
    no_errors(predicted)


def choices(panel, control):
    """Choose each other value of a choice, and give the value it then has."""
    values = list(control.options)
    start = values.index(control.start)
    for value in values[start + 1 :] + values[:start]:
        choose(panel, control, control.options[value])
        yield value


def slides(panel, control):
    """Move a slider by arrow keys, to its end and by its number, and give the value it then has."""
    slider = panel.get_by_role("slider")
    slider.focus()
    press(panel.page, "ArrowRight", PRESSES)
    press(panel.page, "ArrowLeft", 2)
    yield round(control.start + (PRESSES - 2) * control.step, 6)
    slider.press("End")
    yield control.high
    write(panel, control, "1,2")
    yield 1.2


def test_law_a_value_that_cannot_be_changes_nothing(predicted, package):
    """It is said beside its field, until the slider moves again."""
    panel, control = panel_of(predicted, CURVE), package[CURVE].controls[0]
    reset(panel)
    shows(panel, words_of(package, CURVE, water=0))
    write(panel, control, "2")
    shows(panel, words_of(package, CURVE, water=2))
    watch_swaps(panel)
    note = panel.locator(".pcbchem-note")
    for count, text in enumerate(("99", "-1", "much", "")):
        now = f"{2 + count / 10:g}"
        field = write(panel, control, text)
        limits = "Water: a number from 0 to 10 parts, please."
        expect(note).to_have_text(f"{limits} Still used: {now}.")
        expect(field).to_have_attribute("aria-invalid", "true")
        assert len(complaints(predicted)) == 1
        # what comes next is the next picture: there was none between
        panel.get_by_role("slider").press("ArrowRight")
        after = round(2 + (count + 1) / 10, 1)
        shows(panel, words_of(package, CURVE, water=after))
        swapped(panel, count + 1)
        assert swaps(panel) == count + 1
        expect(note).to_be_hidden()
        expect(field).to_have_value(f"{after:g}")
        no_errors(predicted)


def test_law_tab_goes_through_the_panel_in_order(predicted):
    """Slider, number, bottles, reset, link: each can be reached, and nothing holds the reader."""
    panel_of(predicted, CURVE).get_by_role("slider").focus()
    reached = []
    for _ in range(PRESSES):
        focus = "() => document.activeElement.type || document.activeElement.className"
        reached.append(predicted.evaluate(focus))
        press(predicted, "Tab")
    assert reached == ["range", "text", "radio", "button", "pcbchem-onward"]


def test_law_bottles_that_are_only_drawn_lead_nowhere(predicted, package):
    panel, bottles = panel_of(predicted, CURVE), package[CURVE].controls[1]
    link = panel.get_by_role("link", name=water.TO_PLANNER)
    assert any(pair.only_drawn for pair in PAIRS.values())
    for pair in PAIRS.values():
        choose(panel, bottles, pair.words)
        expect(link).to_be_visible(visible=not pair.only_drawn)


@pytest.fixture
def short_planner(server):
    """The planner's page without what follows its panel, in its place in the copy."""
    copy = server.pages / PLANNER
    whole = copy.read_text(encoding="utf-8")
    copy.write_text(cut_after(PLANNER, "planner"), encoding="utf-8")
    yield
    copy.write_text(whole, encoding="utf-8")


def test_law_a_bath_is_taken_to_the_planner(predicted, browser, package, short_planner):
    panel, control = panel_of(predicted, CURVE), package[CURVE].controls[0]
    values = {"water": 1.2, "bottles": "weak"}
    write(panel, control, "1.2")
    choose(panel, package[CURVE].controls[1], PAIRS["weak"].words)
    shows(panel, words_of(package, CURVE, **values))
    with browser.expect_page() as opened:
        panel.get_by_role("link", name=water.TO_PLANNER).press("Enter")
    other = opened.value
    idle(other)
    start_run(other)
    ours = planner.planner()  # while the page is busy
    wait_for_run(other)
    filled = panel_of(other, "Planner")
    handed = water.planner_values(**values)
    expect(filled.locator(".pcbchem-filled")).to_have_text(handed.pop("why"))
    start = {control.name: control.start for control in all_controls(planner.groups())}
    shows(filled, ours.picture_and_words(False, **{**start, **handed})[1])
    for control in ours.controls:
        if control.name in handed:
            value = f"{handed[control.name]:g}"
            expect(number_field(filled, control)).to_have_value(value)
    loaded(filled.locator("img"))
    no_errors(other)
    other.close()
