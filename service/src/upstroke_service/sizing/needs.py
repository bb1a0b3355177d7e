"""What a household and its animals need per day, and how much pumping that is."""

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np

from upstroke_service.physics.real import Real
from upstroke_service.reference import fixtures
from upstroke_service.reference.needs import DailyNeed, animal, person

DAY = 86_400.0
"""Seconds of a day."""

MOST_SESSIONS = 4
"""Sessions at the pump that people keep up day after day. Common practice, no source."""


class Volumes(NamedTuple):
    """Water per day in m³: low, usual and high."""

    low: float
    usual: float
    high: float

    def times(self, count: float) -> "Volumes":
        """The same ``count`` times."""
        return Volumes(*(count * volume for volume in self))


class Line(NamedTuple):
    """``number`` of one ``kind`` of people, use or animal, ``each`` with its water per day in m³."""

    kind: str
    number: float
    each: Volumes

    @property
    def daily(self) -> Volumes:
        """Water per day in m³ of all of them."""
        return self.each.times(self.number)


class Day(NamedTuple):
    """How much pumping a day's water is; ``fills`` 1/day, ``strokes`` 1/day, ``seconds`` s/day."""

    fills: Real
    strokes: Real
    seconds: Real


def lines(
    people: int, level: str, uses: Iterable[tuple[str, float]], herds: Iterable[tuple[str, float]]
) -> list[Line]:
    """One line for the people at their ``level``, each kind of use and each kind of animal that there is.

    ``uses`` and ``herds`` are pairs of kind and count; counts of the same kind add up. Raises KeyError
    where a level or kind is unknown.
    """
    listed = [Line(level, float(people), _of(person(level)))]
    listed += [Line(kind, count, _of_use(kind)) for kind, count in _summed(uses)]
    listed += [Line(kind, count, _of(animal(kind))) for kind, count in _summed(herds)]
    return [line for line in listed if line.number > 0.0]


def _summed(counts: Iterable[tuple[str, float]]) -> list[tuple[str, float]]:
    total: dict[str, float] = {}
    for kind, count in counts:
        total[kind] = total.get(kind, 0.0) + count
    return list(total.items())


def _of(need: DailyNeed) -> Volumes:
    return Volumes(need.low.volume, need.usual.volume, need.high.volume)


def _of_use(kind: str) -> Volumes:
    volume = fixtures.USES[kind].volume
    return Volumes(volume, volume, volume)


def total(listed: Iterable[Line]) -> Volumes:
    """Water per day in m³ of all lines together."""
    summed = Volumes(0.0, 0.0, 0.0)
    for line in listed:
        summed = Volumes(*(one + more for one, more in zip(summed, line.daily, strict=True)))
    return summed


def day(daily: Real, water: Real, strokes: Real, seconds: Real) -> Day:
    """The pumping for ``daily`` m³ per day, from the ``water`` m³, ``strokes`` and ``seconds`` of one fill.

    Nothing where a fill gives no water.
    """
    given = np.asarray(water) > 0.0
    fills = np.where(given, daily / np.where(given, water, 1.0), 0.0)
    return Day(fills, fills * strokes, fills * seconds)
