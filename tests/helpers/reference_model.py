"""A second model of the bath, scalar and slow: plain `math`, and LSODA in time.

It is written from the equations alone and shares no code with the package, so that the two can be
compared. SI throughout: mol/m³, m, s, K, J. Nothing here is an array but the states of the solver.
Short names are the symbols of the equations, as in the column `symbol` of the table of parameters.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from math import exp, inf, nan, sqrt
from pathlib import Path
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

R, G, P = 8.314462618, 9.80665, 101_325.0
T25 = 298.15
CU, OZ = 0.063546, 0.305152  # kg/mol; kg/m² of a one-ounce foil
ETCH, DECAY = 315.7e3, 94.7e3  # J/mol, set free
CUPRIC = 36e3  # J/mol, taken up
SWITCHES = ("gas stirring", "surface heating", "bath heating", "cupric route", "depletion")

DEFAULTS: dict[str, float] = dict(
    peroxide_diffusivity=1.43e-9,
    cupric_diffusivity=1.0e-9,
    cuprous_diffusivity=1.2e-9,
    acid_diffusivity=3.0e-9,
    surface_rate=8e-4,
    surface_energy=40e3,
    chloride_half=50.0,
    stirring_still=0.0,
    stirring_rocked=1.1e-5,
    stirring_shaken=3e-5,
    stirring_bubbled=4e-5,
    stirring_sprayed=16e-5,
    size_exponent=0.25,
    gas_share=0.08,
    bubble_diameter=6e-5,
    gas_order=0.7,
    gas_energy=20e3,
    transfer_limit=8e-4,
    lewis_exponent=0.6,
    decay_rate=7.7e-3,
    decay_energy=80e3,
    decay_half=30.0,
    decay_factor=3.0,
    cuprous_binding=0.060,
    cuprous_second=1.95,
    cuprous_temperature=2000.0,
    loss_factor=1.0,
    wall_loss=10.0,
    convection_factor=1.0,
    rate_factor=1.0,
)
FIRST_EDITION = {"size_exponent": 0.0, "wall_loss": 0.0}
"""Takes away what the second edition added: stirring that knows a size, and walls that lose heat.

