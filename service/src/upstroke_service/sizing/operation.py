"""How a person works a cylinder at a site: cadence, forces, head and delivery at any tank pressure.

The operator keeps the preferred cadence until a cycle costs more power than can be sustained, or the
handle more force than is allowed, then slows down, and at the slowest cadence puts rests in between:
the effective cadence counts those rests. Turned round, the pressure at which an effective cadence is
just kept is explicit, and so every limit is found on that curve without a solver per candidate.
"""

import msgspec
import numpy as np

from upstroke_service.physics import cadence, riser, stretch
from upstroke_service.physics.real import Real

from .coefficients import Arch, Line, Quadratic
from .facts import Lineup, Site
from .losses import Losses

LONGEST_HAND_TRAVEL = 1.1
"""Longest comfortable travel of the hands in m. Common practice, no source."""

SUBMERGENCE = 4.572
"""Depth in m of a cylinder below the pumping level where nobody said otherwise (15 ft).
Common practice, no source."""

SLOWEST_CADENCE = 20.0 / 60.0
"""Cadence in 1/s below which people rest between strokes rather than slow down further (or half of
the preferred cadence, where that is less). Common practice, no source."""

_LEAST_GIVE = 1e-30


class Riser(msgspec.Struct, frozen=True):
    """The drop pipe with the rod in it: how it gives, SI.

    ``rod_give`` and ``pipe_give`` are m per N; ``compliance``, ``take_up`` and ``shortening`` are m³/Pa, as
    in the module on stretch. A suction pump's rod is short and its pipe hangs on nothing: neither gives.
    """

    length: Real
    rod_give: Real
    pipe_give: Real
    compliance: Real
    take_up: Real
    shortening: Real


class Operation(msgspec.Struct, frozen=True, kw_only=True):
    """A site and a line-up reduced to the coefficients that every answer is computed from, SI.

    ``lift`` is the height of the pump outlet above the water at rest, any stated well drawdown
    included; a cycle displaces at most ``displacement``, of which the re-entering rod brings ``returned``
    on the downstroke; ``outlet_pressure`` is what the rise and the check valve add to the tank's pressure;
    ``plunger_pressure`` stands above the plunger while the well is not drawn down. The work of a cycle is the
    greatest of ``idle_work`` (seals alone), ``falling`` (the rod falls by itself) and ``pushing`` (it has
    to be pushed down), plus ``moving_work``; ``pull`` and ``push`` are the forces at the grip at rest, to
    which ``moving_pull`` adds the peak of friction and inertia; ``moving_head`` and ``moving_hole`` are
    the head (m) and the pressure at the weep hole (Pa) that come with the flow. ``hole_capacity`` is the
    weep hole's flow at 1 Pa; ``lowering`` is the well drawdown that comes with the flow, m.
    """

    site: Site
    lineup: Lineup
    stroke: Real
    plunger_area: Real
    rod_area: Real
    upstroke_area: Real
    displacement: Real
    returned: Real
    lift: Real
    lowering: Quadratic
    cylinder_depth: Real
    riser: Riser
    outlet_pressure: Real
    plunger_pressure: Line
    losses: Losses
    idle_work: Real
    falling: Arch
    pushing: Arch
    moving_work: Quadratic
    pull: Line
    moving_pull: Quadratic
    friction_pull: Quadratic
    push: Line
    head_at_rest: Real
    moving_head: Quadratic
    hole_at_rest: Real
    moving_hole: Quadratic
    hole_capacity: Real
    slowest: Real
    preferred: Real


class Delivery(msgspec.Struct, frozen=True):
    """Where the water of a cycle goes, m³: ``net`` reaches the tank (negative where the hole wins).

    ``rod_stretch`` and ``pipe_stretch`` m are what the plunger loses of its ``stroke``; ``leak`` m³ is
    what the weep hole takes, of a single value where no drop pipe has one.
    """

    net: Real
    leak: Real
    stroke: Real
    rod_stretch: Real
    pipe_stretch: Real


def static_work(op: Operation, pressure: Real) -> Real:
    """Work in J of a cycle at a tank ``pressure`` in Pa, without what depends on the cadence.

    At least what moves the plunger against its seals once: where the water runs downhill by itself it
    drives nobody.
    """
    return np.maximum(np.maximum(op.falling.at(pressure), op.pushing.at(pressure)), op.idle_work)


def effective_cadence(op: Operation, pressure: Real) -> Real:
    """Cycles per second, rests included, that the operator keeps at a tank ``pressure`` in Pa."""
    work = op.moving_work
    sustained = cadence.sustained_cadence(
        op.site.power, static_work(op, pressure) + work.c0, work.c1, work.c2, op.slowest, op.preferred
    )
    # Slower strokes take away friction and inertia, so they are what a hand does about too much force.
    gentle = op.moving_pull.inverse(op.site.hand_force_limit - op.pull.at(pressure))
    return np.minimum(sustained, np.maximum(gentle, op.slowest))


def pumping_cadence(op: Operation, effective: Real) -> Real:
    """Cycles per second while pumping, where ``effective`` in 1/s counts rests."""
    return np.maximum(effective, op.slowest)


def sustained_pressure(op: Operation, effective: Real) -> Real:
    """Tank pressure in Pa at which ``effective`` cycles per second are just what the power sustains.

    Negative where even an open discharge is too hard. The work of a cycle is the greater of two rising
    curves of the pressure (with and without push on the downstroke), so its inverse is the lesser of
    theirs.
    """
    available = op.site.power / effective - op.moving_work.at(pumping_cadence(op, effective))
    return np.minimum(op.falling.inverse(available), op.pushing.inverse(available))


