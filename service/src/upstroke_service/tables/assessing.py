"""Assessing many sites a few at a time, and keeping of each what its row is answered with."""

from collections.abc import Sequence
from typing import Any, Final, NamedTuple

import msgspec
import numpy as np

from upstroke_service.api.candidates import case_columns
from upstroke_service.physics.real import Array, Indices, Real
from upstroke_service.reference import fixtures
from upstroke_service.reference.materials import material
from upstroke_service.sizing import assessment, picking, ranking, reserve, storage
from upstroke_service.sizing.assessment import Assessment
from upstroke_service.sizing.ceiling import LIMITS
from upstroke_service.sizing.circumstances import choice_columns
from upstroke_service.sizing.facts import Lineup, Site

from .findings import governing

AT_ONCE: Final = 8192
"""Sites times candidates that are assessed in one pass: as many as keep its arrays in a processor's cache. Measured."""

LIMIT: Final = "limit "
"""Before the name of a limit, for its pressure as a column."""


class Found(NamedTuple):
    """What is kept of some sites, SI, each (sites,): of the best candidate what findings depend on, and cautions.

    ``best`` has the fields of ``Case`` and what else rows are answered with, ``choice`` those of ``Recommended``.
    ``order`` has the places of all candidates, best first; ``each`` has columns of all candidates in that
    order, (sites, candidates), where they are asked for.
    """

    best: dict[str, Array]
    choice: dict[str, Array]
    order: Indices
    each: dict[str, Array]


def rows_of(site: Site, rows: Indices) -> Site:
    """The ``site`` of many rows with some ``rows`` alone, as columns for the sizing.

    The water level is a column even where all are the same, so that every result has a row for each.
    """

    def taken(node: Any) -> Any:
        if isinstance(node, msgspec.Struct):
            return type(node)(**{name: taken(getattr(node, name)) for name in node.__struct_fields__})
        if isinstance(node, tuple):
            return tuple(map(taken, node))
        if isinstance(node, np.ndarray):
            return node[rows].reshape(-1, 1, 1) if node.ndim else node.item()
        return node

    found: Site = taken(site)
    level = np.broadcast_to(found.static_water_level, (len(rows), 1, 1))
    return msgspec.structs.replace(found, static_water_level=level)


def assess_rows(
    site: Site, floor_rise: Array, lineup: Lineup, densities: Array, *, candidates: bool
) -> Found:
    """Assess every candidate at the sites of one pass.

    ``floor_rise`` m of each site, ``densities`` kg/m³ of each candidate's drop pipe; ``candidates`` asks for
    columns of them all.
    """
    count = len(floor_rise)
    found = assessment.assess(site, lineup, curved=False)
    order = np.broadcast_to(ranking.order(found), (count, found.outcome.shape[-2]))
    best = order[:, 0]
    places = picking.Places((count, order.shape[1]), np.arange(count), best)
    chosen: Any = picking.Picked(found, places)
    return Found(
        _of_best(chosen, floor_rise.reshape(-1, 1), count),
        _of_choice(chosen, densities[best].reshape(-1, 1), count),
        order,
        _of_each(found, order) if candidates else {},
    )


def _of_best(chosen: Assessment, floor_rise: Array, count: int) -> dict[str, Array]:
    columns: dict[str, Any] = {
        **case_columns(chosen),
        "margin": chosen.budget.margin,
        "outcome": chosen.outcome,
        "reserve": _reserve(chosen, floor_rise),
        **{f"{LIMIT}{name}": row for name, row in zip(LIMITS, chosen.ceiling.limits, strict=True)},
    }
    return {name: _flat(column, count) for name, column in columns.items()}


def _of_choice(chosen: Assessment, density: Array, count: int) -> dict[str, Array]:
    site, lineup = chosen.op.site, chosen.op.lineup
    columns: dict[str, Any] = {
        **choice_columns(chosen, density),
        "suction": lineup.suction,
        "hole": lineup.weep_hole_diameter > 0.0,
        "casing_area": site.casing_area,
        "static_water_level": site.static_water_level,
    }
    return {name: _flat(column, count) for name, column in columns.items()}


def _flat(column: Any, count: int) -> Array:
    flat = np.empty(count)
    flat[:] = np.asarray(column).reshape(-1)
    return flat


def _reserve(chosen: Assessment, floor_rise: Array) -> Real:
    """Usable water in m³ of a fill of each site, above what the least demanding fixture needs."""
    site = chosen.op.site
    lowest = np.minimum.reduce(
        np.broadcast_arrays(*(reserve.lowest_pressure(site, use, floor_rise) for use in fixtures.USES))
    )
    return reserve.usable_volume(site, storage.shown(site, chosen.fill.end), lowest)


def _of_each(found: Assessment, order: Indices) -> dict[str, Array]:
    site = found.op.site
    case = {
        name: np.broadcast_to(getattr(found, name)[..., 0], order.shape)
        for name in ("too_deep", "too_wide", "too_short")
    }
    case["governing"] = np.broadcast_to(found.ceiling.governing[..., 0], order.shape)
    columns: dict[str, Any] = {
        "lift_margin": found.budget.margin,
        "end": storage.shown(site, found.fill.end),
        "strokes": found.fill.strokes,
        "time": found.fill.seconds,
        "hand_force": found.at_end.hand_force,
        "water": found.fill.volume,
        "outcome": found.outcome,
        "governed_by": governing(case)[..., np.newaxis],
    }
    shape = (*order.shape, 1)
    return {
        name: np.take_along_axis(np.broadcast_to(column, shape)[..., 0], order, axis=1)
        for name, column in columns.items()
    }


def densities_of(materials: Sequence[str]) -> Array:
    """Density in kg/m³ of each of these materials."""
    return np.array([material(name).density for name in materials])
