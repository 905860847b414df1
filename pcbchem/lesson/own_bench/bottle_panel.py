"""The bottle: fields of a reading, what it says beside the label, and readings that are kept."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Mapping, Sequence
from typing import Any

from ...bench.bottle import Bottle, Strength
from ...common.limits import InputError
from ...common.number_words import capitalised
from ...common.units import percent
from ...page.picture import Drawing
from ...page.table import Table
from ...page.widget.controls import Group, Link, PanelWords
from ...page.widget.panel import Panel
from ...page.widget.works import Beside
from ..pages import PLANNER_PAGE
from .bench import NAMES, Bench
from .cautions import method_cautions_html
from .readings import (
    CHOICE,
    LABEL_FIELDS,
    LABELS,
    METHODS,
    READING_FIELDS,
    VESSELS,
    expected_gas,
    missing,
    read_words,
    row_of,
    strength_of,
)
from .rows_picture import Row, build, draw

TENTH = 1.2816
"""So many standard deviations from the middle lie the ends of 8 in 10 of a normal spread [-]."""
PLACE = "readings"
"""Under which a browser keeps the readings."""
TO_PLANNER = "Take these strengths to the planner"
FROM_BENCH = (
    "Filled in from your own bench: {}. A plan takes all strengths between two ends alike, so they "
    "lie a little farther out than 8 in 10."
)
ON_PAPER = "Your own bench: readings of a bottle are not printed. They stay in your browser."
FILL_IN = "Fill in what you measured: "
FRESH = "A fresh bottle with its label needs none of this."
FADED = (
    "Far below its label: it may have faded, or a dilution was left out. Keep it, and measure it a "
    "second way: then the two are believed. Until then no offcut is offered: plan with the label."
)
NO_LABEL = "What does the label say?"
CONTROLS = (
    Group("Your bottle", (CHOICE, *LABEL_FIELDS)),
    Group("What you read", (*READING_FIELDS, VESSELS)),
)
"""From top to bottom."""


def panel_of_bottle(bench: Bench) -> Panel:
    """Make the panel of a bottle: a reading, the label beside it, and what is kept.

    Parameters
    ----------
    bench : Bench
        Takes the kept readings; the panel of offcuts counts them too.

    Returns
    -------
    Panel
        Its readings stay in the reader's browser.
    """

    def show(drawing: Drawing, **values: Any) -> PanelWords:
        return say(drawing, bench, values)

    def show_rows(
        rows: Sequence[Mapping[str, Any]], _: Mapping[str, Any]
    ) -> tuple[str, str, Sequence[int]]:
        return take_rows(bench, rows)

    def handed(**_: Any) -> dict[str, Any]:
        return to_planner(bench)

    return Panel(
        "Your own bench: the bottle",
        CONTROLS,
        build,
        show,
        beside=Beside(
            PLACE,
            show_rows,
            keep="Keep this reading",
            heading="Readings kept",
            file="readings.csv",
            redraws=True,
            puts_back=False,
        ),
        links=(Link(TO_PLANNER, PLANNER_PAGE, handed),),
        on_paper=ON_PAPER,
        copied=in_copy,
    )


def say(drawing: Drawing, bench: Bench, values: Mapping[str, Any]) -> PanelWords:
    """Say what a reading, and those that are kept, tell of the bottle."""
    method = METHODS[values["method"]]
    substance = method.substance
    top = method_cautions_html("Your bottle", method.cautions)
    how = f"<p>{method.how} {FRESH}</p>"
    axis = f"{NAMES[substance]} in the bottle, % by weight (8 in 10)"
    if values[LABELS[substance]] is None:
        draw(drawing, [], axis)
        readout = f"{FILL_IN}{'; '.join(missing(values))}."
        alt = f"{readout} Then the label and what you read stand here as rows on one axis."
        return PanelWords(readout, alt, how, headline=NO_LABEL, notes=KEPT_HERE, top=top)
    label = percent(values[LABELS[substance]])
    rows = [label_row(substance, label)]
    gas = ""
    reading: Strength | None = None
    doubt = ""
    try:
        gas = expected_gas(values)
        if not missing(values):
            reading = strength_of(row_of(values))
            doubt = doubt_of_label(reading, label)
            rows.append(reading_row("this reading", reading))
        kept = bench.readings[substance]
        rows += [reading_row(f"kept: {reading_name(strength)}", strength) for strength in kept]
        together = bench.strength(substance)
    except ValueError as error:
        words = capitalised(str(error))
        return PanelWords("No strength yet.", f"No strength yet. {words}", wrong=words, top=top)
    if together is not None and len(kept) > 1:
        rows.append(reading_row("kept ones together", together))
    fading = ", for peroxide fades" if substance == "H2O2" else ""
    by_label = f"The label, {100 * label:.3g} %, may mean {rows[0].words}{fading}"
    if reading is not None:
        name = capitalised(reading_name(reading))
        headline = f"{name}: {rows[1].words}."
        title = f"{name} says {rows[1].words}. {by_label}"
    elif together is not None:
        headline = f"Kept: {rows[-1].words}."
        title = f"Kept readings say {rows[-1].words}. {by_label}"
    else:
        headline = f"{by_label}."
        title = f"The {NAMES[substance]}, by its label alone. {by_label}"
    draw(drawing, rows, axis)
    sentences = [gas]
    if headline != f"{by_label}.":
        sentences.insert(0, f"{by_label}.")
    lacking = missing(values)
    if lacking:
        sentences.append(f"{FILL_IN}{'; '.join(lacking)}.")
    elif doubt:
        sentences.append(doubt)
    else:
        sentences.append(said_of_doubt(reading, rows))
    readout = " ".join(sentence for sentence in sentences if sentence)
    alt = f"{title}. Rows: {'; '.join(f'{row.name}, {row.words}' for row in rows)}."
    return PanelWords(
        readout,
        alt,
        how,
        headline=headline,
        notes=KEPT_HERE,
        row=row_of(values) if reading is not None else None,
        top=top,
    )


def doubt_of_label(reading: Strength, label: float) -> str:
    """Say that peroxide is far below its label [kg/kg], which one way alone does not show; or "".

    Such a reading is kept, for only with a second one can the two be believed.

    Raises
    ------
    InputError
        A reading that cannot tell, or that its label belies: one of the two is a mistake.
    """
    try:
        reading.bottle(label)
    except InputError:
        has_faded = reading.tells and reading.substance == "H2O2" and reading.middle < label
        if not has_faded:
            raise
        return FADED
    return ""


def label_row(substance: str, label: float) -> Row:
    """Return the row of a label [kg/kg]: 8 in 10 of all that it may mean."""
    bottle = Bottle.labelled(substance, label)
    margin = 0.1 * (bottle.high - bottle.low)
    low, high = 100 * (bottle.low + margin), 100 * (bottle.high - margin)
    return Row(f"label: {100 * label:.3g} %", low, (low + high) / 2, high, ends_words(low, high))


def reading_row(name: str, strength: Strength) -> Row:
    """Return the row of a reading [%]: 8 in 10 of where the truth may lie."""
    low, middle, high = (
        100 * (strength.middle + way * TENTH * strength.doubt) for way in (-1, 0, 1)
    )
    return Row(name, low, middle, high, ends_words(low, high))


def ends_words(low: float, high: float) -> str:
    """Write both ends of a band of strengths [%]: "9.8 to 10.3 %".

    Examples
    --------
    >>> print(ends_words(9.77, 10.31))
    9.8 to 10.3 %
    """
    # as many decimals as tell the two apart
    decimals = max(1, -math.floor(math.log10(max(high - low, 1e-3))))
    return f"{low:.{decimals}f} to {high:.{decimals}f} %"


def reading_name(strength: Strength) -> str:
    """Return how a reading was measured, in few words."""
    return SHORT.get(strength.method, strength.method)


def said_of_doubt(reading: Strength | None, rows: Sequence[Row]) -> str:
    """Say what a reading tells beside its label, and which of its numbers is most in doubt."""
    if reading is None or not reading.shares:
        return KEEP
    label, this = rows[0], rows[1]
    no_narrower = this.high - this.low >= ALIKE * (label.high - label.low)
    tells = "It tells no more than the label does. " if no_narrower else ""
    name, share = max(reading.shares, key=lambda pair: pair[1])
    return (
        f"{tells}{100 * share:.0f} % of its doubt comes of one number, the {WORDS_OF[name]}. {KEEP}"
    )


ALIKE = 0.9
"""A band at least so wide as another's is no narrower to speak of [-] (our choice)."""
KEEP = "Keep it, and it counts with your offcuts below; or take it to the planner."
KEPT_HERE = (
    "<p>Each band holds the truth in 8 of 10 cases, if its doubts are right: a balance good to "
    "1 mg (soda) or 10 mg (weighing), samples and dilutions by syringe. A label's band is common "
    "practice, not measured. Kept readings stay in this browser, also when the page is closed. "
    "They are of one bottle: with a new one, or on somebody else's computer, take them away "
    "first.</p>"
)
SHORT = {
    "titration with washing soda": "washing soda",
    "titration with lye": "lye",
    "oxygen over water": "gas",
}
"""What the page calls a way to measure, where the package says more."""
WORDS_OF = {
    "mass": "mass",
    "volume": "volume",
    "T": "temperature",
    "equation": "table of densities",
    "purity": "purity of the soda",
    "dilution": "dilution",
    "concentration": "strength of the lye",
    "titrant": "lye that ran in",
    "sample": "sample",
    "gas": "gas",
    "p": "air pressure",
    "T_gas": "temperature of the gas",
}
"""What the page calls the readings behind a strength."""


