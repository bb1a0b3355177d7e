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

_POINTS = 161
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
    pressure = fill.start + (fill.end - fill.start) * np.linspace(0.0, 1.0, _POINTS)
    along = filling.curve(site, fill, pressure)
    columns = [
        np.broadcast_to(column, pressure.shape).reshape(-1)
        for column in (pressure, along.strokes, along.seconds, along.volume, along.work)
    ]
    by_people, by_well = columns[2] / longest, columns[3] / max(well_volume, _LEAST_WELL_VOLUME)
    # Step by step what is used up more, of the people's time or of the well's water.
    steps = np.maximum(np.diff(by_people, prepend=0.0), np.diff(by_well, prepend=0.0))
    used = np.cumsum(steps)
    together = max(by_people[-1], by_well[-1]) <= 1.0 + _NEGLIGIBLE
    count = 1 if together else math.ceil(used[-1] * (1.0 - _NEGLIGIBLE))
    ends = used[-1] * np.arange(1, min(count, MOST_SESSIONS) + 1) / count
    at_end = [np.interp(ends, used, column) for column in columns]
    strokes, seconds, volume, work = (np.diff(column, prepend=0.0) for column in at_end[1:])
    recovery = float((volume / sustained_yield - seconds).max())
    return Plan(
        count,
        bool(by_well[-1] > by_people[-1]),
        max(recovery, 0.0),
        at_end[0],
        strokes,
        seconds,
        volume,
        work,
    )
