"""The practical ceiling: the highest gauge pressure worth pumping to, and what sets it."""

from typing import NamedTuple

import msgspec
import numpy as np

from upstroke_service.physics import tank
from upstroke_service.physics.real import Array, Indices, Real

from . import operation
from .coefficients import Line
from .facts import UNLIMITED
from .operation import Operation

LEAST_NET_DELIVERY = 0.1
"""Share of the displacement that must still reach the tank for pumping to be worth while.
Common practice, no source."""

RELIEF_MARGIN = 34_473.786
"""Least distance in Pa (5 psi) that pumping keeps below a relief valve's set pressure.
ASME BPVC VIII-1, nonmandatory appendix M (from memory)."""

RELIEF_MARGIN_SHARE = 0.1
"""The same as a share of the set pressure; the greater of the two counts (source as above)."""

LIMITS = (
    "rated_lift",
    "hand_force",
    "net_delivery",
    "tank_rating",
    "tank_acceptance",
    "relief_valve",
    "hose_rating",
    "highest_known_safe",
)
"""Names of the limits, in the order of the first axis of ``Ceiling.limits``."""

HARD_LIMITS = slice(2, None)
"""Limits at which a fill stops whatever the operator can do: no water arrives, or something breaks."""

# The operating curve is sampled from no pressure up: at the preferred cadence, slowing down, at the slowest
# cadence while the force is more than the limit, and with ever longer rests (one part in fifty).
_STEADY = np.linspace(0.0, 1.0, 13)[:-1] ** 2
_SLOWING = np.linspace(1.0, 0.0, 13)
_STRAINED = np.linspace(0.0, 1.0, 13)[1:] ** 2
_RESTING = np.geomspace(1.0, 0.02, 33)


class Ceiling(msgspec.Struct, frozen=True):
    """Pressures in Pa of each limit, of the practical ceiling, and where a fill has to stop.

    ``limits`` has the limits of LIMITS as first axis; UNLIMITED where one does not apply; negative
    where not even an open discharge is within the limit.
    """

    limits: Array

    @property
    def pressure(self) -> Array:
        """The practical ceiling, Pa."""
        lowest: Array = self.limits.min(axis=0)
        return lowest

    @property
    def hard_stop(self) -> Array:
        """The least of the limits that no effort overcomes, Pa."""
        lowest: Array = self.limits[HARD_LIMITS].min(axis=0)
        return lowest

    @property
    def governing(self) -> Indices:
        """Index into LIMITS of the limit that sets the ceiling."""
        lowest: Indices = self.limits.argmin(axis=0)
        return lowest


def relief_limit(set_pressure: Real) -> Real:
    """Highest pressure in Pa to pump to below a relief valve's ``set_pressure`` in Pa."""
    margin = np.maximum(RELIEF_MARGIN, RELIEF_MARGIN_SHARE * set_pressure)
    return np.where(np.asarray(set_pressure) < UNLIMITED, np.maximum(set_pressure - margin, 0.0), UNLIMITED)


