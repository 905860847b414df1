"""What a plan says: what is in doubt, a change in words, what to pour, the table.

Laws, except where validation or transcription is said.
"""

import dataclasses
import re

import numpy as np
import pytest
from helpers.plans import KEPT, MILD, made_of
from helpers.second_reading import ZERO, cut

from pcbchem import Bottle, Kept, RateParameters, Solution, etch, mix
from pcbchem.bench.plan.changes import Change
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.words import changed as change_in_words
from pcbchem.common.band import Band, between

FOUR_HOURS = 4 * 3600.0


# What is in doubt


def test_a_doubt_set_to_its_middle_by_hand(mild):
    """The drop of log(90 %/10 %), with peroxide known exactly: by `etch`, on a bath mixed here."""
    volumes = np.array([1, 2, 3]) / 6 * MILD["bath_per_area"] * 27e-4
    liquids = {
        "acid": Solution.of(volume=volumes[1], T=289.15, HCl=between(0.09, 0.11, 200, 0)),
        "peroxide": Solution.of(volume=volumes[2], T=289.15, H2O2=between(0.102, 0.12, 200, 1)),
    }
    known = {
        "acid": Solution.of(volume=volumes[1], T=289.15, HCl=0.10),
        "peroxide": Solution.of(volume=volumes[2], T=289.15, H2O2=0.111),
    }
    water = Solution.of(volume=volumes[0], T=289.15)

    def ends(liquids, p):
        times = np.asarray(
            etch(mix(water, *liquids.values()), MILD["board"], MILD["tray"], p).time_to_clear
        )
        return cut(times, 1), cut(times, 9)

    p = RateParameters.plausible(200)
    low, high = ends(liquids, p)
    cases = {
        "peroxide": (known | {"acid": liquids["acid"]}, p),
        "acid": (known | {"peroxide": liquids["peroxide"]}, p),
        "model": (liquids, RateParameters()),
    }
    assert {doubt.name for doubt in mild.doubts} == set(cases)
    for doubt in mild.doubts:
        left = ends(*cases[doubt.name])
        assert (doubt.low, doubt.high) == pytest.approx(left, rel=1e-6)
        assert doubt.drop == pytest.approx(np.log(high / low) - np.log(left[1] / left[0]), abs=1e-6)
    assert [doubt.drop for doubt in mild.doubts] == sorted(
        (doubt.drop for doubt in mild.doubts), reverse=True
    )
    assert mild.doubts[0].name == "model", "bottles this well known are not the trouble"


def test_a_doubt_that_is_none_is_left_out():
    exact = {"acid": Bottle("HCl", 0.1, 0.1), "peroxide": Bottle("H2O2", 0.11, 0.11)}
    sure = Kept(0.4, copper=150, acid=2000)
    assert {doubt.name for doubt in made_of(**exact, draws=30).doubts} == {"model"}
    assert {doubt.name for doubt in made_of(**exact, kept=sure, draws=30).doubts} == {"model"}
    assert {doubt.name for doubt in made_of(**exact, kept=KEPT, draws=30).doubts} == {
        "model",
        "kept bath",
    }
    assert {doubt.name for doubt in made_of(kept=sure, draws=30).doubts} == {
        "model",
        "acid",
        "peroxide",
    }
    unsure = made_of(**exact | {"peroxide": Bottle("H2O2", 0.01, 0.20)}, draws=60)
    assert unsure.doubts[0].name == "peroxide"
    assert "measure it, or etch an offcut first in a little bath of its own" in str(unsure)


def test_four_hours_are_the_most_that_a_doubt_counts():
    made = made_of(peroxide=Bottle("H2O2", 0.0, 0.02), draws=60)
    low = float(cut(made.run.time_to_clear, 1))
    (doubt,) = (doubt for doubt in made.doubts if doubt.name == "peroxide")
    assert np.isinf(cut(made.run.time_to_clear, 9)), "some never clear"
    left = np.log(min(doubt.high, FOUR_HOURS) / min(doubt.low, FOUR_HOURS))
    assert doubt.drop == pytest.approx(np.log(FOUR_HOURS / low) - left, abs=1e-9)


