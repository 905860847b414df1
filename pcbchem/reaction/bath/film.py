"""The film of liquid at the copper: what crosses it, how warm it is, and how fast copper leaves.

Peroxide, acid and copper(II) cross a thin film of still liquid on their way to the copper; the
copper that dissolves crosses it on its way out. Three things set the pace:

* how fast the film lets them through: natural convection, the movement of the tray, and gas that
  the peroxide gives off at the copper (`_transfer`);
* how much oxidant reaches the copper, and how much copper(I) can be carried away (`_oxidant`);
* how fast the surface itself reacts (`_surface`).

All three depend on the temperature of the film, and that on the heat that they make. One call of
`film_pass` makes one Newton step towards it. So each part below returns its value together with
its *slope*: the derivative of its logarithm with respect to the temperature of the film [1/K],
unless its docstring says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from .film_properties import (
    DECAY_HEAT,
    ETCH_HEAT,
    PRESSURE,
    REFERENCE,
    THERMAL_DIFFUSIVITY,
    WATER_SLOPE,
    WATER_ZERO,
    Composition,
    R,
    cucl_saturation,
    film_density,
    log_viscosity,
)
from .setup import Tray

COLDEST_FILM = 240.0
"""The film is never colder [K]: a Newton step too long would leave what the equations allow."""
HOTTEST_FILM = 381.0
"""The film boils here [K]."""
MOST_GAS_SHARE = 0.5
"""At most this share of the peroxide that arrives becomes gas [-]."""
LONGEST_STEP = 60.0
"""Longest Newton step of the film's temperature [K]."""
FIRST_RISE = 10.0
"""How much warmer than the bath the film is taken to be at first [K]."""
AT_REST = 1e-7
"""The film is at rest once its temperature moves no more than this in a pass [K]."""
MOST_PASSES = 30
"""Passes after which the film is taken to be at rest [-]."""
COUPON = 0.0141
"""Side of the coupon on which rocking was fitted [m]: stirring is stated for it."""
SIZED = ("rocked", "shaken")
"""Movements whose film grows along the board: the longer it is, the thicker."""
GRAVITY = 9.80665
"""Acceleration of free fall [m/s²]."""


class Convection(NamedTuple):
    """Natural convection at a plate that faces one way: Sh = coefficient * Ra**power.

    `laminar` and `turbulent` hold coefficient and power [-]; a coefficient of 0 is no such flow.
    The length in Sh and Ra is the side of the plate over `divisor` [-].
    """

    laminar: tuple[float, float]
    turbulent: tuple[float, float]
    divisor: float


# McAdams; Lloyd & Moran 1974; Wilke, Eisenberg & Tobias 1953; Fouad & Ibl 1960 (the last three
# from memory)
CONVECTION = {
    "up": Convection((0.27, 0.25), (0.0, 0.25), 4.0),
    "down": Convection((0.54, 0.25), (0.15, 1 / 3), 4.0),
    "upright": Convection((0.66, 0.25), (0.31, 0.28), 1.0),
}


class Film(NamedTuple):
    """The film after one pass of `film_pass`.

    Corrected to first order for the step of the film's temperature: the flux of `copper` that
    leaves and of peroxide that turns to gas, `decay` [mol/(m² s)]. For the next pass: `warmth`
    [K m³/mol]. Not corrected: the `transfer` coefficient [m/s], the `diffusivity` of peroxide
    [m²/s], the `gas_share` of it [-], and `direct`, the copper that meets its peroxide inside the
    film, before the rate factor [mol/(m² s)].
    """

    copper: Any
    decay: Any
    warmth: Any
    transfer: Any
    diffusivity: Any
    gas_share: Any
    direct: Any


class Liquid(NamedTuple):
    """The liquid in the film.

    Its temperature `T` [K], `density` [kg/m³], kinematic `viscosity` [m²/s], `diffusivity` of
    peroxide [m²/s], and the slopes of the last two [1/K]. `arrhenius` = 1/298.15 K - 1/T [1/K]
    stands beside every activation temperature, and `arrhenius_slope` is its derivative [1/K²].
    """

    T: Any
    inverse_T: Any
    arrhenius: Any
    arrhenius_slope: Any
    density: Any
    viscosity: Any
    diffusivity: Any
    viscosity_slope: Any
    diffusivity_slope: Any


