"""Sixty random plans: verdict, first look, resist and words are what their draws come to.

Laws, except where validation or transcription is said.
"""

import dataclasses
import re

import numpy as np
import pytest
from helpers.plans import made_of
from helpers.second_reading import cut, liquids_of
from helpers.second_reading import whole as had_of

from pcbchem import Bottle


def test_first_look_comes_before_one_bath_in_ten_is_clear(few, mild):
    plans = [made for made in [*few, mild] if made.first_look is not None]
    assert len(plans) >= 12
    for made in plans:
        soonest = float(cut(made.run.time_to_clear, 1))
        assert 0.4 * soonest < made.first_look <= 0.5 * soonest, (
            "half of the 10 % time, down by a fifth at most"
        )
        middle = float(cut(made.run.time_to_clear, 5))
        assert made.over_etch == pytest.approx((0.1 * middle, 0.3 * middle))
        said = re.search(
            r"Look first at the copper after (?:(\d+) min)? ?(?:(\d+) s)?, then often", str(made)
        ).groups()
        minutes, seconds = (int(number or 0) for number in said)
        assert 60 * minutes + seconds == made.first_look, (
            "what is said is what is meant, to the second"
        )
        assert (
            seconds < 60 and (not minutes or seconds % 5 == 0) and (minutes < 10 or seconds == 0)
        ), "easy to keep"
    assert made_of(peroxide=Bottle("H2O2", 0, 0), draws=20).first_look is None, "nothing clears"


def test_resist_life_is_for_baths_neither_strong_nor_warm(few, mild):
    """Transcription: 20 to 30 min, common practice, no source."""
    assert mild.resist_life == (20 * 60, 30 * 60)
    counted = {True: 0, False: 0}
    for made in few:
        if not made.refused:
            had = had_of(made.inputs, made.run, made.after, liquids_of(made.inputs))
            gentle = bool(cut(had["acid"], 9) <= 3 and cut(had["etching"], 9) <= 45)
            assert (made.resist_life is not None) == gentle
            counted[gentle] += 1
    assert min(counted.values()) >= 2, counted


def test_a_verdict_is_what_the_reasons_come_to(few):
    for made in few:
        kinds = {reason.kind for reason in made.reasons}
        assert made.verdict == (
            "mix it" if not kinds else "with cares" if kinds == {"care"} else "do not mix"
        )
        assert (
            made.refused
            == (made.verdict == "do not mix")
            == (made.stages == ())
            == (made.later is None)
        )
        with pytest.raises(TypeError):
            dataclasses.replace(made, verdict="mix it")
        with pytest.raises(AttributeError):
            made.verdict = "mix it"
    assert {made.verdict for made in few} == {"mix it", "with cares", "do not mix"}


def test_a_refused_plan_keeps_no_amount_in_what_it_reckoned(few):
    refused = [made for made in few if made.refused]
    assert len(refused) >= 10 and any(made.inputs.second for made in refused)
    for made in refused:
        for amount in (made.run.volume, made.run.mass, made.run.oxygen_amount, made.after.oxygen):
            assert np.isnan(np.asarray(amount)).all()
        assert not {"volume", "acid_used", "copper_used", "peroxide_left_day"} & set(made.bands)
        assert np.all(np.asarray(made.mixture.mass) == 1)
        with pytest.raises(ValueError, match="kept without its amounts"):
            made.run.bath_after  # noqa: B018 (reading it is the test)
    for made in few:
        if not made.refused:
            assert (
                np.isfinite(np.asarray(made.after.oxygen)).all()
                and float(made.bands["volume"].low) > 0
            )


def test_print_says_the_verdict_first(few):
    heads = {
        "mix it": "Mix it.",
        "with cares": "Mix it with these cares.",
        "do not mix": "Do not mix.",
    }
    for made in few:
        assert str(made).splitlines()[0] == heads[made.verdict]
        assert made._repr_markdown_().startswith(f"**{heads[made.verdict]}**")
        assert made.verdict in repr(made)
        for said in (str(made), made._repr_markdown_()):
            assert all(reason.words[1:] in said for reason in made.reasons)
            assert all(
                caution.words in said and caution.source in said for caution in made.cautions
            )
