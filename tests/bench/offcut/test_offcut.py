"""Law: an offcut that is accepted is good for a row of a log, and its time can be computed."""

import dataclasses
import functools
import itertools

import numpy as np
import pytest
from helpers.offcuts import MILD, mild

from pcbchem import Board, Bottle, Foil, Solution, Tray, mix
from pcbchem.bench.offcut import likelihood
from pcbchem.bench.offcut import offcut as module
from pcbchem.bench.offcut.likelihood import bottles_of, expected_times
from pcbchem.bench.offcut.offcut import OTHER_TRAY, SAME_TRAY, Offcut, transfer
from pcbchem.common.limits import InputError, collecting_warnings
from pcbchem.reaction.bath.bath import Start, etch
from pcbchem.reaction.bath.parameters import shipped_draws

DRAWS = 3


def test_law_an_offcut_keeps_what_its_row_can_hold():
    offcut = mild(
        acid=Bottle.labelled("HCl", 0.10),
        board=Board(0.02, 0.03, 0.5, Foil(0.3)),
        acid_bottle=" old ",
    )
    assert offcut.acid.label is None
    assert offcut.board.width is None and float(offcut.board.area) == 3e-4
    assert float(offcut.board.foil.areal_mass) == 0.3
    assert offcut.acid_bottle == "old"


def test_law_an_offcut_is_checked_as_a_plan_is():
    offcut = mild(board=Board(0.02, 0.03, 0.5, Foil(0.3)))
    inputs = offcut.inputs
    assert inputs.board is offcut.board and inputs.parts == (1, 1, 1.5)
    assert inputs.bath_per_area == pytest.approx(50e-6 / 3e-4)
    assert (inputs.place, inputs.draws) == ("elsewhere", 200)
    assert inputs.used_bath is None and inputs.second is None


WRONG = {
    "acid": (Bottle("H2O2", 0.1, 0.1), "must be a Bottle of HCl"),
    "parts": ((1, 2), "three numbers"),
    "volume": (0, r"volume = 0 is impossible: it must be above 0 to 1 m³"),
    "board": ("5 cm²", "board = '5 cm²' is impossible: it must be a Board"),
    "tray": (Tray(open_area=1e-4), "board area = 0.0005 m² is impossible facing up"),
    "T_bottles": (20, "T_bottles = 20 is impossible: it must be 273.15 to 313.15 K"),
    "time": (0, "time = 0 is impossible: it must be above 0 to 14400 s"),
    "clear": (1, "clear = 1 is impossible: it must be True, or False with"),
    "acid_bottle": (" ", "acid_bottle of 0 letters is impossible: it must have 1 to 60"),
    "peroxide_bottle": ("a\nb", r"peroxide_bottle = 'a\\nb' is impossible: it must hold no '\\r'"),
    "date": (20261125, "date = 20261125 is impossible: it must be a text"),
    "note": ("bell \a", r"must hold no '\\x07'"),
}


@pytest.mark.parametrize("name", WRONG)
def test_law_an_impossible_offcut_is_refused_by_name(name):
    value, message = WRONG[name]
    with pytest.raises(ValueError, match=message):
        mild(**{name: value})


def test_law_only_the_note_has_several_lines():
    assert mild(note="one\ntwo").note == "one\ntwo"
    with pytest.raises(InputError, match=r"note of so many lines .* at most 20"):
        mild(note="\n" * 20)


def test_law_an_offcut_not_etched_yet_cannot_be_unclear():
    assert mild(time=None).time is None
    with pytest.raises(InputError, match="clear = False is impossible"):
        mild(time=None, clear=False)


def test_law_a_lake_over_a_scrap_is_refused():
    with pytest.raises(InputError, match="bath_per_area = 2000"):
        mild(volume=1.0)


# ---- its time can be computed


def plain(area=4e-4, volume=30e-6, open_area=None, strong=False, T=293.15):
    """An offcut of mild bottles, or of the strongest there are."""
    bottles = (MILD["acid"], MILD["peroxide"])
    if strong:
        bottles = (Bottle("HCl", 0.45, 0.45), Bottle("H2O2", 0.70, 0.70))
    tray = Tray("rocked", "upright", open_area)
    return Offcut(*bottles, (0, 1, 1), volume, Board(area=area), tray, T, 100.0)


def times_of(offcut):
    """What some draws expect, as calibration reckons it: the offcut's own check is not asked."""
    draws = {name: np.asarray(values)[:DRAWS] for name, values in shipped_draws().items()}
    strengths = {
        name: np.linspace(bottle.low, bottle.high, DRAWS)
        for name, bottle in bottles_of([offcut]).items()
    }
    return expected_times([offcut], draws, strengths)


EDGES = {  # copper [m²], open area [m²], the end of the bath [m³], and which way is inside it
    "least bath": (1e-5, None, 1.02e-7, 1),
    "shallow": (4e-4, 0.4, 1.02e-4 * 0.4, 1),
    "shallow in any tray": (1.0, None, 1.02e-4 * 1.3, 1),
    "wide": (0.1, None, 0.04 / 1.02, -1),
    "most bath": (0.5, 3.9, 1.0, -1),
    "a hair": (0.5, 4e-7, 0.4 / 1.02, -1),
}


