"""The plain page runs, says only numbers that the package computes or a source prints, and measures out nothing strong.

Laws and transcription: every figure that stands in the page's prose is listed here with what it is held against.
"""

import re
from pathlib import Path

import nbformat
import numpy as np
import pytest
from nbclient import NotebookClient
from workshop import INPUTS

from pcbchem import Board, Foil, RateParameters, Solution, Tray, etch, mix, stand
from pcbchem.lesson import draw, summary
from pcbchem.lesson import trial as tries
from pcbchem.lesson.trial import curve_only
from pcbchem.matter import tables
from pcbchem.matter.units import between, celsius, mL, mm, percent
from pcbchem.reaction.draws import FACTS

PAGE = Path(__file__).parents[2] / "notebooks" / "00_plan_a_bath.ipynb"
VOLUME = re.compile(r"\d\s*(m[lL]|[lL]|litres?|mm|cm|cm²|cm3|fl\.? ?oz|drops?|spoons?|g|grams?)\b|\b(mL|litre|cm²)\b")


@pytest.fixture(scope="module")
def stored():
    return nbformat.read(PAGE, as_version=4)


@pytest.fixture(scope="module")
def ran(stored):
    """The page after Run All Cells."""
    page = nbformat.from_dict(stored)
    client = NotebookClient(page, timeout=120, resources={"metadata": {"path": str(PAGE.parent)}})
    return client.execute()


def spoken(cells):
    """Everything that a reader of these cells sees or hears, source and outputs, without the bytes of pictures."""
    found = []
    for cell in cells:
        found.append(cell.source)
        for output in cell.get("outputs", []):
            found.append(output.get("text", ""))
            found += [text for kind, text in output.get("data", {}).items() if kind.startswith("text")]
    return re.sub(r"base64,[A-Za-z0-9+/=]+", "", "\n".join(found))


def by_heading(page, heading):
    """Cells from a second-level heading to the next one."""
    starts = [i for i, c in enumerate(page.cells) if c.cell_type == "markdown" and re.search(r"^## ", c.source, re.M)]
    first = next(i for i in starts if re.search(rf"^## {heading}", page.cells[i].source, re.M))
    return page.cells[first:next((i for i in starts if i > first), None)]


def test_stored_without_outputs_and_in_short_cells(stored):
    for cell in stored.cells:
        if cell.cell_type == "code":
            assert not cell.outputs and cell.execution_count is None, cell.id
            assert len(cell.source.splitlines()) <= 15, cell.id


def test_runs_without_an_error_or_a_warning(ran):
    outputs = [o for c in ran.cells for o in c.get("outputs", [])]
    assert len(outputs) >= 10
    for output in outputs:
        assert output.output_type != "error", output
        assert output.get("name") != "stderr", output


def test_law_undiluted_part_measures_nothing_out(ran):
    part = by_heading(ran, "Undiluted")
    text = spoken(part)
    assert "Do not mix" in part[0].source and "Do not mix: a curve to learn from" in text
    assert "share of foil" in text.lower()
    assert not VOLUME.search(text), VOLUME.search(text)
    assert "trial(" not in text, "a trial knows its volumes"


def test_volumes_are_recognised():
    for words in ("pour 50 mL", "4 cm² of foil", "a litre", "25 ml"):
        assert VOLUME.search(words), words


def test_page_gives_no_verdict(ran):
    text = spoken(ran.cells)
    assert "gives no verdict yet" in text
    for permission in ("mix it", "is safe to", "you may mix", "you can mix"):
        assert permission not in text.lower(), permission


def loo(fact, end):
    return float(tables.column("leave_one_out", end, fact=fact)[0])


def said(number, value, digits=2):
    """Whether a printed number is this value, rounded to so many figures."""
    return float(number) == float(f"{value:.{digits}g}")