The worked cases of `reference_baths.csv`, and all else that was computed before, hold with these.
"""
COUPON = 14.1e-3  # side of the 2 cm² of copper on which rocking was fitted, m
SIZED = ("rocked", "shaken")
"""Movements that drive the bath along the board, so that its film grows with the length."""


@dataclass
class Reference:
    """One bath run to its end.

    Times [s], temperatures [K], concentrations [mol/m³], and what went through it [mol, J].
    """

    time_to_clear: float
    stopped_by: str
    peak_temperature: float
    reserve: float
    end: dict[str, float]
    electrons_used: float
    oxygen: float
    heat_set_free: float
    heat_lost: float
    heat_in_steam: float
    dense: Any
    compose: Any
    t_end: float

    def at(self, t: float) -> dict[str, float]:
        """Return the state [m, K, mol/m³] at a time [s]; after the end it stays the same."""
        n, X, T = self.dense(min(t, self.t_end))[:3]
        C_H, A, C_II, C_I = self.compose(n, X)
        return {
            "thickness": n * CU / 8960.0,
            "temperature": T,
            "acid": A,
            "peroxide": C_H,
            "Cu(I)": C_I,
            "Cu(II)": C_II,
        }


def water_viscosity(T: float) -> float:
    """Return the viscosity of water [Pa s] at T [K]."""
    return 2.414e-5 * 10.0 ** (247.8 / (T - 140.0))


def p_sat(T: float) -> float:
    """Return the vapour pressure of water [Pa] at T [K]."""
    return 610.94 * exp(17.625 * (T - 273.15) / (T - 30.11))


def heat_capacity(A: float, C_H: float, C_Cu: float) -> float:
    """Return the volumetric heat capacity [J/m³/K] of a bath [mol/m³]."""
    return 4.17e6 - 200.0 * A + 0.0075 * A * A - 5.0 * C_H - 80.0 * C_Cu


def bath_loss(T: float, A: float, C_H: float, T_air: float) -> float:
    """Return the heat lost by the open surface [W/m²]: air, radiation, tray floor and vapour."""
    a_w = exp(-(0.023 * A + 9.7e-6 * A * A + 0.018 * C_H) / 1000.0)
    dp = max(a_w * p_sat(T) - 0.5 * p_sat(T_air), 0.0)
    return 18.0 * (T - T_air) + 198.0 * (dp / 2925.0) ** 1.24


def wall_area(volume: float, open_area: float, perimeter: float | None = None) -> float:
    """Return the wetted wall [m²] of a straight vessel, square unless its perimeter [m] is given.

    The floor is none of it: its 5 W/m²/K are among the 18 of the open surface.
    """
    if perimeter is None:
        perimeter = 4.0 * sqrt(open_area)
    return perimeter * volume / open_area


def heat_lost(
    T: float,
    A: float,
    C_H: float,
    T_air: float,
    open_area: float,
    wall: float,
    p: dict[str, float],
) -> float:
    """Return the heat lost by a whole bath [W]: open surface and wetted wall [m²]."""
    surface = open_area * bath_loss(T, A, C_H, T_air)
    return p["loss_factor"] * (surface + wall * p["wall_loss"] * (T - T_air))


def decay(C_H: float, C_II: float, T: float, p: dict[str, float]) -> float:
    """Return the peroxide that Cu(II) turns to oxygen in the bath [mol/m³/s]."""
    warmth = exp(-p["decay_energy"] / R * (1.0 / T - 1.0 / 340.15))
    speed = p["decay_factor"] * p["decay_rate"] * warmth
    return speed * C_H * C_II / (C_II + p["decay_half"])


def make_surface(
    p: dict[str, float],
    area: float,
    agitation: str,
    facing: str,
    without: Any = (),
    closeness: float = 1e-9,
) -> Any:
    """Return what passes through the film at the copper, as a function of the bath.

    It takes (C_H, A, C_II, C_I [mol/m³], T [K]) and returns (J, j_dec [mol/m²/s], Ts [K],
    k_m [m/s]): copper that leaves, peroxide that decays, the temperature of the surface to
    `closeness` [K], and the transfer coefficient.
    """
    D_H = p["peroxide_diffusivity"]
    r_A, r_II, r_I = (
        (p[name] / D_H) ** (2.0 / 3.0)
        for name in ("acid_diffusivity", "cupric_diffusivity", "cuprous_diffusivity")
    )
    side = sqrt(area)
    L = side if facing == "upright" else side / 4.0
    k_ag25 = p["stirring_" + agitation]
    if agitation in SIZED:
        # A laminar plate: the film grows along the board. Its length is the side, whichever way it
        # faces
        k_ag25 *= (COUPON / side) ** p["size_exponent"]
    gas = "gas stirring" not in without
    heating = "surface heating" not in without
    cupric = "cupric route" not in without
    k_s25, Ea_s, K_Cl = p["surface_rate"], p["surface_energy"] / R, p["chloride_half"]
    b25, m, Ea_b = p["gas_share"], p["gas_order"], p["gas_energy"] / R
    d_b = p["bubble_diameter"]
    k_max, n_Le = p["transfer_limit"], p["lewis_exponent"]
    K2, K3, T_S = p["cuprous_binding"], p["cuprous_second"], p["cuprous_temperature"]
    f_nat, f_rate = p["convection_factor"], p["rate_factor"]
    b_S = 1.0 + K2
    # How much warmer than the bath the surface was at the last call: a list, so that `surface` can
    # change it
    rise = [10.0]

    def surface(
        C_H: float, A: float, C_II: float, C_I: float, T: float
    ) -> tuple[float, float, float, float]:
        C_Cu, c_Cl = C_II + C_I, A + C_II
        thick = exp(5.2e-5 * A + 9e-6 * C_H + 3.5e-4 * C_Cu)
        rho = 998.0 + 0.0170 * A + 0.0115 * C_H + 0.118 * C_Cu
        rhocp = heat_capacity(A, C_H, C_Cu)
        c = c_Cl / 1000.0
        x = 2.0 * c / (b_S + sqrt(b_S * b_S + 8.0 * K2 * K3 * c))
        S25 = 1000.0 * K2 * x * (1.0 + K3 * x)
        share = b25 * (C_H / 5000.0) ** m if C_H > 0.0 else 0.0

        def film(Ts: float) -> tuple[float, float, float, float]:
            """Return K·e, β·k_m·C_H, the temperature that the heat gives the surface, and k_m."""
            T_f = 0.5 * (T + Ts)
            mu = water_viscosity(T_f) * thick
            nu = mu / rho
            D = D_H * (T_f / T25) * (0.890e-3 / mu)
            step = 1.0 / Ts - 1.0 / T25
            beta = min(0.5, share * exp(-Ea_b * step))
            O = (1.0 - beta) * C_H
            Os = min(O, 0.5 * r_A * A)
            e = Os
            if cupric:
                S = S25 * exp(-T_S * step)
                e += min(Os + r_II * C_II, 0.5 * r_I * max(S - C_I, 0.0))
            Ra = G * (0.073 * e + 0.001) / rho * L**3 / (nu * D)
            if facing == "up":
                Sh = 0.27 * Ra**0.25
            elif facing == "down":
                Sh = max(0.54 * Ra**0.25, 0.15 * Ra ** (1.0 / 3.0))
            else:
                Sh = max(0.66 * Ra**0.25, 0.31 * Ra**0.28)
            k_nat = f_nat * Sh * D / L
            k_ag = k_ag25 * (D / 1.43e-9) ** (2.0 / 3.0) * (nu / 0.893e-6) ** (-1.0 / 6.0)
            k03 = k_nat**3 + k_ag**3
            g = 0.0
            if gas and beta > 0.0:
                B2 = 0.93**2 * D * D / (d_b * nu) * (nu / D) ** 0.974
                g = (B2 * 0.5 * beta * C_H * R * Ts / P) ** 1.5
            k_m = min(k_max, (0.5 * (g + sqrt(g * g + 4.0 * k03))) ** (2.0 / 3.0))
            k_s = k_s25 * exp(-Ea_s * step) * c_Cl / (c_Cl + K_Cl) if c_Cl > 0.0 else 0.0
            K = k_m * k_s / (k_m + k_s) if k_s > 0.0 else 0.0
            q = K * Os * ETCH + beta * k_m * C_H * DECAY
            h = k_m * rhocp * (1.45e-7 / D) ** n_Le
            return K * e, beta * k_m * C_H, min(381.0, T + q / h), k_m

        if not heating or C_H <= 0.0:
            Ke, jd, _, k_m = film(T)
            return f_rate * Ke, f_rate * jd, T, k_m
        # The secant rule on film(Ts) - Ts, from the last answer, which is mostly near
        x0 = min(T + rise[0], 381.0)
        out = film(x0)
        f0 = out[2] - x0
        x1 = x0 + 0.7 * f0
        for _ in range(12):
            out = film(x1)
            f1 = out[2] - x1
            if abs(f1) < closeness:
                break
            slope = (f1 - f0) / (x1 - x0) if x1 != x0 else -1.0
            x0, f0 = x1, f1
            x1 = min(max(x1 - f1 / slope if slope < -0.05 else x1 + 0.5 * f1, T), 381.0)
        else:
            # It did not settle: a bracket always does
            x1 = brentq(lambda Ts: film(Ts)[2] - Ts, T, 381.0, xtol=1e-11, rtol=1e-14)
            out = film(x1)
        rise[0] = x1 - T
        return f_rate * out[0], f_rate * out[1], x1, out[3]

    return surface


def solve(
    HCl: float,
    H2O2: float,
    T: float,
    *,
    CuII: float = 0.0,
    CuI: float = 0.0,
    volume: float,
    area: float,
    foil_ounces: float = 1.0,
    agitation: str = "rocked",
    facing: str = "up",
    open_area: float | None = None,
    perimeter: float | None = None,
    T_air: float = 293.15,
    parameters: dict[str, float] | None = None,
    without: Any = (),
    t_max: float = 14_400.0,
    rtol: float = 1e-8,
    lean: bool = False,
) -> Reference:
    """Run one bath [mol/m³, K] of a volume [m³] on bare copper [m²].

    It ends when the foil is gone, or at t_max [s].
    `lean` is for timing: three states and no integrals, no history, Ts to 1e-3 K, and the peak
    from the steps alone.
    """
    if not set(without) <= set(SWITCHES):
        raise ValueError(f"unknown effect in {without}")
    p = complete(parameters)
    n0 = OZ / CU * foil_ounces
    a = area / volume
    if open_area is None:
        open_area = max(volume / 0.010, 1.3 * area)
    wall = wall_area(volume, open_area, perimeter)
    # X counts oxidant electrons: two in each peroxide, and one lacking in each Cu(I)
    X0, Cu0, Cl0 = 2.0 * H2O2 - CuI, CuII + CuI, HCl + 2.0 * CuII + CuI
    surface = make_surface(p, area, agitation, facing, without, 1e-3 if lean else 1e-9)
    depletes, heats = "depletion" not in without, "bath heating" not in without

    def compose(n: float, X: float) -> tuple[float, float, float, float]:
        C_Cu = Cu0 + (n0 - n) * a
        Cl = Cl0 if depletes else Cl0 + 2.0 * (C_Cu - Cu0)
        C_I = min(max(-X, 2.0 * C_Cu - Cl, 0.0), C_Cu)
        return max(X + C_I, 0.0) / 2.0, max(Cl - 2.0 * C_Cu + C_I, 0.0), C_Cu - C_I, C_I

    def rhs(t: float, y: Any) -> Any:
        C_H, A, C_II, C_I = compose(y[0], y[1])
        T = y[2]
        J, j_dec, _, _ = surface(C_H, A, C_II, C_I, T)
        r_dec = decay(C_H, C_II, T, p)
        # With the last traces of peroxide the direct reaction gives way to the cupric one
        w = C_H / (C_H + 0.2)
        heat = J * a * (w * ETCH - (1.0 - w) * CUPRIC) + (j_dec * a + r_dec) * DECAY
        loss = heat_lost(T, A, C_H, T_air, open_area, wall, p) / volume
        net = heat - loss
        # Near boiling, heat goes into steam instead of into the bath
        warming = net * min(max((376.0 - T) / 2.0, 0.0), 1.0) if net > 0.0 else net
        electrons = 2.0 * J * a + 2.0 * j_dec * a + 2.0 * r_dec
        core = (
            -J,
            -electrons if depletes else 0.0,
            warming / heat_capacity(A, C_H, C_II + C_I) if heats else 0.0,
        )
        if lean:
            return core
        return (
            *core,
            electrons * volume,
            0.5 * (j_dec * a + r_dec) * volume,
            heat * volume,
            loss * volume,
            (net - warming) * volume,
        )

    def cleared(t: float, y: Any) -> float:
        return float(y[0])

    cleared.terminal, cleared.direction = True, -1
    mol, joule = n0 * area, 1e5 * n0 * area
    scales = [n0, 100.0, 30.0]
    y0 = [n0, X0, T]
    if not lean:
        scales += [mol, mol, joule, joule, joule]
        y0 += [0.0] * 5
    run = solve_ivp(
        rhs,
        (0.0, t_max),
        y0,
        method="LSODA",
        rtol=rtol,
        atol=[rtol * scale for scale in scales],
        events=cleared,
        dense_output=not lean,
    )
    if not run.success:
        raise RuntimeError(run.message)
    y, t_end = run.y[:, -1], float(run.t[-1])
    clear = run.status == 1
    n_end = 0.0 if clear else float(y[0])
    C_H, A, C_II, C_I = compose(0.0 if clear else y[0], y[1])
    C_H0, A0, _, _ = compose(n0, X0)
    reason = "copper gone"
    if not clear:
        reason = why_not_clear(Cl0, A, A0, C_H, C_H0)
    return Reference(
        t_end if clear else inf,
        reason,
        peak_of(run),
        min(C_H0, A0 / 2.0) * volume / mol,
        {"HCl": A, "H2O2": C_H, "CuCl2": C_II, "CuCl": C_I, "T": float(y[2]), "n": n_end},
        *([nan] * 5 if lean else map(float, y[3:])),
        run.sol,
        compose,
        t_end,
    )


def complete(parameters: dict[str, float] | None) -> dict[str, float]:
    """Return all parameters, of which some may be given [own units]."""
    p = DEFAULTS | (parameters or {})
    if set(p) != set(DEFAULTS):
        raise ValueError(f"unknown parameter in {set(p) - set(DEFAULTS)}")
    return p


@dataclass
class Rest:
    """A bath that stood without a board: temperatures [K], peroxide [mol/m³], oxygen [mol]."""

    peak_temperature: float
    temperature: float
    peroxide: float
    oxygen: float


def stand(
    HCl: float,
    H2O2: float,
    T: float,
    *,
    CuII: float = 0.0,
    volume: float,
    duration: float = 3600.0,
    open_area: float | None = None,
    perimeter: float | None = None,
    T_air: float = 293.15,
    parameters: dict[str, float] | None = None,
    rtol: float = 1e-8,
) -> Rest:
    """Leave a bath [mol/m³, K] of a volume [m³] standing for a time [s], without any Cu(I)."""
    p = complete(parameters)
    if open_area is None:
        open_area = volume / 0.010
    wall = wall_area(volume, open_area, perimeter)

    def rhs(t: float, y: Any) -> Any:
        C_H, T = max(y[0], 0.0), y[1]
        r_dec = decay(C_H, CuII, T, p)
        net = r_dec * DECAY - heat_lost(T, HCl, C_H, T_air, open_area, wall, p) / volume
        warming = net * min(max((376.0 - T) / 2.0, 0.0), 1.0) if net > 0.0 else net
        return -r_dec, warming / heat_capacity(HCl, C_H, CuII)

    run = solve_ivp(
        rhs,
        (0.0, duration),
        [H2O2, T],
        method="LSODA",
        rtol=rtol,
        atol=[100.0 * rtol, 30.0 * rtol],
        dense_output=True,
    )
    if not run.success:
        raise RuntimeError(run.message)
    warm = run.sol(np.linspace(0.0, duration, 4001))[1]
    left = float(run.y[0][-1])
    peak = max(float(warm.max()), float(run.y[1].max()))
    return Rest(peak, float(run.y[1][-1]), left, 0.5 * (H2O2 - left) * volume)


def why_not_clear(
    chloride: float, acid: float, fresh_acid: float, peroxide: float, fresh_peroxide: float
) -> str:
    """Say what stopped a bath that held so much [mol/m³] at its end, and fresh."""
    if chloride < 5.0:
        return "no chloride"
    if acid < 0.05 * fresh_acid:
        return "acid"
    if peroxide <= 0.01 * fresh_peroxide + 0.5:
        return "peroxide"
    return "time"


def peak_of(run: Any) -> float:
    """Return the highest temperature [K] of a run; between steps too if it has a history."""
    warmest = int(np.argmax(run.y[2]))
    peak = float(run.y[2][warmest])
    if run.sol is None:
        return peak
    before, after = max(warmest - 1, 0), min(warmest + 1, len(run.t) - 1)
    near = np.linspace(run.t[before], run.t[after], 101)
    return max(peak, float(run.sol(near)[2].max()))


def published_baths() -> list[dict[str, str]]:
    """Read the eight worked cases [units in the column names], as text."""
    path = Path(__file__).parents[1] / "published" / "reference_baths.csv"
    with path.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def case(row: dict[str, str]) -> dict[str, Any]:
    """Return the arguments of `solve` [SI] for one worked case."""
    return dict(
        HCl=float(row["HCl_mol_m3"]),
        H2O2=float(row["H2O2_mol_m3"]),
        CuII=float(row["CuII_start_mol_m3"]),
        T=float(row["start_T_K"]),
        volume=float(row["volume_mL"]) * 1e-6,
        area=float(row["area_cm2"]) * 1e-4,
        foil_ounces=float(row["foil_oz"]),
        agitation=row["agitation"],
        facing=row["facing"],
        open_area=float(row["open_area_cm2"]) * 1e-4,
        T_air=float(row["air_C"]) + 273.15,
    )
