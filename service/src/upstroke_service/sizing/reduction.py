"""Reducing a site and a line-up to the coefficients that every answer is computed from."""

import msgspec
import numpy as np

from upstroke_service.physics import cylinder, effort, friction, stretch, suction, weep_hole, well
from upstroke_service.physics.real import Real

from . import losses, storage
from .coefficients import Arch, Line, Quadratic, three, through
from .facts import Lineup, Site
from .losses import Losses, Swept
from .operation import LONGEST_HAND_TRAVEL, SLOWEST_CADENCE, SUBMERGENCE, Operation, Riser

_NEGLIGIBLE = 1e-12


class _Geometry(msgspec.Struct, frozen=True):
    """The cylinder and where it hangs, SI; ``lowering`` is the well drawdown that comes with the flow."""

    stroke: Real
    plunger: Real
    rod: Real
    lift: Real
    lowering: Quadratic
    depth: Real
    slowest: Real


def prepare(site: Site, lineup: Lineup) -> Operation:
    """Reduce ``site`` and ``lineup`` to an Operation."""
    geometry = _geometry(site, lineup)
    stroke, plunger, rod = geometry.stroke, geometry.plunger, geometry.rod
    upstroke_area = plunger - rod
    riser = _riser(site, lineup, geometry)
    efficiency = lineup.volumetric_efficiency
    # A suction pump's pipe pulses under the whole plunger, a lift pump's drop pipe around the rod.
    riser_area = np.where(lineup.suction, plunger, upstroke_area)
    lost = losses.evaluate(
        site,
        lineup,
        Swept(
            riser_area=riser_area,
            upstroke_area=upstroke_area,
            riser_volume=efficiency * riser_area * stroke,
            volume=efficiency * upstroke_area * stroke,
            displaced=efficiency * plunger * stroke,
            riser_length=riser.length,
        ),
        geometry.slowest,
        site.cadence,
    )
    gamma = site.water.specific_weight
    outlet_pressure = gamma * site.rise + np.where(site.check_valve, site.cracking_pressure, 0.0)
    lowering = geometry.lowering
    plunger_pressure = Line(gamma * geometry.lift + outlet_pressure, np.asarray(1.0))
    upstroke, returning = _forces(site, lineup, geometry, riser, outlet_pressure)
    per_force = stroke / lineup.handle_efficiency
    lever = lineup.handle_ratio * lineup.handle_efficiency
    downstream = lost.conduit.plus(lost.fittings)
    relief = _relief(site, lineup, geometry, riser, plunger_pressure)
    lowered = lowering.times(gamma * plunger)
    return Operation(
        site=site,
        lineup=lineup,
        stroke=stroke,
        plunger_area=plunger,
        rod_area=rod,
        upstroke_area=upstroke_area,
        displacement=plunger * stroke,
        returned=rod * stroke,
        lift=geometry.lift,
        lowering=lowering,
        cylinder_depth=geometry.depth,
        riser=riser,
        outlet_pressure=outlet_pressure,
        plunger_pressure=plunger_pressure,
        losses=lost,
        idle_work=lineup.seal_drag * per_force,
        falling=_work(upstroke * per_force, upstroke_area * per_force, relief),
        pushing=_work((upstroke + returning) * per_force, plunger * per_force, relief),
        moving_work=lost.riser.times(gamma * riser_area)
        .plus(downstream.times(gamma * upstroke_area))
        .plus(lowered)
        .times(per_force),
        pull=Line(upstroke / lever, upstroke_area / lever),
        moving_pull=lost.force.plus(lowered).times(1.0 / lever),
        friction_pull=lost.friction_force.plus(lowered).times(1.0 / lever),
        push=Line(returning / lever, rod / lever),
        head_at_rest=geometry.lift + outlet_pressure / gamma,
        moving_head=lost.riser.plus(downstream).plus(lowering),
        hole_at_rest=outlet_pressure + gamma * lineup.weep_hole_depth,
        moving_hole=downstream.times(np.where(site.check_valve, gamma, 0.0)),
        hole_capacity=weep_hole.discharge(
            1.0, lineup.weep_hole_diameter, lineup.weep_hole_coefficient, site.water.density
        ),
        slowest=geometry.slowest,
        preferred=_preferred(site, lineup, geometry, lost),
    )


def _geometry(site: Site, lineup: Lineup) -> _Geometry:
    stroke = np.minimum(lineup.stroke, LONGEST_HAND_TRAVEL / lineup.handle_ratio)
    plunger = cylinder.plunger_area(lineup.bore)
    slowest = np.minimum(SLOWEST_CADENCE, 0.5 * site.cadence)
    below_outlet = site.static_water_level + site.well_drawdown
    lowering = _lowering(site, lineup.volumetric_efficiency * plunger * stroke, slowest)
    if site.cylinder_depth is None:
        depth = below_outlet + lowering.at(site.cadence) + SUBMERGENCE
    else:
        depth, _ = np.broadcast_arrays(site.cylinder_depth, plunger)
    return _Geometry(
        stroke=stroke,
        plunger=plunger,
        rod=friction.circular_area(lineup.rod_diameter),
        lift=below_outlet + site.outlet_height,
        lowering=lowering,
        depth=depth,
        slowest=slowest,
    )


