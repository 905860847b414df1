"""Every number that page 11 prints, held against the bench, apart from the page's own words."""

import numpy as np

from pcbchem.bench.plan.outlook import etched
from pcbchem.bench.resist import (
    air_for,
    lye_after,
    lye_mass,
    lye_strength,
    practice,
    vinegar_counts,
    warming,
)
from pcbchem.bench.tin import (
    STOPS,
    boards_until_spent,
    copper_lost,
    copper_potential,
    log_beta4,
    tin_amount,
    tin_killed,
    tin_potential,
)
from pcbchem.bench.waste import Rest, films
from pcbchem.common import tables
from pcbchem.common.band import Band
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.workshop import bath, tide_clock
from pcbchem.page import claim
from pcbchem.reaction.bath.parameters import RateParameters

HOUR, MMOL = 3600.0, 1e-3
fresh = float(lye_strength(1.5e-3, 0.12))


def ends(values, scale=1.0):
    """Low, middle and high end of 200 values."""
    band = Band.of(np.asarray(values), 200)
    return float(band.low) / scale, float(band.middle) / scale, float(band.high) / scale


# the first question
left = np.asarray(lye_after(fresh, 6 * HOUR))
low, middle, high = ends(lye_mass(left))
morning = float(lye_mass(fresh))
claim("1.5 g of lye (NaOH) into 120 mL of water", 1.5, 120)
claim("a flat dish of 200 cm²", 200)
claim("How much of its lye is left after 6 hours", 6)
claim("6.3 of 12.5 g/L is left, 3.0 to 9.0 in 8 of 10 cases", middle, morning, low, high, 8, 10)
share = np.asarray(lye_mass(left)) / morning
within = np.sum((share >= 0.25) & (share <= 0.75))
claim("171 of 200 cases lie in your answer", within, share.size)

# why, by hand
lye = 1.5 / 40.0 * 1000
claim("1500 mg ÷ 40.0 mg/mmol = 37.5 mmol of lye", 1500, 40.0, lye)
claim("In 120 mL: 37.5 ÷ 120 = 0.3125 mmol/mL", 120, lye, 120, lye / 120)
claim("37.5 ÷ 4 = 9.4 mmol of carbon dioxide", lye, 4, lye / 4)
claim("CO₂ + 2 OH⁻ → CO₃²⁻ + H₂O", 2)
claim("0.312 mol/L, 3.3 °C warmer", fresh / 1000, float(warming(1.5e-3, 0.12)))
claim("0.5 m³ of outdoor air hold so much", float(air_for(lye / 4 * MMOL)))
claim("burns, too: pH 11 to 12", source="pitzer-lye")
develops = next(row for row in practice("positive") if row.word == "develops")
claim("7 to 15 g/L develop film that light makes soluble", develops.low, develops.high)
claim("Pinsent 1956", source="pinsent1956")
share = next(row for row in tables.read("air_doubts") if row["doubt"] == "carbon dioxide")
claim(
    "a room holds, 420 to 1400 ppm, are drawn 200",
    1e6 * float(share["low"]),
    1e6 * float(share["high"]),
    left.size,
)

# the second question
inputs = bath("mild")
with collecting_warnings():
    etching = etched(inputs, parameters=RateParameters.plausible(200))
    used = Rest(etching.bath_after, etching.tray).H2O2
board = tide_clock()
copper = float(board.width * board.height) * 0.4
least, most = (float(tin_amount(end, copper)) / MMOL for end in STOPS)
killed = np.asarray(tin_killed(used, films(200), 2 * board.width * board.height)) / MMOL
boards = ends(boards_until_spent(8 * MMOL, killed * MMOL, least * MMOL))
claim("100 mL of tin bath hold 8 mmol of tin", 100, 8)
claim("18 cm² of copper takes 0.033 to 0.11 mmol", 1e4 * copper, least, most)
claim("about 4, 3 to 5 in 8 of 10 cases", boards[1], boards[0], boards[2], 8, 10)
claim("“Over 70” counts the coating alone", 70)
claim("over 70", 70)
assert 70 < 8 / most < 75
claim("about 20", 20)
claim("about 4", boards[1])
claim("It takes 0.11 mmol at the most. What clings to a board takes 2.1", most, ends(killed)[1])
claim("it kills 2.1 mmol of tin", ends(killed)[1])
claim("2.1 mmol a board, 19 times its coating", ends(killed)[1], ends(killed)[1] / most)

# what kills it, and how the coating comes
claim("H₂O₂ + Sn²⁺ + 2 H⁺ → Sn⁴⁺ + 2 H₂O", 2, 2)
clings = 0.15 * 90 / 10
middle_peroxide = ends(used)[1] / 1000
claim("0.15 mm on both faces are 1.35 mL", 0.15, clings)
claim("1.35 × 1.57 mmol/mL = 2.1 mmol", clings, middle_peroxide, clings * middle_peroxide)
claim("8 ÷ 2.1 = 3.8 boards", 8, 2.1, 8 / 2.1)
# half a volt above tin without thiourea; with it 0.2 to 0.4 volts below
without = {row["couple"]: float(row["potential_V"]) for row in tables.read("electrode_potentials")}
assert 0.4 < without["copper"] - without["tin"] < 0.6
below = float(tin_potential(84.0)) - np.asarray(copper_potential(1000.0, log_beta=log_beta4(200)))
claim("Thiourea turns that round, by 0.2 to 0.4 volts", source="tin-baths-1960")
assert 0.15 < np.percentile(below, 10) and np.percentile(below, 90) < 0.45
claim("at 0.3 to 1 µm, once the copper is covered", *(1e6 * end for end in STOPS))
claim("1 µm of it costs 0.87 µm of copper", 1, float(copper_lost(1e-6)) * 1e6)

# what would prove it wrong
acid = 50 / 60.05  # mol/L: 50 g in a litre
whole = fresh * 10e-3 / acid / 1000 * 1000
vinegar = ends(np.asarray(vinegar_counts(fresh, left)) * 10e-3 / acid)
claim("10 mL of developer in 90 mL of water", 10, 90)
claim("Fresh developer takes 3.8 mL of 5 % vinegar", whole, 5)
claim("After 6 hours in the flat dish", 6)
claim("to its mark: 2.3 to 3.2 mL, for soda", vinegar[0], vinegar[2])
outermost = np.max(np.asarray(vinegar_counts(fresh, left))) * 10e-3 / acid
claim("Over 3.4 or under 1.9", outermost, whole / 2)

# cautions
claim("lenses out while you rinse, 30 minutes or more", source="nj-lye")
claim("clothes off, water 30 minutes or more", source="nj-lye")
claim("Under 18", source="trade")
