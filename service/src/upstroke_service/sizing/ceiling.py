"""The practical ceiling: the highest gauge pressure worth pumping to, and what sets it."""

import math
from typing import NamedTuple, TypeVar

import msgspec
import numpy as np
from numpy.typing import NDArray

from upstroke_service.physics import tank
from upstroke_service.physics.real import Array, Indices, Real

from . import operation, picking
from .coefficients import Line
from .facts import UNLIMITED, Flags
from .operation import Operation

T = TypeVar("T", bound=np.generic)

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

MANY = 1024
"""Candidates times sites for which calculations cost more than their calls. Measured."""

_DIVIDED, _DIVIDED_OF_MANY = (8, 8, 8), (2,) * 9
"""Into how many pieces the operating curve is divided, and again the piece in which the delivery begins to fall short.

From there it goes on falling, so that either way ends at the same piece: an eighth of the way between two samples.
"""

# The operating curve is sampled from no pressure up: at the preferred cadence, slowing down, at the slowest
# cadence while the force is more than the limit, and with ever longer rests (one part in fifty).
_STEADY, _SLOWING, _STRAINED, _RESTING = 12, 13, 12, 28

_SAMPLED = np.array(
    [
        # How much of the way from the slowest to the preferred cadence.
        np.concatenate([np.ones(_STEADY), np.linspace(1.0, 0.0, _SLOWING), np.zeros(_STRAINED + _RESTING)]),
        # The share of the time that is not rested.
        np.concatenate([np.ones(_STEADY + _SLOWING + _STRAINED), np.geomspace(1.0, 0.02, _RESTING + 1)[1:]]),
        # How much of the way along the pressure while the cadence stays the same.
        np.concatenate(
            [
                np.linspace(0.0, 1.0, _STEADY + 1)[:-1] ** 2,
                np.ones(_SLOWING),
                np.linspace(0.0, 1.0, _STRAINED) ** 2,
                np.ones(_RESTING),
            ]
        ),
    ]
)
_SAMPLES = _SAMPLED.shape[1]
_FIRST_STRAINED = _STEADY + _SLOWING
_STEPS = np.diff(_SAMPLED, append=_SAMPLED[:, -1:])
# Strain begins at the pressure at which slowing down ends.
_STEPS[-1, _FIRST_STRAINED - 1] = 0.0
_SLOWING_AND_LAST = np.array([*range(_STEADY, _FIRST_STRAINED), _SAMPLES - 1])


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
    curve = _operating_curve(op, _SLOWING_AND_LAST)
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


def _operating_curve(op: Operation, samples: Array | Indices) -> _Curve:
    """Some ``samples`` of the curve or points between, axis first: the same of all candidates, or others of each."""
    shape = np.broadcast_shapes(np.shape(op.preferred)[:-1], np.shape(op.slowest)[:-1], samples.shape[1:])
    places = _samples_last(samples)
    before = places.astype(np.intp)
    above_slowest, not_rested, along = _SAMPLED[:, before] + (places - before) * _STEPS[:, before]
    # Samples lie farthest apart in memory, so that operations with one value for each candidate run straight through.
    pumping = _samples_last(np.empty((places.shape[-1], *shape)))
    np.multiply(op.preferred - op.slowest, above_slowest, out=pumping)
    pumping += op.slowest
    effective = pumping * not_rested
    sustained = operation.sustained_pressure(op, effective)
    kept = np.minimum(sustained, operation.bearable_pressure(op, pumping))
    # A hand limited by force goes on at the slowest cadence until power limits it too.
    slowest = places >= _FIRST_STRAINED
    begin = np.where(slowest, np.maximum(kept, np.minimum(sustained, 0.0)), np.minimum(kept, 0.0))
    end = np.where(slowest, sustained, kept)
    return _Curve(np.asarray(begin + (end - begin) * along), effective)


def _samples_last(values: NDArray[T]) -> NDArray[T]:
    return values.transpose(*range(1, values.ndim), 0)


def _sampled(values: Array, shape: tuple[int, ...], places: Indices) -> Array:
    """Of ``values`` along the last axis, of curves of this ``shape``, those at ``places``: (samples, curves)."""
    whole = np.broadcast_to(values, (*shape, values.shape[-1]))
    curves = np.arange(math.prod(shape))
    return whole.transpose(-1, *range(len(shape))).reshape(-1).take(places * len(curves) + curves)


def _last_crossing(excess: Array, at: Array) -> Array:
    """Where ``excess`` last rises through zero, by interpolation in ``at`` along the last axis.

    Before the first sample where it is above zero from the start (by the slope there), at the last where
    it never is. There may be lower crossings: too much friction at the preferred cadence, and well within
    the limit a little slower.
    """
    shape = np.broadcast_shapes(excess.shape, at.shape)[:-1]
    before = _before(excess)
    (below, above), (low, high) = (_around(values, shape, before) for values in (excess, at))
    rise = np.where(above > below, above - below, 1.0)
    share = np.where(above > below, np.minimum(-below / rise, 1.0), 0.0)
    crossing: Array = (low + share * (high - low))[..., np.newaxis]
    return crossing