def _lowering(site: Site, delivered: Real, slowest: Real) -> Quadratic:
    """Well drawdown in m by cadence: by the specific capacity, but not below what the casing gives up.

    A short fill can't take more water out of the casing than it stores.
    """
    capacity = 1.0 / np.maximum(site.drawdown_per_flow, _NEGLIGIBLE)
    wanted = storage.stored_between(site, site.target)
    drawdown = well.drawdown(delivered * three(slowest, site.cadence), capacity, wanted, site.casing_area)
    return through(np.asarray(drawdown), slowest, site.cadence)


def _riser(site: Site, lineup: Lineup, geometry: _Geometry) -> Riser:
    length = np.maximum(geometry.depth + site.outlet_height, _NEGLIGIBLE)
    wall = friction.circular_area(lineup.drop_pipe_outside_diameter) - friction.circular_area(
        lineup.drop_pipe_inside_diameter
    )
    hangs = np.where(lineup.suction, 0.0, 1.0)
    rod_give = hangs / stretch.stiffness(lineup.rod_modulus, geometry.rod, length)
    pipe_give = hangs / stretch.stiffness(lineup.drop_pipe_modulus, wall, length)
    return Riser(
        length=length,
        rod_give=rod_give,
        pipe_give=pipe_give,
        compliance=hangs
        * stretch.riser_compliance(
            length,
            lineup.drop_pipe_inside_diameter,
            lineup.drop_pipe_outside_diameter,
            lineup.drop_pipe_modulus,
            lineup.drop_pipe_poisson_ratio,
        ),
        take_up=stretch.take_up(geometry.plunger, rod_give, pipe_give),
        shortening=stretch.shortening(
            geometry.plunger,
            friction.circular_area(lineup.drop_pipe_inside_diameter),
            pipe_give,
            lineup.drop_pipe_poisson_ratio,
        ),
    )


def _forces(
    site: Site, lineup: Lineup, geometry: _Geometry, riser: Riser, outlet_pressure: Real
) -> tuple[Real, Real]:
    """Rod forces in N on the upstroke and on the return, at rest and without pressure in the tank."""
    hanging = effort.buoyant_rod_weight(
        lineup.rod_diameter, riser.length, lineup.rod_density, site.water.density
    )
    weight = np.where(lineup.suction, 0.0, hanging)
    upstroke = effort.upstroke_force(
        geometry.lift,
        outlet_pressure,
        geometry.plunger,
        geometry.rod,
        site.water.specific_weight,
        weight,
        lineup.seal_drag,
    )
    return upstroke, effort.return_force(outlet_pressure, geometry.rod, weight, lineup.seal_drag)


def _relief(site: Site, lineup: Lineup, geometry: _Geometry, riser: Riser, plunger_pressure: Line) -> Arch:
    """Work in J that is saved while rod and pipe stretch and the load only builds up, by tank pressure.

    Half of load times stretch, at the least that the flow draws the well down, and as if the drop pipe
    stayed under pressure through the return: where a hole bleeds it, a little more is saved. Bounded where
    the whole stroke would go into stretch, so that the work of a cycle still rises with the pressure.

    Source: elastic energy of rod and pipe; at most 1 % less than a simulation in small steps of time.
    """
    lowered = site.water.specific_weight * geometry.lowering.c0
    at_rest = np.maximum(plunger_pressure.at_zero + lowered, 0.0)
    most_gauge = np.maximum(np.maximum(site.target, site.precharge), site.start)
    highest = at_rest + 1.05 * np.maximum(most_gauge, 1.0)
    most = geometry.stroke * (geometry.plunger - geometry.rod) / highest
    half = 0.5 * np.minimum(riser.take_up, most) / lineup.handle_efficiency
    return Arch(half * at_rest**2, 2.0 * half * at_rest, half)


def _work(at_zero: Real, slope: Real, relief: Arch) -> Arch:
    return Arch(at_zero - relief.at_zero, slope - relief.slope, -relief.bend)


def _preferred(site: Site, lineup: Lineup, geometry: _Geometry, lost: Losses) -> Real:
    """The preferred cadence; slower where a suction pump would otherwise lift too much or break the water."""
    barometric = site.water.barometric_head
    spare = barometric - geometry.lift - suction.REQUIRED_NPSH
    unbroken = lost.suction_head.plus(geometry.lowering).inverse(spare)
    practical = geometry.lowering.inverse(suction.PRACTICAL_SHARE * barometric - geometry.lift)
    kept = np.minimum(np.maximum(np.minimum(unbroken, practical), geometry.slowest), site.cadence)
    return np.where(lineup.suction, kept, site.cadence)
