"""Page 04's panels: water on a slider, times as bars, film or curve; all wait for a prediction."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ...bench.plan.dilution import Dilution
from ...common.number_words import clock, figures, span
from ...common.units import minute, mL, um
from ...page.minute_bars import Bar, MinuteBars
from ...page.picture import Drawing, sheet_of
from ...page.views import Views
from ...page.widget.afterwards import as_html
from ...page.widget.controls import Choice, Link, PanelWords, Slider
from ...page.widget.panel import Panel
from ...page.widget.prediction import WITHOUT, Prediction
from ..pages import PLANNER_PAGE
from ..workshop import PAIRS, UNTIL_CLEAR, bath
from .numbers import BOTTLES, QUESTION, SHAKEN, STILL, course
from .picture import ARROWS, AtCopper, Curve, Film, Places, Strengths
from .predictions import answer_times, minutes
from .texts import read_it, read_shaken
from .words import (
    BARS,
    CURVE,
    FILM,
    VIEWS,
    answer_words,
    at,
    guess_words,
    question_words,
    trade_marks,
)

MOST_WATER = 3.0
"""Most water on a slider [parts]: with more a bar would end beyond any picture."""
LONGEST, LONGEST_SHAKEN = 80 * minute, 24 * minute
"""End of the axis of the bars [s], in the still tray and in the shaken one."""
# by eye, clear of the curve and of the grey marks: change one and look at both widths
PLACES = Places((1.75, 4300), (1.5, 130))
"""Where the words of the curve stand [mol/L, s]."""
TO_PLANNER = "Take this bath to the planner"
HEIGHT, NARROW_HEIGHT = 3.7, 4.6
"""Of every picture of the first panel, so that nothing jumps between them [inch]."""


def water_panel(prediction: Prediction | None = None, school: bool = False) -> Panel:
    """Make the panel of water and time in a tray that stands still.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    school : bool
        Without the way to the planner.

    Returns
    -------
    Panel
        Bars first; film and curve by choice.
    """
    controls: list[Slider | Choice] = [water_slider(), Choice("view", "Show", VIEWS, BARS)]

    def show(
        drawing: Views, water: float, view: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        return say(drawing, STILL, water, view, predicted)

    links = () if school else (Link(TO_PLANNER, PLANNER_PAGE, planner_values),)
    return Panel("Water and time", controls, build_views, show, prediction=prediction, links=links)


def shaken_panel(prediction: Prediction | None = None, *after: Prediction) -> Panel:
    """Make the panel of the same water in a tray that is shaken.

    Parameters
    ----------
    prediction : Prediction, optional
        The answer waits for it. None: everything is shown.
    *after : Prediction
        Those that have to be made before.

    Returns
    -------
    Panel
        Bars first; the film by choice.
    """

    def build(narrow: bool) -> Views:
        return Views(**{BARS: build_bars(narrow, LONGEST_SHAKEN), FILM: build_films(narrow)})

    def show(
        drawing: Views, water: float, view: str, predicted: str | None = WITHOUT
    ) -> PanelWords:
        return say(drawing, SHAKEN, water, view, predicted)

    views = {name: VIEWS[name] for name in (BARS, FILM)}
    controls: list[Slider | Choice] = [water_slider(), Choice("view", "Show", views, BARS)]
    return Panel(
        "Water in a shaken tray", controls, build, show, prediction=prediction, after=after
    )


def water_slider() -> Slider:
    """Return the slider of water: it stands where the page asks."""
    return Slider("water", "Water", "parts", 0.0, MOST_WATER, 0.1, QUESTION)


def build_views(narrow: bool) -> Views:
    """Make the three pictures of the first panel."""
    return Views(
        **{BARS: build_bars(narrow), FILM: build_films(narrow), CURVE: build_curve(narrow)}
    )


def build_bars(narrow: bool, longest: float = LONGEST) -> Drawing:
    """Make bars up to so long [s]: no water, strength alone, the page, and a prediction."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    axes = sheet.subplots()
    bars = MinuteBars(axes, 4, longest, size, above=narrow, label=UNTIL_CLEAR)
    if not narrow:
        # room for the names before the bars
        axes.set_yticks([1], ["your prediction  "], fontsize=size, color="none")
        axes.tick_params(axis="y", length=0)
    return Drawing(sheet, (*bars.moving, title), bars=bars, title=title, narrow=narrow)


