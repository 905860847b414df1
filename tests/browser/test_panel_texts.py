"""Law: words, refusals and links do in a browser what they say.

Covers, where Python answers when the test says so: what is typed, pasted, too long or refused;
words as words and never as HTML; ways on; all of it by keyboard, and read by axe.
"""

import json

import pytest
from playwright.sync_api import expect

from pcbchem.page.widget.controls import Choice, PanelWords
from pcbchem.page.widget.panel import PANELS, Panel

from .bench_panel import (
    HOSTILE,
    alert_of,
    answered,
    answered_alone,
    build,
    button,
    field,
    open_alone,
    presses,
    refuse,
    status_of,
    tell,
    value,
)
from .eyes import axe_clean


@pytest.fixture
def alone(tab):
    with answered_alone(tab) as page:
        yield page


class TestWords:
    """What is typed into a line of words."""

    def test_law_enter_confirms_once(self, alone):
        asked = alone.evaluate("model.get('asked')")
        box = field(alone, "Note")
        box.press_sequentially("odd")
        state = alone.locator(".pcbchem-state")
        expect(state).to_have_text("Not worked out yet for what stands in the fields: press Enter.")
        assert value(alone, "note") == ""
        box.press("Enter")
        assert value(alone, "note") == "odd"
        assert alone.evaluate("model.get('entered')") == [[asked + 1, {"note": "odd"}]]
        box.press("Enter")
        box.blur()
        assert alone.evaluate("model.get('asked')") == asked + 1
        answered(alone)
        expect(state).to_have_text("")

    def test_law_leaving_confirms(self, alone):
        field(alone, "Note").press_sequentially("odd")
        field(alone, "Note").press("Tab")
        assert value(alone, "note") == "odd"

    def test_law_what_is_put_back_is_in_no_doubt(self, alone):
        box = field(alone, "Note")
        box.press_sequentially("o")
        box.press("Backspace")
        expect(alone.locator(".pcbchem-state")).to_have_text("")

    def test_law_no_more_letters_than_may_be(self, alone):
        box = field(alone, "Note")
        box.press_sequentially("x" * 15)
        expect(box).to_have_value("x" * 12)
        expect(box).to_have_attribute("maxlength", "12")

    @pytest.mark.parametrize("pasted", ["a\nb", "a\r\nb", "a\n"])
    def test_law_pasted_line_ends_never_reach_python(self, alone, pasted):
        box = field(alone, "Note")
        box.focus()
        alone.keyboard.insert_text(pasted)
        box.press("Enter")
        assert value(alone, "note").startswith("a")
        assert not set("\r\n") & set(value(alone, "note"))

    def test_law_half_of_a_letter_never_reaches_python(self, alone):
        """No message could take it there."""
        box = field(alone, "Note")
        box.evaluate("""box => {
            box.value = 'a\\ud83d';
            box.dispatchEvent(new Event('input'));
        }""")
        box.press("Enter")
        assert value(alone, "note") == ""
        expect(alert_of(alone, "Note")).to_contain_text("Note holds half of a letter")
        expect(alone.locator(".pcbchem-state")).to_contain_text("first correct the field")
        box.fill("a")
        box.press("Enter")
        expect(alert_of(alone, "Note")).to_have_text("")
        expect(box).to_have_attribute("aria-invalid", "false")

    def test_law_words_are_words_and_no_html(self, alone):
        text = "<b>&\"'"
        field(alone, "Note").fill(text)
        field(alone, "Note").press("Enter")
        refuse(alone, note=f"Note = {HOSTILE} is wrong")
        expect(field(alone, "Note")).to_have_value(text)
        expect(alert_of(alone, "Note")).to_have_text(f"Note = {HOSTILE} is wrong")
        expect(alone.locator("img[src=x]")).to_have_count(0)

    def test_law_hint_and_help_belong_to_the_field(self, alone):
        expect(alone.get_by_text("a word or two")).to_be_visible()
        heard = field(alone, "Note").evaluate("""box => box.getAttribute('aria-describedby')
            .split(' ').map(id => document.getElementById(id).textContent).join('|')""")
        assert "a word or two" in heard and "What was odd." in heard
        expect(alone.get_by_text("What was odd.")).to_be_hidden()
        field(alone, "Note").press("F1")
        expect(alone.get_by_text("What was odd.")).to_be_visible()

    def test_law_keys_belong_to_the_field(self, alone):
        expect(field(alone, "Note")).to_have_attribute("data-lm-suppress-shortcuts", "true")
        expect(field(alone, "Note")).to_have_attribute("type", "text")

    def test_law_reset_and_an_offer_fill_the_field(self, alone):
        field(alone, "Note").fill("odd")
        field(alone, "Note").press("Enter")
        refuse(alone, note="Not this.")
        alone.evaluate("() => model.put({ offers: [['Take it', { note: 'even' }]] })")
        button(alone, "Take it").press("Enter")
        assert value(alone, "note") == "even"
        expect(field(alone, "Note")).to_have_value("even")
        button(alone, "Reset").press("Enter")
        assert value(alone, "note") == "" and value(alone, "offcut") is None
        expect(field(alone, "Note")).to_have_value("")


