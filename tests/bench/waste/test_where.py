"""Where the rest goes: lines by place, and figures of the law as printed. Laws on their words."""

import re

import pytest
from helpers.expected import rows
from helpers.refusals import assert_refused, cases

from pcbchem.bench.hazards.law import PLACES
from pcbchem.bench.waste.where import ANYWHERE, ASK, waste_limit, where_it_goes
from pcbchem.common import tables
from pcbchem.matter.properties import MOLAR_MASS

PRINTED = {row["id"]: row for row in rows("checks_safety")}
LINES = tables.read("waste_law")
STATUSES = ("published", "from memory", "common practice")


def grams_at_pH(name, substance):
    """Grams of a strong acid or lye in a litre of the pH of a limit, 25 °C, ideal [g/L]."""
    pH = waste_limit(name).value
    power = -pH if substance == "HCl" else pH - 14
    return 10**power * MOLAR_MASS[substance] * 1000


def times_the_total_threshold():
    """Copper of 0.5 mol/L in a bath of 1.1 kg/L, over the limit of California [-]."""
    milligrams_per_kilogram = 500 * MOLAR_MASS["Cu"] / 1100 * 1e6
    return milligrams_per_kilogram / waste_limit("California, total").value


CHECKS = {
    # as printed: the package holds the same figures
    "cu_daily": lambda: waste_limit("plant, any day").value,
    "cu_month": lambda: waste_limit("plant, month").value,
    "cmc_100": lambda: waste_limit("river, an hour").value,
    "ccc_100": lambda: waste_limit("river, four days").value,
    # second source: arithmetic on the limits
    "ttlc": times_the_total_threshold,
    "d002_naoh": lambda: grams_at_pH("corrosive, alkali", "NaOH"),
    "d002_hcl": lambda: grams_at_pH("corrosive, acid", "HCl"),
}


@pytest.mark.parametrize("check", CHECKS)
def test_published(check):
    row = PRINTED[check]
    expected = pytest.approx(float(row["expected"]), rel=float(row["rel_tol"]), abs=1e-12)
    assert CHECKS[check]() == expected, row["source"]


@pytest.mark.parametrize("place", PLACES)
def test_every_place_has_what_holds_everywhere_and_its_own(place):
    lines = where_it_goes(place)
    shared = [line for line in LINES if line["place"] == ANYWHERE]
    assert [line.words for line in lines[: len(shared)]] == [row["words"] for row in shared]
    assert len(lines) > len(shared)
    names = {"EU": "EU:", "GB": "Great Britain:", "US": "United States:", "elsewhere": "Elsewhere:"}
    own = [line.words for line in lines[len(shared) :]]
    assert all(words.startswith(names[place]) for words in own)


def test_only_known_places_have_lines():
    assert {row["place"] for row in LINES} == {ANYWHERE, *PLACES}


def test_law_each_line_ends_with_whom_to_ask():
    for row in LINES:
        assert row["words"].endswith(f". {ASK}") and row["words"].count(ASK) == 1


def sentences(text):
    """Split a text into sentences."""
    return re.split(r"(?<=[.!?]) ", text)


POURED = re.compile(r"\b(drains?|toilets?|sinks?|gutters?|sewers?|bin|ground)\b", re.IGNORECASE)


def test_law_no_sentence_with_a_drain_but_never():
    texts = [row["words"] for row in LINES]
    texts += [row["words"] for row in tables.read("waste_limits")]
    drains = [line for text in texts for line in sentences(text) if POURED.search(line)]
    assert len(drains) >= 2
    for line in drains:
        assert re.search(r"\b[Nn]ever\b", line), line


def test_law_nothing_is_permitted():
    kind = re.compile(r"\b(safe|harmless|fine|enough|allowed|permitted|you may|can be poured)\b")
    for row in (*LINES, *tables.read("waste_limits")):
        assert not kind.search(row["words"]), row["words"]


def test_law_the_end_is_a_site_and_two_tubs():
    for place in PLACES:
        first, second, *_ = where_it_goes(place)
        assert "One tub of liquid" in first.words and "mud that is there already" in first.words
        assert "hazardous-waste site" in first.words and "labelled" in first.words
        assert second.words.startswith("Never into a drain")


def test_each_line_is_dated_and_says_what_was_read():
    for place in PLACES:
        for line in where_it_goes(place):
            assert re.fullmatch(r"20\d\d-\d\d-\d\d", line.as_of)
            assert line.status in STATUSES
            assert line.source.startswith("from memory: ") == (line.status == "from memory")


def test_figures_name_their_unit_and_are_no_permission():
    for row in tables.read("waste_limits"):
        limit = waste_limit(row["name"])
        assert limit.value > 0 and limit.unit in ("mg/L", "mg/kg", "µg/L", "-")
        assert limit.source and limit.as_of
        # whose figure it is not, or that what stays below it is waste all the same
        of_nature = limit.unit == "µg/L"
        assert of_nature or re.search(r"no home or small shop|permits nothing", limit.words)


@cases(
    [
        ("unknown place", lambda: where_it_goes("Atlantis"), ("place = 'Atlantis'", "EU, GB, US")),
        ("no place", lambda: where_it_goes(None), ("place = None", "elsewhere")),
        ("not for all", lambda: where_it_goes("any"), ("place = 'any'",)),
        ("unknown figure", lambda: waste_limit("lake"), ("name = 'lake'", "plant, month")),
    ]
)
def test_what_cannot_be_is_refused_by_name(call, words):
    assert_refused(call, words)
