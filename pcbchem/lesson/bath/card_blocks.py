"""What stands on a card, from top to bottom: each block as HTML, with how high it will be."""

from __future__ import annotations

import html
from collections.abc import Sequence

import numpy as np

from ...bench.hazards.caution import AFTERWARDS, AT_THE_TRAY, BEFORE, GOES_WRONG, LAYERS, Caution
from ...bench.hazards.words import (
    BOTTLES,
    MIXED_ALREADY,
    NO_FIGURE,
    NOBODY,
    OPENING,
    TO_POUR,
    head,
)
from ...bench.plan.planning import Plan
from ...bench.plan.pours import PEROXIDE, SECOND_PORTION
from ...bench.plan.steps import (
    NO_AMOUNTS,
    bath_vessel,
    beforehand,
    board_goes_in,
    cooled,
    how,
    in_all_words,
    measured,
    peroxide_left,
    quantity,
    second_pour,
    tray,
)
from ...bench.plan.steps import amount as amount_and_warmth
from ...bench.plan.words import asked, does
from ...bench.waste.label import GIVES_OFF_GAS, Label, label_of
from ...common.band import Band
from ...common.number_words import capitalised, degrees, figures, span, watch
from ...common.units import mm
from ...reaction.bath.setup import OUNCE_PER_SQUARE_FOOT
from .card_paper import (
    BOLD,
    Block,
    Section,
    Setting,
    blank,
    columns,
    heading_high,
    lines_high,
    list_high,
    listed,
    marked,
    paragraph,
    ticks,
    width_of,
)
from .plan_words import BATH_AFTER, BATH_BEFORE, parts

LARGE = 12.0
"""Least size of what is poured and done [pt]: read at arm's length, through goggles."""
FRAME = 4.1
"""What a frame adds to the height of what it holds [mm]."""
TALLER = 0.5
"""What an amount, larger than the words beside it, adds to its line [mm]."""
STOP_LINE = (AT_THE_TRAY, 2)
"""The caution of what to do at 45 °C: it stands in a frame of its own."""
READY_LINES = ((BEFORE, 3), (BEFORE, 6))
"""The cautions of what to wear and to have ready: here a box to tick for each thing."""
WHAT_IT_DOES, PEROXIDE_LEFT, STRIP, WASTE_LABEL = (0, 1), (0, 2), (0, 3), (0, 4)
"""No cautions: what the bath does in the tray, what may be left in it, the strip to fill in, and
the text for a label."""
LINE_BEFORE, LINE_AFTER = (0, 5), (0, 6)
"""The baths before and after the etch: a line each, for their cautions are none of this bath's."""
CAN_WAIT = (
    STRIP,
    (AT_THE_TRAY, 7),
    WHAT_IT_DOES,
    LINE_AFTER,
    LINE_BEFORE,
    (AFTERWARDS, 3),
    PEROXIDE_LEFT,
    WASTE_LABEL,
    (AT_THE_TRAY, 5),
    (AFTERWARDS, 4),
    (AFTERWARDS, 5),
    (AFTERWARDS, 7),
    (AT_THE_TRAY, 4),
)
"""What the page says too and a full card leaves to it, the first to go first. What is read before a
bottle is opened, all if it goes wrong, when to watch, stop and run, what goes back into no bottle
and down no drain, how long to stay and what never to close up are none of it."""
READY = (
    "sealed goggles, not glasses",
    "face shield to pour",
    "nitrile or neoprene gloves",
    "plastic tongs",
    "apron, long sleeves, closed shoes",
    "running water for 30 minutes close by",
    "thermometer without metal",
    "tray larger than the board, in a larger, empty tub",
    "cold water",
    "rinse dish, plenty of rinse water",
    "clock",
    "labels",
    "peroxide strips",
    "baking soda",
    "telephone",
    "a waste container your hazardous-waste site takes",
)
"""What to wear and have ready, a box each: the words of `READY_LINES`, and a clock."""
LABEL_HEADING = "Text for the label of the waste."
CONTENTS = "Used etching bath: copper chloride, hydrochloric acid, hydrogen peroxide."
CLASSES = "{signal}. Pictograms: {names}. {words} (as of {as_of})."
HANDLING = (
    "Burns: water, 30 minutes. No drink, no children near. No metal, no glass, nothing added."
)
WHAT_BECOMES_OF_IT = f"{GIVES_OFF_GAS} Never down the drain: to the hazardous-waste site."
"""Text for the label of the waste: what is in it, how it is called, how to keep it, what becomes of
it."""
TRAY = "tray larger than the board"
"""What `READY` calls the tray."""
THIS_ONE = "For these bottles, this board and this {} alone: anything else needs a new card."
"""With what the bath stands in."""
PERMISSION = "The verdict is no permission; local rules come first."
FOOT = (
    ("date", "date", 8),
    ("acid_bottle", "acid bottle", 13),
    ("peroxide_bottle", "peroxide bottle", 13),
    ("clear_after_s", "clear after, s", 12),
    ("not_clear_after_s", "not clear after, s", 14),
    ("", "warmest, °C", 12),
    ("note", "note", 28),
)
"""What is filled in at the foot: column of the log of offcuts, words, width [%]. The log has no
column for the warmest: it goes into the note."""


