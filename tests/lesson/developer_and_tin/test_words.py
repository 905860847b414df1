"""What is said of lye and tin: numbers of the package, at every setting (laws)."""

import re

import numpy as np
import pytest

from pcbchem.bench.resist import lye_after, lye_mass, lye_strength
from pcbchem.bench.tin import boards_until_spent, tin_killed
from pcbchem.bench.waste import films
from pcbchem.common.band import Band
from pcbchem.lesson.developer_and_tin import words
from pcbchem.lesson.developer_and_tin.numbers import (
    MOST_HOURS,
    RINSES,
    TIN,
    coating,
    lye_left,
    peroxide,
)

VESSELS = tuple(words.VESSEL_WORDS)


@pytest.mark.parametrize("vessel", VESSELS)
def test_law_a_sentence_holds_what_the_bench_says(vessel):
    fresh = lye_strength(1.5e-3, 0.12)
    for hours in range(MOST_HOURS + 1):
        said = words.lye_words(lye_left(vessel, hours))
        left = np.asarray(lye_mass(np.asarray(lye_after(fresh, 3600.0 * hours, vessel))))
        band = Band.of(left, left.size)
        found = re.search(
            r": ([\d.]+) g/L left of ([\d.]+) "
            r"\((?:in all cases|([\d.]+) to ([\d.]+) in 8 of 10 cases)\)\. Too weak for film that "
            r"light makes soluble \(under 7 g/L\) in (\d+) of 200 cases\. However",
            said.readout,
        )
        now, morning, low, high, weak = (float(each or found[1]) for each in found.groups())
        wanted = [band.middle, lye_mass(fresh), band.low, band.high]
        assert [now, morning, low, high] == pytest.approx([float(e) for e in wanted], abs=0.0501)
        assert weak == np.sum(left < 7)
        assert said.title.endswith(f"nothing developed: {now:.1f} of {morning:.1f} g/L left")
        assert said.title in said.alt and said.readout in said.alt


@pytest.mark.parametrize("dishes", RINSES)
def test_law_a_sentence_holds_what_a_board_takes(dishes):
    said = words.tin_words(dishes)
    killed = np.asarray(tin_killed(peroxide(), np.asarray(films(200)), 0.009, dishes, 200e-6))
    boards = np.asarray(boards_until_spent(8e-3, killed, coating()[0]))
    band, count = Band.of(killed, killed.size), Band.of(boards, boards.size)
    found = re.search(
        r"kills ([\d.]+) mmol of tin \(([\d.]+) to ([\d.]+)\)\. ([\d.]+) to ([\d.]+) stay on its "
        r"18 cm² of copper\. Of 8 mmol none is left after (\d+) boards at the latest",
        said.readout,
    )
    middle, low, high, least, most, number = (float(each) for each in found.groups())
    wanted = [1000 * float(end) for end in (band.middle, band.low, band.high)]
    # what is next to nothing is said to one figure
    assert [middle, low, high] == pytest.approx(wanted, rel=0.051 if dishes < 2 else 0.5)
    assert [least, most] == pytest.approx([1000 * end for end in coating()], rel=0.051)
    assert number == round(float(count.middle)) and f"after {number:.0f} boards" in said.title
    assert "e-0" not in said.readout and said.readout in said.alt


def test_law_a_question_tells_no_number_of_its_answer():
    for asked in (words.lye_question(), words.tin_question()):
        assert "Predict first" in asked.readout
        assert not re.search(r"left of|at the latest|kills|soda", asked.alt)
    assert f"{1000 * TIN:g}, all the tin" in words.tin_question().alt


def test_law_both_films_are_told_in_every_picture():
    alt = words.lye_words(lye_left()).alt
    for part in (
        "from 7 g/L develops",
        "from 7 g/L wears the picture off",
        "from 15 g/L strips it",
    ):
        assert part in alt
