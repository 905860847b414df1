"""How the plausible draws were made, and the honest test: leave one fact out and predict it from the others.

`python -m pcbchem.reaction.draws` makes both tables again, from a fixed seed, into the package's data folder.
"""

from __future__ import annotations

import csv
import dataclasses
import functools
from importlib import resources
from pathlib import Path
from typing import Any

import numpy as np

from ...common.arrays import MOST_DRAWS, FloatArray, as_draws
from . import rate
from .bath import etch
from .parameters import RateParameters, rows
from .setup import COPPER_DENSITY, COPPER_MOLAR_MASS, Board, Foil, Start, Tray

SEED = 20
CANDIDATES = 24_000  # enough for the leave-one-out medians to stand still; about 5 % pass all facts
GAS_RATIO = (300.0, 4000.0)  # gas share over bubble diameter, 1/m


@dataclasses.dataclass(frozen=True)
class Fact:
    """Something seen at the bench that the draws must meet: limits [s, or µm/min for a film], and where it is from."""

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

    def predict(self, p: RateParameters) -> FloatArray:
        """Time to clear [s], or the rate at the start [µm/min] where the fact is a film."""
        if self.volume == 0.0:
            found = rate.flux(self.HCl, self.H2O2, self.T, FILM_AREA, tray=Tray(), parameters=p)[
                "copper"
            ]
            return np.asarray(found) * COPPER_MOLAR_MASS / COPPER_DENSITY * 60e6
        return np.asarray(etch(self.bath, self.board, Tray(), p).time_to_clear)

    def met(self, value: FloatArray) -> Any:
        """Whether predicted values [s or µm/min] lie within the fact's limits."""
        return (value >= self.low) & (value <= self.high)


FILM_AREA = 2e-4  # m²: a small coupon (assumed; 1 or 40 cm² move the rate by 3 % and 5 %)
TRADE, FILMS = "trade", "homecmos"  # keys of sources.csv
# Starts [mol/m³, K] are the mixtures' own after mixing at 20 °C; both films are taken at 20 °C (not stated).
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
        "strong film",
        HCl=1714.0,
        H2O2=762.9,
        T=293.15,
        low=3.75 / 1.5,
        high=3.75 * 1.5,
        seen=(3.5, 4.0),
        practice="3.5-4.0 µm/min",
        source=FILMS,
    ),
)
WEAK_FILM = Fact(
    "weak film",
    HCl=214.0,
    H2O2=79.5,
    T=293.15,
    low=0.0,
    high=np.inf,
    seen=(0.35, 0.40),
    practice="0.35-0.40 µm/min",
    source=FILMS,
)


def prior(count: int, generator: np.random.Generator) -> dict[str, FloatArray]:
    """Draws [units of the parameters] before any fact is asked, from the ranges of the table."""
    return values_at(
        np.array(
            [
                generator.standard_normal(count)
                if kind == "log-normal"
                else generator.random(count)
                for _, kind, *_ in _drawn()
            ]
        )
    )


def coordinates(values: dict[str, FloatArray]) -> FloatArray:
    """Where draws stand in what `prior` drew them from, one row a drawn parameter: the inverse of `values_at`.

    Parameters
    ----------
    values : dict of array
        Draws by parameter [units of the parameters], each (N,).

    Returns
    -------
    array
        (D, N): 0 to 1 between the limits of the table, or standard deviations from the middle where it is normal [-].

    Examples
    --------
    >>> there = coordinates(prior(5, np.random.default_rng(1)))
    >>> print(there.shape, bool(np.all(there[:-1] >= 0) and np.all(there[:-1] <= 1)))
    (25, 5) True
    """
    found = []
    for name, kind, low, high in _drawn():
        x = values["gas_share"] / values[name] if kind == "gas" else values[name]
        found.append(((x if kind == "uniform" else np.log(x)) - low) / (high - low))
    return np.array(found)


def values_at(places: FloatArray) -> dict[str, FloatArray]:
    """Draws by parameter [units of the parameters] from where they stand in what they are drawn from [-], (D, N)."""
    out = {name: np.full(places.shape[1], float(row["default"])) for name, row in rows().items()}
    for (name, kind, low, high), stand in zip(_drawn(), places, strict=True):
        x = low + (high - low) * stand
        out[name] = (
            x if kind == "uniform" else out["gas_share"] / np.exp(x) if kind == "gas" else np.exp(x)
        )
    return out


def log_prior(places: FloatArray) -> FloatArray:
    """Logarithm of how plausible places are before any fact is asked [-]: minus infinity outside the limits, (N,)."""
    total = np.zeros(places.shape[1])
    for (_, kind, *_), x in zip(_drawn(), places, strict=True):
        total += (
            -0.5 * x**2 if kind == "log-normal" else np.where((x >= 0) & (x <= 1), 0.0, -np.inf)
        )
    return total


