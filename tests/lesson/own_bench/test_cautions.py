"""What to take care of stands in full above each panel; of a refused bath without an amount."""

import html
import re

import pytest
from helpers.amounts import amounts

from pcbchem.bench.hazards.caution import method_cautions
from pcbchem.lesson.own_bench.cautions import HOW_MUCH, method_cautions_html


def plain(text):
    return html.unescape(re.sub(r"<[^>]+>", "", text))


@pytest.mark.parametrize("method", ["weighing", "oxygen", "washing soda", "lye", "offcut"])
def test_law_no_caution_is_left_out_and_first_aid_is_bold(method):
    whole = method_cautions_html("Your bottle", method)
    every = method_cautions(method)
    assert [caution for caution in every if caution.words not in plain(whole)] == []
    first_aid = [each.words for each in every if each.topic.startswith("first aid")]
    bold = [plain(words) for words in re.findall(r"<li><strong>(.*?)</strong></li>", whole)]
    assert bold == first_aid
    assert bold or method != "lye"
    assert "<details" not in whole and 'href="reference/cautions.md"' in whole


def test_law_of_a_refused_bath_only_the_amount_is_left_out():
    """Whoever has none to etch is told of everything else all the same."""
    told = plain(method_cautions_html("Your offcuts", "offcut", is_etched=False))
    every = method_cautions("offcut")
    left_out = [caution for caution in every if caution.words not in told]
    assert [caution.topic for caution in left_out] == [HOW_MUCH]
    assert amounts(told) == [] and amounts(left_out[0].words)
