"""What reacts, how much of it, and how much heat does it make?"""

from .heat import (
    course_of_pour,
    formation_enthalpy,
    heat_of_etching,
    reaction_enthalpy,
    temperatures_after_pours,
)
from .neutralise import (
    BASES,
    base_at,
    base_mass,
    carbon_dioxide,
    equivalents,
    heat_taken,
)
from .potentials import FARADAY, electrons, potential
from .precipitate import SALT, SOLIDS, WET, copper_band, copper_left, onset, sludge
from .stoichiometry import (
    Reaction,
    capacity,
    carried,
    limiting_reagent,
    needed,
    parse,
    reactions,
    reserve,
)

__all__ = [
    "BASES",
    "FARADAY",
    "SALT",
    "SOLIDS",
    "WET",
    "Reaction",
    "base_at",
    "base_mass",
    "capacity",
    "carbon_dioxide",
    "carried",
    "copper_band",
    "copper_left",
    "course_of_pour",
    "electrons",
    "equivalents",
    "formation_enthalpy",
    "heat_of_etching",
    "heat_taken",
    "limiting_reagent",
    "needed",
    "onset",
    "parse",
    "potential",
    "reaction_enthalpy",
    "reactions",
    "reserve",
    "sludge",
    "temperatures_after_pours",
]