def bearable_pressure(op: Operation, pumping: Real) -> Real:
    """Tank pressure in Pa at which the handle just needs the force limit at a ``pumping`` cadence in 1/s."""
    return op.pull.inverse(op.site.hand_force_limit - op.moving_pull.at(pumping))


def push_begins(op: Operation) -> Real:
    """Tank pressure in Pa above which the rod no longer falls by its own weight."""
    return Line(op.push.at_zero, np.maximum(op.push.slope, 1e-12)).inverse(0.0)


def hole_pressure(op: Operation, pressure: Real, pumping: Real) -> Real:
    """Pressure in Pa in the drop pipe at the weep hole on the upstroke, at a ``pumping`` cadence in 1/s."""
    return pressure + op.hole_at_rest + op.moving_hole.at(pumping)


def delivery(op: Operation, pressure: Real, effective: Real) -> Delivery:
    """Where the water of a cycle goes at a tank ``pressure`` in Pa and an ``effective`` cadence in 1/s."""
    site, pipe = op.site, op.riser
    lowered = site.water.specific_weight * op.lowering.at(pumping_cadence(op, effective))
    plunger = np.maximum(op.plunger_pressure.at(pressure) + lowered, 0.0)
    resting = np.maximum(pressure + op.hole_at_rest, 0.0)
    if np.any(op.hole_capacity):
        behind_valve = _leakage(op, pressure, effective, resting, plunger)
        leak = np.where(
            # Without a check valve the weep hole leaks all the time, rests included.
            site.check_valve,
            behind_valve.total,
            op.hole_capacity * np.sqrt(resting) / effective,
        )
        fall = behind_valve.fall
    else:
        leak = np.zeros(1)
        fall = riser.fall_without_hole(resting, plunger, op.returned, pipe.compliance, pipe.shortening)
    # As the pressure falls during the return, the plunger sweeps more.
    fall = np.where(site.check_valve, fall, 0.0)

    load = op.plunger_area * plunger
    rod_stretch = load * pipe.rod_give
    pipe_stretch = load * pipe.pipe_give - pipe.shortening * fall / op.plunger_area
    stroke = stretch.effective_stroke(op.stroke, rod_stretch + pipe_stretch)
    net = op.lineup.volumetric_efficiency * op.plunger_area * stroke - leak
    return Delivery(net, leak, stroke, rod_stretch, pipe_stretch)


def _leakage(op: Operation, pressure: Real, effective: Real, resting: Real, plunger: Real) -> riser.Leakage:
    """What the weep hole takes behind a check valve, with the pressures at rest of ``riser.leakage`` in Pa."""
    pumping = pumping_cadence(op, effective)
    period = 1.0 / pumping
    upstroke = op.lineup.upstroke_share * period
    efficiency = op.lineup.volumetric_efficiency
    return riser.leakage(
        np.maximum(hole_pressure(op, pressure, pumping), 0.0),
        resting,
        plunger,
        op.hole_capacity,
        efficiency * op.upstroke_area * op.stroke,
        upstroke,
        period - upstroke,
        1.0 / effective - period,
        op.returned,
        op.riser.compliance,
        # Nothing slips past a plunger that does not yet move in its cylinder.
        efficiency * op.riser.take_up,
        op.riser.shortening,
    )


def net_delivery(op: Operation, pressure: Real, effective: Real) -> Real:
    """Water in m³ per cycle that reaches the tank at ``pressure`` in Pa; negative where the hole wins."""
    return delivery(op, pressure, effective).net


def pressure_of_tight_delivery(op: Operation, net: Real, pumping: Real) -> Real:
    """Tank pressure in Pa at which a drop pipe without a weep hole delivers just ``net`` m³ per cycle.

    At a ``pumping`` cadence in 1/s, whatever the rests. What is missing of the stroke has gone into the stretch,
    but for what the fall during the return gives back. The fall is the lesser of two straight lines of the pressure,
    or nothing where that is negative. Since the delivery falls with the pressure, as it does unless the drop pipe is
    far wider than the bore, what is sought is the lesser of what follows from each line, or more without any fall.

    Source: ``delivery``, solved for the pressure.
    """
    site, pipe = op.site, op.riser
    at_rest = op.plunger_pressure.at_zero + site.water.specific_weight * op.lowering.at(pumping)
    slope = op.plunger_pressure.slope
    missing = op.stroke - net / (op.lineup.volumetric_efficiency * op.plunger_area)
    # Stroke in m per Pa above the plunger that is lost, and per Pa of the fall that is given back.
    lost = op.plunger_area * (pipe.rod_give + pipe.pipe_give)
    given_back = np.where(site.check_valve, pipe.shortening / op.plunger_area, 0.0)
    springy = np.maximum(pipe.compliance, _LEAST_GIVE)
    kept_up = given_back * op.returned / springy
    without_fall = missing / np.maximum(lost, _LEAST_GIVE)
    sprung = (missing - kept_up) / np.maximum(lost - given_back * pipe.shortening / springy, _LEAST_GIVE)
    emptied = (missing - kept_up + given_back * op.hole_at_rest - lost * at_rest) / np.maximum(
        lost * slope - given_back, _LEAST_GIVE
    )
    return np.maximum((without_fall - at_rest) / slope, np.minimum((sprung - at_rest) / slope, emptied))


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
