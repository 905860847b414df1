"""What is left under the resist when the copper beside it is gone?"""

from .overetch import PACES, UNEVEN, Pulled, pulled, time_at_loss
from .undercut import (
    Front,
    Widths,
    allowance,
    etch_factor,
    front,
    measured_factor,
    over_at_loss,
    undercut_at,
    widths,
)

__all__ = [
    "PACES",
    "UNEVEN",
    "Front",
    "Pulled",
    "Widths",
    "allowance",
    "etch_factor",
    "front",
    "measured_factor",
    "over_at_loss",
    "pulled",
    "time_at_loss",
    "undercut_at",
    "widths",
]
