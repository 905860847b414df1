"""The bath in time: `etch` a board in it, let it `stand` afterwards."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ...common.arrays import FloatArray, common_shape
from ...common.limits import Range, check_values, warn_outside
from ...common.units import T_HIGH, T_LOW
from ...matter.properties import density_inside
from ...matter.solution import MOST_VOLUME, Solution
from ..bath import rate
from .parameters import RateParameters
from .run import EtchRun, Standing, flat, oxygen_made
from .setup import Board, Tray, check_fits
from .stepper import HOTTEST_BATH, solve

LONGEST = 14_400.0  # s: a run ends here
ROOM = 293.15  # K
TRIAL = (240.0, 390.0)  # K: a step that tries more is judged at the edge, fails and is made shorter
TOLERANCE = 2e-3  # a step's share of each state's scale: 99 % of baths within 0.5 %
CHECKED = (
    Range("temperature", 278.15, 333.15, "K"),
    Range("HCl", 0.0, 6000.0, "mol/m³"),
    Range("H2O2", 0.0, 5000.0, "mol/m³"),
    Range("dissolved copper", 0.0, 1500.0, "mol/m³"),
)
LEAST_VOLUME = 1e-7  # m³: a tenth of a millilitre
LEAST_DEPTH = 1e-4  # m of liquid: less wets a board and no more
LONGEST_STAND = 1e5  # s: a day and more


@dataclasses.dataclass(frozen=True, eq=False)
class Start:
    """What a bath holds when the board goes in: concentrations [mol/m³], T [K], volume [m³].

    `etch` takes one in place of a `Solution`, to start from given concentrations.

    Raises
    ------
    ValueError
        A negative, infinite or impossible value, no water to speak of, or a bath of volume 0.
    """

    HCl: Any
    H2O2: Any
    T: Any
    volume: Any
    CuCl2: Any = 0.0
    CuCl: Any = 0.0
    mass: Any = None

    def __post_init__(self) -> None:
        for name, most in rate.MOST.items():
            object.__setattr__(
                self, name, check_values(name, getattr(self, name), 0.0, most, "mol/m³")
            )
        object.__setattr__(self, "T", check_values("T", self.T, T_LOW, T_HIGH, "K"))
        object.__setattr__(
            self, "volume", check_values("volume", self.volume, LEAST_VOLUME, MOST_VOLUME, "m³")
        )
        if self.mass is None:
            density = rate.film_density(self.HCl, self.H2O2, self.CuCl2 + self.CuCl)
            object.__setattr__(self, "mass", density * self.volume)

    @classmethod
    def of(cls, bath: Solution) -> Start:
        """The start that a mixed bath makes [mol/m³, K, m³]; lye in it raises ValueError."""
        if np.any(bath.mass_fraction("NaOH") > 0):
            raise ValueError(
                f"bath: NaOH = {np.max(bath.mass_fraction('NaOH')):g} is impossible: "
                "it must be 0, an etching bath holds no lye"
            )
        volume = check_values(
            "bath volume",
            bath.mass / density_inside(bath.plain_T, bath.fractions),
            LEAST_VOLUME,
            MOST_VOLUME,
            "m³",
        )
        held = {name: bath.amount(name) / volume for name in rate.MOST}
        return cls(**held, T=bath.T, volume=volume, mass=bath.mass)

    @property
    def oxidant(self) -> Any:
        """Oxidant counted in electrons [mol/m³]: two each peroxide, less the Cu(I) that waits for one."""
        return 2 * self.H2O2 - self.CuCl

    def values(self) -> dict[str, Any]:
        """Every field by name [mol/m³, K, m³, kg]."""
        return {f.name: getattr(self, f.name) for f in dataclasses.fields(self)}


def state(c: dict[str, Any], gone: Any, X: Any) -> tuple[Any, Any, Any, Any]:
    """Acid, peroxide, Cu(II) and Cu(I) [mol/m³] from copper gone into the bath and oxidant X [mol/m³].

    Copper and chloride balances are algebra here, so they close exactly.
    """
    copper = c["copper"] + gone
    chloride = c["chloride"] if c["depletes"] else c["chloride"] + 2 * gone
    cuprous = np.minimum(np.maximum(np.maximum(-X, 2 * copper - chloride), 0.0), copper)
    peroxide = 0.5 * np.maximum(X + cuprous, 0.0)
    acid = np.maximum(chloride - 2 * copper + cuprous, 0.0)
    return acid, peroxide, copper - cuprous, cuprous


def decay(c: dict[str, Any], T: Any, peroxide: Any, cupric: Any) -> Any:
    """Peroxide lost in the bath to Cu(II) [mol/(m³ s)]."""
    return (
        c["decay"]
        * np.exp(c["decay_e"] * (1 / 340.15 - 1 / T))
        * peroxide
        * cupric
        / (cupric + c["decay_half"])
    )


def heat_loss(c: dict[str, Any], T: Any, acid: Any, peroxide: Any) -> Any:
    """Heat leaving through the surface and the floor of the tray [W/m³ of bath].

    18 W/(m² K): natural convection (McAdams), radiation, and 5 through the floor (assumed); then pool evaporation
    (Shah 1992) over water of the bath's activity, 50 % humidity in the room.
    """
    drive = rate.water_activity(acid, peroxide) * rate.saturation_pressure(T) - c["damp"]
    return c["loss"] * (18.0 * (T - c["room"]) + 198.0 * (np.maximum(drive, 0.0) / 2925.0) ** 1.24)


def slopes(c: dict[str, Any], y: FloatArray, warmth: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Slopes of (t, s, X, T) per unit of clock [s, share, mol/m³, K]; the clock is the foil while it goes."""
    _, s, X, T = y
    T = np.clip(T, *TRIAL)
    n0, a = c["foil"], c["bare"]
    acid, peroxide, cupric, cuprous = state(c, s * n0 * a, X)
    if c["etches"]:
        J, at_copper, warmth, _ = rate.film_pass(c, acid, peroxide, cupric, cuprous, T, warmth)
    else:
        J = at_copper = np.zeros_like(T)
    in_bath = decay(c, T, peroxide, cupric)
    lost_peroxide = at_copper * a + in_bath
    pace = n0 / np.maximum(J, c["floor"])
    out = np.zeros_like(y)
    out[0] = pace
    out[1] = J / n0 * pace
    out[2] = -2 * (J * a + lost_peroxide) * pace if c["depletes"] else 0.0
    if c["heats"]:
        direct = peroxide / (peroxide + 0.2)
        net = (
            J * a * (direct * rate.ETCH_HEAT - (1 - direct) * rate.CUPRIC_HEAT)
            + lost_peroxide * rate.DECAY_HEAT
        )
        net = net - heat_loss(c, T, acid, peroxide)
        pin = np.where(net > 0, np.clip((HOTTEST_BATH - T) / 2, 0.0, 1.0), 1.0)
        out[3] = net * pin / rate.volumetric_heat_capacity(acid, peroxide, cupric + cuprous) * pace
    return out, warmth


