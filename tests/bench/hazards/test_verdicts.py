"""The rules: every limit as it was meant, each falls where it says, and alone decides.

Laws, except where another kind is said.
"""

import dataclasses
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pcbchem import Band
from pcbchem.bench import hazards
from pcbchem.bench.hazards.verdicts import (
    KINDS,
    MARGIN_K,
    UPPER_QUARTER,
    VERDICTS,
    WHY_STOPPED,
    exceeded,
    limits_of,
    reasons,
    rule_named,
    rules,
    value_of,
)
from pcbchem.common import tables

ZERO = 273.15
MILD = {
    "time_to_clear": 300.0,
    "etching_peak": 30 + ZERO,
    "standing_peak": 35 + ZERO,
    "acid": 1400.0,
    "peroxide": 0.06,
    "acid_met": 0.02,
    "strong_acid_met": 0.02,
    "peroxide_met": 0.02,
    "peroxide_met_by_strong": 0.02,
    "used_peroxide": 100.0,
    "acid_bottle": 0.11,
    "peroxide_bottle": 0.12,
    "bottle_temperature": 20 + ZERO,
    "second_time": 300.0,
    "second_bath_temperature": 20 + ZERO,
    "bubbled": 0.0,
    "sprayed": 0.0,
    "cover": 3.0,
    "volume": 150e-6,
    "reserve": 9.0,
}  # inside every limit
RULES = [row["name"] for row in tables.read("verdict_rules")]
REFUSE, CARE = "do not mix", "with care"
PRACTICE, OURS = "common practice, no source", "our limit, no source"


def band(value, draws=None, **ends):
    """Make a band whose ends are what the test says, whatever its draws."""
    every_end = {"low": value, "middle": value, "high": value, "never": 0.0, **ends}
    arrays = {name: np.asarray(end, dtype=float) for name, end in every_end.items()}
    values = np.asarray([value if draws is None else draws], dtype=float)
    return Band(**arrays, values=values)


def bath(**changes):
    """Make the bands of a bath inside every limit, some of them changed."""
    return {name: changes.get(name, band(value)) for name, value in MILD.items()}


def moved(name, share):
    """Move the end of a band beyond the limit of a rule by a share of it (°C as people count them).

    Returns the bands of the bath.
    """
    rule = rule_named(name)
    limit = rule.limit - (ZERO if rule.unit == "K" else 0)
    return moved_to(rule, rule.limit + share * limit * (-1 if rule.side == "below" else 1))


def moved_to(rule, value):
    """Move the end of a band that a rule reads to a value [SI]."""
    usual = MILD[rule.quantity]
    if rule.end == UPPER_QUARTER:
        return bath(**{rule.quantity: band(usual, draws=value)})
    return bath(**{rule.quantity: band(usual, **{rule.end: value})})


