"""Boards that a full tray can carry: by hand from handbook densities, and a textbook's example.

The textbook: B. A. Averill and P. Eldredge, General Chemistry: Principles, Patterns, and
Applications, v. 1.0 (2012), section 3.4, read in a copy:
github.com/saylordotorg/text_general-chemistry-principles-patterns-and-applications-v1.0m
"""

import csv
import dataclasses
from pathlib import Path

import numpy as np
import pytest

from pcbchem.bench.hazards import rules
from pcbchem.bench.plan.outlook import outlook
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.where_the_copper_goes import numbers
from pcbchem.lesson.where_the_copper_goes.numbers import (
    ASKED,
    EQUAL,
    PARTS,
    WEAKER,
    hot_when_asked,
    share_of,
    tent,
    tray_bath,
    turning_point,
    vinegar_for,
    warmths,
)
from pcbchem.lesson.workshop import bath, tide_clock
from pcbchem.matter.solution import Solution
from pcbchem.reaction.chemistry import capacity, limiting_reagent, needed, parse, reserve

PUBLISHED = Path(__file__).parents[2] / "published"
BOTTLES = (12.0, *WEAKER)
# IUPAC 2021 standard atomic weights [g/mol]
CU, CL, H, O, C, NA = 63.546, 35.45, 1.008, 15.999, 12.011, 22.98977
OUNCE = 28.349523125 / 929.0304  # g/cm², by definition


