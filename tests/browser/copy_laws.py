"""Laws of every live copy: one file, no Python, no network, and each word as the package says it.

A page's own test file takes over `CopyLaws`. There `file` is the copy, opened from the disk, and
`package` holds the panels of which it is a copy, by title.
"""

import itertools
import random
import re
from collections.abc import Callable, Sequence

import pytest
from playwright.sync_api import expect

from pcbchem.page.answers import Question, answer_words, judge
from pcbchem.page.export.judging import as_shown
from pcbchem.page.why import WhyQuestion, judge_why
from pcbchem.page.widget.check import TABLES
from pcbchem.page.widget.controls import Choice
from pcbchem.page.widget.prediction import WITHOUT

from .bridge import live_copy
from .eyes import COLOURS, LONGEST_LINE, axe_clean, fits_across, lines_of, no_errors, shows
from .hands import panel_of, parts_of, reset, write

STATES = 6
"""How many settings of each panel are looked at, each another one, drawn by lot."""
PICTURES_LOADED = "() => [...document.images].every(i => i.complete && i.naturalWidth && i.alt)"
UNFOLD = """() => {
    document.querySelectorAll('details').forEach(e => { e.open = true; });
}"""
GROUNDS = """() => [...document.querySelectorAll('.pcbchem-widget')]
    .map(e => getComputedStyle(e).backgroundColor)"""
NIGHT, DAY = ("dark", (18, 18, 18)), ("light", (255, 255, 255))
READ_COPY = """() => {
    const copy = document.body.cloneNode(true);
    copy.querySelectorAll('fieldset, script, style').forEach(e => e.remove());
    return copy.textContent + [...document.images].map(e => e.alt).join(' ');
}"""
MOVE = """(slider, value) => {
    slider.value = value;
    slider.dispatchEvent(new Event('input', { bubbles: true }));
}"""
# writes each of some answers to a question, or chooses it by its place, presses Check and reads
ANSWER = """async (row, answers) => {
    const verdict = row.querySelector('.pcbchem-verdict');
    const field = row.querySelector('input[type=text]');
    const options = row.querySelectorAll('input[type=radio]');
    const read = [];
    for (const answer of answers) {
        if (field) {
            field.value = answer;
            field.dispatchEvent(new Event('input', { bubbles: true }));
        } else options[answer].click();
        if (verdict.textContent) throw Error('beside another answer: ' + verdict.textContent);
        row.querySelector('button').click();
        for (let turn = 0; turn < 1000 && !verdict.textContent; turn += 1) {
            await new Promise(done => setTimeout(done));
        }
        read.push({ grade: verdict.dataset.grade, words: verdict.textContent });
    }
    return read;
}"""
REQUESTED = re.compile(r"^(?!data:|blob:).*")


class CopyLaws:
    """What holds for the live copy of every page."""

    name: str
    """The page's file."""
    settings = 8
    """Settings of each panel in the copy, for a whole one takes minutes; a page whose slider can
    only go in shorter steps asks for more of them."""

    @pytest.fixture(scope="class")
    @classmethod
    def file(cls, browser, tmp_path_factory):
        """The live copy, opened from the disk; `asked_for` lists what it asked for."""
        folder = tmp_path_factory.mktemp("copy")
        with live_copy(browser, cls.name, folder, cls.settings) as tab:
            yield tab

    def test_law_it_asks_for_nothing(self, file):
        asked = [url for url in file.asked_for if REQUESTED.match(url)]
        assert asked == [file.url]

    def test_law_pictures_are_there_and_lines_are_short(self, file):
        file.evaluate(UNFOLD)
        no_errors(file)
        assert file.locator("img").count() > 0
        assert file.evaluate(PICTURES_LOADED)
        longest = max(lines_of(file), key=len)
        assert len(longest) <= LONGEST_LINE, longest

    @pytest.mark.parametrize("width, scheme, ground", [(390, *NIGHT), (1366, *DAY)])
    def test_law_anybody_can_use_it(self, file, width, scheme, ground):
        """By night on a telephone, by day on a laptop; by day only colours are others.

        The other way round for one page: no style sheet has other colours in another width.
        """
        anybody_can_use(file, width, scheme, ground)

    @pytest.mark.parametrize("width", [320, 390, 1366])
    def test_law_nothing_is_scrolled_across(self, file, width):
        file.evaluate(UNFOLD)
        file.set_viewport_size({"width": width, "height": 768})
        fits_across(file)


