"""House rules of the written pages: they state what the package computes, and their Python runs."""

import csv
import re

import numpy as np
import pytest
from PIL import Image

from house.reference import (
    BLOCKS,
    NARROW_TRAY,
    PAGES,
    README_LINES,
    REFERENCE,
    ROOT,
    filled,
    marks,
    warmest_day_after,
)
from house.source import python_of, text_of
from pcbchem.bench.hazards.caution import LAYERS
from pcbchem.bench.hazards.law import LOOK_UP
from pcbchem.lesson import trust
from pcbchem.reaction.bath.plausible import FACTS
from pcbchem.reaction.bath.reported import reports

README = ROOT / "README.md"
MOST_LINES, LONGEST_LINE = 152, 165
MOST_WORDS = 20
"""Words in a sentence of the job."""
MOST_FIRST_WORDS = 300
"""Words of DEVELOPERS.md up to a first change."""
HEADINGS = [
    "Open the planner",
    "Pass the tests",
    "The lessons",
    "For a class",
    "What it cannot know",
    "Before you touch a bottle",
    "The verdict, and how far to trust it",
    "Use it from Python",
    "Licences",
]


def table(name):
    """Read a table of the package, without the package."""
    with (ROOT / "pcbchem" / "data" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def plain(text):
    """Return a text with every run of blanks and line ends as one blank."""
    return " ".join(text.split())


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_law_a_page_holds_its_computed_parts(page):
    assert filled(text_of(page)) == text_of(page), "run: python tests/house/reference.py"


def test_law_every_computed_part_stands_once():
    names = [name for page in PAGES for name in marks(text_of(page))]
    assert sorted(names) == sorted(BLOCKS)


def test_law_a_changed_part_is_seen():
    text = text_of(README)
    assert filled(text.replace("Never alone.", "Alone.")) == text
    assert filled(text.replace("Never alone.", "Alone.")) != text.replace("Never alone.", "Alone.")


def test_law_no_caution_is_lost():
    page = plain(text_of(REFERENCE / "cautions.md"))
    for name in ("cautions", "method_cautions", "bath_cautions", "public_limits"):
        for row in table(name):
            assert plain(row["words"]) in page, row
            above = row.get("words_above") or ""
            limit = row.get("limit_percent_by_weight")
            if limit != "inf":  # where no limit is known no bottle is above it
                assert plain(above.format(strength="…", limit=limit)) in page, row
            assert row["as_of"] in page, row


def test_law_the_page_of_cautions_has_every_layer_as_a_heading():
    text = text_of(REFERENCE / "cautions.md")
    headings = re.findall(r"^## (.*)$", text, flags=re.MULTILINE)
    # who looks up a first aid has no time to read anything before it
    assert headings[0] == LAYERS[4]
    assert set(LAYERS.values()) - {LAYERS[LOOK_UP]} <= set(headings)


def test_law_no_limit_of_what_is_breathed_is_lost_or_undated():
    page = text_of(REFERENCE / "cautions.md")
    section = page.split("## Limits of what is breathed\n")[1].split("\n## ")[0]
    assert "healthy grown people" in section and "They permit nothing" in section
    lines = [line.split(" | ") for line in section.splitlines() if line.startswith("| ")][2:]
    rows = table("air_limits")
    for cells, row in zip(lines, rows, strict=True):
        substance, place, kind, value, words, year, source, status = cells
        assert [substance, place, kind] == [f"| {row['substance']}", row["place"], row["kind"]]
        assert row["limit"] in value and words == row["words"] and source
        assert re.fullmatch(r"\d{4}", year) and status == f"{row['status']} |"


def test_law_no_rule_and_no_fact_is_lost():
    page = text_of(REFERENCE / "rules.md")
    for row in table("verdict_rules"):
        assert f"| {row['name']} | {row['verdict']} | {row['kind']} |" in page, row["name"]
    for row in table("leave_one_out"):
        assert f"| {row['fact']} |" in page, row["fact"]


# What the page of rules says of its tables in words


def test_prose_of_the_misses():
    text = plain(text_of(REFERENCE / "rules.md"))
    facts = trust.leave_one_out().values()
    outcomes = [re.split("[(:]", fact["how it came out"])[0].strip() for fact in facts]
    edge, off = "agrees, at the edge", "the middle misses"
    assert outcomes == ["a miss", off, "the middle agrees", off, edge, edge]
    middles = [float(row["middle"]) for row in table("leave_one_out")]
    assert middles[0] > 2 and "on the slow side" in text
    assert middles[1] < 60 and "the middle is too fast" in text
    assert 4.0 < middles[3] < 4.4 and "The strong layer is a little high" in text
    assert "The other three agree, two of them at the edge." in text


def test_prose_of_the_first_edition_beside():
    """The undiluted mixture and 3 : 1 : 1 are nearer now, the strong layer is worse."""
    facts = trust.leave_one_out().values()
    words = [fact["first edition"].partition(": ")[2] for fact in facts]
    inside = "inside both times"
    assert words == ["better now", "better now", inside, "worse now", inside, inside]


def test_prose_one_report_is_met_and_two_are_slower():
    text = plain(text_of(REFERENCE / "rules.md"))
    assert "One lies in its band; for the others the model is slower." in text
    bands = [report.band() for report in reports()]
    met = [report.is_met(band) for report, band in zip(reports(), bands, strict=True)]
    assert met == [True, False, False]
    for report, band in zip(reports()[1:], bands[1:], strict=True):
        assert band.low > report.high


def test_prose_in_a_narrower_tray_the_bath_gets_hotter():
    assert warmest_day_after(tray_mm=(300, 200)) < warmest_day_after(tray_mm=NARROW_TRAY)
    assert warmest_day_after() < warmest_day_after(tray_mm=NARROW_TRAY)


def test_prose_nobody_chose_by_the_weak_layer():
    """Facts that choose have limits; that of the weak layer are open."""
    chosen = [fact.name for fact in FACTS]
    assert len(chosen) == 4 and not any(name.startswith("weak ") for name in chosen)


def test_prose_the_largest_group_is_guessed():
    counts = {status: row["how many"] for status, row in trust.statuses().items()}
    assert max(counts, key=counts.get) == "assumed"
    assert sum(counts.values()) == len(table("parameters"))


def test_law_the_readme_shows_its_cautions_word_for_word():
    page = plain(text_of(README))
    for layer, number in README_LINES:
        rows = [row for row in table("cautions") if row["layer"] == str(layer)]
        words = [row["words"] for row in rows if row["no"] == str(number)]
        # of what is left over the first of them alone
        if (layer, number) == (3, 6):
            words = words[:1]
        assert words and plain(" ".join(words)) in page, (layer, number)
    assert "(notebooks/reference/cautions.md)" in page
    # what stops a bath, what bursts, a drain, an eye, a choking breath, and a spill
    assert {(2, 2), (2, 3), (3, 2), (3, 6), (4, 1), (4, 4), (4, 6)} <= set(README_LINES)


def test_law_the_readme_names_every_miss():
    # computed here a second time: the strongest mixture is what people get hurt by
    page = plain(text_of(README))
    for row in table("leave_one_out"):
        low, middle, high = (float(row[name]) for name in ("low", "middle", "high"))
        seen_low, seen_high = float(row["seen_low"]), float(row["seen_high"])
        if low > seen_high:
            words = f"a miss: {low / seen_high:.1f} to {high / seen_high:.1f} times what was seen"
        elif middle > seen_high:
            words = f"the middle misses: {middle / seen_high:.2f} times"
        elif middle < seen_low:
            words = f"the middle misses: {middle / seen_low:.2f} times"
        else:
            continue
        assert f"*{row['fact']}* ({words}" in page, row["fact"]
    assert "*undiluted* (a miss: " in page, "a band all beyond what was seen is no near thing"


def test_law_the_readme_is_short_and_in_its_order():
    text = text_of(README)
    lines = text.splitlines()
    assert len(lines) <= MOST_LINES
    assert [line for line in lines if len(line) > LONGEST_LINE] == []
    assert re.findall(r"^## (.*)$", text, flags=re.MULTILINE) == HEADINGS


def test_law_the_first_paragraph_of_the_readme_is_the_job():
    job, danger = text_of(README).split("\n\n")[1:3]
    sentences = re.split(r"(?<=[.?!])\s+", plain(job))
    assert [words for words in sentences if len(words.split()) > MOST_WORDS] == []
    assert danger.startswith("**Danger") and "\n" not in danger


def test_law_a_newcomer_reads_little_before_a_first_change():
    text = text_of(ROOT / "DEVELOPERS.md").split("\n## The house")[0]
    assert len(text.split()) <= MOST_FIRST_WORDS
    for command in ("pip install -e", "-m pytest", "ruff check", "mypy"):
        assert command in text


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_law_every_link_of_a_page_leads_somewhere(page):
    targets = re.findall(r"\]\(([^)#]+)", text_of(page))
    assert [name for name in targets if not (page.parent / name).exists()] == []


def without_search(block):
    """Return a block of Python without its search, which takes seconds and has its own tests."""
    lines = block.splitlines()
    return "\n".join(line for line in lines if not line.startswith("print(leanest("))


def test_law_the_python_of_the_readme_runs(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    names = {}
    # one block after the other, as a reader pastes them
    for block in python_of(text_of(README)):
        assert len(block.splitlines()) <= 9
        exec(without_search(block), names)
    assert "mix it" in capsys.readouterr().out.lower()
    times = names["lot"]["time_to_clear"]
    assert len(times) == 13 * 13 and (times > 0).all()


def draw_artwork(path):
    """Write an artwork of 20 × 10 mm at 600 pixels per inch: three black lines, 1 mm wide."""
    pixels = np.full((236, 472), 255, np.uint8)
    for left in (100, 200, 300):
        pixels[40:200, left : left + 24] = 0
    Image.fromarray(pixels).save(path, dpi=(600, 600))


def test_law_the_python_of_the_own_bench_runs(tmp_path, monkeypatch, capsys):
    # one block after the other, as a reader pastes them
    monkeypatch.chdir(tmp_path)
    draw_artwork(tmp_path / "board.png")
    names = {}
    for block in python_of(text_of(REFERENCE / "own_bench.md")):
        exec(block, names)
    words = capsys.readouterr().out
    assert "On this bench 8 of 10 plausible baths clear this board in" in words
    assert "a trace drawn 0.2 mm wide keeps" in words
    # where the system keeps a lock as a file, it stays beside the log
    files = {path.name for path in tmp_path.iterdir()} - {".offcuts.csv.lock"}
    assert files == {"board.png", "offcuts.csv"}


def test_law_no_page_shows_python_that_nobody_runs():
    pages = {page.name for page in PAGES if python_of(text_of(page))}
    assert pages == {"README.md", "own_bench.md"}


def test_law_the_drawing_has_every_module_and_table_once():
    drawing = re.search(r"```text\n(.*?)```", text_of(ROOT / "DEVELOPERS.md"), re.DOTALL)[1]
    words = [word for line in drawing.splitlines() for word in line.replace("data:", "").split()]
    package = ROOT / "pcbchem"
    modules = [path.stem for path in package.rglob("*.py") if path.stem[0] != "_"]
    names = modules + [path.stem for path in (package / "data").glob("*.csv")]
    # a topic's question may use a name as a word, and a table may have the name of its module
    assert [name for name in set(names) if words.count(name) < names.count(name)] == []


def test_law_where_things_stand_they_stand():
    """Every path in the table of what a newcomer looks for is a file or a folder."""
    text = text_of(ROOT / "DEVELOPERS.md")
    rows = re.search(r"\| you look for .*?\n\n", text, re.DOTALL)[0]
    paths = [path for path in re.findall(r"`([\w./]+/[\w./]+)`", rows)]
    assert len(paths) > 8
    for path in paths:
        places = [ROOT / path, ROOT / "pcbchem" / path, ROOT / "pcbchem" / f"{path}.py"]
        assert any(place.exists() for place in places), path
