"""A line that people read: what it is about, whom it is from, and where it stands. Laws."""

import dataclasses

import pytest

from pcbchem import Bottle
from pcbchem.bench.hazards.caution import LAYERS, cautions, method_cautions
from pcbchem.bench.hazards.law import above_limit
from pcbchem.bench.hazards.line import Caution

STRONG = Bottle("HCl", 0.30, 0.32), Bottle("H2O2", 0.30, 0.35)


def test_a_line_is_what_it_was_made_as():
    line = Caution("fire", "No flames.", "A book", "2026-11-25")
    with pytest.raises(dataclasses.FrozenInstanceError):
        line.words = "Flames."
    assert line == Caution("fire", "No flames.", "A book", "2026-11-25", 0, 0, ())


def test_only_what_stands_in_a_layer_has_a_place_there():
    assert all(line.layer in LAYERS and line.number > 0 for line in cautions(*STRONG, "GB"))
    outside = [*above_limit(*STRONG, "GB"), *method_cautions("offcut")]
    assert {(line.layer, line.number) for line in outside} == {(0, 0)}
