"""What is refused: nothing to pour anywhere in it, the true reason, a change that really helps.

Laws, over refused plans of random bottles, boards, parts, places, used baths and second portions.
Limits are common practice, no source: see `helpers.second_reading`.
"""

import dataclasses
import re

import numpy as np
import pandas
import pytest
from helpers.plans import is_shown
from helpers.second_reading import PLACES, REFUSE, ZERO, figures_in, severities, verdict_of
from helpers.sentences import long_sentences, words_in

from pcbchem import mix
from pcbchem.bench.hazards.verdicts import VERDICTS, WHY_STOPPED
from pcbchem.bench.hazards.verdicts import rules as all_rules
from pcbchem.bench.hazards.words import NO_USE
from pcbchem.bench.plan.changes import LEVERS, Change
from pcbchem.bench.plan.inputs import Inputs
from pcbchem.bench.plan.outlook import outlook
from pcbchem.bench.plan.planning import planned
from pcbchem.bench.plan.pours import poured, side_by_side
from pcbchem.bench.plan.words import changed, does
from pcbchem.common.band import Band
from pcbchem.common.limits import collecting_warnings
from pcbchem.lesson.bath import plan_words as page_words
from pcbchem.lesson.plan_a_bath import answer

REFUSED_COUNT = 27
LONGEST_PLAN, LONGEST_REFUSED = 1720, 1285
"""Words in all of the longest plan, and of the longest refused one."""

NUMBER = r"\d[\d.,]*(?:e[+-]?\d+)?\s*(?:×\s*10\S*\s*)?"
UNIT = (
    r"(?:[mcdµu]?[lL]|cc|(?:milli|centi|deci|micro)?lit(?:re|er)s?|[mcd]?m(?:³|\^?3)|cubic \w+|"
    r"(?:US )?fl\.?\s?oz|(?:US |fluid )*ounces?|oz|gal(?:lons?)?|pints?|quarts?|drops?|"
    r"(?:tea|table)?spoon(?:ful)?s?|cups?|[mk]?g|grams?|kilograms?)(?![\w/²])"
)
AMOUNT = re.compile(NUMBER + UNIT, re.IGNORECASE)
# a depth, the board's own copper, a strength
ALLOWED = re.compile(r"\d[\d.]* mL per cm²|\d[\d.]* g of copper|\bmol/L\b")
COLUMN = re.compile(r"\((?:US )?(?:mL|L|fl oz|[cd]?m³|k?g)\)")
POURING = re.compile(
    r"^\d+\. |the jug|board goes in|Look first|Lift the board|still need it then", re.MULTILINE
)
WHOLE_TABLE = (
    *("display.max_rows", None),
    *("display.max_columns", None),
    *("display.width", None),
    *("display.max_colwidth", None),
)


@pytest.fixture(scope="module")
def readings(refused_plans, mixable_plans):
    """Read every plan a second time: the plan, its figures, the rules passed and the verdict."""
    rows = []
    for plan in [*refused_plans, *mixable_plans]:
        figures = figures_in(plan)
        rows.append((plan, figures, *verdict_of(figures)))
    return rows


def amounts(text):
    """Find every amount in a text that somebody could pour or weigh out."""
    rest = ALLOWED.sub("", text)
    return [match.group() for match in AMOUNT.finditer(rest)] + COLUMN.findall(rest)


@pytest.mark.parametrize(
    "words",
    [
        "pour 75 mL",
        "0.15 l",
        "1.5 litres",
        "2.5 US fl oz",
        "12 drops",
        "75 cm³",
        "3 cups",
        "1e-4 m³",
        "25 g of acid",
        "0.075 kg",
        "5 fl. oz",
        "2 spoonfuls",
        "pour 1: acid (mL)",
        "75mL",
        "2.5 fluid ounces",
        "0.1 dm3",
    ],
)
def test_an_amount_is_recognised(words):
    assert amounts(f"then {words} of it"), words


@pytest.mark.parametrize(
    "words",
    [
        "4.2 mL per cm²",
        "3.1 mol/L",
        "27 cm² bare",
        "1.2 g of copper",
        "12 % by weight",
        "3 : 1 : 1",
        "20 °C",
        "25 min",
        "1 oz/ft²",
        "2 times its own volume",
    ],
)
def test_what_is_no_amount_to_pour_is_let_pass(words):
    assert amounts(f"it is {words}, so") == [], words


