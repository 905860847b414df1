"""What the planner's buttons do: an amount, an artwork, a used bath, the leanest, and the card."""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ...bench.plan.changes import Change
from ...bench.plan.inputs import Inputs
from ...bench.plan.planning import Plan
from ...bench.plan.search_result import found_words, mixtures_by_name
from ...bench.plan.words import TRIED
from ...common.number_words import figures
from ...common.units import ZERO_C, mL
from ...page.widget.controls import Action, Done, Field, Progress, Upload
from ...page.widget.works import Work
from ..bath.bench_card import card
from ..form import fields
from ..form.back_to_fields import values_of
from ..form.from_picture import bare_from
from ..form.suggestions import suggested_total, used_from
from ..form.table import MOST_TOTAL
from ..form.wishes import WISHES
from .answer import html_of

ARTWORKS = (".png", ".tif", ".tiff", ".bmp")
"""Files of an artwork that are taken."""
MOST_BYTES = 40_000_000
"""Largest artwork that is taken [B] (our limit)."""
SEARCH = "Find the leanest"
"""Heading of the fields of a search."""
SEARCHED: tuple[Field | Action, ...] = (
    *WISHES,
    Field(
        "most",
        "bath, at most",
        "mL",
        0,
        MOST_TOTAL,
        10,
        None,
        help="Left blank: as much as the search tries, 10 mL for each cm² of bare copper.",
    ),
    Action(
        "leanest",
        "Find the leanest mixture",
        help=(
            "Of some 800 mixtures of your bottles with water: the best verdict, then the least "
            "acid and peroxide, in particles. In 9 of 10 plausible baths it is clear in time, and "
            "stays below that temperature while etching and in the hour after. Least is not "
            "always coolest."
        ),
    ),
)
"""What a search is asked."""
CARD = Action("card", "Card for the bench")
"""Stands under the words of a plan."""
UNDER: dict[str, tuple[Action | Upload, ...]] = {
    "The bath": (
        Action(
            "suggested",
            "Suggest an amount",
            help="As much for your copper as the workshop takes for its own; our suggestion.",
        ),
    ),
    "The board": (
        Upload(
            "artwork",
            "Bare % from my artwork",
            ARTWORKS,
            MOST_BYTES,
            help=(
                "A picture of the copper side. Black is taken for copper that stays. Its size "
                "comes from the file, or else from the board's width above."
            ),
        ),
    ),
    "A used bath, topped up": (
        Action(
            "used up",
            "Fill in copper and acid from this plan",
            help=(
                "What this plan's bath holds when its board comes out. Its peroxide is what a "
                "test strip says, never a plan."
            ),
        ),
    ),
}
"""Buttons that stand under the fields of a group, by its heading."""


def suggest(values: Mapping[str, Any], _: Mapping[str, Any], __: Progress) -> Done:
    """Put an amount for this copper into its field."""
    total, why = suggested_total(values)
    return Done({"total": total}, why)


def read_artwork(values: Mapping[str, Any], file: Mapping[str, Any], _: Progress) -> Done:
    """Read how much copper is bare from an artwork, and say what is doubtful."""
    bare, words = bare_from(file["name"], file["data"], values)
    return Done(bare, words)


def fill_used(
    plan_of: Callable[[Mapping[str, Any]], Plan],
    values: Mapping[str, Any],
    _: Mapping[str, Any],
    __: Progress,
) -> Done:
    """Fill in what a used bath holds from the plan on the page."""
    words = (
        "Copper and acid are filled in as this bath leaves them. Its peroxide is what a strip "
        "says. Then say how much of the next bath it is to be."
    )
    return Done(used_from(plan_of(values)), words)


def find_leanest(values: Mapping[str, Any], _: Mapping[str, Any], progress: Progress) -> Done:
    """Search the leanest mixture, and offer it and what is near it."""
    result = fields.search_from(
        values,
        minutes=(values["window_from"], values["window_to"]),
        hottest_C=values["hottest"],
        most_mL=values["most"],
        progress=lambda tried, total: progress(
            tried / total, f"Tried {tried} of {total} mixtures."
        ),
    )
    # no used bath and no second portion but the search's own: with them it would be another plan
    names = (*fields.PARTS, "total", "held_back", "held_until", "used_bath")
    mixtures = {
        f"Take {name}: {figures(volume_of(inputs), 3)} mL in all": inputs
        for name, inputs in mixtures_by_name(result).items()
    }
    return Done(html=html_of(found_words(result, markdown=True)), offers=offered(mixtures, names))


def volume_of(inputs: Inputs) -> float:
    """Return how much bath a mixture of a search is [mL]."""
    return inputs.bath_per_area * float(inputs.board.copper_area) / mL


def changes_offered(plan: Plan) -> list[tuple[str, dict[str, Any]]]:
    """Return a button for each change that would help, with the values that it puts in.

    Not for a class, whose fields hold no amount.
    """
    if plan.school:
        return []
    # one lever may stand there twice, each time for another verdict
    changed = {
        f"{_entered(change)} (verdict: {change.verdict})": change.inputs for change in plan.changes
    }
    return offered(changed, (*fields.PARTS, "total", "bottles"))


def _entered(change: Change) -> str:
    """Say what pressing the button of a change does [°C]."""
    # a number in a field cools nothing: who enters it has to mean it
    if change.lever == "start":
        return f"I will cool everything to {figures(change.value - ZERO_C, 3)} °C: enter it"
    return f"Enter it: {TRIED[change.lever]}"


def offered(
    mixtures: Mapping[str, Inputs], names: Sequence[str]
) -> list[tuple[str, dict[str, Any]]]:
    """Return a button for each mixture, by its words: with values of the fields of these names."""
    offers = []
    for words, inputs in mixtures.items():
        try:
            values = values_of(inputs)
        except ValueError:
            continue  # more parts of water than its field takes: it is only said
        offers.append((words, {name: values[name] for name in names}))
    return offers


def make_card(
    plan_of: Callable[[Mapping[str, Any]], Plan],
    values: Mapping[str, Any],
    _: Mapping[str, Any],
    __: Progress,
) -> Done:
    """Make the card of the plan on the page, in a window of its own."""
    return Done(page=card(plan_of(values)).html, remark="The card is open in a tab of its own.")


def works(plan_of: Callable[[Mapping[str, Any]], Plan]) -> dict[str, Work]:
    """Return what each button does, by its name; `plan_of` makes the plan of the page's values."""
    return {
        "suggested": suggest,
        "artwork": read_artwork,
        "used up": functools.partial(fill_used, plan_of),
        "leanest": find_leanest,
        "card": functools.partial(make_card, plan_of),
    }