class LiveCopyLaws(CopyLaws):
    """What holds where a page asks for predictions, and its panels wait for them."""

    answers: tuple[str, ...] = ()
    """What its predictions are about, as the page says it afterwards."""
    predictions: tuple[tuple[str, str], ...]
    """Key of an answer and of a reason, or "", for each of the page's questions."""
    tables: tuple[int, ...] = (3,)
    """Tables whose questions are answered. The script that judges is the same for all of them, and
    held by test_judge.py: the first and the last table, too, only for two pages."""
    questions: Callable[[int], Sequence[Question | WhyQuestion]]
    """Its questions to check oneself, from a seed [-]."""

    @pytest.fixture(scope="class")
    @classmethod
    def package(cls, file):
        """The panels of which it is a copy, by title."""
        return file.ran.panels

    def test_law_nothing_of_an_answer_can_be_read_before(self, file):
        text = file.evaluate(READ_COPY)
        assert len(text) > 500
        assert [answer for answer in self.answers if answer in text] == []

    def test_law_before_a_prediction_nothing_can_be_moved(self, file, package):
        for title, ours in package.items():
            panel = panel_of(file, title)
            shows(panel, ours.picture_and_words(False, predicted=None)[1], besides=["200"])
            expect(panel.locator(".pcbchem-rows")).to_be_hidden()

    def test_law_each_prediction_is_answered(self, file, package, quizzes):
        """With a reply to answer and reason, as the package gives it."""
        for quiz, ours in quizzes:
            answer, reason = next(
                (answer, reason)
                for answer, reason in self.predictions
                if answer in ours.options and reason in ("", *ours.reasons)
            )
            quiz.get_by_role("radio", name=ours.options[answer].words, exact=True).check()
            ours.choice = answer
            if reason:
                said = quiz.get_by_role("status").first
                expect(said).to_have_text("Choose a reason too: then your prediction counts.")
                quiz.get_by_role("radio", name=ours.reasons[reason].words, exact=True).check()
                ours.reason = reason
            expect(quiz.get_by_role("status").first).to_have_text(ours.kept_words)
            expect(quiz.locator(".pcbchem-under")).to_have_text(ours.under.replace("\n", ""))
            # a panel that waits for another question too says nothing to this one
            for title, panel in package.items():
                reply = panel_of(file, title).locator(".pcbchem-reply")
                expect(reply).to_have_text(panel.reply)
        for title, ours in package.items():
            panel = panel_of(file, title)
            shows(panel, ours.picture_and_words(False)[1])
            if ours.replies:
                expect(panel.locator(".pcbchem-prediction")).to_have_text(ours.prediction.words)
        text = file.evaluate(READ_COPY)
        assert [answer for answer in self.answers if answer not in text] == []

    def test_law_at_any_setting_it_says_what_the_package_says(self, file, package):
        by_lot = random.Random(1)
        for title, ours in package.items():
            panel = panel_of(file, title)
            every = list(itertools.product(*(kept_values(panel, each) for each in ours.controls)))
            for setting in by_lot.sample(every, min(STATES, len(every))):
                values = {}
                for control, value in zip(ours.controls, setting, strict=True):
                    move(panel, control, value)
                    values[control.name] = value
                shows(panel, ours.picture_and_words(False, **values)[1], besides=numbers(values))
        no_errors(file)

    def test_law_a_changed_mind_is_kept_in_mind(self, file, quizzes):
        """Looked at without one, and then answered again: what was said at first stays known.

        The first of the page's questions: one script and one table of words serve them all, and
        tests/page/export/test_kept.py holds that table for each choice, reason and first answer.
        """
        for quiz, ours in quizzes[:1]:
            first = ours.choice, ours.reason
            quiz.get_by_role("button").click()  # ask me again
            expect(quiz.get_by_role("status").first).to_have_text(
                "Asked again: the answer waits for you."
            )
            quiz.get_by_role("button").click()  # without a prediction
            ours.choice = ""
            ours.choice = WITHOUT
            expect(quiz.get_by_role("status").first).to_have_text(ours.kept_words)
            other = next(key for key in ours.options if key != first[0])
            quiz.get_by_role("radio", name=ours.options[other].words, exact=True).check()
            ours.choice = other
            if first[1]:
                quiz.get_by_role("radio", name=ours.reasons[first[1]].words, exact=True).check()
                ours.reason = first[1]
            expect(quiz.get_by_role("status").first).to_have_text(ours.kept_words)
            assert "At first you said" in ours.kept_words

    def test_law_a_number_between_two_steps_is_taken_as_the_next(self, file, package):
        """And the page says so beside it."""
        for title, ours in package.items():
            for control in ours.controls:
                if isinstance(control, Choice):
                    continue
                panel = panel_of(file, title)
                reset(panel)
                slider = panel.get_by_role("slider", name=parts_of(control)[0][1], exact=True)
                step = float(slider.get_attribute("step"))
                typed, taken = control.low + 0.99 * step, control.low + step
                field = write(panel, control, f"{typed:g}")
                said = f"{typed:g} is between two steps: taken as {taken:g}."
                expect(panel.get_by_text(said, exact=True)).to_be_visible()
                expect(field).to_have_value(f"{taken:g}")
                values = {each.name: each.start for each in ours.controls} | {control.name: taken}
                words = ours.picture_and_words(False, **values)[1]
                shows(panel, words, besides=numbers(values))

    def test_law_answers_of_tables_are_judged(self, file):
        """Right ones, slips and others, as Python judges them."""
        for table in self.tables:
            self.judged_as_by_python(file, table)

    def judged_as_by_python(self, file, table):
        sheet = file.get_by_role("region", name="Check yourself")
        write_table(sheet, table)
        # the questions before these are as many: an answer to them would be gone with them
        expect(sheet.locator(".pcbchem-sheet")).to_have_text(f"Table {table}, sheet 1")
        rows = sheet.locator("ol.pcbchem-questions > li")
        questions = type(self).questions(table)
        expect(rows).to_have_count(len(questions))
        for row, question in zip(rows.all(), questions, strict=True):
            verdict = row.locator(".pcbchem-verdict")
            answers = answers_to(question)
            expected = [judged(question, answer) for answer in answers]
            # how they are given: a why by the place of its answer
            given = answers
            if isinstance(question, WhyQuestion):
                given = [place_of(question, key) for key in answers]
                row.get_by_role("radio").nth(given[0]).check()
            else:
                row.get_by_role("textbox").fill(given[0])
            row.get_by_role("button").click()
            expect(verdict).to_have_text(expected[0]["words"])
            expect(verdict).to_have_attribute("data-grade", expected[0]["grade"])
            # the first by hand; the others, and it once more, by a script that does the same
            said = row.evaluate(ANSWER, [*given[1:], given[0]])
            wanted = [*expected[1:], expected[0]]
            other = [pair for pair in zip(said, wanted, strict=True) if pair[0] != pair[1]]
            assert not other, other

    def test_law_a_table_has_two_sheets_and_fifteen_there_are(self, file):
        sheet = file.get_by_role("region", name="Check yourself")
        write_table(sheet, 16)
        expect(sheet.locator(".pcbchem-note")).to_have_text("A whole number from 1 to 15, please.")
        write_table(sheet, 4)
        for number in (2, 1):
            sheet.get_by_role("button", name="New numbers").click()
            expect(sheet.locator(".pcbchem-sheet")).to_have_text(f"Table 4, sheet {number}")
            first = type(self).questions((number - 1) * TABLES + 4)[0]
            expect(sheet.locator("ol.pcbchem-questions > li").first).to_contain_text(
                first.text.split("\n")[0]
            )

    def test_law_a_link_leads_back_up(self, file, quizzes):
        file.locator(".pcbchem-end").get_by_role("link").click()
        expect(quizzes[0][0]).to_be_in_viewport()
        assert len(file.context.pages) <= 3, "it opens no page of its own"

    def test_law_new_pupils_find_nothing(self, file, package, quizzes):
        end = file.locator(".pcbchem-end").get_by_role("button")
        end.click()
        expect(end).to_have_text("Press again: all answers are forgotten")
        end.click()
        expect(quizzes[0][0]).to_be_in_viewport()
        for _, ours in quizzes:
            ours.forget()
        for title, ours in package.items():
            words = ours.picture_and_words(False, predicted=None)[1]
            shows(panel_of(file, title), words, besides=["200"])
        for quiz, _ in quizzes:
            assert quiz.locator("input:checked").count() == 0
        text = file.evaluate(READ_COPY)
        assert [answer for answer in self.answers if answer in text] == []


