"""What a household's fixtures use and need."""

from collections.abc import Mapping
from typing import Final

from .sources import require_known
from .table import InvalidTable, Positive, Row, Text, read

Published = Mapping[str, Text]


class Flow(Row, frozen=True):
    """A ``flow`` in m³/s at a flowing gauge ``pressure`` in Pa; ``published`` in the source's units."""

    flow: Positive
    pressure: Positive
    published: Published
    source: Text


class WaterVolume(Row, frozen=True):
    """A ``volume`` in m³; ``published`` in the source's units."""

    volume: Positive
    published: Published
    source: Text


class PipeLoss(Row, frozen=True):
    """A ``pressure`` in Pa that pipes take; ``published`` in the source's units."""

    pressure: Positive
    published: Published
    source: Text


class Use(WaterVolume, frozen=True):
    """One use of a ``fixture`` of SUPPLY_NEEDS, ``height`` m above the floor.

    ``flow`` names the row of GREATEST_FLOWS or SUPPLY_NEEDS that says how much flows at which pressure.
    """

    fixture: Text
    height: Positive
    height_source: Text
    flow: Text


class _Fixtures(Row, frozen=True):
    greatest_flows: Mapping[str, Flow]
    supply_needs: Mapping[str, Flow]
    flushes: Mapping[str, WaterVolume]
    house_piping: Mapping[str, PipeLoss]
    uses: Mapping[str, Use]


_FILE = "fixtures.toml"
_FIXTURES: Final = read(_FILE, _Fixtures)

GREATEST_FLOWS: Final[Mapping[str, Flow]] = _FIXTURES.greatest_flows
"""Greatest flow that a fixture may draw, by fixture."""

SUPPLY_NEEDS: Final[Mapping[str, Flow]] = _FIXTURES.supply_needs
"""Least flow and pressure that a fixture's supply is designed for, by fixture."""

FLUSHES: Final[Mapping[str, WaterVolume]] = _FIXTURES.flushes
"""Greatest volume of one flush, by rule."""

HOUSE_PIPING: Final[PipeLoss] = _FIXTURES.house_piping["allowance"]
"""What the house's own pipes take between the tank and a fixture."""

USES: Final[Mapping[str, Use]] = _FIXTURES.uses
"""What one use of the household's water is counted as."""

for _rows in (GREATEST_FLOWS, SUPPLY_NEEDS, FLUSHES, _FIXTURES.house_piping, USES):
    require_known(_FILE, (row.source for row in _rows.values()))
require_known(_FILE, (use.height_source for use in USES.values()))


def require_fixtures(file_name: str, uses: Mapping[str, Use], needs: Mapping[str, Flow]) -> None:
    """Raise InvalidTable unless each of ``uses`` names a fixture of ``needs`` and a flow that is known."""
    unknown = sorted({use.fixture for use in uses.values()} - set(needs))
    if unknown:
        raise InvalidTable(f"{file_name}: uses name fixtures that supply_needs lacks: {', '.join(unknown)}")
    unknown = sorted({use.flow for use in uses.values()} - set(needs) - set(GREATEST_FLOWS))
    if unknown:
        raise InvalidTable(f"{file_name}: uses name flows that no table has: {', '.join(unknown)}")


require_fixtures(_FILE, USES, SUPPLY_NEEDS)


def minimum_pressure(use: str) -> float:
    """Least flowing gauge pressure in Pa at the fixture of a ``use``; raises KeyError where unknown."""
    return SUPPLY_NEEDS[USES[use].fixture].pressure


def flow_of(use: str) -> Flow:
    """How much flows at which pressure at the fixture of a ``use``; raises KeyError where unknown."""
    name = USES[use].flow
    return GREATEST_FLOWS[name] if name in GREATEST_FLOWS else SUPPLY_NEEDS[name]