def large(size: float) -> float:
    """Return the size of what is poured and done beside small print of a size [pt]."""
    return max(LARGE, size + 2)


def blocks_of(plan: Plan, setting: Setting, left_out: Sequence[tuple[int, int]]) -> list[Block]:
    """Write every block of a card, from top to bottom.

    Parameters
    ----------
    plan : Plan
        Refused or not.
    setting : Setting
        Size of its small print and width of its paper.
    left_out : sequence of tuple
        What there is no room for, of `CAN_WAIT`.
    """
    blocks = top(plan, setting)
    if plan.refused:
        wrong = lines_of(plan, GOES_WRONG)
        # of one that only would not do the job nobody has to run
        if plan.harmful:
            wrong.insert(0, f"**{MIXED_ALREADY}**")
        section = Section(LAYERS[GOES_WRONG], wrong)
        return [*blocks, before(plan, setting), columns([section], setting)]
    blocks += [
        before(plan, setting, left_out),
        ticks("Have ready.", things_ready(plan), setting),
        pouring(plan, setting),
        in_the_tray(plan, setting, left_out),
    ]
    blocks.append(rest(plan, setting, left_out))
    if STRIP not in left_out:
        blocks.append(foot())
    return blocks


def lines_of(plan: Plan, layer: int, left_out: Sequence[tuple[int, int]] = ()) -> list[str]:
    """List the cautions of a layer that stand on the card, each complete in itself."""
    return [
        caution.words
        for caution in plan.cautions
        if caution.layer == layer and place_of(caution) not in left_out
    ]


def place_of(caution: Caution) -> tuple[int, int]:
    """Return layer and line of a caution."""
    return caution.layer, caution.number


def things_ready(plan: Plan) -> list[str]:
    """List what to wear and have ready: a board that stands upright stands in a tank."""
    if bath_vessel(plan.inputs) != "tank":
        return list(READY)
    return [thing.replace(TRAY, "tank deeper than the board is high") for thing in READY]


# What stands on it, from top to bottom


def top(plan: Plan, setting: Setting) -> list[Block]:
    """Write the verdict, what to take care of, the law, and the plan's own inputs."""
    verdict = html.escape(head(plan.verdict, plan.harmful).rstrip(":"))
    beside = f'<p class="small">{marked(PERMISSION)}<br>{marked(NO_FIGURE)}</p>'
    date = "" if plan.refused else blank("Date")
    # a refusal without harm has a longer heading, of two lines
    high = 7.3 if plan.harmful or not plan.refused else 14.5
    blocks = [Block(f'<div class="top"><h1>{verdict}</h1>{date}{beside}</div>', high)]
    # of any other the cautions below say it in full, as they do in the words of a plan
    if plan.refused:
        first = BOTTLES
        if plan.harmful:
            first = f"{NOBODY} {BOTTLES}"
        blocks.append(paragraph(first, setting, "first"))
    lines = [f"{capitalised(reason.words)}." for reason in plan.reasons]
    lines += [line.words for line in plan.law]
    if lines:
        blocks.append(Block(listed(lines), list_high(lines, setting.width, setting.size) + 1.0))
    words = inputs_of(plan)
    framed = Block(
        f'<div class="inputs">{marked(words)}</div>',
        lines_high(words, setting.width - 4, setting.size) + 1.9,
    )
    return [*blocks, framed]


def inputs_of(plan: Plan) -> str:
    """Say what the plan is for [% by weight, mm, cm², oz, °C]: no amount of liquid."""
    inputs, board = plan.inputs, plan.inputs.board
    labels = [
        f"{name} {figures(100 * bottle.label, 4)} %"
        for name, bottle in (("acid", inputs.acid), ("peroxide", inputs.peroxide))
        if bottle.label is not None
    ]
    words = f"**For:** {asked(inputs, plan.school)}"
    if labels:
        words += f" Labels: {', '.join(labels)}."
    foil = float(np.asarray(board.foil.areal_mass)) / OUNCE_PER_SQUARE_FOOT
    words += f" Foil {figures(foil, 3)} oz"
    if board.width is not None and board.height is not None and board.bare is not None:
        sides = [float(np.asarray(side)) / mm for side in (board.width, board.height)]
        size = " × ".join(figures(side, 3) for side in sides)
        share = 100 * float(np.asarray(board.bare))
        words += f", board {size} mm, {figures(share, 3)} % of it bare"
    words += f". Parts by volume: {parts(plan)}."
    words += f" Bath {inputs.tray.agitation}, copper {inputs.tray.facing}."
    if plan.refused:
        return f"{words} Place: {inputs.place}."
    alone = THIS_ONE.format(bath_vessel(plan.inputs))
    return f"{words} {tray(inputs, plan.school)} Place: {inputs.place}. {alone}"