def take_rows(bench: Bench, rows: Sequence[Mapping[str, Any]]) -> tuple[str, str, list[int]]:
    """Count the kept readings: their table, their CSV, and the places of those that are none.

    Parameters
    ----------
    bench : Bench
        Is told of them.
    rows : sequence of mapping
        As the browser kept them.
    """
    readings: dict[str, list[Strength]] = {substance: [] for substance in NAMES}
    labels: dict[str, float] = {}
    lost = []
    table: dict[str, dict[str, Any]] = {}
    for place, row in enumerate(rows):
        try:
            strength = strength_of(row)
            label = percent(row[LABELS[strength.substance]])
            doubt_of_label(strength, label)
        except (ValueError, KeyError, TypeError, AttributeError):
            lost.append(place)
            continue
        readings[strength.substance].append(strength)
        labels[strength.substance] = label
        table[str(len(table) + 1)] = {
            "bottle": NAMES[strength.substance],
            "measured": reading_name(strength),
            "read": read_words(row),
            "8 in 10, % by weight": reading_row("", strength).words.removesuffix(" %"),
            "label, %": f"{100 * label:.3g}",
        }
    bench.keep(readings, labels)
    return _html(table), _csv(table), lost


def _html(table: Mapping[str, Mapping[str, Any]]) -> str:
    """Write kept readings as a table; nothing of it where there are none."""
    return Table(table)._repr_html_() if table else ""


