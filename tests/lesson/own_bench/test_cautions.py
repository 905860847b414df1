"""What to take care of stands in full above each panel; of a refused bath without an amount."""

import html
import re

import pytest
from helpers.amounts import amounts

from pcbchem.bench.hazards.caution import method_cautions
from pcbchem.lesson.own_bench.cautions import BOLD, HOW_MUCH, method_cautions_html

SAMPLES = ["taking a little", "what is left"]
"""Topics of what is taken from a bottle, in the table of cautions."""


def plain(text):
    return html.unescape(re.sub(r"<[^>]+>", "", text))


def bold_in(whole):
    """The topics that are bold, of the cautions of a panel."""
    return [plain(words) for words in re.findall(r"<li><strong>(.*?)</strong></li>", whole)]


@pytest.mark.parametrize("method", ["weighing", "oxygen", "washing soda", "lye"])
def test_law_no_caution_is_left_out_and_first_aid_is_bold(method):
    whole = method_cautions_html("Your bottle", method)
    every = method_cautions(method)
    assert [caution for caution in every if caution.words not in plain(whole)] == []
    first_aid = [each.words for each in every if each.topic.startswith("first aid")]
    assert bold_in(whole) == first_aid != []
    assert "<details" not in whole and 'href="reference/cautions.md"' in whole


def test_law_of_an_offcut_what_hurts_most_is_bold():
    """Plan it first, out at 45 °C, none after one that got hot, and first aid."""
    every = method_cautions("offcut")
    topics = [caution.topic for caution in every]
    assert set(BOLD) < set(topics), "each of them is a topic"
    bold = [each.words for each in every if each.topic in BOLD or "first aid" in each.topic]
    assert bold_in(method_cautions_html("Your offcuts", "offcut")) == bold
    assert len(bold) > len(BOLD)
    assert any("At 45 °C lift the offcut out" in words for words in bold)
    assert any("no further offcut and no board in such a bath" in words for words in bold)


def test_law_above_offcuts_nothing_is_said_of_samples():
    """None is taken from a bottle there; all else is said."""
    whole = plain(method_cautions_html("Your offcuts", "offcut"))
    left_out = [each.topic for each in method_cautions("offcut") if each.words not in whole]
    assert sorted(left_out) == SAMPLES


def test_law_of_a_refused_bath_only_the_amount_is_left_out():
    """Whoever has none to etch is told of everything else all the same."""
    told = plain(method_cautions_html("Your offcuts", "offcut", is_etched=False))
    every = method_cautions("offcut")
    left_out = [caution for caution in every if caution.words not in told]
    assert sorted(caution.topic for caution in left_out) == sorted((HOW_MUCH, *SAMPLES))
    (dish,) = (caution for caution in left_out if caution.topic == HOW_MUCH)
    assert amounts(told) == [] and amounts(dish.words)