def before(plan: Plan, setting: Setting, left_out: Sequence[tuple[int, int]] = ()) -> Block:
    """Write what to read before a bottle is opened: all that has no box to tick."""
    without = TO_POUR if plan.refused else READY_LINES
    more = "All of them, with sources, stand under the plan"
    # what stands in no layer is no caution
    if any(layer for layer, _ in left_out):
        more = "Not all of them fit on this card: first read them all under the plan"
    lines = lines_of(plan, BEFORE, without)
    if not plan.refused and LINE_BEFORE not in left_out:
        # below what bottles and who opens them, before the air
        lines.insert(2, BATH_BEFORE)
    block = columns([Section("", lines)], setting)
    heading = (
        f'<div class="wide"><h2>{html.escape(OPENING[plan.refused])}</h2> '
        f'<p class="small">{html.escape(more)}</p></div>'
    )
    text = f"<section>{heading}{block.html}</section>"
    return Block(text, block.height + heading_high(setting.size))


def pouring(plan: Plan, setting: Setting) -> Block:
    """Write what is poured, in order [mL], a box each, and how warm it then is [°C].

    What has to be seen to beforehand has a box too, as large: nobody pours past it.
    """
    inputs, letters = plan.inputs, large(setting.size)
    at_once = [stage for stage in plan.stages if stage.what != SECOND_PORTION]
    volumes = [""] * len(plan.stages)
    in_all = NO_AMOUNTS
    if not plan.school:
        millilitres = measured([stage.volume for stage in plan.stages])
        volumes = [quantity(volume, inputs) for volume in millilitres]
        in_all = in_all_words(plan, millilitres)
    firsts = [words for words in beforehand(inputs).split("\n\n") if words]
    steps = [(f"**{words}**", "", "") for words in firsts]
    for number, stage in enumerate(at_once, 1):
        warm = ""
        # what is poured first is as warm as its bottle, and after a wait nobody knows how warm
        waits = stage.what == PEROXIDE and number > 1 and cooled(at_once[number - 2], inputs)
        if stage.temperature is not None and number > 1 and not waits:
            warm = f"then at {degrees(stage.temperature)}"
        words = f"{number}. {stage.what}, {how(at_once, number, inputs)}"
        steps.append((words, volumes[number - 1], warm))
    steps.append((f"{len(at_once) + 1}. {board_goes_in(inputs)}", "", ""))
    # a second portion says its amount in its sentence, with its condition
    later = zip(plan.stages[len(at_once) :], volumes[len(at_once) :], strict=True)
    for number, (stage, volume) in enumerate(later, len(at_once) + 2):
        words = second_pour(stage, amount_and_warmth(stage, volume))
        steps.append((f"{number}. {words}", "", ""))
    rows = "".join(row(*step) for step in steps)
    # a used bath is topped up where it is
    vessel = "jug" if inputs.used_bath is None else bath_vessel(plan.inputs)
    heading = f"Into the {vessel}, in this order. {in_all}"
    text = f'<section class="do"><h2>{marked(heading)}</h2><table>{rows}</table></section>'
    high = FRAME + lines_high(heading, setting.inside, BOLD * letters) + 0.8
    return Block(text, high + sum(rows_high(steps, setting.inside, letters)))


def rows_high(steps: Sequence[tuple[str, str, str]], inside: float, letters: float) -> list[float]:
    """Return how high each step is [mm]: words in what room amounts and temperatures leave."""
    amounts = max(
        width_of(volume.replace("**", ""), BOLD * 1.15 * letters) for _, volume, _ in steps
    )
    warmths = max(width_of(warm, letters) for _, _, warm in steps)
    high = []
    for words, volume, warm in steps:
        width = inside - 10.0
        more = 1.0
        if volume or warm:
            width -= amounts + warmths + 4.0
            more += TALLER
        high.append(lines_high(words, width, letters) + more)
    return high


def row(words: str, volume: str = "", warm: str = "") -> str:
    """Write one step: its box, what is done, how much [mL], how warm it then is [°C]."""
    if not (volume or warm):
        return f'<tr><td class="box"></td><td colspan="3">{marked(words)}</td></tr>'
    return (
        f'<tr><td class="box"></td><td>{marked(words)}</td><td class="much">{marked(volume)}</td>'
        f'<td class="warm">{marked(warm)}</td></tr>'
    )