# Nothing to pour, in any words


def texts(plan, folder):
    """Collect everything that a plan says, by where it says it."""
    table = plan.to_frame()
    file = folder / "plan.json"
    plan.save(file, overwrite=True)
    words = {
        "print": str(plan),
        "markdown": plan._repr_markdown_(),
        "repr": repr(plan),
        "table, html": table.to_html(),
        "table, json": table.to_json(),
        "table, attributes": str(table.attrs),
        "csv": table.to_csv(),
        "file": file.read_text(encoding="utf-8"),
        "sentence of the page": answer.live_words(plan),
        "head of the page": answer.head(plan),
        "notes of the page": answer.notes(plan),
    }
    with pandas.option_context(*WHOLE_TABLE):
        words["table"] = table.to_string()
    words["live sentence"], words["text alternative"] = page_words.words(plan, "This bath")
    for kind in ("html", "latex", "svg", "json", "mimebundle", "pretty"):
        hook = getattr(plan, f"_repr_{kind}_", None)
        if hook is not None:
            words[f"notebook, {kind}"] = str(hook())
    parts = [reason.words for reason in plan.reasons]
    parts += [caution.words for caution in (*plan.cautions, *plan.law)]
    parts += [doubt.name for doubt in plan.doubts]
    parts += [str(warning) for warning in plan.outside]
    parts += [repr(change) for change in plan.changes]
    words["parts"] = "\n".join([*parts, repr(plan.run), repr(plan.inputs)])
    return words


def test_nothing_to_pour_in_any_words(refused_plans, tmp_path):
    assert len(refused_plans) == REFUSED_COUNT
    for plan in refused_plans:
        assert plan.refused and plan.stages == ()
        assert plan.first_look is plan.look_every is plan.over_etch is plan.resist_life is None
        for where, words in texts(plan, tmp_path).items():
            assert amounts(words) == [], (where, amounts(words))
        head = "Do not mix this." if plan.harmful else NO_USE
        assert str(plan).startswith(f"{head}\n\n"), "the verdict comes first"
        assert not POURING.search(str(plan))
    with_course = sum(plan.inputs.second is None for plan in refused_plans)
    assert REFUSED_COUNT / 2 <= with_course < REFUSED_COUNT, "with a course, and without"


def test_a_plan_that_may_be_mixed_says_its_amounts(mixable_plans, tmp_path):
    """What the search above is worth: it finds the amounts where there are some."""
    for plan in mixable_plans[::2]:
        assert not plan.refused
        words = texts(plan, tmp_path)
        for where in ("print", "markdown", "table", "csv", "table, html"):
            assert amounts(words[where]), where
        assert amounts(words["file"]) == [], "the file holds no amount, whatever the verdict"
        assert leaks(plan)
        assert POURING.search(str(plan))


# how much bath for the copper, the copper's own size, and where a caution stands
EXCEPTED = {"bath_per_area", "area", "footprint", "side", "layer", "number"}


def numbers(thing, path="plan", seen=None):
    """Find every number within a thing, with its path, and whether it stands alone.

    In fields, properties, dicts, sequences and arrays.
    """
    seen = set() if seen is None else seen
    if id(thing) in seen or thing is None or isinstance(thing, str | bytes | bool):
        return
    if isinstance(thing, int | float | np.number):
        yield path, np.array([float(thing)]), True
    elif isinstance(thing, np.ndarray):
        yield from numbers_of_array(thing, path, seen)
    elif isinstance(thing, dict):
        for key, inner in thing.items():
            yield from numbers(key, f"{path} key", seen)
            if key not in EXCEPTED:
                yield from numbers(inner, f"{path}[{key!r}]", seen)
    elif isinstance(thing, tuple | list | set | frozenset):
        for k, inner in enumerate(thing):
            yield from numbers(inner, f"{path}[{k}]", seen)
    else:
        seen.add(id(thing))
        for name in sorted(attributes(thing) - EXCEPTED):
            try:
                with collecting_warnings():
                    inner = getattr(thing, name)
            except ValueError:  # what is not there says so
                continue
            yield from numbers(inner, f"{path}.{name}", seen)


