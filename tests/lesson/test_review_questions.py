"""Questions that go back to earlier lessons, by hand from outside sources (second source, law).

The tests by hand read the numbers from the question as it is printed, as a learner does.
"""

import csv
from pathlib import Path

import numpy as np
import pytest
from helpers.questions import few, numbers

from pcbchem.lesson import review_questions
from pcbchem.page.answers import judge

PUBLISHED = Path(__file__).parents[1] / "published"
# IUPAC 2021 standard atomic weights [g/mol]
CU, HCL = 63.546, 1.008 + 35.45


@pytest.mark.parametrize("question", few("strength"), ids=lambda q: q.text[20:60])
def test_second_source_strength_from_a_handbook_density(question):
    # hcl_density.csv, two tables at 20 °C and 10 %: 1048 and 1047.4 kg/m³; volumes of such weak
    # mixtures add to 0.1 %
    with (PUBLISHED / "hcl_density.csv").open(encoding="utf-8") as file:
        density = [
            float(row["density_kg_m3"])
            for row in csv.DictReader(file)
            if float(row["mass_fraction"]) == 0.1 and row["T_C"] == "20"
        ]
    water, acid, peroxide = numbers(
        r"holds (?:(\d*½?) parts? of water, )?(\d½?) parts? of 10 % acid and (\d*½?) parts? of",
        question.text,
    )
    in_bottle = 0.10 * np.mean(density) / HCL  # mol/L
    by_hand = in_bottle * 1000 * acid / (water + acid + peroxide)
    assert len(density) >= 2 and question.answer == pytest.approx(by_hand, rel=0.002)
    assert judge(question, f"{by_hand / 1000:.3g} mol/L").grade == "right"
    by_volume = 100 / HCL * acid / (water + acid + peroxide)
    assert "By weight" in judge(question, f"{by_volume:.3f}").words
    one_part = in_bottle / (water + acid + peroxide)
    assert acid == 1 or "one part" in judge(question, f"{one_part:.3f}").words
    forgotten = in_bottle * acid / (water + acid)
    assert "left out the peroxide" in judge(question, f"{forgotten:.3f} M").words
    if water:
        assert "how many parts" in judge(question, f"{in_bottle:.2f} M").words
        without = in_bottle * acid / (acid + peroxide)
        assert "is added" in judge(question, f"{without:.3f} M").words


@pytest.mark.parametrize("question", few("copper"), ids=lambda q: q.text[:40])
def test_second_source_copper_by_hand(question):
    # Cu + H2O2 + 2 H+ -> Cu2+ + 2 H2O: charge alone says two acid for a copper
    volume, strength = numbers(r"holds (\d+) mL of etching bath with ([\d.]+) mol/L", question.text)
    by_hand = volume / 1000 * strength / 2 * CU
    # the strength is printed to two decimals
    assert question.answer * 1000 == pytest.approx(by_hand, rel=0.008)
    assert judge(question, f"{by_hand:.2f} g").grade == "right"
    assert "twice too much" in judge(question, f"{2 * by_hand:.2f} g").words


def test_law_the_acid_is_what_limits_the_copper(monkeypatch):
    baths = []
    usual = review_questions.capacity

    def noting(bath):
        baths.append(bath)
        return usual(bath)

    monkeypatch.setattr(review_questions, "capacity", noting)
    for seed in range(100):
        review_questions.copper_question(np.random.default_rng(seed))
    assert len(baths) == 100
    assert all(bath.amount("H2O2") > 1.2 * bath.amount("HCl") / 2 for bath in baths)


@pytest.mark.parametrize("question", few("warmth"), ids=lambda q: q.text[11:60])
def test_second_source_warmth_by_hand(question):
    # CODATA formation enthalpies [kJ/mol]: Cu2+ 64.9, H2O -285.83; NBS: H2O2 in water -191.17
    heat = -(64.9 + 2 * -285.83 - -191.17) / CU
    # specific_heat.csv: 10 % acid 3470 J/kg/K at 20 °C; peroxide by its own 2.6 J/g: 5 % acid and
    # 6 % peroxide in water
    per_mL_by_hand = 1.045 * (4.184 - (4.184 - 3.47) / 2 - 0.06 * (4.184 - 2.63))
    start_F, volume, copper, per_gram, per_mL = numbers(
        r"shows (\d+) °F. In (\d+) mL .* loses ([\d.]+) g .*\n"
        r".* sets ([\d.]+) kJ free.* takes ([\d.]+) J",
        question.text,
    )
    assert per_gram == pytest.approx(heat, rel=0.005)
    assert per_mL == pytest.approx(per_mL_by_hand, rel=0.04)
    # the board: 75 mm × 60 mm, 60 % bare, one ounce a square foot is 305.15 g/m²
    assert copper == pytest.approx(0.075 * 0.060 * 0.6 * 305.15, abs=0.006)
    rise = copper * per_gram * 1000 / (volume * per_mL)
    by_hand = (start_F - 32) * 5 / 9 + rise
    assert question.answer - 273.15 == pytest.approx(by_hand, abs=0.15)
    for text in (f"{by_hand:.1f} °C", f"{by_hand:.0f}", f"{by_hand * 1.8 + 32:.0f} °F"):
        assert judge(question, text).grade == "right"
    assert "shows °F" in judge(question, f"{start_F + rise:.1f}").words
    assert "right in °F" in judge(question, f"{by_hand * 1.8 + 32:.1f}").words
    assert "forgot to subtract 32" in judge(question, f"{start_F / 1.8 + rise:.1f}").words
    in_F = (start_F - 32 + rise) / 1.8
    assert "took the rise for °F" in judge(question, f"{in_F:.1f}").words
    assert "how much it gets warmer" in judge(question, f"{rise:.1f}").words


@pytest.mark.parametrize("question", few("volumes"), ids=lambda q: q.given)
def test_law_volumes_by_the_definition_of_school_texts(question):
    """h2o2_volume_strength.csv, between its rows: the same definition, worked out elsewhere."""
    with (PUBLISHED / "h2o2_volume_strength.csv").open(encoding="utf-8") as file:
        rows = [
            (float(row["volume_strength"]), float(row["percent_by_weight_20C"]) / 100)
            for row in csv.DictReader(file)
        ]
    (volumes,) = numbers(r"peroxide, ([\d.]+) volumes", question.text)
    share = float(np.interp(volumes, *zip(*sorted(rows), strict=True)))
    assert question.answer == pytest.approx(share, rel=0.005)
    assert judge(question, f"{100 * share:.2f} %").grade == "right"
    assert "litres of oxygen" in judge(question, f"{volumes} %").words
