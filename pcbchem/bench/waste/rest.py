"""What is left of a bath when the board is out: how much, and what is in it, over the draws."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ...common.band import Band
from ...common.limits import InputError, check_choice, check_kind, collecting_warnings
from ...matter.solution import Solution
from ...reaction.bath.parameters import RateParameters
from ...reaction.bath.setup import Start, Tray
from ..plan.outcome import Outcome
from ..plan.outlook import etched

NUMBERS = ("volume", "HCl", "H2O2", "CuCl2", "CuCl", "copper", "T", "oxygen_to_come")
"""What a band can be read of."""


@dataclasses.dataclass(frozen=True, eq=False)
class Rest:
    """What is left in the tray when the board comes out.

    Parameters
    ----------
    bath : Solution
        The rest as a liquid [kg, K]: its mass fractions are what a label goes by.
    tray : Tray
        Where it stands [m², K].

    Attributes
    ----------
    volume : float or array
        How much it is [m³].
    HCl, H2O2, CuCl2, CuCl : float or array
        What it holds [mol/m³].
    T : float or array
        How warm it is [K].

    Raises
    ------
    InputError
        What is no liquid or no tray, lye in it, or a volume of 0.

    Examples
    --------
    >>> rest = Rest(Solution.of(volume=150e-6, T=301.15, HCl=0.045, H2O2=0.05, CuCl2=0.011))
    >>> print(f"{rest.copper * 63.546 / 1000:.1f} g/L of copper")
    5.4 g/L of copper
    """

    bath: Solution
    tray: Tray = dataclasses.field(default_factory=Tray)
    volume: Any = dataclasses.field(init=False)
    HCl: Any = dataclasses.field(init=False)
    H2O2: Any = dataclasses.field(init=False)
    CuCl2: Any = dataclasses.field(init=False)
    CuCl: Any = dataclasses.field(init=False)
    T: Any = dataclasses.field(init=False)

    def __post_init__(self) -> None:
        check_kind("bath", self.bath, Solution)
        check_kind("tray", self.tray, Tray)
        start = Start.of(self.bath)
        # frozen: its own making is the one time that a field is set
        for name in ("volume", "HCl", "H2O2", "CuCl2", "CuCl", "T"):
            object.__setattr__(self, name, getattr(start, name))

    @property
    def start(self) -> Start:
        """The rest as `stand` takes it [mol/m³, K, m³]."""
        return Start.of(self.bath)

    @property
    def draws(self) -> int | None:
        """Length of the draw axis [-]; None where nothing is in doubt."""
        return self.bath.draws

    @property
    def copper(self) -> Any:
        """All dissolved copper [mol/m³]: a label and a strip count both kinds."""
        return self.CuCl2 + self.CuCl

    @property
    def oxygen_to_come(self) -> Any:
        """Oxygen that its peroxide has yet to give [mol]: half as much as there is peroxide."""
        return 0.5 * self.H2O2 * self.volume

    def band(self, name: str) -> Band:
        """Return what 8 of 10 plausible rests lie between.

        Parameters
        ----------
        name : str
            One of `NUMBERS`.

        Returns
        -------
        Band
            In the unit of the field.

        Raises
        ------
        InputError
            An unknown name.
        """
        values = np.asarray(getattr(self, check_choice("name", name, NUMBERS)))
        return Band.of(values, self.draws)


def rest_of(plan: Outcome) -> Rest:
    """Return what is left of a planned bath when its board comes out.

    Etched once more by the draws as they are: a plan reads its own run for heat, with a decay that
    is quick enough, and then less peroxide would seem to be left.

    Parameters
    ----------
    plan : Plan
        Not a refused one, and not one for a class, which holds no amount.

    Returns
    -------
    Rest
        Over the plan's draws.

    Raises
    ------
    ValueError
        A refused plan.
    InputError
        Something that is no plan, or a plan for a class.

    Examples
    --------
    >>> from pcbchem.bench.bottle.bottle import Bottle
    >>> from pcbchem.bench.plan.planning import plan
    >>> from pcbchem.reaction.bath.setup import Board
    >>> acid, peroxide = Bottle.labelled("HCl", 0.10), Bottle.labelled("H2O2", 0.12)
    >>> mild = plan(acid, peroxide, (0, 1, 1), Board(area=27e-4), volume=150e-6, place="EU")
    >>> print(f"{rest_of(mild).band('copper').middle * 63.546 / 1000:.1f} g/L of copper")
    5.5 g/L of copper
    """
    check_kind("plan", plan, Outcome)
    if plan.refused:
        raise ValueError("a refused bath leaves nothing: nobody mixes this")
    if plan.school:
        raise InputError(
            "plan",
            "it holds no amount of a bath, and so none of its rest",
            value=plan,
            about=" for a class",
            wrong="has no rest",
        )
    parameters = RateParameters.plausible(plan.inputs.draws)
    with collecting_warnings():  # the plan itself has said where its range ends
        etching = etched(plan.inputs, parameters=parameters)
    return Rest(etching.bath_after, etching.tray)
