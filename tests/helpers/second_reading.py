"""A second reading of the verdict rules, from arrays of draws alone, and random inputs for it.

Every limit is written here once more, in the units of people: our limits, no source, but for 45 °C,
3 mol/L of acid and the 20 to 30 min of resist, which are common practice, no source. Of the package
only solutions, mixing and the draws of the bottles are used, none of its rules.
"""

import numpy as np

from pcbchem import Board, Bottle, Foil, Solution, Tray, UsedBath, mix
from pcbchem.bench.plan.inputs import Inputs, used_bath_solution
from pcbchem.bench.plan.pours import bottle_strengths
from pcbchem.common.limits import collecting_warnings

ZERO = 273.15
HARM, NOT_DONE = "harm", "will not finish"
REFUSE = {
    "hot while etching": HARM,
    "most must be stopped": HARM,
    "too fast": HARM,
    "hot when left standing": HARM,
    "may run away when left standing": HARM,
    "too much acid": HARM,
    "too much peroxide": HARM,
    "peroxide poured into acid": HARM,
    "peroxide poured into strong acid": HARM,
    "acid poured into peroxide": HARM,
    "strong acid poured into peroxide": HARM,
    "used bath not yet quiet": HARM,
    "hot bottles": HARM,
    "second portion too early": HARM,
    "second portion into a warm bath": HARM,
    "far too much bath": HARM,
    "never clears": NOT_DONE,
    "board not covered": NOT_DONE,
}
SECOND = "peroxide, second portion"
FROM = ("peroxide poured into strong acid", "strong acid bottle")  # the limit itself is too much
PLACES = ("EU", "GB", "US", "elsewhere")
BEYOND = 1 + 1e-12  # a quantity over its limit: more than this is beyond it


def cut(values, tenths):
    """Return the smallest value that so many tenths of the draws do not exceed.

    By sorting: no interpolation, and infinity goes.
    """
    ordered = np.sort(np.asarray(values, dtype=float), axis=-1)
    count = ordered.shape[-1]
    return ordered[..., int(np.ceil(round(tenths * count / 10, 9))) - 1][()]


def strongest(bottle):
    """Return the most that a bottle may hold [% by weight]: its upper end, or its label."""
    return round(100 * max(bottle.high, bottle.label or 0.0), 9)


def acid_goes_into_peroxide(inputs):
    """Whether the peroxide is mostly water: to 6 %, or 4 % where the acid is of 25 % and more."""
    most = 4 if strongest(inputs.acid) >= 25 else 6
    return strongest(inputs.peroxide) <= most


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
    if acid_goes_into_peroxide(inputs):
        order = ("water", "used bath", "peroxide", "acid", SECOND)
    return {
        name: liquids[name]
        for name in order
        if name in liquids and np.any(np.asarray(liquids[name].mass) > 0)
    }


def meetings(inputs, liquids):
    """Read what meets what by the strongest each may be, pour by pour [% by weight].

    Returns the acid that peroxide over 6 % and over 4 % meets, and the peroxide that acid over 12 %
    and of 25 % and more meets.
    """
    acid, peroxide = strongest(inputs.acid), strongest(inputs.peroxide)
    whole, acid_there, peroxide_there = 0.0, 0.0, 0.0
    met_by_peroxide, met_by_acid = [0.0], [0.0]
    for name, liquid in liquids.items():
        # as much of it in every draw, at one temperature
        volume, T = (np.atleast_1d(value)[..., :1] for value in (liquid.volume, liquid.T))
        if name == "acid":
            strong = Solution.of(volume=volume, T=T, HCl=acid / 100)
        elif name in ("peroxide", SECOND):
            strong = Solution.of(volume=volume, T=T, H2O2=peroxide / 100)
        elif name == "used bath":
            used = inputs.used_bath
            strong = used_bath_solution(volume, T, used.copper[0], used.acid[1], used.peroxide[1])
        else:
            strong = Solution.of(volume=volume, T=T)
        mass = np.asarray(strong.mass)
        is_there = (whole > 0) & (mass > 0)
        with np.errstate(invalid="ignore", divide="ignore"):
            shares = [np.divide(there, whole) for there in (acid_there, peroxide_there)]
        if name in ("peroxide", SECOND):
            met_by_peroxide.append(np.where(is_there, shares[0], 0.0))
        if name == "acid":
            met_by_acid.append(np.where(is_there, shares[1], 0.0))
        whole = whole + mass
        acid_there = acid_there + mass * np.asarray(strong.mass_fraction("HCl"))
        peroxide_there = peroxide_there + mass * np.asarray(strong.mass_fraction("H2O2"))
    most_acid, most_peroxide = 0.0, 0.0
    for share in met_by_peroxide:
        most_acid = np.maximum(most_acid, np.round(100 * share, 9))
    for share in met_by_acid:
        most_peroxide = np.maximum(most_peroxide, np.round(100 * share, 9))
    return {
        "acid met": most_acid * (peroxide > 6),
        "strong acid met": most_acid * (peroxide > 4),
        "peroxide met": most_peroxide * (acid > 12),
        "peroxide met by strong acid": most_peroxide * (acid >= 25),
    }


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


