"""The panel of offcuts: a board's time before and after; no amount and no offcut if refused (laws).

What happens to the log's file: test_log_book.
"""

import re

import pytest
from helpers.amounts import amounts
from helpers.own_bench import Tab

from pcbchem.bench.offcut import append_offcuts
from pcbchem.lesson.form import fields
from pcbchem.lesson.own_bench import Bench, panel_of_bottle, panel_of_offcuts
from pcbchem.lesson.own_bench.bench import offcut_like, workshop_plan
from pcbchem.lesson.own_bench.log_book import FIRST_NAME
from pcbchem.lesson.own_bench.offcut_panel import ON_PAPER
from pcbchem.lesson.own_bench.readings import LYE, SODA, row_of
from pcbchem.page.picture import Drawing

from .test_readings import READ, read

REFUSED = {
    "strong": {"acid": 31, "peroxide": 35},
    "never clear": {"water_parts": 30},
    "little bath": {"total": 20, "peroxide": 3},
}
UNFIT = {
    "a used bath": {
        "used_bath": 40,
        "used_copper": 6,
        "used_copper_to": 12,
        "used_acid": 1,
        "used_acid_to": 2,
        "used_peroxide": 0,
        "used_peroxide_to": 0.1,
    },
    "a second portion": {"held_back": 50, "held_until": 2},
}


@pytest.fixture(autouse=True)
def no_pictures(monkeypatch):
    """How its rows are drawn, test_rows_picture says."""
    monkeypatch.setattr(Drawing, "png", lambda *_: b"")


@pytest.fixture
def bench(tmp_path):
    return Bench(tmp_path)


@pytest.fixture
def tab(bench):
    return Tab(panel_of_offcuts(bench))


def write_log(bench, *times, **changes):
    """A log of offcuts like the workshop's board [s]."""
    like = offcut_like(workshop_plan())
    made = {name: getattr(like, name) for name in ("acid", "peroxide", "parts", "volume", "board")}
    made |= {"tray": like.tray, "T_bottles": like.T_bottles} | changes
    rows = [type(like)(**made, time=time, note=str(n)) for n, time in enumerate(times)]
    append_offcuts(bench.folder / FIRST_NAME, *rows)


def ends(words):
    """The two times in "3.1 to 5.4 min" [min]."""
    return tuple(map(float, re.search(r"([\d.]+) to ([\d.]+) min", words).groups()))


# ---- times


def test_law_without_an_offcut_the_labels_say_the_time(tab):
    assert tab.panel.headline.startswith("No offcut yet: ") and not tab.panel.table
    band = workshop_plan().bands["time_to_clear"]
    low, high = ends(tab.panel.headline)
    assert (low, high) == pytest.approx((band.low / 60, band.high / 60), abs=0.051)
    assert "Your board is here the workshop" in tab.panel.head


def test_law_offcuts_narrow_the_band_about_what_was_seen(tab, bench):
    """Three alike, in the same tray and by the same hand, half the board: to 15 %."""
    write_log(bench, 230, 240, 250)
    tab.press("open_log")
    before = ends(tab.panel.headline.partition(" instead of ")[2])
    other_hand = ends(tab.panel.headline)
    tab.enter(hand="yes")
    after = ends(tab.panel.headline)
    assert "Three offcuts: " in tab.panel.headline
    assert before[0] < after[0] < 4.0 < after[1] < before[1]
    assert other_hand[1] / other_hand[0] > after[1] / after[0]
    assert "good to 15 %" in tab.seen() and "Look first after" in tab.seen()
    careful = after
    tab.enter(timed="rough")
    assert ends(tab.panel.headline)[1] >= careful[1]
    assert len(tab.rows()) == 3 and all(row[6] == "yes" for row in tab.rows())


def test_law_a_row_that_does_not_fit_is_marked(tab, bench):
    write_log(bench, 240, 250, 245, 1500)
    tab.press("open_log")
    marked = [row[0].split()[0] for row in tab.rows() if row[6] == "no"]
    assert marked == ["5"] and "does not fit" in tab.rows()[3][0]
    assert "Line 5 does not fit" in tab.panel.head


def test_law_what_is_dangerously_quick_gives_no_time(tab, bench):
    write_log(bench, 240, 20)
    tab.press("open_log")
    said = tab.seen()
    assert "No time from this log." in said and "do not mix it until it is measured" in said
    assert tab.panel.headline == "" and amounts(tab.panel.wrong) == []