def test_a_bath_all_kept_has_no_doubt_of_bottles_that_stay_shut():
    made = made_of(kept=Kept(1.0, (200, 300), (1500, 2500), (1500, 2500)), draws=30)
    assert {doubt.name for doubt in made.doubts} == {"model", "kept bath"}
    said = str(made)
    assert "your acid's strength" not in said and "your peroxide's strength" not in said
    asked = next(line for line in said.splitlines() if "of it bare" in line)
    assert asked.startswith("A board of") and "by weight" not in asked
    assert (
        "acid of 9 to 11 % and peroxide of 10.2 to 12 % by weight" in str(made_of(draws=30)).lower()
    )


# Words, table, repeatability


@pytest.mark.parametrize(
    ("lever", "before", "after", "unit"),
    [
        ("start", 293.55, 293.15, "°C"),
        ("start", 293.2, 293.15, "°C"),
        ("start", 298.15, 283.15, "°C"),
        ("bath", 0.0396, 0.04, "mL per cm²"),
        ("bath", 0.0955, 0.096, "mL per cm²"),
        ("bath", 0.02, 0.05, "mL per cm²"),
        ("water", (50.0, 1, 100.04), 50.1, ":"),
        ("water", (1, 1, 3), 10.2, ":"),
        ("water", (3.96, 1, 1), 4.0, ":"),
        ("water", (0, 1, 1), 0.1, ":"),
    ],
)
def test_a_change_reads_as_a_change(lever, before, after, unit):
    """Both numbers, read back: they differ, the right way round, and are true to half of their last digit."""
    name = {"start": "T_bottles", "bath": "bath_per_area", "water": "parts"}[lever]
    asked = Inputs(**{**MILD, name: before})
    to = asked.replace(**{name: after if lever != "water" else (after, *asked.parts[1:])})
    said = change_in_words(Change(lever, after, 0.1, "mix it", to), asked)
    new, old = re.search(rf": ([\d.]+) {unit}.* instead of (\d+(?:\.\d+)?)\b", said).groups()
    true = {
        "start": lambda given: given.T_bottles - ZERO,
        "bath": lambda given: given.bath_per_area * 100,
        "water": lambda given: given.parts[0],
    }[lever]
    for written, number in ((new, true(to)), (old, true(asked))):
        digits = len(written.split(".")[1]) if "." in written else 0
        assert abs(float(written) - number) <= (1e-9 if written is new else 0.5001 * 10**-digits), (
            written,
            number,
        )
    assert (float(new) < float(old)) if lever == "start" else (float(new) > float(old))
    step = {
        "start": f"At {new} °C",
        "bath": f"With {new} mL per cm²",
        "water": f"With {new} parts of it",
    }[lever]
    assert re.search(
        r", or (more of it|more water|colder)\. " + step + " the verdict is: mix it$", said
    ), said


@pytest.mark.parametrize(
    ("never", "of"), [(0, 200), (1, 200), (3, 200), (29, 200), (200, 200), (1, 8), (1, 1)]
)
def test_baths_that_never_clear_are_counted(mild, never, of):
    """Draws are whole: 1 of 200 is not 0 of 100."""
    times = np.where(np.arange(of) < never, np.inf, 300.0 + np.arange(of))
    said = str(dataclasses.replace(mild, bands=mild.bands | {"time_to_clear": Band.of(times, of)}))
    counts = re.findall(r"(\d+) of (\d+) plausible baths never clear this board", said)
    assert counts == ([(str(never), str(of))] if never else [])
    assert (
        "0 of 100 plausible baths" not in said
        and "in **never" not in said
        and "in never" not in said
    )
    assert ("8 of 10 plausible baths clear this board" in said) == (never <= of / 10)


def test_what_was_not_tried_is_not_said_to_have_been():
    """Coldest start, most bath, and nothing poured: each lever that has no way to go is left out."""
    weak = {
        "acid": Bottle.labelled("HCl", 0.02),
        "peroxide": Bottle.labelled("H2O2", 0.01),
        "draws": 20,
    }
    most = made_of(**weak, bath_per_area=0.10, T_bottles=282.0)
    assert most.refused and "that we tried is enough: more water." in str(most)
    all_kept = made_of(**weak, kept=Kept(1.0, 300, 50, 5))
    assert (
        all_kept.refused
        and "that we tried is enough: more bath for the copper, a colder start." in str(all_kept)
    )
    none = made_of(**weak, kept=Kept(1.0, 300, 50, 5), bath_per_area=0.10, T_bottles=282.0)
    assert none.refused and "No single change that we tried" not in str(none)


