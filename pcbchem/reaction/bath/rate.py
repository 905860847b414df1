"""The rate at the copper: properties inside the liquid film, transport through it, and the flux of copper."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from ...common.arrays import Draws, FloatArray, common_shape
from ...common.limits import check_choice, check_values
from ...common.units import T_HIGH, T_LOW
from .parameters import RateParameters
from .setup import MOST_AREA, Tray

R = 8.314462618  # J/(mol K), SI definition
PRESSURE = 101_325.0  # Pa
HOTTEST_FILM = 381.0  # K: the film boils
ETCH_HEAT = (
    315.7e3  # J/mol Cu, |reaction enthalpy| of Cu + H2O2 + 2 H+ (reaction.heat holds its origin)
)
DECAY_HEAT = 94.7e3  # J/mol H2O2, |reaction enthalpy| of H2O2(aq) -> H2O + 1/2 O2
CUPRIC_HEAT = 36e3  # J/mol Cu taken up by Cu + Cu(II) -> 2 Cu(I), low confidence
MOST = {
    "HCl": 20_000.0,
    "H2O2": 30_000.0,
    "CuCl2": 6000.0,
    "CuCl": 3000.0,
}  # mol/m³ that a bath can hold
REFERENCE = 298.15  # K
THERMAL_DIFFUSIVITY = 1.45e-7  # m²/s, of water near 25 °C
EFFECTS = (
    "gas stirring",
    "surface heating",
    "bath heating",
    "cupric route",
    "depletion",
    "heat of mixing",
)
"""What can be switched off for teaching; "heat of mixing" belongs to `mix`, the others to `etch`."""
IN_THE_FILM = ("gas stirring", "surface heating", "cupric route")

# Natural convection: facing -> (coefficient, exponent) laminar, the same turbulent (0: none), length = side / divisor.
# McAdams; Lloyd & Moran 1974; Wilke, Eisenberg & Tobias 1953; Fouad & Ibl 1960 (the last three from memory).
CONVECTION = {
    "up": ((0.27, 0.25), (0.0, 0.25), 4.0),
    "down": ((0.54, 0.25), (0.15, 1 / 3), 4.0),
    "upright": ((0.66, 0.25), (0.31, 0.28), 1.0),
}


def log_viscosity(T: Any, acid: Any, peroxide: Any, copper: Any) -> Any:
    """ln of viscosity [Pa s] at T [K] for concentrations [mol/m³]: the film's own short form."""
    return (
        np.log(2.414e-5)
        + 247.8 * np.log(10) / (T - 140.0)
        + 5.2e-5 * acid
        + 9e-6 * peroxide
        + 3.5e-4 * copper
    )


def viscosity(
    T: ArrayLike, acid: ArrayLike = 0.0, peroxide: ArrayLike = 0.0, copper: ArrayLike = 0.0
) -> FloatArray:
    """Viscosity of a bath.

    Parameters
    ----------
    T : float or array
        Temperature [K], 250 to 400.
    acid, peroxide, copper : float or array
        HCl, H2O2 and dissolved copper [mol/m³].

    Returns
    -------
    float or array
        Viscosity [Pa s]; against handbooks HCl to 6 mol/L −6 to +3 % (−7 % at 40 °C), CuCl2 to
        1.2 mol/L ±2 %, H2O2 to 5 mol/L ±3 %.

    Raises
    ------
    ValueError
        A value outside its limits.

    Examples
    --------
    >>> print(f"{1000 * viscosity(298.15):.2f}")
    0.89
    """
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    held = (
        check_values("acid", acid, 0, MOST["HCl"], "mol/m³"),
        check_values("peroxide", peroxide, 0, MOST["H2O2"], "mol/m³"),
        check_values("copper", copper, 0, MOST["CuCl2"], "mol/m³"),
    )
    result: FloatArray = np.exp(log_viscosity(T, *held))
    return result


def film_density(acid: Any, peroxide: Any, copper: Any) -> Any:
    """Density [kg/m³] for concentrations [mol/m³]: the rate model's own short form."""
    return 998.0 + 0.0170 * acid + 0.0115 * peroxide + 0.118 * copper


