"""The air of a place: all sources of a page in one workplace, and a table of ventilation.

`pytest tests/benchmarks/test_air.py -n 0 -s`. Everything is printed, pass or fail, and then
asserted.
"""

from helpers.timing import best

from pcbchem import Solution
from pcbchem.bench.air import NAMES, breathe, open_bottle, spill, tray, which

MOST_SECONDS = 0.05
"""A place's bands, for a page that is moved from place to place [s]."""
MINUTE = 60.0


def of_a_place(name):
    """Work out what is breathed beside a bath, a bottle and a spill, and its bands."""
    bath = Solution.of(volume=150e-6, T=293.15, HCl=0.05, H2O2=0.06)
    sources = (
        (tray(bath, 0.015, T=301.15), 15 * MINUTE),
        (open_bottle(0.3145), 10 * MINUTE),
        (spill(100e-6, 0.3145), 15 * MINUTE),
    )
    return [breathe(source, name, duration).band("near") for source, duration in sources]


def test_the_bands_of_a_place(say):
    """Three sources × 200 draws within 50 ms in each of the four workplaces."""
    took = {name: best(lambda name=name: of_a_place(name), 5) for name in NAMES}
    table = best(lambda: which(spill(100e-6, 0.3145), 15 * MINUTE, "elsewhere"), 3)
    shift = best(lambda: breathe(spill(100e-6, 0.3145), "shut room", 8 * 60 * MINUTE), 3)
    words = ", ".join(f"{name} {1e3 * seconds:.0f} ms" for name, seconds in took.items())
    say(
        f"{words} (at most {1e3 * MOST_SECONDS:.0f}); four places' limits {1e3 * table:.0f} ms; "
        f"a spill left for 8 h {1e3 * shift:.0f} ms"
    )
    assert max(took.values()) <= MOST_SECONDS
