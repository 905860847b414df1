"""What can be chosen in the planner's form, each with its words on the page."""

from __future__ import annotations

from ...reaction.bath.setup import MOVEMENTS

SUBSTANCES = {"acid": "HCl", "peroxide": "H2O2"}
BY_VOLUME = {"mol/L": "mol/L", "% w/v": "% w/v"}
NOTATIONS = {
    "acid": {"% by weight": "% by weight", "degrees Baume": "°Baumé"} | BY_VOLUME,
    "peroxide": {"% by weight": "% by weight", "volume strength": "volumes"} | BY_VOLUME,
}
"""How the label of each bottle may count."""
SURE = {"label": "as labelled", "between": "between two strengths"}
PLACES = {
    "elsewhere": "elsewhere: ask locally",
    "EU": "European Union",
    "GB": "Great Britain",
    "US": "United States",
}
WORDS_OF_MOVEMENT = {
    "still": "left alone",
    "rocked": "rocked",
    "shaken": "shaken",
    "bubbled": "bubbled",
    "sprayed": "sprayed",
}
MOVES = {
    movement: words if movement == "still" else f"{words}: {MOVEMENTS[movement]}"
    for movement, words in WORDS_OF_MOVEMENT.items()
}
"""How the bath may be moved: each word with what it means, for it is a number."""
FACES = {"up": "up", "down": "down", "upright": "upright, in a tank"}
