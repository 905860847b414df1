"""What this copper takes of the acid and the peroxide in a bath, and when the peroxide is spent."""

from __future__ import annotations

import numpy as np

from ...bench.plan.outcome import Outcome
from ...common.band import Band
from ...reaction.brown import stages
from ...reaction.chemistry.stoichiometry import reactions

REAGENTS = {"acid": ("HCl", "H+(aq)"), "peroxide": ("H2O2", "H2O2(aq)")}
"""A reagent as pages say it: the substance poured, and the species of the equation that it brings
one to one."""
FEW = 0.1
"""Where peroxide runs out in fewer baths than this share it is not worth a word [-], as in the rule
on such baths."""


def uses(plan: Outcome) -> dict[str, Band]:
    """Find what share of each reagent in the bath dissolving this copper takes.

    It is worked out from strengths and the reserve, so that it is the same for a refused plan,
    which holds no amounts. A reagent can dissolve n · ν(Cu) / ν(reagent) of copper, and the reserve
    is the smaller of both over the copper there is. So with `scarce` for that smaller one

        share = copper / able = (scarce / reserve) / able.

    Parameters
    ----------
    plan : Outcome
        From `plan`.

    Returns
    -------
    dict of Band
        "acid" and "peroxide" [-]: above 1 there is too little; infinite where there is none of it,
        and the other is then left out.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, plan
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> mild = plan(acid, peroxide, (0, 1, 1), Board(area=27e-4), volume=150e-6, place="EU")
    >>> print({name: f"{100 * float(band.middle):.0f} %" for name, band in uses(mild).items()})
    {'acid': '12 %', 'peroxide': '5 %'}
    """
    coefficients = reactions()["direct"].coefficients
    reserve, draws = plan.bands["reserve"].values, plan.inputs.draws
    able = {}
    for name, (substance, species) in REAGENTS.items():
        amount = np.broadcast_to(np.asarray(plan.mixture.amount(substance)), reserve.shape)
        able[name] = amount * float(coefficients["Cu(s)"] / coefficients[species])
    # without one reagent nothing dissolves: the other's share would mean nothing
    if not np.all(reserve > 0):
        missing = [name for name, copper in able.items() if not np.all(copper > 0)]
        endless = np.full(reserve.shape, np.inf)
        return {name: Band.of(endless, draws) for name in missing}
    scarce = np.minimum(able["acid"], able["peroxide"])
    return {name: Band.of(scarce / copper / reserve, draws) for name, copper in able.items()}


def spent(plan: Outcome) -> tuple[int, Band] | None:
    """Find in how many plausible baths the peroxide is spent before the copper is gone, and when.

    Parameters
    ----------
    plan : Outcome
        From `plan`.

    Returns
    -------
    tuple, or None
        Count of baths [-] and the band of times of these [s]; None where it is fewer than 1 in 10,
        where there was none to begin with, or where the course is not kept.

    Examples
    --------
    >>> from pcbchem import Board, Bottle, plan
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.03)
    >>> board = Board(area=27e-4)
    >>> little = plan(acid, peroxide, (0, 1, 1), board, bath_per_area=0.005, place="EU")
    >>> print(spent(little)[0] > 100)
    True
    """
    run = plan.run
    is_out = np.asarray(run.stopped_by).reshape(-1) == "peroxide"
    had_peroxide = np.all(np.asarray(plan.mixture.fractions["H2O2"]) > 0)
    if run.steps is None or not is_out.mean() > FEW or not had_peroxide:
        return None
    # it may end a step before its peroxide counts as spent: then its end is the time
    spent_at, end = np.asarray(stages(run).spent_at), np.asarray(run.end["time"])
    when = np.minimum(spent_at, end).reshape(-1)[is_out]
    return int(is_out.sum()), Band.of(when, len(when))
