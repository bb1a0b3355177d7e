"""What the moving water costs by cadence: friction, losses in fittings, and the inertia of its columns.

None of it depends on the tank's pressure, so it is evaluated at three cadences, over all phases of the
stroke at once, and carried as quadratics between them: exact at the slowest and the preferred cadence,
and in the middle unless the flow turns from laminar to turbulent about there. Inertia goes with the
square of the cadence, exactly.

The flow follows a half sine, so friction is greatest in the middle of the stroke and inertia at its
ends: the peak force is sought over the phases, not added up from two peaks.
"""

from typing import Any, NamedTuple

import msgspec
import numpy as np

from upstroke_service.physics import friction, inertia, pulsation
from upstroke_service.physics.real import Array, Indices, Real

from .coefficients import Quadratic, three, through
from .facts import Flags, Lineup, Site

_WITH_SITES = 3
"""Axes of an array that has one row for each site."""


class Losses(msgspec.Struct, frozen=True):
    """Head losses in m by cadence, averaged by work over the stroke, and what they ask of the rod in N.

    ``force`` is the peak over the stroke of friction and inertia together, ``friction_force`` without
    inertia. ``suction_head`` is the peak of both in m in the drop pipe, which in a suction pump counts
    against the NPSH; ``riser_inertia`` and ``conduit_inertia`` are peak acceleration heads in m.
    """

    riser: Quadratic
    conduit: Quadratic
    fittings: Quadratic
    force: Quadratic
    friction_force: Quadratic
    suction_head: Quadratic
    riser_inertia: Quadratic
    conduit_inertia: Quadratic


class Swept(msgspec.Struct, frozen=True):
    """What an upstroke moves: plunger areas in m², volumes in m³, and the drop pipe's length in m."""

    riser_area: Real
    upstroke_area: Real
    riser_volume: Real
    volume: Real
    displaced: Real
    riser_length: Real


class _Unit(NamedTuple):
    """What there is of each loss per unit of what it goes with, by cadence along the last axis.

    ``friction`` in m per m of each stretch of pipe, the drop pipe first, and ``flow_squared`` in m⁶/s²: averaged
    by work, then at all phases of the stroke, along the first axis. ``inertia`` is the peak acceleration head in
    m per m of each stretch.
    """

    friction: Array
    flow_squared: Array
    inertia: Array


def evaluate(site: Site, lineup: Lineup, swept: Swept, slowest: Real, preferred: Real) -> Losses:
    """All losses between the ``slowest`` and the ``preferred`` cadence, both in 1/s."""
    lengths = (swept.riser_length, *(run.length for run in site.runs))
    pipes = (value for run in site.runs for value in (run.inside_diameter, run.roughness))
    water = site.water
    # What friction's powers and logarithms depend on is the same at many sites; lengths do not count.
    decisive = (three(slowest, preferred), water.density, water.viscosity, site.air_chamber, *pipes)
    distinct, places = _distinct(decisive)
    axes = max(np.ndim(value) for value in (*lengths, *decisive, site.fittings, lineup.suction))
    unit = _per_unit(lineup, swept, *distinct)
    per_metre, squared, acceleration = (
        _of_sites(values, values.ndim - before, places, axes)
        for values, before in zip(unit, (2, 1, 1), strict=True)
    )
    cosine = inertia.phases()[1].reshape(-1, *[1] * axes)
    pulses = per_metre[:, 1:] + acceleration[:, np.newaxis] * cosine
    # Fittings go with the square of the flow; their K already stands for Σ K/(2·g·A²). Lengths, which differ from
    # site to site most often, come last: up to there sites share an array.
    force = swept.upstroke_area * squared[1:] * site.fittings
    plain = swept.upstroke_area * squared[-1] * site.fittings
    conduit, conduit_inertia = np.zeros_like(squared[0]), np.zeros_like(acceleration[0])
    for place, length in reversed(list(enumerate(lengths))):
        area = swept.upstroke_area if place else swept.riser_area
        force = force + area * pulses[place] * length
        plain = plain + area * per_metre[place, -1] * length
        if place:
            conduit = conduit + per_metre[place, 0] * length
            conduit_inertia = conduit_inertia + acceleration[place] * length
    gamma = np.asarray(water.specific_weight)
    rows = (
        per_metre[0, 0] * lengths[0],
        conduit,
        squared[0] * site.fittings,
        gamma * force.max(axis=0),
        gamma * plain,
        pulses[0].max(axis=0) * lengths[0],
        acceleration[0] * lengths[0],
        conduit_inertia,
    )
    shape = np.broadcast_shapes(*(row.shape for row in rows))
    values = np.moveaxis(np.empty((len(rows), shape[-1], *shape[:-1])), 1, -1)
    for place, row in enumerate(rows):
        values[place] = row
    fitted = through(values, slowest, preferred)
    return Losses(*(fitted.row(place) for place in range(len(rows))))


