"""What the panel of offcuts says: time before and after, which offcut next, and the log's table."""

from __future__ import annotations

import dataclasses
import html

import numpy as np

from ...bench.hazards.words import head
from ...bench.offcut import Narrowing, Offcut
from ...bench.offcut.board_time import WIDER
from ...bench.offcut.calibration import ABOUT_TIME, FLAG
from ...bench.offcut.likelihood import TENTH, bottles_of, expected_times
from ...bench.offcut.offcut import LARGE
from ...bench.plan.planning import Plan
from ...common.arrays import MOST_DRAWS
from ...common.band import Band
from ...common.limits import collecting_warnings
from ...common.number_words import capitalised, clock, figures, ratio_of, span, watch
from ...common.units import ZERO_C, minute, mL
from ...page.widget.controls import Table
from ...reaction.bath.parameters import shipped_draws
from ...reaction.bath.setup import ROOM
from .bench import Bench, Finding, is_refused, readings_disagree
from .log_book import LogBook, counted
from .rows_picture import Row

MAKING = "making new draws"
"""What is being done while the page waits."""
GRAIN = 0.05
"""A share of a width that is expected to be left is good to about so much [-]."""
FAR = 2.0
"""A time so many times sooner or later than all that is expected may be a slip [-] (our choice)."""
HOPEFUL = 1.08
"""Calibrations of offcuts that were made up leave so many times the width that is expected of them,
whose few draws tell too much [-] (measured: see the test of it)."""
WORTH = 0.9
"""An offcut that would leave more of the width than this is hardly worth it [-] (our choice)."""
WORKSHOPS = (
    "<p>This is the workshop's tide clock in its mild bath, of {}. With other bottles the same "
    "parts can be violent. For your own board open "
    '<a href="00_plan_a_bath.ipynb">the planner</a> and press its link “Offcuts of this board”.</p>'
)
OTHER_BOTTLES = (
    "<p><strong>A reading that you keep lies outside the bottles of this plan. Take it to the "
    "planner and plan again: until then no offcut is offered.</strong></p>"
)
NO_MORE = (
    "It was lifted out at 45 °C: no further offcut and no board in such a bath. Plan again, weaker."
)
NONE_LIKE = (
    "No offcut like your board is offered: half of the bath would be too shallow in its tray, too "
    "little or too much. Take a narrower tray or more bath, and plan again. Never top up a bath."
)
STOP = (
    "Stop at two like the board: each leaves half a board's bath as waste, open for days. Your "
    "first ever had better be a small one, or one with more water: it teaches your hands."
)
SLIP_ALONE = (
    "Mend only a slip of the pen: a time that was seen stays, above all one that was too quick."
)
MEND = (
    "To mend a row, open {name} in a text editor (in the list of files: right click, Open With, "
    "Editor), change its line, save it, and press “Open it” again."
)
MEND_TAKEN = (
    "To mend a row, take {name} with you, change its line in a text editor, and open it again."
)
BAD, UNFIT, REFUSED = "bad row", "does not fit", "refused"
"""Marks of rows."""
HEAD = ("line", "date", "offcut", "seen", "expected before", "expected now", "fits")
NUMBERS = {1: "One", 2: "Two", 3: "Three", 4: "Four", 5: "Five", 6: "Six"}


@dataclasses.dataclass(frozen=True)
class Words:
    """What stands with the picture."""

    title: str
    headline: str
    readout: str
    alt: str
    head: str
    notes: str


def no_time_words(error: ValueError) -> str:
    """Say why a log gives no time, in the package's words."""
    return f"{capitalised(str(error))}."


def offcuts_words(count: int) -> str:
    """Write a number of offcuts: "Three offcuts", "1 offcut" is "One offcut"."""
    thing = "offcut" if count == 1 else "offcuts"
    return f"{NUMBERS.get(count, str(count))} {thing}"


def rows_of(plan: Plan, finding: Finding | None) -> list[Row]:
    """Return the picture's rows: labels alone, the offcuts, and what one more would leave [min]."""
    before = plan.bands["time_to_clear"]
    rows = [_row("labels alone", before)]
    if finding is None:
        return rows
    now = before
    count = len(finding.calibration.offcuts)
    if count:
        now = finding.own.time
        rows.append(_row(f"your {offcuts_words(count).lower()}", now))
    for test in finding.tests[:3]:
        rows.append(_after(test, now, plan))
    return rows


