"""What reacts, how much of it, and how much heat does it make?"""

from .heat import (
    course_of_pour,
    formation_enthalpy,
    heat_of_etching,
    reaction_enthalpy,
    temperatures_after_pours,
)
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
    "Reaction",
    "capacity",
    "carried",
    "course_of_pour",
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