class Oxidant(NamedTuple):
    """Oxidant at the copper [mol/m³ of two electrons], and derivatives [mol/(m³ K)].

    `direct` is the peroxide that dissolves copper there, `whole` that and the copper(II), as far
    as the copper(I) that it makes can leave.
    """

    direct: Any
    whole: Any
    direct_slope: Any
    whole_slope: Any


def film_constants(
    values: Mapping[str, Any], tray: Tray, area: Any, without: tuple[str, ...] = ()
) -> dict[str, Any]:
    """Collect what stays the same during a run.

    Parameters
    ----------
    values : mapping
        Plain values of the rate parameters by name [units in their table].
    tray : Tray
        How the bath moves, and which way the copper faces.
    area : float or array
        Bare copper [m²].
    without : tuple of str
        Effects that are left out.

    Returns
    -------
    dict
        Constants by name [SI], as `film_pass` takes them.
    """
    peroxide = values["peroxide_diffusivity"]
    side = np.sqrt(area)
    stirring: Any = 0.0
    if tray.agitation != "still":
        stirring = values[f"stirring_{tray.agitation}"]
    # a liquid that sweeps along a plate makes a thicker film the longer the plate is: 0.5 is the
    # laminar plate's power, 0 no such growth
    if tray.agitation in SIZED:
        stirring = stirring * (COUPON / side) ** values["size_exponent"]
    convection = CONVECTION[tray.facing]
    length = side / convection.divisor

    def natural(form: tuple[float, float]) -> Any:
        # k³ = (f Sh D / L)³ with Sh = coefficient Ra**power: here what stays the same of it. D³
        # and the rest of Ra, which is Ra / (g L³), to 3 power, follow at every step
        coefficient, power = form
        cube = (values["convection_factor"] * coefficient / length) ** 3
        return cube * (GRAVITY * length**3) ** (3 * power)

    # bubbles stir as Stephan and Vogt (1979) found: 0.93 is theirs, squared with the rest of B²;
    # half a mole of oxygen a peroxide, as an ideal gas
    gas = 0.93**2 * 0.5 * R / PRESSURE / values["bubble_diameter"]
    if "gas stirring" in without:
        gas = 0.0 * peroxide
    return {
        # what crosses the film beside peroxide, by ratios of diffusivities: two acid, and two
        # copper(I), go with one peroxide
        "acid_ratio": 0.5 * (values["acid_diffusivity"] / peroxide) ** (2 / 3),
        "cupric_ratio": (values["cupric_diffusivity"] / peroxide) ** (2 / 3),
        "cuprous_ratio": 0.5 * (values["cuprous_diffusivity"] / peroxide) ** (2 / 3),
        "mobility": peroxide * 0.890e-3 / REFERENCE,
        # how fast the film lets them through; stirring is given for D = 1.43e-9 m²/s and the
        # kinematic viscosity of water at 25 °C, 0.893e-6 m²/s
        "forced": stirring**3 / 1.43e-9**2 * 0.893e-6**0.5,
        "laminar": natural(convection.laminar),
        "turbulent": natural(convection.turbulent),
        "turbulent_power": convection.turbulent[1],
        "is_turbulent": convection.turbulent[0] > 0,
        "gas": gas,
        "most_transfer": values["transfer_limit"],
        "lewis_exponent": values["lewis_exponent"],
        # gas at the copper, the surface, and the copper(I) that chloride can hold
        "log_gas_share": np.log(values["gas_share"]),
        "gas_order": values["gas_order"],
        "gas_temperature": values["gas_energy"] / R,
        "surface_rate": values["surface_rate"],
        "surface_temperature": values["surface_energy"] / R,
        "chloride_half": values["chloride_half"],
        "cuprous_binding": values["cuprous_binding"],
        "cuprous_second": values["cuprous_second"],
        "cuprous_temperature": values["cuprous_temperature"],
        "rate_factor": values["rate_factor"],
        # what is switched on
        "warms": "surface heating" not in without,
        "has_cupric_route": "cupric route" not in without,
    }


