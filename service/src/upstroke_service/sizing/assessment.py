"""Every candidate at every site, assessed in one pass over arrays of (sites, candidates, 1)."""

from typing import NamedTuple, TypeVar

import msgspec
import numpy as np

from upstroke_service.physics import head, inertia, operator, suction, well
from upstroke_service.physics.real import Array, Indices, Real
from upstroke_service.physics.suction import Npsh

from . import ceiling, filling, operation, picking, reduction, storage
from .ceiling import Ceiling
from .facts import UNLIMITED, Flags, Lineup, Site
from .filling import Fill
from .operation import Delivery, Operation

T = TypeVar("T", bound=msgspec.Struct)

HALF_FULL = 0.5
"""Share of the wanted water that makes a fill to a lower pressure still worth offering."""

LEAST_STROKE = 0.5
"""Share of a cylinder's stroke that the travel of the hands must allow. Common practice, no source: a
handle that moves the plunger less than half its way is the wrong handle."""

FITS, FITS_WITH_LIMITS, DOES_NOT_FIT = 0, 1, 2


class LiftBudget(msgspec.Struct, frozen=True, kw_only=True):
    """The total dynamic head line by line, m, at the target pressure and the cadence kept there."""

    static_water_level: Real
    well_drawdown: Real
    outlet_height: Real
    rise: Real
    pressure_head: Real
    drop_pipe_friction: Real
    conduit_friction: Real
    fitting_losses: Real
    check_valve: Real
    total_head: Real
    rated_lift: Real
    margin: Real
    pressure_room: Real
    cadence: Real


class Effort(msgspec.Struct, frozen=True):
    """What pumping is like at one tank pressure, SI; ``useful`` is hydraulic power over hand power."""

    pumping_cadence: Real
    effective_cadence: Real
    hand_force: Real
    return_force: Real
    power: Real
    net_per_stroke: Real
    useful: Real


class Moving(msgspec.Struct, frozen=True):
    """What inertia adds at the end of a fill: peak acceleration heads in m, and force at the grip in N.

    ``by_institute`` is the acceleration head of the same columns by the Hydraulic Institute's formula, for
    a simplex single-acting pump; ``force`` is what the peak force at the grip exceeds that of friction by.
    """

    riser_head: Real
    conduit_head: Real
    by_institute: Real
    force: Real


class Assessment(msgspec.Struct, frozen=True, kw_only=True):
    """All candidates assessed; arrays of (sites, candidates, 1) unless said otherwise, SI.

    ``delivery`` and ``moving`` are at the end of the fill, ``npsh`` at the cadence kept at the target.
    ``well_volume`` m³ is what the well gives in one session before it runs dry (UNLIMITED: no such limit).
    """

    op: Operation
    ceiling: Ceiling
    fill: Fill
    budget: LiftBudget
    at_start: Effort
    at_end: Effort
    at_target: Effort
    delivery: Delivery
    moving: Moving
    npsh: Npsh
    suction_lift: Real
    suction_limit: Real
    too_deep: Flags
    too_wide: Flags
    too_short: Flags
    well_volume: Real
    reaches_target: Flags
    outcome: Indices


def lift_budget(op: Operation, limits: Ceiling, pumping: Real) -> LiftBudget:
    """The lift budget at the target pressure and a ``pumping`` cadence in 1/s."""
    site, losses = op.site, op.losses
    gamma = site.water.specific_weight
    total = operation.total_head(op, storage.shown(site, site.target), pumping)
    return LiftBudget(
        static_water_level=site.static_water_level,
        well_drawdown=site.well_drawdown + op.lowering.at(pumping),
        outlet_height=site.outlet_height,
        rise=site.rise,
        pressure_head=head.pressure_head(storage.shown(site, site.target), gamma),
        drop_pipe_friction=losses.riser.at(pumping),
        conduit_friction=losses.conduit.at(pumping),
        fitting_losses=losses.fittings.at(pumping),
        check_valve=head.pressure_head(np.where(site.check_valve, site.cracking_pressure, 0.0), gamma),
        total_head=total,
        rated_lift=op.lineup.rated_lift,
        margin=op.lineup.rated_lift - total,
        pressure_room=limits.limits[0],
        cadence=pumping,
    )