def find(op: Operation) -> Ceiling:
    """Find every limit's pressure for every candidate."""
    site = op.site
    curve = _operating_curve(op)
    acceptance = tank.pressure_at_stored_volume(
        site.tank_acceptance, 1.0, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    found = (
        _rated_lift(op, curve),
        _hand_force(op),
        _net_delivery(op, curve),
        site.tank_rating,
        np.minimum(acceptance, UNLIMITED),
        relief_limit(site.relief_valve),
        site.hose_rating,
        site.highest_known_safe,
    )
    shape = np.broadcast_shapes(*(np.shape(value) for value in found))
    limits = np.empty((len(LIMITS), *shape))
    for place, value in enumerate(found):
        limits[place] = value
    return Ceiling(np.minimum(np.maximum(limits, -UNLIMITED), UNLIMITED))


class _Curve(NamedTuple):
    """The operating curve: tank pressures in Pa and the effective cadences in 1/s kept there, last axis."""

    pressure: Array
    effective: Array


def _operating_curve(op: Operation) -> _Curve:
    slowing = op.slowest + (op.preferred - op.slowest) * _SLOWING
    kept = np.minimum(operation.sustained_pressure(op, slowing), operation.bearable_pressure(op, slowing))
    resting = op.slowest * _RESTING
    sustained = operation.sustained_pressure(op, resting)
    first, last = kept[..., :1], kept[..., -1:]
    # A hand limited by force goes on at the slowest cadence until power limits it too.
    rested = np.maximum(sustained, last)
    strained = np.maximum(last, np.minimum(rested[..., :1], 0.0))
    lowest = np.minimum(first, 0.0)
    pressure = [
        lowest + (first - lowest) * _STEADY,
        np.maximum.accumulate(kept, axis=-1),
        strained + (rested[..., :1] - strained) * _STRAINED,
        rested[..., 1:],
    ]
    effective = [op.preferred + 0.0 * _STEADY, slowing, op.slowest + 0.0 * _STRAINED, resting[..., 1:]]
    return _Curve(_joined(pressure), _joined(effective))


def _joined(parts: list[Array]) -> Array:
    shape = np.broadcast_shapes(*(part.shape[:-1] for part in parts))
    return np.concatenate([np.broadcast_to(part, (*shape, part.shape[-1])) for part in parts], axis=-1)


def _last_crossing(excess: Array, at: Array) -> Array:
    """Where ``excess`` last rises through zero, by interpolation in ``at`` along the last axis.

    Before the first sample where it is above zero from the start (by the slope there), at the last where
    it never is. There may be lower crossings: too much friction at the preferred cadence, and well within
    the limit a little slower.
    """
    samples = excess.shape[-1]
    excess, at = np.broadcast_arrays(excess, at)
    within = excess[..., ::-1] < 0.0
    after = np.where(within.any(axis=-1), samples - within.argmax(axis=-1), 1).reshape(-1)
    after = np.minimum(after, samples - 1)
    rows = np.arange(after.size)
    flat, flat_at = excess.reshape(-1, samples), at.reshape(-1, samples)
    below, above = flat[rows, after - 1], flat[rows, after]
    low, high = flat_at[rows, after - 1], flat_at[rows, after]
    rise = np.where(above > below, above - below, 1.0)
    share = np.where(above > below, np.minimum(-below / rise, 1.0), 0.0)
    crossing: Array = (low + share * (high - low)).reshape(*excess.shape[:-1], 1)
    return crossing


def _rated_lift(op: Operation, curve: _Curve) -> Array:
    pumping = operation.pumping_cadence(op, curve.effective)
    excess = operation.total_head(op, curve.pressure, pumping) - op.lineup.rated_lift
    return _last_crossing(np.asarray(excess), curve.pressure)


def _hand_force(op: Operation) -> Real:
    """What the hand bears at the slowest cadence, where friction and inertia are least."""
    push = Line(op.push.at_zero, np.maximum(op.push.slope, 1e-12))
    return np.minimum(operation.bearable_pressure(op, op.slowest), push.inverse(op.site.hand_force_limit))


def _net_delivery(op: Operation, curve: _Curve) -> Array:
    short = LEAST_NET_DELIVERY * op.displacement - operation.net_delivery(op, *curve)
    # The leak goes with the root of the pressure at the hole, so that is what is interpolated in.
    root = np.sqrt(np.maximum(curve.pressure + op.hole_at_rest, 0.0))
    crossing = _last_crossing(np.asarray(short), root)
    reached = np.where(crossing < 0.0, -UNLIMITED, crossing * crossing - op.hole_at_rest)
    # Without hole and stretch the delivery never falls short. Without a check valve every longer rest
    # leaks more: beyond the last sample nothing is promised.
    endless = np.asarray(short)[..., -1:] < 0.0
    draining = ~np.asarray(op.site.check_valve) & (np.asarray(op.hole_capacity) > 0.0)
    limit: Array = np.where(endless, np.where(draining, curve.pressure[..., -1:], UNLIMITED), reached)
    return limit
