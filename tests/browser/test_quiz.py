"""Law: each answer is judged however busy Python is; a verdict stands beside its own answer only.

Covers, in an empty page where Python answers when the test says so: verdicts that are gone, late or
not said again, waiting, two choices at once, asking again, reasons, tables, why questions. (Answers
sent in JupyterLab while cells still run are in test_faults.)
"""

from types import SimpleNamespace

import pytest
from playwright.sync_api import expect

from pcbchem.lesson.why_water_slows_it.questions import water_questions
from pcbchem.page import Check, Prediction
from pcbchem.page.why import WhyQuestion
from pcbchem.page.widget.quiz import KEPT

from .alone import MODEL, state_of, stop_clock

RUNNING = "The page is still running: your answer waits."
LOST = "No answer from Python. Choose Run, then Run All Cells."
NOTE_REWRITTEN = """() => {
    window.rewritten = [];
    document.querySelectorAll('.pcbchem-verdict').forEach((verdict, place) =>
        new MutationObserver(() => rewritten.push(place)).observe(
            verdict, { childList: true, characterData: true, subtree: true }));
}"""


@pytest.fixture
def alone(tab):
    """Show a widget's script in an empty page; `answer` lets Python answer what waits, in order."""
    page = tab
    page.goto("about:blank")
    stop_clock(page)

    def show(widget):
        def answer(count=1):
            for message in page.evaluate("count => sent.splice(0, count)", count):
                data = {"method": "custom", "content": message}
                widget._handle_msg({"content": {"data": data}, "buffers": []})
                # as the kernel does: what the message changed, then that it is answered
                news = state_of(widget)
                done = page.evaluate("() => model.get('done')")
                page.evaluate("news => model.put(news)", {**news, "done": done})
                page.evaluate("news => model.put(news)", {"done": news["done"]})

        page.evaluate(MODEL, [widget._esm, state_of(widget)])
        return SimpleNamespace(
            page=page,
            answer=answer,
            boxes=page.get_by_role("textbox", name="Your answer"),
            verdicts=page.locator(".pcbchem-verdict"),
            lost=page.locator(".pcbchem-lost"),
        )

    return show


def enter(sheet, place, text):
    """Write an answer and press Enter."""
    sheet.boxes.nth(place).fill(text)
    sheet.boxes.nth(place).press("Enter")


def test_law_a_verdict_goes_when_its_answer_is_changed(alone):
    """And the others stay, and are not said again."""
    sheet = alone(Check(water_questions))
    for place in range(3):
        enter(sheet, place, "1")
    sheet.answer(3)
    expect(sheet.verdicts).to_contain_text(["read as", "read as", "read as"])
    sheet.page.evaluate(NOTE_REWRITTEN)
    sheet.boxes.nth(0).fill("")
    expect(sheet.verdicts.nth(0)).to_be_empty()
    sheet.boxes.nth(1).fill("2")
    expect(sheet.verdicts.nth(1)).to_be_empty()
    sheet.boxes.nth(1).press("Enter")
    sheet.answer()
    expect(sheet.verdicts.nth(1)).to_contain_text("read as 2.00")
    expect(sheet.boxes.nth(0)).to_have_value("")
    expect(sheet.verdicts.nth(0)).to_be_empty()
    assert set(sheet.page.evaluate("() => rewritten")) == {0, 1}, "the third was not said again"


def test_law_a_late_verdict_is_not_put_beside_a_new_answer(alone):
    sheet = alone(Check(water_questions))
    enter(sheet, 0, "1")
    sheet.boxes.nth(0).fill("2")
    sheet.answer()
    expect(sheet.verdicts.nth(0)).to_be_empty()


def test_law_the_same_answer_checked_twice_is_judged_twice(alone):
    sheet = alone(Check(water_questions))
    for _ in range(2):
        sheet.boxes.nth(0).fill("")
        enter(sheet, 0, "1")
        sheet.answer()
        expect(sheet.verdicts.nth(0)).to_contain_text("read as ×1.00")


def test_law_no_answer_is_asked_for_before_it_is_sent(alone):
    sheet = alone(Check(water_questions))
    enter(sheet, 0, " ")
    expect(sheet.verdicts.nth(0)).to_have_text("Write an answer first.")
    assert sheet.page.evaluate("() => sent") == []


def test_law_who_waits_is_told_so_and_later_that_none_comes(alone):
    sheet = alone(Check(water_questions))
    enter(sheet, 0, "1")
    sheet.page.clock.run_for(7900)
    expect(sheet.lost).to_be_hidden()
    sheet.page.clock.run_for(200)
    expect(sheet.lost).to_have_text(RUNNING)
    sheet.page.clock.run_for(29_700)
    expect(sheet.lost).to_have_text(RUNNING)
    sheet.page.clock.run_for(300)
    expect(sheet.lost).to_have_text(LOST)
    sheet.answer()
    expect(sheet.lost).to_be_hidden()
    sheet.page.clock.run_for(60_000)
    expect(sheet.lost).to_be_hidden()
    enter(sheet, 0, "1")  # Python has answered before: this page is not still starting
    sheet.page.clock.run_for(8100)
    expect(sheet.lost).to_have_text(LOST)


