"""What page 09 asks its readers to predict: answers, reasons, and a reply to each."""

from __future__ import annotations

from ...common.units import cm, minute, mL, mm
from ...page.widget.prediction import Option, Prediction
from .numbers import (
    BATH_PERCENT,
    BATH_TIME,
    BOTTLE_TIME,
    EMPTY,
    MILD_ACID,
    SPILL_TIME,
    SPILT,
    STRONG,
    USUAL_TRAY,
    bath_acid,
    breathed,
    each_step,
    over_liquid,
)
from .words import ppm_words, times_words, two_figures

RIGHT, FLIPPED = "steep", "spill, bath, bottle"
"""Keys of the two right answers."""
ANSWERS = {
    "bath": (0.1, 1.0),
    "alike": (1.0, 1.0),
    "tens": (10.0, 100.0),
    RIGHT: (100.0, 30_000.0),
}
"""What the first answers say of bottle and spill, by key: times as much as the bath [-]."""


def words_of(key: str) -> str:
    """Return a first answer in words, by its key."""
    if key == "alike":
        return "all three about alike"
    bottle, spill = ANSWERS[key]
    if key == "bath":
        return "A most: B a tenth of A, C about as much as A"
    return f"B {two_figures(bottle)} times A, C {two_figures(spill)} times A"


def air_prediction() -> Prediction:
    """Ask how much acid gas comes from an open bottle and from a spill, beside the bath."""
    question = (
        "A shut room of 30 m³ at 20 °C, each of these alone.\n"
        f"A: the workshop's bath, warm, {BATH_PERCENT} % acid, {USUAL_TRAY / cm**2:g} cm² wide, "
        f"open for {BATH_TIME / minute:g} min.\n"
        f"B: a bottle of {STRONG:g}\u00a0% acid, open for {BOTTLE_TIME / minute:g} min, "
        f"{EMPTY / mm:g} mm of air in its neck.\n"
        f"C: {SPILT / mL:g} mL of that acid spilt, for {SPILL_TIME / minute:g} min.\n"
        "How much acid gas is half a metre away at its highest moment, compared with A?"
    )
    air = breathed()
    answer = f"B {times_words(air.bottle_times)}, C {times_words(air.spill_times)} A"
    bath, in_proportion = 100 * bath_acid(), STRONG / (100 * bath_acid())
    replies = {
        "bath": f"No: {answer}. A is wide, but its acid is thin: {bath:.0f} %, which still burns "
        "eyes.",
        "alike": f"No: {answer}. In A the acid is mixed down to {bath:.0f} %.",
        "tens": f"More: {answer}, though {STRONG:g} % is only {in_proportion:.0f} times the "
        "acid of A.",
        RIGHT: f"Yes: {answer}.",
    }
    reasons = {
        "wide": Option(
            "the bath is wide, warm and open longest", "The bath is. What counts more is its acid."
        ),
        "same": Option(
            "it is the same acid in all three",
            f"The same substance: {bath:.0f} % of it in the bath, {STRONG:g} in the bottle.",
        ),
        "share": Option(
            "gas goes in proportion: twice as strong, twice the gas",
            "Gas over acid grows faster than that: see the table below.",
        ),
        "steep": Option(
            "the gas over acid grows much faster than its strength",
            f"Gas grows faster, indeed: about {each_step():.0f} times for each 5 % more.",
        ),
    }
    options = {key: Option(words_of(key), replies[key]) for key in ANSWERS}
    return Prediction("what fills the air", question, options, reasons)


def mild_prediction() -> Prediction:
    """Ask for the order of bath, bottle and spill when the bottle holds mild acid."""
    air = breathed(MILD_ACID)
    bath, bottle, spill = (ppm_words(float(row.middle)) for row in air.rows)
    answer = f"spill {spill} ppm, bath {bath}, bottle {bottle}"
    question = (
        f"The workshop buys acid of {MILD_ACID:g} % instead. Same room and bath, same bottle left "
        "open, same spill. Which gives most acid gas now, and which least?"
    )
    strong, mild = (ppm_words(over_liquid(acid)) for acid in (STRONG, MILD_ACID))
    share = over_liquid(STRONG) / over_liquid(MILD_ACID)
    was = float(f"{float(breathed().bottle_times.middle):.2g}")
    less = two_figures(1 / float(air.bottle_times.middle))
    answers = {
        "spill, bottle, bath": Option(
            "spill, bottle, bath",
            f"No: {answer}. The bottle gives {less} times less than the bath.",
        ),
        "alike": Option(
            "all three about alike",
            f"No: {answer}. The spill is still {times_words(air.spill_times)} the bath.",
        ),
        FLIPPED: Option("spill, bath, bottle", f"Yes: {answer}."),
        "bath, spill, bottle": Option(
            "bath, spill, bottle",
            f"No: {answer}. What is spilt is still twice as strong as the bath, and wide too.",
        ),
    }
    reasons = {
        "things": Option(
            "only the acid has changed, not what stands open",
            "The order hung on the strong acid, not on what stands open.",
        ),
        "thousands": Option(
            "over the acid there is thousands of times less gas, and the bottle was only about "
            f"{two_figures(was)} times the bath",
            f"That decides it: {strong} ÷ {mild} is about {two_figures(share)}, and "
            f"{two_figures(was)} ÷ {two_figures(share)} is about 1/{two_figures(share / was)}.",
        ),
        "neck": Option(
            "the gas has to rise through the bottle's neck",
            "The neck holds it back: narrow, and still air in it. Strong acid made up for that.",
        ),
        "warm": Option(
            "the bath is warm and wide",
            "Warm and wide brings the bath past the bottle, not past the spill.",
        ),
    }
    return Prediction("the mild bottle", question, answers, reasons)