def constants(
    start: Start,
    board: Board | None,
    tray: Tray,
    p: RateParameters,
    without: tuple[str, ...],
    t_max: float,
    spread: Any,
) -> dict[str, Any]:
    """Everything that stays the same in a run, by short name [SI]; `spread` gives an array one value a scenario."""
    v = {
        **start.values(),
        **p.values(),
        "area": 0.0 if board is None else board.area,
        "n0": 1.0 if board is None else board.foil.amount,
    }
    v = {name: spread(value) for name, value in v.items()}
    room = spread(ROOM if tray.T_air is None else tray.T_air)
    surface = (
        tray.surface(v["volume"], v["area"]) if tray.open_area is None else spread(tray.open_area)
    )
    check_values(
        "depth of the bath (volume over open area)", v["volume"] / surface, LEAST_DEPTH, 1e6, "m"
    )
    c = {} if board is None else rate.film_constants(v, tray, v["area"], without)
    copper, chloride = v["CuCl2"] + v["CuCl"], v["HCl"] + 2 * v["CuCl2"] + v["CuCl"]
    # the most of the foil that the bath's chloride can hold, one each; without depletion there is no such limit
    most = (
        np.inf
        if board is None or "depletion" in without
        else (np.maximum(chloride - copper, 0.0) * v["volume"] / (v["n0"] * v["area"]))
    )
    return c | {
        "most": most,
        "copper": copper,
        "chloride": chloride,
        "foil": v["n0"],
        "bare": v["area"] / v["volume"],
        "floor": 0.1 * v["n0"] / t_max,
        "loss": v["loss_factor"] * surface / v["volume"],
        "room": room,
        "damp": 0.5 * rate.saturation_pressure(room),
        "decay": v["decay_rate"] * v["decay_factor"],
        "decay_e": v["decay_energy"] / rate.R,
        "decay_half": v["decay_half"],
        "etches": board is not None,
        "heats": "bath heating" not in without,
        "depletes": "depletion" not in without,
    }


