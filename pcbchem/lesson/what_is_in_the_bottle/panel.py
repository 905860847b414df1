"""Page 01's first panel: two mixtures, each as it is poured and what is in it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...common.units import mL, percent
from ...page.picture import Drawing, sheet_of
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, Link, PanelWords
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from ..pages import PLANNER_PAGE
from ..workshop import USUAL, tide_clock
from .numbers import FIRST, MILD, PEROXIDES, STRONG, WEAKEST, Mixture, content, plan_of, second
from .picture import Beside, Frame
from .predictions import ASKED, guesses
from .texts import read_it
from .words import (
    DRAWN_ONLY,
    NAMES,
    answer_words,
    bottle_words,
    label_words,
    moles,
    parts_words,
    question_words,
)

HEIGHT, NARROW_HEIGHT = 4.0, 7.15
"""Of the picture [inch]."""
FRAMES = (Frame(0.15, 0.35, 2.35, 1.18, 0.5), Frame(4.05, 0.35, 2.35, 1.18, 0.5))
"""Where A and B stand on a wide page [inch]."""
NARROW_FRAMES = (Frame(0.15, 3.75, 2.0, 1.0, 0.55), Frame(0.15, 0.35, 2.0, 1.0, 0.55))
"""Where they stand on a telephone: one over the other [inch]."""
TO_PLANNER = "Take mixture B to the planner"


def mixtures_panel(prediction: Prediction | None = None, school: bool = False) -> Panel:
    """Make the panel of two mixtures, B from bottles to choose.

    Parameters
    ----------
    prediction : Prediction, optional
        What is in B waits for it. None: it is shown.
    school : bool
        Without the way to the planner.

    Returns
    -------
    Panel
        Only a mixture of mild bottles that is not refused leads to the planner.
    """
    peroxides = {f"{strength:g}": label_words(strength) for strength in PEROXIDES}
    acids = {f"{STRONG:g}": f"{STRONG:g} % (20 °Bé), {DRAWN_ONLY}", f"{MILD:g}": f"{MILD:g} %"}
    controls = [
        Choice("peroxide", "Peroxide of B", peroxides, f"{WEAKEST:g}"),
        Choice("acid", "Acid of B", acids, f"{STRONG:g}"),
    ]
    links = () if school else (Link(TO_PLANNER, PLANNER_PAGE, planner_values),)
    return Panel("Two mixtures", controls, build, show, prediction=prediction, links=links)


def build(narrow: bool) -> Drawing:
    """Make both mixtures, empty: side by side, or one over the other."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    # every place is given below: nothing is laid out by itself
    sheet.set_layout_engine("none")
    axes = sheet.add_axes((0, 0, 1, 1))
    # one unit of these axes is one inch
    axes.set(xlim=(0, sheet.get_figwidth()), ylim=(0, sheet.get_figheight()))
    axes.set_axis_off()
    frames = NARROW_FRAMES if narrow else FRAMES
    first, other = (
        Beside(axes, frame, name, size) for frame, name in zip(frames, "AB", strict=True)
    )
    moving = (*first.moving, *other.moving, title)
    return Drawing(sheet, moving, mixtures=(first, other), title=title, narrow=narrow)


def show(drawing: Drawing, peroxide: str, acid: str, predicted: str | None = WITHOUT) -> PanelWords:
    """Draw both mixtures and say them; what is in B waits until something is `predicted`."""
    mixture = second(float(acid), float(peroxide))
    is_known = predicted is not None
    first, other = drawing.parts["mixtures"]
    draw(first, FIRST, True, is_known)
    draw(other, mixture, is_known, is_known)
    guessed = None
    # what was asked is asked of these bottles alone
    if mixture == ASKED:
        guessed = guesses().get(predicted or "")
    other.draw_guess(guessed)
    first.draw_guess(None)
    words = answer_words(mixture) if is_known else question_words(mixture)
    title = words.title
    if drawing.parts["narrow"]:
        title = title.replace(". ", ".\n", 1)
    drawing.parts["title"].set_text(title)
    notes = as_html(read_it()) if is_known else ""
    remark = ""
    if predicted in guesses() and mixture != ASKED:
        remark = "Your prediction was about the bottles of the question."
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)


def draw(picture: Beside, mixture: Mixture, is_known: bool, with_water: bool) -> None:
    """Draw one mixture as it is poured, and what is in it where that `is_known`.

    `with_water`: how much of each liquid is water is drawn too; it would tell the answer.
    """
    refused = is_known and plan_of(mixture).refused
    not_water = None
    if with_water:
        not_water = {
            "water": 0.0,
            "acid": percent(mixture.acid),
            "peroxide": percent(mixture.peroxide),
        }
    layers = poured(mixture)
    picture.draw_poured(parts_words(mixture), bottle_words(mixture), layers, refused, not_water)
    if not is_known:
        picture.draw_question()
        return
    inside = content(mixture)
    labels = (f"acid\n{moles(inside.acid)}", f"peroxide\n{moles(inside.peroxide)}")
    picture.draw_inside(inside.shares, labels)


def poured(mixture: Mixture) -> list[tuple[float, str]]:
    """Return the parts of a mixture [-] with their names, in the planner's order of pouring."""
    parts = dict(zip(NAMES, mixture.parts, strict=True))
    return [(parts[stage.what], stage.what) for stage in plan_of(mixture).stages]


def planner_values(peroxide: str, acid: str) -> Mapping[str, Any]:
    """Return what the planner's fields are filled with: nothing of a drawn or refused mixture.

    Parameters
    ----------
    peroxide, acid : str
        Strengths of the bottles of B [% by weight].

    Returns
    -------
    dict
        Values of the planner's controls [% by weight, parts, mL], and why they are so.
    """
    mixture = second(float(acid), float(peroxide))
    if mixture.only_drawn or plan_of(mixture).refused:
        return {}
    _, acid_parts, peroxide_parts = mixture.parts
    return {
        "acid": mixture.acid,
        "peroxide": mixture.peroxide,
        "water_parts": 0,
        "acid_parts": acid_parts,
        "peroxide_parts": peroxide_parts,
        "total": round(USUAL * float(tide_clock().copper_area) / mL, 6),
        "why": (
            f"Filled in from “What is in the bottle”: acid of {acid} %, peroxide of {peroxide} %, "
            f"{acid_parts:g} : {peroxide_parts:g}, for the workshop's board."
        ),
    }