def effort_at(op: Operation, pressure: Real, effective: Real, net: Real) -> Effort:
    """Forces and efficiency at a tank ``pressure`` in Pa and its ``effective`` cadence in 1/s.

    ``net`` is the delivery there, m³ per cycle.
    """
    pumping = operation.pumping_cadence(op, effective)
    _, returning = operation.hand_forces(op, pressure, pumping)
    work = operation.work_of_cycle(op, pressure, pumping)
    gamma = op.site.water.specific_weight
    lift = op.lift + op.lowering.at(pumping) + op.site.rise
    return Effort(
        pumping_cadence=pumping,
        effective_cadence=effective,
        hand_force=operation.hand_force(op, pressure, pumping),
        return_force=returning,
        power=work * effective,
        net_per_stroke=net,
        useful=np.maximum(net, 0.0) * np.maximum(gamma * lift + pressure, 0.0) / work,
    )


def _efforts(op: Operation, fill: Fill) -> tuple[list[Effort], Delivery]:
    """The effort at the start, at the end and at the target, evaluated in one go; the delivery at the end."""
    pressures = np.empty(fill.cadences.shape)
    pressures[..., 0:1], pressures[..., 1:2], pressures[..., 2:3] = fill.start, fill.end, op.site.target
    delivery = operation.delivery(op, pressures, fill.cadences)
    effort = effort_at(op, pressures, fill.cadences, delivery.net)

    def at(found: T, place: int) -> T:
        values = (np.broadcast_to(getattr(found, name), pressures.shape) for name in found.__struct_fields__)
        return type(found)(*(value[..., place : place + 1] for value in values))

    return [at(effort, place) for place in range(3)], at(delivery, 1)


class Worked(NamedTuple):
    """How each candidate is worked: what a site and a line-up are reduced to, the practical ceiling and the fill."""

    op: Operation
    ceiling: Ceiling
    fill: Fill


def assess(site: Site, lineup: Lineup, *, stop_at_ceiling: bool = True, curved: bool = True) -> Assessment:
    """Assess every candidate; fills stop as they do in ``work``, and are ``curved`` for those who draw them."""
    return _concluded(*work(site, lineup, stop_at_ceiling=stop_at_ceiling, curved=curved), site)


def work(site: Site, lineup: Lineup, *, stop_at_ceiling: bool = True, curved: bool = False) -> Worked:
    """Work every candidate, at the power that people keep up for as long as it takes.

    A fill stops at the target or, where that is lower, at the practical ceiling; with
    ``stop_at_ceiling`` false only where no more water arrives or something could break, so that a
    caller sees what more effort would take.
    """
    op = reduction.prepare(site, lineup)
    limits, fill = _filled(op, stop_at_ceiling=stop_at_ceiling, curved=curved)
    tiring = np.asarray((fill.seconds / site.people > operator.SHORT_SPELL) & site.tires)[..., 0]
    if tiring.any():
        return _paced(op, limits, fill, tiring, stop_at_ceiling=stop_at_ceiling, curved=curved)
    return Worked(op, limits, fill)


def _paced(
    op: Operation, limits: Ceiling, fill: Fill, tiring: Flags, *, stop_at_ceiling: bool, curved: bool
) -> Worked:
    """The same where those at ``tiring``, of (sites, candidates), keep to the power that just lasts.

    Two more fills are what this costs, so only those are filled again: for all others nothing changes.
    """
    some: Operation = picking.pick(op, tiring)
    site, first = some.site, fill.seconds[tiring]
    first_power = np.asarray(site.power)
    some = _tired(some, site, first)
    _, second = _filled(some, stop_at_ceiling=stop_at_ceiling, curved=False)
    lasting = _lasting(site, first, first_power, second.seconds, np.asarray(some.site.power))
    some = _tired(some, site, lasting)
    limits_of_some, filled = _filled(some, stop_at_ceiling=stop_at_ceiling, curved=curved)
    power = picking.put(op.site.power, some.site.power, tiring)
    paced = msgspec.structs.replace(op, site=msgspec.structs.replace(op.site, power=power))
    return Worked(paced, picking.put(limits, limits_of_some, tiring), picking.put(fill, filled, tiring))


def _power(site: Site, seconds: Array) -> Real:
    """Power in W that the people at ``site`` sustain while they take turns for ``seconds``."""
    power: Real = np.where(
        site.tires, operator.sustainable_power(seconds / site.people, site.power), site.power
    )
    return power


def _tired(op: Operation, site: Site, seconds: Array) -> Operation:
    """The same with the power that people in turns sustain for ``seconds``."""
    return msgspec.structs.replace(op, site=msgspec.structs.replace(site, power=_power(site, seconds)))


_POWER_STEPS = 12
_MOST_EXPONENT = 1.5


