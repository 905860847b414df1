"""The shipped draws meet the facts they were chosen by, and the leave-one-out table is what the command makes."""

import numpy as np
import pytest

from pcbchem import RateParameters, Tray
from pcbchem.common import tables
from pcbchem.reaction.bath import plausible as draws
from pcbchem.reaction.bath import rate
from pcbchem.reaction.bath.parameters import rows

ALL = RateParameters.plausible(400)


@pytest.mark.parametrize("fact", draws.FACTS, ids=lambda f: f.name)
def test_every_shipped_draw_meets_the_fact(fact):
    # common practice, no source, except the film: homecmos open lab notes
    value = fact.predict(ALL)
    assert value.shape == (400,)
    assert np.all((value >= fact.low * (1 - 1e-6)) & (value <= fact.high * (1 + 1e-6)))


def test_facts_would_refuse_other_draws():
    brisk, quiet = (
        RateParameters().replace(stirring_rocked=6e-5),
        RateParameters().replace(gas_share=0.001),
    )
    refused = {f.name for f in draws.FACTS for p in (brisk, quiet) if not f.met(f.predict(p))}
    assert refused == {f.name for f in draws.FACTS}


def test_the_command_makes_what_ships():
    made, table = draws.make()
    for name, column in made.items():
        assert getattr(ALL, name) == pytest.approx(column, rel=1e-6)
    for line, shipped in zip(table, tables.read("leave_one_out"), strict=True):
        assert line["fact"] == shipped["fact"]
        for name in ("low", "middle", "high"):
            assert float(line[name]) == pytest.approx(float(shipped[name]), rel=0.01)


@pytest.mark.parametrize(
    ("fact", "middle"),
    [  # worked out by a separate program with its own draws
        ("undiluted", 7.4),
        ("3 : 1 : 1", 46),
        ("weak, 2.5 %", 21 * 60),
        ("strong film", 4.1),
        ("weak film", 0.34),
        ("ratio of the films", 11.4),
    ],
)
def test_leave_one_out_medians(fact, middle):
    line = next(r for r in tables.read("leave_one_out") if r["fact"] == fact)
    assert float(line["middle"]) == pytest.approx(middle, rel=0.10)


def test_ratio_of_the_two_films_with_defaults():
    # validation: homecmos open lab notes, 3.5-4.0 and 0.35-0.40 µm/min; at 20 °C (their temperature is not stated)
    strong, weak = (
        rate.flux(f.HCl, f.H2O2, f.T, draws.FILM_AREA, tray=Tray())["copper"]
        for f in (draws.FACTS[3], draws.WEAK_FILM)
    )
    assert 8.8 <= strong / weak <= 11.4


@pytest.mark.parametrize(
    "name", [n for n in rows() if rows()[n]["drawn"] in ("log-uniform", "uniform")]
)
def test_shipped_draws_stay_in_their_range(name):
    row, column = rows()[name], np.asarray(getattr(ALL, name))
    assert np.all(
        (column >= float(row["low"]) * (1 - 1e-6)) & (column <= float(row["high"]) * (1 + 1e-6))
    )
    assert np.ptp(column) > 0.5 * (float(row["high"]) - float(row["low"]))


def test_gas_share_over_bubble_diameter_stays_in_its_range():
    ratio = np.asarray(ALL.gas_share / ALL.bubble_diameter)
    assert np.all((ratio >= 300 * (1 - 1e-6)) & (ratio <= 4000 * (1 + 1e-6)))


def test_table_of_parameters_shows_where_each_comes_from():
    table = RateParameters().table()
    assert set(table["status"]) == {"published", "derived", "fitted", "assumed", "from memory"}
    assert (table["source"].str.len() > 5).all()
    assert ((table["low"] <= table["value"]) & (table["value"] <= table["high"])).all()