# As printed: limits in the units of people, of `verdict.md`: our limits, no source; only 45 °C,
# 3 mol/L and the 20 to 30 min of resist are common practice, no source.
LIMITS = {
    "hot while etching": ("etching_peak", "high", 60 + ZERO, REFUSE, "harm", OURS),
    # the trade stops at 45 to 50 °C: a plan of which most must be stopped is none
    "most must be stopped": ("etching_peak", "middle", 45 + ZERO, REFUSE, "harm", PRACTICE),
    "too fast": ("time_to_clear", "low", 30, REFUSE, "harm", OURS),
    "hot when left standing": ("standing_peak", "middle", 60 + ZERO, REFUSE, "harm", OURS),
    "may run away when left standing": ("standing_peak", "high", 75 + ZERO, REFUSE, "harm", OURS),
    "too much acid": ("acid", "high", 6 * 1000, REFUSE, "harm", OURS),
    # 12 % that breaks up entirely just reaches 100 °C from 20 °C: 94.7 kJ/mol (CRC enthalpies)
    "too much peroxide": ("peroxide", "high", 0.12, REFUSE, "harm", OURS),
    # working advice: acid diluted first, under about 10 %; a label of 10 % may be 11 %, so 12 %
    "peroxide poured into acid": ("acid_met", "high", 0.12, REFUSE, "harm", OURS),
    "peroxide poured into strong acid": ("strong_acid_met", "high", 0.25, REFUSE, "harm", OURS),
    "acid poured into peroxide": ("peroxide_met", "high", 0.06, REFUSE, "harm", OURS),
    "strong acid poured into peroxide": (
        *("peroxide_met_by_strong", "high", 0.04, REFUSE, "harm", OURS),
    ),
    "used bath not yet quiet": ("used_peroxide", "high", 500, REFUSE, "harm", OURS),
    "hot bottles": ("bottle_temperature", "high", 35 + ZERO, REFUSE, "harm", OURS),
    "second portion too early": ("second_time", "low", 60, REFUSE, "harm", OURS),
    "second portion into a warm bath": (
        *("second_bath_temperature", "high", 25 + ZERO, REFUSE, "harm", OURS),
    ),
    "far too much bath": ("volume", "high", 3e-3, REFUSE, "harm", OURS),
    "never clears": ("time_to_clear", "never", 0.1, REFUSE, "will not finish", OURS),
    "board not covered": ("cover", "high", 1, REFUSE, "will not finish", OURS),  # by definition
    "warm while etching": ("etching_peak", "high", 45 + ZERO, CARE, "care", PRACTICE),
    "warm when left standing": ("standing_peak", UPPER_QUARTER, 45 + ZERO, CARE, "care", OURS),
    "very warm when left standing": ("standing_peak", "high", 60 + ZERO, CARE, "care", OURS),
    "acid fumes": ("acid", "high", 3 * 1000, CARE, "care", PRACTICE),
    "longer than resist stands": ("time_to_clear", "high", 25 * 60, CARE, "care", PRACTICE),
    "little reserve": ("reserve", "low", 3, CARE, "care", OURS),
    "strong acid bottle": ("acid_bottle", "high", 0.25, CARE, "care", OURS),
    "strong peroxide bottle": ("peroxide_bottle", "high", 0.12, CARE, "care", OURS),
    "warm bottles": ("bottle_temperature", "high", 25 + ZERO, CARE, "care", OURS),
    "much bath": ("volume", "high", 1e-3, CARE, "care", OURS),
    "mist": ("bubbled", "high", 0.5, CARE, "care", OURS),
    "spray": ("sprayed", "high", 0.5, CARE, "care", OURS),
}


def test_as_printed_the_verdict_rules():
    found = {
        rule.name: (
            *(rule.quantity, rule.end, pytest.approx(rule.limit)),
            *(rule.verdict, rule.kind, rule.source),
        )
        for rule in rules()
    }
    assert found == LIMITS
    assert {rule.verdict for rule in rules()} == set(VERDICTS[1:])
    assert {rule.kind for rule in rules()} == set(KINDS)


def test_as_printed_less_is_worse_by_the_sense_of_the_words():
    below = {rule.name for rule in rules() if rule.side == "below"}
    assert below == {"too fast", "second portion too early", "board not covered", "little reserve"}


def test_as_printed_from_25_percent_on_acid_is_strong():
    """25 % and more: the limit itself is strong; of every other rule it is not beyond."""
    strong = {rule.name for rule in rules() if rule.side == "from"}
    assert strong == {"peroxide poured into strong acid", "strong acid bottle"}


MOST_WORDS = 25
DO_FIRST = {"keep", "stay", "stand", "watch", "look", "pour", "make", "spray"}


@pytest.mark.parametrize("name", RULES)
def test_as_printed_words_of_a_rule_are_short_and_say_exceed(name):
    """At most 25 words, a count of baths and both figures with them; a care says what to do."""
    rule = rule_named(name)
    words, value, limit = rule.words, rule.shown(1.02 * rule.limit), rule.shown(rule.limit)
    said = words.format(share="123 of 200", value=value, limit=limit)
    assert len(said.split()) <= MOST_WORDS, said
    assert not re.search(r"\bpass(es)?\b|safe|allowed|practice", words)
    assert (words.split()[0] in DO_FIRST) == (rule_named(name).kind == "care")


