"""What page 06 tells afterwards holds the package's own numbers, each step as printed (laws)."""

import re

import numpy as np
import pytest
from helpers.by_hand import right_as_printed

from pcbchem.lesson.weak_peroxide import read_strong, say_now, texts, why
from pcbchem.lesson.weak_peroxide.numbers import (
    ASKED,
    NEVER,
    STRONG_ACID,
    TOO_LITTLE,
    asked_bath,
    at,
    never_if_slow,
    offcuts,
)
from pcbchem.reaction.brown import cuprous_held
from pcbchem.reaction.chemistry import parse

STEP = re.compile(r"([\d.]+) ([×÷+]) ([\d.]+) = ([\d.]*\d)")


def test_law_each_step_by_hand_is_right_as_printed():
    told = texts.reckoned()
    steps = STEP.findall(told)
    assert len(steps) == 7
    right_as_printed(steps)
    ratio, cuprous, share, taken, home, taken_less, never = steps
    assert (cuprous[0], share[0]) == (ratio[3], cuprous[3])
    assert (home[0], home[2]) == (taken[3], share[3])
    assert (never[0], never[2]) == (taken_less[3], share[3])
    assert float(home[3]) >= 1 > float(never[3])
    fresh = asked_bath()
    assert float(ratio[0]) == pytest.approx(float(cuprous_held(fresh)) / 1000, abs=0.005)
    assert float(ratio[2]) == pytest.approx(float(fresh.concentration("H2O2")) / 1000, abs=0.005)
    lost = [float(text) for text in re.findall(r"([\d.]+) is lost\.", told)]
    band = at(ASKED).lost
    assert lost == pytest.approx([float(band.middle), float(band.high)], abs=0.006)
    assert [float(taken[2]), float(taken_less[2])] == pytest.approx([1 - each for each in lost])


def test_law_two_copper_i_for_each_copper():
    reaction = parse("brown", "Cu(s) + Cu2+(aq) -> 2 Cu+(aq)")
    assert reaction.coefficients["Cu+(aq)"] == -2 * reaction.coefficients["Cu(s)"]
    assert "Cu + Cu²⁺ → 2 Cu⁺" in why()


def test_law_why_holds_the_counts():
    fates = at(ASKED)
    early = sum(fates.counts[1:])
    told = re.search(
        r"no copper: (\d+) to (\d+) %\. In (\d+) it is spent early, after (\d+) to (\d+) min, with "
        r"(\d+) to (\d+) %",
        why(),
    ).groups()
    brown = fates.fate != 0
    assert int(told[2]) == early == brown.sum()
    ends = [
        *(100 * np.percentile(fates.lost.values, (10, 90))),
        early,
        *(np.percentile(fates.spent.values, (10, 90)) / 60),
        *(100 * np.percentile(fates.gone.values, (10, 90))),
    ]
    assert [float(text) for text in told] == pytest.approx(ends, abs=0.6)
    assert f"{never_if_slow()} instead of {fates.counts[2]} never clear if slow decay" in why()


def test_law_doubts_are_said():
    told = why()
    for doubt in ("Nobody has measured", "if slow decay is counted too", "which has no air"):
        assert doubt in told
    for danger in ("board out", "pour nothing in", "blow no air", "never closed", "copper waste"):
        assert danger in told.lower()
    sources = texts.sources()
    for status in ("published", "from memory", "assumed factor", "common practice", "our limits"):
        assert sources.count(status) == 1
    assert read_strong().startswith("Acid of 31 % fumes") and "never mix it" in read_strong()


def test_law_strong_acid_is_told_as_it_is():
    told = read_strong()
    strong = at(TOO_LITTLE, STRONG_ACID)
    assert f"31 %: {strong.clear} of 200 clear; with 10 % acid none.**" in told
    assert at(TOO_LITTLE).clear == 0
    first, second = STEP.search(told), re.search(r"([\d.]+) × ([\d.]+) ÷ 2 = ([\d.]*\d)", told)
    right_as_printed([first.groups()])
    ratio, times, share = (float(text) for text in second.groups())
    assert ratio == float(first[4]) and times == TOO_LITTLE
    assert share == pytest.approx(ratio * times / 2, abs=0.0051) and share > 1
    held = float(cuprous_held(asked_bath(STRONG_ACID))) / 1000
    assert float(first[1]) == pytest.approx(held, abs=0.005)
    # "nearly all that never clear had less than half of the copper gone": by hand at most as much
    # again is dissolved, one copper(II) for each copper
    gone, never = np.asarray(strong.gone.values), strong.fate == NEVER
    assert "Nearly all that never clear had less than half" in told
    assert np.mean(gone[never] < 0.5) > 0.95 and np.mean(never[gone < 0.5]) > 0.95
    # "more of the weak bath helps"
    assert f"3 times the copper, {at(3.0).counts[NEVER]} of 200 never clear" in told
    assert at(3.0).counts[NEVER] < at(ASKED).counts[NEVER] / 10


def test_law_two_offcuts_are_told_as_the_planner_has_them():
    told = say_now()
    middle, low, high, least = re.search(
        r"take ([\d.]+) times as long \(([\d.]+) to ([\d.]+)\), in no plausible bath under "
        r"([\d.]+) times\.",
        told,
    ).groups()
    weak = offcuts()
    printed = [float(text) for text in (middle, low, high)]
    band = [float(end) for end in (weak.ratio.middle, weak.ratio.low, weak.ratio.high)]
    assert printed == pytest.approx(band, abs=0.051)
    # a bath as the page allows it never proves it wrong
    assert weak.least - 0.011 < float(least) <= weak.least
    assert (np.asarray(weak.ratio.values) >= float(least)).all()
    # what it does not tell is said
    assert "not why" in told and "it tells nothing" in told
    assert texts.floored(1.0999) == "1.09"