def figures_of(inputs, run, day, liquids, warmth_before_second=-ZERO):
    """Read all that the rules are about, draw by draw: as `figures_of_run`, and what is poured.

    The second portion of the peroxide goes only to the draws that are not clear when it is due; the
    tray has room for it from the start. How warm the bath is by then [°C] is a figure of its own.
    """
    at_once = [liquid for name, liquid in liquids.items() if name != SECOND]
    first = last = mix(*at_once)
    figures = figures_of_run(run, day, first)
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
        **meetings(inputs, liquids),
        "used peroxide": 0.0 if inputs.used_bath is None else inputs.used_bath.peroxide[1] / 1000,
        "acid bottle": strongest(inputs.acid),
        "peroxide bottle": strongest(inputs.peroxide),
        "bottles": np.asarray(next(iter(liquids.values())).T) - ZERO,
        "second due": np.inf if inputs.second is None else inputs.second[1],
        "warmth before second": warmth_before_second,
        "bubbled": float(inputs.tray.agitation == "bubbled"),
        "sprayed": float(inputs.tray.agitation == "sprayed"),
        "litres": litres,
        "cover": shallow / open_surface(inputs, room) / depth_needed(inputs),
    }
    shape = figures["time"].shape
    return {name: np.broadcast_to(values, shape) for name, values in figures.items()}


def figures_in(plan):
    """Read a plan: its run and its day afterwards, and its bottles poured by hand."""
    warmth = float(plan.bands["second_bath_temperature"].high) - ZERO
    with collecting_warnings():
        return figures_of(plan.inputs, plan.run, plan.day, liquids_of(plan.inputs), warmth)


def warmth_before_second(outlook):
    """Read how warm 9 of 10 of the baths that need a second portion are at most before it [°C]."""
    if outlook.second_due is None:
        return -ZERO
    warmth, needed = np.asarray(outlook.before_second), np.asarray(outlook.second_due[0])
    rows = [
        cut(row[row_needed], 9) if row_needed.any() else 0.0
        for row, row_needed in zip(np.atleast_2d(warmth), np.atleast_2d(needed), strict=True)
    ]
    return np.reshape(rows, (*np.shape(needed)[:-1], 1)) - ZERO


def over_limits(figures):
    """Return each rule's quantity over its limit, so that above 1 is beyond.

    Temperatures by their °C.
    """
    with np.errstate(divide="ignore"):
        return {
            "hot while etching": cut(figures["etching"], 9) / 60,
            "most must be stopped": cut(figures["etching"], 5) / 45,
            "too fast": 30 / cut(figures["time"], 1),
            "board not covered": np.divide(1, cut(figures["cover"], 9)),
            "much bath": cut(figures["litres"], 9) / 1,
            "far too much bath": cut(figures["litres"], 9) / 3,
            "hot when left standing": cut(figures["standing"], 5) / 60,
            "may run away when left standing": cut(figures["standing"], 9) / 75,
            "too much acid": cut(figures["acid"], 9) / 6,
            "too much peroxide": cut(figures["peroxide"], 9) / 12,
            "peroxide poured into acid": cut(figures["acid met"], 9) / 12,
            "peroxide poured into strong acid": cut(figures["strong acid met"], 9) / 25,
            "acid poured into peroxide": cut(figures["peroxide met"], 9) / 6,
            "strong acid poured into peroxide": cut(figures["peroxide met by strong acid"], 9) / 4,
            "used bath not yet quiet": cut(figures["used peroxide"], 9) / 0.5,
            "hot bottles": cut(figures["bottles"], 9) / 35,
            "second portion too early": np.divide(60, cut(figures["second due"], 1)),
            "second portion into a warm bath": cut(figures["warmth before second"], 9) / 25,
            "never clears": np.isinf(figures["time"]).mean(axis=-1) / 0.1,
            "warm while etching": cut(figures["etching"], 9) / 45,
            "warm when left standing": cut(figures["standing"], 7.5) / 45,
            "very warm when left standing": cut(figures["standing"], 9) / 60,
            "acid fumes": cut(figures["acid"], 9) / 3,
            "longer than resist stands": cut(figures["time"], 9) / (25 * 60),
            "little reserve": np.divide(3, cut(figures["reserve"], 1)),
            "strong acid bottle": cut(figures["acid bottle"], 9) / 25,
            "strong peroxide bottle": cut(figures["peroxide bottle"], 9) / 12,
            "warm bottles": cut(figures["bottles"], 9) / 25,
            "mist": cut(figures["bubbled"], 9) / 0.5,
            "spray": cut(figures["sprayed"], 9) / 0.5,
        }


