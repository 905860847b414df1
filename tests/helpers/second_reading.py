"""A second reading of the verdict rules, from arrays of draws alone, and random plans to hold against it.

Every limit is written here once more, in the units of people: common practice, no source, except the two of the law
(Regulation (EU) 2019/1148 Annex I; SI 2023/63 regulation 8).
"""

import numpy as np

from pcbchem import Board, Bottle, Foil, Kept, Solution, Tray, mix
from pcbchem.bench.plan.inputs import Inputs, kept_solution
from pcbchem.bench.plan.outlook import doubtful
from pcbchem.common.limits import collecting_warnings

ZERO = 273.15
REFUSE = {
    "hot while etching": "harm",
    "most must be stopped": "harm",
    "too fast": "harm",
    "hot when left standing": "harm",
    "may boil when left standing": "harm",
    "too much acid": "harm",
    "too much peroxide": "harm",
    "strong acid meets peroxide": "harm",
    "never clears": "will not finish",
    "board not covered": "will not finish",
}
SECOND = "peroxide, second portion"
LAW = {
    "EU": {"H2O2": 12.0},
    "GB": {"H2O2": 12.0, "HCl": 10.0},
    "elsewhere": {"H2O2": 12.0, "HCl": 10.0},
}
PLACES = tuple(LAW)