def density(table, share):
    """A handbook's density at 18 or 20 °C [g/mL], between two of its rows; 0.1 % apart at most."""
    with (PUBLISHED / f"{table}.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["T_C"] in ("18", "20")]
    # several sources may print one strength: their mean
    printed = {}
    for row in rows:
        printed.setdefault(float(row["mass_fraction"]), []).append(float(row["density_kg_m3"]))
    shares = sorted(printed)
    return np.interp(share, shares, [np.mean(printed[each]) for each in shares]) / 1000


@pytest.mark.parametrize("bottle", BOTTLES)
@pytest.mark.parametrize("parts", (0.4, 1.0, 2.0, 5.0))
def test_second_source_boards_by_hand_from_handbook_densities(bottle, parts):
    """150 mL over 27 cm² of 1 oz copper; volumes of such weak mixtures add to 0.1 %."""
    acid = 150 / (1 + parts) * density("hcl_density", 0.10) * 0.10 / (H + CL)
    peroxide = 150 * parts / (1 + parts) * density("h2o2_density", bottle / 100) * bottle / 100
    peroxide /= 2 * (H + O)
    copper = 27 * OUNCE / CU
    place = tent(bottle).at(parts)
    assert tent(bottle).acid[place] == pytest.approx(acid / 2 / copper, rel=0.004)
    assert tent(bottle).peroxide[place] == pytest.approx(peroxide / copper, rel=0.004)


def test_second_source_a_textbook_s_limiting_reactant():
    """Averill and Eldredge, 3.4: 5.272 mol TiCl4 and 8.23 mol Mg give 4.12 mol Ti, 197 g.

    One to two, as peroxide and acid: the smaller of amount over coefficient decides.
    """
    reaction = parse("titanium", "TiCl4(g) + 2 Mg(l) -> Ti(s) + 2 MgCl2(l)")
    there = {"TiCl4(g)": 1000 / 189.679, "Mg(l)": 200 / 24.305}
    assert there["TiCl4(g)"] == pytest.approx(5.272, abs=0.0005)
    assert there["Mg(l)"] == pytest.approx(8.23, abs=0.005)
    made = {name: amount / -reaction.coefficients[name] for name, amount in there.items()}
    assert min(made, key=made.get) == "Mg(l)"
    # it goes on with 8.23, rounded
    assert made["Mg(l)"] == pytest.approx(4.12, abs=0.0075)
    assert made["Mg(l)"] * 47.867 == pytest.approx(197, abs=0.5)
    # the package's own counting, of a bath with that much: peroxide is the one, acid the two
    bath = Solution.from_amounts(mass=100.0, T=293.15, H2O2=5.272, HCl=8.23)
    assert limiting_reagent(bath) == "HCl"
    assert float(capacity(bath)) == pytest.approx(4.12, abs=0.0051)


def test_second_source_grams_of_copper_of_a_board():
    """checks_solutions C27: 1 oz on 100 × 160 mm weighs 4.882 g, 76.83 mmol."""
    per_area = float(tide_clock().copper / tide_clock().copper_area)  # mol/m²
    assert per_area * 0.016 * CU == pytest.approx(4.882, abs=0.01)
    assert per_area * 0.016 * 1000 == pytest.approx(76.83, abs=0.05)


def test_second_source_vinegar_for_baking_soda():
    """One acetic acid for each NaHCO3, from the weights of their atoms."""
    soda, acetic = NA + H + C + 3 * O, 2 * C + 4 * H + 2 * O
    reaction = parse("fizz", "H+(aq) + NaHCO3(s) -> Na+(aq) + H2O(l) + CO2(g)")
    assert reaction.coefficients["H+(aq)"] == reaction.coefficients["NaHCO3(s)"]
    assert vinegar_for(0.005) * 1000 == pytest.approx(5 / soda * acetic / 0.05, rel=1e-4)


@pytest.mark.parametrize("bottle", BOTTLES)
def test_law_the_tent_is_two_straight_lines_and_the_lower_counts(bottle):
    case = tent(bottle)
    assert case.acid == pytest.approx(case.acid_only * (1 - case.share), rel=1e-9)
    assert case.peroxide == pytest.approx(case.peroxide_only * case.share, rel=1e-9)
    for place in range(0, len(PARTS), 7):
        bath = tray_bath(PARTS[place], bottle)
        assert case.carried[place] == pytest.approx(float(reserve(bath, tide_clock())), rel=1e-9)
        # with exactly so many boards one of the two is used up, the other is not short
        used = needed(case.carried[place] * tide_clock().copper)
        left = {name: float(bath.amount(name)) - float(used[name]) for name in used}
        assert left[case.first[place]] == pytest.approx(0, abs=1e-9)
        assert min(left.values()) > -1e-9
        more = max(case.acid[place], case.peroxide[place])
        assert case.left(place) == pytest.approx(1 - case.carried[place] / more)


@pytest.mark.parametrize("bottle", BOTTLES)
def test_law_nothing_carries_more_than_the_top(bottle):
    case = tent(bottle)
    share, most = case.top
    fine = np.linspace(0.1, 3, 5801)
    carried = reserve(tray_bath(fine, bottle), tide_clock())
    assert carried.max() == pytest.approx(most, rel=1e-3) and carried.max() <= most * (1 + 1e-9)
    assert share_of(case.top_parts) == pytest.approx(share)


def test_law_the_tray_is_always_as_full():
    volume = np.asarray(tray_bath(PARTS).volume)
    assert volume == pytest.approx(150e-6, rel=1e-3)


def test_law_the_scarce_one_changes_at_the_turning_point():
    for bottle in (*BOTTLES, turning_point() * 1.01, turning_point() / 1.01):
        first = limiting_reagent(tray_bath(EQUAL, bottle))
        assert first == ("HCl" if bottle > turning_point() else "H2O2")
    assert WEAKER[1] > turning_point() > WEAKER[2]


def test_law_more_peroxide_helps_only_where_it_runs_out_first():
    for bottle in BOTTLES:
        case = tent(bottle)
        equal, more = case.at(EQUAL), case.at(1.2)
        assert (case.carried[more] > case.carried[equal]) == (case.first[equal] == "H2O2")
    case = tent()
    assert case.carried[case.at(ASKED)] == pytest.approx(case.carried[case.at(EQUAL)] * 2 / 3)


def test_law_limits_are_those_of_the_rules():
    by_name = {rule.name: rule for rule in rules()}
    assert numbers.wanted() == by_name["little reserve"].limit
    assert numbers.too_warm() == by_name["warm while etching"].limit


def test_law_baths_at_the_asked_ratio_are_counted_as_the_planner_has_them():
    """All of the planner's baths, with parts as they are asked about; at equal parts far fewer."""
    inputs = dataclasses.replace(bath("mild"), parts=(0, 1, ASKED))
    with collecting_warnings():
        asked, equal = (outlook(each).bands["standing_peak"] for each in (inputs, bath("mild")))
    above, tried = hot_when_asked()
    assert (above, tried) == (np.sum(asked.values > 333.15), inputs.draws)
    # spare peroxide heats it later: not a few, and hotter than equal parts
    assert above > 5 * np.sum(equal.values > 333.15) and asked.high > equal.high + 5


def test_law_the_usual_bath_may_get_far_hotter_left_standing():
    usual = warmths()[-1]
    assert usual.after.high > usual.warmest.high + 10
    assert usual.after.values.max() > 333.15 > usual.warmest.values.max()


def test_law_less_bath_gets_warmer_and_the_least_is_refused():
    least, enough, usual = warmths()
    assert least.refused and not enough.refused and not usual.refused
    assert (least.times, enough.times) == (1.0, numbers.wanted())
    assert usual.room / least.room == pytest.approx(usual.times)
    assert usual.times == pytest.approx(float(tent().carried[tent().at(EQUAL)]))
    for end in ("low", "middle", "high"):
        ends = [float(getattr(row.warmest, end)) for row in (least, enough, usual)]
        assert ends[0] > ends[1] + 5 > ends[2] + 10
    # "most of the bath is there for the heat": more than half is beyond the planner's wish
    assert usual.room > 2 * enough.room
    # all of the copper's heat and no loss: the rise goes as one over the bath
    heat = 315.7e3 * float(tide_clock().copper)  # J, test_heats: from formation enthalpies
    rise = heat / (usual.room * 27e-4 * 1.04e3 * 3.9e3)  # density and heat capacity, roughly
    assert float(usual.warmest.middle) - 293.15 == pytest.approx(rise, rel=0.35)