def test_law_a_bench_on_which_nothing_clears_is_said_without_a_crash(tab, bench):
    write_log(bench, 14000, 14100, 14200, clear=False)
    said = tab.press("open_log") and tab.seen()
    assert tab.panel.failure is None and "nan" not in said


def test_law_trouble_with_the_file_stands_over_what_was_read_last(tab, bench):
    write_log(bench, 240)
    tab.press("open_log")
    (bench.folder / FIRST_NAME).unlink()
    tab.enter()
    assert "is gone from the folder of this page" in tab.panel.head
    assert tab.panel.headline.startswith("One offcut: ") and len(tab.rows()) == 1


def test_law_other_bottles_than_the_log_s_are_said(tab, bench):
    write_log(bench, 240)
    tab.press("open_log")
    tab.enter(board_acid="<i>new</i>")
    assert "Your log names no acid bottle “<i>new</i>” (it has “acid”)" in tab.seen()
    assert "<i>" not in tab.panel.head and "&lt;i&gt;" in tab.panel.head
    assert tab.panel.failure is None


# ---- the board that is handed over


def hand(tab, **changes):
    return tab.enter(board=fields.STARTS | changes)


def test_law_the_planner_s_board_takes_the_workshop_s_place(tab):
    start = ends(tab.panel.headline)
    hand(tab, foil=2)
    assert "the workshop" not in tab.panel.head and ends(tab.panel.headline)[0] > 1.5 * start[0]
    assert "27 cm²" not in tab.seen() and "13.5 cm² of bare copper" in tab.panel.head


@pytest.mark.parametrize("changes", REFUSED.values(), ids=REFUSED)
def test_law_a_refused_plan_has_no_offcut_and_no_amount(changes, tab, bench):
    """Anywhere on the panel, its log among it, and why."""
    write_log(bench, 240, 250)
    tab.press("open_log")
    assert amounts(tab.seen()), "else there are some"
    said = hand(tab, **changes)
    assert "This bath is refused, and so is an offcut of it: " in said
    assert amounts(said) == [] and not re.search(r"\bmL\b", said)
    assert tab.panel.headline == "" and tab.panel.png == b"" and tab.panel.handed == []
    before = (bench.folder / FIRST_NAME).read_bytes()
    tab.enter(seen="4 min")
    said = tab.press("add_row")
    assert said.startswith("This bath is refused") and amounts(said) == []
    assert (bench.folder / FIRST_NAME).read_bytes() == before
    assert len(tab.rows()) == 2, "its log is not gone"


def test_law_a_bath_that_is_refused_with_the_log_s_bottles_has_no_time(tab, bench):
    """In the log the same bottle may be stronger than the planner has it by now."""
    stronger = fields.plan_from(
        fields.STARTS | {"acid_sure": "between", "acid_low": 9, "acid_to": 36}
    )
    assert stronger.refused, "or this shows nothing"
    write_log(bench, 240, acid=type(stronger.inputs.acid)("HCl", 0.09, 0.36))
    tab.press("open_log")
    said = tab.seen()
    assert "This bath is refused, and so is an offcut of it" in said
    assert "verdict" not in tab.panel.wrong and amounts(tab.panel.wrong + tab.panel.table) == []


@pytest.mark.parametrize("changes", UNFIT.values(), ids=UNFIT)
def test_law_no_offcut_is_like_a_used_bath_or_two_portions(changes, tab, bench):
    tab.press("open_log")
    said = hand(tab, **changes)
    assert "An offcut is etched in a fresh bath in one portion" in said
    assert amounts(said) == [] and "None" not in said and "Bath(" not in said
    tab.enter(seen="4 min")
    assert "a fresh bath in one portion" in tab.press("add_row")
    assert tab.rows() == []


@pytest.mark.parametrize(
    "junk",
    [
        {},
        {"at": 1},
        {"acid": 10},
        {"why": ["x"]},
        [],
        [1],
        5,
        "text",
        fields.STARTS | {"acid": [1, 2]},
        fields.STARTS | {"acid": {"low": 1}},
        fields.STARTS | {"total": -5},
        fields.STARTS | {"acid": "<img src=x>"},
        fields.STARTS | {"place": "nowhere"},
        fields.STARTS | {"water_parts": "3"},
        fields.STARTS | {"foil": None},
        fields.STARTS | {"acid": float("inf")},
    ],
)
def test_law_what_is_no_board_is_said(junk, tab):
    said = tab.enter(board=junk)
    assert tab.panel.failure is None and tab.panel.error == ""
    assert "The board that was handed over cannot be planned: " in tab.panel.wrong
    assert not re.search(r"Traceback|TypeError|AttributeError|object", said)
    tab.enter(seen="4 min")
    assert "Added" not in tab.press("add_row") and tab.panel.failure is None


