"""Law: by keyboard alone one can predict, move every control and take a bath to the planner.

Covers the page 04: the laws of every page; an answer that waits for a prediction, which is kept
when cells run again and asked for anew; each control moved; values that cannot be; the way by Tab;
a bath handed to the planner; new pupils who find nothing.
"""

import json
import re

import pytest
from playwright.sync_api import expect

from pcbchem.lesson import why_water_slows_it as lesson
from pcbchem.lesson.why_water_slows_it import panel as water
from pcbchem.page.widget.controls import Choice
from pcbchem.page.widget.quiz import KEPT

from .copy_laws import DAY, NIGHT, LiveCopyLaws, anybody_can_use
from .eyes import (
    complaints,
    named,
    no_errors,
    read_down,
    seen_text,
    shows,
    swapped,
    swaps,
    watch_swaps,
)
from .hands import (
    choose,
    panel_of,
    predict,
    press,
    reset,
    start_run,
    wait_for_run,
    write,
)
from .page_laws import PageLawsInFull

PAGE, PLANNER = "04_why_water_slows_it.ipynb", "00_plan_a_bath.ipynb"
HANDED = "() => JSON.parse(localStorage.getItem('pcbchem 00_plan_a_bath.ipynb'))"
GUESS, REASON = "square", "multiply"
CURVE, TAKEN, SHAKEN = "Water and time", "Take one away", "Water in a shaken tray"
PRESSES = 5
ANSWER = re.compile(r"times as long|undiluted gas|µm|do not clear|×\d|\b(28|7\.9) min")


@pytest.fixture(scope="module")
def running(opened_once):
    """The page, run down to its end: it may not be ready yet."""
    page = opened_once(PAGE, among_others=True)
    start_run(page)
    return page


@pytest.fixture(scope="module")
def package(running):
    """The same panels in this process, with their predictions, made while the page is busy."""
    KEPT.clear()
    first, third = lesson.still_prediction(), lesson.shaken_prediction()
    second = lesson.layers_prediction()
    panels = {
        CURVE: lesson.water_panel(first),
        SHAKEN: lesson.shaken_panel(third, first, second),
        TAKEN: lesson.taken_away_panel(first, second, third),
    }
    assert [panel.title for panel in panels.values()] == list(panels)
    return panels


@pytest.fixture(scope="module")
def page(running, package):
    wait_for_run(running)
    return running


class TestPage(PageLawsInFull):
    """The laws of every page, in full."""

    answers = ("28 min", "6.4 times", "7.9 min", "about 10 times slower", "8.3")

    def test_law_it_asks_and_leads_on(self, page):
        """So the laws of style sheets and of links have something to look at."""
        assert page.locator(".pcbchem-quiz").count() >= 4
        assert page.locator("a:visible", has_text="planner").count() >= 1


def guess_of(package, title):
    """What is chosen for a panel on the page, chosen in this process too."""
    prediction = package[title].prediction
    prediction.choice, prediction.reason = GUESS, REASON
    return prediction


def predict_for(page, package, title):
    """Choose the answer and the reason for a panel, by keyboard."""
    prediction = package[title].prediction
    answer, reason = prediction.options[GUESS].words, prediction.reasons[REASON].words
    predict(page, answer, quiz_number(page, title), because=reason)
    return guess_of(package, title)


def quiz_number(page, title):
    """Return which of the page's quizzes asks for a panel: the last one above it."""
    return page.evaluate(
        """title => {
            const panel = document.querySelector(`.pcbchem-panel[aria-label="${title}"]`);
            const quizzes = [...document.querySelectorAll('.pcbchem-quiz')];
            return quizzes.filter(quiz => quiz.querySelector('legend')
                && quiz.compareDocumentPosition(panel) & 4).length - 1;
        }""",
        title,
    )


@pytest.fixture
def predicted(page, package):
    """The page after a prediction for each question, by keyboard, unless it is there already."""
    # JupyterLab builds what is in view alone: from the first panel the layers are near
    panel_of(page, CURVE).scroll_into_view_if_needed()
    layers = page.locator(".pcbchem-quiz").filter(has_text="A laboratory etched")
    layers.scroll_into_view_if_needed()
    layers.get_by_role("radio", name="about 10: 9.6 alone", exact=True).check()
    expect(layers).to_contain_text("about 10 times slower")
    package[SHAKEN].after[1].choice = "seen"
    for title in (CURVE, SHAKEN):
        if not panel_of(page, title).locator(".pcbchem-prediction").is_visible():
            predict_for(page, package, title)
        guess_of(package, title)
    return page


def words_of(package, title, **values):
    return package[title].picture_and_words(False, **values)[1]


def test_law_nothing_of_the_answer_shows_before(page, package):
    """Before a prediction: not in the words, nor in those of the picture."""
    for title in (CURVE, SHAKEN):
        panel = panel_of(page, title)
        for presses in (0, PRESSES):
            panel.get_by_role("slider").focus()
            press(page, "ArrowLeft", presses)
            now = round(2 - presses / 10, 1)
            shows(panel, words_of(package, title, water=now, predicted=None), besides=[f"{now:g}"])
            heard = seen_text(panel) + panel.locator("img").get_attribute("alt")
            assert "Predict first" in heard
            assert not ANSWER.search(heard), ANSWER.search(heard)
        reset(panel)
    assert ANSWER.search(words_of(package, CURVE, predicted="-").readout), "the pattern sees one"


