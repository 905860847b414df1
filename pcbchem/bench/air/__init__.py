"""What goes into the air? Vapour of baths, bottles and spills, and what nobody has measured."""

from .air import Air, breathe, water_lost
from .bounds import (
    Unknown,
    chlorine_ceiling,
    chlorine_equilibrium,
    mist,
    unknowns,
)
from .exposure import PPM, Limit, limits, mass_per_air
from .sources import REFUSED_BATH, Source, bath_source, open_bottle, spill, tray
from .ventilation import (
    DOWNWIND,
    MIST_UNKNOWN,
    RULE,
    RULE_OF_SPILL,
    WHY,
    WHY_OF_SPILL,
    Ventilation,
    fresh_air_needed,
    which,
)
from .workplaces import NAMES, Workplace, workplace

__all__ = [
    "DOWNWIND",
    "MIST_UNKNOWN",
    "NAMES",
    "PPM",
    "REFUSED_BATH",
    "RULE",
    "RULE_OF_SPILL",
    "WHY",
    "WHY_OF_SPILL",
    "Air",
    "Limit",
    "Source",
    "Unknown",
    "Ventilation",
    "Workplace",
    "bath_source",
    "breathe",
    "chlorine_ceiling",
    "chlorine_equilibrium",
    "fresh_air_needed",
    "limits",
    "mass_per_air",
    "mist",
    "open_bottle",
    "spill",
    "tray",
    "unknowns",
    "water_lost",
    "which",
    "workplace",
]
