"""Materials that pump rods and drop pipes are made of."""

from collections.abc import Mapping
from typing import Final

from .sources import require_known
from .table import Positive, Row, Text, read


class Material(Row, frozen=True):
    """A solid material: ``density`` kg/m³, ``youngs_modulus`` Pa, ``poisson_ratio``, each with its source's key."""

    density: Positive
    density_source: Text
    youngs_modulus: Positive
    youngs_modulus_source: Text
    poisson_ratio: Positive
    poisson_ratio_source: Text


_FILE = "materials.toml"

ROD_MATERIALS: Final[Mapping[str, Material]] = read(_FILE, dict[str, Material])
"""Materials of rods and drop pipes by name."""

require_known(_FILE, (row.density_source for row in ROD_MATERIALS.values()))
require_known(_FILE, (row.youngs_modulus_source for row in ROD_MATERIALS.values()))
require_known(_FILE, (row.poisson_ratio_source for row in ROD_MATERIALS.values()))


def material(name: str) -> Material:
    """The material of that ``name``; raises KeyError where there is none."""
    return ROD_MATERIALS[name]
