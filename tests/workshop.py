"""The workshop's usual inputs, as the plain page has them: mild acid and peroxide on its tide-clock board."""

INPUTS = {"acid": (9, 11, "% by weight"), "peroxide": (10.2, 12, "% by weight"), "parts": (0, 1, 1), "total_mL": 150,
          "board_mm": (75, 60), "bare_percent": 60}
WEAK = {**INPUTS, "peroxide": (2.55, 3, "% by weight"), "parts": (0, 1, 2)}
