"""What a dealer sells: catalogues as TOML files, read once into frozen structs of SI values.

``load`` reads a dealer's file, ``demo`` the invented one of this package. A catalogue is only handed
out whole: every fault of a file is reported together, and none is repaired in silence.
"""

from .faults import CatalogueError, Fault
from .load import demo, load, load_text
from .model import Catalogue, CatalogueCylinder, Drive, DropPipe, Kit, Part, Price, Rod

__all__ = [
    "Catalogue",
    "CatalogueCylinder",
    "CatalogueError",
    "Drive",
    "DropPipe",
    "Fault",
    "Kit",
    "Part",
    "Price",
    "Rod",
    "demo",
    "load",
    "load_text",
]
