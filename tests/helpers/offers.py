"""Changes offered, read a second time: margins written out again, and every step of every lever.

Limits are those of `second_reading`; the margin is 5 °C for a temperature, else a tenth.
"""

import numpy as np

from helpers.plans import verdicts_alone
from helpers.second_reading import (
    FROM,
    REFUSE,
    ZERO,
    figures_in,
    figures_of,
    over_limits,
    severities,
    some_inputs,
    warmth_before_second,
)
from pcbchem.bench.hazards.verdicts import exceeded
from pcbchem.bench.hazards.verdicts import severity as severity_of
from pcbchem.bench.plan.changes import helpful
from pcbchem.bench.plan.outlook import outlook
from pcbchem.bench.plan.planning import planned
from pcbchem.bench.plan.pours import side_by_side
from pcbchem.common.limits import collecting_warnings

LIMITS_IN_C = {
    "hot while etching": 60,
    "most must be stopped": 45,
    "hot when left standing": 60,
    "may run away when left standing": 75,
    "hot bottles": 35,
    "second portion into a warm bath": 25,
    "warm while etching": 45,
    "warm when left standing": 45,
    "very warm when left standing": 60,
    "warm bottles": 25,
}
AT_LEAST = ("too fast", "board not covered", "second portion too early", "little reserve")
ROUNDING = 1e-6  # a bath alone and among others differ by less


def safe(name):
    """Return a limit with its margin over the limit [-]."""
    if name in LIMITS_IN_C:
        return (LIMITS_IN_C[name] - 5) / LIMITS_IN_C[name]
    return 1 / 1.1 if name in AT_LEAST else 0.9


def level(before, after):
    """Return the severity of the worst rule that a change does not clear by its margin, by variant.

    Both are figures over limits. What was nearer than the margin, and not beyond, has only to come
    no nearer.
    """
    worst = 0
    for name, share in after.items():
        was = float(np.squeeze(before[name]))
        is_beyond = was >= 1 if name in FROM else was > 1
        bound = safe(name)
        if was > bound and not is_beyond:
            bound = was
        elif name in FROM:
            bound -= 2 * ROUNDING
        is_missed = np.asarray(share) > bound + ROUNDING
        worst = np.maximum(worst, np.where(is_missed, 2 if name in REFUSE else 1, 0))
    return worst


def changes_of(inputs):
    """Return the severity of a bath and the changes that are offered for it."""
    with collecting_warnings():
        bands = outlook(inputs).bands
    severity = int(severity_of(exceeded(bands)))
    return severity, helpful(inputs, bands, severity)


def inputs_of(severity, count, draws):
    """Draw inputs of baths of a severity, so many, with the changes offered for each."""
    rows, seed = [], 0
    while len(rows) < count:
        inputs = some_inputs(np.random.default_rng(seed), draws)
        now, changes = changes_of(inputs)
        if now == severity:
            rows.append((inputs, changes))
        seed += 1
    return rows


def broken_promises(inputs, changes):
    """List the changes that, planned anew, have another verdict or clear a limit by too little."""
    if not changes:
        return []
    with verdicts_alone():
        before = over_limits(figures_in(planned(inputs)))
        plans = [planned(change.inputs) for change in changes]
    wrong = []
    for change, plan in zip(changes, plans, strict=True):
        after = over_limits(figures_in(plan))
        promised = ("mix it", "with care", "do not mix").index(change.verdict)
        if plan.verdict != change.verdict or int(level(before, after)) > promised:
            wrong.append((change.lever, change.value, plan.verdict, change.verdict))
    return wrong


def every_step(inputs):
    """List every step of every lever, by hand: (lever, value, inputs)."""
    water, acid, peroxide = inputs.parts
    waters = np.arange(np.floor(water * 10 + 1e-9) + 1, 100 * max(acid, peroxide) + 0.5) / 10
    acids = np.arange(np.ceil(acid * 10 - 1e-9) - 1, 0.5, -1) / 10
    depths = np.arange(np.floor(inputs.bath_per_area * 1e3 + 1e-9) + 1, 100.5) / 1e3
    starts = np.arange(np.ceil(inputs.T_bottles - ZERO - 1e-9) - 1, 9.5, -1) + ZERO
    steps = [("bath", depth, inputs.replace(bath_per_area=depth)) for depth in depths]
    steps += [("start", start, inputs.replace(T_bottles=start)) for start in starts]
    if inputs.fresh:
        steps += [("water", w, inputs.replace(parts=(w, acid, peroxide))) for w in waters]
        steps += [("acid", a, inputs.replace(parts=(water, a, peroxide))) for a in acids]
    return steps


def helping_steps(inputs):
    """Find every step that lifts a refusal by margins: lever, value and the severity then."""
    steps = every_step(inputs)
    if not steps:
        return []
    with collecting_warnings():
        before = over_limits(figures(outlook(inputs)))
        baths = outlook(inputs, **side_by_side([variant for *_, variant in steps]))
        after = over_limits(figures(baths))
    levels, verdicts = level(before, after), severities(baths)
    return [
        (lever, float(value), int(verdict))
        for (lever, value, _), verdict, missed in zip(steps, verdicts, levels, strict=True)
        if missed == verdict < 2
    ]


def figures(baths):
    """Read baths side by side, draw by draw."""
    return figures_of(baths.inputs, baths.run, baths.day, baths.pours, warmth_before_second(baths))
