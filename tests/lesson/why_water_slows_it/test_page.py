"""What page 04 says: plain, short, nothing told before it is asked, one name for a thing (laws)."""

import json
import re
from pathlib import Path

import pytest

from pcbchem.lesson import why_water_slows_it as page
from pcbchem.lesson.why_water_slows_it.predictions import PAGE as RIGHT

PAGE = Path(__file__).parents[3] / "notebooks" / "04_why_water_slows_it.ipynb"
MOST_WORDS, MOST_NUMBERS, MOST_BEFORE_ACTION = 700, 40, 65
"""Limits of the page: all that everybody reads, numbers in it, words before the first answer;
five of these lead to the page before."""
LONGEST = 25
"""Most words of a sentence that people read."""
SENTENCE = re.compile(r"(?<=[.?!])[\"*)]*\s+(?=[\"*(A-Z0-9])|\n\s*\n|\n- |:\n")
NUMBER = re.compile(r"(?<![\w.])\d[\d.]*\d|(?<![\w.])\d")


def plain(text):
    """A text without addresses, tags and marks of Markdown."""
    return re.sub(r"\]\([^)]*\)|<[^>]+>|[*#>\[\]]", " ", text)


@pytest.fixture(scope="module")
def cells():
    return json.loads(PAGE.read_text(encoding="utf-8"))["cells"]


@pytest.fixture(scope="module")
def written(cells):
    """What stands on the page before anything is run."""
    return [plain("".join(cell["source"])) for cell in cells if cell["cell_type"] == "markdown"]


@pytest.fixture(scope="module")
def predictions():
    return [page.still_prediction(), page.layers_prediction(), page.shaken_prediction()]


@pytest.fixture(scope="module")
def told(predictions):
    """What is told when everything is predicted; choices and their replies left out."""
    afterwards = [page.read_it(), page.why(), page.read_shaken(), page.sources(), page.say_now()]
    return [plain(text) for text in [*afterwards, predictions[1].told]]


@pytest.fixture(scope="module")
def text(written, predictions, told):
    """All that everybody reads who does the page."""
    return "\n\n".join([*written, *(prediction.question for prediction in predictions), *told])


def words_of(text):
    return [word for word in text.split() if re.search(r"[\w²³₂]", word)]


def test_law_the_page_is_short(text):
    count, numbers = len(words_of(text)), len(NUMBER.findall(text))
    assert count <= MOST_WORDS and numbers <= MOST_NUMBERS, (count, numbers)


def test_law_the_first_action_comes_soon(written, predictions):
    before = len(words_of(f"{written[0]} {predictions[0].question}"))
    assert before <= MOST_BEFORE_ACTION, before


def test_law_the_page_has_few_cells(cells):
    """Eleven, and the way back up."""
    assert len(cells) <= 12


def test_law_nothing_is_told_before_it_is_asked(written, predictions):
    """Not in the text of the page as it comes, nor in a question."""
    before = " ".join([*written, *(prediction.question for prediction in predictions)])
    for prediction in (predictions[0], predictions[2]):
        assert prediction.options[RIGHT].words not in before
    # the way the answer goes is told by none of these either
    assert not re.search(r"bubble|film|gas stir|not 77|6\.4|2\.7", before)


def test_law_sentences_are_short(text):
    long = [part for part in SENTENCE.split(text) if len(part.split()) > LONGEST]
    assert long == []


def test_law_the_first_screen_says_which_acid(predictions):
    assert "hydrochloric acid" in predictions[0].question


def test_law_the_reaction_stands_at_the_top(written):
    assert "Cu + H₂O₂ + 2 HCl → CuCl₂ + 2 H₂O" in written[0]


@pytest.mark.parametrize("needed", ["goggles", "chlorine", "outdoors", "local rules", "planner"])
def test_law_cautions_stand_before_anything_is_run(written, needed):
    assert sum(needed in text for text in written) == 1


def test_the_page_says_how_its_tray_is_moved(written):
    """And that the planner's is moved otherwise, in one clause."""
    text = " ".join(written)
    assert "stands still, so that no hand stirs it; the planner starts with a rocked one" in text


@pytest.mark.parametrize("other", ["open air", "thin film", "kept bath", "blue layer", "gas share"])
def test_law_one_thing_has_one_name(text, other):
    assert other not in text
