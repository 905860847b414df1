"""How the plausible draws are made, and how well each fact is predicted from the others.

The draws fill the ranges of the parameters' table; those that meet four facts of practice are
kept. That says nothing about the facts themselves: so each is left out in turn, and predicted by
the draws that meet the others.

`python -m pcbchem.reaction.bath.plausible` makes both tables again, from a fixed seed, into the
package's data folder.
"""

from __future__ import annotations

import csv
import dataclasses
import functools
from importlib import resources
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray, as_draws
from .bath import etch
from .parameters import RateParameters, rows
from .rate import flux
from .setup import COPPER_DENSITY, COPPER_MOLAR_MASS, Board, Foil, Start, Tray

SEED = 20
CANDIDATES = 24_000
"""Sets that are tried [-]: the leave-one-out medians stand still; about 5 % pass all facts."""
GAS_RATIO = (300.0, 4000.0)
"""Range of gas share over bubble diameter [1/m]: together they stir, and only that is known."""
LAYER_AREA = 2e-4
"""A small coupon [m²] (assumed; 1 or 40 cm² move the rate by 3 % and 5 %)."""
MICROMETRES_A_MINUTE = 60e6
"""So many are 1 m/s [µm/min]."""


@dataclasses.dataclass(frozen=True)
class Fact:
    """Something seen at the bench that the draws must meet.

    Parameters
    ----------
    name : str
        What it is called.
    HCl, H2O2 : float
        Concentrations at the start [mol/m³].
    T : float
        Temperature at the start [K].
    low, high : float
        Limits for the draws [s, or µm/min for a film].
    seen : tuple of float
        What practice says [s, or µm/min for a film].
    practice : str
        The same in words.
    source : str
        Key of sources.csv.
    area : float
        Bare copper [m²]; 0 for a film.
    volume : float
        Bath [m³]; 0 for a film.
    """

    name: str
    HCl: float
    H2O2: float
    T: float
    low: float
    high: float
    seen: tuple[float, float]
    practice: str
    source: str
    area: float = 0.0
    volume: float = 0.0

    @property
    def bath(self) -> Start:
        """Its bath when the board goes in [mol/m³, K, m³]."""
        return Start(HCl=self.HCl, H2O2=self.H2O2, T=self.T, volume=self.volume)

    @property
    def board(self) -> Board:
        """Its bare copper [m²] of 1 oz foil."""
        return Board(area=self.area, foil=Foil.ounces(1))

    def predict(self, parameters: RateParameters) -> FloatArray:
        """Predict the fact: time to clear [s], or for a film the rate at the start [µm/min]."""
        if self.volume > 0.0:
            run = etch(self.bath, self.board, Tray(), parameters)
            return np.asarray(run.time_to_clear)
        # A thin layer hardly changes its bath: the rate at the start is what was seen
        film = flux(self.HCl, self.H2O2, self.T, LAYER_AREA, tray=Tray(), parameters=parameters)
        copper = np.asarray(film["copper"])
        return copper * COPPER_MOLAR_MASS / COPPER_DENSITY * MICROMETRES_A_MINUTE

    def met(self, value: FloatArray) -> Any:
        """Tell whether predicted values [s or µm/min] lie within the fact's limits."""
        return (value >= self.low) & (value <= self.high)


TRADE, LAYERS = "trade", "homecmos"
"""Keys of sources.csv."""
# Starts [mol/m³, K] are those of the mixtures after mixing at 20 °C; both layers are taken at 20 °C
# (their temperature is not stated). Limits are wider than what was seen where that is rough: half
# to twice "about 2 s", half of "more than 20 min", the middle of the layer's rates ×/÷ 1.5.
FACTS = (
    Fact(
        "undiluted",
        HCl=5084.9,
        H2O2=4896.84,
        T=305.638,
        low=1.0,
        high=4.0,
        seen=(2.0, 2.0),
        practice="about 2 s",
        source=TRADE,
        area=4e-4,
        volume=50e-6,
    ),
    Fact(
        "3 : 1 : 1",
        HCl=1961.78,
        H2O2=2141.34,
        T=298.687,
        low=60.0,
        high=180.0,
        seen=(60.0, 180.0),
        practice="60-180 s",
        source=TRADE,
        area=40e-4,
        volume=75e-6,
    ),
    Fact(
        "weak, 2.5 %",
        HCl=4904.44,
        H2O2=370.1,
        T=303.377,
        low=600.0,
        high=np.inf,
        seen=(1200.0, np.inf),
        practice="more than 20 min",
        source=TRADE,
        area=40e-4,
        volume=75e-6,
    ),
    Fact(
        "strong layer",
        HCl=1714.0,
        H2O2=762.9,
        T=293.15,
        low=3.75 / 1.5,
        high=3.75 * 1.5,
        seen=(3.5, 4.0),
        practice="3.5-4.0 µm/min",
        source=LAYERS,
    ),
)
# Chooses no draw, so it has no limits: a second source that the draws are held against
WEAK_LAYER = Fact(
    "weak layer",
    HCl=214.0,
    H2O2=79.5,
    T=293.15,
    low=0.0,
    high=np.inf,
    seen=(0.35, 0.40),
    practice="0.35-0.40 µm/min",
    source=LAYERS,
)


