"""What page 04 tells when its reader has predicted, with every number from the package."""

from __future__ import annotations

from ...common.number_words import figures
from ...common.units import minute, um
from .numbers import QUESTION, SHAKEN, STILL, cost_with_gas, course
from .predictions import PAGE, answer_times, minutes

LESS_GAS, MORE_GAS = 1 / 3, 3.0
"""Times the guessed share of peroxide that turns to gas [-]: what the page rests on."""


def read_it() -> str:
    """Say how to read the first panel, in Markdown."""
    dilution = course(STILL)
    weaker = float(dilution.weaker[dilution.at(QUESTION)])
    low, middle, high = ends(STILL)
    return (
        f"**With {figures(QUESTION)} parts of water the page says "
        f"{minutes(answer_times(STILL)[PAGE])}: {middle} times as long.** Strength alone would "
        f"give {figures(weaker)} times, both strengths multiplied {figures(weaker**2)}. Nobody "
        "knows every number, so the page tries 200 *plausible baths*, each with its own guesses. "
        f"Bath by bath, 8 of 10 take {low} to {high} times as long as without water. (Times are "
        "rounded.)"
    )


def read_shaken() -> str:
    """Say how to read the panel of the shaken tray beside the first one, in Markdown."""
    dilution = course(SHAKEN)
    undiluted, diluted = (dilution.times.middle[place] for place in (0, dilution.at(QUESTION)))
    _, still, _ = ends(STILL)
    _, shaken, _ = ends(SHAKEN)
    return (
        f"**The same water: {still} times as long in the still tray, {shaken} times in the shaken "
        "one.** If strength alone counted, by whatever power, it would cost about as much in both. "
        "(The middle of the ratios, bath by bath; "
        f"{figures(diluted / minute)} ÷ {figures(undiluted / minute)} is a little more.)"
    )


def why() -> str:
    """Say what the film is and what makes it thick, in Markdown."""
    dilution = course(STILL)
    place = dilution.at(QUESTION)
    film = dilution.film
    thin, thick = (film["thickness"][where] / um for where in (0, place))
    thicker = figure_of(thick / thin)
    weaker = float(dilution.weaker[place])
    _, whole, _ = ends(STILL)
    return (
        "## Why\n\n"
        "**The film.** Right at the copper the liquid hardly moves. Acid and peroxide cross this "
        "*film* particle by particle: *diffusion*. How much arrives each second on each square "
        "metre sets the pace. It goes up with *c*, their strength, and down with *δ*, the film's "
        'thickness. <span class="pcbchem-live-only">(The first panel draws it: choose *the '
        "film*.)</span>\n\n"
        "- ***c***: half as strong, and half as much arrives.\n"
        "- ***δ***: some peroxide falls apart at the copper, into water and oxygen. In a still "
        "tray these bubbles do most of the stirring. Half as strong bubbles far less, and the film "
        f"grows from {thin:.0f} to {thick:.0f} µm: {figures(thicker)} times.\n\n"
        f"Strength once, film once: {figures(weaker)} × {figures(thicker)} times less arrives at "
        "first. Then the weaker bath warms less. And it *runs down*: it uses up a larger share of "
        f"what it has. In all it takes {whole} times as long."
    )


def sources() -> str:
    """Say in three lines where the numbers come from, in Markdown."""
    less, more = (figures(float(cost_with_gas(share).middle)) for share in (LESS_GAS, MORE_GAS))
    return (
        "**Where the numbers come from**\n\n"
        "- **Measured:** one pair of layers, about as many times slower as the bath was weaker.\n"
        "- **Said:** times that people report (common practice, no source).\n"
        "- **Guessed:** how much peroxide turns to gas at the copper. We found no measurement of "
        "it, nor of this bath. With a third of that gas in all baths the page would say "
        f"{less} times, with three times of it {more}."
    )


def say_now() -> str:
    """Say what a learner can say at the end, in Markdown."""
    _, still, _ = ends(STILL)
    _, shaken, _ = ends(SHAKEN)
    return (
        "## What you can now say\n\n"
        "- Water makes acid and peroxide weaker, and less crosses the film in proportion: one "
        "measured pair fits.\n"
        "- Where bubbles keep the film thin, water also takes the bubbles "
        f"({still} times as long in a still tray). Where shaking keeps it thin, less is lost "
        f"({shaken} times).\n"
        "- The bubbles' part is a prediction. [How sure is it?](04b_how_sure_is_it.ipynb) says "
        "what would prove it wrong; [what if](what_if.ipynb) draws all mixtures of two bottles. "
        "Next: [warm baths](05_warm_baths.ipynb)."
    )


def ends(movement: str) -> tuple[str, str, str]:
    """Return how many times as long the question's water makes it [-]: low, middle, high."""
    ratio = course(movement).ratio
    place = course(movement).at(QUESTION)
    low, middle, high = (
        figures(float(end[place])) for end in (ratio.low, ratio.middle, ratio.high)
    )
    return low, middle, high


def figure_of(value: float) -> float:
    """Return a number as the text prints it, to two figures [its own unit]."""
    return float(figures(value))
