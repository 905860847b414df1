"""Tables hold the package's own tables and plans whole, and the counting line cleans up (laws)."""

import subprocess
import sys

import numpy as np
import pandas
import pytest
from helpers.workshop import INPUTS
from IPython.display import DisplayHandle

from pcbchem.common import tables
from pcbchem.lesson.plan_a_bath.fields import planned
from pcbchem.lesson.trust import leave_one_out
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
    frame = pandas.DataFrame({"n": [1, 2, 3], "note": ["a<b", "c", "a<b"]}, index=["x", "y", "z"])
    page = table.Table(frame, beneath="note")._repr_html_()
    assert page.endswith("<p>Note<br>x · z: a&lt;b<br>y: c</p>")


def test_law_a_plan_is_shown_to_three_figures():
    plan = planned(**INPUTS)
    page = table.Table(plan.to_frame())._repr_html_()
    times = plan.bands["time_to_clear"]
    for value in (times.low, times.middle, times.high):
        assert f">{float(f'{float(value) / 60:.3g}'):g}</td>" in page
    assert page.count("<tr") == len(plan.to_frame()) + 1
    for odd in ("NaN", "e+", "e-"):
        assert odd not in page


def test_law_a_caption_stands_above_once():
    page = table.Table(pandas.DataFrame({"a": [1.0]}), caption="8 of 10 < 9")._repr_html_()
    assert page.count("<caption") == 1 and "8 of 10 &lt; 9</caption><thead>" in page.replace(
        "\n", ""
    ).replace("  ", "")


def test_law_odd_numbers_are_words():
    page = table.Table(pandas.DataFrame({"a": [np.inf, np.nan, 0.0, 1234.5, 0.004]}))._repr_html_()
    assert cells_of(page) == ["never", "", "0", "1230", "under 0.01"]


def test_law_nothing_is_cut_short():
    page = table.Table(pandas.DataFrame({"a": ["word " * 100]}))._repr_html_()
    assert "word " * 99 in page


def test_law_pandas_is_loaded_for_a_table_alone():
    code = "import sys; import pcbchem.page.table; print('pandas' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert done.stdout.strip() == "False", done.stderr


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