def test_second_source_twelve_percent_of_peroxide_just_boils():
    # 94.7 kJ/mol (CRC enthalpies) over 34.01 g/mol, into a liquid of 4.18 kJ/kg/K, from 20 °C
    warming = rule_named("too much peroxide").limit * 94.7 / 34.01e-3 / 4.18
    assert 20 + warming == pytest.approx(100, abs=1)


# Each rule falls beyond its limit


@pytest.mark.parametrize("name", RULES)
def test_each_rule_falls_two_percent_beyond_and_alone_decides(name):
    rule = rule_named(name)
    inside, beyond = (exceeded(moved(name, share)) for share in (-0.02, 0.02))
    assert beyond[name] and not inside[name]
    implied = {  # by a milder limit on the same end
        other.name
        for other in rules()
        if rule_end(other) == rule_end(rule) and is_milder(other, rule)
    }
    assert {other for other, is_exceeded in beyond.items() if is_exceeded} - implied == {name}
    assert {other for other, is_exceeded in inside.items() if is_exceeded} <= implied
    severity = VERDICTS.index(rule.verdict)
    assert hazards.severity(beyond) == severity > hazards.severity(inside)


def rule_end(rule):
    return rule.quantity, rule.end


def is_milder(other, rule):
    if rule.side == "below":
        return other.limit > rule.limit
    return other.limit < rule.limit


@pytest.mark.parametrize("name", RULES)
def test_the_limit_itself_is_not_beyond_but_where_it_is_said(name):
    assert exceeded(moved(name, 0.0))[name] == (rule_named(name).side == "from")


@pytest.mark.parametrize("name", RULES)
def test_a_limit_with_its_margin_lies_on_the_safe_side(name):
    """By 5 K or a tenth: 2 % of the limit, or 0.5 K, before and after that."""
    rule = rule_named(name)
    margin, near = rule.limit / 10, rule.limit / 50
    if rule.unit == "K":
        margin, near = 5.0, 0.5
    worse = -1 if rule.side == "below" else 1
    inside, beyond = (
        exceeded(moved_to(rule, rule.limit - worse * (margin + off)), margin=True)[name]
        for off in (near, -near)
    )
    assert beyond and not inside
    assert not exceeded(moved_to(rule, rule.limit - worse * (margin - near)))[name]
    assert MARGIN_K == 5.0


def test_one_bath_in_four_may_be_warm_the_day_after():
    """From draws, not from ends: 249 and 251 of a thousand get warmer than 45 °C."""
    for count, falls in ((249, False), (250, False), (251, True)):
        peaks = np.where(np.arange(1000) < count, 47.0, 40.0) + ZERO
        found = exceeded(bath(standing_peak=Band.of(peaks, 1000)))
        assert found["warm when left standing"] == falls, count


@pytest.mark.parametrize(("count", "falls"), [(98, False), (100, False), (102, True)])
def test_one_bath_in_ten_may_fail_to_clear(count, falls):
    """From draws, not from ends: 9.8, 10 and 10.2 % of a thousand never clear."""
    times = np.where(np.arange(1000) < count, np.inf, 300.0)
    assert exceeded(bath(time_to_clear=Band.of(times, 1000)))["never clears"] == falls


RANGES = {
    "time_to_clear": (5, 4000),
    "etching_peak": (290, 370),
    "standing_peak": (290, 370),
    "acid": (0, 9000),
    "peroxide": (0, 0.25),
    "acid_met": (0, 0.3),
    "strong_acid_met": (0, 0.4),
    "peroxide_met": (0, 0.15),
    "peroxide_met_by_strong": (0, 0.1),
    "used_peroxide": (0, 1000),
    "acid_bottle": (0, 0.4),
    "peroxide_bottle": (0, 0.35),
    "bottle_temperature": (273.15, 313.15),
    "second_time": (5, 600),
    "second_bath_temperature": (0, 330),
    "bubbled": (0, 1),
    "sprayed": (0, 1),
    "cover": (0.2, 5),
    "volume": (0, 5e-3),
    "reserve": (0.2, 20),
    "never": (0, 0.3),
}
SCENARIOS = st.lists(
    st.fixed_dictionaries({name: st.floats(*ends) for name, ends in RANGES.items()}),
    min_size=1,
    max_size=6,
)