# ---- readings that the other panel keeps


def test_law_a_kept_reading_counts_here_too(tab, bench):
    """The panel follows: its band moves without a press, and moves back."""
    write_log(bench, 240, 250)
    tab.press("open_log")
    tab.enter(hand="yes")
    start, done = tab.panel.headline, tab.panel.done
    bottle = Tab(panel_of_bottle(bench))
    weaker = row_of(read(LYE, run_in=0.915 * READ[LYE]["run_in"]))
    assert bottle.keep(weaker)["lost"] == []
    assert tab.panel.headline != start and tab.panel.done == done
    bottle.keep()
    assert tab.panel.headline == start


def test_law_readings_that_contradict_give_no_time(tab, bench):
    write_log(bench, 240)
    tab.press("open_log")
    bottle = Tab(panel_of_bottle(bench))
    bottle.keep(
        row_of(read(SODA)), row_of(read(LYE, run_in=READ[LYE]["run_in"] * 1.3, acid_label=13))
    )
    assert "No time from this log." in tab.panel.readout
    assert "doubts apart" in tab.panel.wrong and "Nobody" not in tab.panel.wrong


def test_law_a_bottle_that_was_measured_keeps_its_limits_in_the_log(tab, bench):
    write_log(bench, 240)
    tab.press("open_log")
    said = hand(tab, acid_sure="measured", acid_low=9.8, acid_to=10.3)
    assert "Your log has the acid between 9 and 11 %, the planner between 9.8 and 10.3 %" in said
    assert tab.panel.headline.startswith("One offcut: ")


# ---- how far an answer is


def test_law_new_draws_are_told_while_they_are_made(tab, bench):
    """In order, from nothing to all, before the answer: times far from the labels' force them."""
    write_log(bench, 560, 580, 570, 575, 565, 590)
    tab.sent.clear()
    tab.press("open_log")
    news = [content for content, _ in tab.sent]
    shares = [content["progress"] for content in news if "progress" in content]
    assert len(shares) >= 12, "of each lot of draws: none takes a second"
    assert all(0 <= share <= 1 for share in shares) and shares[-1] == pytest.approx(1, abs=0.05)
    words = [content["words"] for content in news if "progress" in content]
    assert all(re.fullmatch(r"making new draws: \d+ %", each) for each in words)
    first_answer = next(place for place, content in enumerate(news) if "answer" in content)
    told = [place for place, content in enumerate(news) if "progress" in content]
    assert max(told) < first_answer


# ---- as it is kept, printed and swept


def test_law_nothing_of_it_is_kept_in_a_page_or_printed(tab, bench):
    write_log(bench, 240)
    tab.press("open_log")
    state = tab.panel.get_state()
    assert not any(state[name] for name in ("headline", "readout", "table", "notes", "top", "alt"))
    assert repr(tab.panel) == ON_PAPER
    copied = tab.panel.still_forms()["text/html"]
    assert "In this copy no log can be opened" in copied
    assert amounts(re.sub(r'src="[^"]*"', "", copied)) == []


def test_law_every_corner_says_something(tab, bench):
    """With a log of two bottles; texts as long as may be, blank, and as they start."""
    write_log(bench, 240)
    tab.press("open_log")
    count = 0
    for corner in tab.panel.corners():
        # what is asked of one more offcut changes no time
        if not {"hand", "timed", "board_acid", "board_peroxide"} & set(corner) or count == 9:
            continue
        _, words = tab.panel.picture_and_words(count % 4 == 0, **corner)
        assert words.readout and words.alt and words.top and "Error" not in words.wrong
        count += 1
    assert count == 9


def test_law_files_are_offered_as_the_page_can(tab, bench):
    names = {control.name for control in tab.panel.controls}
    assert set(tab.panel.tools) == {"open_log", "take_log", "add_row"} == set(tab.panel.works)
    alone = Tab(panel_of_offcuts(Bench()))
    assert set(alone.panel.tools) == {"open_log", "take_log", "add_row", "bring_log"}
    assert set(alone.panel.works) == set(alone.panel.tools)
    assert {control.name for control in alone.panel.controls} == names
