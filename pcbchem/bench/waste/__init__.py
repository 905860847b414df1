"""What do I do with the rest? What is in it, when its peroxide is gone, its label, and its site."""

from .again import air_time, bath_made, copper_in_the_end
from .gas import gas_volume
from .label import Label, classes, label_of
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
from .rinsing import FILM, carried, films, rinse
from .where import WasteRule, waste_limit, where_it_goes

__all__ = [
    "FILM",
    "READS_NOTHING",
    "Label",
    "Rest",
    "WasteRule",
    "air_time",
    "bath_made",
    "carried",
    "classes",
    "closed_pressure",
    "copper_in_the_end",
    "decay_pace",
    "decay_time",
    "films",
    "gas_volume",
    "label_of",
    "peroxide_after",
    "rest_of",
    "rinse",
    "strip_dilution",
    "time_gone",
    "waste_limit",
    "where_it_goes",
]
