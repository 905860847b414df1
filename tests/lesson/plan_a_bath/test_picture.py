"""A plan's picture and words hold the plan's own numbers, and those of a refused plan no amount (laws)."""

import itertools
import re

import numpy as np
import pytest
from helpers.workshop import INPUTS, KEPT

from pcbchem.bench.hazards.verdicts import rules
from pcbchem.lesson.plan_a_bath import picture as draw
from pcbchem.lesson.plan_a_bath import words as outcome
from pcbchem.lesson.plan_a_bath.fields import planned

AMOUNT = re.compile(r"\d\s*(m?L|litres?|cm³)\b(?! per cm²)|oz\b|pour|look first|resist")
OTHERS = {
    "two portions": {"second": (50, 3), "draws": 60},
    "used before": {"kept": KEPT, "draws": 60},
    "all five": {"parts": (2, 1, 1), "kept": KEPT, "second": (50, 1), "draws": 60},
    "weak": {"peroxide": (3, "%"), "parts": (0, 1, 2), "draws": 60},
    "no peroxide": {"parts": (1, 1, 0), "draws": 60},
    "little": {"total_mL": 12, "draws": 60},
    "thin": {"parts": (50, 1, 1), "draws": 60},
    "thick": {"foil_oz": 16, "draws": 60},
}


@pytest.fixture(scope="module")
def others(mild, doubtful, refused):
    return {"mild": mild, "doubtful": doubtful, "refused": refused} | {
        name: planned(**INPUTS | changed) for name, changed in OTHERS.items()
    }


@pytest.fixture(scope="module", params=[False, True], ids=["wide", "narrow"])
def empty(request):
    return draw.build(request.param)


def texts(drawing):
    """Every word in a picture, lines joined, with the Axes it stands in."""
    axes = [drawing.parts[name] for name in draw.PLACES[False]]
    found = [drawing.parts["head"], *(t for a in axes for t in (*a.texts, a._left_title))]
    return [(t.get_text().replace("\n", " "), t) for t in found if t.get_text()]


def words(drawing):
    return " | ".join(text for text, _ in texts(drawing))


def corners(artist):
    """Lowest and highest x and y of a filled shape [units of its axes]."""
    points = artist.get_paths()[0].vertices
    return points.min(axis=0), points.max(axis=0)


def test_picture_and_words_say_the_plans_numbers(empty, mild):
    """Ends and middles written out again here, in the picture and in its text alternative."""
    said = words(draw.show(empty, mild, "Bath"))
    readout, alt = outcome.words(mild, "Bath")
    times, peak, after = (
        mild.bands[name] for name in ("time_to_clear", "etching_peak", "standing_peak")
    )
    numbers = [
        f"{times.low / 60:.1f} to {times.high / 60:.1f} min",
        *(f"{band.low - 273.15:.0f} to {band.high - 273.15:.0f} °C" for band in (peak, after)),
    ]
    for number in numbers:
        assert number in said and number in alt and number in readout, number
    for number in (
        f"{times.middle / 60:.1f} min",
        "75 mL",
        f"{75 / 29.5735:.1f} US fl oz",
        "20 to 30 min",
        "1 min 30 s",
        f"{mild.bands['reserve'].low:.1f} to {mild.bands['reserve'].high:.1f} times",
    ):
        assert number in said and number in alt, number
    assert readout.startswith("Mix it. 8 of 10") and f"{peak.middle - 273.15:.0f} °C" in alt
    assert empty.figure.get_facecolor() == (1, 1, 1, 1)


def test_both_widths_say_the_same_numbers(others):
    pictures = [draw.build(narrow) for narrow in (False, True)]
    for name, plan in others.items():
        wide, narrow = (
            set(re.findall(r"\d+\.?\d*", words(draw.show(drawing, plan)))) for drawing in pictures
        )
        middle = re.findall(r"\d+\.?\d*", "".join(map(outcome.middle, outcome.rows(plan))))
        assert wide - {"1", "10"} - set(middle) == narrow - {"1", "10"} - set(middle), name


