"""How a person works a cylinder at a site: cadence, forces, head and delivery at any tank pressure.

Friction depends on the cadence and not on the pressure, so it is evaluated at three cadences and
carried as a quadratic between them (exact at the slowest and the preferred one, and in the middle
unless the flow turns from laminar to turbulent about there). The operator keeps the preferred cadence
until a cycle costs more power than can be sustained, then slows down, and at the slowest cadence puts
rests in between: the effective cadence counts those rests. Turned round, the pressure at which an
effective cadence is just sustained is explicit, and so every limit is found on that curve without a
solver per candidate.
"""

import msgspec
import numpy as np

from upstroke_service.physics import cadence, cylinder, effort, friction, pulsation, weep_hole
from upstroke_service.physics.real import Array, Real

from .facts import Lineup, Site

LONGEST_HAND_TRAVEL = 1.1
"""Longest comfortable travel of the hands in m. Common practice, no source."""

SUBMERGENCE = 4.572
"""Depth in m of a cylinder below the pumping level where nobody said otherwise (15 ft).
Common practice, no source."""

SLOWEST_CADENCE = 20.0 / 60.0
"""Cadence in 1/s below which people rest between strokes rather than slow down further (or half of
the preferred cadence, where that is less). Common practice, no source."""


class Quadratic(msgspec.Struct, frozen=True):
    """c₀ + c₁·n + c₂·n² of the cadence n in 1/s."""

    c0: Real
    c1: Real
    c2: Real

    def at(self, n: Real) -> Real:
        """Value at a cadence ``n`` in 1/s."""
        return (self.c2 * n + self.c1) * n + self.c0

    def row(self, place: int) -> "Quadratic":
        """One of several that were fitted together along a first axis."""
        return Quadratic(np.asarray(self.c0)[place], np.asarray(self.c1)[place], np.asarray(self.c2)[place])

    def plus(self, other: "Quadratic") -> "Quadratic":
        """Sum of two."""
        return Quadratic(self.c0 + other.c0, self.c1 + other.c1, self.c2 + other.c2)

    def times(self, factor: Real) -> "Quadratic":
        """Multiple of one."""
        return Quadratic(self.c0 * factor, self.c1 * factor, self.c2 * factor)


class Line(msgspec.Struct, frozen=True):
    """A straight line in the tank pressure in Pa."""

    at_zero: Real
    slope: Real

    def at(self, pressure: Real) -> Real:
        """Value at a tank ``pressure`` in Pa."""
        return self.at_zero + self.slope * pressure

    def inverse(self, value: Real) -> Real:
        """Tank pressure in Pa at which the line has a ``value``."""
        return (value - self.at_zero) / self.slope


class Losses(msgspec.Struct, frozen=True):
    """Head losses in m by cadence: averaged by work over the stroke, and at the stroke's peak."""

    riser: Quadratic
    conduit: Quadratic
    fittings: Quadratic
    riser_peak: Quadratic
    delivery_peak: Quadratic


class Operation(msgspec.Struct, frozen=True, kw_only=True):
    """A site and a line-up reduced to the coefficients that every answer is computed from, SI.

    ``lift`` is the height of the pump outlet above the water at rest, any stated well drawdown
    included; ``delivered`` is what a cycle delivers, of which the re-entering rod displaces ``returned``
    on the downstroke; ``outlet_pressure`` is what the rise and the check valve add to the tank's pressure;
    ``hole_capacity`` is the weep hole's flow at 1 Pa. The work of a cycle is the greatest of
    ``idle_work`` (seals alone), ``falling`` (the rod falls by itself) and ``pushing`` (it has to be
    pushed down), plus ``moving_work``; ``pull`` and ``push`` are the forces at the grip at rest, to
    which ``moving_pull`` adds the friction at mid-stroke; ``moving_head`` and ``moving_hole`` are the
    head (m) and the pressure at the weep hole (Pa) that come with the flow.
    """

    site: Site
    lineup: Lineup
    stroke: Real
    plunger_area: Real
    rod_area: Real
    upstroke_area: Real
    displacement: Real
    delivered: Real
    returned: Real
    lift: Real
    drawdown_per_cadence: Real
    cylinder_depth: Real
    outlet_pressure: Real
    losses: Losses
    idle_work: Real
    falling: Line
    pushing: Line
    moving_work: Quadratic
    pull: Line
    moving_pull: Quadratic
    push: Line
    head_at_rest: Real
    moving_head: Quadratic
    hole_at_rest: Real
    moving_hole: Quadratic
    hole_capacity: Real
    slowest: Real
    preferred: Real


