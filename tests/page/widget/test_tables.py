"""A table of a panel is a real one, and shows plain texts as they are written (laws)."""

import re

import pytest

from pcbchem.common.limits import InputError
from pcbchem.page.widget.tables import Table

HOSTILE = '<img src=x onerror="alert(1)">&amp;\''
ROWS = (("1", "clear"), ("2", HOSTILE), ("3", ""))


def test_law_a_table_names_itself_its_columns_and_its_rows():
    page = Table("Offcuts of one bottle", ("line", "result"), ROWS).html()
    assert page.count(">Offcuts of one bottle</caption>") == 1
    assert re.findall(r'<th scope="col"[^>]*>(.*?)</th>', page) == ["line", "result"]
    assert re.findall(r'<th scope="row"[^>]*>(.*?)</th>', page) == ["1", "2", "3"]
    assert page.count("<td") == 3 and page.count("<tr>") == 4


def test_law_nothing_in_a_table_is_html():
    page = Table(HOSTILE, (HOSTILE,), ((HOSTILE,),), (HOSTILE,)).html()
    assert "<img" not in page and page.count("&lt;img src=x onerror=&quot;") == 5
    assert "&amp;amp;&#x27;" in page


def test_law_a_marked_row_has_a_bar_and_its_word():
    page = Table("Log", ("line", "result"), ROWS, ("", "bad row", "")).html()
    _, *rows = page.split("<tr>")[1:]
    marks = [("border-left" in row, "<strong>bad row</strong>" in row) for row in rows]
    assert marks == [(False, False), (True, True), (False, False)]
    assert "border-left" not in Table("Log", ("line", "result"), ROWS).html()


def test_law_a_table_scrolls_in_its_own_frame_by_keyboard_too():
    frame = Table("Log", ("line", "result"), ROWS).html().split("<table")[0]
    for part in ('tabindex="0"', 'role="region"', 'aria-label="Log"', "overflow-x:auto"):
        assert part in frame
    assert 'data-lm-suppress-shortcuts="true"' in frame


def test_law_a_table_without_rows_still_says_what_it_is_of():
    page = Table("Log", ("line",), ()).html()
    assert "Log</caption>" in page and "<tbody></tbody>" in page


def test_law_a_row_has_as_many_cells_as_there_are_columns():
    with pytest.raises(InputError, match="row 2 is impossible: it must have 2 cells, and has 1"):
        Table("Log", ("line", "result"), (("1", "a"), ("2",)))
    with pytest.raises(InputError, match="marks = 2 is impossible: there must be 3, one for each"):
        Table("Log", ("line", "result"), ROWS, ("", ""))
