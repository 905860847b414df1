"""What a trial says of a bath: violent ones first, doubtful ones with care, wrong inputs by name (laws)."""

import re

import numpy as np
import pytest
from workshop import INPUTS

from pcbchem import Solution, mix
from pcbchem.lesson import draw, summary
from pcbchem.lesson import trial as tries
from pcbchem.lesson.trial import trial
from pcbchem.matter import tables
from pcbchem.matter.units import celsius, mL


@pytest.mark.parametrize("high", [0.3, 4.0])
def test_never_clearing_baths_are_said(high):
    """Law: a bath with hardly any peroxide never clears, and sentence, table and picture say so without NaN."""
    tried = trial(**{**INPUTS, "peroxide": (0.2, high, "% by weight"), "total_mL": 40, "draws": 40})
    never = float(tried.run.band("time_to_clear").never)
    assert never > 0.1
    assert f"{100 * never:.0f} % of the plausible baths never" in summary.sentence(tried)
    assert "8 of 10" not in summary.sentence(tried), "fewer than that clear it"
    assert f"{round(40 * never)} of 40" in str(summary.table(tried))
    title = draw.course(tried, "Bath")[0].get_title(loc="left")
    assert "never" in title or "hardly ever" in title
    words = draw.course_words(tried, "Bath") + summary.cares(tried) + summary.sentence(tried)
    assert "nan" not in words and "after never" not in words and "before never" not in words


STRONG = {"acid": (31, 33, "% by weight"), "peroxide": (25, 29, "% by weight"), "draws": 40}


@pytest.mark.parametrize(("change", "why"), [
    (STRONG, "in under 30 s"), (STRONG, "left standing passes 75 °C"), (STRONG, "peroxide above 12 %"),
    ({**STRONG, "parts": (3, 1, 1), "total_mL": 30}, "passes 60 °C while etching"),
    ({"total_mL": 30}, "too little bath for this much copper"),
    ({"acid": (36, 37, "%"), "peroxide": (2, 3, "%"), "parts": (0, 2, 1)}, "acid above 6 mol/L")])
def test_a_violent_bath_is_never_offered(change, why):
    """Limits of `VIOLENT`: common practice, no source. The warning and its reason come before anything else."""
    tried = trial(**{**INPUTS, **change})
    said, title = summary.sentence(tried), draw.course(tried, "Bath")[0].get_title(loc="left")
    assert said.startswith("**Too violent: do not mix this.** Why: ") and why in said.split("\n")[0]
    assert "a curve to learn from" in said.split("\n")[0] and "**" not in said.split("\n", 1)[1], "no time in bold"
    assert summary.cares(tried).startswith("- **Too violent: do not mix this**")
    assert "Look at the board" not in summary.cares(tried) and " mL" not in said, "nothing to pour"
    assert "too violent, do not mix" in title and "too violent, do not mix" in draw.course_words(tried, "Bath")
    assert re.search(r"than that: in the hour after \d+ of \d+; while etching \d+ of", summary.cares(tried))


def test_mild_baths_are_not_called_violent(mild, weak):
    for tried in (mild, weak):
        assert "violent" not in summary.cares(tried) + summary.sentence(tried) + draw.course_title(tried, "Bath")


@pytest.mark.parametrize("rule", tries.VIOLENT)
def test_each_rule_of_violence_counts_alone(rule, monkeypatch):
    limit = {"time": 30, "etching": 333.15, "standing": 348.15, "acid": 6000, "peroxide": 0.12}
    tried = trial(**{**INPUTS, **STRONG, "acid": (36, 37, "%"), "peroxide": (29, 30, "%"), "parts": (0, 1.2, 1),
                     "total_mL": 30, "draws": 20})
    never = {name: 0.0 if name == "time" else 1e6 for name in tries.VIOLENT}
    monkeypatch.setattr(tries, "VIOLENT", never)
    assert tries.violence(tried) == []
    monkeypatch.setattr(tries, "VIOLENT", {**never, rule: limit[rule]})
    assert tries.violence(tried)


