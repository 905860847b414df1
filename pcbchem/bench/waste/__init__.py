"""What do I do with the rest? What is in it, when its peroxide is gone, and what it would take."""

from .again import air_time, bath_made, copper_in_the_end
from .gas import gas_volume, portions
from .peroxide import (
    READS_NOTHING,
    closed_pressure,
    decay_pace,
    decay_time,
    peroxide_after,
    strip_dilution,
    time_gone,
)
from .rest import Rest, rest_of
from .rinsing import carried, rinse

__all__ = [
    "READS_NOTHING",
    "Rest",
    "air_time",
    "bath_made",
    "carried",
    "closed_pressure",
    "copper_in_the_end",
    "decay_pace",
    "decay_time",
    "gas_volume",
    "peroxide_after",
    "portions",
    "rest_of",
    "rinse",
    "strip_dilution",
    "time_gone",
]
