"""The workshop's usual inputs, as page 00 has them: a mild bath on its tide-clock board."""

import re

BATH = {
    "acid": (10, "% by weight"),
    "peroxide": (12, "% by weight"),
    "parts": (0, 1, 1),
    "total_mL": 150,
}
BENCH = {
    "place": "EU",
    "board_mm": (75, 60),
    "bare_percent": 60,
    "foil_oz": 1,
    "agitation": "rocked",
    "facing": "up",
    "bottles_C": 20,
    "air_C": 20,
}
INPUTS = {**BATH, **BENCH}
DOUBTFUL = {**INPUTS, "peroxide": (4, 12, "% by weight")}
REFUSED = {
    **BENCH,
    "acid": (31, "%"),
    "peroxide": (32.5, "%"),
    "parts": (3, 1, 1),
    "mL_per_cm2": 0.83,
}
USED_BATH = (50, 5.5, (1.1, 1.4), (0, 0.2))
POUR = re.compile(
    r"\d\s*(m[lL]|[lL]|litres?|cm3|(US )?fl\.? ?oz|drops?|spoons?|cups?)\b(?! per cm²)"
    r"|\(mL\)|total_mL"
)
"""An amount to pour, as words and pictures may say it."""
USED_CONTROLS = {
    "used_copper": 5.5,
    "used_copper_to": 5.5,
    "used_acid": 1.1,
    "used_acid_to": 1.4,
    "used_peroxide": 0,
    "used_peroxide_to": 0.2,
}
"""What a used bath holds, as the planner's controls have it."""