@pytest.mark.parametrize(("change", "words", "there"), [
    ({"acid": (19.8, 20.2, "°Bé")}, "**Careful: it can get hot after the board is out**, to 7", True),
    ({"acid": (19.8, 20.2, "°Bé"), "total_mL": 110}, "**Careful: it can get hot", True), ({}, "Careful", False),
    ({"board_mm": (7.5, 6.0)}, "Is that the board you mean?", True),
    ({"bare_percent": 0.6}, "Is that the board you mean?", True), ({}, "Is that the board", False),
    ({}, "Board 45 cm², 27 cm² of it bare, 0.82 g of copper, in 150 mL of bath: 5.6 mL per cm²", True),
    ({"parts": (1, 0, 1)}, "**It holds no acid.**", True), ({"parts": (1, 1, 0)}, "**It holds no peroxide.**", True),
    ({"acid": (0.5, 1, "%"), "total_mL": 60}, "**Not enough acid**", True), ({}, "enough", False),
    ({"peroxide": (0.2, 0.3, "%"), "total_mL": 60}, "**Not enough peroxide**", True), ({}, "holds no", False),
    ({"parts": (1, 0, 1)}, "after the board is out", False), ({}, "after the board is out", True),
    ({"parts": (1, 0, 1)}, "evaporation can cool", True), ({}, "evaporation", False)])
def test_sentence_says(change, words, there):
    """Grams by 305.15 g/m² of 1 oz foil (IPC-4562) on 27 cm²: 0.82 g; the rest are words for what the trial holds."""
    assert (words in summary.sentence(trial(**{**INPUTS, **change}))) == there


@pytest.mark.parametrize(("change", "words", "there"), [
    ({"acid": (19.8, 20.2, "°Bé")}, "leave it open in a wide tray in the open air, watch it, never bottle it", True),
    ({}, "leave it standing open, wide and outdoors. Weaker peroxide stays cooler", True),
    ({"peroxide": (2, 2.5, "%"), "parts": (0, 1, 2)}, "leave it", False),
    ({"acid": (19.8, 20.2, "°Bé")}, "Acid above 3 mol/L fumes", True), ({}, "fumes", False),
    ({"acid": (19.8, 20.2, "°Bé")}, "Hotter than 60 °C: outside the range we checked", True),
    ({"bottles_C": 65}, "Hotter than 60 °C", True), ({"bottles_C": 65}, "K is outside", False),
    ({"peroxide": (2, 2.5, "%"), "parts": (0, 1, 2)}, "outside the range", False),
    ({"bottles_C": 2}, "The model was not checked this far", True), ({}, "not checked this far", False)])
def test_cares_say(change, words, there):
    """In words and, as warnings are errors here, never as a warning with a file name."""
    assert (words in summary.cares(trial(**{**INPUTS, **change}))) == there


@pytest.mark.parametrize("change", [
    {"peroxide": (5.1, 6, "%")}, {"total_mL": 450}, {"parts": (2, 1, 1), "total_mL": 300}])
def test_advice_on_heat_holds(change, mild):
    """Weaker peroxide, more bath for the same board, more water in it: each cooler in the hour after."""
    other = trial(**{**INPUTS, **change}).after.band("peak_temperature")
    assert other.high < mild.after.band("peak_temperature").high and other.middle < mild.after.band(
        "peak_temperature").middle


@pytest.mark.parametrize(("field", "written", "meant"), [
    ("peroxide", (8.5, 10, "vol"), (8.5, 10, "volume strength")), ("acid", (9, 11, "%"), (9, 11, "% by weight")),
    ("peroxide", [8.5, 10, "Volume"], (8.5, 10, "volume strength")), ("agitation", "Rocked", "rocked"),
    ("acid", (19.8, 20.2, "°Bé"), (19.8, 20.2, "degrees Baume")), ("facing", "UPRIGHT", "upright"),
    ("acid", (19.8, 20.2, "degrees Baumé"), (19.8, 20.2, "degrees Baume"))])