def volumetric_heat_capacity(acid: Any, peroxide: Any, copper: Any) -> Any:
    """Heat capacity of a volume [J/(m³ K)] for concentrations [mol/m³], within 2 %."""
    return 4.17e6 - 200.0 * acid + 0.0075 * acid**2 - 5.0 * peroxide - 80.0 * copper


def water_activity(acid: Any, peroxide: Any) -> Any:
    """Activity of water [-] for concentrations [mol/m³]."""
    return np.exp(-(0.023 * acid + 9.7e-6 * acid**2 + 0.018 * peroxide) / 1000.0)


def saturation_pressure(T: Any) -> Any:
    """Vapour pressure of water [Pa] at T [K], Magnus form."""
    return 610.94 * np.exp(17.625 * (T - 273.15) / (T - 30.11))


def cucl_saturation(chloride: Any, k2: Any, k3: Any) -> Any:
    """CuCl saturation at 25 °C [mol/m³] for free chloride [mol/m³], binding constants k2 [-] and k3 [L/mol]."""
    c = chloride * 1e-3
    x = 2 * c / (1 + k2 + np.sqrt((1 + k2) ** 2 + 8 * k2 * k3 * c))
    return 1000 * k2 * x * (1 + k3 * x)


def switched_off(
    without: str | tuple[str, ...], known: tuple[str, ...] = EFFECTS
) -> tuple[str, ...]:
    """Names of the effects left out, each one of those known; a single one may come without its brackets."""
    return tuple(
        check_choice("without", effect, known)
        for effect in ((without,) if isinstance(without, str) else without)
    )


def film_constants(
    v: Mapping[str, Any], tray: Tray, area: Any, without: tuple[str, ...] = ()
) -> dict[str, Any]:
    """What stays the same during a run, by short name [SI], for `film_pass`: from the parameters' plain values."""
    dh = v["peroxide_diffusivity"]
    laminar, turbulent, divisor = CONVECTION[tray.facing]
    stirring = 0.0 if tray.agitation == "still" else v[f"stirring_{tray.agitation}"]
    length = np.sqrt(area) / divisor

    def convection(form: tuple[float, float]) -> Any:
        coefficient, power = (
            form  # (f Sh D / L)³ = this · Ra'^(3 power) · D³, Ra' without its concentrations
        )
        return (v["convection_factor"] * coefficient / length) ** 3 * (9.80665 * length**3) ** (
            3 * power
        )

    return {
        "r_acid": 0.5 * (v["acid_diffusivity"] / dh) ** (2 / 3),
        "r_cupric": (v["cupric_diffusivity"] / dh) ** (2 / 3),
        "r_cuprous": 0.5 * (v["cuprous_diffusivity"] / dh) ** (2 / 3),
        "md": dh * 0.890e-3 / REFERENCE,
        "ks": v["surface_rate"],
        "es": v["surface_energy"] / R,
        "kcl": v["chloride_half"],
        "kag3": stirring**3 / 1.43e-9**2 * 0.893e-6**0.5,
        "lam": convection(laminar),
        "turb": convection(turbulent),
        "turb_power": turbulent[1],
        "turbulent": turbulent[0] > 0,
        "log_share": np.log(v["gas_share"]),
        "order": v["gas_order"],
        "eb": v["gas_energy"] / R,
        "gas": 0.0 * dh
        if "gas stirring" in without
        else 0.93**2 * 0.5 * R / PRESSURE / v["bubble_diameter"],
        "kmax": v["transfer_limit"],
        "lewis": v["lewis_exponent"],
        "k2": v["cuprous_binding"],
        "k3": v["cuprous_second"],
        "ts": v["cuprous_temperature"],
        "rate": v["rate_factor"],
        "warms": "surface heating" not in without,
        "cupric": "cupric route" not in without,
    }


