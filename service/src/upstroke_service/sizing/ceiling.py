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
"""Candidates times sites from which it pays to tell apart those for which there is nothing to be sought. Measured."""

_APART = 8
"""Samples between those that tell where the delivery begins to fall short: it goes on falling from there."""

# The operating curve is sampled from no pressure up: at the preferred cadence, slowing down, at the slowest
# cadence while the force is more than the limit, and with ever longer rests (one part in fifty).
_STEADY, _SLOWING, _STRAINED, _RESTING = 12, 13, 12, 32

# Of each sample: how much of the way from the slowest to the preferred cadence, the share of the time that
# is not rested, and how much of the way along the pressure while the cadence stays the same.
_ABOVE_SLOWEST = np.concatenate(
    [np.ones(_STEADY), np.linspace(1.0, 0.0, _SLOWING), np.zeros(_STRAINED + _RESTING)]
)
_NOT_RESTED = np.concatenate(
    [np.ones(_STEADY + _SLOWING + _STRAINED), np.geomspace(1.0, 0.02, _RESTING + 1)[1:]]
)
_ALONG = np.concatenate(
    [
        np.linspace(0.0, 1.0, _STEADY + 1)[:-1] ** 2,
        np.ones(_SLOWING),
        np.linspace(0.0, 1.0, _STRAINED + 1)[1:] ** 2,
        np.ones(_RESTING),
    ]
)
_SAMPLES = len(_ALONG)
_FIRST_STRAINED = _STEADY + _SLOWING
_SLOWING_AND_LAST = np.array([*range(_STEADY, _FIRST_STRAINED), _SAMPLES - 1])
_SPREAD = np.arange((_SAMPLES - 1) % _APART, _SAMPLES, _APART)


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
        _net_delivery(op, _Curve(*(values[..., -1:] for values in curve))),
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


def _operating_curve(op: Operation, samples: Indices) -> _Curve:
    """Some ``samples`` of the curve, their axis first: the same of all candidates, or others of each."""
    shape = np.broadcast_shapes(np.shape(op.preferred)[:-1], np.shape(op.slowest)[:-1], samples.shape[1:])
    samples = _samples_last(samples)
    # Samples lie farthest apart in memory, so that operations with one value for each candidate run straight through.
    pumping = _samples_last(np.empty((samples.shape[-1], *shape)))
    np.multiply(op.preferred - op.slowest, _ABOVE_SLOWEST[samples], out=pumping)
    pumping += op.slowest
    effective = pumping * _NOT_RESTED[samples]
    sustained = operation.sustained_pressure(op, effective)
    kept = np.minimum(sustained, operation.bearable_pressure(op, pumping))
    # A hand limited by force goes on at the slowest cadence until power limits it too.
    slowest = samples >= _FIRST_STRAINED
    begin = np.where(slowest, np.maximum(kept, np.minimum(sustained, 0.0)), np.minimum(kept, 0.0))
    end = np.where(slowest, sustained, kept)
    return _Curve(np.asarray(begin + (end - begin) * _ALONG[samples]), effective)


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


def _net_delivery(op: Operation, furthest: _Curve) -> Array:
    """Sought where it exists: without a hole, only where ``furthest`` along the curve too little is delivered."""
    shape = furthest.pressure.shape
    if furthest.pressure.size < MANY:
        return _falling_short(op)
    falls = np.broadcast_to(np.asarray(op.hole_capacity) > 0.0, shape)[..., 0]
    if not falls.all():
        tight = ~falls
        end = _Curve(*(np.broadcast_to(values, shape)[tight] for values in furthest))
        falls = falls.copy()
        falls[tight] = _shortfall(picking.few(op, tight), end)[..., 0] >= 0.0
    if falls.all():
        return _falling_short(op)
    limit = np.full(shape, UNLIMITED)
    if falls.any():
        limit[falls] = _falling_short(picking.few(op, falls))
    return limit


def _falling_short(op: Operation) -> Array:
    spread = _operating_curve(op, _SPREAD)
    short = _shortfall(op, spread)
    first = np.minimum(np.maximum(_SPREAD[0] + _APART * _last(short < 0.0), 0), _SPREAD[-2])
    near = _operating_curve(op, first + np.arange(_APART + 1).reshape(-1, *[1] * first.ndim))
    # The leak goes with the root of the pressure at the hole, so that is what is interpolated in.
    root = np.sqrt(np.maximum(near.pressure + op.hole_at_rest, 0.0))
    crossing = _last_crossing(_shortfall(op, near), root)
    reached = np.where(crossing < 0.0, -UNLIMITED, crossing * crossing - op.hole_at_rest)
    # There may be none. Where a hole drains without a check valve every longer rest leaks more: beyond the
    # last sample nothing is promised.
    draining = ~np.asarray(op.site.check_valve) & (np.asarray(op.hole_capacity) > 0.0)
    beyond = np.where(draining, spread.pressure[..., -1:], UNLIMITED)
    limit: Array = np.where(short[..., -1:] < 0.0, beyond, reached)
    return limit


def _shortfall(op: Operation, curve: _Curve) -> Array:
    """Water in m³ per cycle that is missing on the ``curve`` for pumping to be worth while."""
    return np.asarray(LEAST_NET_DELIVERY * op.displacement - operation.net_delivery(op, *curve))
