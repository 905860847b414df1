"""What a calibration says of itself: what it rests on, what it is worth, and what to see to."""

from __future__ import annotations

from typing import Any

import numpy as np

from ...common.arrays import MOST_DRAWS
from ...common.number_words import clock, figures

ABOUT_TIME = (
    "This is about time only: verdict, cautions and the stop at 45 °C stay those of the plan, for "
    "offcuts say nothing of a bath left standing. A refused bath stays refused."
)
"""To be said beside every calibrated time."""

# `calibration` is a `Calibration`, which imports this module: it cannot be imported here


def sentences(calibration: Any) -> list[str]:
    """Say what a calibration rests on and what it is worth, sentence by sentence."""
    sentences = about_draws(calibration)
    for (substance, name), strength in calibration.measured.items():
        sentences.append(f"Bottle {name!r} of {substance} was measured: {strength.words}.")
    if calibration.bad:
        reasons = "; ".join(f"line {line}: {reason}" for line, reason in calibration.bad)
        if len(calibration.bad) == 1:
            rows = "1 row of the log cannot be used and does not count"
        else:
            rows = f"{len(calibration.bad)} rows of the log cannot be used and do not count"
        sentences.append(f"{rows}: {reasons}.")
    sentences += calibration.warnings
    if calibration.offcuts:
        sentences.append(ABOUT_TIME)
    return sentences


def about_draws(calibration: Any) -> list[str]:
    """Say how many draws the offcuts leave."""
    count = len(calibration.offcuts)
    if not count:
        return [f"No offcut yet: all {MOST_DRAWS} plausible draws count alike."]
    offcuts = f"{count} offcuts"
    if count == 1:
        offcuts = "1 offcut"
    left = f"Of {MOST_DRAWS} plausible draws they leave as many as {calibration.shipped_left:.0f}"
    if calibration.new_draws:
        effective = calibration.effective_draws
        left += f": too few, so {effective:.0f} new ones were made around them"
    return [
        f"{offcuts}; a time seen is taken to be good to {100 * calibration.spread:.0f} %.",
        f"{left}.",
    ]


def about_all(calibration: Any) -> list[str]:
    """Say that all offcuts lie far on one side of what was expected before, where they do."""
    times = calibration.times_the_middle
    if times is None:
        return []
    every = "every offcut"
    if len(calibration.offcuts) == 1:
        every = "the offcut"
    sentences = [
        f"{every.capitalize()} took about {figures(times)} times the middle of what was expected "
        "before: check the weight of the foil, and whose bottle it was."
    ]
    # Of the two ways to be far off, too quick is the dangerous one
    if times < 1:
        sentences.append("A bottle may be stronger than the log says: measure it before you mix.")
    return sentences


def about_slips(calibration: Any) -> list[str]:
    """Say which rows do not fit, and what may be wrong."""
    sentences = []
    for row, offcut in enumerate(calibration.offcuts):
        line = calibration.lines[row]
        if line not in calibration.flagged or offcut.time is None:
            continue
        seen_time = clock(offcut.time)
        if not offcut.clear:
            seen_time = f"not clear after {seen_time}"
        low, _, high = calibration.times_after[row]
        expected_time = f"{clock(low)} to {clock(high)}"
        if not np.isfinite(low):  # then the other end is not either
            expected_time = "never to clear"
        sentences.append(
            f"Line {line} does not fit and hardly counts: seen {seen_time}, "
            f"expected {expected_time}. Look at its time (in seconds?), its area and foil, "
            "its bottles, its parts and its note."
        )
        # Of the two ways not to fit, to be too quick is the dangerous one
        if offcut.clear and offcut.time < low:
            sentences.append(
                "If it is right, a bottle is stronger than the log says: do not mix it until it is "
                "measured."
            )
    if calibration.offcuts and len(calibration.flagged) == len(calibration.offcuts):
        sentences.append(
            "No offcut fits: a bottle may be quite another than the log says. "
            "Measure it before you mix again."
        )
    return sentences
