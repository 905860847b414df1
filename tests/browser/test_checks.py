"""Law: the checks of this folder see what they should.

Covers: controls without a name or without their keys; a page too wide; an issue that is minor; a
page that no file opens. (A page on which everything goes wrong is in test_faults.)
"""

import re

import pytest

from .eyes import axe_clean, fits_across, issues, well_named
from .opening import PAGES, ROOT
from .page_laws import OPENED_BY

KEYS = "data-lm-suppress-shortcuts"


@pytest.fixture
def empty(tab):
    tab.goto("about:blank")
    return tab


@pytest.mark.parametrize(
    "bad, words",
    [
        (f"<input {KEYS} type=range min=0 max=9>", "- slider"),
        (f"<input {KEYS}>", "- textbox"),
        (f"<button {KEYS}></button>", "- button"),
        (f"<label>3 %</label><input {KEYS} type=radio>", "- radio"),
        ("<input aria-label='Water (parts)'>", "takes the keys"),
    ],
)
def test_law_no_name_or_no_keys_of_its_own_is_seen(empty, bad, words):
    empty.set_content(f"<div class=pcbchem-widget>{bad}</div>")
    with pytest.raises(AssertionError, match=words):
        well_named(empty)


@pytest.mark.parametrize(
    "good", ["<img src='data:,' alt>", f"<input {KEYS} aria-label='Water (parts)'>"]
)
def test_law_a_name_and_keys_of_its_own_are_enough(empty, good):
    empty.set_content(f"<div class=pcbchem-widget>{good}</div>")
    well_named(empty)


def test_law_a_wide_page_and_a_nameless_button_are_seen(empty):
    wide = "<p style='width:5000px'>x</p>"
    empty.set_content(f"<html lang=en><title>x</title><main><h1>x</h1><button></button>{wide}")
    with pytest.raises(AssertionError, match="critical: button-name"):
        axe_clean(empty)
    with pytest.raises(AssertionError, match="px of page"):
        fits_across(empty)
    axe_clean(empty, "p")


def test_law_a_minor_issue_is_none():
    node = {"target": [], "html": ""}
    assert issues([{"impact": "minor", "id": "x", "help": "x", "nodes": [node]}]) == []


def test_law_every_page_has_a_file_that_opens_it():
    assert sorted(OPENED_BY) == PAGES
    for page, file in OPENED_BY.items():
        text = (ROOT / "tests" / "browser" / file).read_text(encoding="utf-8")
        assert f'"{page}"' in text and re.search(r"\((LessonLaws|PageLawsInFull)\)", text), page
