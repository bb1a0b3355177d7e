"""Taking some candidates out of structures of (sites, candidates, points) arrays, and putting them back."""

from typing import Any

import msgspec
import numpy as np

from upstroke_service.physics.real import Array

from .facts import Flags


def pick(node: Any, chosen: Flags) -> Any:
    """``node``, a struct of arrays that broadcast, of those candidates alone that are ``chosen``.

    ``chosen`` are flags of (sites, candidates). In arrays both axes become one, as if those were the candidates
    of a single site; axes before and after them stay, and so do plain numbers.
    """
    if isinstance(node, np.ndarray) and node.ndim:
        points = node.shape[-1]
        whole = np.broadcast_to(node, (*node.shape[: -chosen.ndim - 1], *chosen.shape, points))
        return whole[..., chosen, :]
    if isinstance(node, msgspec.Struct):
        return type(node)(**{name: pick(getattr(node, name), chosen) for name in node.__struct_fields__})
    return tuple(pick(one, chosen) for one in node) if isinstance(node, tuple) else node


def put(node: Any, changed: Any, chosen: Flags) -> Any:
    """``node`` with what was picked of it and ``changed`` since put back; an array or a struct of arrays."""
    if isinstance(changed, msgspec.Struct):
        return type(changed)(
            **{
                name: put(getattr(node, name), getattr(changed, name), chosen)
                for name in changed.__struct_fields__
            }
        )
    given = np.asarray(node)
    before = np.shape(changed)[:-2]
    whole: Array = np.broadcast_to(given, (*before, *chosen.shape, np.shape(changed)[-1])).copy()
    whole[..., chosen, :] = changed
    return whole
