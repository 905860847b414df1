"""What page 03 says: plain, short, nothing told before it is asked (laws)."""

import json
import re
from pathlib import Path

import pytest

from pcbchem.lesson import where_the_copper_goes as page
from pcbchem.lesson.where_the_copper_goes import texts
from pcbchem.lesson.where_the_copper_goes.predictions import PAGE as RIGHT

PAGE = Path(__file__).parents[3] / "notebooks" / "03_where_the_copper_goes.ipynb"
MOST_WORDS, MOST_CELLS, MOST_BEFORE_ACTION = 800, 10, 95
"""Limits of the page: all that everybody reads, cells that are seen, words before an answer."""
LONGEST = 25
"""Most words of a sentence that people read."""
SENTENCE = re.compile(r"(?<=[.?!])[\"*)]*\s+(?=[\"*(A-Z0-9])|\n\s*\n|\n- |:\n")


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
    return [page.boards_prediction(), page.bottle_prediction()]


@pytest.fixture(scope="module")
def told():
    """What is told when everything is predicted; choices and their replies left out."""
    texts = [page.why(), page.read_warmth(), page.read_weaker(), page.say_now()]
    return [plain(text) for text in texts]


@pytest.fixture(scope="module")
def text(written, predictions, told):
    """All that everybody reads who does the page."""
    return "\n\n".join([*written, *(prediction.question for prediction in predictions), *told])


def words_of(text):
    return [word for word in text.split() if re.search(r"[\w²³₂]", word)]


def test_law_the_page_is_short(text):
    assert 500 < len(words_of(text)) <= MOST_WORDS, len(words_of(text))


def test_law_parts_are_short():
    where = page.read_warmth()
    sources = where[where.index("**Where") :]
    assert len(words_of(sources)) <= 90
    assert len(words_of(plain(texts.weigh_an_offcut()))) <= 80
    assert len(words_of(plain(texts.in_the_kitchen()))) <= 40


def test_law_the_first_action_comes_soon(written, predictions):
    # the caution between them is read before anything is done, and is no detour
    before = len(words_of(f"{written[0]} {predictions[0].question}"))
    assert before <= MOST_BEFORE_ACTION, before


def test_law_the_page_has_few_cells(cells):
    """Ten, and the way back up."""
    assert len(cells) <= MOST_CELLS + 1 and cells[-1]["id"] == "end"


def test_law_nothing_is_told_before_it_is_asked(written, predictions):
    """Not in the text of the page as it comes, nor in a question."""
    before = " ".join([*written, *(prediction.question for prediction in predictions)])
    assert predictions[0].options[RIGHT].words not in before
    for hint in ("two acid", "left over", "take room", "runs out first decides", "5.5", "green"):
        assert hint not in before
    # its question is asked in the title, and answered nowhere
    assert before.count("runs out") == 1


def test_law_sentences_are_short(text):
    long = [part for part in SENTENCE.split(text) if len(part.split()) > LONGEST]
    assert long == []


def test_law_the_first_screen_says_which_acid(predictions):
    assert "hydrochloric acid" in predictions[0].question


def test_law_the_reaction_stands_at_the_top(written):
    assert "Cu + H₂O₂ + 2 HCl → CuCl₂ + 2 H₂O" in written[0]


@pytest.mark.parametrize(
    "needed",
    [
        "goggles",
        "chlorine",
        "outdoors or in a working fume cupboard",
        "local rules",
        "mix for one board",
        "down the drain",
    ],
)
def test_law_cautions_stand_before_the_first_question(cells, needed):
    assert [cell["id"] for cell in cells[:3]] == ["title", "caution", "predict"]
    assert needed in "".join(cells[1]["source"])


def test_law_an_offcut_is_an_etching_and_of_a_class_the_teacher_s(cells):
    """First the cautions, then what is weighed; a class sees neither weight nor way."""
    told, of_class = page.say_now(), page.say_now(school=True)
    order = ["(reference/cautions.md)", "the planner", "teacher alone", "Weigh an offcut"]
    assert sorted(order, key=told.index) == order
    assert (PAGE.parent / "reference" / "cautions.md").exists()
    assert "cm²" not in of_class and "1 oz" not in of_class and "0.61" not in of_class
    assert "Weighing an offcut: the teacher." in of_class
    for text in (told, of_class):
        assert "Never soda into a bath" in text and "What you can now say" in text
    source = {cell["id"]: "".join(cell["source"]) for cell in cells}
    assert "SCHOOL = no_amounts()" in source["predict"] and "say_now(SCHOOL)" in source["say"]


def test_law_the_package_s_lines_are_seen(cells):
    seen = [cell for cell in cells if cell["cell_type"] == "code" and not cell["metadata"]]
    assert len(seen) == 1 and "reserve(" in "".join(seen[0]["source"])


def test_law_first_uses_are_explained(told):
    text = " ".join(told)
    assert "mmol (thousandths of a mole)" in text
    # the text has no mol/L; the question that has one says what it is
    assert "mol/L" not in text
    assert "1 mol/L is 1 mmol in each mL" in page.copper_questions(1)[0].text
    first, *later = (text.index(word) for word in ("plausible baths", "baths so thin"))
    assert "Nobody knows every number of a bath" in text[:first] and first < later[0]


def test_law_pages_before_and_after_are_linked(cells):
    source = "".join(cells[0]["source"])
    assert "(02_acid_into_water.ipynb)" in source and "(00_plan_a_bath.ipynb)" in source
    assert "(04_why_water_slows_it.ipynb)" in page.say_now()
    after = PAGE.with_name("04_why_water_slows_it.ipynb").read_text(encoding="utf-8")
    assert f"({PAGE.name})" in after
