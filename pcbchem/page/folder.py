"""Whether a page runs in a folder of its reader, where files may be kept, or in one of many."""

from __future__ import annotations

import os
import pathlib

from ..common.limits import InputError

NO_FOLDER = "PCBCHEM_NO_FOLDER"
"""The variable of the environment: what serves one folder to many readers sets it."""
MEANINGS = {"1": True, "0": False, "": False}
"""What its values say; where there is no such variable, it counts as empty."""


def own_folder() -> pathlib.Path | None:
    """Return the folder of the page, where its reader may keep files; None: it is not theirs.

    Returns
    -------
    Path or None
        Where the kernel runs, unless `PCBCHEM_NO_FOLDER` is "1".

    Raises
    ------
    InputError
        The variable says anything else than 1 or 0.

    Examples
    --------
    >>> from unittest.mock import patch
    >>> with patch.dict(os.environ, {NO_FOLDER: "1"}):
    ...     print(own_folder())
    None
    """
    value = os.environ.get(NO_FOLDER, "")
    if value not in MEANINGS:
        rule = "1 keeps every file off this computer, 0 or nothing lets a page use its folder"
        raise InputError(NO_FOLDER, rule, value=value, wrong="is not known")
    return None if MEANINGS[value] else pathlib.Path.cwd()
