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
MOVES = {
    "still": "left alone",
    "rocked": f"rocked: {MOVEMENTS['rocked']}",
    "shaken": f"shaken: {MOVEMENTS['shaken']}",
    "bubbled": MOVEMENTS["bubbled"],
    "sprayed": MOVEMENTS["sprayed"],
}
"""How the bath may be moved: each word with what it means, for it is a number."""
FACES = {"up": "up", "down": "down", "upright": "upright, in a tank"}