def test_law_a_prediction_is_kept_and_answered(page, package):
    """By keyboard; it stands beside the result with a reply to answer and reason."""
    panel = panel_of(page, CURVE)
    expect(panel.locator(".pcbchem-prediction")).to_be_hidden()
    prediction = predict_for(page, package, CURVE)
    kept = page.get_by_role("status").filter(has_text="Your prediction is kept").first
    expect(kept).to_have_text(prediction.kept_words)
    expect(panel.locator(".pcbchem-prediction")).to_have_text(prediction.words)
    for option in (prediction.options[GUESS], prediction.reasons[REASON]):
        expect(panel).to_contain_text(option.reply)
    shows(panel, words_of(package, CURVE))
    assert "hollow bar" in panel.locator("img").get_attribute("alt")
    assert "Predict first" in seen_text(panel_of(page, SHAKEN)), "the other question still waits"


def test_law_it_is_still_there_when_cells_run_again(page, package):
    """First the question's cell alone: the panel below goes on with what is chosen there."""
    start_run(page, last="predict")
    wait_for_run(page)
    no_errors(page)
    panel = panel_of(page, CURVE)
    prediction = guess_of(package, CURVE)
    words = prediction.options[GUESS].words
    expect(page.get_by_role("radio", name=words, exact=True).first).to_be_checked()
    expect(panel.locator(".pcbchem-prediction")).to_contain_text(words)
    button = page.locator(".pcbchem-skip").nth(quiz_number(page, CURVE))
    button.press("Enter")
    shows(panel, words_of(package, CURVE, water=2.0, predicted=None))
    predict_for(page, package, CURVE)
    shows(panel, words_of(package, CURVE, water=2.0))
    start_run(page, last="panel")
    wait_for_run(page)
    no_errors(page)
    shows(panel_of(page, CURVE), words_of(package, CURVE, water=2.0))


def test_law_new_pupils_find_nothing(page, package):
    """The button at the end, pressed twice; then everything waits again."""
    button = page.locator(".pcbchem-end").get_by_role("button")
    button.press("Enter")
    expect(button).to_have_text("Press again: all answers are forgotten")
    panel = panel_of(page, CURVE)
    expect(panel.locator(".pcbchem-prediction")).to_be_visible()
    button.press("Enter")
    for title in (CURVE, SHAKEN):
        package[title].prediction.choice = ""
    package[SHAKEN].after[1].choice = ""
    shows(panel, words_of(package, CURVE, predicted=None))
    expect(panel.locator(".pcbchem-prediction")).to_be_hidden()


@pytest.mark.parametrize("title", [CURVE, SHAKEN])
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
    shows(panel, words_of(package, CURVE, water=2.0))
    watch_swaps(panel)
    note = panel.locator(".pcbchem-note")
    for count, text in enumerate(("99", "-1", "much", "")):
        now = f"{2 + count / 10:g}"
        field = write(panel, control, text)
        limits = "Water: a number from 0 to 3 parts, please."
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
    """Slider, number, view, reset, link: each can be reached, and nothing holds the reader."""
    panel_of(predicted, CURVE).get_by_role("slider").focus()
    reached = []
    for _ in range(PRESSES):
        focus = "() => document.activeElement.type || document.activeElement.className"
        reached.append(predicted.evaluate(focus))
        press(predicted, "Tab")
    assert reached == ["range", "text", "radio", "button", "pcbchem-onward"]


def test_law_a_bath_is_handed_to_the_planner(predicted, package):
    """To its page, which is opened; what it makes of these values is in test_planner."""
    panel, control = panel_of(predicted, CURVE), package[CURVE].controls[0]
    values = {"water": 1.2, "view": "bars"}
    reset(panel)
    write(panel, control, "1.2")
    shows(panel, words_of(package, CURVE, **values))
    with predicted.expect_popup() as popup:
        panel.get_by_role("link", name=water.TO_PLANNER).press("Enter")
    popup.value.wait_for_url(f"**/tree/{PLANNER}*", wait_until="commit")
    popup.value.close()
    handed = predicted.evaluate(HANDED)
    assert handed.pop("at") > 0
    assert handed == json.loads(json.dumps(water.planner_values(**values)))


def test_law_everything_is_told_afterwards(predicted):
    """So the law that nothing is told before looks for what this page says."""
    for title in (CURVE, SHAKEN):
        panel_of(predicted, title).scroll_into_view_if_needed()
        reset(panel_of(predicted, title))
    text = read_down(predicted)
    assert "less copper leaves" in text, "the questions of table 1 are there too"
    assert [answer for answer in TestPage.answers if answer not in text] == []


@pytest.mark.usefixtures("forgotten")
class TestCopy(LiveCopyLaws):
    """The laws of every live copy."""

    name = PAGE
    answers = TestPage.answers
    predictions = ((GUESS, REASON), ("seen", ""))
    questions = lesson.water_questions
    tables = (1, 3, 15)

    @pytest.mark.parametrize("width, scheme, ground", [(1366, *NIGHT), (390, *DAY)])
    def test_law_anybody_can_use_it_the_other_way_round(self, file, width, scheme, ground):
        anybody_can_use(file, width, scheme, ground)