def _distinct(columns: tuple[Any, ...]) -> tuple[list[Any], Indices | None]:
    """Those rows of ``columns`` that differ, and where among them each site has its own; None where all are alike."""

    def varies(column: Any) -> bool:
        return np.ndim(column) == _WITH_SITES and len(column) > 1

    varying = [column for column in columns if varies(column)]
    if not varying:
        return list(columns), None
    rows = np.concatenate([column.reshape(len(column), -1) for column in varying], axis=1)
    _, firsts, places = np.unique(rows, axis=0, return_index=True, return_inverse=True)
    some = [column[firsts] if varies(column) else column for column in columns]
    return some, places.reshape(-1)


def _per_unit(
    lineup: Lineup,
    swept: Swept,
    cadences: Array,
    density: Real,
    viscosity: Real,
    air_chamber: bool | Flags,  # noqa: FBT001 - a fact of the site, one or many
    *pipes: Real,
) -> _Unit:
    """``pipes`` are the bores of the runs, each with the roughness behind it, m."""
    rod = np.where(lineup.suction, 0.0, lineup.rod_diameter)
    area, hydraulic = friction.annulus(lineup.drop_pipe_inside_diameter, rod)
    rows: list[tuple[Real, ...]] = [(area, hydraulic, lineup.drop_pipe_roughness, swept.riser_volume)]
    for bore, roughness in zip(pipes[::2], pipes[1::2], strict=True):
        rows.append((friction.circular_area(bore), bore, roughness, swept.volume))
    # The fittings have the flow of the runs, wherever they are.
    rows.append((*rows[0][:-1], swept.volume))
    # Of all the axes that anything has, so that those of phases and stretches stay in front of them.
    shapes = {np.shape(value) for row in rows for value in row}
    around = (np.shape(value) for value in (density, viscosity, air_chamber))
    shape = np.broadcast_shapes(cadences[..., :1].shape, *around, *shapes)
    columns = np.empty((len(rows[0]), len(rows), *shape))
    for place, row in enumerate(rows):
        for column, value in enumerate(row):
            columns[column, place] = value
    areas, diameters, roughnesses, volumes = columns

    duration = lineup.upstroke_share / cadences
    peaks = np.asarray(pulsation.peak_flow(volumes, duration))
    fractions, weights = pulsation.half_sine_nodes()
    phases = np.concatenate([fractions, inertia.phases()[0]]).reshape(-1, 1, *[1] * (peaks.ndim - 1))
    flows = phases * peaks
    # Behind an air chamber the flow is steady: the same at every phase, and nothing is accelerated.
    flows[:, 1:] = np.where(air_chamber, swept.displaced * cadences, flows[:, 1:])
    pipe = slice(0, -1)
    losses = np.asarray(
        friction.head_loss(
            flows[:, pipe], areas[pipe], diameters[pipe], 1.0, roughnesses[pipe], density, viscosity
        )
    )
    heads = np.asarray(inertia.acceleration_head(1.0, areas[pipe], peaks[pipe], duration))
    heads[1:] = np.where(air_chamber, 0.0, heads[1:])

    def averaged_first(loss: Array) -> Array:
        average = np.tensordot(weights, loss[: len(weights)], axes=1)
        return np.concatenate([average[np.newaxis], loss[len(weights) :]])

    return _Unit(averaged_first(losses).swapaxes(0, 1), averaged_first(flows[:, -1] ** 2), heads)


def _of_sites(values: Array, own: int, places: Indices | None, axes: int) -> Array:
    """The ``values`` of sites that differ for each site; their ``own`` axes become as many as ``axes``.

    Cadences lie farther apart in memory than sites and candidates, so that operations with one value for each
    candidate run straight through.
    """
    before = values.ndim - own
    whole = values.reshape(*values.shape[:before], *[1] * (axes - own), *values.shape[before:])
    by_cadence = np.moveaxis(whole, -1, 0)
    by_cadence = np.ascontiguousarray(by_cadence) if places is None else by_cadence.take(places, axis=-2)
    return np.moveaxis(by_cadence, 0, -1)
