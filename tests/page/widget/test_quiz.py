"""What is kept in a kernel, how all of it is forgotten, and how words are tied (laws)."""

import pytest
from helpers.widgets import send

from pcbchem.page import Check, PageEnd, Prediction
from pcbchem.page.answers import Question
from pcbchem.page.widget import quiz


@pytest.fixture(autouse=True)
def nothing_kept():
    quiz.KEPT.clear()


def test_law_a_number_is_tied_to_its_unit():
    assert quiz.tied("7½ min, 2 mol/L of 10 % at 20 °C") == (
        "7½\u00a0min, 2\u00a0mol/L of 10\u00a0% at 20\u00a0°C"
    )
    assert quiz.tied("3 minutes and 2 more") == "3 minutes and 2 more"


def questions(seed):
    return [Question("ratio", f"{seed} to 1?", "ratio", "", 1.0 * seed, 0.03, (), "3 ÷ 1")]


def test_law_new_pupils_find_nothing_of_the_last_ones():
    """Two predictions, one of them with a reason, and a check on its second sheet."""
    plain = Prediction("plain", "?", {"a": "one", "b": "two"})
    whole = Prediction("whole", "?", {"a": "one", "b": "two"}, {"x": "so", "y": "not so"})
    sheet, end = Check(questions), PageEnd()
    widgets = (plain, whole, sheet, end)
    assert not any(widget.keeps for widget in widgets)
    send(plain, choice="b")
    assert all(widget.keeps for widget in widgets), "each button of the page shows"
    send(whole, choice="a", reason="x")
    send(sheet, table=7)
    send(sheet, key="ratio", text="7")
    assert sheet.verdicts
    send(end, forget=True)
    for prediction in (plain, whole):
        assert prediction.choice == prediction.reason == prediction.kept_words == ""
        assert not prediction.made and prediction.guess is None
    assert (sheet.seed, sheet.table, sheet.sheet, sheet.verdicts) == (1, 1, 1, {})
    assert sheet.starts == 1 and not quiz.KEPT
    assert not any(widget.keeps for widget in widgets)
    assert Prediction("plain", "?", {"a": "one", "b": "two"}).choice == ""
    assert Check(questions).table == 1


def test_law_any_prediction_can_forget_all():
    first = Prediction("first", "?", {"a": "one", "b": "two"})
    second = Prediction("second", "?", {"a": "one", "b": "two"})
    send(first, choice="-")
    send(second, choice="a")
    send(first, forget=True)
    assert first.choice == second.choice == "" and not quiz.KEPT