def film_pass(c: Mapping[str, Any], bath: Composition, T: Any, warmth: Any) -> Film:
    """Make one Newton step for the temperature of the film, and correct the fluxes for it.

    Parameters
    ----------
    c : mapping
        Constants, from `film_constants`.
    bath : Composition
        What the film meets [mol/m³].
    T : float or array
        Temperature of the bath [K].
    warmth : float or array
        From the last pass: how much warmer than the bath the film is, over `warmth_scale`
        [K m³/mol]. It changes far less along a run than the temperature itself.

    Returns
    -------
    Film
        Fluxes [mol/(m² s)] and the warmth for the next pass [K m³/mol].
    """
    scale = warmth_scale(c, bath)
    film = _liquid(c, bath, T, T + warmth * scale)

    gas_share, gas_slope = _gas_share(c, bath.peroxide, film)
    oxidant = _oxidant(c, bath, gas_share, gas_slope, film)
    transfer, transfer_slope = _transfer(
        c, film, oxidant.whole, bath.peroxide, gas_share, gas_slope
    )
    surface, surface_slope = _surface(c, bath.chloride, film)

    # film and surface in series
    total = transfer + surface
    pace = transfer * surface / total
    copper = c["rate_factor"] * oxidant.whole * pace
    decay = c["rate_factor"] * gas_share * transfer * bath.peroxide
    direct = pace * oxidant.direct
    if not c["warms"]:
        return Film(copper, decay, warmth, transfer, film.diffusivity, gas_share, direct)

    # how much warmer the heat made at the copper keeps the film; heat crosses it as matter does,
    # but by the thermal diffusivity
    lewis = (THERMAL_DIFFUSIVITY / film.diffusivity) ** c["lewis_exponent"]
    heat_transfer = transfer * bath.heat_capacity * lewis
    etch_heat = direct * ETCH_HEAT
    gas_heat = gas_share * transfer * bath.peroxide * DECAY_HEAT
    rise = (etch_heat + gas_heat) / heat_transfer

    # Newton's step towards the film's temperature = T + rise
    pace_slope = (surface * transfer_slope + transfer * surface_slope) / total
    decay_slope = gas_slope + transfer_slope
    heat_slope = (
        etch_heat * pace_slope + pace * oxidant.direct_slope * ETCH_HEAT + gas_heat * decay_slope
    )
    lewis_slope = c["lewis_exponent"] * film.diffusivity_slope
    rise_slope = heat_slope / heat_transfer - rise * (transfer_slope - lewis_slope)
    # Newton's step; where the slope nears 1 it would be endless, so it is held to five times
    step = (T + rise - film.T) / np.maximum(1 - rise_slope, 0.2)
    step = step.clip(-LONGEST_STEP, LONGEST_STEP)
    step = np.minimum(step, HOTTEST_FILM - film.T)

    # fluxes as they would be at the end of the step, to first order; a long step may not turn them
    copper = copper * np.maximum(1 + step * pace_slope, 0.1)
    copper = copper + c["rate_factor"] * pace * oxidant.whole_slope * step
    decay = decay * np.maximum(1 + step * decay_slope, 0.1)
    warmth = (film.T + step - T) / scale
    copper = np.maximum(copper, 0.0)
    return Film(copper, decay, warmth, transfer, film.diffusivity, gas_share, direct)


def warmth_scale(c: Mapping[str, Any], bath: Composition) -> Any:
    """Return what the warmth of a film goes with [mol/m³]: peroxide that acid lets react, plus 1.

    Parameters
    ----------
    c : mapping
        Constants, from `film_constants`.
    bath : Composition
        What the film meets [mol/m³].

    Returns
    -------
    float or array
        Scale of the warmth [mol/m³]: times the warmth it is the film's rise of temperature.
    """
    return np.minimum(bath.peroxide, _most_direct(c, bath)) + 1.0


