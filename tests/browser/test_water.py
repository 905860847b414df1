"""Law: by keyboard alone one can predict, move every control and take a bath to the planner; the page says it all."""

import re

import pytest
from playwright.sync_api import expect

from pcbchem.lesson.plan_a_bath import panel as planner
from pcbchem.lesson.why_water_slows_it import panel as water
from pcbchem.lesson.why_water_slows_it.one_effect_away import taken_away_panel
from pcbchem.page.widget.controls import Choice, Slider, flat
from pcbchem.page.widget.quiz import KEPT
from pcbchem.page.widget.quiz import predict as question

from .hands import (
    choose,
    complaints,
    idle,
    loaded,
    named,
    no_errors,
    panel_of,
    predict,
    run_all,
    run_alone,
    shows,
    swapped,
    swaps,
    watched,
    write,
)
from .opening import cut_after, planner_alone

PAGE, PLANNER = "04_why_water_slows_it.ipynb", "00_plan_a_bath.ipynb"
GUESS, WORDS = "2-3", "×2–3"
CURVE, TAKEN, ROOMY = "Water and time", "Take one effect away", "Water and time in a roomy tray"
FIVE, MEASURED = 5, re.compile(r"Measured on .* People say: .*? at [\d.]+ mol/L\. ")
ANSWER = re.compile(r"\d (s|min|h)\b|times longer[^?]|undiluted time|µm|never clear|×\d")


@pytest.fixture(scope="module")
def package():
    """The same panels in this process, with a prediction for the first and the third."""
    KEPT.clear()
    made = {
        CURVE: water.water_panel(question("one", "How many times longer?", water.GUESSES)),
        TAKEN: taken_away_panel(),
        ROOMY: water.roomy_panel(question("two", "And now?", water.GUESSES)),
    }
    assert [panel.title for panel in made.values()] == list(made)
    return made


@pytest.fixture(scope="module")
def page(server, opened_once, package):
    """The page down to its last panel, run."""
    return run_alone(server, opened_once, "water_alone.ipynb", cut_after(PAGE, "panel-again"))


@pytest.fixture
def predicted(page, package):
    """The page after a prediction for each question, made by keyboard, unless it is there already."""
    for number, title in enumerate((CURVE, ROOMY)):
        if not panel_of(page, title).locator(".guess").is_visible():
            predict(page, WORDS, number)
        package[title].prediction.choice = GUESS
    return page


def said(package, title, **values):
    return package[title].said(False, **values)[1]


def test_law_nothing_of_the_answer_shows_before_a_prediction(page, package):
    for title in (CURVE, ROOMY):
        panel = panel_of(page, title)
        for presses in (0, FIVE):
            for _ in range(presses):
                panel.get_by_role("slider").press("ArrowRight")
            shows(
                panel, said(package, title, water=presses / 10, predicted=None), besides=["0.5"]
            )  # the slider's own
            heard = panel.inner_text() + MEASURED.sub("", panel.locator("img").get_attribute("alt"))
            assert "Predict first" in heard and not ANSWER.search(heard), ANSWER.search(heard)
    assert ANSWER.search(said(package, CURVE, predicted="-").readout), "the pattern sees an answer"


def test_law_a_prediction_by_keyboard_is_kept_and_shown_beside_the_result(page, package):
    quiz, panel, made = page.locator(".lesson-quiz").first, panel_of(page, CURVE), package[CURVE]
    expect(panel.locator(".guess")).to_be_hidden()
    predict(page, WORDS)
    made.prediction.choice = GUESS
    made.redraw(water=FIVE / 10)
    expect(quiz.get_by_role("status").filter(has_text="Your prediction is kept")).to_have_text(
        made.prediction.said
    )
    assert made.predicted.startswith(f"Your prediction: {WORDS}") and WORDS in made.prediction.said
    expect(panel.locator(".guess")).to_have_text(made.predicted)
    shows(panel, said(package, CURVE))
    assert f"Your prediction, {WORDS}, is a hollow mark" in panel.locator("img").get_attribute(
        "alt"
    )
    assert "Predict first" in panel_of(page, ROOMY).inner_text(), "the other question still waits"


def test_law_it_is_still_there_when_the_cells_have_run_again(page, package):
    run_all(page)
    no_errors(page)
    panel, made = panel_of(page, CURVE), package[CURVE]
    assert (
        page.locator(".lesson-quiz").first.get_by_role("radio", name=WORDS, exact=True).is_checked()
    )
    made.prediction.choice = GUESS
    made.redraw(water=0.0)
    expect(panel.locator(".guess")).to_have_text(made.predicted)
    shows(panel, said(package, CURVE))


def test_law_who_is_asked_again_no_longer_sees_the_answer(page, package):
    panel, made = panel_of(page, CURVE), package[CURVE]
    page.locator(".lesson-quiz").first.get_by_role("button", name="Ask me again").press("Enter")
    made.prediction.choice = ""
    shows(panel, said(package, CURVE))
    expect(panel.locator(".guess")).to_be_hidden()