def claims(mild, weak):
    """Every phrase of the prose with a figure in it: what the package computes, or True beside the source it copies."""
    start = FACTS[0]
    limit = tries.VIOLENT
    seen_fast, seen_slow = summary.seen(tables.read("leave_one_out")[1]["practice"], "s")
    times = mild.run.band("time_to_clear")
    inside = np.mean((times.values >= times.low) & (times.values <= times.high))
    return {
        "label 10 %, give or take 1 %": np.allclose(INPUTS["acid"][:2], (10 - 1, 10 + 1)),
        "label 12 %, and it fades, so 85 to 100 %": np.allclose(INPUTS["peroxide"][:2], (12 * 0.85, 12 * 1.00)),
        "tries 200 *plausible baths*": mild.run.draws == 200,
        "8 of 10 baths lie between": abs(inside - 0.8) < 0.02,
        "1 in 10 below and 1 in 10 above": abs(float(times.over(times.high)) - 0.1) < 0.02,
        "labelled 3 %": True,  # an input of the example
        "just 10 %, write 9 to 11": np.allclose(INPUTS["acid"][:2], (9, 11)),
        "acid of 20 degrees Baumé: `(19.8, 20.2,": np.isclose((19.8 + 20.2) / 2, 20),
        "peroxide of 10 volume (the litres of oxygen that one litre can give): `(8.5, 10,": 10 * 0.85 == 8.5,
        "Acid above 6 mol/L in the bath, or peroxide above 12 % by weight in the bath: do not mix": np.allclose(
            (limit["acid"] / 1000, 100 * limit["peroxide"]), (6, 12)),
        "Acid above 3 mol/L": summary.FUMES == 3000,
        "about 2 s": summary.seen(tables.read("leave_one_out")[0]["practice"], "s") == (2, 2),
        "in 1 to 4 s were kept": (start.low, start.high) == (1, 4),
        "3.6 to 15 s": said("3.6", loo("undiluted", "low")) and said("15", loo("undiluted", "high")),
        "For 3 : 1 : 1 (water": FACTS[1].name == "3 : 1 : 1",
        "46 s where": said("46", loo("3 : 1 : 1", "middle")),
        "people see 60–180 s": (seen_fast, seen_slow) == (60, 180),
        # from here on copied, each from the work named beside it on the page, as current on the date given there
        "25 November 2026": True,
        "J. Am. Chem. Soc. 69 (1947) 1509": True,
        "15 minutes for acid (ANSI/ISEA Z358.1)": True,
        "30 minutes for peroxide (New Jersey fact sheet, 2016)": True,
        "rinse 15 minutes or more (safety data sheet of 36 % acid)": True,
        "above 12 % by weight (Regulation (EU) 2019/1148": True,  # Annex I
        "peroxide above 12 % and": True,
        "acid above 10 % need a licence (GOV.UK labelling guidance; SI 2023/63": True,  # regulation 8
    }


def unclaimed(markdown, phrases):
    """What is left with a figure in it once every listed phrase is taken out."""
    for phrase in sorted(phrases, key=len, reverse=True):
        markdown = markdown.replace(phrase, "")
    return re.findall(r".{0,30}\d.{0,30}", markdown)


def test_every_figure_in_the_prose_is_computed_or_has_its_source(stored, mild, weak):
    prose = "\n".join(c.source for c in stored.cells if c.cell_type == "markdown").replace("\u00a0", " ")
    listed = claims(mild, weak)
    for phrase, holds in listed.items():
        assert phrase in prose, f"not on the page: {phrase}"
        assert holds, phrase
    assert unclaimed(prose, listed) == []
    assert unclaimed(prose + " in 7 min", listed), "a new figure must be noticed"


def test_words_in_the_prose_hold(mild, weak):
    """Claims made in words rather than figures."""
    for name in ("time_to_clear", "peak_temperature", "reserve"):
        first, second = mild.run.band(name).middle, weak.run.band(name).middle
        assert (second > first) == (name == "time_to_clear"), "slower, cooler, smaller reserve"
    assert weak.after.band("oxygen").middle < mild.after.band("oxygen").middle / 2, "quieter afterwards"
    stretch = [t.run.band("time_to_clear").high / t.run.band("time_to_clear").middle for t in (mild, weak)]
    assert stretch[1] > stretch[0], "stretches the slow end"
    assert mild.after.band("oxygen").middle > 5 * np.median(mild.bath.volume), "many times the bath's volume"
    outcome = {row: words for row, words in summary.leave_one_out()["how it came out"].items()}
    edge, off = "agrees, at the edge", "the middle misses"
    assert [re.split("[(:]", w)[0].strip() for w in outcome.values()] == ["a miss", off, edge, off, edge, edge]
    assert loo("3 : 1 : 1", "middle") < 60 and 4.0 < loo("strong film", "middle") < 4.4, "too fast; a little high"
    for fact, edge in (("weak, 2.5 %", 1200), ("weak film", 0.35), ("ratio of the films", 11.4)):
        assert loo(fact, "middle") == pytest.approx(edge, rel=0.02), "at the edge of what was seen"
    counts = summary.statuses()["how many"]
    assert counts.idxmax() == "assumed" and counts.sum() == len(tables.read("parameters"))


def test_cares_count_what_the_run_holds(mild, weak):
    """The limits 45 °C and 3 % by weight are common practice, no source."""
    for tried, word in ((mild, "above"), (weak, "below")):
        warm, later = (int(np.sum(np.asarray(r.peak_temperature) > 273.15 + 45)) for r in (tried.run, tried.after))
        text = summary.cares(tried)
        assert "45 °C" in text and f"that: while etching {warm} of 200; in the hour after {later} of 200" in text
        peroxide = 100 * np.median(tried.bath.mass_fraction("H2O2"))
        assert f"about {peroxide:.1f} %, {word} that" in text and "under 3 %" in text
        assert f"before {summary.clock(tried.run.band('time_to_clear').low)}:" in text
    assert np.sum(np.asarray(mild.after.peak_temperature) > 318.15) > 0, "the mild bath can grow warm afterwards"