@pytest.mark.parametrize("name", EDGES)
@pytest.mark.parametrize("T", [273.15, 313.15])
@pytest.mark.parametrize("strong", [False, True])
def test_law_up_to_the_edge_a_time_can_be_computed(name, T, strong, monkeypatch):
    # ten minutes tell: what cannot be computed is refused before the first step
    monkeypatch.setattr(likelihood, "etch", functools.partial(etch, longest=600.0))
    area, open_area, edge, inside = EDGES[name]
    offcut = plain(area, edge * (1 + inside * 1e-9), open_area, strong, T)
    assert not np.isnan(times_of(offcut)).any()
    with pytest.raises(InputError, match=r"^volume = .* is impossible: it must be .* m³"):
        plain(area, edge * (1 - inside * 1e-3), open_area, strong, T)


@pytest.mark.parametrize(
    "area, volume, open_area",
    [(1e-5, 0.9e-7, None), (4e-4, 0.9e-4 * 0.4, 0.4), (0.1, 0.042, None)],
)
def test_law_a_bath_that_is_refused_could_not_be_computed(area, volume, open_area, monkeypatch):
    with pytest.raises(InputError, match=r"^volume = "):
        plain(area, volume, open_area)
    monkeypatch.setattr(module, "bath_limits", lambda *_: (0.0, 1.0))
    offcut = plain(area, volume, open_area)
    with pytest.raises(ValueError, match="is impossible"):
        times_of(offcut)


def test_law_more_copper_than_an_open_area_can_be_is_refused():
    message = r"^board: area = 3.1 is impossible: it must be above 0 to 3.07692 m²"
    with pytest.raises(InputError, match=message):
        plain(3.1, 0.03)


@pytest.mark.parametrize("T", [273.15, 293.15, 313.15])
def test_law_a_mixed_bath_stays_within_what_an_offcut_spares(T):
    share = np.linspace(0, 1, 21)
    water, acid = (part.ravel() for part in np.meshgrid(share, share))
    water, acid = water[water + acid <= 1 + 1e-9], acid[water + acid <= 1 + 1e-9]
    peroxide = np.maximum(1 - water - acid, 0)
    for HCl, H2O2 in itertools.product((0, 0.1, 0.2, 0.3, 0.45), (0, 0.12, 0.35, 0.70)):
        mixed = mix(
            Solution.of(volume=water, T=T),
            Solution.of(volume=acid, T=T, HCl=HCl),
            Solution.of(volume=peroxide, T=T, H2O2=H2O2),
        )
        with collecting_warnings():
            assert mixed.volume.min() > 1 / module.SPARE and mixed.volume.max() < module.SPARE
            Start.of(mixed)  # and no two of them are too strong or too hot


# ---- how far a board may lie from it

BATH = {"parts": (0, 1, 1), "volume": 150e-6, "tray": Tray(open_area=150e-4)}
BOARD = mild(**BATH, board=Board(area=27e-4)).inputs
LIKE = mild(**BATH, board=Board(area=13.5e-4))
UNLIKE = {
    "movement": {"tray": Tray("bubbled", open_area=150e-4)},
    "facing": {"tray": Tray(facing="upright", open_area=150e-4)},
    "tray": {"tray": Tray(open_area=130e-4)},
    "size": {"board": Board(area=13.4e-4)},
}


def test_law_an_offcut_as_the_board_will_be_is_the_closer_one():
    assert transfer([LIKE], BOARD, True) == (SAME_TRAY, ())


@pytest.mark.parametrize("reason", UNLIKE)
def test_law_one_difference_is_enough_for_the_larger_doubt(reason):
    unlike = dataclasses.replace(LIKE, **UNLIKE[reason])
    assert transfer([unlike], BOARD, True) == (OTHER_TRAY, (reason,))
    # one that is like the board is enough, whatever the others are
    assert transfer([unlike, LIKE, unlike], BOARD, True).doubt == SAME_TRAY


def test_law_who_etches_has_to_be_said():
    assert transfer([LIKE], BOARD, False) == (OTHER_TRAY, ("hand",))
    with pytest.raises(ValueError, match="same_hand = 'yes' is impossible"):
        transfer([LIKE], BOARD, "yes")


def test_law_two_halves_of_being_alike_do_not_make_a_whole():
    small = dataclasses.replace(LIKE, **UNLIKE["size"])
    elsewhere = dataclasses.replace(LIKE, **UNLIKE["tray"])
    assert transfer([small, elsewhere], BOARD, True) == (OTHER_TRAY, ("together",))


def test_law_a_tray_of_which_nobody_spoke_is_as_wide_as_its_bath():
    unsaid = dataclasses.replace(LIKE, tray=Tray())
    assert transfer([unsaid], BOARD, True).doubt == SAME_TRAY
    little = dataclasses.replace(unsaid, volume=75e-6)
    assert transfer([little], BOARD, True).reasons == ("tray",)


def test_law_the_doubt_and_its_reason_are_said():
    step, reason = transfer([LIKE], BOARD, True).sentences
    assert step.endswith("is taken to be good to 15 %.") and "etched like the board" in reason
    small = dataclasses.replace(LIKE, **UNLIKE["size"])
    step, reason = transfer([small], BOARD, True).sentences
    assert step.endswith("to 30 %.") and reason.startswith("No offcut has 50 % of the board's")
