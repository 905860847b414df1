"""What is said of the baths is what the package counts; a question tells nothing (laws)."""

import re

import numpy as np
import pytest

from pcbchem.lesson.weak_peroxide import words
from pcbchem.lesson.weak_peroxide.numbers import NEVER, STRONG_ACID, WEAK_ACID, all_fates

ACIDS = (WEAK_ACID, STRONG_ACID)


@pytest.mark.parametrize("acid", ACIDS)
def test_law_a_sentence_holds_the_counts(acid):
    for fates in all_fates(acid):
        said = words.answer_words(fates)
        times, never = np.asarray(fates.time.values), fates.counts[NEVER]
        told = re.search(
            r"for ([\d.]+) times.*Of 200 plausible baths (\d+) clear while it lasts, (\d+) turn "
            r"brown and then clear, (\d+) never clear in 4 hours\. Half ",
            said.readout,
        ).groups()
        assert [float(number) for number in told] == [fates.times, *fates.counts]
        assert never == np.isinf(times).sum() and said.readout in said.alt
        for count, look in zip(fates.counts, ("filled", "hatched", "crossed"), strict=True):
            assert f"{count} {look}" in said.alt
        clear = f"{fates.clear or 'none'} of 200 clear"
        expected = clear if acid == STRONG_ACID else f"{clear} in 4 hours"
        assert said.title.endswith(f": {expected}") and said.title in said.alt
        assert said.title.startswith("Drawn only.") == (acid == STRONG_ACID)
        half = re.search(r"Half take ([\d.]+) (min|h) or more\.", said.readout)
        assert (half is None) == (never >= 100)
        if half:
            middle = float(half[1]) * {"min": 60, "h": 3600}[half[2]]
            assert np.sum(times >= 0.96 * middle) >= 100 and np.sum(times <= 1.04 * middle) >= 100


@pytest.mark.parametrize("acid", ACIDS)
def test_law_what_is_refused_is_said_to_be(acid):
    for fates in all_fates(acid):
        said = words.answer_words(fates).readout
        if acid == STRONG_ACID:
            # alike at every place: none of them is called the one that is not refused
            assert "drawn only, never mixed" in said
            continue
        assert ("drawn only: the planner refuses it" in said) == fates.refused
        if fates.refused:
            continue
        # no number becomes a permission
        assert "only the planner says whether to mix it" in said


def test_law_a_question_tells_no_count():
    for acid in ACIDS:
        said = words.question_words(1.1, acid)
        assert "redict first" in said.readout
        assert "clear" not in f"{said.title} {said.readout}" and "brown" not in said.alt
        assert ("31 %" in said.title) == (acid == STRONG_ACID)
