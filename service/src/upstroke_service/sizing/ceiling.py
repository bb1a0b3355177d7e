"""The practical ceiling: the highest gauge pressure worth pumping to, and what sets it."""

import msgspec
import numpy as np

from upstroke_service.physics import tank
from upstroke_service.physics.real import Array, Indices, Real

from . import operation
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

# Effective cadences at which the operating curve is sampled: down to the slowest pumping cadence in
# even steps, then rests in between down to one part in fifty of it.
_SLOWING = np.linspace(1.0, 0.0, 13)
_RESTING = np.geomspace(1.0, 0.02, 49)[1:]


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
    worked = _on_operating_curve(op)
    acceptance = tank.pressure_at_stored_volume(
        site.tank_acceptance, 1.0, site.precharge, site.water.atmospheric_pressure, site.gas_exponent
    )
    stated = (
        site.tank_rating,
        np.minimum(acceptance, UNLIMITED),
        relief_limit(site.relief_valve),
        site.hose_rating,
        site.highest_known_safe,
    )
    shape = np.broadcast_shapes(worked.shape[1:], *(np.shape(value) for value in stated))
    limits = np.empty((len(LIMITS), *shape))
    for place, value in enumerate((*worked, *stated)):
        limits[place] = value
    return Ceiling(limits)


def _on_operating_curve(op: Operation) -> Array:
    """Pressures at which rated lift, hand force and net delivery are reached as the operator slows."""
    effective = np.concatenate(
        [op.slowest + (op.preferred - op.slowest) * _SLOWING, op.slowest * _RESTING], axis=-1
    )
    sustained = np.asarray(operation.sustained_pressure(op, effective))
    lift, force, net = _allowed(op, effective)
    shapes = (np.shape(value) for value in (sustained, lift, force, net))
    allowed = np.empty((3, *np.broadcast_shapes(*shapes)))
    allowed[0], allowed[1], allowed[2] = lift, force, net
    excess = sustained - allowed

    # The highest crossing lies after the last sample below zero. Friction in a narrow hose can make
    # lower ones: too much at the preferred cadence, and well within the limit a little slower.
    samples = excess.shape[-1]
    within = excess[..., ::-1] < 0.0
    after = np.where(within.any(axis=-1), samples - within.argmax(axis=-1), 0).reshape(-1)
    after = np.minimum(np.maximum(after, 1), samples - 1)
    rows = np.arange(after.size)
    flat_excess, flat_allowed = excess.reshape(-1, samples), allowed.reshape(-1, samples)
    below, above = flat_excess[rows, after - 1], flat_excess[rows, after]
    low, high = flat_allowed[rows, after - 1], flat_allowed[rows, after]
    share = np.minimum(np.maximum(-below / np.where(above > below, above - below, 1.0), 0.0), 1.0)
    crossing = (low + share * (high - low)).reshape(*excess.shape[:-1], 1)

    # Without a check valve every longer rest leaks more: beyond the last sample nothing is promised.
    draining = (excess[2, ..., -1:] < 0.0) & ~np.asarray(op.site.check_valve) & (op.hole_capacity > 0.0)
    crossing[2] = np.where(draining, sustained[..., -1:], crossing[2])
    bounded: Array = np.minimum(np.maximum(crossing, -UNLIMITED), UNLIMITED)
    return bounded


def _allowed(op: Operation, effective: Array) -> tuple[Real, Real, Real]:
    """Greatest tank pressure that each of the three limits allows at an effective cadence."""
    site = op.site
    pumping = operation.pumping_cadence(op, effective)
    lift = site.water.specific_weight * (op.lineup.rated_lift - operation.total_head(op, 0.0, pumping))

    pull = op.pull.inverse(site.hand_force_limit - op.moving_pull.at(pumping))
    push = operation.Line(op.push.at_zero, np.maximum(op.push.slope, 1e-12)).inverse(site.hand_force_limit)

    most_leak = operation.leak_that_leaves(op, LEAST_NET_DELIVERY * op.displacement, effective)
    holed = np.asarray(op.hole_capacity) > 0.0
    inside = (most_leak / np.where(holed, op.hole_capacity, 1.0)) ** 2
    net = np.where(holed, inside - operation.hole_pressure(op, 0.0, pumping), UNLIMITED)
    net = np.where(most_leak < 0.0, -UNLIMITED, net)
    return lift, np.minimum(pull, push), net