def test_law_layers_are_to_scale_and_in_order(empty, others):
    """What is poured before the board stands one on the other; what is held back apart from it, under the jug."""
    kept_apart = 0
    for plan in others.values():
        axes = draw.show(empty, plan).parts["jug"]
        ends = [corners(layer) for layer in axes.collections]
        assert len(ends) == len(plan.stages)
        heights = np.array([high[1] - low[1] for low, high in ends])
        volumes = np.array([stage.volume for stage in plan.stages])
        assert np.allclose(
            heights / heights.sum() if len(heights) else heights, volumes / volumes.sum()
        )
        now = [end for end, stage in zip(ends, plan.stages, strict=True) if not stage.when]
        assert all(one[1][1] == pytest.approx(two[0][1]) for one, two in itertools.pairwise(now)), (
            "one on the other"
        )
        for low, high in ends[len(now) :]:
            assert high[1] < min(foot[1] for foot, _ in now) - 0.05 and low[1] >= axes.get_ylim()[0]
            assert high[1] < min(axes.lines[0].get_ydata()) - 0.05, "not in the jug"
            kept_apart += 1
        said = [t.get_text().replace("\xa0", " ") for t in axes.texts[1:]]
        for k, (stage, text) in enumerate(zip(plan.stages, said, strict=not plan.refused), 1):
            assert text.startswith("Into the tray at" if stage.when else f"{k}. ")
            assert f"{stage.volume * 1e6:.3g} mL" in text.replace("\n", " ")
    assert kept_apart == 2


def test_law_a_second_portion_is_said_with_its_conditions_and_where_it_goes(empty, others):
    """Peroxide poured by the clock into a warm bath is the accident: 40 °C, as in the words (common practice)."""
    condition = "only if the board is not clear and the bath is below 40 °C"
    for name, first in (
        ("two portions", "Into the jug, in this order"),
        ("all five", "Into the tray, in this order"),
    ):
        plan = others[name]
        minutes = round(plan.inputs.second[1] / 60)
        alt, drawn = outcome.words(plan, "x")[1], words(draw.show(empty, plan)).replace("\xa0", " ")
        for said in (alt, drawn):
            assert said.count(first) == 1, name
            assert (
                f"Into the tray at {minutes} min, {condition.replace('only', 'ONLY')}: peroxide, "
                in said
            ), name
            assert f"{minutes} min, only if not clear, below 40 °C" in said, "on the axis of time"
            assert not re.search(r"\d\. (at|peroxide, second)", said), (
                "no number in the order of pouring"
            )
        assert condition in str(plan).replace("bath below", "bath is below"), (
            "and in the plan's words"
        )
    plain = outcome.words(others["used before"], "x")[1] + words(
        draw.show(empty, others["used before"])
    )
    assert (
        plain.count("Into the tray, in this order") == 2
        and "ONLY" not in plain
        and "jug" not in plain.lower()
    )


def test_the_hour_after_never_stands_apart_from_the_warmth_while_etching(empty, others):
    """Title, sentence, text alternative: both bands, each by its own name; nothing is the warmest of one alone."""
    for name, plan in others.items():
        peak, after = (
            outcome.degrees(plan.bands[key]) for key in ("etching_peak", "standing_peak")
        )
        readout, alt = outcome.words(plan, "x")
        for said in (outcome.title(plan, "x"), readout, alt.partition(" Bars:")[0]):
            assert re.search(
                f"hile etching (they reach )?{peak}; in the hour after,? {after}", said
            ), (name, said)
        assert "warmest" not in (readout + alt + words(draw.show(empty, plan))).lower(), name


def test_law_bars_are_shares_of_what_the_bath_holds(empty, mild):
    """Length by acid counted by hand: two to a copper."""
    axes = draw.show(empty, mild).parts["bars"]
    acid = (
        2 * 27e-4 * 0.305152 / 0.063546 / np.asarray(mild.mixture.amount("HCl"))
    )  # m², kg/m² of 1 oz, kg/mol
    outline = next(line for line in axes.lines if len(line.get_xdata()) == 5)
    pale, dark = axes.collections[:2]
    whole = max(outline.get_xdata())
    assert corners(pale)[1][0] / whole == pytest.approx(np.quantile(acid, 0.9), rel=0.01)
    assert corners(dark)[1][0] / whole == pytest.approx(np.quantile(acid, 0.1), rel=0.01)


def test_time_axis_holds_look_band_and_resist(empty, others):
    """The first look lies before the 10 % time; the resist stands 20 to 30 min (common practice, no source)."""
    for name, plan in others.items():
        axes = draw.show(empty, plan).parts["times"]
        rows = {row.name: row for row in outcome.rows(plan)}
        times = plan.bands["time_to_clear"]
        assert (rows["board clear"].low, rows["board clear"].high) == (times.low, times.high)
        assert ("look first" in rows) == (plan.first_look is not None), name
        if plan.first_look is not None:
            assert (
                axes.lines[0].get_xdata()[0] * 60 == pytest.approx(plan.first_look)
                and plan.first_look < times.low
            )
        assert outcome.end(plan) > times.middle or np.isinf(times.middle)
        assert all(row.name in words(empty) for row in rows.values())
    slow = draw.show(empty, others["weak"]).parts["times"].collections[-1]
    assert corners(slow)[0][0] == pytest.approx(20) and corners(slow)[1][0] == pytest.approx(30)
    assert "20 to 30 min →" in words(draw.show(empty, others["mild"])), "beyond the axis"