class Coordinate(NamedTuple):
    """How a parameter is drawn.

    `kind`: "uniform", "log-uniform", "log-normal", or "gas" for a bubble diameter, of which the gas
    share over it is log-uniform. `low` and `high`: what stands for 0 and 1 of the coordinate; for
    "log-normal" the middle, and one standard deviation above it [unit of the parameter, or its
    logarithm where it is not uniform].
    """

    name: str
    kind: str
    low: float
    high: float

    @property
    def is_normal(self) -> bool:
        """Whether its coordinate counts standard deviations, and has no limits."""
        return self.kind == "log-normal"


@functools.cache
def _coordinates() -> tuple[Coordinate, ...]:
    """Return the coordinate of every parameter that is drawn."""
    result = []
    for name, row in rows().items():
        kind, *words = row["drawn"].split()
        if kind == "held":
            continue  # the same in every draw
        if kind == "log-normal":
            middle, deviation = np.log(float(row["default"])), float(words[-1])
            result.append(Coordinate(name, kind, middle, middle + deviation))
            continue
        low, high = float(row["low"]), float(row["high"])
        # A bubble diameter has no range of its own: it comes from the gas share and their ratio
        if kind == "gas":
            low, high = GAS_RATIO
        if kind != "uniform":
            low, high = np.log(low), np.log(high)
        result.append(Coordinate(name, kind, low, high))
    return tuple(result)


def prior(count: int, generator: np.random.Generator) -> dict[str, FloatArray]:
    """Draw parameters from the ranges of their table, before any fact is asked.

    Parameters
    ----------
    count : int
        How many sets, N [-].
    generator : numpy.random.Generator
        Source of chance.

    Returns
    -------
    dict of array
        Draws by parameter [units of the parameters], each (N,).
    """
    # One parameter after the other, in the order of the table: the shipped draws rest on it
    places = []
    for coordinate in _coordinates():
        if coordinate.is_normal:
            places.append(generator.standard_normal(count))
        else:
            places.append(generator.random(count))
    return values_at(np.array(places))


def coordinates(values: dict[str, FloatArray]) -> FloatArray:
    """Return where draws stand in what `prior` draws them from: the inverse of `values_at`.

    Parameters
    ----------
    values : dict of array
        Draws by parameter [units of the parameters], each (N,).

    Returns
    -------
    array
        (D, N), a row a parameter that is drawn: 0 to 1 between the limits of the table, or standard
        deviations from the middle where it is normal [-].

    Examples
    --------
    >>> places = coordinates(prior(5, np.random.default_rng(1)))
    >>> print(places.shape, bool(np.all(places[:-1] >= 0) and np.all(places[:-1] <= 1)))
    (28, 5) True
    """
    places = []
    for name, kind, low, high in _coordinates():
        value = values[name]
        if kind == "gas":
            value = values["gas_share"] / value
        if kind != "uniform":
            value = np.log(value)
        places.append((value - low) / (high - low))
    return np.array(places)


def values_at(places: FloatArray) -> dict[str, FloatArray]:
    """Return draws from where they stand in what `prior` draws them from.

    Parameters
    ----------
    places : array
        Coordinates [-], (D, N), as `coordinates` gives them.

    Returns
    -------
    dict of array
        Draws by parameter [units of the parameters], each (N,).
    """
    count = places.shape[1]
    values = {name: np.full(count, float(row["default"])) for name, row in rows().items()}
    for (name, kind, low, high), place in zip(_coordinates(), places, strict=True):
        value = low + (high - low) * place
        if kind != "uniform":
            value = np.exp(value)
        if kind == "gas":
            # the gas share stands before the bubble diameter in the table
            value = values["gas_share"] / value
        values[name] = value
    return values


def log_prior(places: FloatArray) -> FloatArray:
    """Return how plausible places are before any fact is asked.

    Parameters
    ----------
    places : array
        Coordinates [-], (D, N), as `coordinates` gives them.

    Returns
    -------
    array
        Logarithm of the density [-], minus infinity outside the limits, (N,).
    """
    # A normal density less its factor, and an even one: constants do not matter
    total = np.zeros(places.shape[1])
    for coordinate, place in zip(_coordinates(), places, strict=True):
        if coordinate.is_normal:
            total += -0.5 * place**2
        else:
            total += np.where((place >= 0) & (place <= 1), 0.0, -np.inf)
    return total