def _row(name: str, time: Band) -> Row:
    """Return the row of a band of times [s] in minutes."""
    low, middle, high = (float(end) / minute for end in (time.low, time.middle, time.high))
    return Row(name, low, middle, high, span(time))


def _after(test: Narrowing, now: Band, plan: Plan) -> Row:
    """Return the band [s] that one more offcut is expected to leave, in minutes, dashed."""
    middle = float(now.middle)
    share = left_of(test, plan, now)
    low = middle * (float(now.low) / middle) ** share
    high = middle * (float(now.high) / middle) ** share
    words = f"would leave about {100 * share:.0f} %"
    return Row(
        f"{one_more(now, plan)} {test_name(test.offcut, plan)}",
        low / minute,
        middle / minute,
        high / minute,
        words,
        dashed=True,
    )


def one_more(now: Band, plan: Plan) -> str:
    """Say "one" of the first offcut, and "one more" of any other; the band shown is `now` [s]."""
    return "one" if now is plan.bands["time_to_clear"] else "one more"


def next_words(best: Narrowing, plan: Plan, now: Band) -> str:
    """Say what the most telling offcut would leave of the band that is shown now [s]."""
    share = left_of(best, plan, now)
    worth = "" if share < WORTH else ": hardly worth it"
    return (
        f"{capitalised(one_more(now, plan))} {test_name(best.offcut, plan)} would leave "
        f"about {100 * share:.0f} % of the width of that band{worth}."
    )


def left_of(test: Narrowing, plan: Plan, now: Band) -> float:
    """Return how much of its width [-] the band that is shown [s] would keep after a test."""
    share = test.share
    if now is plan.bands["time_to_clear"]:
        # with the first offcut the ends are drawn farther apart, see `wider`
        share *= WIDER
    share *= HOPEFUL
    # no better known than that
    return min(GRAIN * round(share / GRAIN), 1.0)


def test_name(offcut: Offcut, plan: Plan) -> str:
    """Name an offcut by what is special about it."""
    is_small = offcut.board.copper_area < LARGE * plan.inputs.board.copper_area * (1 - 1e-9)
    water = offcut.parts[0] - plan.inputs.parts[0]
    if is_small:
        return f"of {figures(1e4 * float(offcut.board.copper_area))} cm² in a dish"
    if water > 0:
        part = "part" if water == 1 else "parts"
        return f"with {figures(water)} {part} more water"
    return "like the board"


def finding_words(
    bench: Bench, plan: Plan, finding: Finding, book: LogBook, is_workshops: bool, trouble: str
) -> Words:
    """Say what the log tells of the board [s]."""
    before, own = plan.bands["time_to_clear"], finding.own
    count = len(finding.calibration.offcuts)
    best = finding.tests[0] if finding.tests else None
    if count:
        title = f"{offcuts_words(count)}: {span(own.time)} instead of {span(before)}"
    else:
        title = f"No offcut yet: {span(before)} by the labels alone"
    headline = f"{title}."
    sentences = [look_words(plan, own.first_look)]
    if best is not None:
        sentences.append(next_words(best, plan, own.time if count else before))
    warnings = [*finding.remarks, *own.warnings]
    if trouble:
        warnings.insert(0, trouble)
    above = like_words(bench, plan, finding, is_workshops)
    if book.was_hot:
        above = f"<p><strong>{html.escape(NO_MORE)}</strong></p>"
    if own.transfer.sentences:
        above += f"<p>{html.escape(' '.join(own.transfer.sentences))}</p>"
    above += "".join(
        f'<p class="pcbchem-care"><strong>{html.escape(words)}</strong></p>' for words in warnings
    )
    below = "".join(f"<p>{html.escape(words)}</p>" for words in (blank_words(plan), STOP))
    notes = f"{below}{mend_words(book)}<p>{html.escape(ABOUT_TIME)}</p>"
    rows = rows_of(plan, finding)
    alt = f"{title}. Rows: {'; '.join(f'{row.name}, {row.words}' for row in rows)}."
    return Words(title, headline, " ".join(sentences), alt, above, notes)