def _most_direct(c: Mapping[str, Any], bath: Composition) -> Any:
    """Return how much peroxide the acid of a bath lets react at the most [mol/m³]."""
    return c["acid_ratio"] * bath.acid


def converge(lots: Sequence[tuple[Mapping[str, Any], Composition, Any]]) -> list[Any]:
    """Find the warmth of the film at rest, of several lots of baths.

    Parameters
    ----------
    lots : sequence of tuple
        Of each lot its constants from `film_constants`, what its baths hold [mol/m³], and their
        temperature [K]. Lots that fit the cache are quicker; all make the same number of passes, so
        it does not matter how they are cut.

    Returns
    -------
    list of float or array
        Warmth of each lot [K m³/mol], see `film_pass`; 0 where the surface does not heat.
    """
    scales = [warmth_scale(c, bath) for c, bath, _ in lots]
    if not all(c["warms"] for c, _, _ in lots):
        return [0.0 / scale for scale in scales]
    warmths = [FIRST_RISE / scale for scale in scales]
    for _ in range(MOST_PASSES):
        largest = 0.0
        for number, (c, bath, T) in enumerate(lots):
            last = warmths[number]
            warmths[number] = film_pass(c, bath, T, last).warmth
            change = np.abs(warmths[number] - last) * scales[number]
            largest = max(largest, float(np.max(change, initial=0.0)))
        if largest <= AT_REST:
            break
    return warmths


def _liquid(c: Mapping[str, Any], bath: Composition, T_bath: Any, T: Any) -> Liquid:
    """Return the liquid in a film at T [K]; viscosity and diffusivity half way to the bath's."""
    T = T.clip(COLDEST_FILM, HOTTEST_FILM)
    mean = 0.5 * (T_bath + T)
    dynamic = np.exp(log_viscosity(mean, bath.acid, bath.peroxide, bath.copper))
    density = film_density(bath.acid, bath.peroxide, bath.copper)
    diffusivity = c["mobility"] * mean / dynamic  # Stokes and Einstein
    # half of each slope: the mean moves half as far as the film
    viscosity_slope = -0.5 * WATER_SLOPE / (mean - WATER_ZERO) ** 2
    inverse_T = 1 / T
    return Liquid(
        T=T,
        inverse_T=inverse_T,
        arrhenius=1 / REFERENCE - inverse_T,
        arrhenius_slope=1 / (T * T),
        density=density,
        viscosity=dynamic / density,
        diffusivity=diffusivity,
        viscosity_slope=viscosity_slope,
        diffusivity_slope=0.5 / mean - viscosity_slope,
    )


def _gas_share(c: Mapping[str, Any], peroxide: Any, film: Liquid) -> tuple[Any, Any]:
    """Return the share of the arriving peroxide [-] that becomes gas, and its slope [1/K]."""
    # the share in the table is that of 5 mol/L at 25 °C; 1e-9 keeps a spent bath from log(0)
    by_strength = c["gas_order"] * np.log(np.maximum(peroxide, 1e-9) / 5000.0)
    by_warmth = c["gas_temperature"] * film.arrhenius
    share = np.exp(c["log_gas_share"] + by_strength + by_warmth)
    slope = _flat_where(share > MOST_GAS_SHARE, c["gas_temperature"] * film.arrhenius_slope)
    return np.minimum(share, MOST_GAS_SHARE), slope


