"""Resistance coefficients of fittings and valves."""

from collections.abc import Mapping
from typing import Final

from .sources import require_known
from .table import Positive, Row, Text, read


class Fitting(Row, frozen=True):
    """Resistance ``coefficient`` K of a kind of fitting, with the ``basis`` on which it was taken."""

    coefficient: Positive
    basis: Text
    source: Text


_FILE = "fittings.toml"

FITTINGS: Final[Mapping[str, Fitting]] = read(_FILE, dict[str, Fitting])
"""Fittings and valves by kind."""

require_known(_FILE, (row.source for row in FITTINGS.values()))


def resistance_coefficient(kind: str) -> float:
    """K of one fitting of ``kind``, referred to the velocity in its bore; raises KeyError where unknown."""
    return FITTINGS[kind].coefficient
