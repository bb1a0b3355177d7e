"""Many versions of one site along the sites' axis, so that what-if questions are one assessment."""

from collections.abc import Sequence
from typing import Any

import msgspec
import numpy as np

from upstroke_service.physics.real import Array

from .facts import Run, Site, Water

_COMPOSED = {"water", "runs"}
_NO_RUN = Run(0.02, 0.0, 0.0)


def stack(sites: Sequence[Site]) -> Site:
    """The ``sites``, each of plain floats and flags, as one along the first axis.

    What all share stays as it is. Sites with fewer runs get runs without length. All must state the depth
    of the cylinder, or none.
    """
    names = [name for name in Site.__struct_fields__ if name not in _COMPOSED]
    fields: dict[str, Any] = {name: _column([getattr(site, name) for site in sites]) for name in names}
    waters = [site.water for site in sites]
    water = Water(*(_column([getattr(one, name) for one in waters]) for name in Water.__struct_fields__))
    most = max(len(site.runs) for site in sites)
    padded = [(*site.runs, *[_NO_RUN] * (most - len(site.runs))) for site in sites]
    runs = tuple(
        Run(*(_column(list(column)) for column in zip(*map(msgspec.structs.astuple, stretch), strict=True)))
        for stretch in zip(*padded, strict=True)
    )
    return Site(water=water, runs=runs, **fields)


def _column(values: list[Any]) -> Any:
    """One value where all are the same, or an array of (sites, 1, 1)."""
    first = values[0]
    if values.count(first) == len(values):
        return first
    column: Array = np.array(values).reshape(-1, 1, 1)
    return column
