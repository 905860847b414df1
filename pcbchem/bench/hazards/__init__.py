"""What must not be mixed, and what to take care of? One place decides."""

from .caution import Caution, cautions, method_cautions, over_public, strongest
from .verdicts import KINDS, VERDICTS, Reason, Rule, passed, reasons, rules, severity

__all__ = [
    "KINDS",
    "VERDICTS",
    "Caution",
    "Reason",
    "Rule",
    "cautions",
    "method_cautions",
    "over_public",
    "passed",
    "reasons",
    "rules",
    "severity",
    "strongest",
]
