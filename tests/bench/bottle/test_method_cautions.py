"""Each way to measure a bottle is offered with its cautions (`bench.hazards.caution`)."""

import pytest

from pcbchem.bench.hazards.caution import method_cautions
from pcbchem.common import tables

METHODS = ("weighing", "oxygen", "washing soda", "lye", "permanganate", "offcut")
WITH_DILUTION = ("oxygen", "washing soda", "lye", "permanganate")


def words_of(method):
    return " ".join(caution.words for caution in method_cautions(method))


@pytest.mark.parametrize("method", METHODS)
def test_law_each_caution_is_a_sentence_with_source_and_date(method):
    for caution in method_cautions(method):
        assert caution.source and caution.as_of >= "2026-11-25"
        assert caution.words.endswith(".")


@pytest.mark.parametrize("method", METHODS)
def test_law_what_holds_for_every_method_is_said_of_each(method):
    words = words_of(method)
    assert "Goggles" in words and "never goes back" in words
    assert ("Write the dilution down" in words) == (method in WITH_DILUTION)


@pytest.mark.parametrize(
    "method, phrases",
    [
        (
            "oxygen",
            ("Never in a closed vessel", "at least five times", "chlorine", "35 %", "14 times"),
        ),
        ("lye", ("1 mol/L", "eye", "30 minutes", "no acid", "aluminium")),
        ("washing soda", ("foams", "boil", "open flask")),
        (
            "permanganate",
            (
                "hydrochloric acid or a bath: they give off chlorine",
                "concentrated sulfuric acid",
                "explodes",
                "0.02 mol/L",
                "fire",
                "For a teacher",
            ),
        ),
        ("weighing", ("outdoors", "never stopper peroxide")),
        ("offcut", ("flat wide dish", "Plan it first", "both sides", "half an hour")),
    ],
)
def test_law_what_a_method_must_warn_of_is_said(method, phrases):
    words = words_of(method)
    assert [phrase for phrase in phrases if phrase not in words] == [], words


def test_law_every_caution_belongs_to_a_method_there_is():
    rows = tables.read("method_cautions")
    assert {row["method"] for row in rows} == {*METHODS, "any", "dilution"}


def test_law_another_method_is_refused_by_name():
    words = (
        r"method = 'spoon'.*choose from weighing, oxygen, washing soda, lye, permanganate, offcut"
    )
    with pytest.raises(ValueError, match=words):
        method_cautions("spoon")
