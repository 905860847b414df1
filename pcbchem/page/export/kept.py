"""What a live copy keeps of a widget: every answer that Python would give, worked out beforehand.

A copy has no Python. Its page's own scripts run on models that look answers up (`kept.js`): each
widget leaves there what it shows in each of its states.
"""

from __future__ import annotations

import base64
import functools
import hashlib
import html
import io
import itertools
import json
import math
import operator
import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from ...common.extras import extra
from ..school import NO_AMOUNTS
from ..widget.afterwards import Afterwards, PageEnd, as_html
from ..widget.base import PageWidget
from ..widget.check import TABLES, Check, for_page
from ..widget.controls import Choice, Control, Field, Slider, Text, TimeText, for_script
from ..widget.panel import Panel
from ..widget.prediction import WITHOUT, Prediction
from ..widget.quiz import keep
from .judging import for_copy

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from ..picture import Drawing

MOST_SETTINGS = 200
"""A panel with more settings than this goes in longer steps; one that cannot stays still."""
TABLES_KEPT, SHEETS_KEPT = 15, 2
"""How many tables of a class find their own numbers in a copy [-], and on how many sheets."""
SCALE = 1.5
"""Pixels of a picture to one of the page [-]: sharp enough, and small enough for a whole page."""
COLOURS = 16
"""So many colours has a picture [-]: words and lines look the same, in a quarter of the room."""
STILL = (
    "This copy works without Python: nothing can be entered here. Below stands one example, worked "
    "out beforehand for a class, without amounts to pour."
)

STILL_HERE = 'class="pcbchem-copy-note"'
"""Marks these words in a page."""


def kept_forms(widget: PageWidget, most: int = MOST_SETTINGS) -> dict[str, str]:
    """Return what stands for a widget in a live copy, as HTML.

    Parameters
    ----------
    widget : PageWidget
        A panel or a quiz of the page that is copied.
    most : int
        Most settings of a panel that are drawn [-].

    Returns
    -------
    dict of str
        By media type: all its answers as data for `kept.js`, or its still form with a line that
        says so, where they are too many.
    """
    if isinstance(widget, Panel):
        steps = None
        # what a button does takes Python
        if not widget.tools:
            steps = step_lists(widget.controls, min(most, widget.most_copied))
        if steps is None:
            note = f"<p {STILL_HERE}>{html.escape(STILL)}</p>"
            return {"text/html": note + widget.still_forms()["text/html"]}
        answers = kept_panel(widget, steps)
    else:
        answers = kept(widget)
    # "</" would end the element
    data = json.dumps(answers, ensure_ascii=False).replace("</", "<\\/")
    script = f'<script type="application/json">{data}</script>'
    return {"text/html": f'<div class="pcbchem-copy">{script}</div>'}


def step_lists(controls: Sequence[Control], most: float) -> dict[str, list[Any]] | None:
    """Return the values of each control at which a panel is drawn.

    Parameters
    ----------
    controls : sequence of Slider, Field, Choice, Text, TimeText or Carried
        Those of a panel.
    most : float
        How many settings there may be at most [-].

    Returns
    -------
    dict of list, or None
        Each slider at every step from its low end up, or, where that would be too much, at every
        second, third and so on; none of them leaves out a start. None: it takes typed numbers or
        words, or there are too many settings still.
    """
    if any(isinstance(control, Field | Text | TimeText) for control in controls):
        return None
    longest = max((steps_of(control) for control in controls), default=1)
    for stride in range(1, longest + 1):
        if any(start_of(control) % stride for control in controls):
            continue
        lists = {control.name: values_of(control, stride) for control in controls}
        if math.prod(len(values) for values in lists.values()) <= most:
            return lists
    return None


def steps_of(control: Control) -> int:
    """Return how many steps a slider has [-]; of what is none it does not matter."""
    if not isinstance(control, Slider):
        return 1
    return round((control.high - control.low) / control.step)


def start_of(control: Control) -> int:
    """Return at which of its steps a slider stands at first [-]."""
    if not isinstance(control, Slider):
        return 0
    return round((control.start - control.low) / control.step)