def _spread(shape: tuple[int, ...]) -> Any:
    """A function that lays a value out with one element a scenario, and leaves a single number alone."""
    return lambda value: (
        np.asarray(value, dtype=float) if np.ndim(value) == 0 else flat(value, shape)
    )


def _shape(
    start: Start, tray: Tray, p: RateParameters, **more: Any
) -> tuple[tuple[int, ...], int | None]:
    """Broadcast shape of all that goes into a run, and the length of its draw axis."""
    named = {
        **start.values(),
        "open_area": tray.open_area,
        "T_air": tray.T_air,
        **more,
        **p.values(),
    }
    return common_shape(**{name: value for name, value in named.items() if value is not None})


def _given(
    what: str, bath: Any, tray: Any, parameters: Any, tolerance: float
) -> tuple[Start, Tray, RateParameters]:
    """The three things that `etch` and `stand` share, by default where None, or ValueError for another kind."""
    if not isinstance(bath, Solution | Start):
        raise ValueError(f"bath = {bath!r} is not a bath: give a Solution, from mix or Solution.of")
    tray = Tray() if tray is None else tray
    if not isinstance(tray, Tray):
        raise ValueError(f"tray = {tray!r} is not a tray: give Tray(agitation=, facing=)")
    parameters = RateParameters() if parameters is None else parameters
    if not isinstance(parameters, RateParameters):
        raise ValueError(
            f"parameters = {parameters!r} is not known: give RateParameters() or .plausible(200)"
        )
    check_values("tolerance", tolerance, 1e-9, 0.1)
    start = Start.of(bath) if isinstance(bath, Solution) else bath
    warn_outside(
        what,
        *zip(CHECKED, (start.T, start.HCl, start.H2O2, start.CuCl2 + start.CuCl), strict=True),
        stacklevel=4,
    )
    return start, tray, parameters


def _one_time(name: str, value: Any, most: float) -> float:
    """One time [s] above 0 to `most`, or ValueError naming it."""
    if np.ndim(value):
        raise ValueError(
            f"{name} = {value!r} is impossible: it must be one number, above 0 to {most:g} s"
        )
    return float(check_values(name, value, 0.0, most, "s", above=True))


