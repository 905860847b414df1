"""The school switch: one variable of the environment takes the amounts to pour off every page."""

from __future__ import annotations

import os

from ..common.limits import InputError

NO_AMOUNTS = "PCBCHEM_NO_AMOUNTS"
"""The variable of the environment: what starts the kernels of a class sets it for all of them."""
MEANINGS = {"1": True, "0": False, "": False}
"""What its values say; where there is no such variable, it counts as empty."""


def no_amounts() -> bool:
    """Tell whether the pages are set for a class: no amounts to pour on any of them.

    Returns
    -------
    bool
        What `PCBCHEM_NO_AMOUNTS` says at this moment: "1" is True; "0" and nothing are False.

    Raises
    ------
    InputError
        The variable says anything else: "yes" must not be taken for no.

    Examples
    --------
    >>> from unittest.mock import patch
    >>> with patch.dict(os.environ, {NO_AMOUNTS: "1"}):
    ...     no_amounts()
    True
    """
    value = os.environ.get(NO_AMOUNTS, "")
    if value not in MEANINGS:
        rule = "1 takes the amounts to pour off every page, 0 or nothing leaves them there"
        raise InputError(NO_AMOUNTS, rule, value=value, wrong="is not known")
    return MEANINGS[value]