@given(SCENARIOS)
@settings(max_examples=60, deadline=None)
def test_many_at_once_are_as_one_by_one(scenarios):
    def exceeded_of(values):
        bands = {}
        for name in MILD:
            middle = np.asarray(values[name])
            low, high, draws = 0.8 * middle, 1.2 * middle, 1.1 * middle[..., None]
            never = np.zeros(middle.shape)
            bands[name] = Band(low, middle, high, never, draws)
        never = np.asarray(values["never"])
        bands["time_to_clear"] = dataclasses.replace(bands["time_to_clear"], never=never)
        return exceeded(bands)

    columns = {name: np.array([scenario[name] for scenario in scenarios]) for name in RANGES}
    together = exceeded_of(columns)
    alone = [exceeded_of(scenario) for scenario in scenarios]
    for name in RULES:
        assert together[name].tolist() == [bool(single[name]) for single in alone]
    severities = [hazards.severity(single) for single in alone]
    assert hazards.severity(together).tolist() == severities
    assert all(isinstance(severity, int) for severity in severities)


# Reasons


def test_reasons_say_what_refuses_and_nothing_else():
    bands = bath(
        etching_peak=band(40 + ZERO, high=72 + ZERO),
        acid=band(7000.0),
        reserve=band(1.0),
        time_to_clear=band(2000.0, never=0.35),
    )
    hot, strong, never = reasons(bands, "peroxide")
    assert [reason.kind for reason in (hot, strong, never)] == ["harm", "harm", "will not finish"]
    assert hot.words == "none plausible baths exceed 60 °C while etching: 1 in 10 reaches 72 °C"
    assert "7.0 mol/L" in strong.words and "6 mol/L" in strong.words
    assert "35 in 100" in never.words
    assert never.words.endswith("most of those run out of peroxide")


def test_reasons_are_cares_where_nothing_refuses():
    cares = reasons(bath(reserve=band(1.0), acid=band(4000.0), acid_bottle=band(0.32)))
    names = ["acid fumes", "little reserve", "strong acid bottle"]
    assert [reason.rule for reason in cares] == names
    assert "fumes" in cares[0].words and "lift the resist" in cares[0].words
    assert "32.0 %" in cares[2].words and "only where the steps say" in cares[2].words
    assert reasons(bath()) == ()


def test_the_graver_of_two_cares_about_the_day_after_stands_first():
    """Where only one is named, as in a row of kept plans, it is the one to keep back from."""
    peaks = np.where(np.arange(200) < 70, 48.0, 30.0)
    peaks[:25] = 62.0
    cares = reasons(bath(standing_peak=Band.of(peaks + ZERO, 200)))
    assert [reason.rule for reason in cares] == [
        "very warm when left standing",
        "warm when left standing",
    ]


@pytest.mark.parametrize("name", RULES)
def test_a_reason_carries_what_it_saw_and_its_limit_in_si(name):
    bands = moved(name, 0.02)
    (reason,) = (found for found in reasons(bands) if found.rule == name)
    rule = rule_named(name)
    assert (reason.limit, reason.unit) == (rule.limit, rule.unit)
    assert (reason.source, reason.as_of) == (rule.source, rule.as_of)
    assert reason.words == reason.words.strip() != ""
    if name == "far too much bath":  # an amount, of a bath that nobody may mix
        assert np.isnan(reason.value)
        return
    assert reason.value == float(value_of(rule, bands))
    assert reason.value < reason.limit if rule.side == "below" else reason.value > reason.limit