def etch(
    bath: Solution | Start,
    board: Board,
    tray: Tray | None = None,
    parameters: RateParameters | None = None,
    without: str | tuple[str, ...] = (),
    history: bool = False,
    *,
    longest: float = LONGEST,
    tolerance: float = TOLERANCE,
) -> EtchRun:
    """Etch a board in a bath until its copper is gone, or for four hours.

    Parameters
    ----------
    bath : Solution or Start
        What is in the tray when the board goes in; arrays make many baths at once.
    board : Board
        Bare copper and foil.
    tray : Tray
        How the bath moves, which way the board faces, open area and air; by default rocked, facing up.
    parameters : RateParameters
        The rate model's parameters; `RateParameters.plausible(200)` puts its doubt on the draw axis.
    without : str or tuple of str
        Effects left out for teaching, from `EFFECTS` ("heat of mixing" belongs to `mix`).
    history : bool
        Keep every step, so that the run can be read `at` any time.
    longest : float
        When to take the board out, clear or not [s], above 0 to 14 400.
    tolerance : float
        Error allowed a step [-], 1e-9 to 0.1: smaller is slower.

    Returns
    -------
    EtchRun
        Arrays of the broadcast shape.

    Raises
    ------
    ValueError
        A bath of volume 0, of hardly any depth or with lye in it, a board larger than the tray, an unknown effect,
        draws of two lengths.

    Examples
    --------
    >>> from pcbchem import Board, Foil, Solution, etch
    >>> bath = Solution.of(volume=150e-6, T=295, HCl=0.05, H2O2=0.06)
    >>> run = etch(bath, Board(area=27e-4, foil=Foil.ounces(1)))
    >>> print(f"{run.stopped_by}")
    copper gone
    """
    start, tray, p = _given("etch", bath, tray, parameters, tolerance)
    off = rate.switched_off(without)
    if "heat of mixing" in off:
        raise ValueError(
            "without = 'heat of mixing' is impossible here: mix with heat=False instead; "
            f"etch takes {', '.join(e for e in rate.EFFECTS if e != 'heat of mixing')}"
        )
    if not isinstance(board, Board):
        raise ValueError(
            f"board = {board!r} is not a board: give Board(width, height, bare) or Board(area=)"
        )
    check_fits(board, tray)
    shape, draws = _shape(start, tray, p, area=board.area, foil=board.foil.amount)
    t_max = _one_time("longest", longest, LONGEST)
    c = constants(start, board, tray, p, off, t_max, _spread(shape))
    return EtchRun.of(
        c, start, board, shape, draws, _run(c, start, shape, t_max, tolerance, history), state
    )


def _run(
    c: dict[str, Any],
    start: Start,
    shape: tuple[int, ...],
    t_max: float,
    tolerance: float,
    history: bool,
) -> tuple[FloatArray, FloatArray, list[Any] | None]:
    """Solve from the start: states at the end, peak temperatures [K] and the steps kept."""
    count = int(np.prod(shape))
    y = np.zeros((4, count))
    y[2], y[3] = flat(start.oxidant, shape), flat(start.T, shape)
    warmth = np.zeros(count)
    if c["etches"]:
        warmth = np.broadcast_to(rate.converge(c, *state(c, 0.0, y[2]), y[3]), (count,))
    keep: list[Any] | None = [] if history else None
    ends, peaks = solve(c, y, warmth, slopes, t_max, tolerance, keep)
    return ends, peaks, keep


def stand(
    bath: Solution | Start,
    tray: Tray | None = None,
    duration: Any = 3600.0,
    parameters: RateParameters | None = None,
    *,
    tolerance: float = TOLERANCE,
) -> Standing:
    """Leave a bath in its tray with no board: Cu(II) goes on turning the peroxide into oxygen and warmth.

    Parameters
    ----------
    bath : Solution or Start
        The bath, for instance `EtchRun.bath_after`.
    tray : Tray
        Open area and air.
    duration : float
        How long [s], above 0 to 100 000.
    parameters : RateParameters
        The rate model's parameters.
    tolerance : float
        Error allowed a step [-].

    Returns
    -------
    Standing
        Peak temperature [K], oxygen given off [m³ at 1 atm and the air's temperature], peroxide left [mol/m³].

    Raises
    ------
    ValueError
        A bath of volume 0 or with lye in it, an impossible duration, draws of two lengths.
    """
    start, tray, p = _given("stand", bath, tray, parameters, tolerance)
    seconds = _one_time("duration", duration, LONGEST_STAND)
    shape, draws = _shape(start, tray, p)
    c = constants(start, None, tray, p, (), seconds, _spread(shape))
    ends, peaks, _ = _run(c, start, shape, seconds, tolerance, False)
    peroxide = state(c, 0.0, ends[2])[1]
    oxygen = oxygen_made(start, shape, ends[2], 0.0) * rate.R * c["room"] / rate.PRESSURE
    return Standing.of(
        shape, draws, peak_temperature=peaks, oxygen=oxygen, peroxide=peroxide, temperature=ends[3]
    )
