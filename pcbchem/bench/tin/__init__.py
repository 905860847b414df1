"""What does a tin bath hold, and what spoils it?"""

from .coating import (
    COPPER_PER_TIN,
    STOPS,
    THIOUREA_PER_TIN,
    USABLE,
    copper_lost,
    tin_amount,
    tin_area,
    tin_capacity,
    tin_density,
    tin_mass,
)
from .drag_in import boards_until_spent, tin_killed
from .potentials import copper_potential, log_beta4, tin_potential
from .words import Fact, fact, facts

__all__ = [
    "COPPER_PER_TIN",
    "STOPS",
    "THIOUREA_PER_TIN",
    "USABLE",
    "Fact",
    "boards_until_spent",
    "copper_lost",
    "copper_potential",
    "fact",
    "facts",
    "log_beta4",
    "tin_amount",
    "tin_area",
    "tin_capacity",
    "tin_density",
    "tin_killed",
    "tin_mass",
    "tin_potential",
]