def cut(values, tenths):
    """The smallest value that so many tenths of the draws do not pass, by sorting: no interpolation, infinity goes."""
    ordered = np.sort(np.asarray(values, dtype=float), axis=-1)
    n = ordered.shape[-1]
    return ordered[..., -(-tenths * n // 10) - 1][()]


def liquids_of(given):
    """What is poured, in order, each a solution of what the bottles may hold: by parts of the bath, by hand."""
    strength, T = doubtful(given), given.T_bottles
    bath = given.bath_per_area * float(given.board.area)
    share, kept = 0.0, {}
    if given.kept is not None:
        share = given.kept.share
        kept = {
            "kept bath": kept_solution(
                share * bath, T, *(strength[f"kept {s}"] for s in ("copper", "acid", "peroxide"))
            )
        }
    part = (1 - share) * bath / sum(given.parts)
    water, acid, peroxide = (part * each for each in given.parts)
    late = 0.0 if given.second is None else given.second[0] * peroxide
    pour = {
        "acid": {"volume": acid, "HCl": strength["acid"]},
        "peroxide": {"volume": peroxide - late, "H2O2": strength["peroxide"]},
    }
    weak = given.peroxide.high <= 0.06  # mostly water: the acid goes into it
    order = ("peroxide", "acid") if weak else ("acid", "peroxide")
    made = {
        "water": Solution.of(volume=water, T=T),
        **kept,
        **{name: Solution.of(T=T, **pour[name]) for name in order},
        SECOND: Solution.of(volume=late, T=T, H2O2=strength["peroxide"]),
    }
    return {name: liquid for name, liquid in made.items() if np.any(np.asarray(liquid.mass) > 0)}


def met(given, liquids):
    """Per cent of acid by weight in what peroxide is poured into, by draw; up to 6 % it goes in before the acid."""
    poured = (
        ("water", "kept bath", "acid") if given.peroxide.high > 0.06 else ("water", "kept bath")
    )
    before = [liquids[name] for name in poured if name in liquids]
    if "peroxide" not in liquids or not before:
        return 0.0
    masses = [np.asarray(liquid.mass) for liquid in before]
    held = sum(
        mass * np.asarray(liquid.mass_fraction("HCl"))
        for mass, liquid in zip(masses, before, strict=True)
    )
    return 100 * held / np.maximum(sum(masses), 1e-30)


def arrays(run, after, mixture):
    """What a run and one mixture tell, draw by draw: seconds, °C, mol/L, per cent by weight, times."""
    with collecting_warnings():
        acid, peroxide = mixture.concentration("HCl"), mixture.mass_fraction("H2O2")
    time = np.asarray(run.time_to_clear)
    found = {
        "time": time,
        "etching": np.asarray(run.peak_temperature) - ZERO,
        "standing": np.asarray(after.peak_temperature) - ZERO,
        "acid": np.asarray(acid) / 1000,
        "peroxide": 100 * np.asarray(peroxide),
        "reserve": np.asarray(run.reserve),
    }
    return {name: np.broadcast_to(values, time.shape) for name, values in found.items()}


def surface_of(given, litres):
    """Open liquid [m²]: as the tray was named, or 10 mm deep with all that is to go in, and room for the board."""
    if given.tray.open_area is not None:
        return float(given.tray.open_area)
    return np.maximum(
        litres / 10, 1.3 * float(given.board.area)
    )  # a litre over a square metre is a millimetre


def whole(given, run, after, liquids):
    """All that the rules are about, draw by draw: as `arrays`, by what lies in the tray first and what is poured.

    The second portion of the peroxide goes only to the draws that are not clear when it is due; the tray has room
    for it from the start.
    """
    first = mix(*(liquid for name, liquid in liquids.items() if name != SECOND))
    had = arrays(run, after, first)
    baths = [first] if SECOND not in liquids else [first, mix(first, liquids[SECOND])]
    late = (
        (had["time"] > given.second[1])
        if len(baths) == 2
        else np.zeros_like(had["time"], dtype=bool)
    )

    def poured(read):
        return np.where(late, np.asarray(read(baths[-1])), np.asarray(read(first)))

    with collecting_warnings():
        litres = poured(lambda bath: 1000 * np.asarray(bath.volume))
        shallow = 1000 * np.asarray(first.volume)
        at_hand = sum(1000 * np.asarray(liquid.volume) for liquid in liquids.values()) + 0 * shallow
        room = np.mean(at_hand, axis=-1, keepdims=True) if SECOND in liquids else shallow
        had["acid"] = np.maximum(had["acid"], poured(lambda bath: bath.concentration("HCl")) / 1000)
        had["peroxide"] = np.maximum(
            had["peroxide"], 100 * poured(lambda bath: bath.mass_fraction("H2O2"))
        )
        # Cu + H2O2 + 2 HCl -> CuCl2 + 2 H2O
        able = poured(
            lambda bath: np.minimum(
                np.asarray(bath.amount("H2O2")), np.asarray(bath.amount("HCl")) / 2
            )
        )
    side = 1000 * float(
        given.board.side
        if given.board.width is None
        else min(given.board.width, given.board.height)
    )
    had |= {
        "reserve": able / float(given.board.copper),
        "met": met(given, liquids),
        "litres": litres,
        "cover": shallow
        / surface_of(given, room)
        / (side if given.tray.facing == "upright" else 3),
    }
    return {name: np.broadcast_to(values, had["time"].shape) for name, values in had.items()}


def whole_of(plan):
    """`whole` of a plan: its run and its hour afterwards, and its bottles poured by hand."""
    with collecting_warnings():
        return whole(plan.inputs, plan.run, plan.after, liquids_of(plan.inputs))


def worst_bottle(acid, peroxide, place):
    """Per cent by weight over the limit of the place, the worse bottle: a label counts if it is near what is inside."""
    near = {
        bottle.substance: bottle.label is not None
        and bottle.low <= bottle.label
        and bottle.high <= bottle.label + 0.01 + 1e-9
        for bottle in (acid, peroxide)
    }
    counts = {
        bottle.substance: 100 * (bottle.label if near[bottle.substance] else bottle.high)
        for bottle in (acid, peroxide)
    }
    return max(round(counts[substance] / limit, 9) for substance, limit in LAW[place].items())


def looked_at(had, law):
    """Each rule's quantity over its limit, so that above 1 is beyond: temperatures by their °C."""
    with np.errstate(divide="ignore"):
        return {
            "hot while etching": cut(had["etching"], 9) / 60,
            "most must be stopped": cut(had["etching"], 5) / 45,
            "too fast": 30 / cut(had["time"], 1),
            "board not covered": np.divide(1, cut(had["cover"], 9)),
            "much bath": cut(had["litres"], 9) / 1,
            "hot when left standing": cut(had["standing"], 5) / 75,
            "may boil when left standing": cut(had["standing"], 9) / 95,
            "too much acid": cut(had["acid"], 9) / 6,
            "too much peroxide": cut(had["peroxide"], 9) / 12,
            "strong acid meets peroxide": cut(had["met"], 9) / 12,
            "never clears": np.isinf(had["time"]).mean(axis=-1) / 0.1,
            "warm while etching": cut(had["etching"], 9) / 45,
            "warm when left standing": cut(had["standing"], 9) / 60,
            "acid fumes": cut(had["acid"], 9) / 3,
            "longer than resist stands": cut(had["time"], 9) / (25 * 60),
            "little reserve": np.divide(3, cut(had["reserve"], 1)),
            "above the public limit": law,
        }


def beyond(had, law):
    """Names of the rules that are passed by one bath, and its verdict."""
    names = {name for name, over in looked_at(had, law).items() if over > 1 + 1e-12}
    verdict = "do not mix" if names & set(REFUSE) else "with cares" if names else "mix it"
    return names, verdict


def levels(seen, law):
    """The verdict of many baths side by side: 0, 1 or 2."""
    with collecting_warnings():
        over = looked_at(whole(seen.inputs, seen.run, seen.after, seen.pours), law)
    level = np.zeros(np.shape(seen.run.time_to_clear)[:-1], dtype=int)
    for name, value in over.items():
        level = np.maximum(
            level, np.where(np.asarray(value) > 1 + 1e-12, 2 if name in REFUSE else 1, 0)
        )
    return level


def read(plan):
    """A plan's verdict read anew: names of the rules that are passed, verdict."""
    given = plan.inputs
    return beyond(whole_of(plan), worst_bottle(given.acid, given.peroxide, given.place))


def some_inputs(random, draws):
    """Inputs that people might try: household and stock bottles, one part to many, small boards and large."""

    def bottle(substance, usual, most):
        strength = (
            float(random.choice(usual)) if random.random() < 0.5 else random.uniform(0.01, most)
        )
        if random.random() < 0.5:
            return Bottle.labelled(substance, strength)
        low = strength * random.uniform(0.5, 1)
        return Bottle(substance, low, strength, strength if random.random() < 0.5 else None)

    kept = second = None
    if random.random() < 0.3:
        copper, acid, peroxide = (
            random.uniform(20, 1000),
            random.uniform(200, 4000),
            random.uniform(0, 1500),
        )
        kept = Kept(
            random.uniform(0.1, 0.95),
            (0.8 * copper, copper),
            (0.7 * acid, acid),
            (0.3 * peroxide, peroxide),
        )
    if random.random() < 0.25:
        second = (random.uniform(0.2, 0.8), float(np.exp(random.uniform(np.log(10), np.log(2000)))))
    parts = (
        0.0 if random.random() < 0.3 else round(random.uniform(0, 5), 1),
        *(random.uniform(1, 4, 2).round(1)),
    )
    area, depth = (
        float(np.exp(random.uniform(*np.log(ends)))) for ends in ((3e-4, 3e-2), (0.004, 0.1))
    )
    facing, open_area = "up", None
    if random.random() < 0.2:  # a tray as it comes, or a narrow jar in which the board stands
        facing = str(random.choice(("up", "upright")))
        open_area = float(
            area * random.uniform(1, 8)
            if facing == "up"
            else area * depth / (np.sqrt(area) * random.uniform(0.7, 2))
        )
    return Inputs(
        bottle("HCl", (0.05, 0.10, 0.20, 0.31, 0.37), 0.37),
        bottle("H2O2", (0.03, 0.06, 0.12, 0.30), 0.35),
        parts,
        Board(area=area, foil=Foil.ounces(float(random.choice((0.5, 1.0, 2.0))))),
        Tray(
            str(random.choice(("rocked", "still", "bubbled"))),
            facing,
            open_area,
            T_air=ZERO + random.uniform(12, 30),
        ),
        depth,
        str(random.choice(PLACES)),
        ZERO + random.uniform(12, 28),
        kept,
        second,
        draws,
        int(random.integers(1000)),
    )