def look_words(plan: Plan, first_look: float) -> str:
    """Say when to look at the copper first [s], and how often from then on."""
    words = f"Look at the copper first after {watch(first_look)}"
    if plan.look_every is not None:
        words += f", then every {watch(plan.look_every)}"
    return f"{words}; at bath and thermometer all the time."


def blank_words(plan: Plan) -> str:
    """Say what a row is written with where a field is left blank, in the units of the log."""
    tray, bottles = plan.inputs.tray, plan.inputs.T_bottles - ZERO_C
    air = ROOM if tray.T_air is None else float(np.asarray(tray.T_air))
    return (
        "What you leave blank is written as your board has it: bottles "
        f"{bottles:.0f} °C, air {air - ZERO_C:.0f} °C, {tray.agitation}, copper {tray.facing}."
    )


def mend_words(book: LogBook) -> str:
    """Say how a row is mended, where a log is open, as HTML."""
    if not book.is_open:
        return ""
    words = MEND_TAKEN if book.folder is None else MEND
    return f"<p>{html.escape(words.format(name=book.name))} {html.escape(SLIP_ALONE)}</p>"


def doubt_of_time(offcut: Offcut) -> str:
    """Doubt the time of an offcut that is far from all that is expected of it; "" where it is not.

    Before any offcut is counted: by the bottles as they are said to be.
    """
    assert offcut.time is not None
    if is_refused(offcut):
        return "The planner refuses this bath: it gets no time here. Do not etch it again."
    bottles = bottles_of([offcut])
    strengths = {
        name: np.asarray(bottle.strengths(MOST_DRAWS, 0)) for name, bottle in bottles.items()
    }
    with collecting_warnings():
        times = expected_times([offcut], dict(shipped_draws()), strengths)[0]
    time = Band.of(times, MOST_DRAWS)
    expected = f"Such an offcut is expected to be clear after {span(time)}."
    if offcut.clear and offcut.time * FAR < time.low:
        return (
            f"{expected} If your time is right, a bottle is stronger than its label: no further "
            "offcut and no board, until it is measured."
        )
    if offcut.time > FAR * time.high:
        return f"{expected} Is the time right? Add nothing to the bath, and warm nothing."
    return ""


def like_words(bench: Bench, plan: Plan, finding: Finding, is_workshops: bool) -> str:
    """Say how an offcut like the board is etched, as HTML, if there is one to be offered.

    Of the workshop's board no amount: its reader has other bottles.
    """
    if is_workshops:
        return WORKSHOPS.format(bottles_words(plan))
    if readings_disagree(bench, plan):
        return OTHER_BOTTLES
    bare = figures(1e4 * float(plan.inputs.board.copper_area), 3)
    verdict = head(plan.verdict, plan.harmful)
    words = f"Your board is that of the planner, {bare} cm² bare. The planner says: {verdict}"
    cares = "; ".join(reason.words for reason in plan.reasons)
    if cares:
        words += f" {cares}."
    lines = f"<p>{html.escape(words)}</p>"
    for test in finding.tests:
        if test_name(test.offcut, plan) == "like the board":
            return (
                lines
                + f"<p>{html.escape(recipe_words(test, plan, finding.calibration.spread))}</p>"
            )
    if finding.has_like:
        return lines  # of bottles that the log does not name: it may be planned, see the link
    return lines + f"<p>{html.escape(NONE_LIKE)}</p>"


def bottles_words(plan: Plan) -> str:
    """Say how strong the bottles of a plan are, by their labels or their stronger ends."""
    acid, peroxide = (
        f"{100 * (bottle.label or bottle.high):.3g} %"
        for bottle in (plan.inputs.acid, plan.inputs.peroxide)
    )
    return f"acid of {acid} and peroxide of {peroxide}"


