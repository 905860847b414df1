"""The panel of offcuts: a board's time before and after; no amount and no offcut if refused (laws).

What happens to the log's file: test_log_book.
"""

import html
import re

import pytest
from helpers.amounts import amounts
from helpers.own_bench import Tab

from pcbchem.bench.offcut import append_offcuts, read_log
from pcbchem.lesson.form import fields
from pcbchem.lesson.own_bench import Bench, panel_of_bottle, panel_of_offcuts
from pcbchem.lesson.own_bench.bench import offcut_like, workshop_plan
from pcbchem.lesson.own_bench.log_book import FIRST_NAME
from pcbchem.lesson.own_bench.offcut_form import CLEAR, HOT, LIFTED_HOT, NOT_CLEAR, OTHER
from pcbchem.lesson.own_bench.offcut_panel import NO_MORE, OFFCUT_HANDED, ON_PAPER
from pcbchem.lesson.own_bench.offcut_words import MAKING
from pcbchem.lesson.own_bench.readings import LYE, SODA, row_of
from pcbchem.page.picture import Drawing
from pcbchem.page.widget.controls import Carried, Text

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
    assert "good to 15 %" in tab.seen()
    assert "Look at the copper first after" in tab.panel.readout
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
    """And with the time go the offcut, the way to plan one, and every amount of the log."""
    hand(tab)
    assert tab.panel.handed != [{}]
    write_log(bench, 240, 20)
    tab.press("open_log")
    said = tab.seen()
    assert "No time from this log." in said and "do not mix it until it is measured" in said
    assert tab.panel.headline == "" and amounts(tab.panel.wrong) == []
    assert len(tab.rows()) == 2 and amounts(tab.panel.table) == []
    assert tab.panel.handed == [{}] and tab.panel.head == ""


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
    hand(tab)
    tab.enter(board_acid="<i>new</i>")
    assert "Your log names no acid bottle “<i>new</i>” (it has “acid”)" in tab.seen()
    assert "<i>" not in tab.panel.head and "&lt;i&gt;" in tab.panel.head
    # what an offcut of them would tell nobody knows, but it may be planned
    assert "would leave" not in tab.seen() and "too shallow" not in tab.panel.head
    assert tab.panel.handed != [{}]
    assert tab.panel.failure is None


# ---- the board that is handed over


def hand(tab, **changes):
    return tab.enter(board=fields.STARTS | changes)


def test_law_the_planner_s_board_takes_the_workshop_s_place(tab):
    start = ends(tab.panel.headline)
    hand(tab, foil=2)
    assert "the workshop" not in tab.panel.head and ends(tab.panel.headline)[0] > 1.5 * start[0]
    assert "of acid of 10 % and peroxide of 12 %" in tab.panel.head, "how strong they are to be"
    assert "Your board is that of the planner, 27 cm² bare." in tab.panel.head
    assert "13.5 cm² of bare copper" in tab.panel.head


def test_law_of_the_workshop_s_board_there_is_no_recipe(tab):
    """Its reader has other bottles: no amount, and no way to plan it."""
    assert "With other bottles the same parts can be violent" in tab.panel.head
    assert amounts(tab.panel.head + tab.panel.notes) == [] and tab.panel.handed == [{}]
    hand(tab)
    assert amounts(tab.panel.head) and tab.panel.handed != [{}]


def test_law_an_offcut_like_the_board_is_planned_as_half_of_it(tab):
    """The planner takes it: half the bare copper and bath, in the same tray, and as strong."""
    hand(tab, tray_width=130, tray_length=110, foil=2)
    (handed,) = tab.panel.handed
    assert handed["why"] == OFFCUT_HANDED
    board = fields.plan_from(fields.STARTS | {"tray_width": 130, "tray_length": 110, "foil": 2})
    offcut = fields.plan_from({name: handed[name] for name in handed if name != "why"})
    half, whole = offcut.inputs, board.inputs
    assert float(half.board.copper_area) == pytest.approx(float(whole.board.copper_area) / 2)
    assert half.bath_per_area == pytest.approx(whole.bath_per_area, rel=1e-3)
    assert (half.tray.open_area, half.parts) == (whole.tray.open_area, whole.parts)
    assert (half.acid.high, half.T_bottles) == (whole.acid.high, whole.T_bottles)
    assert not offcut.refused


