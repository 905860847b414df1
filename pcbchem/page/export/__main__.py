"""Write pages as HTML: `python -m pcbchem.page.export PAGE.ipynb`."""

from .export import main

main()