def prepare(site: Site, lineup: Lineup) -> Operation:
    """Reduce ``site`` and ``lineup`` to an Operation."""
    gamma = site.water.specific_weight
    stroke = np.minimum(lineup.stroke, LONGEST_HAND_TRAVEL / lineup.handle_ratio)
    plunger = cylinder.plunger_area(lineup.bore)
    rod = friction.circular_area(lineup.rod_diameter)
    upstroke_area = plunger - rod
    delivered = lineup.volumetric_efficiency * plunger * stroke
    preferred = site.cadence
    slowest = np.minimum(SLOWEST_CADENCE, 0.5 * preferred)

    lift = site.static_water_level + site.well_drawdown + site.outlet_height
    drawdown = delivered * site.drawdown_per_flow
    if site.cylinder_depth is None:
        depth = lift - site.outlet_height + drawdown * preferred + SUBMERGENCE
    else:
        depth, _ = np.broadcast_arrays(site.cylinder_depth, delivered)
    riser_length = depth + site.outlet_height
    # Friction in a suction pipe acts below the plunger, on all of it.
    riser_area = np.where(lineup.suction, plunger, upstroke_area)
    losses = _losses(
        site, lineup, riser_length, riser_area * stroke, upstroke_area * stroke, slowest, preferred
    )
    outlet_pressure = gamma * site.rise + np.where(site.check_valve, site.cracking_pressure, 0.0)
    upstroke, returning = _forces(site, lineup, riser_length, lift, outlet_pressure, plunger, rod)
    per_force = stroke / lineup.handle_efficiency
    lever = lineup.handle_ratio * lineup.handle_efficiency
    delivery = losses.conduit.plus(losses.fittings)
    lowering = Quadratic(0.0, drawdown, 0.0)
    return Operation(
        site=site,
        lineup=lineup,
        stroke=stroke,
        plunger_area=plunger,
        rod_area=rod,
        upstroke_area=upstroke_area,
        displacement=plunger * stroke,
        delivered=delivered,
        returned=rod * stroke,
        lift=lift,
        drawdown_per_cadence=drawdown,
        cylinder_depth=depth,
        outlet_pressure=outlet_pressure,
        losses=losses,
        idle_work=lineup.seal_drag * per_force,
        falling=Line(upstroke * per_force, upstroke_area * per_force),
        pushing=Line((upstroke + returning) * per_force, plunger * per_force),
        moving_work=losses.riser.times(riser_area)
        .plus(delivery.times(upstroke_area))
        .plus(lowering.times(plunger))
        .times(gamma * per_force),
        pull=Line(upstroke / lever, upstroke_area / lever),
        moving_pull=losses.riser_peak.times(riser_area)
        .plus(losses.delivery_peak.times(upstroke_area))
        .plus(lowering.times(plunger))
        .times(gamma / lever),
        push=Line(returning / lever, rod / lever),
        head_at_rest=lift + outlet_pressure / gamma,
        moving_head=losses.riser.plus(delivery).plus(lowering),
        hole_at_rest=outlet_pressure + gamma * lineup.weep_hole_depth,
        moving_hole=delivery.times(np.where(site.check_valve, gamma, 0.0)),
        hole_capacity=weep_hole.discharge(
            1.0, lineup.weep_hole_diameter, lineup.weep_hole_coefficient, site.water.density
        ),
        slowest=slowest,
        preferred=preferred,
    )


def _forces(
    site: Site,
    lineup: Lineup,
    riser_length: Real,
    lift: Real,
    outlet_pressure: Real,
    plunger: Real,
    rod: Real,
) -> tuple[Real, Real]:
    """Rod forces in N on the upstroke and on the return, at rest and without pressure in the tank."""
    hanging = effort.buoyant_rod_weight(
        lineup.rod_diameter, riser_length, lineup.rod_density, site.water.density
    )
    weight = np.where(lineup.suction, 0.0, hanging)
    drag = lineup.seal_drag
    upstroke = effort.upstroke_force(
        lift, outlet_pressure, plunger, rod, site.water.specific_weight, weight, drag
    )
    return upstroke, effort.return_force(outlet_pressure, rod, weight, drag)