def walls() -> Any:
    """Which coordinates end at 0 and 1, (D,): true or false."""
    return np.array([kind != "log-normal" for _, kind, *_ in _drawn()])


@functools.cache
def _drawn() -> tuple[tuple[str, str, float, float], ...]:
    """Every parameter that is drawn: its name, how, and what stands for 0 and 1 in its coordinate [log of its unit]."""
    found = []
    for name, row in rows().items():
        kind, *more = row["drawn"].split()
        low, high, middle = float(row["low"]), float(row["high"]), float(row["default"])
        if kind == "log-normal":
            found.append((name, kind, np.log(middle), np.log(middle) + float(more[-1])))
        elif kind != "held":
            ends = GAS_RATIO if kind == "gas" else (low, high)
            found.append((name, kind, *(ends if kind == "uniform" else np.log(ends))))
    return tuple(found)


def predictions(values: dict[str, FloatArray]) -> dict[str, FloatArray]:
    """What every fact [s or µm/min] comes out as under each set of parameters, and the weak film, in lots of 400."""
    count = next(iter(values.values())).size
    found: dict[str, list[FloatArray]] = {f.name: [] for f in (*FACTS, WEAK_FILM)}
    for first in range(0, count, MOST_DRAWS):
        lot = RateParameters(
            **{n: as_draws(v[first : first + MOST_DRAWS]) for n, v in values.items()}
        )
        for fact in (*FACTS, WEAK_FILM):
            found[fact.name].append(fact.predict(lot))
    return {name: np.concatenate(lots) for name, lots in found.items()}


def make(
    count: int = MOST_DRAWS, seed: int = SEED
) -> tuple[dict[str, FloatArray], list[dict[str, Any]]]:
    """Make the plausible draws and the leave-one-out table.

    Parameters
    ----------
    count : int
        How many draws to keep.
    seed : int
        Seed of the generator.

    Returns
    -------
    tuple
        Draws by parameter [units of the parameters], and the rows of the leave-one-out table [s or µm/min].
    """
    drawn = prior(CANDIDATES, np.random.default_rng(seed))
    seen = predictions(drawn)
    met = {f.name: f.met(seen[f.name]) for f in FACTS}
    every = np.all(list(met.values()), axis=0)
    if every.sum() < count:
        raise RuntimeError(
            f"only {every.sum()} of {CANDIDATES} candidates meet every fact: fewer than {count}"
        )
    table = []
    for fact in (*FACTS, WEAK_FILM):
        others = np.all([met[f.name] for f in FACTS if f is not fact], axis=0)
        table.append(_line(fact, seen[fact.name][others]))
    ratio = dataclasses.replace(
        WEAK_FILM, name="ratio of the films", practice="8.8-11.4", seen=(8.8, 11.4)
    )
    table.append(_line(ratio, (seen["strong film"] / seen["weak film"])[every], unit="-"))
    keep = np.flatnonzero(every)[:count]
    return {name: column[keep] for name, column in drawn.items()}, table


def _line(fact: Fact, values: FloatArray, unit: str | None = None) -> dict[str, Any]:
    low, middle, high = np.quantile(values, (0.1, 0.5, 0.9), method="inverted_cdf")
    return {
        "fact": fact.name,
        "low": f"{low:.4g}",
        "middle": f"{middle:.4g}",
        "high": f"{high:.4g}",
        "unit": unit or ("s" if fact.volume else "µm/min"),
        "practice": fact.practice,
        "seen_low": f"{fact.seen[0]:g}",
        "seen_high": f"{fact.seen[1]:g}",
        "draws": values.size,
        "source": fact.source,
    }


def write(folder: Path) -> None:
    """Write `draws.csv` and `leave_one_out.csv` [units of the parameters; s or µm/min] into a folder."""
    drawn, table = make()
    with (folder / "draws.csv").open("w", newline="", encoding="utf-8") as out:
        lines = csv.writer(out, lineterminator="\n")
        lines.writerow(drawn)
        lines.writerows(
            [f"{value:.8g}" for value in row] for row in zip(*drawn.values(), strict=True)
        )
    with (folder / "leave_one_out.csv").open("w", newline="", encoding="utf-8") as out:
        sheet = csv.DictWriter(out, table[0].keys(), lineterminator="\n")
        sheet.writeheader()
        sheet.writerows(table)


if __name__ == "__main__":
    write(Path(str(resources.files("pcbchem"))) / "data")
