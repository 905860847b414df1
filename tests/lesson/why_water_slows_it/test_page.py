"""What page 04 says: plain sentences, one name for a thing, and no more than anybody knows (laws).

Its numbers are claimed on the page itself; here are its words.
"""

import ast
import json
import re
from pathlib import Path

import pytest

from pcbchem.reaction.bath.setup import MOVEMENTS

PAGE = Path(__file__).parents[3] / "notebooks" / "04_why_water_slows_it.ipynb"
MOST_WORDS = 25
"""Most words of a sentence that people read."""
SENTENCE = re.compile(r"(?<=[.?!])[\"*)]*\s+(?=[\"*(A-Z0-9])|\n\s*\n|\n- ")


@pytest.fixture(scope="module")
def questions():
    """The questions of the two predictions, in their order."""
    cells = json.loads(PAGE.read_text(encoding="utf-8"))["cells"]
    texts = []
    for cell in cells:
        source = "".join(cell["source"])
        if "Prediction(" in source:
            assigned = [line for line in ast.parse(source).body if isinstance(line, ast.Assign)]
            texts.append(ast.literal_eval(assigned[0].value))
    return texts


@pytest.fixture(scope="module")
def text(questions):
    """All that the page's author has written for its reader, without addresses and marks."""
    cells = json.loads(PAGE.read_text(encoding="utf-8"))["cells"]
    written = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown"]
    return re.sub(r"\]\([^)]*\)|<[^>]+>", "", "\n\n".join([*questions, *written]))


def test_law_sentences_are_short(text):
    long = [part for part in SENTENCE.split(text) if len(part.split()) > MOST_WORDS]
    assert long == []


def test_law_the_first_screen_says_which_acid(questions):
    assert "hydrochloric acid" in questions[0]


@pytest.mark.parametrize(
    "other", ["open air", "thin film", "kept bath", "with cares", "blue layer"]
)
def test_law_one_thing_has_one_name(text, other):
    assert other not in text


def test_law_movement_is_said_in_tilts(text):
    assert f"rocking the tray ({MOVEMENTS['rocked']})" in text


def test_law_nobody_knows_what_is_left_after_a_day(text):
    """It is said with the experiment, and no number beside it."""
    (sentence,) = re.findall(r"[^.]*after a day[^.]*\.", text)
    assert "may still hold most of its peroxide" in sentence
    assert "only a test strip knows" in sentence and not re.search(r"\d", sentence)
