"""What must not be mixed, and what to take care of? One place decides."""

from .caution import Caution, cautions, method_cautions, over_public, strongest
from .verdicts import (
    KINDS,
    REFUSED,
    VERDICTS,
    Limit,
    Reason,
    Rule,
    limits_of,
    passed,
    reasons,
    rule_named,
    rules,
    severity,
)

__all__ = [
    "KINDS",
    "REFUSED",
    "VERDICTS",
    "Caution",
    "Limit",
    "Reason",
    "Rule",
    "cautions",
    "limits_of",
    "method_cautions",
    "over_public",
    "passed",
    "reasons",
    "rule_named",
    "rules",
    "severity",
    "strongest",
]