def _before(excess: Array) -> Indices:
    """Place of the sample before ``excess`` last rises through zero: one that another one follows."""
    place: Indices = np.minimum(np.maximum(_last(excess < 0.0), 0), excess.shape[-1] - 2)
    return place


def _around(values: Array, shape: tuple[int, ...], before: Indices) -> Array:
    """Of ``values`` along the last axis, of curves of this ``shape``, those at ``before`` and behind it, axis first."""
    return _sampled(values, shape, np.stack([before, before + 1]).reshape(2, -1)).reshape(2, *shape)


def _last(flags: Flags) -> Indices:
    """Place of the last of the ``flags`` that holds along the last axis, -1 where none does."""
    steps = np.arange(1, flags.shape[-1] + 1, dtype=np.int16)
    places: Indices = (flags * steps).max(axis=-1).astype(np.intp) - 1
    return places


def _rated_lift(op: Operation, curve: _Curve) -> Array:
    """Explicit wherever the cadence stays the same; while it falls, between the samples of the ``curve``."""
    gamma = op.site.water.specific_weight

    def reached(pumping: Real) -> Array:
        return np.asarray(gamma * (op.lineup.rated_lift - operation.total_head(op, 0.0, pumping)))

    (slowing, furthest), cadences = np.split(curve.pressure, [-1], axis=-1), curve.effective[..., :-1]
    excess = np.asarray(operation.total_head(op, slowing, cadences) - op.lineup.rated_lift)
    crossing = _last_crossing(excess, slowing)
    falling = np.where((excess < 0.0).any(axis=-1, keepdims=True), crossing, reached(op.preferred))
    at_slowest = reached(op.slowest)
    limit: Array = np.where(at_slowest > slowing[..., -1:], np.minimum(at_slowest, furthest), falling)
    return limit


def _hand_force(op: Operation) -> Real:
    """What the hand bears at the slowest cadence, where friction and inertia are least."""
    push = Line(op.push.at_zero, np.maximum(op.push.slope, 1e-12))
    return np.minimum(operation.bearable_pressure(op, op.slowest), push.inverse(op.site.hand_force_limit))


def _net_delivery(op: Operation, curve: _Curve) -> Array:
    """Explicit for a tight drop pipe that delivers enough up to the slowest cadence; sought on the curve otherwise."""
    # Where slowing down ends, and where the curve does.
    at_slowest, furthest = np.split(curve.pressure[..., -2:], 2, axis=-1)
    tight = operation.pressure_of_tight_delivery(op, LEAST_NET_DELIVERY * op.displacement, op.slowest)
    limit = np.where(tight < furthest, tight, UNLIMITED)
    sought = np.broadcast_to((np.asarray(op.hole_capacity) > 0.0) | (tight < at_slowest), limit.shape)
    if not sought.any():
        return limit
    if limit.size < MANY or sought.all():
        return np.where(sought, _falling_short(op, limit.size), limit)
    some = sought[..., 0]
    limit[some] = _falling_short(picking.few(op, some), int(np.count_nonzero(some)))
    return limit


def _falling_short(op: Operation, count: int) -> Array:
    """On the operating curve of so many candidates, where too little is delivered."""
    divided, *again = _DIVIDED if count < MANY else _DIVIDED_OF_MANY
    step = (_SAMPLES - 1) / divided
    curve = _operating_curve(op, step * np.arange(divided + 1))
    short, root = _shortfall(op, curve), _root_at_hole(op, curve)
    last_short, furthest = short[..., -1:], curve.pressure[..., -1:]
    first = np.zeros(short.shape[:-1])
    for divided in again:
        before = _before(short)
        first = first + step * before
        step /= divided
        curve = _operating_curve(op, first + step * np.arange(1, divided).reshape(-1, *[1] * first.ndim))
        short = _between(_around(short, before.shape, before), _shortfall(op, curve))
        root = _between(_around(root, before.shape, before), _root_at_hole(op, curve))
    crossing = _last_crossing(short, root)
    reached = crossing * np.abs(crossing) - op.hole_at_rest
    # There may be none. Where a hole drains without a check valve every longer rest leaks more: beyond the
    # last sample nothing is promised.
    draining = ~np.asarray(op.site.check_valve) & (np.asarray(op.hole_capacity) > 0.0)
    limit: Array = np.where(last_short < 0.0, np.where(draining, furthest, UNLIMITED), reached)
    return limit


def _between(ends: Array, values: Array) -> Array:
    """``values`` along the last axis with one of the two ``ends`` before and one behind them."""
    whole = _samples_last(np.empty((values.shape[-1] + 2, *ends.shape[1:])))
    whole[..., 0], whole[..., -1] = ends
    whole[..., 1:-1] = values
    return whole


def _root_at_hole(op: Operation, curve: _Curve) -> Array:
    """Root of the pressure at the weep hole, with its sign: the leak goes with it, so it is what is interpolated in."""
    pressure = curve.pressure + op.hole_at_rest
    root: Array = np.copysign(np.sqrt(np.abs(pressure)), pressure)
    return root


def _shortfall(op: Operation, curve: _Curve) -> Array:
    """Water in m³ per cycle that is missing on the ``curve`` for pumping to be worth while."""
    return np.asarray(LEAST_NET_DELIVERY * op.displacement - operation.net_delivery(op, *curve))
