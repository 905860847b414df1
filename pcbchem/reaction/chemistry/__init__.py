"""What reacts, how much of it, and how much heat does it make?"""

from .heat import (
    formation_enthalpy,
    heat_of_etching,
    reaction_enthalpy,
    temperatures_after_pours,
)
from .stoichiometry import (
    Reaction,
    capacity,
    limiting_reagent,
    needed,
    parse,
    reactions,
    reserve,
)

__all__ = [
    "Reaction",
    "capacity",
    "formation_enthalpy",
    "heat_of_etching",
    "limiting_reagent",
    "needed",
    "parse",
    "reaction_enthalpy",
    "reactions",
    "reserve",
    "temperatures_after_pours",
]
