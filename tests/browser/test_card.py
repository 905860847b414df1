"""Law: a card prints on one side of its paper, A4 or Letter, with all of its words inside."""

import itertools
import re

import numpy as np
import pytest
from helpers.cards import letters_of, printed, said_on
from helpers.many_plans import wide_inputs
from helpers.plans import labelled, mild_plan, verdicts_alone

from pcbchem import Board, Tray, UsedBath
from pcbchem.bench.plan.planning import for_class, planned
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.bath import card

PLANS, MOST_REFUSED, DRAWS = 60, 20, 10
PAPERS = {"A4": (595, 842), "Letter": (612, 792)}  # pt
READ = 2
"""Of so many cards for a paper the letters of one are read: both papers are filled alike, and of
all of them it is seen that none needs a second page."""
OTHER = {"A4": "Letter", "Letter": "A4"}
CROSSED = 5
"""Of so many cards one is printed on the other paper too, as a printer has it."""
MARGIN, SMALLER = 4.9 * 72 / 25.4, 4.6 * 72 / 25.4
"""What stays blank at each edge [pt]: of its own paper, and of the other, on which a card is made
smaller with its margin. Printers need about 4.3 mm."""
LEAST, LEAST_POURED = 9.0, 12.0
"""Least sizes of letters [pt]: of any, and of an amount to pour."""
LEAST_FULL = 7.7
"""Least size [pt] on a card too full for what must stand on it: 7.75 as it is printed."""


FULLEST = {
    **labelled(31, 13.5),
    "parts": (5.4, 1.4, 1),
    "place": "GB",
    "board": Board(0.24, 0.19, 0.8),
    "bath_per_area": 0.0458,
    "tray": Tray("bubbled", open_area=0.18, T_air=291.15),
    "T_bottles": 286.85,
    "used_bath": UsedBath(0.79, copper=(50, 150), acid=(1000, 3500), peroxide=(0, 156)),
    "second": (0.69, 644.0),
    "draws": 20,
}
"""Six things to take care of, two lines of law, a used bath and a second portion: much to say."""


@pytest.fixture(scope="module")
def plans():
    """Random plans of every kind: few of them refused, a class's own among the others."""
    seed = 0
    with verdicts_alone(), collecting_warnings():
        every = [mild_plan(**FULLEST)]
        while len(every) < PLANS:
            seed += 1
            try:
                plan = planned(wide_inputs(seed, DRAWS))
            except ValueError:
                continue  # no such bench
            refused = sum(other.refused for other in every)
            if plan.refused and refused == MOST_REFUSED:
                continue
            if len(every) % 10 == 9:
                plan = for_class(plan)
            every.append(plan)
    return every


@pytest.fixture(scope="module")
def sheets(plans, browser):
    """Each plan's card for one paper, and what of it is printed; one page of the browser does.

    The papers take turns, as the plans come by lot; the fullest is for both.
    """
    page = browser.new_page()
    asked_for = []
    page.on("request", lambda request: asked_for.append(request.url))
    every = []
    for number, plan in enumerate(plans):
        papers = list(PAPERS)
        if number > 0:
            papers = [papers[number % 2]]
        for paper in papers:
            made = card(plan, paper)
            page.set_content(made.html)
            pdf = page.pdf(prefer_css_page_size=True)
            assert pages_in(pdf) == 1, (paper, plan.inputs)
            pages = None
            if number // 2 % READ == 0:
                pages = printed(pdf)
            every.append((plan, made, paper, pages))
            if number % CROSSED == 0:
                crossed = page.pdf(format=OTHER[paper])
                assert pages_in(crossed) == 1, (paper, "on the other", plan.inputs)
                every.append((plan, made, OTHER[paper], printed(crossed)))
    page.close()
    assert asked_for == [], "a card asks nothing of anybody"
    return [sheet for sheet in every if sheet[-1] is not None]


def pages_in(pdf):
    """Count the pages of a PDF."""
    return len(re.findall(rb"/Type /Page\b", pdf))


def test_the_plans_are_of_every_kind(plans):
    assert {plan.verdict for plan in plans} == {"mix it", "with care", "do not mix"}
    assert {plan.inputs.place for plan in plans} == {"EU", "GB", "US", "elsewhere"}
    poured = [plan for plan in plans if not plan.refused]
    assert any(plan.inputs.used_bath for plan in poured)
    assert any(plan.inputs.second for plan in poured)
    fullest, *_ = plans
    assert len(fullest.reasons) == 6 and len(fullest.law) == 2 and len(fullest.stages) == 5
    assert any(plan.school for plan in poured)


@pytest.mark.parametrize("paper", PAPERS)
def test_law_a_card_is_one_page_with_all_words_inside(sheets, paper):
    """On its own paper, and on the other one."""
    checked = 0
    for plan, made, on, pages in sheets:
        if on != paper:
            continue
        checked += 1
        assert len(pages) == 1, (paper, plan.inputs)
        size, letters = pages[0]
        assert np.allclose(size, PAPERS[paper], atol=1)
        margin = MARGIN if f"size: {on};" in made.html else SMALLER
        left, bottom, right, top = np.transpose([place for _, place, _ in letters])
        assert left.min() >= margin and right.max() <= size[0] - margin, plan.inputs
        assert bottom.min() >= margin and top.max() <= size[1] - margin, plan.inputs
        # nothing is hidden or cut off: each letter of the card is there, and as often
        assert letters_of("".join(text for text, _, _ in letters)) == letters_of(
            said_on(made) + "–" * made.html.count("<li>")
        )
    assert checked >= PLANS / 2 / READ


def test_law_letters_are_large_enough_to_read_in_goggles(sheets):
    small = 0
    own = [sheet for sheet in sheets if f"size: {sheet[2]};" in sheet[1].html]
    for plan, _, _, ((_, letters),) in own:
        sizes = [round(size, 1) for text, _, size in letters if text.strip()]
        assert min(sizes) >= LEAST_FULL, plan.inputs
        small += min(sizes) < LEAST
        if not plan.refused:
            assert sum(size >= LEAST_POURED for size in sizes) > 150, plan.inputs
    # since cautions of air and waste came to it, one card in eight is of strong bottles and full
    assert small <= len(own) / 7


def test_law_no_two_lines_lie_on_each_other(sheets):
    """Letters of one place twice would be words over words."""
    for plan, _, _, ((_, letters),) in sheets:
        places = sorted(
            (round((box[1] + box[3]) / 2), round(box[0]))
            for text, box, _ in letters
            if text.strip()
        )
        twice = sum(first == second for first, second in itertools.pairwise(places))
        assert twice < 5, plan.inputs