def film_pass(
    c: dict[str, Any], acid: Any, peroxide: Any, cupric: Any, cuprous: Any, T: Any, warmth: Any
) -> Any:
    """One Newton pass for the temperature of the film, and the fluxes corrected to first order.

    `warmth` is (film temperature − T) over (oxidant that acid lets react + 1) [K m³/mol], from the last pass;
    concentrations [mol/m³], T [K]. Returns copper flux [mol/(m² s)], peroxide decayed at the copper
    [mol/(m² s)], the new warmth, and uncorrected (transfer coefficient [m/s], diffusivity [m²/s], gas share [-],
    copper that meets its peroxide inside the film [mol/(m² s)] before the rate factor).
    """
    copper = cupric + cuprous
    capacity = c["r_acid"] * acid
    reach = np.minimum(peroxide, capacity) + 1.0
    Ts = np.minimum(T + warmth * reach, HOTTEST_FILM)
    Tf = 0.5 * (T + Ts)
    mu = np.exp(log_viscosity(Tf, acid, peroxide, copper))
    rho = film_density(acid, peroxide, copper)
    nu = mu / rho
    D = c["md"] * Tf / mu
    inverse = 1 / REFERENCE - 1 / Ts

    share = np.exp(
        c["log_share"]
        + c["order"] * np.log(np.maximum(peroxide, 1e-9) / 5000.0)
        + c["eb"] * inverse
    )
    capped = share > 0.5
    share = np.minimum(share, 0.5)
    oxidant = (1 - share) * peroxide
    starved = oxidant > capacity
    used = np.minimum(oxidant, capacity)
    chloride = acid + cupric
    if c["cupric"]:
        saturation = cucl_saturation(chloride, c["k2"], c["k3"]) * np.exp(c["ts"] * inverse)
        leaving, cap = (
            used + c["r_cupric"] * cupric,
            c["r_cuprous"] * np.maximum(saturation - cuprous, 0.0),
        )
        bound = leaving > cap
        e = used + np.where(bound, cap, leaving)
    else:
        e = used

    ra = (0.073 * e + 0.001) / (rho * nu * D)
    root = np.sqrt(ra)
    natural = c["lam"] * root * np.sqrt(root)
    if c["turbulent"]:
        natural = np.maximum(
            natural, c["turb"] * (ra if c["turb_power"] == 1 / 3 else ra ** (3 * c["turb_power"]))
        )
    natural = natural * D**3
    forced = c["kag3"] * D**2 / np.sqrt(nu)
    still = natural + forced
    G = c["gas"] * D * (D / nu) ** 0.026 * share * peroxide * Ts
    g = G * np.sqrt(G)
    y = 0.5 * (g + np.sqrt(g * g + 4 * still))
    km = np.cbrt(y) ** 2
    limited = km > c["kmax"]
    km = np.minimum(km, c["kmax"])
    ks = c["ks"] * np.exp(c["es"] * inverse) * chloride / (chloride + c["kcl"] + 1e-300)
    K = km * ks / (km + ks)
    flux, decay, direct = c["rate"] * e * K, c["rate"] * share * km * peroxide, K * used
    if not c["warms"]:
        return flux, decay, warmth, (km, D, share, direct)

    heat_transfer = (
        km
        * volumetric_heat_capacity(acid, peroxide, copper)
        * (THERMAL_DIFFUSIVITY / D) ** c["lewis"]
    )
    etch_heat, gas_heat = direct * ETCH_HEAT, share * km * peroxide * DECAY_HEAT
    rise = (etch_heat + gas_heat) / heat_transfer
    # logarithmic derivatives with respect to the film temperature
    per = 1 / (Ts * Ts)
    d_mu = -0.5 * 247.8 * np.log(10) / (Tf - 140.0) ** 2
    d_D = 0.5 / Tf - d_mu
    d_share = np.where(capped, 0.0, c["eb"] * per)
    d_still = natural * (2.25 * d_D - 0.75 * d_mu) + forced * (2 * d_D - 0.5 * d_mu)
    d_g = 1.5 * g * (1.026 * d_D - 0.026 * d_mu + d_share + 1 / Ts)
    d_km = np.where(limited, 0.0, (y * d_g + d_still) / (1.5 * y * (2 * y - g)))
    d_K = (ks * d_km + km * (c["es"] * per)) / (km + ks)
    d_used = np.where(starved, 0.0, -share * peroxide * d_share)
    d_e = d_used
    if c["cupric"]:
        d_e = d_used + np.where(
            bound, np.where(cap > 0, c["r_cuprous"] * saturation * c["ts"] * per, 0.0), d_used
        )
    d_heat = etch_heat * d_K + K * d_used * ETCH_HEAT + gas_heat * (d_share + d_km)
    slope = d_heat / heat_transfer - rise * (d_km - c["lewis"] * d_D)
    step = np.clip((T + rise - Ts) / np.maximum(1 - slope, 0.2), -60.0, 60.0)
    step = np.minimum(step, HOTTEST_FILM - Ts)
    flux = flux * np.maximum(1 + step * d_K, 0.1) + c["rate"] * K * d_e * step
    decay = decay * np.maximum(1 + step * (d_share + d_km), 0.1)
    return np.maximum(flux, 0.0), decay, (Ts + step - T) / reach, (km, D, share, direct)


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
    """The copper flux at one moment, and the film it passes through.

    Parameters
    ----------
    HCl, H2O2, CuCl2, CuCl : float or array
        Concentrations in the bath [mol/m³], 0 to `MOST`.
    T : float or array
        Bath temperature [K], 250 to 400.
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
        "copper" that leaves, the "direct" share of it that meets its peroxide inside the film, and "decay" of peroxide
        at the copper [mol/(m² s)], "film_temperature" [K], "transfer" [m/s], "film" thickness D/k_m [m],
        "gas_share" [-].

    Raises
    ------
    ValueError
        A value that cannot be, or an unknown effect.
    """
    off = switched_off(without, IN_THE_FILM)
    tray, parameters = tray or Tray(), parameters or RateParameters()
    given = {
        n: check_values(n, v, 0, MOST[n], "mol/m³")
        for n, v in (("HCl", HCl), ("H2O2", H2O2), ("CuCl2", CuCl2), ("CuCl", CuCl))
    }
    T = check_values("T", T, T_LOW, T_HIGH, "K")
    area = check_values("area", area, 0, MOST_AREA, "m²", above=True)
    _, draws = common_shape(**given, T=T, area=area, **parameters.values())
    values = {name: np.asarray(value) for name, value in parameters.values().items()}
    c = film_constants(values, tray, np.asarray(area), off)
    acid, peroxide, cupric, cuprous = (np.asarray(v) for v in given.values())
    warmth: Any = converge(c, acid, peroxide, cupric, cuprous, np.asarray(T))
    copper, decay, warmth, (km, D, share, direct) = film_pass(
        c, acid, peroxide, cupric, cuprous, np.asarray(T), warmth
    )
    film_T = np.asarray(T) + warmth * (np.minimum(peroxide, c["r_acid"] * acid) + 1)
    found = {
        "copper": copper,
        "direct": c["rate"] * direct,
        "decay": decay,
        "film_temperature": film_T,
        "transfer": km,
        "film": D / km,
        "gas_share": share,
    }
    return {n: v.view(Draws) if draws is not None and np.ndim(v) else v for n, v in found.items()}


def converge(c: dict[str, Any], acid: Any, peroxide: Any, cupric: Any, cuprous: Any, T: Any) -> Any:
    """The film's warmth [K m³/mol] (see `film_pass`) at rest, from 10 K above the bath; 0 without surface heating."""
    reach = np.minimum(peroxide, c["r_acid"] * acid) + 1.0
    warmth = (10.0 if c["warms"] else 0.0) / reach
    for _ in range(30 if c["warms"] else 0):
        new = film_pass(c, acid, peroxide, cupric, cuprous, T, warmth)[2]
        moved = np.max(np.abs(new - warmth) * reach, initial=0.0)
        warmth = new
        if not moved > 1e-7:
            break
    return warmth