def test_limits_of_warmth_are_drawn_where_the_picture_reaches_them(empty, others):
    """45 °C always; every rule on a peak below the highest band has its line (common practice, no source)."""
    for name, plan in others.items():
        for part, quantity in (("warmth", "etching_peak"), ("after", "standing_peak")):
            axes = draw.show(empty, plan).parts[part]
            drawn = {
                round(float(line.get_ydata()[0]), 6)
                for line in axes.lines
                if line.get_linestyle() == "--"
            }
            highest = (
                max(float(plan.bands[key].high) for key in ("etching_peak", "standing_peak"))
                - 273.15
            )
            limits = {
                round(rule.limit - 273.15, 6) for rule in rules() if rule.quantity == quantity
            }
            assert drawn <= limits and {T for T in limits if highest >= T} <= drawn, (name, part)
        assert 45.0 in {
            round(float(line.get_ydata()[0]), 6) for line in empty.parts["warmth"].lines
        }
    assert (
        "45 °C: 1 in 10 above it: with cares; half: do not mix"
        in outcome.words(others["mild"], "x")[1]
    )


def test_law_the_middle_line_is_the_middle_bath(empty, mild, refused):
    for plan in (mild, refused):
        line = draw.show(empty, plan).parts["warmth"].lines[0]
        x, y = np.asarray(line.get_xdata()), np.asarray(line.get_ydata())
        assert y[0] == pytest.approx(
            float(plan.bands["mixing_temperature"].middle) - 273.15, abs=0.05
        )
        at = np.quantile(np.asarray(plan.run.at([60.0])["temperature"])[0], 0.5) - 273.15
        assert np.interp(1.0, x, y) == pytest.approx(at, abs=0.3)


def test_law_a_refused_plan_has_no_amount_anywhere(empty, others):
    refused = [plan for plan in others.values() if plan.refused]
    assert len(refused) >= 4
    for plan in refused:
        said = [words(draw.show(empty, plan, "Bath")), *outcome.words(plan, "Bath")]
        for text in said:
            assert not AMOUNT.search(text), AMOUNT.search(text)
        assert (
            "A curve to learn from" in said[0]
            and "measures nothing out" in said[0]
            and "Do not mix." in said[1]
        )
    assert AMOUNT.search(words(draw.show(empty, others["mild"]))), "an amount would be found"


def test_law_a_picture_drawn_anew_holds_nothing_of_the_last(empty, others):
    for plan in others.values():
        draw.show(empty, plan)
    again = draw.show(empty, others["mild"])
    assert words(again) == words(draw.show(draw.build(again.parts["narrow"]), others["mild"]))


def test_words_stay_in_the_picture_and_off_each_other(empty, others):
    for name, plan in others.items():
        draw.show(empty, plan).figure.draw_without_rendering()
        renderer = empty.figure.canvas.get_renderer()
        boxes = [(text, t.get_window_extent(renderer)) for text, t in texts(empty)]
        boxes += [
            (t.get_text(), t.get_window_extent(renderer))
            for t in empty.parts["warmth"].get_yticklabels()
        ]
        wide, tall = empty.figure.bbox.width, empty.figure.bbox.height
        for text, box in boxes:
            assert box.x0 > -2 and box.x1 < wide + 2 and box.y0 > -2 and box.y1 < tall + 2, (
                name,
                text,
            )
        for (text, one), (other, two) in itertools.combinations(boxes, 2):
            across = min(one.x1, two.x1) - max(one.x0, two.x0)
            assert across < 3 or min(one.y1, two.y1) - max(one.y0, two.y0) < 5, (name, text, other)
        assert min(t.get_fontsize() for _, t in texts(empty)) >= 11


def test_never_clearing_baths_are_said_without_nan(others):
    for plan in others.values():
        assert not re.search(r"\b(nan|inf)\b", " ".join(outcome.words(plan, "Bath")))
    assert "Hardly ever clear" in outcome.title(others["no peroxide"], "Bath")


def test_a_page_gets_the_picture_with_its_words(mild):
    page = draw.pictured(mild, "Bath")._repr_html_()
    assert page.startswith("<picture>") and f'alt="{outcome.words(mild, "Bath")[1]}"' in page
    assert page.count("image/png") == 2 and draw.pictured(mild, "Bath").narrow