@pytest.mark.parametrize("title", [CURVE, TAKEN, ROOMY])
def test_law_every_control_is_named_and_moves_what_it_should(predicted, package, title):
    """From the first control to the last, by keyboard; after each the page says what the package says."""
    panel, made = panel_of(predicted, title), package[title]
    panel.get_by_role("button", name="Reset").press("Enter")
    values = {control.name: control.start for control in made.controls}
    shows(panel, said(package, title, **values))
    named(panel, made.controls)
    watched(panel)
    count = 0
    for control in made.controls:
        for value, move in moves(panel, control):
            move()
            values[control.name] = value
            shows(panel, said(package, title, **values))
            swapped(panel, count + 1)
            count = swaps(panel)
    no_errors(predicted)


def moves(panel, control):
    """Each way to move a control, with the value it then has."""
    if isinstance(control, Choice):
        words = list(control.options.items())
        at = [value for value, _ in words].index(control.start)
        return [
            (value, lambda name=name: choose(panel, control, name))
            for value, name in words[at + 1 :] + words[:at]
        ]
    slider = panel.get_by_role("slider")

    def pressed(key, times):
        slider.focus()
        for _ in range(times):
            panel.page.keyboard.press(key)

    on = [round(control.start + presses * control.step, 6) for presses in (FIVE, FIVE - 2)]
    return [
        (on[0], lambda: pressed("ArrowRight", FIVE)),
        (on[1], lambda: pressed("ArrowLeft", 2)),
        (2.4, lambda: write(panel, control, "2,4")),
        (control.high, lambda: pressed("End", 1)),
        (1.2, lambda: write(panel, control, "1.2")),
    ]


@pytest.mark.parametrize("text", ["99", "-1", "much", ""])
def test_law_a_value_that_cannot_be_is_said_and_changes_nothing(predicted, package, text):
    panel, control = panel_of(predicted, CURVE), package[CURVE].controls[0]
    assert isinstance(control, Slider)
    panel.get_by_role("button", name="Reset").press("Enter")
    shows(panel, said(package, CURVE))
    watched(panel)
    write(panel, control, "2")
    shows(panel, said(package, CURVE, water=2))
    swapped(panel, 1)
    field = write(panel, control, text)
    expect(panel.locator(".note")).to_have_text(
        "Water: a number from 0 to 10 parts, please. Still used: 2."
    )
    expect(field).to_have_attribute("aria-invalid", "true")
    assert len(complaints(predicted)) == 1
    panel.get_by_role("slider").press(
        "ArrowRight"
    )  # what comes next is the second picture: there was none between
    shows(panel, said(package, CURVE, water=2.1))
    swapped(panel, 2)
    assert swaps(panel) == 2
    expect(panel.locator(".note")).to_be_hidden()
    expect(field).to_have_value("2.1")
    no_errors(predicted)


def test_law_tab_goes_through_the_panel_in_order(predicted, package):
    """Slider, number, bottles, reset, link: each can be reached, and nothing holds the reader."""
    panel = panel_of(predicted, CURVE)
    panel.get_by_role("slider").focus()
    reached = []
    for _ in range(FIVE):
        reached.append(
            predicted.evaluate(
                "() => document.activeElement.type || document.activeElement.className"
            )
        )
        predicted.keyboard.press("Tab")
    assert reached == ["range", "text", "radio", "button", "onward"]


@pytest.fixture
def short_planner(server):
    """The planner's page without what follows its panel, in its place in the copy."""
    copy = server.pages / PLANNER
    whole = copy.read_text(encoding="utf-8")
    copy.write_text(planner_alone(), encoding="utf-8")
    yield
    copy.write_text(whole, encoding="utf-8")


def test_law_strong_bottles_lead_nowhere(predicted, package):
    panel, bottles = panel_of(predicted, CURVE), package[CURVE].controls[1]
    link = panel.get_by_role("link", name=water.TO_PLANNER)
    for name, pair in water.PAIRS.items():
        choose(panel, bottles, pair.words)
        expect(link).to_be_visible(visible=not pair.only_drawn)
        assert pair.only_drawn == (name == "strong")


def test_law_a_bath_is_taken_to_the_planner(predicted, browser, package, short_planner):
    panel, control = panel_of(predicted, CURVE), package[CURVE].controls[0]
    write(panel, control, "1.2")
    choose(panel, package[CURVE].controls[1], water.PAIRS["weak"].words)
    values = {"water": 1.2, "bottles": "weak"}
    shows(panel, said(package, CURVE, **values))
    with browser.expect_page() as opened:
        panel.get_by_role("link", name=water.TO_PLANNER).press("Enter")
    other = opened.value
    idle(other)
    run_all(other)
    handed = water.handed(**values)
    filled = panel_of(other, "Planner")
    expect(filled.locator(".filled")).to_have_text(handed.pop("why"))
    start = {control.name: control.start for control in flat(planner.groups())}
    mine = planner.planner()
    shows(filled, mine.said(False, **{**start, **handed})[1])
    for field in mine.controls:
        if field.name in handed:
            box = filled.get_by_role(
                "textbox", name=re.compile(rf"^{re.escape(field.label)}( \(|$)")
            )
            expect(box).to_have_value(f"{handed[field.name]:g}")
    loaded(filled.locator("img"))
    no_errors(other)
    other.close()
