"""What the moving water costs by cadence: friction, losses in fittings, and the inertia of its columns.

None of it depends on the tank's pressure, so it is evaluated at three cadences, over all phases of the
stroke at once, and carried as quadratics between them: exact at the slowest and the preferred cadence,
and in the middle unless the flow turns from laminar to turbulent about there. Inertia goes with the
square of the cadence, exactly.

The flow follows a half sine, so friction is greatest in the middle of the stroke and inertia at its
ends: the peak force is sought over the phases, not added up from two peaks.
"""

import msgspec
import numpy as np

from upstroke_service.physics import friction, inertia, pulsation
from upstroke_service.physics.real import Array, Real

from .coefficients import Quadratic, three, through
from .facts import Lineup, Site


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


class _Stretches(msgspec.Struct, frozen=True):
    """All stretches of pipe along the first axis, the drop pipe first; SI."""

    area: Array
    hydraulic_diameter: Array
    length: Array
    roughness: Array
    volume: Array


def _stretches(site: Site, lineup: Lineup, swept: Swept, cadences: Array) -> _Stretches:
    rod = np.where(lineup.suction, 0.0, lineup.rod_diameter)
    area, hydraulic = friction.annulus(lineup.drop_pipe_inside_diameter, rod)
    rows: list[tuple[Real, ...]] = [
        (area, hydraulic, swept.riser_length, lineup.drop_pipe_roughness, swept.riser_volume)
    ]
    for run in site.runs:
        bore = run.inside_diameter
        rows.append((friction.circular_area(bore), bore, run.length, run.roughness, swept.volume))
    # Of all the axes that anything has, so that those of phases and stretches stay in front of them.
    shapes = {np.shape(value) for row in rows for value in row}
    around = (cadences[..., :1].shape, np.shape(site.fittings), np.shape(site.air_chamber))
    shape = np.broadcast_shapes(*around, *shapes)
    stacked = np.empty((len(rows[0]), len(rows), *shape))
    for place, row in enumerate(rows):
        for column, value in enumerate(row):
            stacked[column, place] = value
    return _Stretches(*stacked)


def evaluate(site: Site, lineup: Lineup, swept: Swept, slowest: Real, preferred: Real) -> Losses:
    """All losses between the ``slowest`` and the ``preferred`` cadence, both in 1/s."""
    cadences = three(slowest, preferred)
    stretches = _stretches(site, lineup, swept, cadences)
    duration = lineup.upstroke_share / cadences
    peaks = np.asarray(pulsation.peak_flow(stretches.volume, duration))
    # Behind an air chamber the flow is steady: the same at every phase, and nothing is accelerated.
    chamber = np.asarray(site.air_chamber)
    mean = np.asarray(swept.displaced * cadences)

    fractions, weights = pulsation.half_sine_nodes()
    sines, cosines = inertia.phases()
    phases = np.concatenate([fractions, sines]).reshape(-1, 1, *[1] * (peaks.ndim - 1))
    flows = phases * peaks
    flows[:, 1:] = np.where(chamber, mean, flows[:, 1:])
    losses = np.asarray(
        friction.head_loss(
            flows,
            stretches.area,
            stretches.hydraulic_diameter,
            stretches.length,
            stretches.roughness,
            site.water.density,
            site.water.viscosity,
        )
    )
    # Fittings go with the square of the flow; their K already stands for Σ K/(2·g·A²).
    through_fittings = np.where(chamber, mean, phases[:, 0] * pulsation.peak_flow(swept.volume, duration))
    local = site.fittings * through_fittings**2
    columns = np.asarray(inertia.acceleration_head(stretches.length, stretches.area, peaks, duration))
    riser_inertia, conduit_inertia = columns[0], np.where(chamber, 0.0, columns[1:].sum(axis=0))

    riser, conduit = losses[:, 0], losses[:, 1:].sum(axis=1)
    averages = len(weights)

    def mean_loss(loss: Array) -> Array:
        average: Array = np.tensordot(weights, loss[:averages], axes=1)
        return average

    gamma = np.asarray(site.water.specific_weight)
    cosine = cosines.reshape(-1, *[1] * riser_inertia.ndim)
    beyond = (conduit + local)[averages:]
    riser_alone = riser[averages:]
    pulsing = riser_alone + riser_inertia * cosine
    force = gamma * (swept.riser_area * pulsing + swept.upstroke_area * (beyond + conduit_inertia * cosine))
    plain = gamma * (swept.riser_area * riser_alone[-1] + swept.upstroke_area * beyond[-1])
    rows = (
        mean_loss(riser),
        mean_loss(conduit),
        mean_loss(local),
        force.max(axis=0),
        plain,
        pulsing.max(axis=0),
        riser_inertia,
        conduit_inertia,
    )
    fitted = through(np.stack(np.broadcast_arrays(*rows)), slowest, preferred)
    return Losses(*(fitted.row(place) for place in range(len(rows))))
