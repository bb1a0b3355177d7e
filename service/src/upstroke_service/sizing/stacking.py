"""Many sites at a time: those that share a line-up become one site of many rows, and the rows come back."""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple, TypeVar

import msgspec
import numpy as np

from upstroke_service.physics.real import Indices
from upstroke_service.physics.suction import Npsh

from . import assessment
from .assessment import Assessment
from .facts import Lineup, Site
from .varied import stack

T = TypeVar("T")

MOST_ROWS = 256
"""Sites that are assessed in one pass: as many as keep its arrays in a processor's cache. Measured."""


class Group(NamedTuple):
    """Some sites as one of many rows, with the ``places`` that they had among all."""

    places: list[int]
    site: Site
    lineup: Lineup


def groups(sites: Sequence[Site], lineups: Sequence[Lineup]) -> Iterator[Group]:
    """The ``sites``, each of plain floats and flags, in groups that can be assessed in one pass."""
    alike: dict[tuple[int, bool, int], list[int]] = {}
    for place, (site, lineup) in enumerate(zip(sites, lineups, strict=True)):
        key = (id(lineup), site.cylinder_depth is None, len(site.runs))
        alike.setdefault(key, []).append(place)
    for places in alike.values():
        for first in range(0, len(places), MOST_ROWS):
            some = places[first : first + MOST_ROWS]
            yield Group(some, _rows([sites[place] for place in some]), lineups[some[0]])


def _rows(sites: Sequence[Site]) -> Site:
    """The ``sites`` as one; a column even where all are the same, so that every result has a row for each."""
    levels = np.array([site.static_water_level for site in sites], dtype=np.float64).reshape(-1, 1, 1)
    return msgspec.structs.replace(stack(sites), static_water_level=levels)


class Together(NamedTuple):
    """The first of some sites assessed as if alone, and all of them."""

    found: Assessment
    everywhere: Assessment


def assess_together(sites: Sequence[Site], lineup: Lineup) -> Together:
    """Assess ``sites``, each of plain floats and flags, in one pass.

    All must state the depth of the cylinder, or none.
    """
    site = sites[0]
    if len(sites) == 1:
        found = assessment.assess(site, lineup)
        return Together(found, found)
    everywhere = assessment.assess(_rows(sites), lineup)
    first: Assessment = _first(everywhere)
    # The facts as plain numbers again; the power is what people keep up who may have tired.
    op = msgspec.structs.replace(
        first.op, site=msgspec.structs.replace(site, power=first.op.site.power), lineup=lineup
    )
    return Together(msgspec.structs.replace(first, op=op), everywhere)


def _first(node: Any) -> Any:
    """Of arrays of (sites, candidates, points) what belongs to the first site, as (candidates, points)."""
    if isinstance(node, np.ndarray):
        return node[..., 0, :, :] if node.ndim > 2 else node  # noqa: PLR2004 - candidates and points alone
    if isinstance(node, msgspec.Struct):
        return type(node)(**{name: _first(getattr(node, name)) for name in node.__struct_fields__})
    if isinstance(node, Npsh):
        return Npsh(*map(_first, node))
    return tuple(map(_first, node)) if isinstance(node, tuple) else node


def picked(found: Assessment, places: Indices) -> Assessment:
    """Of each site the candidate at its place of ``places``, as if they were the candidates of a single site.

    Arrays of (sites, candidates, points) become arrays of (sites, points).
    """
    rows = np.arange(len(places))
    shape = (len(places), found.outcome.shape[-2])

    def pick(node: Any) -> Any:
        if isinstance(node, np.ndarray):
            whole = np.broadcast_to(node, (*node.shape[:-3], *shape, node.shape[-1])) if node.ndim else node
            return whole[..., rows, places, :] if node.ndim else node
        if isinstance(node, msgspec.Struct):
            return type(node)(**{name: pick(getattr(node, name)) for name in node.__struct_fields__})
        return tuple(map(pick, node)) if isinstance(node, tuple) else node

    chosen: Assessment = pick(found)
    return chosen
