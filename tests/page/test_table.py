"""Tables hold the package's own tables and plans whole, and the counting line cleans up (laws)."""

import re

import numpy as np
import pandas
import pytest
from helpers.workshop import INPUTS
from IPython.display import DisplayHandle

from pcbchem.bench.plan.words import numbers
from pcbchem.common import tables
from pcbchem.lesson.form.fields import planned
from pcbchem.lesson.trust import leave_one_out, statuses, verdict_rules
from pcbchem.page import table


def cells_of(page):
    """What stands in the cells of a table."""
    return [cell.split("</td>")[0].split(">")[-1] for cell in page.split("<td")[1:]]


def test_law_a_column_beneath_keeps_every_source():
    page = table.Table(leave_one_out(), beneath="source of what was seen")._repr_html_()
    grid, beneath = page.split("</table>")
    assert grid.count(f'<th style="{table.CELL}">') == 5 + 6, "a name and four columns, six rows"
    for row in tables.read("leave_one_out"):
        assert row["fact"] in grid and row["fact"] in beneath
        assert tables.source(row["source"]) in beneath


def test_law_rows_with_the_same_note_share_its_line():
    notes = {"x": "a<b", "y": "c", "z": "a<b"}
    rows = {name: {"n": 1, "note": note} for name, note in notes.items()}
    page = table.Table(rows, beneath="note")._repr_html_()
    assert page.endswith("<p>Note<br>x · z: a&lt;b<br>y: c</p>")


def test_law_a_plan_is_shown_to_three_figures():
    plan = planned(**INPUTS)
    page = table.Table(numbers(plan))._repr_html_()
    times = plan.bands["time_to_clear"]
    for value in (times.low, times.middle, times.high):
        assert f">{float(f'{float(value) / 60:.3g}'):g}</td>" in page
    assert page.count("<tr") == len(numbers(plan)) + 1
    for odd in ("NaN", "e+", "e-"):
        assert odd not in page


def test_law_a_caption_stands_above_once():
    page = table.Table({"x": {"a": 1.0}}, caption="8 of 10 < 9")._repr_html_()
    assert page.count("<caption") == 1 and "8 of 10 &lt; 9</caption><thead>" in page


def test_law_odd_numbers_are_words():
    odd = {str(value): {"a": value} for value in (np.inf, np.nan, 0.0, 1234.5, 0.004)}
    page = table.Table(odd)._repr_html_()
    assert cells_of(page) == ["never", "", "0", "1230", "under 0.01"]


def test_law_nothing_is_cut_short():
    page = table.Table({"x": {"a": "word " * 100}})._repr_html_()
    assert "word " * 99 in page


def without_style(page):
    """A table's HTML without blanks between its tags and without the styles of its parts."""
    return re.sub(r">\s+<", "><", re.sub(r' style="[^"]*"', "", page)).strip()


@pytest.mark.parametrize(
    "rows",
    [leave_one_out(), statuses(), verdict_rules(), {'a & "b"': {"<c>": 'd "e" < f', "g": 0.5}}],
)
def test_second_source_a_table_is_marked_up_as_pandas_does_it(rows):
    frame = pandas.DataFrame.from_dict(rows, orient="index").map(table.cell_text)
    with pandas.option_context("display.max_colwidth", None):
        expected = frame.to_html(border=0)
    assert without_style(table.Table(rows)._repr_html_()) == without_style(expected)


def test_law_the_counting_line_counts_and_leaves_nothing(monkeypatch):
    shown = []
    for name in ("display", "update"):
        monkeypatch.setattr(
            DisplayHandle, name, lambda self, data, raw: shown.append((self.display_id, data))
        )
    with pytest.raises(ZeroDivisionError), table.counting() as progress:
        progress(120, 462)
        assert shown[-1][1]["text/plain"] == "tried 120 of 462"
        assert "tried 120 of 462" in shown[-1][1]["text/html"]
        progress(1 // 0, 462)
    assert len({name for name, _ in shown}) == 1, "in place"
    assert shown[-1][1] == {"text/plain": "", "text/html": ""} and len(shown) == 3
