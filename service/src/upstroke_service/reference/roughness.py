"""Roughness of the inside of pipes and hoses."""

from collections.abc import Mapping
from typing import Final

from .sources import require_known
from .table import Positive, Row, Text, read


class Roughness(Row, frozen=True):
    """Absolute ``roughness`` in m of a surface that the source describes as ``described_as``."""

    roughness: Positive
    described_as: Text
    source: Text


_FILE = "roughness.toml"

ROUGHNESS: Final[Mapping[str, Roughness]] = read(_FILE, dict[str, Roughness])
"""Roughness by the material of a pipe or hose."""

require_known(_FILE, (row.source for row in ROUGHNESS.values()))


def roughness(material: str) -> float:
    """Absolute roughness in m inside a new pipe or hose of ``material``; raises KeyError where unknown."""
    return ROUGHNESS[material].roughness