def walls() -> Any:
    """Return which coordinates end at 0 and 1, (D,): true or false."""
    return np.array([not coordinate.is_normal for coordinate in _coordinates()])


def predictions(values: dict[str, FloatArray]) -> dict[str, FloatArray]:
    """Predict every fact, and the weak layer, by each set of parameters.

    Parameters
    ----------
    values : dict of array
        Draws by parameter [units of the parameters], each (N,).

    Returns
    -------
    dict of array
        Times to clear [s] or rates [µm/min] by name of the fact, each (N,).
    """
    count = next(iter(values.values())).size
    facts = (*FACTS, WEAK_LAYER)
    # no draw axis may be longer than MOST_DRAWS
    lots: dict[str, list[FloatArray]] = {fact.name: [] for fact in facts}
    for first in range(0, count, MOST_DRAWS):
        last = first + MOST_DRAWS
        columns = {name: as_draws(value[first:last]) for name, value in values.items()}
        parameters = RateParameters(**columns)
        for fact in facts:
            lots[fact.name].append(fact.predict(parameters))
    return {name: np.concatenate(values) for name, values in lots.items()}


def make(
    count: int = MOST_DRAWS, seed: int = SEED, candidates: int = CANDIDATES
) -> tuple[dict[str, FloatArray], list[dict[str, Any]]]:
    """Make the plausible draws and the leave-one-out table.

    Parameters
    ----------
    count : int
        How many draws to keep [-].
    seed : int
        Seed of the generator [-].
    candidates : int
        How many sets to try [-].

    Returns
    -------
    tuple
        Draws by parameter [units of the parameters], and the rows of the leave-one-out table [s or
        µm/min].

    Raises
    ------
    RuntimeError
        Fewer candidates than `count` meet every fact.
    """
    sets = prior(candidates, np.random.default_rng(seed))
    values = predictions(sets)
    agrees = {fact.name: fact.met(values[fact.name]) for fact in FACTS}
    agrees_with_all = np.all(list(agrees.values()), axis=0)
    if agrees_with_all.sum() < count:
        raise RuntimeError(
            f"only {agrees_with_all.sum()} of {candidates} candidates meet every fact: "
            f"fewer than {count}"
        )
    # Each fact is predicted by the sets that meet the others; the weak layer by those that meet all
    table = []
    for fact in (*FACTS, WEAK_LAYER):
        other_facts = [agrees[name] for name in agrees if name != fact.name]
        table.append(_row(fact, values[fact.name][np.all(other_facts, axis=0)]))
    # In the ratio of the layers cancels what both have alike, such as the temperature nobody stated
    ratio = dataclasses.replace(
        WEAK_LAYER, name="ratio of the layers", practice="8.8-11.4", seen=(8.8, 11.4)
    )
    ratios = values["strong layer"] / values["weak layer"]
    table.append(_row(ratio, ratios[agrees_with_all]) | {"unit": "-"})
    # The first that agree, in the order of the generator: no draw is chosen for anything else
    first = np.flatnonzero(agrees_with_all)[:count]
    return {name: column[first] for name, column in sets.items()}, table


def _row(fact: Fact, values: FloatArray) -> dict[str, Any]:
    """Return a row of the leave-one-out table, from the values that the others predict."""
    # A value that was computed, not a line between two: of a bath that never clears it is infinite
    low, middle, high = np.quantile(values, (0.1, 0.5, 0.9), method="inverted_cdf")
    unit = "µm/min"
    if fact.volume > 0.0:
        unit = "s"
    return {
        "fact": fact.name,
        "low": f"{low:.4g}",
        "middle": f"{middle:.4g}",
        "high": f"{high:.4g}",
        "unit": unit,
        "practice": fact.practice,
        "seen_low": f"{fact.seen[0]:g}",
        "seen_high": f"{fact.seen[1]:g}",
        "draws": values.size,
        "source": fact.source,
    }


def write(folder: Path) -> None:
    """Write both tables into a folder [units of the parameters; s or µm/min].

    Parameters
    ----------
    folder : Path
        Where `draws.csv` and `leave_one_out.csv` go.
    """
    sets, table = make()
    with (folder / "draws.csv").open("w", newline="", encoding="utf-8") as file:
        lines = csv.writer(file, lineterminator="\n")
        lines.writerow(sets)
        for values in zip(*sets.values(), strict=True):
            # Eight digits: far finer than any parameter is known, and half as long a file
            lines.writerow([f"{value:.8g}" for value in values])
    with (folder / "leave_one_out.csv").open("w", newline="", encoding="utf-8") as file:
        sheet = csv.DictWriter(file, table[0].keys(), lineterminator="\n")
        sheet.writeheader()
        sheet.writerows(table)


if __name__ == "__main__":
    write(Path(str(resources.files("pcbchem"))) / "data")
