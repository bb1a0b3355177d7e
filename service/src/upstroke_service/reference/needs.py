"""What people need and animals drink per day."""

import itertools
from collections.abc import Iterator, Mapping
from typing import Annotated, Final

import msgspec

from .sources import require_known
from .table import InvalidTable, Positive, Row, Text, read


class Figure(Row, frozen=True):
    """Water of one head and day: ``volume`` m³, ``published`` in the source's unit for ``per`` heads."""

    volume: Positive
    published: Text
    source: Text
    per: Annotated[int, msgspec.Meta(ge=1)] = 1


class DailyNeed(Row, frozen=True):
    """What one head needs per day: ``low``, ``usual`` and ``high``, never falling."""

    low: Figure
    usual: Figure
    high: Figure

    def figures(self) -> Iterator[tuple[str, Figure]]:
        """Every figure with its name, low first."""
        return ((name, getattr(self, name)) for name in self.__struct_fields__)


def require_order(file_name: str, rows: Mapping[str, DailyNeed]) -> None:
    """Raise InvalidTable unless the figures of each of ``rows`` never fall from low to high."""
    for name, row in rows.items():
        volumes = [figure.volume for _, figure in row.figures()]
        if any(more < less for less, more in itertools.pairwise(volumes)):
            raise InvalidTable(f"{file_name}: {name}: low, usual and high must not fall")


def _read(file_name: str) -> Mapping[str, DailyNeed]:
    rows = read(file_name, dict[str, DailyNeed])
    require_known(file_name, (figure.source for row in rows.values() for _, figure in row.figures()))
    require_order(file_name, rows)
    return rows


PEOPLE: Final[Mapping[str, DailyNeed]] = _read("people.toml")
"""Water per person and day, by level."""

LIVESTOCK: Final[Mapping[str, DailyNeed]] = _read("livestock.toml")
"""Water per animal and day, by kind."""


def person(level: str) -> DailyNeed:
    """What a person needs at that ``level``; raises KeyError where there is none."""
    return PEOPLE[level]


def animal(kind: str) -> DailyNeed:
    """What an animal of that ``kind`` drinks; raises KeyError where there is none."""
    return LIVESTOCK[kind]