def _losses(
    site: Site,
    lineup: Lineup,
    riser_length: Real,
    riser_swept: Real,
    swept: Real,
    slowest: Real,
    preferred: Real,
) -> Losses:
    """All friction, in one evaluation over (phases, stretches, sites, candidates, cadences)."""
    rod = np.where(lineup.suction, 0.0, lineup.rod_diameter)
    area, hydraulic = friction.annulus(lineup.drop_pipe_inside_diameter, rod)
    volume = lineup.volumetric_efficiency * swept
    stretches: list[tuple[Real, ...]] = [
        (
            area,
            hydraulic,
            riser_length,
            lineup.drop_pipe_roughness,
            lineup.volumetric_efficiency * riser_swept,
        )
    ]
    for run in site.runs:
        bore = run.inside_diameter
        stretches.append((friction.circular_area(bore), bore, run.length, run.roughness, volume))
    area, hydraulic, length, roughness, volumes = _stacked(stretches)

    cadences = _three(slowest, preferred)
    peaks = np.asarray(pulsation.peak_flow(volumes, lineup.upstroke_share / cadences))
    fractions, weights = pulsation.half_sine_nodes()
    phases = np.append(fractions, 1.0).reshape(-1, *[1] * peaks.ndim)
    loss = np.asarray(
        friction.head_loss(
            phases * peaks, area, hydraulic, length, roughness, site.water.density, site.water.viscosity
        )
    )
    averaged = (weights @ loss[:-1].reshape(len(weights), -1)).reshape(peaks.shape)
    peak = loss[-1]
    fitted = _quadratic(
        np.stack([averaged[0], averaged[1:].sum(axis=0), peak[0], peak[1:].sum(axis=0)]), slowest, preferred
    )
    riser, conduit, riser_peak, conduit_peak = (fitted.row(place) for place in range(4))
    # Fittings go with the square of the flow, so they need no nodes.
    fittings_peak = site.fittings * pulsation.peak_flow(volume, lineup.upstroke_share) ** 2
    return Losses(
        riser=riser,
        conduit=conduit,
        fittings=Quadratic(0.0, 0.0, fittings_peak * float(weights @ fractions**2)),
        riser_peak=riser_peak,
        delivery_peak=conduit_peak.plus(Quadratic(0.0, 0.0, fittings_peak)),
    )


def _three(slowest: Real, preferred: Real) -> Array:
    """The slowest, the middle and the preferred cadence along the last axis."""
    return np.concatenate(
        [np.atleast_1d(value) for value in (slowest, 0.5 * (slowest + preferred), preferred)], axis=-1
    )


def _stacked(stretches: list[tuple[Real, ...]]) -> Array:
    """The stretches' columns (first axis), each with the stretches as second axis and all of one shape."""
    shape = np.broadcast_shapes(*{np.shape(value) for stretch in stretches for value in stretch})
    stacked = np.empty((len(stretches[0]), len(stretches), *shape))
    for row, stretch in enumerate(stretches):
        for column, value in enumerate(stretch):
            stacked[column, row] = value
    return stacked


def _quadratic(values: Array, slowest: Real, preferred: Real) -> Quadratic:
    """Through ``values`` (last axis) at the slowest, the middle and the preferred cadence.

    Held between a straight line and a square law, as friction is: where laminar flow turns turbulent
    in between, a parabola through all three may dip, and then it misses the middle one. So the work of
    a cycle never falls with the cadence, on which ``sustained_cadence`` relies.
    """
    span = preferred - slowest
    low, mid, high = values[..., 0:1], values[..., 1:2], values[..., 2:3]
    slope = np.maximum(high - low, 0.0) / span
    bend = (high - 2.0 * mid + low) / (0.5 * span * span)
    c2 = np.minimum(np.maximum(bend, 0.0), slope / (slowest + preferred))
    c1 = slope - c2 * (slowest + preferred)
    return Quadratic(low - (c2 * slowest + c1) * slowest, c1, c2)


def static_work(op: Operation, pressure: Real) -> Real:
    """Work in J of a cycle at a tank ``pressure`` in Pa, without what depends on the cadence.

    At least what moves the plunger against its seals once: where the water runs downhill by itself it
    drives nobody.
    """
    return np.maximum(np.maximum(op.falling.at(pressure), op.pushing.at(pressure)), op.idle_work)


