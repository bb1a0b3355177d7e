"""How a well answers to pumping: how far its water falls, and how long it lasts.

A fill by hand is short and slow. Its water comes first out of the casing, while the aquifer only
begins to give, so the well drawdown of a fill is the lesser of two: what the flow would draw down in
the long run, and what the taken volume leaves empty in the casing.
"""

from typing import Final

import numpy as np

from .real import Real

DEEPEST: Final = 1e4
"""Well drawdown in m where nothing known bounds it: deeper than any well, finite."""

LASTING: Final = 1e9
"""Time in s that stands for 'never runs dry': longer than any session, finite."""

_NEGLIGIBLE = 1e-12


def drawdown(flow: Real, specific_capacity: Real, volume: Real, casing_area: Real) -> Real:
    """Well drawdown in m while a ``volume`` in m³ is taken at a mean ``flow`` in m³/s.

    min(Q/C, V/A). ``specific_capacity`` C in m²/s, 0 where it is not known: then no water is
    taken to flow in. ``casing_area`` A in m² is the open area around what hangs in the casing, 0
    where it is not known: then the long-run drawdown holds. At most DEEPEST, also where both are 0.

    Source: definition of specific capacity in Driscoll, Groundwater and Wells, 2nd edition, chapter
    'Well hydraulics' (from memory); volume balance of the casing.
    """
    long_run = flow / np.maximum(specific_capacity, _NEGLIGIBLE)
    emptied = volume / np.maximum(casing_area, _NEGLIGIBLE)
    fall: Real = np.minimum(np.minimum(long_run, emptied), DEEPEST)
    return fall


def casing_storage(casing_area: Real, depth_of_water: Real) -> Real:
    """Water in m³ that stands in a casing: A·h.

    ``casing_area`` m² as in ``drawdown``, ``depth_of_water`` m from the static water level down to
    what takes it in.

    Source: geometry.
    """
    return casing_area * depth_of_water


def time_until_dry(storage: Real, flow: Real, sustained_yield: Real) -> Real:
    """Time in s after which a well that holds ``storage`` in m³ is drawn empty: V/(Q − q).

    ``flow`` m³/s taken out, ``sustained_yield`` m³/s flowing in. LASTING where the well gives as much
    as is taken.

    Source: volume balance of the well.
    """
    shortfall = np.maximum(flow - sustained_yield, _NEGLIGIBLE)
    time: Real = np.where(flow > sustained_yield, np.minimum(storage / shortfall, LASTING), LASTING)
    return time


def available_volume(storage: Real, sustained_yield: Real, duration: Real) -> Real:
    """Water in m³ that a well gives within ``duration`` in s: V + q·t.

    ``storage`` m³ in the casing at the start, ``sustained_yield`` m³/s flowing in.

    Source: volume balance of the well.
    """
    return storage + sustained_yield * duration
