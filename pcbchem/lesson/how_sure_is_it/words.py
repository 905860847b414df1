"""What is said of pairs of baths: numbers as they stand on the page, titles, sentences."""

from __future__ import annotations

import dataclasses

from ...common.number_words import figures, span
from .numbers import Case, bands_alone, by_chance, course, ratio_of, slow_twice

MOVED = {"still": "stands still", "rocked": "is rocked", "shaken": "is shaken"}
"""What the tray does, by movement."""


@dataclasses.dataclass(frozen=True)
class Words:
    """What a picture says: title, live sentence, text alternative and notes in HTML."""

    title: str
    readout: str
    alt: str
    notes: str = ""


def times(factor: float) -> str:
    """Write a factor [-] as it stands beside a mark: "×6.3".

    Examples
    --------
    >>> print(times(6.345), times(1.01), times(57.2))
    ×6.3 ×1.0 ×57
    """
    # ×1.0 and not ×1, which would look like a number counted
    return f"×{factor:.1f}" if 0.995 <= factor < 9.95 else f"×{figures(factor)}"


def at(case: Case, place: int) -> str:
    """Say both ends of the time to clear without water (0) or with it (1) [s, min or h]."""
    band = course(case).times
    ends = {name: getattr(band, name)[place] for name in ("low", "middle", "high")}
    return span(dataclasses.replace(band, **ends))


def ends(pair: tuple[float, float]) -> str:
    """Say two ends of a band of factors [-]."""
    return f"{figures(pair[0])} to {figures(pair[1])}"


def between(low: float, high: float) -> str:
    """Say how far apart two ends of a band are [-], as a factor."""
    return f"{high / low:.1f}"


def ratio_question_words(case: Case) -> Words:
    """Say what is known of both times, and nothing of the ratio bath by bath."""
    known = f"Without water {at(case, 0)}, with it {at(case, 1)}"
    title = f"The tray {MOVED[case.agitation]}: how sure is the ratio?"
    alone = ends(bands_alone(case))
    return Words(
        title,
        f"{known}. By the two bands alone the ratio may be {alone}. Predict first: then the 200 "
        "baths appear.",
        f"{title} Time with water against time without, in minutes, both from zero. A pale "
        f"rectangle where both bands cross. {known}. Beside it a bar from {alone}: what the two "
        "bands alone allow. The baths and their own ratios appear when you have predicted.",
    )


def ratio_words(case: Case) -> Words:
    """Say how sure the ratio is, bath by bath, beside what the two bands alone allow."""
    low, middle, high = ratio_of(case)
    band = course(case).times
    alone, chance, paired = ends(bands_alone(case)), ends(by_chance(case)), ends((low, high))
    slow, again = slow_twice(case)
    title = f"{times(middle)}: bath by bath {paired}, by the two bands {alone}"
    dry, wet = (between(float(band.low[place]), float(band.high[place])) for place in (0, 1))
    sure = (
        f"High end over low end: {dry} without water, {wet} with it, {between(low, high)} for the "
        "ratio"
    )
    return Words(
        title,
        f"Tray {MOVED[case.agitation]}: {at(case, 0)} without water, {at(case, 1)} with it. Bath "
        f"by bath {times(middle)} ({paired}). {sure}.",
        f"{title}. Time with water against time without, in minutes, both from zero: a dot for "
        "each of 200 plausible baths, a line through zero for the middle ratio and dotted lines "
        f"for its ends. Where both bands, {at(case, 0)} and {at(case, 1)}, cross lies a pale "
        f"rectangle. Of the {slow} slower baths without water, {again} are among the slower half "
        "with it. Three bars beside it: by the "
        f"bands alone {alone}, paired by chance {chance}, bath by bath {paired}. {sure}.",
        f"<p>{times(middle)} is the middle of the 200 ratios, not one middle over the other. Were "
        f"the times paired by chance, the ratio would be {chance}: both extremes seldom meet. Of "
        f"the {slow} slower baths without water, {again} are among the slower with it; by chance "
        f"it would be {slow // 2}. What nobody knows of a bath is unknown with water and without: "
        "some of it drops out, most where the tray is shaken. <b>The ratio is surer than the two "
        "bands make it look, and never exact.</b></p>",
    )
