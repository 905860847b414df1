"""What page 05 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...common.number_words import figures
from ...common.units import celsius, mol_per_L
from ...page.widget.prediction import Option, Prediction
from ..workshop import PAIRS
from .numbers import FLAT, JAR, MILD, WEAK, hour_after
from .words import degrees_words, per_minute, vessel_words, whole

COOLS, LITTLE, SOME, PAGE = "cools", "little", "some", "page"
"""Keys of the answers to the first question: as in the tray, a bit more, more, right."""
GUESSES = {LITTLE: celsius(30), SOME: celsius(35)}
"""What two wrong answers stand for [K]; the third is the tray's own."""
NEXT = {"twenty": 20.0, "ten": 10.0, "three": 3.0}
"""Wrong answers to the second question [K]."""
LESS = "less"
"""Key of the right one."""


def guessed(key: str | None) -> float | None:
    """Return what an answer to the first question stands for [K]; None: there is none."""
    hour = hour_after(MILD)
    answers = {COOLS: float(hour.peak(FLAT).middle), PAGE: float(hour.peak(JAR).middle)}
    return (answers | GUESSES).get(key or "")


def jar_prediction() -> Prediction:
    """Ask how warm the mild bath gets in a jar, in the hour after its board came out."""
    pair, hour = PAIRS[MILD], hour_after(MILD)
    out, tray = degrees_words(float(hour.out.middle)), degrees_words(float(hour.peak(FLAT).middle))
    jar = degrees_words(float(hour.peak(JAR).middle))
    question = (
        f"Harbour Street Makers' board comes out of its bath ({pair.acid:g} % hydrochloric acid, "
        f"{pair.peroxide:g} % peroxide, equal parts), at {out}. Nobody "
        f"knows every number of a bath: the page tries {hour.warmest.shape[-1]} plausible baths. "
        f"In the flat tray, {vessel_words(FLAT)}, the middle one stays near {tray}. A helper pours "
        f"it into a jar, {vessel_words(JAR)}, open. How warm does it get in the hour after?"
    )
    made, lost = hour.made_at(float(hour.out.middle)), hour.lost_at(float(hour.out.middle), JAR)
    answers = {
        COOLS: Option(
            f"about {tray}, as in the tray",
            f"About {jar}. At first it makes as much heat as in the tray. Less can leave.",
        ),
        LITTLE: Option(
            f"about {degrees_words(GUESSES[LITTLE])}",
            f"Far more: about {jar}. There it loses a third of what it makes.",
        ),
        SOME: Option(
            f"about {degrees_words(GUESSES[SOME])}",
            f"More: about {jar}. The warmer it is, the faster it makes heat.",
        ),
        PAGE: Option(
            f"about {jar}",
            f"So the page says, for the middle bath: warmed by {per_minute(made)}, cooled by "
            f"{per_minute(lost)}.",
        ),
    }
    reasons = {
        "over": Option(
            "nothing etches any more, so nothing warms it",
            "Etching is over. But peroxide goes on falling apart, and that makes heat.",
        ),
        "same": Option(
            "the same bath holds the same heat",
            "It makes the same heat. How much of it can leave?",
        ),
        "surface": Option(
            "deep, it has less surface to lose heat through",
            "Yes: heat is made all through the liquid and lost through its surface.",
        ),
        "keeps": Option(
            "the jar's wall keeps it warm, as a thermos does",
            "The wall lets out more than half of what the jar loses. Even so, together it is a "
            "third "
            "of the tray's.",
        ),
    }
    return Prediction("the tidy helper", question, answers, reasons)


def weak_prediction() -> Prediction:
    """Ask how much warmer the jar is than the tray where the peroxide was weak."""
    pair, hour = PAIRS[WEAK], hour_after(WEAK)
    left = figures(float(hour.left.middle) / mol_per_L)
    out = whole(float(hour.out.middle))
    question = (
        f"The same once more, with weak bottles: {pair.acid:g} % acid, {pair.peroxide:g} % "
        "peroxide. How much warmer does it get in the jar than in the flat tray, in the hour after?"
    )
    answers = {
        key: Option(
            f"about {more:g} °C",
            f"Less than 1 °C. Only {left} mol/L of peroxide is left: there is little to make heat "
            "of.",
        )
        for key, more in NEXT.items()
    }
    answers[LESS] = Option(
        "less than 1 °C", f"Yes: it only cools from {out} °C, in both. Little peroxide is left."
    )
    reasons = {
        "shape": Option(
            "a jar always keeps heat in",
            "It does. But what is not made cannot be kept.",
        ),
        "left": Option(
            "hardly any peroxide is left to make heat",
            "Yes: what is left decides first, the vessel second.",
        ),
        "longer": Option(
            "it etched longer, so more heat is in it",
            "Slow etching has more time to lose its heat: this bath is the cooler one.",
        ),
        "acid": Option(
            "the acid is as strong as before",
            "So it is. Acid makes no heat here: peroxide does, when it falls apart.",
        ),
    }
    return Prediction("the tidy helper, weak", question, answers, reasons)