def anybody_can_use(file, width, scheme, ground):
    """A copy has no issue of accessibility at a width [px], by night or by day."""
    file.evaluate(UNFOLD)
    file.emulate_media(color_scheme=scheme)
    file.set_viewport_size({"width": width, "height": 768})
    # the page hears of the wish a moment later
    file.wait_for_function(f"ground => ({GROUNDS})().every(e => e === ground)", arg=f"rgb{ground}")
    axe_clean(file, rules=COLOURS if scheme == "light" else None)


def kept_values(panel, control):
    """Return the values that a control of a copy has there."""
    if isinstance(control, Choice):
        return list(control.options)
    slider = panel.get_by_role("slider", name=parts_of(control)[0][1], exact=True)
    low, high, step = slider.evaluate("e => [e.min, e.max, e.step].map(Number)")
    return [round(low + place * step, 6) for place in range(round((high - low) / step) + 1)]


def move(panel, control, value):
    """Move a control of a copy to one of its values."""
    if isinstance(control, Choice):
        group = panel.get_by_role("group", name=control.label, exact=True)
        group.get_by_role("radio", name=control.options[value], exact=True).check()
        return
    slider = panel.get_by_role("slider", name=parts_of(control)[0][1], exact=True)
    slider.evaluate(MOVE, value)


def write_table(sheet, table):
    """Write the number of a table, and press Enter."""
    field = sheet.get_by_role("textbox", name="Your table")
    field.fill(str(table))
    field.press("Enter")


def answers_to(question):
    """Return answers to a question: of a *why* each, else right, every slip, twice, and words."""
    if isinstance(question, WhyQuestion):
        return [key for key, _, _ in question.options]
    values = [question.answer, *(slip for slip, _ in question.slips), 2 * question.answer]
    written = [answer_words(value, question.kind, question.unit) for value in values]
    return [*written, "about as much"]


def judged(question, answer):
    """Return what Python says to an answer, as a page shows it: its grade and its words."""
    judge_it = judge_why if isinstance(question, WhyQuestion) else judge
    return as_shown(judge_it(question, answer))


def place_of(question, key):
    """Return the place of one of the answers of a *why*, from 0."""
    return [name for name, _, _ in question.options].index(key)


def numbers(values):
    """Return the numbers among values, as they may be printed."""
    return [f"{value:g}" for value in values.values() if not isinstance(value, str)]