def values_of(control: Control, stride: int) -> list[Any]:
    """Return the values of a control, of a slider those at every so many steps [its unit]."""
    if isinstance(control, Choice):
        return list(control.options)
    if not isinstance(control, Slider):
        return [control.start]  # what no other page hands over to a copy
    places = range(0, steps_of(control) + 1, stride)
    # as a browser counts them: 0.3, not 0.30000000000000004
    return [float(f"{control.low + place * control.step:.10g}") for place in places]


def kept_panel(panel: Panel, steps: Mapping[str, Sequence[Any]]) -> dict[str, Any]:
    """Return all that a panel shows at each of its settings, and for each prediction."""
    texts: dict[str, int] = {}
    pictures: dict[bytes, tuple[int, str]] = {}
    starts = {control.name: control.start for control in panel.controls}
    guesses = [WITHOUT]
    if panel.prediction is not None:
        guesses.extend(panel.prediction.options)
    states = []
    for values in itertools.product(*steps.values()):
        setting = dict(zip(steps, values, strict=True))
        states.append([shown(panel, setting, guess, texts, pictures) for guess in guesses])
    waiting: list[int] = []
    predictions: list[str] = []
    if panel.prediction is not None:
        # before it is predicted nothing can be moved
        waiting = shown(panel, starts, None, texts, pictures)
        predictions = [each.key for each in (panel.prediction, *panel.after)]
    return {
        "kind": "panel",
        "title": panel.title,
        "layout_of": panel.layout_of,
        "groups": [in_steps(control, steps[control.name]) for control in panel.controls],
        "steps": steps,
        "values": starts,
        "guesses": guesses,
        "predictions": predictions,
        "replies": panel.replies,
        "waiting": waiting,
        "states": states,
        "texts": list(texts),
        "pictures": [picture for _, picture in pictures.values()],
    }


def shown(
    panel: Panel,
    values: Mapping[str, Any],
    guess: str | None,
    texts: dict[str, int],
    pictures: dict[bytes, tuple[int, str]],
) -> list[int]:
    """Return the places of what a panel shows, wide, narrow and in words: what is new is added."""
    predicted = {} if panel.prediction is None else {"predicted": guess}
    drawing, words = panel.picture_and_words(False, **values, **predicted)
    places = [place_of(drawing, pictures)]
    drawing, _ = panel.picture_and_words(True, **values, **predicted)
    places.append(place_of(drawing, pictures))
    table = words.table.html() if words.table else ""
    said = (words.readout, words.alt, words.head, words.notes, words.wrong, words.guess, table)
    return places + [texts.setdefault(text, len(texts)) for text in said]


def place_of(drawing: Drawing, pictures: dict[bytes, tuple[int, str]]) -> int:
    """Return the place of a picture among those by digest: most guesses change nothing of it."""
    pixels = np.ascontiguousarray(drawing.pixels(SCALE))
    digest = hashlib.sha256(pixels.data).digest()
    if digest not in pictures:
        pictures[digest] = len(pictures), small(pixels)
    return pictures[digest][0]


def in_steps(control: Control, values: Sequence[Any]) -> dict[str, Any]:
    """Return a control as the page's script takes it, a slider in the steps of its values."""
    settings = for_script(control)
    if isinstance(control, Slider):
        # 1.2, not 1.2000000000000002: one step from 1 would lie beyond the end at 2.2
        settings |= {"high": values[-1], "step": float(f"{values[1] - values[0]:.10g}")}
    return settings


def small(pixels: NDArray[np.uint8]) -> str:
    """Return pixels [height × width × 3] as a lossless WebP of few colours, in base 64.

    Their white is transparent.
    """
    with extra("pages"):
        from PIL import Image

    few = Image.fromarray(pixels).quantize(COLOURS, dither=Image.Dither.NONE)
    palette = few.getpalette() or []
    colours = [tuple(palette[place : place + 3]) for place in range(0, len(palette), 3)]
    # the page's own ground shows through, by day and by night
    few.info["transparency"] = max(range(len(colours)), key=lambda place: sum(colours[place]))
    packed = io.BytesIO()
    few.convert("RGBA").save(packed, "WEBP", lossless=True, quality=80, method=4)
    return base64.b64encode(packed.getvalue()).decode()


