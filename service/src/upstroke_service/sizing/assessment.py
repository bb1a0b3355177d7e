"""Every candidate at every site, assessed in one pass over arrays of (sites, candidates, 1)."""

import msgspec
import numpy as np

from upstroke_service.physics import head, suction
from upstroke_service.physics.operator import SHORT_SPELL
from upstroke_service.physics.real import Indices, Real

from . import ceiling, filling, operation
from .ceiling import Ceiling
from .facts import Flags, Lineup, Site
from .filling import Fill
from .operation import Operation

HALF_FULL = 0.5
"""Share of the wanted water that makes a fill to a lower pressure still worth offering."""

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


class Assessment(msgspec.Struct, frozen=True, kw_only=True):
    """All candidates assessed; arrays of (sites, candidates, 1) unless said otherwise, SI."""

    op: Operation
    ceiling: Ceiling
    fill: Fill
    budget: LiftBudget
    at_start: Effort
    at_end: Effort
    at_target: Effort
    suction_lift: Real
    suction_limit: Real
    too_deep: Flags
    too_wide: Flags
    reaches_target: Flags
    outcome: Indices


def lift_budget(op: Operation, pumping: Real) -> LiftBudget:
    """The lift budget at the target pressure and a ``pumping`` cadence in 1/s."""
    site, losses = op.site, op.losses
    gamma = site.water.specific_weight
    total = operation.total_head(op, site.target, pumping)
    margin = op.lineup.rated_lift - total
    return LiftBudget(
        static_water_level=site.static_water_level,
        well_drawdown=site.well_drawdown + op.drawdown_per_cadence * pumping,
        outlet_height=site.outlet_height,
        rise=site.rise,
        pressure_head=head.pressure_head(site.target, gamma),
        drop_pipe_friction=losses.riser.at(pumping),
        conduit_friction=losses.conduit.at(pumping),
        fitting_losses=losses.fittings.at(pumping),
        check_valve=head.pressure_head(np.where(site.check_valve, site.cracking_pressure, 0.0), gamma),
        total_head=total,
        rated_lift=op.lineup.rated_lift,
        margin=margin,
        pressure_room=site.target + head.head_pressure(margin, gamma),
        cadence=pumping,
    )


def effort_at(op: Operation, pressure: Real, effective: Real) -> Effort:
    """Forces, delivery and efficiency at a tank ``pressure`` in Pa and its ``effective`` cadence in 1/s."""
    pumping = operation.pumping_cadence(op, effective)
    _, returning = operation.hand_forces(op, pressure, pumping)
    net = operation.net_delivery(op, pressure, effective)
    work = operation.work_of_cycle(op, pressure, pumping)
    gamma = op.site.water.specific_weight
    lift = op.lift + op.drawdown_per_cadence * pumping + op.site.rise
    return Effort(
        pumping_cadence=pumping,
        effective_cadence=effective,
        hand_force=operation.hand_force(op, pressure, pumping),
        return_force=returning,
        power=work * effective,
        net_per_stroke=net,
        useful=np.maximum(net, 0.0) * np.maximum(gamma * lift + pressure, 0.0) / work,
    )


def _efforts(op: Operation, fill: Fill) -> list[Effort]:
    """The effort at the start, at the end and at the target, evaluated in one go."""
    pressures = np.empty(fill.cadences.shape)
    pressures[..., 0:1], pressures[..., 1:2], pressures[..., 2:3] = fill.start, fill.end, op.site.target
    effort = effort_at(op, pressures, fill.cadences)
    values = [np.broadcast_to(getattr(effort, name), pressures.shape) for name in Effort.__struct_fields__]
    return [Effort(*(value[..., place : place + 1] for value in values)) for place in range(3)]


def assess(site: Site, lineup: Lineup, *, stop_at_ceiling: bool = True) -> Assessment:
    """Assess every candidate.

    A fill stops at the target or, where that is lower, at the practical ceiling; with
    ``stop_at_ceiling`` false only where no more water arrives or something could break, so that a
    caller sees what more effort would take.
    """
    op = operation.prepare(site, lineup)
    limits, fill = _filled(op, stop_at_ceiling=stop_at_ceiling)
    prolonged = (fill.seconds > SHORT_SPELL) & (np.asarray(site.prolonged_power) < site.power)
    if prolonged.any():
        power = np.where(prolonged, site.prolonged_power, site.power)
        op = msgspec.structs.replace(op, site=msgspec.structs.replace(site, power=power))
        limits, fill = _filled(op, stop_at_ceiling=stop_at_ceiling)
    return _concluded(op, limits, fill)


def _filled(op: Operation, *, stop_at_ceiling: bool) -> tuple[Ceiling, Fill]:
    limits = ceiling.find(op)
    stop = limits.pressure if stop_at_ceiling else limits.hard_stop
    return limits, filling.total(op, np.minimum(stop, op.site.target))


def _concluded(op: Operation, limits: Ceiling, fill: Fill) -> Assessment:
    site, lineup = op.site, op.lineup
    at_start, at_end, at_target = _efforts(op, fill)
    budget = lift_budget(op, at_target.pumping_cadence)
    suction_lift = site.static_water_level + budget.well_drawdown + site.outlet_height
    suction_limit = suction.PRACTICAL_SHARE * site.water.barometric_head
    too_deep = lineup.suction & (np.asarray(suction_lift) > suction_limit)
    too_wide = ~lineup.suction & (np.asarray(lineup.outside_diameter) > site.casing_room)
    reaches = limits.pressure >= site.target
    wanted = filling.stored_between(op, site.target)
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
        suction_lift=suction_lift,
        suction_limit=suction_limit,
        too_deep=too_deep,
        too_wide=too_wide,
        reaches_target=reaches,
        outcome=np.where(too_deep | too_wide, DOES_NOT_FIT, outcome),
    )