def numbers_of_array(array, path, seen):
    """As `numbers`, of an array: alone are those that are one number repeated."""
    if array.dtype.kind in "fiu" and array.size:
        values = np.asarray(array, dtype=float).reshape(-1)
        alone = values.size == 1 or (np.isfinite(values).all() and np.ptp(values) == 0)
        yield path, values, bool(alone)
    elif array.dtype == object:
        for k, inner in enumerate(array.reshape(-1)):
            yield from numbers(inner, f"{path}[{k}]", seen)


def attributes(thing):
    """Names of the fields and properties of a thing."""
    names = {*getattr(thing, "__dict__", {}), *getattr(thing, "__slots__", ())}
    for kind in type(thing).__mro__:
        names |= {name for name, value in vars(kind).items() if isinstance(value, property)}
    return names


def leaks(plan):
    """Find paths of numbers in a plan that are the volume or mass of what would be poured.

    Of a liquid or of all of it: one number, or one repeated, within a millionth. Thousands of
    numbers in a history come that close by chance, so in arrays within a part in ten thousand
    million.
    """
    with collecting_warnings():
        liquids = poured(plan.inputs)
        pours = [*liquids.values(), mix(*liquids.values())]
        volumes = [np.asarray(liquid.volume, dtype=float).reshape(-1) for liquid in pours]
    masses = [np.asarray(liquid.mass, dtype=float).reshape(-1) for liquid in pours]
    volumes.append(np.array([plan.inputs.bath_per_area * float(plan.inputs.board.area)]))
    masses += [np.array([mass.mean()]) for mass in masses]
    cubic_metres, kilograms = np.concatenate(volumes), np.concatenate(masses)
    # m³, L and mL; kg and g
    amounts_in_units = [
        *(cubic_metres * scale for scale in (1, 1e3, 1e6)),
        *(kilograms * scale for scale in (1, 1e3)),
    ]
    targets = np.unique(np.concatenate(amounts_in_units))
    paths = []
    for path, values, alone in numbers(plan):
        finite = values[np.isfinite(values)]
        above = np.clip(np.searchsorted(targets, finite), 1, targets.size - 1)
        off = np.minimum(np.abs(finite - targets[above]), np.abs(finite - targets[above - 1]))
        closeness = 1e-6 if alone else 1e-10
        if np.any(off <= closeness * np.abs(finite)):
            paths.append(path)
    return paths


def test_no_number_in_a_refused_plan_is_an_amount_to_pour(refused_plans):
    for plan in refused_plans:
        assert leaks(plan) == []


def test_nobody_is_told_to_etch_an_offcut_in_a_refused_bath(refused_plans, mixable_plans):
    assert not any("etch an offcut" in str(plan).lower() for plan in refused_plans)
    assert any("etch an offcut" in str(plan).lower() for plan in mixable_plans)


# The true reason

MEETS_PEROXIDE = {"acid poured into peroxide", "strong acid poured into peroxide"}


def test_a_second_reading_of_random_plans_agrees(readings):
    """Order statistics by sorting and limits written out again, on the draws that a plan holds."""
    verdicts, places, rules = set(), set(), set()
    for plan, _, names, verdict in readings:
        assert plan.verdict == verdict, (names, plan.reasons)
        worst = {name for name in names if (name in REFUSE) == (verdict == "do not mix")}
        assert {reason.rule for reason in plan.reasons} == worst
        for reason in plan.reasons:
            assert reason.kind == REFUSE.get(reason.rule, "care")
        verdicts.add(verdict)
        places.add(plan.inputs.place)
        rules |= names
    assert verdicts == set(VERDICTS) and places == set(PLACES)
    # what meets a peroxide too strong for it takes a used bath that nobody has
    assert rules >= {rule.name for rule in all_rules()} - MEETS_PEROXIDE
    fresh = [plan for plan, *_ in readings if plan.inputs.used_bath is None]
    at_once = [plan for plan, *_ in readings if plan.inputs.second is None]
    assert 0 < len(fresh) < len(readings), "with a used bath, and without"
    assert 0 < len(at_once) < len(readings), "in two portions, and at once"