def recipe_words(test: Narrowing, plan: Plan, spread: float) -> str:
    """Say how an offcut is etched, and when it should be seen clear [s], times so good [-]."""
    offcut = test.offcut
    copper = figures(1e4 * float(offcut.board.copper_area), 3)
    return (
        f"An offcut like your board: {copper} cm² of bare copper in "
        f"{figures(offcut.volume / mL, 3)} mL, {ratio_of(offcut.parts)} (water : acid : peroxide) "
        f"of {bottles_words(plan)}, in the board's own tray or one just like it. You "
        f"should see it clear after {span(as_seen(test.time, spread))}: clear is when the last "
        "bare copper is gone. Lay the thermometer flat in the bath. Plan it before you mix it: the "
        "link stands above. Then the board gets a fresh bath, and not this one."
    )


def log_table(book: LogBook, finding: Finding | None, has_amounts: bool = True) -> Table | None:
    """Return the log row by row, bad rows in their place; None where no log is open.

    Beside a refused bath there are no amounts, and none of a row that would be refused, nor a time
    that is expected of it: nothing of that is to be mixed.
    """
    if not book.is_open:
        return None
    log = book.log
    bad = dict(log.bad)
    if finding is not None:
        bad |= dict(finding.calibration.bad)
    rows: dict[int, tuple[list[str], str]] = {}
    for line, reason in bad.items():
        rows[line] = (
            [str(line), "", reason, "", "", "", "does not count"],
            BAD,
        )
    for line, offcut in zip(log.lines, log.offcuts, strict=True):
        if line not in bad:
            refused = not has_amounts or is_refused(offcut)
            bath = ratio_of(offcut.parts) if refused else bath_words(offcut)
            cells = [str(line), offcut.date, bath, seen_words(offcut), "", "", ""]
            rows[line] = (cells, REFUSED if has_amounts and refused else "")
    if finding is not None:
        _fill_in(rows, finding)
    lines = sorted(rows)
    return Table(
        caption=f"{book.name}: {counted(log)}",
        head=HEAD,
        rows=tuple(tuple(rows[line][0]) for line in lines),
        marks=tuple(rows[line][1] for line in lines),
    )


def _fill_in(rows: dict[int, tuple[list[str], str]], finding: Finding) -> None:
    """Write into the rows of a log what was and is expected of them [s], and whether they fit."""
    calibration = finding.calibration
    for place, line in enumerate(calibration.lines):
        cells, mark = rows[line]
        if mark == REFUSED:
            continue
        spread = calibration.spread
        cells[4] = span(as_seen(_band(calibration.times_before[place]), spread))
        cells[5] = span(as_seen(_band(calibration.times_after[place]), spread))
        fits = calibration.slips[place] <= FLAG
        cells[6] = "yes" if fits else "no"
        rows[line] = (cells, "" if fits else UNFIT)


def _band(times: np.ndarray) -> Band:
    """Return low, middle and high times [s] as a band."""
    return Band.of([float(time) for time in times], 3)


def as_seen(time: Band, spread: float) -> Band:
    """Return when an offcut should be *seen* clear [s]: the doubt of a seen time [-] is in it.

    A band of true times holds too few of the times that are seen.
    """
    if not np.isfinite(time.high):
        return time
    ends = []
    for end in (time.low, time.high):
        way = np.log(float(end) / float(time.middle))
        wider = np.hypot(way, TENTH * spread)
        ends.append(float(time.middle) * float(np.exp(np.copysign(wider, way))))
    return dataclasses.replace(time, low=np.array(ends[0]), high=np.array(ends[1]))


def bath_words(offcut: Offcut) -> str:
    """Write what an offcut was etched in: copper, parts, bath, tray and bottles."""
    copper = figures(1e4 * float(offcut.board.copper_area), 3)
    words = f"{copper} cm² in {ratio_of(offcut.parts)}, {figures(offcut.volume / mL, 3)} mL"
    if offcut.tray.open_area is not None:
        words += f" on {figures(1e4 * float(np.asarray(offcut.tray.open_area)), 3)} cm²"
    return f"{words}; {offcut.acid_bottle}, {offcut.peroxide_bottle}"


def seen_words(offcut: Offcut) -> str:
    """Write what was seen of an offcut."""
    assert offcut.time is not None
    if offcut.clear:
        return watch(offcut.time) if offcut.time >= 1 else clock(offcut.time)
    return f"not clear after {watch(offcut.time)}"
