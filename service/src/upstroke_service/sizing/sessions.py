"""How a long fill divides into sessions at the pump."""

import math
from typing import Final

import msgspec
import numpy as np

from upstroke_service.physics.real import Array

from . import filling
from .facts import Site
from .filling import Fill

MOST_SESSIONS: Final = 40
"""Sessions that a plan lists; a fill that takes more is no job for a hand pump."""

_SHARES = np.linspace(0.0, 1.0, 161)
"""Of the way from start to end, where a fill that has to be divided is looked at."""

_NEGLIGIBLE = 1e-9
_LEAST_WELL_VOLUME = 1e-9


class Plan(msgspec.Struct, frozen=True):
    """Sessions of a fill: at the end of each the pressure in Pa, and in it strokes, seconds, m³ and J of work.

    ``count`` sessions are needed; the columns list at most MOST_SESSIONS of them. ``by_well`` says that
    the well sets the number more than the people; ``recovery`` is the longest time in s after a session
    until the well has given back what it took beyond what flowed in meanwhile.
    """

    count: int
    by_well: bool
    recovery: float
    pressure: Array
    strokes: Array
    seconds: Array
    volume: Array
    work: Array


def plan(site: Site, fill: Fill, longest: float, well_volume: float, sustained_yield: float) -> Plan:
    """Divide the ``fill`` of one candidate at a single site.

    ``longest`` s is the longest session, ``well_volume`` m³ what the well gives before it runs dry
    (UNLIMITED: no such limit), ``sustained_yield`` m³/s what flows in meanwhile. No session exceeds
    either limit, and all use up the same share of what limits them.
    """
    well_volume = max(well_volume, _LEAST_WELL_VOLUME)
    # Most fills are one session: then only their end is looked at.
    at_end = _along(site, fill, _SHARES[-1:])
    pressure, *each = at_end
    by_people, by_well = (float(used[0]) for used in _used(at_end, longest, well_volume))
    count = 1
    if max(by_people, by_well) > 1.0 + _NEGLIGIBLE:
        count, (pressure, *each) = _divided(_along(site, fill, _SHARES), longest, well_volume)
    strokes, seconds, volume, work = each
    recovery = float((volume / sustained_yield - seconds).max())
    return Plan(count, by_well > by_people, max(recovery, 0.0), pressure, strokes, seconds, volume, work)


def _along(site: Site, fill: Fill, shares: Array) -> list[Array]:
    """Pressure, strokes, seconds, m³ and J of work up to these ``shares`` of the way."""
    pressure = fill.start + (fill.end - fill.start) * shares
    along = filling.curve(site, fill, pressure)
    columns = (pressure, along.strokes, along.seconds, along.volume, along.work)
    return [np.broadcast_to(column, pressure.shape).reshape(-1) for column in columns]


def _used(columns: list[Array], longest: float, well_volume: float) -> tuple[Array, Array]:
    """Shares that are used up of the people's time and of the well's water."""
    return columns[2] / longest, columns[3] / well_volume


def _divided(columns: list[Array], longest: float, well_volume: float) -> tuple[int, list[Array]]:
    """How many sessions are needed; the pressure at the end of each, and what each takes of the rest."""
    by_people, by_well = _used(columns, longest, well_volume)
    # Step by step what is used up more, of the people's time or of the well's water.
    steps = np.maximum(np.diff(by_people, prepend=0.0), np.diff(by_well, prepend=0.0))
    used = np.cumsum(steps)
    count = math.ceil(used[-1] * (1.0 - _NEGLIGIBLE))
    ends = used[-1] * np.arange(1, min(count, MOST_SESSIONS) + 1) / count
    pressure, *rest = (np.interp(ends, used, column) for column in columns)
    return count, [pressure, *(np.diff(column, prepend=0.0) for column in rest)]