class TestRefusals:
    """What Python says beside a field."""

    def test_law_a_refusal_stands_beside_its_field_and_words_stay(self, alone):
        field(alone, "Clear after").fill("4")
        field(alone, "Clear after").press("Enter")
        refuse(alone, clear="It could be minutes or seconds.")
        expect(alert_of(alone, "Clear after")).to_have_text("It could be minutes or seconds.")
        expect(field(alone, "Clear after")).to_have_attribute("aria-invalid", "true")
        expect(field(alone, "Clear after")).to_have_value("4")
        expect(alone.get_by_text("8 of 10")).to_be_visible()
        expect(alone.locator(".pcbchem-unsure, .pcbchem-stale")).to_have_count(0)
        refuse(alone)
        expect(alert_of(alone, "Clear after")).to_have_text("")
        expect(field(alone, "Clear after")).to_have_attribute("aria-invalid", "false")

    def test_law_nothing_is_pressed_beside_what_cannot_be(self, alone):
        refuse(alone, note="Not this.")
        button(alone, "Add this row").press("Enter")
        assert presses(alone) == []
        expect(status_of(alone, "Add this row")).to_have_text(
            "First correct the field that is marked."
        )
        refuse(alone)
        button(alone, "Add this row").press("Enter")
        assert presses(alone) == ["add"]

    def test_law_nothing_is_pressed_while_something_is_typed(self, alone):
        field(alone, "Note").evaluate("""box => {
            box.value = 'odd';
            box.dispatchEvent(new Event('input'));
        }""")
        button(alone, "Add this row").evaluate("button => button.click()")
        assert presses(alone) == []
        expect(status_of(alone, "Add this row")).to_contain_text("press Enter")

    def test_law_a_press_waits_for_the_answer_and_goes_by_it(self, alone):
        """What is refused by then is not sent."""
        field(alone, "Note").fill("odd")
        button(alone, "Add this row").click()
        assert value(alone, "note") == "odd" and presses(alone) == []
        refuse(alone, note="Not this.")
        assert presses(alone) == []
        field(alone, "Note").fill("even")
        button(alone, "Add this row").click()
        refuse(alone)
        assert presses(alone) == ["add"]

    def test_law_a_refusal_in_a_folded_group_unfolds_it(self, alone):
        expect(field(alone, "width (mm)")).to_be_hidden()
        refuse(alone, width="Too wide for the tray.")
        expect(field(alone, "width (mm)")).to_be_visible()
        expect(alert_of(alone, "width")).to_have_text("Too wide for the tray.")
        expect(field(alone, "width (mm)")).to_have_attribute("aria-invalid", "true")

    def test_law_sliders_and_lists_are_refused_too(self, alone):
        refuse(alone, tray="No such tray.", at="Not then.")
        expect(alert_of(alone, "Tray")).to_have_text("No such tray.")
        expect(alone.locator(".pcbchem-slider").get_by_role("alert")).to_have_text("Not then.")

    def test_law_a_choice_of_few_is_refused_beside_it(self, tab):
        choice = Choice("at", "At", {"a": "first", "b": "last"}, "a")
        panel = Panel("Few", [choice], build, lambda drawing, at: PanelWords("so", "white"))
        page = open_alone(tab, PANELS.pop(panel.title))
        refuse(page, at="Not then.")
        expect(page.get_by_role("group").get_by_role("alert")).to_have_text("Not then.")

    def test_law_what_is_not_seen_is_said_with_the_words(self, alone):
        refuse(alone, offcut="That offcut is of another bottle.")
        expect(alone.locator(".pcbchem-words .pcbchem-wrong")).to_have_text(
            "That offcut is of another bottle."
        )
        refuse(alone)
        expect(alone.locator(".pcbchem-words .pcbchem-wrong")).to_be_hidden()


