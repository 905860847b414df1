"""The jug is drawn to scale and in order, what is held back apart from it (laws)."""

import itertools
import re

import numpy as np
import pytest
from helpers.plan_pictures import corners

from pcbchem.bench.plan.planning import for_class
from pcbchem.bench.plan.pours import POURS
from pcbchem.lesson.bath.jug import FILLS, apart
from pcbchem.lesson.bath.plan_picture import build, show


def layers(drawing):
    """Lowest and highest corner of each layer, in the order of pouring."""
    return [corners(layer) for layer in drawing.parts["jug"].collections]


def test_law_layers_are_to_scale(plans, pictures, narrow):
    for name, plan in plans.items():
        heights = np.array([high[1] - low[1] for low, high in layers(pictures[name, narrow])])
        volumes = np.array([stage.volume for stage in plan.stages])
        assert len(heights) == len(volumes)
        if len(volumes):
            assert np.allclose(heights / heights.sum(), volumes / volumes.sum()), name


def test_law_layers_stand_one_on_the_other_in_order(plans, pictures, narrow):
    for name, plan in plans.items():
        ends = zip(layers(pictures[name, narrow]), plan.stages, strict=True)
        first = [end for end, stage in ends if not stage.when]
        for (_, top), (bottom, _) in itertools.pairwise(first):
            assert top[1] == pytest.approx(bottom[1]), name


def test_law_what_is_held_back_is_not_in_the_jug(plans, pictures, narrow):
    count = 0
    for name, plan in plans.items():
        axes = pictures[name, narrow].parts["jug"]
        for (low, high), stage in zip(layers(pictures[name, narrow]), plan.stages, strict=True):
            if stage.when:
                count += 1
                assert high[1] < min(axes.lines[0].get_ydata()) - 0.05, "under it"
                assert low[1] >= axes.get_ylim()[0]
    assert count == 2


def test_law_every_layer_says_its_volume(plans, pictures, narrow):
    for name, plan in plans.items():
        if plan.refused:
            continue
        artists = pictures[name, narrow].parts["jug"].texts[1:]
        labels = [text.get_text().replace("\xa0", " ").replace("\n", " ") for text in artists]
        volumes = [float(re.search(r"([\d.]+) mL", label)[1]) for label in labels]
        for number, (stage, label) in enumerate(zip(plan.stages, labels, strict=True), 1):
            assert label.startswith("Into the tray at" if stage.when else f"{number}. ")
            # as people can measure it: off by less than 1 mL, above 100 mL than 5 mL
            exact = stage.volume * 1e6
            assert abs(volumes[number - 1] - exact) < (1 if exact < 100 else 5), name
            assert volumes[number - 1] % (0.5 if exact < 100 else 5) == 0, name
        whole = 1e6 * sum(stage.volume for stage in plan.stages)
        assert abs(sum(volumes) - whole) < (1 if max(volumes) < 100 else 5), name


def test_a_refused_plan_has_no_layers(plans, pictures, narrow):
    for name, plan in plans.items():
        assert bool(layers(pictures[name, narrow])) != plan.refused


def test_every_pour_has_its_fill():
    assert set(FILLS) == set(POURS)


@pytest.mark.parametrize("count", [1, 2, 5, 40])
def test_law_labels_are_apart_and_inside(count):
    """Where there is room for it: else as far apart as there is room for."""
    rng = np.random.default_rng(count)
    places = sorted(rng.uniform(0, 2, count))
    moved = apart(places, 0.2, 0.1, 2.0)
    gap = min(0.2, 1.9 / max(count - 1, 1))
    assert min(moved) >= 0.1 - 1e-9 and max(moved) <= 2.0 + 1e-9
    assert all(two - one >= gap - 1e-9 for one, two in itertools.pairwise(moved))


def test_law_labels_with_room_stay_where_they_are():
    assert apart([0.3, 0.8, 1.5], 0.4, 0.1, 2.0) == [0.3, 0.8, 1.5]


def test_law_a_class_sees_the_order_and_no_jug(plans, narrow):
    """Layers to scale would measure out as well as figures do."""
    drawing = build(narrow)
    for name in ("mild", "two portions", "used before", "all five"):
        axes = show(drawing, for_class(plans[name]), "Bath").parts["jug"]
        assert layers(drawing) == [] and not axes.lines, name
        drawing.figure.draw_without_rendering()
        renderer = drawing.figure.canvas.get_renderer()
        room = axes.get_window_extent(renderer)
        boxes = [text.get_window_extent(renderer) for text in axes.texts]
        for box in boxes:
            assert box.x1 < room.x1 + 2 and box.y0 > room.y0, name
        said = axes.texts[-1].get_text()
        places = [said.index(f". {stage.what}") for stage in plans[name].stages if not stage.when]
        assert places == sorted(places) and "mL" not in said, name