def in_the_tray(plan: Plan, setting: Setting, left_out: Sequence[tuple[int, int]]) -> Block:
    """Write when to look [s in], when to lift out, and when to stop."""
    letters = large(setting.size)
    look = look_words(plan)
    sentences = []
    if WHAT_IT_DOES not in left_out:
        sentences.append(does(plan).replace("**", ""))
    if plan.resist_life is None:
        sentences.append("How long resist stands it nobody knows.")
    else:
        life = span(Band.of(plan.resist_life, 2))
        sentences.append(f"Resist stands it {life} (common practice).")
    course = " ".join(sentences)
    stop = " ".join(caution.words for caution in plan.cautions if place_of(caution) == STOP_LINE)
    heading = f"In the {bath_vessel(plan.inputs)}."
    text = (
        f'<section class="do"><h2 class="run">{heading}</h2> {blank("Board in at")} '
        f'{marked(look)}<p class="plain">{marked(course)}</p>'
        f'<p class="stop"><strong>{marked(stop)}</strong></p></section>'
    )
    # the line to write on is as wide as so many spaces
    blanks = "Board in at" + " " * 24
    high = FRAME + lines_high(f"{heading} {blanks} {look}", setting.inside, 1.02 * letters)
    high += lines_high(course, setting.inside, setting.size) + 0.5
    high += lines_high(stop, setting.inside - 7, BOLD * letters) + 1.6
    return Block(text, high)


def look_words(plan: Plan) -> str:
    """Write when to look first and how often then [s in], and when to lift the board out."""
    if plan.first_look is None or plan.over_etch is None:
        return "Look often."
    then = "then often"
    # plans from before it was worked out have none
    every = getattr(plan, "look_every", None)
    if every is not None:
        then = f"then every **{watch(every)}**"
    more = span(Band.of(plan.over_etch, 2))
    return (
        f"Look first after **{watch(plan.first_look)}**, {then}. **Lift out when clear all over**; "
        f"{more} more clears the last corners."
    )


def rest(plan: Plan, setting: Setting, left_out: Sequence[tuple[int, int]]) -> Block:
    """Write the other cautions, the bath after the etch, and the label of the waste."""
    at_the_tray = lines_of(plan, AT_THE_TRAY, (*left_out, STOP_LINE))
    afterwards = lines_of(plan, AFTERWARDS, left_out)
    if PEROXIDE_LEFT not in left_out:
        afterwards.insert(0, peroxide_left(plan))
    if LINE_AFTER not in left_out:
        at_the_tray.append(BATH_AFTER)
    under = Block("", 0.0)
    if WASTE_LABEL not in left_out:
        under = waste_label(plan, setting)
    return columns(
        [
            Section(f"At the {bath_vessel(plan.inputs)}", at_the_tray),
            Section(LAYERS[GOES_WRONG], lines_of(plan, GOES_WRONG, left_out)),
            Section(LAYERS[AFTERWARDS], afterwards, under),
        ],
        setting,
    )


def label_lines(plan: Plan) -> tuple[str, ...]:
    """Say what is in the waste of a plan, its signal word, pictogram names and classes."""
    return tub_lines(label_of(plan))


def tub_lines(tub: Label) -> tuple[str, ...]:
    """Say what is in a used bath, its signal word, pictogram names and classes, and what to do."""
    words = capitalised("; ".join(tub.class_words))
    names = ", ".join(tub.pictograms) or "none"
    classes = CLASSES.format(signal=tub.signal, names=names, words=words, as_of=tub.as_of)
    # what has no signal word begins with its pictograms
    return CONTENTS, classes.removeprefix(". "), HANDLING, WHAT_BECOMES_OF_IT


def waste_label(plan: Plan, setting: Setting) -> Block:
    """Write the text for the label of the waste, with a place for the date."""
    # one running text: a line for each would take the room of the strip to fill in
    words = " ".join(label_lines(plan))
    text = (
        f'<div class="label"><strong>{LABEL_HEADING}</strong> {blank("Date")} {marked(words)}</div>'
    )
    # the line to write on is as wide as so many spaces
    whole = f"{LABEL_HEADING} Date{' ' * 24} {words}"
    high = lines_high(whole, setting.column - 4.5, setting.size)
    return Block(text, high + 3.5)


def foot() -> Block:
    """Write the strip to fill in [s, °C], as the log of offcuts has its columns."""
    cells = ""
    for _, words, width in FOOT:
        cells += f'<td style="width:{width}%">{html.escape(words)}</td>'
    return Block(f'<footer><table class="strip"><tr>{cells}</tr></table></footer>', 8.3)