def _oxidant(
    c: Mapping[str, Any],
    bath: Composition,
    gas_share: Any,
    gas_slope: Any,
    film: Liquid,
) -> Oxidant:
    """Return what oxidises copper at the surface [mol/m³ of two electrons]."""
    most_direct = _most_direct(c, bath)
    arriving = (1 - gas_share) * bath.peroxide
    direct = np.minimum(arriving, most_direct)
    direct_slope = _flat_where(arriving > most_direct, -gas_share * bath.peroxide * gas_slope)
    if not c["has_cupric_route"]:
        return Oxidant(direct, direct, direct_slope, direct_slope)

    # Cu + Cu(II) -> 2 Cu(I), made from the Cu(II) of the bath and from what the peroxide makes:
    # no more of it than chloride can hold and carry away
    saturation = cucl_saturation(bath.chloride, c["cuprous_binding"], c["cuprous_second"])
    saturation = saturation * np.exp(c["cuprous_temperature"] * film.arrhenius)
    cupric = direct + c["cupric_ratio"] * bath.cupric
    most = c["cuprous_ratio"] * np.maximum(saturation - bath.cuprous, 0.0)
    most_slope = c["cuprous_ratio"] * saturation * c["cuprous_temperature"] * film.arrhenius_slope
    most_slope = _flat_where(most <= 0, most_slope)
    return Oxidant(
        direct=direct,
        whole=direct + np.minimum(most, cupric),
        direct_slope=direct_slope,
        whole_slope=direct_slope + np.where(cupric > most, most_slope, direct_slope),
    )


def _transfer(
    c: Mapping[str, Any],
    film: Liquid,
    oxidant: Any,
    peroxide: Any,
    gas_share: Any,
    gas_slope: Any,
) -> tuple[Any, Any]:
    """Return the transfer coefficient k of the film [m/s], and its slope [1/K].

    Currents add as the cubes of their coefficients, k³ = natural + forced + gas³. Bubbles stir by
    the root of the gas that k itself brings, gas³ = g k^1.5. So y = k^1.5 solves y² = still + g y,
    where still = natural + forced. The slope leaves out that the oxidant in `natural` changes too.
    """
    D, nu = film.diffusivity, film.viscosity
    D_slope, nu_slope = film.diffusivity_slope, film.viscosity_slope

    # what dissolves makes the liquid at the copper denser, and it moves: Ra less g L³. For each
    # mole 0.073 kg: CuCl2 goes in, 2 HCl and H2O2 out. 0.001 kg/m³ keep the root above 0
    rayleigh = (0.073 * oxidant + 0.001) / (film.density * nu * D)
    root = np.sqrt(rayleigh)
    natural = c["laminar"] * root * np.sqrt(root)
    if c["is_turbulent"]:
        cube = rayleigh
        if c["turbulent_power"] != 1 / 3:
            cube = rayleigh ** (3 * c["turbulent_power"])
        natural = np.maximum(natural, c["turbulent"] * cube)
    natural = natural * D**3
    forced = c["forced"] * D**2 / np.sqrt(nu)
    still = natural + forced
    # derivative of `still` itself, not of its logarithm. Natural convection goes with D³ and
    # (1 / (nu D)) to 3/4: D to 2.25, nu to -0.75; taken so for the turbulent flow too
    natural_slope = natural * (2.25 * D_slope - 0.75 * nu_slope)
    still_slope = natural_slope + forced * (2 * D_slope - 0.5 * nu_slope)

    # after Stephan and Vogt 1979
    stirring = c["gas"] * D * (D / nu) ** 0.026 * gas_share * peroxide * film.T
    g = stirring * np.sqrt(stirring)
    g_slope = 1.5 * g * (1.026 * D_slope - 0.026 * nu_slope + gas_slope + film.inverse_T)

    y = 0.5 * (g + np.sqrt(g * g + 4 * still))
    transfer = np.cbrt(y) ** 2
    slope = (y * g_slope + still_slope) / (1.5 * y * (2 * y - g))
    slope = _flat_where(transfer > c["most_transfer"], slope)
    return np.minimum(transfer, c["most_transfer"]), slope


def _surface(c: Mapping[str, Any], chloride: Any, film: Liquid) -> tuple[Any, Any]:
    """Return the rate constant of the bare copper [m/s], and its slope [1/K]."""
    rate = c["surface_rate"] * np.exp(c["surface_temperature"] * film.arrhenius) * chloride
    # the least float keeps a bath without any chloride from dividing by nothing
    rate = rate / (chloride + c["chloride_half"] + 1e-300)
    return rate, c["surface_temperature"] * film.arrhenius_slope


def _flat_where(limited: Any, slope: Any) -> Any:
    """Return a slope that is 0 where a limit holds; most often it holds nowhere."""
    if not limited.any():
        return slope
    return np.where(limited, 0.0, slope)
