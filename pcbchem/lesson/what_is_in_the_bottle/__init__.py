"""Page 01: how much of a bath is water, and how strong is the rest?"""

from .library import second_opinion
from .numbers import FIRST, bottles
from .panel import mixtures_panel
from .predictions import recipe_prediction, water_prediction
from .questions import bottle_questions
from .recipes import recipes_panel
from .texts import prove_wrong, read_it, read_recipes, say_now, sources, why

__all__ = [
    "FIRST",
    "bottle_questions",
    "bottles",
    "mixtures_panel",
    "prove_wrong",
    "read_it",
    "read_recipes",
    "recipe_prediction",
    "recipes_panel",
    "say_now",
    "second_opinion",
    "sources",
    "water_prediction",
    "why",
]
