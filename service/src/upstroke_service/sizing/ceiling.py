"""The practical ceiling: the highest gauge pressure worth pumping to, and what sets it."""

import msgspec
import numpy as np

from upstroke_service.physics import tank
from upstroke_service.physics.real import Array, Real

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
    def governing(self) -> Array:
        """Index into LIMITS of the limit that sets the ceiling."""
        return self.limits.argmin(axis=0)


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
    for row, value in zip(limits, (*worked, *stated), strict=True):
        row[...] = value
    return Ceiling(limits)


def _on_operating_curve(op: Operation) -> Array:
    """Pressures at which rated lift, hand force and net delivery are reached as the operator slows."""
    effective = np.concatenate(
        [op.slowest + (op.preferred - op.slowest) * _SLOWING, op.slowest * _RESTING], axis=-1
    )
    sustainable = operation.sustained_pressure(op, effective)
    *rows, sustained = np.broadcast_arrays(*_allowed(op, effective), sustainable)
    allowed = np.stack(rows)
    excess = sustained - allowed

    # The highest crossing lies after the last sample below zero. Friction in a narrow hose can make
    # lower ones: too much at the preferred cadence, and well within the limit a little slower.
    samples = excess.shape[-1]
    within = excess[..., ::-1] < 0.0
    after = np.where(within.any(axis=-1, keepdims=True), samples - within.argmax(axis=-1, keepdims=True), 0)
    after = np.clip(after, 1, samples - 1)
    below, above = (np.take_along_axis(excess, index, axis=-1) for index in (after - 1, after))
    low, high = (np.take_along_axis(allowed, index, axis=-1) for index in (after - 1, after))
    share = np.clip(-below / np.where(above > below, above - below, 1.0), 0.0, 1.0)
    crossing = low + share * (high - low)

    # Without a check valve every longer rest leaks more: beyond the last sample nothing is promised.
    draining = (excess[2, ..., -1:] < 0.0) & ~np.asarray(op.site.check_valve) & (op.hole_capacity > 0.0)
    crossing[2] = np.where(draining, sustained[..., -1:], crossing[2])
    return np.clip(crossing, -UNLIMITED, UNLIMITED)


def _allowed(op: Operation, effective: Array) -> tuple[Real, Real, Real]:
    """Greatest tank pressure that each of the three limits allows at an effective cadence."""
    site, lineup = op.site, op.lineup
    gamma = site.water.specific_weight
    pumping = operation.pumping_cadence(op, effective)
    lift = gamma * (lineup.rated_lift - operation.total_head(op, 0.0, pumping))

    upstroke, returning = operation.hand_forces(op, 0.0, pumping)
    to_hand = lineup.handle_ratio * lineup.handle_efficiency
    pull = (site.hand_force_limit - upstroke) * to_hand / op.upstroke_area
    push = (site.hand_force_limit - returning) * to_hand / np.maximum(op.rod_area, 1e-12)

    most_leak = (op.delivered - LEAST_NET_DELIVERY * op.displacement) / operation.leaking_time(op, effective)
    holed = np.asarray(op.hole_capacity) > 0.0
    inside = (most_leak / np.where(holed, op.hole_capacity, 1.0)) ** 2
    net = np.where(holed, inside - operation.hole_pressure(op, 0.0, pumping), UNLIMITED)
    net = np.where(most_leak < 0.0, -UNLIMITED, net)
    return lift, np.minimum(pull, push), net
