"""The rate at the copper at one moment, and the effects that can be left out of it."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import Draws, FloatArray, common_shape
from ...common.limits import check_choice, check_values
from ...common.units import T_HIGH, T_LOW
from .film import converge, film_constants, film_pass, warmth_scale
from .film_properties import MOST, Composition
from .parameters import RateParameters
from .setup import MOST_AREA, Tray

EFFECTS = (
    "gas stirring",
    "surface heating",
    "bath heating",
    "cupric route",
    "depletion",
    "heat of mixing",
)
"""What can be switched off for teaching: "heat of mixing" in `mix`, the others in `etch`."""
IN_THE_FILM = ("gas stirring", "surface heating", "cupric route")
"""Effects that the rate at one moment has."""


def switched_off(
    without: str | tuple[str, ...], known: tuple[str, ...] = EFFECTS
) -> tuple[str, ...]:
    """Check the names of effects to leave out; a single one may come without its brackets.

    Parameters
    ----------
    without : str or tuple of str
        Effects to leave out.
    known : tuple of str
        Effects that can be.

    Returns
    -------
    tuple of str
        Their names.

    Raises
    ------
    ValueError
        An unknown effect: names it and the choices.

    Examples
    --------
    >>> print(switched_off("depletion"))
    ('depletion',)
    """
    if isinstance(without, str):
        without = (without,)
    return tuple(check_choice("without", effect, known) for effect in without)


def flux(
    HCl: ArrayLike,
    H2O2: ArrayLike,
    T: ArrayLike,
    area: ArrayLike,
    *,
    CuCl2: ArrayLike = 0.0,
    CuCl: ArrayLike = 0.0,
    tray: Tray | None = None,
    parameters: RateParameters | None = None,
    without: str | tuple[str, ...] = (),
) -> dict[str, FloatArray]:
    """Return the copper flux at one moment, and what the film is like that it passes through.

    Parameters
    ----------
    HCl, H2O2, CuCl2, CuCl : float or array
        Concentrations in the bath [mol/m³], 0 to `MOST`.
    T : float or array
        Temperature of the bath [K], 250 to 400.
    area : float or array
        Bare copper [m²].
    tray : Tray
        How the bath moves and which way the copper faces.
    parameters : RateParameters
        The rate model's parameters [units in its table].
    without : str or tuple of str
        Effects left out, from `IN_THE_FILM`.

    Returns
    -------
    dict
        "copper" that leaves, the "direct" share of it that meets its peroxide inside the film, and
        "decay" of peroxide at the copper [mol/(m² s)]; "film_temperature" [K], "transfer"
        coefficient k_m [m/s], thickness of the "film" D/k_m [m], and "gas_share" [-].

    Raises
    ------
    ValueError
        A value that cannot be, or an unknown effect.

    Examples
    --------
    >>> film = flux(HCl=2000, H2O2=2100, T=298.15, area=40e-4)
    >>> print(f"{film['copper'] * 1000:.0f} mmol/(m² s)")
    45 mmol/(m² s)
    """
    names = switched_off(without, IN_THE_FILM)
    tray = tray or Tray()
    parameters = parameters or RateParameters()
    amounts = {"HCl": HCl, "H2O2": H2O2, "CuCl2": CuCl2, "CuCl": CuCl}
    checked = {
        name: check_values(name, amount, 0, MOST[name], "mol/m³")
        for name, amount in amounts.items()
    }
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    area = check_values("area", area, 0, MOST_AREA, "m²", above=True)
    _, draws = common_shape(**checked, T=T, area=area, **parameters.values())

    # plain arrays inside: the draw mark would be checked at every operation
    values = {name: np.asarray(value) for name, value in parameters.values().items()}
    c = film_constants(values, tray, np.asarray(area), names)
    bath = Composition(*(np.asarray(amount) for amount in checked.values()))
    T = np.asarray(T)
    (at_rest,) = converge([(c, bath, T)])
    film = film_pass(c, bath, T, at_rest)
    result: dict[str, Any] = {
        "copper": film.copper,
        "direct": c["rate_factor"] * film.direct,
        "decay": film.decay,
        "film_temperature": T + film.warmth * warmth_scale(c, bath),
        "transfer": film.transfer,
        "film": film.diffusivity / film.transfer,
        "gas_share": film.gas_share,
    }
    if draws is None:
        return result
    return {name: value.view(Draws) if np.ndim(value) else value for name, value in result.items()}
