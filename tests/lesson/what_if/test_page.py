"""The page of the map: short, no amounts, one caution first, and what it says comes true (laws)."""

import re

import pytest
from helpers.sentences import long_sentences
from helpers.workshop import POUR

from pcbchem.bench.hazards.verdicts import REFUSED
from pcbchem.lesson.pages import PLANNER_PAGE, WHAT_IF_PAGE
from pcbchem.lesson.what_if import maps, panel, words

MOST_WORDS, READING = 500, 150


@pytest.fixture(scope="module")
def page(ran_page):
    return ran_page(WHAT_IF_PAGE)


@pytest.fixture(scope="module")
def usual():
    """The map that the page shows in the end."""
    return maps.full_map(panel.starts())


def plain(text):
    """A text without code, addresses and marks."""
    text = re.sub(r"```.*?```", "", text, flags=re.S)
    return re.sub(r"\]\([^)]*\)|<[^>]+>|[*#>|\[]", "", text)


def prose(page):
    return plain("\n\n".join(cell.source for cell in page.cells if cell.kind == "markdown"))


def words_in(text):
    return [word for word in text.split() if re.search(r"\w", word)]


def test_law_the_page_is_short(page):
    assert 300 < len(words_in(prose(page))) <= MOST_WORDS
    assert len(words_in(plain(page.cell["reading"].source))) <= READING


def test_law_its_sentences_are_short(page):
    assert long_sentences(prose(page)) == []


def test_law_the_caution_stands_before_the_map(page):
    kinds = [cell.id for cell in page.cells]
    assert kinds.index("title") < kinds.index("map")
    title = page.cell["title"].source
    assert "> **Caution.** Mix nothing from this page." in title and "no permission" in title


def test_law_the_page_gives_no_amount(page):
    text = "\n".join(f"{cell.source}\n{cell.words}" for cell in page.cells)
    assert not POUR.search(text.replace("mL per cm²", "")), POUR.search(text)


def test_law_it_links_to_the_planner_and_the_lessons(page):
    text = "\n".join(cell.source for cell in page.cells)
    for name in (PLANNER_PAGE, "04_why_water_slows_it.ipynb", "04b_how_sure_is_it.ipynb"):
        assert f"({name})" in text


def test_law_more_peroxide_and_less_acid_is_quicker_for_the_maker(whole):
    """The first thing to try: from the circle of equal parts to the right."""
    times, acid = whole.bands["time_to_clear"].middle, maps.acid_share(whole)
    equal, right = whole.nearest(0, 1, 1), whole.nearest(0, 7, 13)
    assert times[right] < times[equal] and acid[right] < acid[equal]
    assert whole.leanest is not None and acid[whole.leanest] < 0.5
    assert any("as quick as equal parts, least acid" in name for name in words.table_rows(whole))


def test_law_water_brings_the_resist_and_then_a_refusal(usual):
    """The second: half acid and half peroxide, and more and more water."""
    places = [usual.nearest(*maps.counts_at(water, 50)) for water in range(0, 100, 5)]
    seen = list(dict.fromkeys(str(usual.reason[place]) for place in places))
    assert seen == ["", "longer than resist stands", "never clears"]


def test_law_along_the_foot_the_peroxide_side_is_the_warm_one(usual):
    """The third: the warmest that is not refused stands next to a refused one, too hot."""
    foot = [usual.nearest(*maps.counts_at(0, acid)) for acid in range(0, 101, 5)]
    warmth = words.warmest_C(usual)
    fine = [place for place in foot if usual.severity[place] < REFUSED]
    assert warmth[fine[0]] == max(warmth[place] for place in fine) > 60
    assert usual.reason[foot[foot.index(fine[0]) - 1]] == "hot while etching"
    assert warmth[fine[-1]] < 30
