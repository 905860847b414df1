"""What this copper takes of the acid and the peroxide in a bath, and when the peroxide is spent: read from a plan."""

from __future__ import annotations

import numpy as np

from ...common.band import Band
from ...reaction.bath.balances import is_spent
from ...reaction.chemistry.stoichiometry import reactions
from .outcome import Outcome

REAGENTS = {"acid": ("HCl", "H+(aq)"), "peroxide": ("H2O2", "H2O2(aq)")}
"""A reagent as pages say it: the substance poured, and the species of the equation that it brings one to one."""
FEW = 0.1
"""Where peroxide runs out in fewer baths than this share it is not worth a word [-], as in the rule on such baths."""


def uses(plan: Outcome) -> dict[str, Band]:
    """Share of each reagent in the bath that dissolving this copper takes; the reserve is one over the larger.

    It is read from strengths and the reserve, so that it is the same for a refused plan, which holds no amounts.

    Parameters
    ----------
    plan : Outcome
        From `plan`.

    Returns
    -------
    dict of Band
        "acid" and "peroxide" [-]: above 1 there is too little; infinite where there is none of it, and the other is
        then left out.

    Examples
    --------
    >>> from pcbchem import Board
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> from pcbchem.bench.plan.planning import plan
    >>> mild = plan(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12), (0, 1, 1), Board(area=27e-4),
    ...             volume=150e-6, place="EU")
    >>> print({name: f"{100 * float(band.middle):.0f} %" for name, band in uses(mild).items()})
    {'acid': '12 %', 'peroxide': '5 %'}
    """
    direct = reactions()["direct"].coefficients
    reserve = plan.bands["reserve"].values
    able = {
        name: np.broadcast_to(np.asarray(plan.mixture.amount(substance)), reserve.shape)
        * float(direct["Cu(s)"] / direct[species])
        for name, (substance, species) in REAGENTS.items()
    }
    scarce = np.minimum(*able.values())
    if not np.all(reserve > 0):
        return {
            name: Band.of(np.full(reserve.shape, np.inf), plan.inputs.draws)
            for name in able
            if not np.all(able[name] > 0)
        }
    return {
        name: Band.of(scarce / held / reserve, plan.inputs.draws) for name, held in able.items()
    }


def spent(plan: Outcome) -> tuple[int, Band] | None:
    """In how many plausible baths the peroxide is spent before the copper is gone [-], and when [s].

    Parameters
    ----------
    plan : Outcome
        From `plan`.

    Returns
    -------
    tuple, or None
        Count of baths and the band of times of these; None where it is fewer than 1 in 10, where there was none to
        begin with, or where the course is not kept.

    Examples
    --------
    >>> from pcbchem import Board
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> from pcbchem.bench.plan.planning import plan
    >>> little = plan(Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.03), (0, 1, 1), Board(area=27e-4),
    ...               bath_per_area=0.005, place="EU")
    >>> print(spent(little)[0] > 100)
    True
    """
    run = plan.run
    out = np.asarray(run.stopped_by).reshape(-1) == "peroxide"
    if (
        run.steps is None
        or not out.mean() > FEW
        or not np.all(np.asarray(plan.mixture.fractions["H2O2"]) > 0)
    ):
        return None
    times, left = (np.asarray(run.steps[name])[out] for name in ("time", "peroxide"))
    gone = is_spent(left, left[:, :1])
    when = times[
        np.arange(len(times)), np.where(gone.any(axis=1), gone.argmax(axis=1), times.shape[1] - 1)
    ]
    return int(out.sum()), Band.of(when, len(when))
