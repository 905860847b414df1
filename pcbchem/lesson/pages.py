"""The notebooks by name, as one page hands a bath to another."""

from __future__ import annotations

# a page that another one names stands here, so that it is renamed in one place
PLANNER_PAGE = "00_plan_a_bath.ipynb"
"""The planner's notebook: other pages hand baths to it by this name."""
WHAT_IF_PAGE = "what_if.ipynb"
"""The map of all mixtures: the planner and the lessons send their readers there."""
OFFCUT_PAGE = "08_test_an_offcut.ipynb"
"""The lesson on offcuts, with the reader's own bench under it: the planner hands boards to it."""
AIR_PAGE = "09_what_goes_into_the_air.ipynb"
"""The lesson on vapour: the planner says of its bath what the page explains."""
WASTE_PAGE = "10_after_the_last_board.ipynb"
"""The lesson on what is left: the planner says of its bath what the page explains."""
DEVELOPER_PAGE = "11_developer_and_tin.ipynb"
"""The lesson on the baths before and after the etch: the planner names them, and page 10 leads on
to it."""