@pytest.mark.parametrize(
    ("stopped", "words"),
    [
        ("acid", "run out of acid"),
        ("peroxide", "run out of peroxide"),
        ("no chloride", "no chloride"),
        ("time", "still etching after 4 hours"),
        ("", "more than 10 in 100"),
    ],
)
def test_why_baths_never_clear_is_named(stopped, words):
    (only,) = reasons(bath(time_to_clear=band(300.0, never=0.5)), stopped)
    assert words in only.words.rsplit(";", 1)[-1]
    clauses = [clause for clause in WHY_STOPPED.values() if clause and clause in only.words]
    assert len(clauses) == bool(stopped)


@pytest.mark.parametrize("name", RULES)
def test_a_reason_shows_a_value_beyond_its_limit_and_no_amount(name):
    rule = rule_named(name)
    for share in (0.0004, 0.02, 0.2):
        (reason,) = (found for found in reasons(moved(name, share)) if found.rule == name)
        value = rule.shown(float(value_of(rule, moved(name, share))))
        assert value != rule.shown(rule.limit) and "{" not in reason.words
        # an amount, and what is so or not
        if rule.unit == "m3" or name in ("mist", "spray"):
            assert value not in reason.words
        else:
            assert value in reason.words
        if rule.kind != "care":
            assert not re.search(r"(?<!/)\b(mL|L|cm³|fl oz|parts?)\b|\d litres?", reason.words)
        assert not re.search(r"\b(safe|allowed|can mix|may mix)\b", reason.words)


def test_a_reason_counts_the_draws_that_exceed_its_limit():
    peaks = np.where(np.arange(1000) < 234, 70.0, 50.0) + ZERO
    found = reasons(bath(etching_peak=Band.of(peaks, 1000)))
    words = {reason.rule: reason.words for reason in found}
    hot, most = words["hot while etching"], words["most must be stopped"]
    assert hot.startswith("234 of 1000 plausible baths exceed 60 °C") and "70 °C" in hot
    assert most.startswith("all plausible baths exceed 45 °C") and "50 °C" in most
    short = np.where(np.arange(1000) < 150, 20.0, 200.0)
    assert reasons(bath(time_to_clear=Band.of(short, 1000)))[0].words.startswith(
        "150 of 1000 plausible baths clear the board in under 30 s, 1 in 10 in 20 s"
    )


def test_a_time_without_end_is_written_in_hours():
    (care,) = reasons(bath(time_to_clear=band(300.0, high=np.inf)))
    assert "more than 4 hours" in care.words and "20 to 30 min" in care.words
    assert "inf" not in care.words


# What pages ask for


def test_limits_of_a_quantity_are_those_of_its_rules():
    """By hand: 45 °C is a care in 1 bath of 10 and refuses in half of them; 60 °C refuses."""
    warm, hot = limits_of("etching_peak")
    assert warm.value == pytest.approx(45 + ZERO) and hot.value == pytest.approx(60 + ZERO)
    assert warm.verdicts == (("high", CARE), ("middle", REFUSE))
    assert hot.verdicts == (("high", REFUSE),)
    assert limits_of("mixing_temperature") == ()
    for rule in rules():
        (limit,) = (limit for limit in limits_of(rule.quantity) if limit.value == rule.limit)
        assert (rule.end, rule.verdict) in limit.verdicts and limit.unit == rule.unit


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: reasons(bath(), "boredom"), "stopped = 'boredom'"),
        (lambda: exceeded({"acid": band(1.0)}), r"bands = acid is not enough: it must hold \w+"),
        (lambda: exceeded({}), "bands = none is not enough"),
        (lambda: reasons(bath(acid=band(np.array([1.0, 2.0])))), "one scenario"),
        (lambda: hazards.severity({"bad smell": np.True_}), "exceeded = 'bad smell'"),
        (lambda: rule_named("bad smell"), "rule = 'bad smell' is not known: choose from hot"),
    ],
)
def test_impossible_input_is_refused_by_name(call, words):
    with pytest.raises(ValueError, match=words):
        call()
