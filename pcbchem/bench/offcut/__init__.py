"""How long does my own bench take? A log of etched offcuts, and what it says."""

from .board_time import OwnTime, own_time
from .calibrating import calibrate
from .calibration import Calibration
from .log import Log, append_offcuts, read_log, with_offcuts
from .next_offcut import Narrowing, candidates, narrowing
from .offcut import Offcut

__all__ = [
    "Calibration",
    "Log",
    "Narrowing",
    "Offcut",
    "OwnTime",
    "append_offcuts",
    "calibrate",
    "candidates",
    "narrowing",
    "own_time",
    "read_log",
    "with_offcuts",
]