def test_table_gives_what_the_package_gives(mild):
    """Law: the page's front door in lab units is the same computation as the package's own calls in SI."""
    acid = Solution.of(volume=75 * mL, T=celsius(20), HCl=percent(between(9, 11, draws=200, seed=0)))
    peroxide = Solution.of(volume=75 * mL, T=celsius(20), H2O2=percent(between(10.2, 12, draws=200, seed=1)))
    board, tray = Board(75 * mm, 60 * mm, 0.6, Foil.ounces(1)), Tray("rocked", "up", T_air=celsius(20))
    run = etch(mix(acid, peroxide), board, tray, RateParameters.plausible(200))
    after = stand(run.bath_after, tray, 3600, RateParameters.plausible(200))
    shown = summary.table(mild)
    ends = ("low", "middle", "high")

    def row(band, form, turn):
        return [format(turn(float(getattr(band, end))), form) for end in ends]

    assert list(shown.loc["time until the board is clear"]) == [
        f"{m} min" for m in row(run.band("time_to_clear"), ".1f", lambda s: s / 60)]
    assert list(shown.loc["warmest while etching (°C)"]) == row(
        run.band("peak_temperature"), ".0f", lambda T: T - 273.15)
    assert list(shown.loc["the hour after: oxygen given off (L)"]) == row(
        after.band("oxygen"), ".1f", lambda v: v * 1000)
    smaller = min(float(shown.loc[f"{name}, times what this copper needs", "middle"]) for name in ("acid", "peroxide"))
    assert smaller == pytest.approx(float(run.band("reserve").middle), rel=0.02)


def test_picture_says_its_numbers(mild):
    """Title, axes and text alternative hold the band's own numbers, on opaque white."""
    copper, warmth = draw.course(mild, "Bath")
    times, peak = mild.run.band("time_to_clear"), mild.run.band("peak_temperature")
    for text in (copper.get_title(loc="left"), draw.course_words(mild, "Bath")):
        for number in (f"{times.low / 60:.1f}", f"{times.high / 60:.1f} min", f"{peak.low - 273.15:.0f}",
                       f"{peak.high - 273.15:.0f} °C"):
            assert number in text, (number, text)
    assert f"{times.middle / 60:.1f} min" in draw.course_words(mild, "Bath")
    assert "µm" in copper.get_ylabel() and "°C" in warmth.get_ylabel() and "minutes" in warmth.get_xlabel()
    line = copper.lines[0]
    assert line.get_ydata()[0] == pytest.approx(34.06, abs=0.01)  # 305.15 g/m² over 8960 kg/m³ (IPC-4562, CRC Handbook)
    gone = np.asarray(line.get_xdata())[np.asarray(line.get_ydata()) > 1e-6].max() * 60
    assert gone == pytest.approx(times.middle, rel=0.02), "the middle line ends at the middle time"
    assert copper.get_figure().get_facecolor() == (1, 1, 1, 1)
    page = draw.picture([copper, warmth], 'so "said"')._repr_html_()
    assert 'alt="so &quot;said&quot;"' in page and "image/png" in page


def test_undiluted_picture_warns_and_shows_the_miss():
    run, alone = curve_only(draws=50), (3.6, 15.0)
    axes = draw.share(run, "Undiluted", alone)[0]
    times = run.band("time_to_clear")
    for text in (axes.get_title(loc="left"), draw.share_words(run, "Undiluted", alone)):
        assert "Do not mix" in text and f"{times.low:.1f} to {times.high:.1f} s" in text
    assert "3.6 s to 15 s" in draw.share_words(run, "Undiluted", alone)
    assert list(axes.lines[-1].get_xdata()) == [3.6, 15.0]
    with pytest.raises(ValueError, match="undiluted"):
        curve_only("stronger")


def test_page_guides_its_reader(stored):
    inputs = next(c.source for c in stored.cells if c.id == "inputs")
    assert inputs.splitlines()[0] == "mild = weak = None", "no stale result"
    assert "use a point, 10.2, never 10,2" in inputs and "1 oz is about 35 µm" in inputs
    assert next(c.source for c in stored.cells if c.cell_type == "code").startswith("# set-up: run this first")
    assert "scroll back up to *What comes out*. A red box means an input is wrong" in stored.cells[0].source
    assert draw.blank(2, 4.4)[0].get_figure().get_size_inches()[1] * 96 < 768 * 0.6, "both plots on a low screen"
