"""Tables of trust say what the plans and the package's own tables hold, whole (laws)."""

import numpy as np
import pytest

from pcbchem.bench.hazards import rules
from pcbchem.common import tables
from pcbchem.lesson import trust
from pcbchem.reaction.bath.parameters import RateParameters
from pcbchem.reaction.bath.reported import reports

OWN_WORDS = {
    "cover": "too shallow to cover the board",
    "strong_acid_met": "acid of 25 % by weight and more, when peroxide",
    "acid_bottle": "acid of 25 % by weight and more in the bottle",
    "peroxide_bottle": "peroxide above 12 % by weight in the bottle",
    "bottle_temperature": "bottles above ",
    "second_time": "a second portion before 60 s",
    "second_bath_temperature": "a second portion into a bath above 25 °C",
    "bubbled": "air bubbled through the bath",
    "sprayed": "a bath that is sprayed",
}


@pytest.mark.parametrize(
    ("prediction", "words"),
    [
        ((600, 1205, 6000, 1200, np.inf), "agrees, at the edge"),
        ((600, 1300, 6000, 1200, np.inf), "the middle agrees"),
        ((8, 11.3, 13, 8.8, 11.4), "agrees, at the edge"),
        ((8, 10, 13, 8.8, 11.4), "the middle agrees"),
        (
            (2.8, 4.1, 5.8, 3.5, 4.0),
            "the middle misses: 1.02 times the nearest value seen; low to high covers it",
        ),
        (
            (2.0, 3.0, 5.8, 3.5, 4.0),
            "the middle misses: 0.86 times the nearest value seen; low to high covers it",
        ),
        ((5, 6, 7, 3, 4), "a miss: 1.2 to 1.8 times what was seen"),
        ((1, 2, 2.5, 5, 6), "a miss: 0.20 to 0.50 of what was seen"),
    ],
)
def test_law_how_a_prediction_came_out(prediction, words):
    assert trust.miss(*prediction) == words


def test_law_facts_left_out_are_the_tables():
    shown = trust.leave_one_out()
    rows = tables.read("leave_one_out")
    assert list(shown) == [row["fact"] for row in rows]
    for row in rows:
        line = shown[row["fact"]]
        assert line["seen"].replace("–", "-") == row["practice"]
        assert line["source of what was seen"] == tables.source(row["source"])
        ends = [float(row[name]) for name in ("low", "middle", "high", "seen_low", "seen_high")]
        assert line["how it came out"] == trust.miss(*ends)


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [(7.287, "s", "7.3 s"), (1336, "s", "22 min"), (0.3503, "µm/min", "0.350 µm/min")],
)
def test_predictions_are_written_in_units_of_people(value, unit, words):
    assert trust.value_words(value, unit) == words


@pytest.mark.parametrize(
    ("middle", "before", "seen", "words"),
    [
        (6.8, 7.3, (2, 2), "better now"),
        (4.3, 4.1, (3.5, 4.0), "worse now"),
        (0.9, 1.5, (1.0, 1.4), "worse now"),
        (1.1, 1.5, (1.0, 1.4), "better now"),
        (1336, 1205, (1200, np.inf), "inside both times"),
        (900, 1205, (1200, np.inf), "worse now"),
    ],
)
def test_law_nearer_to_what_was_seen_is_better(middle, before, seen, words):
    assert trust.nearer(middle, before, *seen) == words


def test_as_printed_the_first_edition_stands_beside():
    """Its middles: 7.287 s and 45.71 s; the film of the strong layer 4.114 µm/min."""
    column = {name: row["first edition"] for name, row in trust.leave_one_out().items()}
    assert column["undiluted"].startswith("7.3 s: ")
    assert column["3 : 1 : 1"].startswith("46 s: ")
    words = " ".join(column.values())
    assert "worse now" in words and "better now" in words


def test_law_plans_beside_each_other(mild, refused):
    table = trust.beside({"usual": mild, "little": refused})
    verdicts = [row["verdict"] for row in table.values()]
    assert verdicts == [mild.verdict, refused.verdict] == ["mix it", "do not mix"]
    times = mild.bands["time_to_clear"]
    assert table["usual"]["clear in"] == f"{times.low / 60:.1f} to {times.high / 60:.1f} min"
    for column, band in (("while etching", "etching_peak"), ("in the day after", "standing_peak")):
        highest = f"{refused.bands[band].high - 273.15:.0f} °C"
        assert table["little"][column].endswith(highest)


def test_law_every_rule_of_the_verdict_is_listed():
    table = trust.verdict_rules()
    assert list(table) == [rule.name for rule in rules()]
    assert all(cell for row in table.values() for cell in row.values())
    for rule in rules():
        line = table[rule.name]
        limit = f"{rule.side} {rule.shown(rule.limit)}"
        said = line["falls when it is"]
        assert said.startswith(OWN_WORDS.get(rule.quantity, limit)), rule.name
        assert said.endswith("in half of the baths") == (rule.end == "middle")
        assert rule.source in line["source"] and rule.as_of in line["source"]


def test_law_only_common_practice_and_our_limits_rule():
    """As printed: 45 °C, 3 mol/L of acid and the resist are common practice; all else is ours."""
    sources = {name: row["source"] for name, row in trust.verdict_rules().items()}
    practice = [name for name, source in sources.items() if source.startswith("common practice")]
    assert practice == [
        "most must be stopped",
        "warm while etching",
        "acid fumes",
        "longer than resist stands",
    ]
    assert all("our limit" in source for name, source in sources.items() if name not in practice)


def test_law_reports_are_the_tables():
    """Hearsay is said to be hearsay, and how it came out is worked out from our reading of it."""
    table = trust.reported()
    rows = tables.read("reported_baths")
    assert list(table) == [row["report"] for row in rows] and len(rows) == 3
    bands = {report.name: report.band() for report in reports()}
    for row in rows:
        line, band = table[row["report"]], bands[row["report"]]
        assert (line["told"], line["we read"]) == (row["in_words"], row["our_reading"])
        assert row["what_we_assumed"] in line["source"]
        ends = (
            band.low,
            band.middle,
            band.high,
            float(row["read_low_s"]),
            float(row["read_high_s"]),
        )
        assert line["how it came out"] == trust.miss(*map(float, ends))
        assert "hearsay" in line["source"] and tables.source(row["source"]) in line["source"]


def test_law_times_with_the_models_own_numbers_are_the_plans(mild):
    assert np.array_equal(trust.times_with(mild), mild.run.time_to_clear)


def test_law_a_quicker_surface_clears_sooner(mild):
    """Nothing but the number named is another: with ten times the stirring every bath is sooner."""
    usual = RateParameters.plausible(200)
    times = trust.times_with(mild, stirring_rocked=10 * usual.stirring_rocked)
    assert np.all(times < trust.times_with(mild))


def test_law_every_parameter_is_counted_once():
    table, rows = trust.statuses(), tables.read("parameters")
    assert sum(line["how many"] for line in table.values()) == len(rows)
    for status, line in table.items():
        names = [row["name"].replace("_", " ") for row in rows if row["status"] == status]
        assert line["which"] == ", ".join(names) and line["how many"] == len(names)
        assert line["which means"] == trust.STATUSES[status]
