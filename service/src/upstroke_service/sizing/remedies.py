"""What would help: the same pump with less inertia, or with other materials."""

from typing import Any, Final

import msgspec
import numpy as np

from upstroke_service.physics.real import Array, Real

from . import assessment, operation, reduction
from .assessment import Assessment
from .facts import Lineup, Run, Site

NOTABLE_INERTIA = 0.1
"""Share of the peak force at the grip that inertia adds from which it is said to govern."""

REMEDIES: Final = ("air_chamber", "larger_hose", "slower_cadence")
"""What takes inertia away, in the order of the sites of ``without_inertia``."""

SLOWER = 0.75
"""Cadence of the slower stroke over the preferred one."""

_INCH = 0.0254
NOMINAL_BORES = np.array([0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0]) * _INCH
"""Bores of hoses and pipes as they are sold, m. Common practice, no source."""

Materials = tuple[str, float, float]
"""Name, Young's modulus in Pa and Poisson's ratio."""


class Changed(msgspec.Struct, frozen=True):
    """What the remedies of REMEDIES bring, one value each: force at the grip in N, ceiling in Pa."""

    hand_force: Array
    ceiling: Array


def only(lineup: Lineup, place: int) -> Lineup:
    """The line-up of one candidate."""
    columns: dict[str, Any] = {
        name: getattr(lineup, name)[place : place + 1] for name in Lineup.__struct_fields__
    }
    return Lineup(**columns)


def governs(found: Assessment, place: int) -> bool:
    """Whether inertia adds enough to the force of the candidate at ``place`` of a single site."""
    added = np.broadcast_to(found.moving.force, found.outcome.shape).reshape(-1)[place]
    force = np.broadcast_to(found.at_end.hand_force, found.outcome.shape).reshape(-1)[place]
    return bool(added > NOTABLE_INERTIA * force)


def without_inertia(site: Site, lineup: Lineup, pressure: float) -> Changed:
    """One candidate with each remedy: its force at a tank ``pressure`` in Pa, and its practical ceiling."""
    count = len(REMEDIES)

    def changed(place: int, value: Real, otherwise: Real) -> Array:
        return np.where(np.arange(count) == place, value, otherwise).reshape(count, 1, 1)

    runs = tuple(
        Run(changed(1, next_bore(run.inside_diameter), run.inside_diameter), run.length, run.roughness)
        for run in site.runs
    )
    varied = msgspec.structs.replace(
        site,
        runs=runs,
        air_chamber=changed(0, 1.0, np.asarray(site.air_chamber)) > 0.0,
        cadence=changed(2, SLOWER * site.cadence, site.cadence),
    )
    found = assessment.work(varied, lineup)
    kept = operation.pumping_cadence(found.op, operation.effective_cadence(found.op, pressure))
    force = np.asarray(operation.hand_force(found.op, pressure, kept))
    return Changed(
        np.broadcast_to(force, (count, 1, 1)).reshape(-1),
        np.broadcast_to(found.ceiling.pressure, (count, 1, 1)).reshape(-1),
    )


def next_bore(bore: Real) -> float:
    """The next larger bore in m that is sold; half as wide again beyond the largest."""
    wanted = float(bore) * (1.0 + 1e-6)
    larger = NOMINAL_BORES[wanted < NOMINAL_BORES]
    return float(larger[0]) if larger.size else 1.5 * wanted


def stroke_left(site: Site, lineup: Lineup, rods: list[Materials], pipes: list[Materials]) -> Array:
    """Effective stroke in m at the target of one candidate, with each pair of rod and pipe material."""
    count = len(rods)

    def repeated(name: str) -> Array:
        return np.repeat(getattr(lineup, name), count, axis=0)

    columns: dict[str, Any] = {name: repeated(name) for name in Lineup.__struct_fields__}
    columns["rod_modulus"] = np.array([[modulus] for _, modulus, _ in rods])
    columns["drop_pipe_modulus"] = np.array([[modulus] for _, modulus, _ in pipes])
    columns["drop_pipe_poisson_ratio"] = np.array([[ratio] for _, _, ratio in pipes])
    op = reduction.prepare(site, Lineup(**columns))
    delivered = operation.delivery(op, site.target, operation.effective_cadence(op, site.target))
    return np.broadcast_to(delivered.stroke, (count, 1)).reshape(-1)
