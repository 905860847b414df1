"""Laws of a lesson's text: short, few cells, plain sentences, nothing told before it is asked."""

import json
import re
from pathlib import Path

import pytest

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
MOST_WORDS, MOST_CELLS, MOST_BEFORE_ACTION, LONGEST = 800, 10, 95, 25
"""Words that everybody reads, cells beside the way back up, words before the first answer, words of
a sentence [-]."""
SENTENCE = re.compile(r"(?<=[.?!])[\"*)]*\s+(?=[\"*(A-Z0-9])|\n\s*\n|\n- |:\n")


def plain(text):
    """A text without addresses, tags, tables and marks of Markdown."""
    text = re.sub(r"^\|.*\|$", " ", text, flags=re.MULTILINE)
    return re.sub(r"\]\([^)]*\)|<[^>]+>|[*#>\[\]]", " ", text)


def words_of(text):
    """The words of a text, numbers among them."""
    return [word for word in text.split() if re.search(r"[\w²³₂]", word)]


class LessonPage:
    """What holds for the text of every lesson page; a class of its own says which."""

    name = ""
    """File name of its notebook."""
    predictions = ()
    """What makes each of its predictions."""
    told = ()
    """What makes each text that it tells afterwards."""
    answers = ""
    """Pattern of what tells an answer."""
    cautions = ()
    """Words of its cautions, in small letters."""

    @pytest.fixture(scope="class")
    @classmethod
    def cells(cls):
        """The cells of the lesson: those of a bench under it are no part of it."""
        every = json.loads((NOTEBOOKS / cls.name).read_text(encoding="utf-8"))["cells"]
        return [cell for cell in every if not cell["id"].startswith("bench")]

    @pytest.fixture(scope="class")
    @classmethod
    def written(cls, cells):
        """What stands on the page before anything is run."""
        return [plain("".join(cell["source"])) for cell in cells if cell["cell_type"] == "markdown"]

    @pytest.fixture(scope="class")
    @classmethod
    def asked(cls):
        return [make() for make in cls.predictions]

    @pytest.fixture(scope="class")
    @classmethod
    def text(cls, written, asked):
        """All that everybody reads who does the page; choices and their replies left out."""
        questions = [prediction.question for prediction in asked]
        after = [plain(tell()) for tell in cls.told]
        after += [plain(prediction.told) for prediction in asked]
        return "\n\n".join([*written, *questions, *after])

    def test_law_the_page_is_short(self, text):
        assert len(words_of(text)) <= MOST_WORDS, len(words_of(text))

    def test_law_the_page_has_few_cells(self, cells):
        """Beside the way back up."""
        assert "PageEnd()" in "".join(cells[-1]["source"])
        assert len(cells) - 1 <= MOST_CELLS

    def test_law_the_first_action_comes_soon(self, written, asked):
        before = len(words_of(f"{written[0]} {asked[0].question}"))
        assert before <= MOST_BEFORE_ACTION, before

    def test_law_sentences_are_short(self, text):
        long = [part for part in SENTENCE.split(text) if len(part.split()) > LONGEST]
        assert long == []

    def test_law_nothing_is_told_before_it_is_asked(self, written, asked, text):
        """Not in the text of the page as it comes, nor in a question."""
        before = " ".join([*written, *(prediction.question for prediction in asked)])
        assert not re.search(self.answers, before)
        assert re.search(self.answers, text), "the pattern finds it afterwards"

    def test_law_each_prediction_asks_for_a_reason(self, asked):
        assert len(asked) >= 2 and all(len(prediction.reasons) >= 3 for prediction in asked)

    def test_law_cautions_stand_before_the_first_question(self, cells):
        assert [cell["id"] for cell in cells[:3]] == ["title", "caution", "predict"]
        before = "".join(cells[1]["source"]).lower()
        assert [words for words in self.cautions if words not in before] == []