def _lasting(site: Site, first: Array, first_power: Array, second: Array, second_power: Array) -> Array:
    """Seconds of a fill at the power that is sustained just so long.

    From two fills at two powers: in between, and a little beyond, the time goes as a power of the power.
    """
    tired = second_power < first_power
    ratio = np.where(tired, first_power / second_power, 2.0)
    # Where less power ends the fill earlier, the time tells nothing: then the power of the first fill's.
    longer = np.log(np.maximum(second, 1.0) / np.maximum(first, 1.0)) / np.log(ratio)
    exponent = np.where(tired, np.minimum(np.maximum(longer, 0.0), _MOST_EXPONENT), 0.0)
    seconds = second
    for _ in range(_POWER_STEPS):
        seconds = first * (first_power / _power(site, seconds)) ** exponent
    return seconds


def _filled(op: Operation, *, stop_at_ceiling: bool, curved: bool) -> tuple[Ceiling, Fill]:
    limits = ceiling.find(op)
    stop = limits.pressure if stop_at_ceiling else limits.hard_stop
    return limits, filling.total(op, np.minimum(stop, op.site.target), curved=curved)


def _concluded(op: Operation, limits: Ceiling, fill: Fill, site: Site) -> Assessment:
    lineup = op.lineup
    (at_start, at_end, at_target), delivery = _efforts(op, fill)
    budget = lift_budget(op, limits, at_target.pumping_cadence)
    npsh = _npsh(op, at_target.pumping_cadence)
    greatest = suction.greatest_suction_lift(
        site.water.barometric_head, op.losses.suction_head.at(op.slowest), suction.REQUIRED_NPSH
    )
    too_deep = lineup.suction & (np.asarray(npsh.suction_lift) > greatest)
    too_wide = ~lineup.suction & (np.asarray(lineup.outside_diameter) > site.casing_room)
    too_short = np.asarray(op.stroke < LEAST_STROKE * lineup.stroke)
    reaches = (limits.pressure >= site.target) & (storage.start_of_storage(site) < site.target)
    wanted = storage.stored_between(site, site.target)
    worth = (fill.volume >= HALF_FULL * wanted) & (fill.volume > 0.0)
    outcome = np.where(reaches, FITS, np.where(worth, FITS_WITH_LIMITS, DOES_NOT_FIT))
    return Assessment(
        op=op,
        ceiling=limits,
        fill=fill,
        budget=budget,
        at_start=at_start,
        at_end=at_end,
        at_target=at_target,
        delivery=delivery,
        moving=_moving(op, at_end.pumping_cadence),
        npsh=npsh,
        suction_lift=npsh.suction_lift,
        suction_limit=greatest,
        too_deep=too_deep,
        too_wide=too_wide,
        too_short=too_short,
        well_volume=_well_volume(op, fill),
        reaches_target=reaches,
        outcome=np.where(too_deep | too_wide | too_short, DOES_NOT_FIT, outcome),
    )


def _npsh(op: Operation, pumping: Real) -> Npsh:
    """NPSH line by line at a ``pumping`` cadence in 1/s; of friction and inertia the peak they reach together."""
    water, losses = op.site.water, op.losses
    inertial = losses.riser_inertia.at(pumping)
    together = losses.suction_head.at(pumping)
    return Npsh(
        atmospheric_head=water.atmospheric_pressure / water.specific_weight,
        vapour_head=water.saturation_pressure / water.specific_weight,
        suction_lift=op.lift + op.lowering.at(pumping),
        friction=np.maximum(together - inertial, 0.0),
        acceleration_head=np.minimum(inertial, together),
    )


def _moving(op: Operation, pumping: Real) -> Moving:
    riser, conduit = op.losses.riser_inertia.at(pumping), op.losses.conduit_inertia.at(pumping)
    return Moving(
        riser_head=riser,
        conduit_head=conduit,
        by_institute=(riser + conduit) * inertia.institute_share(op.lineup.upstroke_share),
        force=op.moving_pull.at(pumping) - op.friction_pull.at(pumping),
    )


def _well_volume(op: Operation, fill: Fill) -> Real:
    """Water in m³ that a session gets before the well runs dry, at the mean flow of the fill."""
    site = op.site
    flow = fill.volume / np.maximum(fill.seconds, 1.0)
    standing = well.casing_storage(site.casing_area, op.cylinder_depth - site.static_water_level)
    lasts = well.time_until_dry(standing, flow, site.sustained_yield)
    given = np.minimum(flow * lasts, UNLIMITED)
    volume: Real = np.where(
        (np.asarray(site.casing_area) > 0.0) & ~op.lineup.suction & (flow > site.sustained_yield),
        given,
        UNLIMITED,
    )
    return volume