def test_law_of_two_choices_that_wait_the_last_one_counts(alone):
    """And it stays chosen, whatever is answered meanwhile."""
    KEPT.clear()
    prediction = Prediction("browser", "How many?", {"a": "one", "b": "two"})
    shown = alone(prediction)
    one, two = (shown.page.get_by_role("radio", name=name) for name in ("one", "two"))
    for box in (one, two, one):
        box.check()
    for _ in range(3):
        shown.answer()
        expect(one).to_be_checked()
    assert prediction.choice == "a"
    kept = shown.page.locator(".pcbchem-kept")
    expect(kept).to_contain_text("Your prediction is kept: one.")
    two.check()
    one.check()  # back to what is kept, while the other one is on its way
    shown.answer(2)
    expect(one).to_be_checked()
    assert prediction.choice == "a"
    KEPT.clear()


def test_law_who_has_chosen_can_be_asked_again(alone):
    """The button says what it does, and is as wide before as after."""
    KEPT.clear()
    prediction = Prediction("browser", "How many?", {"a": "one", "b": "two"})
    shown = alone(prediction)
    button = shown.page.locator(".pcbchem-skip")
    expect(button).to_have_text("Show me without a prediction")
    button.click()
    shown.answer()
    assert prediction.choice == "-"
    expect(button).to_have_text("Ask me again")
    button.click()
    shown.answer()
    assert prediction.choice == ""
    expect(button).to_have_text("Show me without a prediction")
    shown.page.get_by_role("radio", name="two").check()
    shown.answer()
    button.dblclick()  # the second half of a double click takes nothing back
    shown.answer(2)
    assert prediction.choice == ""
    KEPT.clear()


def test_law_reasons_come_with_an_answer_and_both_are_kept(alone):
    """At once, while Python is busy; arrow keys pass over reasons as over answers."""
    KEPT.clear()
    prediction = Prediction(
        "browser", "How many?", {"a": "one", "b": "two"}, {"x": "so", "y": "not so", "z": "why"}
    )
    shown = alone(prediction)
    reasons = shown.page.get_by_role("group", name="because")
    kept = shown.page.locator(".pcbchem-kept")
    expect(reasons).to_be_hidden()
    shown.page.get_by_role("radio", name="two").check()
    expect(reasons).to_be_visible()
    shown.answer()
    expect(kept).to_contain_text("Choose a reason too")
    assert not prediction.made
    skip = shown.page.locator(".pcbchem-skip")
    expect(skip).to_have_text("Show me without a prediction")
    reasons.get_by_role("radio", name="so", exact=True).focus()
    for _ in range(2):
        shown.page.keyboard.press("ArrowDown")
    assert shown.page.evaluate("() => sent") == [], "passed over"
    shown.page.clock.run_for(1000)
    shown.answer()
    expect(kept).to_contain_text("Your prediction is kept: two, because why.")
    assert (prediction.choice, prediction.reason) == ("b", "z")
    shown.page.get_by_role("radio", name="one").check()
    shown.answer()
    expect(kept).to_contain_text("is kept: one, because why. At first you said: two.")
    expect(skip).to_have_text("Ask me again")
    skip.click()
    shown.answer()
    expect(reasons).to_be_hidden()
    assert (prediction.choice, prediction.reason) == ("", "")
    KEPT.clear()


def test_law_a_table_gets_its_own_numbers(alone):
    """Another number is refused beside its field, and asks Python for nothing."""
    KEPT.clear()
    shown = alone(Check(water_questions))
    table = shown.page.get_by_role("textbox", name="Your table")
    for text in ("0", "41", "two", ""):
        table.fill(text)
        table.press("Enter")
        expect(shown.page.get_by_text("A whole number from 1 to 40, please.")).to_be_visible()
    assert shown.page.evaluate("() => sent") == []
    table.fill("7")
    table.press("Enter")
    shown.answer()
    expect(shown.page.locator(".pcbchem-sheet")).to_have_text("Table 7, sheet 1")
    shown.page.get_by_role("button", name="New numbers").click()
    shown.answer()
    expect(shown.page.locator(".pcbchem-sheet")).to_have_text("Table 7, sheet 2")
    expect(table).to_have_value("7")
    KEPT.clear()


def test_law_a_why_question_is_answered_by_choosing(alone):
    KEPT.clear()
    options = (("a", "cold", "Is it?"), ("b", "wet", "It is."), ("c", "salt", "No."))
    shown = alone(Check(lambda seed: [WhyQuestion("why", "Why?", options, "b", "Wet.")]))
    button = shown.page.get_by_role("button", name="Check answer 1")
    button.click()
    expect(shown.verdicts).to_have_text("Choose an answer first.")
    shown.page.get_by_role("radio", name="cold").check()
    button.click()
    shown.answer()
    expect(shown.verdicts).to_have_text("Not yet. Is it?")
    shown.page.get_by_role("radio", name="wet").check()
    expect(shown.verdicts).to_be_empty()
    shown.page.get_by_role("radio", name="wet").press("Enter")
    shown.answer()
    expect(shown.verdicts).to_have_text("Right. It is.")
    KEPT.clear()
