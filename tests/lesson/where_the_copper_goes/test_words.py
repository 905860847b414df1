"""What is said of a tray is what the package counts; a question tells nothing (laws)."""

import re

import pytest

from pcbchem.lesson.where_the_copper_goes import words
from pcbchem.lesson.where_the_copper_goes.numbers import PARTS, WEAKER, tent, warmths
from pcbchem.lesson.workshop import tide_clock
from pcbchem.matter.solution import Solution, mix
from pcbchem.reaction.chemistry import carried

BOTTLES = (12.0, *WEAKER)


def counted(parts, bottle):
    """Boards by each reagent, mixed a second time."""
    part = 150e-6 / (1 + parts)
    bath = mix(
        Solution.of(volume=part, T=293.15, HCl=0.10),
        Solution.of(volume=parts * part, T=293.15, H2O2=bottle / 100),
    )
    return [float(copper / tide_clock().copper) for copper in carried(bath).values()]


@pytest.mark.parametrize("bottle", BOTTLES)
def test_law_a_sentence_holds_the_counts(bottle):
    case = tent(bottle)
    for place, parts in enumerate(PARTS):
        said = words.answer_words(case, place)
        acid, peroxide = counted(float(parts), bottle)
        told = re.search(r"acid for ([\d.]+) boards, peroxide for ([\d.]+)\. ", said.readout)
        assert float(told[1]) == pytest.approx(acid, abs=0.051 if acid < 20 else 0.51)
        assert float(told[2]) == pytest.approx(peroxide, abs=0.051 if peroxide < 20 else 0.51)
        assert said.readout.startswith(f"1 : {parts:g} with {bottle:g} % peroxide")
        assert said.title in said.alt and said.readout in said.alt
        less, more = sorted((acid, peroxide))
        if "together" in said.title:
            assert less > 0.965 * more and "left" not in said.readout
        else:
            scarce, other = ("acid", "peroxide") if acid < peroxide else ("peroxide", "acid")
            assert f"The {scarce} runs out first" in said.title
            left = re.search(rf"(\d+) % of the {other} is left", said.readout)
            assert float(left[1]) == pytest.approx(100 * (1 - less / more), abs=0.51)


def test_law_at_equal_parts_nothing_is_compared_with_itself():
    case = tent()
    assert "At 1 : 1" not in words.answer_words(case, case.at(1.0)).readout
    assert "At 1 : 1 it is 8.3 boards." in words.answer_words(case, case.at(2.0)).readout


@pytest.mark.parametrize("bottle", BOTTLES)
def test_law_a_question_tells_no_count(bottle):
    case = tent(bottle)
    for place in range(0, len(PARTS), 5):
        said = words.question_words(case, place)
        text = f"{said.title} {said.readout} {said.alt}"
        assert "runs out" not in text and "redict first" in text
        numbers = re.findall(r"\d[\d.]*", said.title)
        assert [float(number) for number in numbers] == [1, case.parts[place], bottle]


def test_law_warmth_is_said_as_it_is():
    said = words.warmth_words(warmths())
    for row in warmths():
        middle = float(row.warmest.middle) - 273.15
        assert f"{middle:.0f} °C" in said.alt
        assert words.row_words(row).endswith("refused") == row.refused
        is_warm = not row.refused and float(row.warmest.high) > 318.15
        assert words.row_words(row).endswith("can get too warm") == is_warm
    assert "45 °C: lift the board out" in said.alt and said.alt.count("refused") == 1
    for text in (said.readout, said.alt):
        assert "eft standing it may get far hotter" in text and "mL" not in text
    assert "28 °C while it etches" in said.readout and "stay with it" in said.readout


@pytest.mark.parametrize("share", [0.1, 0.12, 0.15, 0.2, 0.26, 0.33, 0.36, 0.5])
def test_law_a_share_in_words_is_near_it(share):
    named = {part: 1 / number for number, part in words.PARTS_OF_IT.items()}
    said = named[words.part_words(share).removeprefix("about ")]
    assert all(abs(1 / said - 1 / share) <= abs(1 / other - 1 / share) for other in named.values())


def test_law_the_top_is_called_no_mix_to_pour():
    case = tent()
    for place in range(len(PARTS)):
        said = words.answer_words(case, place)
        assert ("not the mix to pour" in said.readout) == ("together" in said.title)
        assert "top is not the mix to pour" in said.alt
    assert words.row_words(warmths()[0], short=True).count("(") == 0