def test_harm_is_named_before_what_will_not_finish(refused_plans):
    for plan in refused_plans:
        kinds = [reason.kind for reason in plan.reasons]
        assert kinds == sorted(kinds) and set(kinds) <= {"harm", "will not finish"}
        for reason in plan.reasons:
            assert reason.words[:40].lower() in str(plan).lower()


NEVER = re.compile(r"(\d+(?:\.(\d+))?) in 100 plausible baths never clear this board")


def test_why_baths_never_clear_is_the_true_cause(refused_plans):
    causes = set()
    for plan in refused_plans:
        for reason in plan.reasons:
            if reason.rule != "never clears":
                continue
            never = np.isinf(np.asarray(plan.run.time_to_clear))
            (cause,) = (
                name for name, end in WHY_STOPPED.items() if end and reason.words.endswith(end)
            )
            stops = np.asarray(plan.run.stopped_by)[never]
            names, counts = np.unique(stops, return_counts=True)
            assert counts[list(names).index(cause)] == counts.max()
            causes.add(cause)
            number, decimals = NEVER.match(reason.words).groups()
            half_digit = 0.5 * 10 ** -len(decimals or "")
            assert abs(float(number) - 100 * never.mean()) <= half_digit + 1e-9
            assert float(number) > 10, "more than its limit, in print too"
            count = f"{never.sum()} of {never.size} plausible baths never clear this board"
            assert count in str(plan)
    assert {"acid", "peroxide", "time"} <= causes, causes


# rules whose words tell how many draws exceed the limit [°C, s]: our limits, no source, but 45 °C
SHARED = {
    "hot while etching": lambda figures: figures["etching"] > 60,
    "most must be stopped": lambda figures: figures["etching"] > 45,
    "too fast": lambda figures: figures["time"] < 30,
    "hot when left standing": lambda figures: figures["standing"] > 60,
    "may run away when left standing": lambda figures: figures["standing"] > 75,
}


def test_a_reason_counts_the_draws_that_exceed_its_limit(readings):
    cases = set()
    for plan, figures, _, _ in readings:
        for reason in plan.reasons:
            if reason.rule in SHARED:
                beyond = SHARED[reason.rule](figures)
                count = "all" if beyond.all() else f"{beyond.sum()} of {beyond.size}"
                assert reason.words.startswith(f"{count} plausible")
                cases.add((reason.rule, bool(beyond.all())))
    assert cases == {(rule, is_all) for rule in SHARED for is_all in (True, False)}


@pytest.mark.parametrize(("never", "of"), [(1, 200), (29, 200), (1, 8), (3, 400), (200, 200)])
def test_baths_that_never_clear_are_counted_not_rounded(mixable_plans, never, of):
    """One of 200 is no "0 of 100", and 29 of 200 neither 14 nor 15."""
    plan = mixable_plans[0]
    times = Band.of(np.where(np.arange(of) < never, np.inf, 300.0), of)
    words = str(dataclasses.replace(plan, bands=plan.bands | {"time_to_clear": times}))
    assert f"{never} of {of} plausible baths never clear this board." in words
    clear = Band.of(np.full(of, 300.0), of)
    all_clear = dataclasses.replace(plan, bands=plan.bands | {"time_to_clear": clear})
    assert "never clear" not in does(all_clear)


def test_a_refused_bath_tells_its_hour_after_beside_its_peak(refused_plans):
    """Both bands, written out again; boiling over where any draw exceeds 95 °C in hour or day."""
    boils = 0
    for plan in refused_plans:
        after_head = str(plan).split("What it would do: to learn from, not to try")[1]
        section = after_head.split("If it goes wrong")[0]
        peak, after = degrees(plan.bands["etching_peak"]), degrees(plan.bands["hour_peak"])
        assert f"While etching they reach {peak}; in the hour after, {after}." in section
        assert "warmest" not in section and "its own volume of oxygen" in section
        is_hot = np.any(np.asarray(plan.bands["standing_peak"].values) - ZERO > 95)
        assert ("may boil over" in section) == is_hot
        boils += is_hot
    assert boils >= 5


