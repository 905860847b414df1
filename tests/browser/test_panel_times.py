"""Law: a time says how it was read, and a long answer how far it is."""

import pytest
from playwright.sync_api import expect

from .bench_panel import HOSTILE, answered, answered_alone, field, reading_of, tell, value


@pytest.fixture
def alone(tab):
    with answered_alone(tab) as page:
        yield page


class TestTimes:
    """What is typed as a time."""

    def test_law_how_a_time_was_read_stands_under_it(self, alone):
        expect(alone.get_by_text("as 4 min 10 s, 250 s or 4:10")).to_be_visible()
        field(alone, "Clear after").fill("4:10")
        field(alone, "Clear after").press("Enter")
        answered(alone, read_as={"clear": "= 250 s"})
        expect(reading_of(alone)).to_have_text("= 250 s")
        expect(field(alone, "Clear after")).to_have_attribute("aria-invalid", "false")
        expect(alone.get_by_role("alert")).to_have_count(0)
        field(alone, "Clear after").press_sequentially("0")
        expect(reading_of(alone)).to_have_text("")

    def test_law_a_time_that_comes_from_elsewhere_is_said_too(self, alone):
        news = {"read_as": {"clear": "= 60 s"}}
        values = {**alone.evaluate("model.get('values')"), "clear": "1 min"}
        alone.evaluate("news => model.put(news)", {**news, "values": values})
        expect(field(alone, "Clear after")).to_have_value("1 min")
        expect(reading_of(alone)).to_have_text("= 60 s")


class TestProgress:
    """How far a long answer is."""

    def test_law_a_second_after_a_change_no_page_is_silent(self, alone):
        field(alone, "Note").fill("odd")
        field(alone, "Note").press("Enter")
        alone.clock.run_for(1000)
        expect(alone.locator(".pcbchem-state")).to_contain_text("Working it out")

    def test_law_what_python_tells_stands_over_the_dimmed_answer(self, alone):
        field(alone, "Note").fill("odd")
        field(alone, "Note").press("Enter")
        question = alone.evaluate("model.get('asked')")
        tell(alone, progress=0.4, words=f"making {HOSTILE}", question=question)
        state, bar = alone.locator(".pcbchem-state"), alone.get_by_role("progressbar")
        expect(state).to_have_text(f"making {HOSTILE}: 40 %")
        expect(bar).to_have_attribute("value", "0.4")
        expect(bar).to_have_attribute("aria-label", f"making {HOSTILE}")
        expect(alone.locator(".pcbchem-stale")).to_have_count(1)
        text = state.evaluate_handle("state => state.firstChild")
        tell(alone, progress=0.5, words=f"making {HOSTILE}", question=question)
        expect(state).to_contain_text("50 %")
        assert text.evaluate("text => text.isConnected"), "heard once, not with each per cent"
        answered(alone)
        expect(state).to_have_text("")
        expect(bar).to_have_count(0)

    def test_law_a_page_gives_nothing_up_that_goes_on(self, alone):
        field(alone, "Note").fill("odd")
        field(alone, "Note").press("Enter")
        question = alone.evaluate("model.get('asked')")
        for step in range(12):
            alone.clock.run_for(5000)
            tell(alone, progress=step / 12, words="making new draws", question=question)
            expect(alone.locator(".pcbchem-lost")).to_be_hidden()
        alone.clock.run_for(40_000)
        expect(alone.locator(".pcbchem-lost")).to_be_visible()
        tell(alone, progress=0.99, words="making new draws", question=question)
        expect(alone.locator(".pcbchem-lost")).to_be_hidden()

    def test_law_a_change_made_meanwhile_is_answered_afterwards(self, alone):
        for text in ("odd", "even"):
            field(alone, "Note").fill(text)
            field(alone, "Note").press("Enter")
        first, second = (entry[0] for entry in alone.evaluate("model.get('entered')"))
        tell(alone, progress=0.4, words="making new draws", question=first)
        alone.evaluate("done => model.put({ done, readout: 'of odd' })", first)
        expect(alone.locator(".pcbchem-stale")).to_have_count(1)
        expect(alone.get_by_role("progressbar")).to_have_count(0)
        tell(alone, progress=0.1, words="making new draws", question=second)
        expect(alone.locator(".pcbchem-state")).to_have_text("making new draws: 10 %")
        assert value(alone, "note") == "even"
        answered(alone, readout="of even")
        expect(alone.locator(".pcbchem-stale")).to_have_count(0)

    def test_law_what_comes_after_the_answer_is_not_said(self, alone):
        tell(alone, progress=0.4, words="making new draws", question=1)
        expect(alone.locator(".pcbchem-state")).to_have_text("")