class TestLinks:
    """Ways on to other pages."""

    def test_law_each_link_hands_over_its_own(self, alone):
        expect(alone.get_by_role("link")).to_have_count(2)
        for name, key, handed in (
            ("On to the planner", "00_plan_a_bath.ipynb", {"water": 1}),
            ("On to this page", "page.ipynb", {"offcut": {"label": HOSTILE}}),
        ):
            link = alone.get_by_role("link", name=name)
            expect(link).to_have_attribute("target", "_blank")
            with alone.context.expect_page() as opened:
                link.click()
            opened.value.close()
            kept = json.loads(alone.evaluate("key => localStorage.getItem(key)", f"pcbchem {key}"))
            kept.pop("at")
            assert kept == handed

    def test_law_where_nothing_is_handed_there_is_no_link(self, alone):
        answered(alone, handed=[{}, {"offcut": {}}, {"x": 1}])
        names = [link.inner_text() for link in alone.get_by_role("link").all()]
        assert names == ["On to this page", "Nowhere"]

    def test_law_what_is_handed_over_is_carried_past_a_reset(self, tab):
        """Nobody has entered it here; a field goes back to its start."""
        handed = {"offcut": {"label": "3"}, "note": "odd", "unknown": 1, "why": "From a log."}
        storage = f"""localStorage.setItem('pcbchem page.ipynb',
            JSON.stringify({{...{json.dumps(handed)}, at: Date.now() - 1000}}))"""
        page = open_alone(tab, storage=storage)
        page.evaluate("localStorage.clear()")
        assert value(page, "offcut") == {"label": "3"} and value(page, "note") == "odd"
        expect(page.get_by_text("From a log.")).to_be_visible()
        expect(field(page, "Note")).to_have_value("odd")
        answered(page)
        button(page, "Reset").press("Enter")
        assert value(page, "offcut") == {"label": "3"}
        expect(field(page, "Note")).to_have_value("")


def test_law_every_piece_is_reached_by_tab_in_order(alone):
    """From the first field to the table."""
    answered(alone, read_as={"clear": "= 250 s"})
    names = []
    field(alone, "Note").focus()
    for _ in range(14):
        name = alone.evaluate("""() => {
            const e = document.activeElement;
            return e.labels?.[0]?.textContent || e.ariaLabel || e.textContent;
        }""")
        names.append(name)
        alone.keyboard.press("Tab")
    order = ["Note", "Clear after", "Tray", "Add this row", "Open a log", "More"]
    places = [names.index(name) for name in order]
    assert places == sorted(places)
    assert any(name.startswith("Offcuts") for name in names)


@pytest.mark.parametrize("theme", ["true", "false"])
def test_law_axe_finds_nothing(alone, theme):
    """With a refusal, a reading, a file, a table and a bar on the page, by day and by night."""
    alone.clock.resume()  # axe waits now and then
    alone.evaluate("theme => { document.body.dataset.jpThemeLight = theme; }", theme)
    field(alone, "Note").fill("odd")
    field(alone, "Note").press("Enter")
    refused = {"note": "Not this.", "width": "Too wide.", "tray": "No such tray."}
    answered(alone, beside_fields=refused, read_as={"clear": "250 s"})
    alone.evaluate("""() => {
        for (const row of document.querySelectorAll('.pcbchem-file')) row.hidden = false;
    }""")
    axe_clean(alone, ".pcbchem-widget")
    field(alone, "Note").fill("even")
    field(alone, "Note").press("Enter")
    question = alone.evaluate("model.get('asked')")
    tell(alone, progress=0.4, words="making new draws", question=question)
    axe_clean(alone, ".pcbchem-widget .pcbchem-state")