def is_beyond(name, share):
    """Whether a quantity over its limit is beyond it: above 1, or from 1 on."""
    if name in FROM:
        return np.asarray(share) >= 2 - BEYOND
    return np.asarray(share) > BEYOND


def verdict_of(figures):
    """Read the verdict of one bath: names of the rules whose limit is exceeded, and the verdict."""
    names = {name for name, share in over_limits(figures).items() if is_beyond(name, share)}
    if names & set(REFUSE):
        return names, "do not mix"
    return names, "with care" if names else "mix it"


def severities(outlook):
    """Read the verdict of many baths side by side: 0, 1 or 2."""
    with collecting_warnings():
        figures = figures_of(
            outlook.inputs, outlook.run, outlook.day, outlook.pours, warmth_before_second(outlook)
        )
    severity = np.zeros(np.shape(outlook.run.time_to_clear)[:-1], dtype=int)
    for name, share in over_limits(figures).items():
        level = 2 if name in REFUSE else 1
        severity = np.maximum(severity, np.where(is_beyond(name, share), level, 0))
    return severity


MOVEMENTS = ("rocked", "rocked", "rocked", "still", "shaken", "bubbled", "sprayed")
WARMTHS = ((8, 24), (8, 24), (8, 24), (22, 39))  # °C, of the bottles: mostly those of a room
USED_PEROXIDE = (300, 300, 2500)  # mol/m³


def some_inputs(random, draws):
    """Draw inputs that people might try: household and stock bottles, small boards and large."""
    used_bath = second = None
    if random.random() < 0.3:
        copper, acid = random.uniform(20, 1000), random.uniform(200, 4000)
        # mostly quiet; some are not
        peroxide, share = random.uniform(0, random.choice(USED_PEROXIDE)), random.uniform(0.1, 0.95)
        used_bath = UsedBath(
            share, (0.8 * copper, copper), (0.7 * acid, acid), (0.3 * peroxide, peroxide)
        )
    if random.random() < 0.25:
        second = (random.uniform(0.2, 0.8), log_uniform(random, 10, 2000))
    water = 0.0 if random.random() < 0.3 else round(random.uniform(0, 5), 1)
    acid, peroxide = random.uniform(1, 4, 2).round(1)
    area, depth = log_uniform(random, 3e-4, 6e-2), log_uniform(random, 0.004, 0.1)
    facing, open_area = some_tray(random, area, depth)
    return Inputs(
        acid=some_bottle(random, "HCl", (0.05, 0.10, 0.20, 0.31, 0.37), 0.37),
        peroxide=some_bottle(random, "H2O2", (0.03, 0.06, 0.12, 0.30), 0.35),
        parts=(water, acid, peroxide),
        board=Board(area=area, foil=Foil.ounces(float(random.choice((0.5, 1.0, 2.0))))),
        tray=Tray(
            str(random.choice(MOVEMENTS)),
            facing,
            open_area,
            T_air=ZERO + random.uniform(12, 30),
        ),
        bath_per_area=depth,
        place=str(random.choice(PLACES)),
        T_bottles=ZERO + random.uniform(*random.choice(WARMTHS)),
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