def test_what_makes_harm_no_safer_is_said_of_harm_alone(refused_plans):
    words = "Goggles, open air or a fume cupboard do not make it safe."
    harms = [plan.harmful for plan in refused_plans]
    assert 0 < sum(harms) < len(harms)
    for plan in refused_plans:
        assert (words in str(plan).split("\n\n")[1]) == plan.harmful
        assert "make it safe" not in str(plan) or plan.harmful


def test_a_refused_plan_shows_the_bottles_layers_and_no_other(refused_plans):
    for plan in refused_plans:
        for caution in plan.cautions:
            assert (caution.words in str(plan)) == is_shown(caution, plan), caution
        assert all(line.words in str(plan) for line in plan.law)


def without_reasons(plan):
    """Return the words of a plan less its reasons, which have a law of their own."""
    words = str(plan)
    for reason in plan.reasons:
        words = words.replace(reason.words[1:], "")
    return words


def test_no_sentence_is_longer_than_people_read(refused_plans, mixable_plans):
    for plan in [*refused_plans, *mixable_plans]:
        assert long_sentences(without_reasons(plan)) == []


def test_no_plan_is_longer_than_the_longest_should_be(refused_plans, mixable_plans):
    """The layers alone are some 1040 words; a used bath, cares and a law on both bottles add."""
    counts = [words_in(str(plan)) for plan in [*refused_plans, *mixable_plans]]
    assert max(counts) <= LONGEST_PLAN
    assert max(words_in(str(plan)) for plan in refused_plans) <= LONGEST_REFUSED


def test_how_much_peroxide_is_left_is_never_a_number(mixable_plans):
    for plan in mixable_plans:
        assert not re.search(r"\d[\d.]* %[^.]*peroxide[^.]*(?:left|still)", str(plan))
        assert re.search(r"It may still hold (?:most of its )?peroxide after a day;", str(plan))


def degrees(band):
    """Write both ends of a band in whole °C, once where they are the same."""
    ends = dict.fromkeys(f"{float(end) - ZERO:.0f}" for end in (band.low, band.high))
    return f"{' to '.join(ends)} °C"


# A change that helps


def moved_to(inputs, lever, value):
    """Return the inputs with one lever moved, and nothing else."""
    fields = {
        "water": {"parts": (value, *inputs.parts[1:])},
        "bath": {"bath_per_area": value},
        "start": {"T_bottles": value},
        "acid": {"parts": (inputs.parts[0], value, inputs.parts[2])},
    }
    return inputs.replace(**fields[lever])


def severities_of(inputs, variants):
    """Read the verdicts of variants of a plan's inputs a second time, side by side."""
    with collecting_warnings():
        return severities(outlook(inputs, **side_by_side(variants)))


def test_a_change_lifts_the_verdict(refused_plans):
    """Read a second time: each is its lever moved and nothing else, and the verdict it says."""
    levers = set()
    for plan in refused_plans:
        if not plan.changes:
            continue
        levels = severities_of(plan.inputs, [change.inputs for change in plan.changes])
        for change, level in zip(plan.changes, levels, strict=True):
            assert_equal(change.inputs, moved_to(plan.inputs, change.lever, change.value))
            assert VERDICTS[level] == change.verdict != "do not mix"
            assert 0 < change.share <= 1
            levers.add(change.lever)
    assert levers >= {"water", "bath", "start"}


def test_changes_stand_in_order_each_lever_once_for_a_verdict(refused_plans):
    for plan in refused_plans:
        assert plan.change is (plan.changes[0] if plan.changes else None)
        shares = [change.share for change in plan.changes]
        assert shares == sorted(shares)
        for lever in LEVERS:
            verdicts = [change.verdict for change in plan.changes if change.lever == lever]
            assert verdicts in ([], ["mix it"], ["with care"], ["with care", "mix it"])


WORDS_OF_CHANGE = {
    "water": r"more water: ([\d.]+) : .* instead of ([\d.]+) : ",
    "start": r"colder bottles.*?: ([\d.]+) °C instead of ([\d.]+) °C, or colder\.",
    "acid": r"less acid: [\d.]+ : ([\d.]+) : [\d.]+ \(.*instead of [\d.]+ : ([\d.]+) : ",
    "bath": r"same bath: ([\d.]+) mL per cm² of bare copper instead of ([\d.]+), or more of it\.",
}


