"""Page 04b: how sure is it that water slows the etching so much, and what would prove it wrong?

`panel`, `words`, `picture` and `questions` are its first panel and its questions; `orders`,
`one_effect_away`, `evidence` and `offcuts` are a part of the page each, and `numbers` keeps what
they share.
"""

from .evidence import left_out, missed_words
from .numbers import STILL, course, usual_time
from .offcuts import offcut_words
from .one_effect_away import taken_away_panel
from .orders import orders_panel
from .panel import ratio_panel
from .predictions import order_prediction, product_prediction, ratio_prediction
from .questions import sure_questions

__all__ = [
    "STILL",
    "course",
    "left_out",
    "missed_words",
    "offcut_words",
    "order_prediction",
    "orders_panel",
    "product_prediction",
    "ratio_panel",
    "ratio_prediction",
    "sure_questions",
    "taken_away_panel",
    "usual_time",
]
