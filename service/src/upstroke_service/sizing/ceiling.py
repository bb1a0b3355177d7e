"""The practical ceiling: the highest gauge pressure worth pumping to, and what sets it."""

import math
from typing import NamedTuple

import msgspec
import numpy as np

from upstroke_service.physics import tank
from upstroke_service.physics.real import Array, Indices, Real

from . import operation
from .coefficients import Line
from .facts import UNLIMITED, Flags
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

_APART = 8
"""Samples between those that tell where the delivery begins to fall short: it goes on falling from there."""


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
    # Samples lie farthest apart in memory, so that operations with one value for each candidate run straight through.
    whole = np.moveaxis(np.empty((sum(part.shape[-1] for part in parts), *shape)), 0, -1)
    first = 0
    for part in parts:
        whole[..., first : first + part.shape[-1]] = part
        first += part.shape[-1]
    return whole


def _sampled(values: Array, shape: tuple[int, ...], places: Indices) -> Array:
    """Of ``values`` along the last axis, of curves of this ``shape``, those at ``places``: (samples, curves)."""
    whole = np.broadcast_to(values, (*shape, values.shape[-1]))
    curves = np.arange(math.prod(shape))
    return np.moveaxis(whole, -1, 0).reshape(-1).take(places * len(curves) + curves)


def _last_crossing(excess: Array, at: Array) -> Array:
    """Where ``excess`` last rises through zero, by interpolation in ``at`` along the last axis.

    Before the first sample where it is above zero from the start (by the slope there), at the last where
    it never is. There may be lower crossings: too much friction at the preferred cadence, and well within
    the limit a little slower.
    """
    *shape, samples = np.broadcast_shapes(excess.shape, at.shape)
    after = np.minimum(np.maximum(_last(excess < 0.0) + 1, 1), samples - 1)
    places = np.stack([after - 1, after]).reshape(2, -1)
    below, above = _sampled(excess, tuple(shape), places)
    low, high = _sampled(at, tuple(shape), places)
    rise = np.where(above > below, above - below, 1.0)
    share = np.where(above > below, np.minimum(-below / rise, 1.0), 0.0)
    crossing: Array = (low + share * (high - low)).reshape(*shape, 1)
    return crossing


def _last(flags: Flags) -> Indices:
    """Place of the last of the ``flags`` that holds along the last axis, -1 where none does."""
    steps = np.arange(1, flags.shape[-1] + 1, dtype=np.int16)
    places: Indices = (flags * steps).max(axis=-1).astype(np.intp) - 1
    return places


def _rated_lift(op: Operation, curve: _Curve) -> Array:
    pumping = operation.pumping_cadence(op, curve.effective)
    excess = operation.total_head(op, curve.pressure, pumping) - op.lineup.rated_lift
    return _last_crossing(np.asarray(excess), curve.pressure)


def _hand_force(op: Operation) -> Real:
    """What the hand bears at the slowest cadence, where friction and inertia are least."""
    push = Line(op.push.at_zero, np.maximum(op.push.slope, 1e-12))
    return np.minimum(operation.bearable_pressure(op, op.slowest), push.inverse(op.site.hand_force_limit))


def _net_delivery(op: Operation, curve: _Curve) -> Array:
    some = slice((curve.pressure.shape[-1] - 1) % _APART, None, _APART)
    short = _shortfall(op, _Curve(curve.pressure[..., some], curve.effective[..., some]))
    near = _near(curve, some.start + _APART * _last(short < 0.0))
    # The leak goes with the root of the pressure at the hole, so that is what is interpolated in.
    root = np.sqrt(np.maximum(near.pressure + op.hole_at_rest, 0.0))
    crossing = _last_crossing(_shortfall(op, near), root)
    reached = np.where(crossing < 0.0, -UNLIMITED, crossing * crossing - op.hole_at_rest)
    # Without hole and stretch the delivery never falls short. Without a check valve every longer rest
    # leaks more: beyond the last sample nothing is promised.
    endless = short[..., -1:] < 0.0
    draining = ~np.asarray(op.site.check_valve) & (np.asarray(op.hole_capacity) > 0.0)
    limit: Array = np.where(endless, np.where(draining, curve.pressure[..., -1:], UNLIMITED), reached)
    return limit


def _shortfall(op: Operation, curve: _Curve) -> Array:
    """Water in m³ per cycle that is missing on the ``curve`` for pumping to be worth while."""
    return np.asarray(LEAST_NET_DELIVERY * op.displacement - operation.net_delivery(op, *curve))


def _near(curve: _Curve, last: Indices) -> _Curve:
    """The samples between the one at the place ``last`` of each curve and _APART further on."""
    first = np.minimum(np.maximum(last, 0), curve.pressure.shape[-1] - 1 - _APART).reshape(-1)
    places = first + np.arange(_APART + 1)[:, np.newaxis]
    near = (_sampled(values, last.shape, places).reshape(-1, *last.shape) for values in curve)
    return _Curve(*(np.moveaxis(values, 0, -1) for values in near))