def test_a_bath_without_peroxide_is_said_to_hold_none():
    for parts in ((1, 1, 0), (1, 2, 3)):
        bottle = MILD["peroxide"] if not parts[2] else Bottle("H2O2", 0.0, 0.0)
        said = str(made_of(parts=parts, peroxide=bottle, draws=20))
        assert "there is no peroxide in it" in said and "run out of peroxide" not in said
        assert "would do for 0 times this copper" in said, "one figure where both ends agree"
        assert "No doubt matters to a bath that never clears the board." in said
        assert "band of times is never" not in said


def test_the_table_holds_the_bands(whole):
    frame = whole.to_frame()
    bands = whole.bands
    rows = {
        "acid in the mixture (mol/L)": ("acid", 1e3, 0),
        "peroxide in the mixture (% by weight)": ("peroxide", 0.01, 0),
        "temperature after mixing (°C)": ("mixing_temperature", 1, ZERO),
        "time until the board is clear (min)": ("time_to_clear", 60, 0),
        "reached while etching (°C)": ("etching_peak", 1, ZERO),
        "reached in the hour after (°C)": ("standing_peak", 1, ZERO),
        "reserve: times what this copper needs": ("reserve", 1, 0),
        "oxygen in the hour after (times its own volume)": ("oxygen", 1, 0),
        "peroxide left after that hour (%)": ("peroxide_left", 0.01, 0),
        "peroxide left after a day (%)": ("peroxide_left_day", 0.01, 0),
    }
    for row, (name, scale, less) in rows.items():
        expected = [
            (float(end) - less) / scale
            for end in (bands[name].low, bands[name].middle, bands[name].high)
        ]
        assert list(frame.loc[row]) == pytest.approx(expected), row
    for k, stage in enumerate(whole.stages, 1):
        row = frame.loc[f"pour {k}: {stage.what} (mL)"]
        assert (
            row["middle"] == pytest.approx(stage.volume * 1e6) and row.drop("middle").isna().all()
        ), "no doubt in it"
        ends = stage.temperature
        expected = [float(end) - ZERO for end in (ends.low, ends.middle, ends.high)]
        assert list(frame.loc[f"after pour {k}: temperature (°C)"]) == pytest.approx(expected)
    assert (
        frame.loc["baths that never clear (of 100)", "middle"] == 100 * bands["time_to_clear"].never
    )
    assert (
        frame.attrs["verdict"] == whole.verdict
        and len(frame) == len(rows) + 2 * len(whole.stages) + 1
    )


def test_print_says_what_to_pour_and_when(whole, mild):
    said = str(whole)
    numbered = [line for line in said.splitlines() if re.match(r"\d\. ", line)]
    assert [line[:3] for line in numbered] == [f"{k}. " for k in range(1, 7)]
    for line, stage in zip(numbered[:4], whole.stages[:4], strict=True):
        assert line[3:].startswith(f"{stage.what}, ")
    assert numbered[4] == "5. Then the board goes in.", "a bath kept is in the tray already"
    assert numbered[5].startswith("6. 1 min 40 s after the board, peroxide, second portion, ")
    fresh = [line for line in str(mild).splitlines() if re.match(r"\d\. ", line)]
    assert fresh[-1] == "4. Pour it from the jug into the tray at once. Then the board goes in."
    for stage in whole.stages:
        assert f"{float(f'{stage.volume * 1e6:.3g}'):g} mL" in said
        assert (
            f"{float(f'{stage.volume / 29.5735295625e-6:.2g}'):g} US fl oz" in said
        )  # 29.5735295625 mL by definition
    (late,) = (line for line in said.splitlines() if "second portion" in line and "mL" in line)
    assert "1 min 40 s" in late and "not clear" in late
