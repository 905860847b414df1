"""Law: the script that judges answers on a page without Python says what Python says."""

import json
from collections import Counter

import pytest
from helpers.answer_corpus import SHARED, corpus
from helpers.answers import REFUSED

from pcbchem.page.answers import judge
from pcbchem.page.export.judging import as_shown, for_copy, judge_script
from pcbchem.page.why import WhyQuestion, judge_why
from pcbchem.page.widget.quiz import tied

# one call for all of them: a call for each would take minutes
JUDGE_ALL = """whole => {
    const { questions, pairs } = JSON.parse(whole);
    return JSON.stringify(pairs.map(([place, text]) => judgeAnswer(questions[place], text)));
}"""


def said_by_python(question, text):
    """Return the verdict that a page with Python shows."""
    if isinstance(question, WhyQuestion):
        return as_shown(judge_why(question, text))
    return as_shown(judge(question, text))


@pytest.fixture(scope="module")
def verdicts(browser):
    """Question, text, verdict of Python and verdict of the script, for the whole corpus."""
    questions, pairs = corpus()
    whole = {"questions": [for_copy(question) for question in questions], "pairs": pairs}
    page = browser.new_page()
    page.add_script_tag(content=judge_script())
    in_script = json.loads(page.evaluate(JUDGE_ALL, json.dumps(whole)))
    page.close()
    return [
        (questions[place], text, said_by_python(questions[place], text), verdict)
        for (place, text), verdict in zip(pairs, in_script, strict=True)
    ]


def test_law_the_script_judges_as_python_does(verdicts):
    different = [
        f"{question.key} {text!a}\n  {python}\n  {script}"
        for question, text, python, script in verdicts
        if python != script
    ]
    count = f"{len(different)} of {len(verdicts)} differ"
    assert not different, "\n".join([count, *different[:20]])


def test_law_the_texts_try_everything(verdicts):
    """Each grade many times over, each sentence that refuses, and words that are tied."""
    grades = Counter(python["grade"] for _, _, python, _ in verdicts)
    assert set(grades) == {"right", "slip", "wrong", "unread"}
    assert min(grades.values()) > 1000, grades
    whole = "\n".join({python["words"] for _, _, python, _ in verdicts})
    for words in {words for *_, words in REFUSED}:
        assert tied(words) in whole, words
    for words in ("a little too high", "a little too low", "how many times less", "read as −"):
        assert words in whole, words
    assert {text for _, text, _, _ in verdicts} > set(SHARED)
