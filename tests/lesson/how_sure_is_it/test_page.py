"""What page 04b says: plain sentences, at most 1 000 words, nothing given away (laws)."""

import json
import re
from pathlib import Path

import pytest

from pcbchem.lesson.how_sure_is_it import (
    missed_words,
    offcut_words,
    order_prediction,
    product_prediction,
    ratio_prediction,
)
from pcbchem.lesson.how_sure_is_it.numbers import SHAKEN, STILL, order_of, ratio_of
from pcbchem.lesson.how_sure_is_it.offcuts import expected

PAGE = Path(__file__).parents[3] / "notebooks" / "04b_how_sure_is_it.ipynb"
MOST_WORDS, LONGEST = 1000, 25
SENTENCE = re.compile(r"(?<=[.?!])[\"*)]*\s+(?=[\"*(A-Z0-9])|\n\s*\n|\n- |\n")


@pytest.fixture(scope="module")
def cells():
    return json.loads(PAGE.read_text(encoding="utf-8"))["cells"]


@pytest.fixture(scope="module")
def markdown(cells):
    written = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown"]
    return plain("\n\n".join(written))


@pytest.fixture(scope="module")
def everything(cells, markdown):
    """Text, questions, answers, reasons, and what comes afterwards."""
    parts = [markdown, missed_words(), offcut_words()]
    for prediction in (ratio_prediction(), order_prediction(), product_prediction()):
        parts.append(prediction.question)
        options = (*prediction.options.values(), *prediction.reasons.values())
        parts += [option.words for option in options]
    last = next("".join(cell["source"]) for cell in cells if cell["id"] == "say-after")
    return plain("\n".join([*parts, last.split('"""')[1]]))


def plain(text):
    """A text without addresses, marks and the lines of tables."""
    return re.sub(r"\]\([^)]*\)|<[^>]+>|[*#>|\[]|---", "", text)


def test_law_it_is_short(everything):
    words = [word for word in everything.split() if re.search(r"\w", word)]
    assert 600 < len(words) <= MOST_WORDS, len(words)


def test_law_sentences_are_short(everything):
    long = [part for part in SENTENCE.split(everything) if len(part.split()) > LONGEST]
    assert long == []


def test_law_the_markdown_tells_no_answer(markdown):
    """No ratio, order or expectation of the page stands where a reader scrolls by."""
    shaken = expected(SHAKEN)
    numbers = [*ratio_of(STILL), *ratio_of(SHAKEN), order_of(SHAKEN).middle, shaken.middle]
    # a name of one of the facts, no answer
    rest = markdown.replace("Weak, 2.5 %", "")
    for number in numbers:
        assert not re.search(rf"(?<![\d.]){number:.1f}(?![\d.])", rest), number
    for told in ("no order of", "surer than", "feed each other", "do not multiply"):
        assert told not in markdown


def test_law_cautions_stand_before_the_experiment(markdown):
    caution, experiment = markdown.index("Caution."), markdown.index("Take two pairs")
    for words in ("burns eyes and skin", "chlorine", "goggles, gloves, outdoors", "the planner"):
        assert caution < markdown.index(words) < experiment
    assert "local rules come first" in markdown
    assert "Goggles, gloves, outdoors" in markdown[experiment:]
    (sentence,) = re.findall(r"[^.]*after a day[^.]*\.", markdown)
    assert "may still hold most of its peroxide" in sentence
    assert "only a test strip knows" in sentence and not re.search(r"\d", sentence)


@pytest.mark.parametrize("other", ["open air", "thin film", "kept bath", "mildest", "blue layer"])
def test_law_one_thing_has_one_name(everything, other):
    assert other not in everything


def test_law_cells_are_short_folded_and_empty(cells):
    for cell in cells:
        if cell["cell_type"] != "code":
            continue
        assert len(cell["source"]) <= 15 and not cell["outputs"], cell["id"]
        folded = cell["metadata"].get("jupyter", {}).get("source_hidden", False)
        assert folded == (cell["id"] != "by-hand-code")