def test_law_in_no_tray_an_offcut_keeps_the_board_s_depth(tab):
    hand(tab)
    (handed,) = tab.panel.handed
    open_area = float(offcut_like(workshop_plan()).tray.open_area)
    # to the printed figure of each side: a tenth of a millimetre
    sides = handed["tray_width"] * handed["tray_length"] * 1e-6
    assert sides == pytest.approx(open_area, rel=1e-3)


def test_law_in_a_shallow_tray_no_offcut_is_like_the_board(tab):
    """27 cm² in 150 mL lie 5 mm deep on 200 × 150 mm, half of it 2.5 mm: that is refused."""
    hand(tab, tray_width=200, tray_length=150)
    assert "too shallow in its tray" in tab.panel.head and tab.panel.handed == [{}]
    assert amounts(tab.panel.head) == [] and "An offcut like your board" not in tab.panel.head
    assert "like the board would leave" not in tab.seen()
    half = {"bare": 30, "total": 75, "tray_width": 200, "tray_length": 150}
    assert fields.plan_from(fields.STARTS | half).refused


@pytest.mark.parametrize("changes", [{"foil": 2}, {"air": 28, "bottles": 28}])
def test_law_a_plan_with_care_says_so_over_its_amounts(changes, tab):
    plan = fields.plan_from(fields.STARTS | changes)
    assert plan.verdict == "with care" and plan.reasons, "or this shows nothing"
    hand(tab, **changes)
    head = html.unescape(tab.panel.head)
    amount = head.index("13.5 cm² of bare copper in")
    assert head.index("The planner says: Mix it, with care: ") < amount
    assert all(head.index(reason.words) < amount for reason in plan.reasons)
    assert ".." not in head and ":." not in head


def test_law_a_plan_without_care_ends_in_one_full_stop(tab):
    hand(tab)
    assert "The planner says: Mix it.</p>" in tab.panel.head


@pytest.mark.parametrize("changes", REFUSED.values(), ids=REFUSED)
def test_law_a_refused_plan_has_no_offcut_and_no_amount(changes, tab, bench):
    """Anywhere on the panel, its log among it, and why."""
    write_log(bench, 240, 250)
    tab.press("open_log")
    assert amounts(tab.seen()), "else there are some"
    said = hand(tab, **changes)
    assert "This bath is refused, and so is an offcut of it: " in said
    assert amounts(said) == [] and not re.search(r"\bmL\b", said)
    assert tab.panel.headline == "" and tab.panel.png == b"" and tab.panel.handed == [{}]
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


# ---- one more row

STRONG = {
    "recipe": OTHER,
    "acid_low": 31.0,
    "acid_to": 33.0,
    "peroxide_low": 34.0,
    "peroxide_to": 35.0,
    "acid_bottle": "A",
    "peroxide_bottle": "P",
}
"""Acid of 32 % and peroxide of 35 %: no plan takes them one to one."""


def test_law_a_time_far_from_all_expected_is_doubted(tab):
    """Under its field, before it is added; half and twice what is expected are not."""

    def doubt(seen, **values):
        tab.enter(seen=seen, **values)
        assert tab.panel.failure is None
        return tab.panel.read_as.get("seen", "")

    low, high = (60 * end for end in ends(doubt("1 s")))
    assert "no further offcut and no board, until it is measured" in doubt("1 s")
    for seconds in (0.52 * low, low, high, 1.9 * high):
        assert "expected" not in doubt(f"{seconds:.0f} s")
    assert "stronger than its label" in doubt(f"{0.4 * low:.0f} s")
    slow = doubt(f"{2.2 * high:.0f} s")
    assert "Add nothing to the bath, and warm nothing" in slow and "stronger" not in slow
    assert "expected" not in doubt("1 s", outcome=NOT_CLEAR), "not yet clear is not quick"
    assert doubt("") == "" and "expected" not in doubt("soon")


