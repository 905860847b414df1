"""What must not be mixed, and what to take care of? One place decides."""

from .caution import Caution, bath_cautions, cautions, method_cautions, strongest
from .law import PLACES, above_limit, law_of
from .verdicts import (
    KINDS,
    REFUSED,
    VERDICTS,
    Limit,
    Reason,
    Rule,
    exceeded,
    limits_of,
    reasons,
    rule_named,
    rules,
    severity,
)

__all__ = [
    "KINDS",
    "PLACES",
    "REFUSED",
    "VERDICTS",
    "Caution",
    "Limit",
    "Reason",
    "Rule",
    "above_limit",
    "bath_cautions",
    "cautions",
    "exceeded",
    "law_of",
    "limits_of",
    "method_cautions",
    "reasons",
    "rule_named",
    "rules",
    "severity",
    "strongest",
]
