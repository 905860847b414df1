"""A second reading of the verdict rules, from arrays of draws alone, and random inputs for it.

Every limit is written here once more, in the units of people: common practice, no source, except
the two of the law (Regulation (EU) 2019/1148 Annex I; SI 2023/63 regulation 8). Of the package only
solutions, mixing and the draws of the bottles are used, none of its rules.
"""

import numpy as np

from pcbchem import Board, Bottle, Foil, Solution, Tray, UsedBath, mix
from pcbchem.bench.plan.inputs import Inputs, used_bath_solution
from pcbchem.bench.plan.pours import bottle_strengths
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
BEYOND = 1 + 1e-12  # a quantity over its limit: more than this is beyond it


def cut(values, tenths):
    """Return the smallest value that so many tenths of the draws do not pass.

    By sorting: no interpolation, and infinity goes.
    """
    ordered = np.sort(np.asarray(values, dtype=float), axis=-1)
    count = ordered.shape[-1]
    return ordered[..., -(-tenths * count // 10) - 1][()]


def liquids_of(inputs):
    """Make what is poured, in order, of what the bottles may hold: by parts, by hand."""
    strengths, T = bottle_strengths(inputs), inputs.T_bottles
    bath = inputs.bath_per_area * float(inputs.board.area)
    kept_share = 0.0 if inputs.used_bath is None else inputs.used_bath.share
    part = (1 - kept_share) * bath / sum(inputs.parts)
    water, acid, peroxide = (part * number for number in inputs.parts)
    late = 0.0 if inputs.second is None else inputs.second[0] * peroxide
    liquids = {
        "water": Solution.of(volume=water, T=T),
        "acid": Solution.of(volume=acid, T=T, HCl=strengths["acid"]),
        "peroxide": Solution.of(volume=peroxide - late, T=T, H2O2=strengths["peroxide"]),
        SECOND: Solution.of(volume=late, T=T, H2O2=strengths["peroxide"]),
    }
    if inputs.used_bath is not None:
        contents = [strengths[f"used {name}"] for name in ("copper", "acid", "peroxide")]
        liquids["used bath"] = used_bath_solution(kept_share * bath, T, *contents)
    order = ("water", "used bath", "acid", "peroxide", SECOND)
    if inputs.peroxide.high <= 0.06:  # mostly water: the acid goes into it
        order = ("water", "used bath", "peroxide", "acid", SECOND)
    return {
        name: liquids[name]
        for name in order
        if name in liquids and np.any(np.asarray(liquids[name].mass) > 0)
    }


def acid_met(inputs, liquids):
    """Return the acid in what peroxide is poured into, by draw [% by weight].

    Peroxide of up to 6 % goes in before the acid.
    """
    poured_before = ("water", "used bath")
    if inputs.peroxide.high > 0.06:
        poured_before = ("water", "used bath", "acid")
    before = [liquids[name] for name in poured_before if name in liquids]
    if "peroxide" not in liquids or not before:
        return 0.0
    masses = [np.asarray(liquid.mass) for liquid in before]
    shares = [np.asarray(liquid.mass_fraction("HCl")) for liquid in before]
    acid = sum(mass * share for mass, share in zip(masses, shares, strict=True))
    return 100 * acid / np.maximum(sum(masses), 1e-30)


def figures_of_run(run, after, mixture):
    """Read a run and one mixture, draw by draw: seconds, °C, mol/L, per cent by weight, times."""
    with collecting_warnings():
        acid, peroxide = mixture.concentration("HCl"), mixture.mass_fraction("H2O2")
    time = np.asarray(run.time_to_clear)
    figures = {
        "time": time,
        "etching": np.asarray(run.peak_temperature) - ZERO,
        "standing": np.asarray(after.peak_temperature) - ZERO,
        "acid": np.asarray(acid) / 1000,
        "peroxide": 100 * np.asarray(peroxide),
        "reserve": np.asarray(run.reserve),
    }
    return {name: np.broadcast_to(values, time.shape) for name, values in figures.items()}


def open_surface(inputs, litres):
    """Return the open liquid [m²]: the tray's, or 10 mm deep with room for the board.

    A litre over a square metre is a millimetre deep.
    """
    if inputs.tray.open_area is not None:
        return float(inputs.tray.open_area)
    return np.maximum(litres / 10, 1.3 * float(inputs.board.area))


def depth_needed(inputs):
    """Return how deep a bath covers the board [mm]: 3, or its shorter side where it stands."""
    board = inputs.board
    if inputs.tray.facing != "upright":
        return 3.0
    side = board.side if board.width is None else min(board.width, board.height)
    return 1000 * float(side)


def figures_of(inputs, run, after, liquids):
    """Read all that the rules are about, draw by draw: as `figures_of_run`, and what is poured.

    The second portion of the peroxide goes only to the draws that are not clear when it is due; the
    tray has room for it from the start.
    """
    at_once = [liquid for name, liquid in liquids.items() if name != SECOND]
    first = last = mix(*at_once)
    figures = figures_of_run(run, after, first)
    is_late = np.zeros_like(figures["time"], dtype=bool)
    if SECOND in liquids:
        last = mix(first, liquids[SECOND])
        is_late = figures["time"] > inputs.second[1]

    def by_draw(read):
        return np.where(is_late, np.asarray(read(last)), np.asarray(read(first)))

    def copper_it_can_take(bath):
        # Cu + H2O2 + 2 HCl -> CuCl2 + 2 H2O
        return np.minimum(np.asarray(bath.amount("H2O2")), np.asarray(bath.amount("HCl")) / 2)

    with collecting_warnings():
        litres = by_draw(lambda bath: 1000 * np.asarray(bath.volume))
        shallow = 1000 * np.asarray(first.volume)
        room = shallow
        if SECOND in liquids:
            every = sum(1000 * np.asarray(liquid.volume) for liquid in liquids.values())
            room = np.mean(every + 0 * shallow, axis=-1, keepdims=True)
        acid = by_draw(lambda bath: bath.concentration("HCl")) / 1000
        peroxide = 100 * by_draw(lambda bath: bath.mass_fraction("H2O2"))
        able = by_draw(copper_it_can_take)
    figures |= {
        "acid": np.maximum(figures["acid"], acid),
        "peroxide": np.maximum(figures["peroxide"], peroxide),
        "reserve": able / float(inputs.board.copper),
        "met": acid_met(inputs, liquids),
        "litres": litres,
        "cover": shallow / open_surface(inputs, room) / depth_needed(inputs),
    }
    shape = figures["time"].shape
    return {name: np.broadcast_to(values, shape) for name, values in figures.items()}


def figures_in(plan):
    """Read a plan: its run and its hour afterwards, and its bottles poured by hand."""
    with collecting_warnings():
        return figures_of(plan.inputs, plan.run, plan.after, liquids_of(plan.inputs))


def worst_bottle(acid, peroxide, place):
    """Return the strength of the worse bottle over the limit of the place [-].

    A label counts if it is near what is inside.
    """
    worst = 0.0
    for bottle in (acid, peroxide):
        is_near = (
            bottle.label is not None
            and bottle.low <= bottle.label
            and bottle.high <= bottle.label + 0.01 + 1e-9
        )
        percent = 100 * (bottle.label if is_near else bottle.high)
        if bottle.substance in LAW[place]:
            worst = max(worst, round(percent / LAW[place][bottle.substance], 9))
    return worst


def law_of(inputs):
    """Return `worst_bottle` of a plan's inputs [-]."""
    return worst_bottle(inputs.acid, inputs.peroxide, inputs.place)


def over_limits(figures, law):
    """Return each rule's quantity over its limit, so that above 1 is beyond.

    Temperatures by their °C. `law`: from `worst_bottle`.
    """
    with np.errstate(divide="ignore"):
        return {
            "hot while etching": cut(figures["etching"], 9) / 60,
            "most must be stopped": cut(figures["etching"], 5) / 45,
            "too fast": 30 / cut(figures["time"], 1),
            "board not covered": np.divide(1, cut(figures["cover"], 9)),
            "much bath": cut(figures["litres"], 9) / 1,
            "hot when left standing": cut(figures["standing"], 5) / 75,
            "may boil when left standing": cut(figures["standing"], 9) / 95,
            "too much acid": cut(figures["acid"], 9) / 6,
            "too much peroxide": cut(figures["peroxide"], 9) / 12,
            "strong acid meets peroxide": cut(figures["met"], 9) / 12,
            "never clears": np.isinf(figures["time"]).mean(axis=-1) / 0.1,
            "warm while etching": cut(figures["etching"], 9) / 45,
            "warm when left standing": cut(figures["standing"], 9) / 60,
            "acid fumes": cut(figures["acid"], 9) / 3,
            "longer than resist stands": cut(figures["time"], 9) / (25 * 60),
            "little reserve": np.divide(3, cut(figures["reserve"], 1)),
            "above the public limit": law,
        }


def verdict_of(figures, law):
    """Read the verdict of one bath: names of the rules that are passed, and the verdict."""
    names = {name for name, share in over_limits(figures, law).items() if share > BEYOND}
    if names & set(REFUSE):
        return names, "do not mix"
    return names, "with cares" if names else "mix it"


def severities(outlook, law):
    """Read the verdict of many baths side by side: 0, 1 or 2."""
    with collecting_warnings():
        figures = figures_of(outlook.inputs, outlook.run, outlook.after, outlook.pours)
    severity = np.zeros(np.shape(outlook.run.time_to_clear)[:-1], dtype=int)
    for name, share in over_limits(figures, law).items():
        level = 2 if name in REFUSE else 1
        severity = np.maximum(severity, np.where(np.asarray(share) > BEYOND, level, 0))
    return severity


def some_inputs(random, draws):
    """Draw inputs that people might try: household and stock bottles, small boards and large."""
    used_bath = second = None
    if random.random() < 0.3:
        copper, acid = random.uniform(20, 1000), random.uniform(200, 4000)
        peroxide, share = random.uniform(0, 1500), random.uniform(0.1, 0.95)
        used_bath = UsedBath(
            share, (0.8 * copper, copper), (0.7 * acid, acid), (0.3 * peroxide, peroxide)
        )
    if random.random() < 0.25:
        second = (random.uniform(0.2, 0.8), log_uniform(random, 10, 2000))
    water = 0.0 if random.random() < 0.3 else round(random.uniform(0, 5), 1)
    acid, peroxide = random.uniform(1, 4, 2).round(1)
    area, depth = log_uniform(random, 3e-4, 3e-2), log_uniform(random, 0.004, 0.1)
    facing, open_area = some_tray(random, area, depth)
    return Inputs(
        acid=some_bottle(random, "HCl", (0.05, 0.10, 0.20, 0.31, 0.37), 0.37),
        peroxide=some_bottle(random, "H2O2", (0.03, 0.06, 0.12, 0.30), 0.35),
        parts=(water, acid, peroxide),
        board=Board(area=area, foil=Foil.ounces(float(random.choice((0.5, 1.0, 2.0))))),
        tray=Tray(
            str(random.choice(("rocked", "still", "bubbled"))),
            facing,
            open_area,
            T_air=ZERO + random.uniform(12, 30),
        ),
        bath_per_area=depth,
        place=str(random.choice(PLACES)),
        T_bottles=ZERO + random.uniform(12, 28),
        used_bath=used_bath,
        second=second,
        draws=draws,
        seed=int(random.integers(1000)),
    )


def log_uniform(random, low, high):
    """Draw a number whose logarithm is anywhere between two others' [any unit]."""
    return float(np.exp(random.uniform(np.log(low), np.log(high))))


def some_bottle(random, substance, usual, most):
    """Draw a bottle: of a usual strength or any, known by its label or doubted."""
    strength = float(random.choice(usual))
    if random.random() < 0.5:
        strength = random.uniform(0.01, most)
    if random.random() < 0.5:
        return Bottle.labelled(substance, strength)
    low = strength * random.uniform(0.5, 1)
    return Bottle(substance, low, strength, strength if random.random() < 0.5 else None)


def some_tray(random, area, depth):
    """Draw a tray: nobody says how large, or as it comes, or a narrow jar for an upright board.

    Returns which way the board faces and the open area [m²], by its area [m²] and the bath over it
    [m³/m²].
    """
    if random.random() < 0.8:
        return "up", None
    if random.random() < 0.5:
        return "up", area * random.uniform(1, 8)
    return "upright", area * depth / (np.sqrt(area) * random.uniform(0.7, 2))
