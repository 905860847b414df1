"""A second reading of the verdict rules, from arrays of draws alone, and random plans to hold against it.

Every limit is written here once more, in the units of people: common practice, no source, except the two of the law
(Regulation (EU) 2019/1148 Annex I; SI 2023/63 regulation 8).
"""

import warnings

import numpy as np

from pcbchem import Board, Bottle, Foil, Kept, RangeWarning, Tray
from pcbchem.bench.inputs import Inputs
from pcbchem.bench.outlook import poured
from pcbchem.matter.arrays import hushed

ZERO = 273.15
REFUSE = {"hot while etching": "harm", "too fast": "harm", "hot when left standing": "harm", "too much acid": "harm",
          "too much peroxide": "harm", "strong acid meets peroxide": "harm", "never clears": "will not finish"}
LAW = {"EU": {"H2O2": 12.0}, "GB": {"H2O2": 12.0, "HCl": 10.0}, "elsewhere": {"H2O2": 12.0, "HCl": 10.0}}
PLACES = tuple(LAW)


def cut(values, tenths):
    """The smallest value that so many tenths of the draws do not pass, by sorting: no interpolation, infinity goes."""
    ordered = np.sort(np.asarray(values, dtype=float), axis=-1)
    n = ordered.shape[-1]
    return ordered[..., -(-tenths * n // 10) - 1][()]


def met(given, liquids):
    """Per cent of acid by weight in what peroxide is poured into, draw by draw; 0 for shop peroxide, up to 6 %."""
    before = [liquids[name] for name in ("water", "kept bath", "acid") if name in liquids]
    if given.peroxide.high <= 0.06 or "peroxide" not in liquids or not before:
        return 0.0
    masses = [np.asarray(liquid.mass) for liquid in before]
    held = sum(mass * np.asarray(liquid.mass_fraction("HCl")) for mass, liquid in zip(masses, before, strict=True))
    return 100 * held / np.maximum(sum(masses), 1e-30)


def arrays(run, after, mixture, met=0.0):
    """What the rules are about, draw by draw: seconds, °C, mol/L, per cent by weight, times."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RangeWarning)
        acid, peroxide = mixture.concentration("HCl"), mixture.mass_fraction("H2O2")
    time = np.asarray(run.time_to_clear)
    found = {"time": time, "etching": np.asarray(run.peak_temperature) - ZERO,
             "standing": np.asarray(after.peak_temperature) - ZERO, "acid": np.asarray(acid) / 1000,
             "peroxide": 100 * np.asarray(peroxide), "reserve": np.asarray(run.reserve), "met": met}
    return {name: np.broadcast_to(values, time.shape) for name, values in found.items()}


def worst_bottle(acid, peroxide, place):
    """Per cent by weight over the limit of the place, the worse bottle: the label counts where it is not too low."""
    counts = {bottle.substance: 100 * (bottle.high if bottle.label is None else max(bottle.label, bottle.low))
              for bottle in (acid, peroxide)}
    return max(round(counts[substance] / limit, 9) for substance, limit in LAW[place].items())


def looked_at(had, law):
    """Each rule's quantity over its limit, so that above 1 is beyond: temperatures by their °C."""
    with np.errstate(divide="ignore"):
        return {"hot while etching": cut(had["etching"], 9) / 60, "too fast": 30 / cut(had["time"], 1),
                "hot when left standing": cut(had["standing"], 5) / 75, "too much acid": cut(had["acid"], 9) / 6,
                "too much peroxide": cut(had["peroxide"], 9) / 12,
                "strong acid meets peroxide": cut(had["met"], 9) / 12,
                "never clears": np.isinf(had["time"]).mean(axis=-1) / 0.1,
                "warm while etching": cut(had["etching"], 9) / 45,
                "warm when left standing": cut(had["standing"], 9) / 60,
                "acid fumes": cut(had["acid"], 9) / 3, "longer than resist stands": cut(had["time"], 9) / (25 * 60),
                "little reserve": np.divide(3, cut(had["reserve"], 1)), "above the public limit": law}


def beyond(had, law):
    """Names of the rules that are passed by one bath, and its verdict."""
    names = {name for name, over in looked_at(had, law).items() if over > 1 + 1e-12}
    verdict = "do not mix" if names & set(REFUSE) else "with cares" if names else "mix it"
    return names, verdict


def levels(seen, law):
    """The verdict of many baths side by side: 0, 1 or 2."""
    over = looked_at(arrays(seen.run, seen.after, seen.mixture, met(seen.given, seen.poured)), law)
    level = np.zeros(np.shape(seen.run.time_to_clear)[:-1], dtype=int)
    for name, value in over.items():
        level = np.maximum(level, np.where(np.asarray(value) > 1 + 1e-12, 2 if name in REFUSE else 1, 0))
    return level


def read(plan):
    """A plan's verdict read anew: names of the rules that are passed, verdict."""
    given = plan.inputs
    with hushed():
        liquids = poured(given)
    had = arrays(plan.run, plan.after, plan.mixture, met(given, liquids))
    return beyond(had, worst_bottle(given.acid, given.peroxide, given.place))


def some_inputs(random, draws):
    """Inputs that people might try: household and stock bottles, one part to many, small boards and large."""
    def bottle(substance, usual, most):
        strength = float(random.choice(usual)) if random.random() < 0.5 else random.uniform(0.01, most)
        if random.random() < 0.5:
            return Bottle.labelled(substance, strength)
        low = strength * random.uniform(0.5, 1)
        return Bottle(substance, low, strength, strength if random.random() < 0.5 else None)

    kept = second = None
    if random.random() < 0.3:
        copper, acid, peroxide = random.uniform(20, 1000), random.uniform(200, 4000), random.uniform(0, 1500)
        kept = Kept(random.uniform(0.1, 0.95), (0.8 * copper, copper), (0.7 * acid, acid), (0.3 * peroxide, peroxide))
    if random.random() < 0.25:
        second = (random.uniform(0.2, 0.8), float(np.exp(random.uniform(np.log(10), np.log(2000)))))
    parts = (0.0 if random.random() < 0.3 else round(random.uniform(0, 5), 1), *(random.uniform(1, 4, 2).round(1)))
    return Inputs(bottle("HCl", (0.05, 0.10, 0.20, 0.31, 0.37), 0.37), bottle("H2O2", (0.03, 0.06, 0.12, 0.30), 0.35),
                  parts, Board(area=float(np.exp(random.uniform(np.log(3e-4), np.log(2e-2)))),
                               foil=Foil.ounces(float(random.choice((0.5, 1.0, 2.0))))),
                  Tray(str(random.choice(("rocked", "still", "bubbled"))), "up", T_air=ZERO + random.uniform(12, 30)),
                  float(np.exp(random.uniform(np.log(0.004), np.log(0.1)))), str(random.choice(PLACES)),
                  ZERO + random.uniform(12, 28), kept, second, draws, int(random.integers(1000)))
