"""How a long fill divides into sessions at the pump."""

import math
from typing import Final

import msgspec
import numpy as np

from upstroke_service.physics.real import Array

from . import filling
from .facts import UNLIMITED, Site
from .filling import Fill

MOST_SESSIONS: Final = 40
"""Sessions that a plan lists; a fill that takes more is no job for a hand pump."""

_POINTS = 161


class Plan(msgspec.Struct, frozen=True):
    """Sessions of a fill: at the end of each the pressure in Pa, and in it strokes, seconds and m³.

    ``count`` sessions are needed; the columns list at most MOST_SESSIONS of them. ``by_well`` says that
    the well sets the number and not the people; ``recovery`` is how long it takes the well in s to give
    the water of one session.
    """

    count: int
    by_well: bool
    recovery: float
    pressure: Array
    strokes: Array
    seconds: Array
    volume: Array


def plan(site: Site, fill: Fill, longest: float, well_volume: float, sustained_yield: float) -> Plan:
    """Divide the ``fill`` of one candidate at a single site.

    ``longest`` s is the longest session, ``well_volume`` m³ what the well gives before it runs dry
    (UNLIMITED: no such limit), ``sustained_yield`` m³/s what flows in meanwhile.
    """
    seconds, volume = float(fill.seconds.item()), float(fill.volume.item())
    by_people = max(math.ceil(seconds / longest * (1.0 - 1e-9)), 1)
    by_well = max(math.ceil(volume / well_volume * (1.0 - 1e-9)), 1) if well_volume < UNLIMITED else 1
    count = max(by_people, by_well)
    listed = min(count, MOST_SESSIONS)
    pressure = fill.start + (fill.end - fill.start) * np.linspace(0.0, 1.0, _POINTS)
    along = filling.curve(site, fill, pressure)
    columns = [
        np.broadcast_to(column, pressure.shape).reshape(-1)
        for column in (pressure, along.strokes, along.seconds, along.volume)
    ]
    # Equal shares of water where the well sets the number, of time where the people do.
    measure = columns[3] if by_well > by_people else columns[2]
    ends = measure[-1] * np.arange(1, listed + 1) / count
    at_end = [np.interp(ends, measure, column) for column in columns]
    strokes, spent, brought = (np.diff(column, prepend=0.0) for column in at_end[1:])
    per_session = volume / count
    recovery = per_session / sustained_yield if 0.0 < sustained_yield < UNLIMITED else 0.0
    return Plan(count, by_well > by_people, recovery, at_end[0], strokes, spent, brought)
