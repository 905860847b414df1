"""Tables say what the plan and the package's own tables hold, whole, and the counting line cleans up (laws)."""

import numpy as np
import pandas
import pytest
from IPython.display import DisplayHandle

from pcbchem.bench.hazards.verdicts import rules
from pcbchem.common import tables
from pcbchem.lesson import trust as summary
from pcbchem.page import table


@pytest.mark.parametrize(
    ("prediction", "words"),
    [
        ((600, 1205, 6000, 1200, np.inf), "agrees, at the edge"),
        ((600, 1300, 6000, 1200, np.inf), "the middle agrees"),
        ((8, 11.3, 13, 8.8, 11.4), "agrees, at the edge"),
        ((8, 10, 13, 8.8, 11.4), "the middle agrees"),
        (
            (2.8, 4.1, 5.8, 3.5, 4.0),
            "the middle misses: 1.02 times the nearest value seen; low to high covers it",
        ),
        ((5, 6, 7, 3, 4), "a miss"),
    ],
)
def test_how_a_prediction_came_out(prediction, words):
    assert summary.miss(*prediction).startswith(words)


def test_narrow_table_keeps_every_source():
    page = table.Sheet(summary.leave_one_out(), beneath="source of what was seen")._repr_html_()
    grid, beneath = page.split("</table>")
    assert grid.count(f'<th style="{table.CELL}">') == 4 + 6, "a name and three columns, six rows"
    for row in tables.read("leave_one_out"):
        assert (
            row["fact"] in beneath
            and tables.source(row["source"]) in beneath
            and row["fact"] in grid
        )


def test_a_sheet_shows_the_plan_to_three_figures(mild):
    page = table.Sheet(mild.to_frame(), caption="8 of 10 < 9")._repr_html_()
    times = mild.bands["time_to_clear"]
    for value in (times.low, times.middle, times.high):
        assert f">{float(f'{float(value) / 60:.3g}'):g}</td>" in page
    assert (
        page.count("<tr") == len(mild.to_frame()) + 1
        and "NaN" not in page
        and "e+" not in page
        and "e-" not in page
    )
    assert page.count("<caption") == 1 and "8 of 10 &lt; 9</caption>" in page
    odd = table.Sheet(pandas.DataFrame({"a": [np.inf, np.nan, 0.0, 1234.5, 0.004]}))._repr_html_()
    cells = [row.split("</td>")[0].split(">")[-1] for row in odd.split("<td")[1:]]
    assert cells == ["never", "", "0", "1230", "under 0.01"]


def test_plans_beside_each_other(mild, refused):
    table = summary.beside({"usual": mild, "little": refused})
    assert list(table["verdict"]) == [mild.verdict, refused.verdict] == ["mix it", "do not mix"]
    times = mild.bands["time_to_clear"]
    assert table.loc["usual", "clear in"] == f"{times.low / 60:.1f} to {times.high / 60:.1f} min"
    for column, band in (("while etching", "etching_peak"), ("in the hour after", "standing_peak")):
        assert table.loc["little", column].endswith(f"{refused.bands[band].high - 273.15:.0f} °C")


def test_every_rule_of_the_verdict_is_on_the_page():
    table = summary.verdict_rules()
    assert list(table.index) == [rule.name for rule in rules()] and table.notna().all().all()
    for rule in rules():
        said = {
            "over_public": "above the limit where you are",
            "cover": "too shallow to cover the board",
        }.get(rule.quantity, f"{rule.side} {rule.shown(rule.limit)}")
        assert table.loc[rule.name, "falls when it is"].startswith(said)
        assert table.loc[rule.name, "falls when it is"].endswith("in half of the baths") == (
            rule.end == "middle"
        )
        assert (
            rule.source in table.loc[rule.name, "source"]
            and rule.as_of in table.loc[rule.name, "source"]
        )


def test_the_counting_line_counts_and_leaves_nothing(monkeypatch):
    seen = []
    for name in ("display", "update"):
        monkeypatch.setattr(
            DisplayHandle, name, lambda self, data, raw: seen.append((self.display_id, data))
        )
    with pytest.raises(ZeroDivisionError), table.counting() as progress:
        progress(120, 462)
        assert (
            seen[-1][1]["text/plain"] == "tried 120 of 462"
            and "tried 120 of 462" in seen[-1][1]["text/html"]
        )
        progress(1 // 0, 462)
    assert len({name for name, _ in seen}) == 1, "in place"
    assert seen[-1][1] == {"text/plain": "", "text/html": ""} and len(seen) == 3