def build_films(narrow: bool) -> Drawing:
    """Make the film at the copper twice: without water, and with it."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    films = [AtCopper(axes, size, narrow) for axes in sheet.subplots(1, 2)]
    moving = (*films[0].moving, *films[1].moving, title)
    return Drawing(sheet, moving, films=films, title=title, narrow=narrow)


def build_curve(narrow: bool) -> Drawing:
    """Make the curve of time against strength, with what people say."""
    sheet, size, title = sheet_of(narrow, HEIGHT, NARROW_HEIGHT)
    strengths = Strengths(sheet.subplots(), trade_marks(), size, narrow)
    return Drawing(
        sheet, (*strengths.moving, title), strengths=strengths, title=title, narrow=narrow
    )


def say(
    drawing: Views,
    movement: str,
    water: float,
    view: str,
    predicted: str | None,
) -> PanelWords:
    """Draw a bath with parts of water [-] and say it; before a prediction the question alone."""
    dilution = course(movement)
    place, question = dilution.at(water), dilution.at(QUESTION)
    # None: the question waits
    known = predicted is not None
    times = answer_times(movement)
    guessed = None
    # what was asked is asked of one strength
    if predicted in times and place == question:
        guessed = times[predicted]
    words = question_words(dilution, place)
    if known:
        words = answer_words(dilution, place, view, "" if guessed is None else minutes(guessed))
    sheet = drawing.show(view)
    DRAW[view](sheet, dilution, place, known, guessed)
    title = words.title
    if sheet.parts["narrow"]:
        title = title.replace(": ", ":\n")
    sheet.parts["title"].set_text(title)
    remark = ""
    if predicted in times:
        remark = guess_words(dilution, place, question)
    notes = as_html(READ[movement]()) if known else ""
    return PanelWords(words.readout, words.alt, guess=remark, notes=notes)


def draw_bars(
    drawing: Drawing,
    dilution: Dilution,
    place: int,
    known: bool,
    guessed: float | None,
) -> None:
    """Draw the times at a place of the slider [-] as bars, and a guess [s] under them."""
    times, undiluted = at(dilution.times, place), float(dilution.times.middle[0])
    rows = [Bar("no water", undiluted, clock(undiluted))]
    alone = undiluted * float(dilution.weaker[place])
    if not known:
        rows.append(Bar("with water", 0.0, "?", known=False))
    elif place:
        share = "" if drawing.parts["narrow"] else "8 of 10: "
        band = f"{clock(times.middle)} ({share}{span(times)})"
        rows.append(Bar("strength alone", alone, clock(alone)))
        rows.append(
            Bar(
                "this page",
                float(times.middle),
                band,
                float(times.low),
                float(times.high),
            )
        )
    if guessed is not None:
        rows.append(Bar("your prediction", guessed, clock(guessed), hollow=True))
    drawing.parts["bars"].draw(rows)


def draw_films(
    drawing: Drawing,
    dilution: Dilution,
    place: int,
    known: bool,
    guessed: float | None,
) -> None:
    """Draw the film without water, and that at a place of the slider [-]."""
    film = dilution.film
    # one undiluted arrow for all: so they compare with each other and with no water
    widest = max(float(film[name][0]) for name in ARROWS)
    for picture, where in zip(drawing.parts["films"], (0, place), strict=True):
        passing = {name: float(film[name][where]) for name in ARROWS}
        thickness, gas = float(film["thickness"][where]), float(film["oxygen"][where])
        name = "no water" if not where else f"{figures(dilution.water[where])} parts of water"
        title = f"{name}: film of {thickness / um:.0f} µm" if known else name
        if drawing.parts["narrow"]:
            title = title.replace(": ", ":\n").replace(" parts of", "\u00a0parts")
        picture.draw(Film(thickness, passing, gas, widest), known, title)


def draw_curve(
    drawing: Drawing,
    dilution: Dilution,
    place: int,
    known: bool,
    guessed: float | None,
) -> None:
    """Draw the curve with the slider at a place of it [-]."""
    times = dilution.times
    # as if the rate went by strength and by nothing else
    alone = float(times.middle[0]) * dilution.weaker
    curve = Curve(dilution.peroxide, times.low, times.middle, times.high, alone, PLACES)
    drawing.parts["strengths"].draw(curve, place, known)


DRAW = {BARS: draw_bars, FILM: draw_films, CURVE: draw_curve}
"""What draws each view."""
READ = {STILL: read_it, SHAKEN: read_shaken}
"""What says how to read the panel of each tray."""


def planner_values(water: float, view: str) -> Mapping[str, Any]:
    """Return what the planner's fields are filled with.

    Parameters
    ----------
    water : float
        Parts of water [-].
    view : str
        Which picture is seen: it changes nothing.

    Returns
    -------
    dict
        Values of the planner's controls [% by weight, parts, mL], and why they are so.
    """
    pair, inputs = PAIRS[BOTTLES], bath(BOTTLES, agitation=STILL)
    total = inputs.bath_per_area * float(inputs.board.copper_area) / mL
    why = (
        f"Filled in from “Why water slows it”: acid of {pair.acid:g} %, peroxide of "
        f"{pair.peroxide:g} %, {figures(water)} : 1 : 1 (water : acid : peroxide), in a still "
        "tray, for the workshop's board."
    )
    return {
        "acid": pair.acid,
        "peroxide": pair.peroxide,
        "water_parts": water,
        "acid_parts": 1,
        "peroxide_parts": 1,
        "total": round(total, 6),  # 150, not 150.00000000000003: it stands in a field
        "agitation": STILL,
        "why": why,
    }