@functools.singledispatch
def kept(widget: PageWidget) -> dict[str, Any]:
    """Return all answers of a quiz, by its kind."""
    raise TypeError(f"{type(widget).__name__} has no answers to keep")


@kept.register
def kept_prediction(prediction: Prediction) -> dict[str, Any]:
    """Return what a prediction says to each choice, reason, and choice made at first."""
    twin = Prediction(
        f"{prediction.key} (kept)",  # so that nothing is kept, or told to others, under its name
        prediction.question,
        prediction.options,
        prediction.reasons or None,
        alone=prediction.alone,
        told=prediction.told,
    )
    texts: dict[str, int] = {}
    said = {}
    answers = itertools.product(twin.options, ("", *twin.reasons))
    for choice, reason in (("", ""), (WITHOUT, ""), *answers):
        for first in ("", WITHOUT, *twin.options):
            twin.first = first
            with twin.hold_trait_notifications():
                twin.choice, twin.reason = choice, reason
            twin.chosen()  # also where it is the same choice with another one at first
            words = (twin.kept_words, twin.under, twin.words, twin.reply)
            places = [texts.setdefault(text, len(texts)) for text in words]
            said["|".join((choice, reason, first))] = [twin.made, *places]
    keep(twin.key, "")
    twin.close()
    return {
        "kind": "predict",
        "key": prediction.key,
        "question": prediction.question,
        "choices": prediction.choices,
        "becauses": prediction.becauses,
        "said": said,
        "texts": list(texts),
    }


@kept.register
def kept_check(check: Check) -> dict[str, Any]:
    """Return the questions of each table and sheet, with all that it takes to judge answers."""
    seeds = [
        sheet * TABLES + table
        for sheet in range(SHEETS_KEPT)
        for table in range(1, TABLES_KEPT + 1)
    ]
    return {
        "kind": "check",
        "intro": check.intro,
        "practice": check.practice,
        "waits": check.waits,
        "tables": TABLES_KEPT,
        "predictions": [prediction.key for prediction in check.after],
        "sheets": [kept_sheet(check, seed) for seed in seeds],
    }


def kept_sheet(check: Check, seed: int) -> dict[str, Any]:
    """Return the questions of a seed [-], as they are asked and as they are judged."""
    questions = check.make(seed)
    return {
        "seed": seed,
        "sheet": (seed - 1) // TABLES + 1,
        "table": (seed - 1) % TABLES + 1,
        "asks": [for_page(question) for question in questions],
        "judged": {question.key: for_copy(question) for question in questions},
    }


@kept.register
def kept_afterwards(afterwards: Afterwards) -> dict[str, Any]:
    """Return the text that comes when predictions are made, and what stands there until then."""
    return {
        "kind": "afterwards",
        "html": as_html(afterwards.text),
        "waits": afterwards.waits,
        "predictions": [prediction.key for prediction in afterwards.predictions],
    }


@kept.register
def kept_end(end: PageEnd) -> dict[str, Any]:
    """Return the words of the link back up."""
    return {"kind": "end", "link_words": end.link_words, "forgets": end.forgets}


def copy_widgets(live: bool, most: int = MOST_SETTINGS) -> None:
    """Let the widgets of this kernel stand in a copy of their page: still, or live.

    Parameters
    ----------
    live : bool
        With all their answers, and no amounts to pour on any page.
    most : int
        Most settings of a panel that are drawn [-].
    """
    from ..widget import base

    base.copied_as = operator.methodcaller("still_forms")
    if live:
        # a class reads it, and its fields stand still
        os.environ[NO_AMOUNTS] = "1"
        base.copied_as = functools.partial(kept_forms, most=most)
