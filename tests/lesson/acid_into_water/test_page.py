"""What page 02 says: plain, short, nothing told before it is asked, one name for a thing (laws)."""

import json
import re
from pathlib import Path

import pytest

from pcbchem.lesson import acid_into_water as page
from pcbchem.lesson.acid_into_water.texts import read_it, read_peroxide

PAGE = Path(__file__).parents[3] / "notebooks" / "02_acid_into_water.ipynb"
MOST_WORDS, MOST_NUMBERS, MOST_BEFORE_ACTION = 800, 80, 90
"""Limits of the page: all that everybody reads, numbers in it, words before the first answer."""
LONGEST = 25
"""Most words of a sentence that people read."""
SENTENCE = re.compile(r"(?<=[.?!])[\"*)]*\s+(?=[\"*(A-Z0-9])|\n\s*\n|\n- |:\n|:\** ")
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
    return [page.jug_prediction(), page.first_prediction()]


@pytest.fixture(scope="module")
def told():
    """What is told when everything is predicted; choices and their replies left out."""
    afterwards = [read_it(), page.why(6.6), read_peroxide(), page.prove_it_wrong(), page.say_now()]
    return [plain(text) for text in afterwards]


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
    """Ten, and the way back up."""
    assert len(cells) <= 11


def test_law_nothing_is_told_before_it_is_asked(written, predictions, cells):
    """Not in the text of the page as it comes, nor in a question, nor in code that is seen."""
    before = " ".join([*written, *(prediction.question for prediction in predictions)])
    # what the later question offers is read before the first one is answered
    before += " ".join(option.words for option in predictions[1].options.values())
    before += " ".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    assert not re.search(
        r"26|31 °C|6\.4|6\.6|both (end )?alike|equally warm|as warm|peroxide first", before
    )
    # no cell prints: what is computed waits in a text
    assert "print" not in before


def test_law_the_package_s_lines_are_seen(cells):
    """Two or three of them, unfolded, and what they compute is handed to what waits."""
    (cell,) = [cell for cell in cells if "mix(acid, water)" in "".join(cell["source"])]
    assert not cell["metadata"].get("jupyter", {}).get("source_hidden", False)
    assert len("".join(cell["source"]).splitlines()) <= 4
    assert "Afterwards(" in "".join(cell["source"])


def test_law_sentences_are_short(text, predictions):
    replies = [
        option.reply
        for prediction in predictions
        for option in [*prediction.options.values(), *prediction.reasons.values()]
    ]
    parts = SENTENCE.split("\n\n".join([text, *replies]))
    assert [part for part in parts if len(part.split()) > LONGEST] == []


@pytest.mark.parametrize("needed", ["goggles", "outdoors", "local rules", "lungs"])
def test_law_cautions_stand_before_anything_is_run(written, needed):
    assert sum(needed in text for text in written) == 1


def test_law_strong_acid_is_drawn_only(predictions):
    """Wherever it can be chosen or is asked about, and no way leads from it to the planner."""
    panel = page.water_panel(predictions[0])
    for words in panel.controls[1].options.values():
        assert words.endswith("(drawn only)") or words == "10 %"
    for each in (panel, page.peroxide_panel(predictions[1])):
        assert not each.link and not each.handed and not each.file


def test_law_the_reader_finds_the_pages_beside(written, told):
    source = PAGE.read_text(encoding="utf-8")
    assert "01_what_is_in_the_bottle.ipynb" in source and "00_plan_a_bath.ipynb" in source
    assert "03_where_the_copper_goes.ipynb" in page.say_now()


@pytest.mark.parametrize("other", ["beaker", "hydrogen chloride", "muriatic bottle", "film"])
def test_law_one_thing_has_one_name(text, other):
    assert other not in text
