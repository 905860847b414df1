"""What page 10 says: plain, short, nothing told before it is asked, no way to a drain (laws)."""

import re

from helpers.lesson_page import LessonPage, plain, words_of

from pcbchem.bench.waste import label_of
from pcbchem.lesson import after_the_last_board as page
from pcbchem.lesson.after_the_last_board import texts
from pcbchem.lesson.after_the_last_board.words import RULE

PLACES_TO_POUR = re.compile(r"\b(drain|sewer|sink|toilet|gutter|ground|bin)\b")
SENTENCE = re.compile(r"(?<=[.?!|])\s+|\n")
ALLOWED = re.compile(
    r"\b(safe|fine|harmless|enough|allowed|permitted|below the limit|may be poured)\b"
)


def to_do():
    """What to do now, as the page tells it."""
    return page.to_do(label_of(page.rest()))


def everything(cells, asked):
    """All that the page may ever say in Markdown: choices and replies among it."""
    texts = ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown"]
    texts += [tell() for tell in TestPage.told]
    texts += [page.why(bottles) for bottles in ("mild", "weak", "strong")]
    for prediction in asked:
        options = [*prediction.options.values(), *prediction.reasons.values()]
        texts += [prediction.question, *(option.reply for option in options)]
    return "\n".join(texts)


class TestPage(LessonPage):
    """The laws of a lesson's text, and its own."""

    name = "10_after_the_last_board.ipynb"
    predictions = (page.quiet_prediction, page.clear_prediction)
    told = (page.why, to_do, page.read_copper, page.where, page.say_now)
    answers = r"thousandfold|weeks|balance|22|0\.52|mud lets go|spoil"
    cautions = (
        "goggles",
        "local rules",
        "stays open",
        "may give off chlorine",
        "30 minutes",
        "under 18",
        "no metal",
        "never lean over",
        "closed bottles have burst",
        "never in any bottle",
        "down the drain",
        "never lye into a bath or its waste",
        "outdoors under a rain cover open on all sides",
        "a fume cupboard that runs day and night",
    )

    def test_law_parts_are_short(self):
        assert len(words_of(plain(texts.sources()))) <= 90
        assert len(words_of(plain(texts.at_the_tray()))) <= 95

    def test_law_a_drain_is_named_to_say_never(self, cells, asked):
        """And no sentence calls anything harmless, safe or allowed."""
        text = everything(cells, asked)
        named = [words for words in SENTENCE.split(text) if PLACES_TO_POUR.search(words)]
        assert named
        for words in named:
            # two rows of the law say what is an offence, and whose fault
            assert re.search(r"\b([Nn]ever|[Nn]othing|Not|offence)\b", words), words
        assert not ALLOWED.search(text), ALLOWED.search(text)

    def test_law_no_time_is_called_long_enough(self, cells, asked):
        """Only a strip tells: no sentence tells to wait."""
        text = everything(cells, asked)
        assert not re.search(r"\b([Ww]ait|leave it for|after (a|two|three) weeks? it)\b", text)
        assert "Only a strip tells" in page.say_now() and "never closed up" in RULE

    def test_law_no_amount_of_a_base(self, cells, asked):
        """What soda does is told as chemistry, never as a recipe."""
        text = everything(cells, asked)
        assert "as chemistry, never done to a bath" in page.read_copper()
        assert not re.search(r"\d\s*(g|kg|mg|mL|spoons?) of (baking |washing )?(soda|lye)", text)
        assert not re.search(r"lime|NaOH|portion|\bgrams? of", text)
        lye = [words for words in SENTENCE.split(text) if "lye" in words.lower()]
        # the caution, and a row of the law
        assert all("Never" in words or "corrosive" in text for words in lye)
        assert not re.search(r"\d (g|mol|kg)[^.|]{0,20}lye", text.replace("1.3 g/L", ""))

    def test_law_where_it_goes_is_dated_and_ends_with_whom_to_ask(self):
        told = page.where()
        assert "Check the current rule; ask your local site." in told
        assert re.search(r"as of 20\d\d-\d\d-\d\d:", told)
        rows = [line for line in told.splitlines() if re.match(r"\| \w", line)]
        assert len(rows) >= 10
        assert all(re.search(r" \| (read|memory|practice) \|$", row) for row in rows)
        for place in ("Everywhere", "EU", "Great Britain", "United States", "Elsewhere"):
            assert f"| **{place}** |" in told

    def test_law_a_class_touches_no_used_bath(self, cells):
        told, of_class = page.say_now(), page.say_now(school=True)
        assert "(reference/cautions.md)" in told and "A copper strip" in told
        assert "copper strip" not in of_class and "A class tries nothing here" in of_class
        source = {cell["id"]: "".join(cell["source"]) for cell in cells}
        assert "SCHOOL = no_amounts()" in source["predict"] and "say_now(SCHOOL)" in source["say"]

    def test_law_the_package_s_lines_are_seen(self, cells):
        package = next(cell for cell in cells if cell["id"] == "package")
        assert "label_of(" in "".join(package["source"])
        assert "source_hidden" not in str(package["metadata"])

    def test_law_what_the_package_prints_waits_too(self, cells):
        code = "".join("".join(cell["source"]) for cell in cells)
        assert "print(" not in code and ", first)" in code

    def test_law_first_uses_are_explained(self):
        assert "So the page tries 200 *plausible baths*: each may be yours" in page.why()

    def test_law_it_leads_on(self):
        """To the next lesson alone, which ends at the planner."""
        for school in (False, True):
            told = page.say_now(school)
            assert told.endswith("Next: [developer and tin](11_developer_and_tin.ipynb).")
            links = re.findall(r"\]\((\w+\.ipynb)\)", told)
            assert links == ["11_developer_and_tin.ipynb"]
