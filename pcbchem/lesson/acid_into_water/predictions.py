"""What page 02 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...common.number_words import figures
from ...common.units import celsius
from ...page.widget.prediction import Option, Prediction
from .numbers import ASKED, FUMES, PARTS, PEROXIDE, QUARTER, ROOM, SHOP_PEROXIDE, WATER, hill
from .words import degrees, rounded

BOILING, THEIRS, YOURS, ALIKE = "boiling", "theirs", "yours", "alike"
"""Keys of the answers on which jug is hotter."""
ACID_FIRST, PEROXIDE_FIRST, EITHER, WATER_FIRST = "acid", "peroxide", "either", "water"
"""Keys of the answers on what goes into the jug first."""
HOTTER, NEAR_BOILING = 10.0, celsius(95)
"""By how much one jug would be hotter, and what is near boiling [K]."""


def jug_prediction() -> Prediction:
    """Ask which jug is hotter when all is in: acid into water, or water into acid."""
    pair = hill(ASKED)
    end, top = rounded(pair.end[1]), rounded(pair.top[1])
    stronger = f"{figures(pair.stronger(QUARTER))} times stronger"
    question = (
        f"One part of {ASKED:g} % hydrochloric acid (muriatic acid; drawn only) and "
        f"{words_of(PARTS[WATER])} parts of water, all at {degrees(ROOM)}. You pour the acid into "
        "the water. Somebody, against the rule, pours the water into the acid. Which jug is "
        "hotter when all "
        "is in?"
    )
    way = (
        f"On the way theirs is {stronger} (a quarter poured), and it starts with the bottle's acid."
    )
    answers = {
        BOILING: Option(
            "theirs, near boiling",
            f"Both end at {end} °C. It is concentrated sulfuric acid that can boil up on that way "
            f"(from memory). {way}",
        ),
        THEIRS: Option(
            f"theirs, by about {HOTTER:g} °C",
            f"Only on the way: theirs gets to {top} °C. In the end both stand at {end} °C. {way}",
        ),
        YOURS: Option(
            f"yours, by about {HOTTER:g} °C",
            f"Both end at {end} °C, and on the way yours is the cooler one. {way}",
        ),
        ALIKE: Option(
            "both alike", f"The page says so too: {end} °C. But the order matters. {way}"
        ),
    }
    reasons = {
        "rule": Option(
            "the rule must be there for the heat at the end",
            "The rule is there for what is in the jug before the end.",
        ),
        "little": Option(
            "a little water in much acid gets hot, and the heat stays",
            "It does get hot. Then the rest of the water has to be warmed by that heat.",
        ),
        "brings": Option(
            "the acid brings the heat along",
            "It does not: all is equally warm. The heat comes when the two meet.",
        ),
        "same": Option(
            "heat only depends on what is mixed",
            "Yes: the same acid and water set the same heat free. Only the way differs.",
        ),
    }
    return Prediction("which jug", question, answers, reasons)


def first_prediction() -> Prediction:
    """Ask what goes into the jug first where shop peroxide stands in for the water."""
    pair = hill(ASKED, PEROXIDE)
    limit = FUMES.shown(FUMES.limit)
    question = (
        f"Drawn only, never mixed here: one part of {ASKED:g} % acid, {words_of(PARTS[PEROXIDE])} "
        f"parts of shop peroxide of {SHOP_PEROXIDE:g} %, and no water is poured. What goes into "
        "the jug first?"
    )
    answers = {
        ACID_FIRST: Option(
            "the acid: peroxide comes last, as always",
            f"Then the jug starts with undiluted acid, far over {limit}, and peroxide meets that.",
        ),
        PEROXIDE_FIRST: Option(
            "the peroxide, then the acid into it",
            "So says the planner, for peroxide of at most 4 % alone. Stronger comes last, into "
            "diluted acid.",
        ),
        EITHER: Option(
            "either: order makes no difference here",
            f"Only in the end: both at {rounded(pair.end[1])} °C. But that is not what the rule is "
            f"about: acid first starts far over {limit}.",
        ),
        WATER_FIRST: Option(
            "plain water: nothing starts without it",
            "The safest habit: keep it. Here none is poured: which bottle is nearly all water?",
        ),
    }
    reasons = {
        "last": Option(
            "peroxide must only meet acid that is in the jug",
            "It must only meet diluted acid. Which order dilutes it from the first drop?",
        ),
        "nearly": Option(
            "this peroxide is nearly all water",
            f"Yes: {100 - SHOP_PEROXIDE:g} % of its weight is water.",
        ),
        "end": Option("only the end counts", "What splashes and fumes is there before the end."),
        "plain": Option(
            "only plain water dilutes",
            f"Look at the label: {SHOP_PEROXIDE:g} % peroxide. What is the rest?",
        ),
    }
    return Prediction("what goes in first", question, answers, reasons)


def guessed_end(key: str | None) -> float | None:
    """Return where a guess of the first question stands [K]; None: there is none to draw.

    Parameters
    ----------
    key : str or None
        Of the answer, None or "-" without one.

    Returns
    -------
    float or None
        Temperature of the hotter jug at the end, by that guess [K].
    """
    end = hill(ASKED).end[1]
    guesses = {
        BOILING: NEAR_BOILING,
        THEIRS: end + HOTTER,
        YOURS: end + HOTTER,
        ALIKE: end,
    }
    return guesses.get(key or "")


def words_of(parts: float) -> str:
    """Write a small number of parts [-] as a word."""
    return {2.0: "two", 3.0: "three"}[parts]
