"""A rule over sentences: what is looked for, and what lets it stand."""

from collections.abc import Callable
from typing import NamedTuple


class Rule(NamedTuple):
    """What is looked for, and what lets it stand."""

    patterns: str
    """Regular expressions, a line each, of whole words in small letters."""
    why: str
    no: bool = True
    """Whether it stands beside a word that says no in its clause."""
    unless: str = ""
    """What the sentence may hold instead."""
    about: str = ""
    """What the sentence has to hold for the rule to be about it."""
    counts: Callable[[str], bool] = bool
    """Tells whether the words that were found count: of numbers, whether one is too high."""


PARTS = {
    "number": r"(?:\d[\d.,]*|one|two|three|half an?|an?|some)",
    "measure": (
        r"(?:(?:level |heaped |tea|table)*spoon(?:ful)?s?|[mk]?g|mL|L|mol|moles?|cups?|drops?"
        r"|pellets?|grams?|litres?)(?!/)"
    ),
    # strong alkali, and any that neutralises
    "lye": r"(?:lye|NaOH|caustic(?: soda)?|drain cleaner|sodium hydroxide)",
    "base": (
        r"(?:lye|NaOH|caustic(?: soda)?|drain cleaner|sodium hydroxide|soda|bicarbonate|carbonate"
        r"|lime|chalk|ammonia|base|alkali)"
    ),
    # where people live, store or learn: no open air, and no fume cupboard
    "shelter": (
        r"(?:garage|cellar|basement|bathroom|kitchen|laundry|shed|conservatory|attic|bedroom"
        r"|hallway|classroom|(?:closed |shut |small |large |aired |warm )?room"
        r"|(?:open )?window(?! of its own))"
    ),
    "vessel": (
        r"(?:it|them|baths?|bottles?|jars?|vessels?|containers?|tubs?|canister|bucket|rest|waste"
        r"|lid|cap)"
    ),
    "the": r"(?:(?:the|an?|your|that|any|its|used|old|spent|quiet|glass|full|open|bare) )*",
    "do": (
        r"(?:work(?:ed|ing)?|etch(?:ed|ing)?|mix(?:ed|ing)?|pour(?:ed|ing)?|open(?:ed|ing)?|used?"
        r"|do(?:ne)?|stand|stay|keep|kept|left|leave|stored?)"
    ),
    "fine": r"(?:fine|ok|okay|all right|alright)",
    "enough": (
        r"(?:enough|do|good|suffice|sufficient|suitable|acceptable|right|suited|<fine>"
        r"|(?:a|the) (?:good |right )?place)"
    ),
    "each": r"(?:the|every|each|all|any|its|their|this|that)",
    "little": (
        r"(?:clean|weak|diluted?|thin|little|cold|quiet|old|clear|low|small|mild|pale|pure|neutral)"
    ),
    "add": (r"(?:add|stir|sprinkle|spoon|pour|drop|tip|put|mix|give|strew|trickle|dissolve|throw)"),
    "done": r"(?:stops fizzing|fizzes no|no longer fizz\w*|is neutral|turns blue)",
}
"""What stands for what in the patterns: `<lye>` is each of its names."""