def test_law_a_row_of_a_refused_bath_gets_no_time(tab, bench):
    """It stays in the log, marked, without an amount; a row beside it keeps its own."""
    write_log(bench, 240)
    tab.press("open_log")
    said = tab.enter(seen="4 min", **STRONG) and tab.panel.read_as["seen"]
    assert "The planner refuses this bath: it gets no time here" in said
    assert "expected to be clear" not in said and amounts(said) == []
    assert tab.press("add_row").startswith("Added: line 3")
    mild_row, strong = tab.rows()
    assert "refused" in strong[0] and amounts(strong[2]) == [] and strong[3] == "4 min"
    assert strong[4:] == ["", "", ""]
    assert "refused" not in mild_row[0] and amounts(mild_row[2])


def test_law_after_one_that_got_hot_nothing_is_offered(tab, bench):
    """It is a row like any other that was not clear, and says why."""
    hand(tab, tray_width=120, tray_length=120)
    tab.press("open_log")
    assert tab.panel.handed != [{}] and "would leave" in tab.seen()
    tab.enter(seen="3 min", outcome=HOT, note="foam")
    assert tab.press("add_row").endswith(NO_MORE)
    (offcut,) = read_log(bench.folder / FIRST_NAME).offcuts
    assert (offcut.time, offcut.clear) == (180, False)
    assert offcut.note == f"{LIFTED_HOT}; foam"
    for _ in range(2):
        assert NO_MORE in tab.panel.head and tab.panel.handed == [{}]
        assert "would leave" not in tab.seen() and amounts(tab.panel.head) == []
        assert "too shallow" not in tab.panel.head, "that is not why"
        tab.enter(outcome=CLEAR, seen="4 min")
    assert tab.panel.values["outcome"] == CLEAR


@pytest.mark.parametrize("in_folder", [True, False])
def test_law_how_a_row_is_mended_is_said_where_a_log_is_open(in_folder, bench):
    tab = Tab(panel_of_offcuts(bench if in_folder else Bench()))
    assert "To mend a row" not in tab.panel.notes
    tab.press("open_log")
    how = "in the list of files" if in_folder else "take my_offcuts.csv with you"
    assert "To mend a row" in tab.panel.notes and how in tab.panel.notes
    assert "a time that was seen stays, above all one that was too quick" in tab.panel.notes


def test_as_printed_what_a_blank_field_is_written_as(tab):
    """The workshop's: both at 20 °C, rocked, face up; another board's are its own."""
    blank = "What you leave blank is written as your board has it: bottles {}, copper {}."
    assert blank.format("20 °C, air 20 °C, rocked", "up") in tab.panel.notes
    hand(tab, bottles=15, air=12, agitation="still", facing="down")
    assert blank.format("15 °C, air 12 °C, still", "down") in tab.panel.notes


def test_law_a_reset_takes_neither_board_nor_log_away(tab):
    """All else goes back to its start."""
    (board,) = (each for each in tab.panel.controls if isinstance(each, Carried))
    kept = [each.name for each in tab.panel.controls if isinstance(each, Text) and each.stays]
    assert (board.name, kept) == ("board", ["log"])


# ---- readings that the other panel keeps


def test_law_beside_a_reading_that_disagrees_no_offcut_is_offered(tab, bench):
    """Until the planner has it: then there is one again."""
    hand(tab)
    bottle = Tab(panel_of_bottle(bench))
    stronger = row_of(read(SODA, soda=0.3, acid_label=15))
    assert bottle.keep(stronger)["lost"] == []
    (acid,) = bench.readings["HCl"]
    assert acid.middle > 0.14, "the plan has 9 to 11 %"
    assert "Take it to the planner and plan again" in tab.panel.head
    assert tab.panel.handed == [{}] and amounts(tab.panel.head) == []
    assert "would leave" not in tab.seen()
    bottle.keep(row_of(read(SODA)))
    assert amounts(tab.panel.head) and tab.panel.handed != [{}]
    bottle.keep()
    assert amounts(tab.panel.head) and tab.panel.handed != [{}]


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
    # how far it is stands beside them as a bar
    assert {content["words"] for content in news if "progress" in content} == {MAKING}
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
