"""Write pages as HTML: `python -m pcbchem.page.export --to FOLDER --live`."""

from .folder import main

main()