def effective_cadence(op: Operation, pressure: Real) -> Real:
    """Cycles per second, rests included, that the operator sustains at a tank ``pressure`` in Pa."""
    work = op.moving_work
    return cadence.sustained_cadence(
        op.site.power, static_work(op, pressure) + work.c0, work.c1, work.c2, op.slowest, op.preferred
    )


def pumping_cadence(op: Operation, effective: Real) -> Real:
    """Cycles per second while pumping, where ``effective`` in 1/s counts rests."""
    return np.maximum(effective, op.slowest)


def sustained_pressure(op: Operation, effective: Real) -> Real:
    """Tank pressure in Pa at which ``effective`` cycles per second are just sustained.

    The inverse of ``effective_cadence``; negative where even an open discharge is too hard. The work
    of a cycle is the greater of two straight lines in the pressure (with and without push on the
    downstroke), so its inverse is the lesser of theirs.
    """
    available = op.site.power / effective - op.moving_work.at(pumping_cadence(op, effective))
    return np.minimum(op.falling.inverse(available), op.pushing.inverse(available))


def push_begins(op: Operation) -> Real:
    """Tank pressure in Pa above which the rod no longer falls by its own weight."""
    return Line(op.push.at_zero, np.maximum(op.push.slope, 1e-12)).inverse(0.0)


def hole_pressure(op: Operation, pressure: Real, pumping: Real) -> Real:
    """Pressure in Pa in the drop pipe at the weep hole, at a ``pumping`` cadence in 1/s."""
    return pressure + op.hole_at_rest + op.moving_hole.at(pumping)


def net_of_leak(op: Operation, leak: Real, effective: Real) -> Real:
    """Water in m³ per cycle that reaches the tank when the weep hole takes ``leak`` m³/s under pressure.

    Without a check valve the hole leaks all the time, rests included. Behind one it leaks on the
    upstroke, and on the return it takes at most what the rod then displaces.
    """
    pumping = pumping_cadence(op, effective)
    cycle = np.where(op.site.check_valve, 1.0 / pumping, 1.0 / effective)
    throughout = op.delivered - leak * cycle
    upstroke = op.delivered - op.returned - leak * (op.lineup.upstroke_share / pumping)
    return np.where(op.site.check_valve, np.maximum(throughout, upstroke), throughout)


def leak_that_leaves(op: Operation, net: Real, effective: Real) -> Real:
    """Flow in m³/s through the weep hole that leaves ``net`` m³ per cycle: the inverse of ``net_of_leak``."""
    pumping = pumping_cadence(op, effective)
    throughout = (op.delivered - net) * np.where(op.site.check_valve, pumping, effective)
    upstroke = (op.delivered - op.returned - net) * (pumping / op.lineup.upstroke_share)
    return np.where(op.site.check_valve, np.maximum(throughout, upstroke), throughout)


def net_delivery(op: Operation, pressure: Real, effective: Real) -> Real:
    """Water in m³ per cycle that reaches the tank at ``pressure`` in Pa; negative where the hole wins."""
    inside = hole_pressure(op, pressure, pumping_cadence(op, effective))
    return net_of_leak(op, op.hole_capacity * np.sqrt(np.maximum(inside, 0.0)), effective)


def total_head(op: Operation, pressure: Real, pumping: Real) -> Real:
    """Total dynamic head in m at a tank ``pressure`` in Pa and a ``pumping`` cadence in 1/s."""
    return op.head_at_rest + pressure / op.site.water.specific_weight + op.moving_head.at(pumping)


def hand_forces(op: Operation, pressure: Real, pumping: Real) -> tuple[Real, Real]:
    """Peak force in N at the grip on the plunger's upstroke, and on its return (negative: it falls)."""
    return op.pull.at(pressure) + op.moving_pull.at(pumping), op.push.at(pressure)


def hand_force(op: Operation, pressure: Real, pumping: Real) -> Real:
    """The greater of the two in N; never negative, since a hand may always let go."""
    return np.maximum(np.maximum(*hand_forces(op, pressure, pumping)), 0.0)


def work_of_cycle(op: Operation, pressure: Real, pumping: Real) -> Real:
    """Work in J that one cycle costs the operator at a tank ``pressure`` in Pa."""
    return static_work(op, pressure) + op.moving_work.at(pumping)