def test_inputs_as_people_write_them(field, written, meant):
    first, second = (trial(**{**INPUTS, "draws": 5, field: value}) for value in (written, meant))
    assert np.array_equal(first.run.time_to_clear, second.run.time_to_clear)


@pytest.mark.parametrize(("prediction", "words"), [
    ((600, 1205, 6000, 1200, np.inf), "agrees, at the edge"), ((600, 1300, 6000, 1200, np.inf), "the middle agrees"),
    ((8, 11.3, 13, 8.8, 11.4), "agrees, at the edge"), ((8, 10, 13, 8.8, 11.4), "the middle agrees"),
    ((2.8, 4.1, 5.8, 3.5, 4.0), "the middle misses: 1.02 times the nearest value seen; low to high covers it"),
    ((5, 6, 7, 3, 4), "a miss")])
def test_how_a_prediction_came_out(prediction, words):
    assert summary.miss(*prediction).startswith(words)


def test_narrow_table_keeps_every_source():
    page = summary.Sheet(summary.leave_one_out(), beneath="source of what was seen")._repr_html_()
    grid, beneath = page.split("</table>")
    assert grid.count(f'<th style="{summary.CELL}">') == 4 + 6, "a name and three columns, six rows"
    for row in tables.read("leave_one_out"):
        assert row["fact"] in beneath and tables.source(row["source"]) in beneath and row["fact"] in grid


def test_parts_are_poured_as_they_are_named():
    """Law: water, acid and peroxide by volume, each at its own strength, add up to the whole."""
    tried = trial(**{**INPUTS, "acid": (10, 10, "% by weight"), "peroxide": (6, 6, "% by weight"), "parts": (3, 1, 2)})
    unit, T = 25 * mL, celsius(20)
    whole = mix(Solution.of(volume=3 * unit, T=T), Solution.of(volume=unit, T=T, HCl=0.10),
                Solution.of(volume=2 * unit, T=T, H2O2=0.06))
    for substance in ("HCl", "H2O2", "H2O"):
        assert np.allclose(tried.bath.amount(substance), whole.amount(substance), rtol=1e-9)


@pytest.mark.parametrize(("field", "value", "message"), [
    ("parts", (0, 1), "parts = "), ("parts", (0, 0, 0), "parts = "), ("parts", (0, 1, 1, 5), "use a point"),
    ("total_mL", 0, "total_mL = "), ("total_mL", (150, 5), "total_mL = .* one number; use a point for decimals"),
    ("acid", (9, 11, "percent"), "acid: notation"), ("acid", (11, 9, "% by weight"), "acid: low"),
    ("acid", 10, "acid = 10 has 1 item: it must be lowest, highest, notation; use a point for decimals: 10.2"),
    ("peroxide", (10, 2, 12, "% by weight"), r"peroxide = \(10, 2, 12, '% by weight'\) has 4 items: it must be lowest"),
    ("peroxide", (90, 95, "%"), "peroxide: value"), ("acid", (9, "x", "%"), "acid: highest"),
    ("board_mm", (75, 5, 60), r"board_mm = \(75, 5, 60\) has 3 items: it must be width, height; use a point"),
    ("board_mm", 75, "board_mm = 75 has 1 item"), ("board_mm", (0, 60), "board_mm = 0"), ("foil_oz", 0, "foil_oz = 0"),
    ("bare_percent", 120, "bare_percent = 120"), ("bottles_C", 300, "bottles_C = 300"), ("air_C", 300, "air_C = 300"),
    ("agitation", "shaken", "agitation = "), ("facing", 3, "facing = ")])
def test_impossible_inputs_are_named(field, value, message):
    with pytest.raises(ValueError, match=message) as told:
        trial(**{**INPUTS, "draws": 5, field: value})
    assert str(told.value).startswith(field)