def _csv(table: Mapping[str, Mapping[str, Any]]) -> str:
    """Write kept readings as a file for a spreadsheet."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    for row in table.values():
        if not text.tell():
            writer.writerow(row)
        writer.writerow(row.values())
    return text.getvalue()


def to_planner(bench: Bench) -> dict[str, Any]:
    """Return the planner's values of every bottle that was measured; nothing where none was.

    Of a bottle that was never measured here nothing is handed over: the planner keeps its own. Of
    one whose readings were taken away it is the label, for a planner may still hold them.
    """
    values: dict[str, Any] = {}
    words = []
    for substance, name in NAMES.items():
        try:
            strength = bench.strength(substance)
            if strength is None:
                values |= label_alone(bench, substance)
                words.append(f"{name} not measured, as it stands below")
                continue
            bottle = strength.bottle(bench.labels[substance])
        except InputError:
            # the page says what is wrong with it
            words.append(f"{name} as it stands below, for its readings do not settle it")
            continue
        assert bottle.label is not None
        low, high = (round(100 * end, 2) for end in (bottle.low, bottle.high))
        values |= {
            name: round(100 * bottle.label, 4),
            f"{name}_in": "% by weight",
            f"{name}_sure": "measured",
            f"{name}_low": low,
            f"{name}_to": high,
        }
        likely = reading_row("", strength).words
        words.append(f"{name} {likely} (8 in 10), here between {low:g} and {high:g} %")
    if not any(bench.readings.values()) or not values:
        return {}
    return values | {"why": FROM_BENCH.format("; ".join(words))}


def label_alone(bench: Bench, substance: str) -> dict[str, Any]:
    """Return the planner's values of a bottle whose readings were taken away, by its label."""
    label = bench.last_labels.get(substance)
    if label is None:
        return {}
    name = NAMES[substance]
    return {
        name: round(100 * label, 4),
        f"{name}_in": "% by weight",
        f"{name}_sure": "label",
    }


def in_copy(drawing: Drawing) -> PanelWords:
    """Draw and say what stands for the panel in a copy without Python: a label alone."""
    rows = [label_row("HCl", 0.10)]
    title = f"The acid, by its label alone: {rows[0].words}"
    draw(drawing, rows, "acid in the bottle, % by weight (8 in 10)")
    return PanelWords("In this copy nothing can be measured: run the page.", title)