def test_words_of_a_change_tell_the_new_value_from_the_old(refused_plans):
    count = 0
    for plan in refused_plans:
        words = str(plan)
        for change in plan.changes:
            check_apart(change, plan.inputs)
            assert changed(change, plan.inputs) in words and "smallest" not in words
            assert "Enter it and read the verdict again." in words
            count += 1
    assert count >= 6


def check_apart(change, inputs):
    """Read both values back from the words: apart, the right way round, and near to the truth."""
    words = changed(change, inputs)
    numbers_in_words = re.search(WORDS_OF_CHANGE[change.lever], words).groups()
    after, before = map(float, numbers_in_words)
    truth = {
        "water": (change.value, inputs.parts[0]),
        "bath": (change.value * 100, inputs.bath_per_area * 100),
        "start": (change.value - ZERO, inputs.T_bottles - ZERO),
        "acid": (change.value, inputs.parts[1]),
    }[change.lever]
    assert np.sign(after - before) == (-1 if change.lever in ("start", "acid") else 1), words
    off = np.abs(np.array([after, before]) - truth)
    assert np.all(off <= 0.05 * np.abs(truth) + 1e-9), words


@pytest.mark.parametrize(
    ("lever", "value", "now"),
    [
        ("start", 293.15, {"T_bottles": 293.55}),
        ("start", 292.15, {"T_bottles": 292.6500001}),
        ("bath", 0.040, {"bath_per_area": 0.0396}),
        ("bath", 0.096, {"bath_per_area": 0.0955}),
        ("bath", 0.0100, {"bath_per_area": 0.00999}),
        ("water", 100.1, {"parts": (100.04, 1, 50)}),
        ("water", 3.1, {"parts": (3.06, 1, 1)}),
        ("acid", 3.9, {"parts": (2, 3.93, 1)}),
    ],
)
def test_a_change_by_less_than_two_figures_is_told_apart(mixable_plans, lever, value, now):
    fresh = next(plan.inputs for plan in mixable_plans if plan.inputs.used_bath is None)
    inputs = fresh.replace(**now)
    check_apart(Change(lever, value, 0.01, "with care", moved_to(inputs, lever, value)), inputs)


def test_the_first_change_planned_anew_is_no_longer_refused(refused_plans):
    plans = [plan for plan in refused_plans if plan.changes][::3]
    assert len(plans) >= 2
    for plan in plans:
        anew = planned(plan.change.inputs)
        assert anew.verdict == plan.change.verdict and anew.stages


def assert_equal(inputs, target):
    """Fail where two inputs do not hold the same, number by number."""
    for field in dataclasses.fields(Inputs):
        assert getattr(inputs, field.name) == getattr(target, field.name), field.name


def every_step(inputs):
    """List variants all along each lever up to its limit, two in five parts of water and so on."""
    water, acid, peroxide = inputs.parts
    most = 10 * max(acid, peroxide)
    waters = np.arange(np.floor(water * 10 + 1e-9) + 1, 10 * most + 0.5)[::4] / 10
    depths = np.arange(np.floor(inputs.bath_per_area * 1e3 + 1e-9) + 1, 100.5)[::4] / 1e3
    starts = np.arange(np.ceil(inputs.T_bottles - ZERO - 1e-9) - 1, 9.5, -2) + ZERO
    return [
        *(inputs.replace(parts=(water, acid, peroxide)) for water in waters),
        *(inputs.replace(bath_per_area=depth) for depth in depths),
        *(inputs.replace(T_bottles=start) for start in starts),
    ]


def test_where_no_change_is_offered_none_is_there(refused_plans):
    """A quarter of the steps of three levers. (Every step, by margins: `test_changes`.)"""
    without = [plan for plan in refused_plans if not plan.changes]
    assert len(without) >= 12, "enough to say so"
    assert all("No single change" in str(plan) for plan in without[:12])
    for plan in without[:12]:
        assert severities_of(plan.inputs, every_step(plan.inputs)).min() == 2, plan.inputs
