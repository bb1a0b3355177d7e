"""Taking some candidates out of structures of (sites, candidates, points) arrays, and putting them back."""

import math
from typing import Any

import msgspec
import numpy as np

from upstroke_service.physics.real import Array, Indices

from .facts import Flags


class Places:
    """Some candidates among all, and where each array of theirs has them."""

    def __init__(self, shape: tuple[int, ...], *places: Indices) -> None:
        """``places`` along each axis of ``shape``, (sites, candidates) or (candidates,)."""
        self._shape = shape
        self._places = places
        self._found: dict[tuple[int, ...], Indices | None] = {}

    def take(self, array: Array) -> Array:
        """An ``array`` that broadcasts to the shape with points, of those candidates alone.

        Both axes become one, as if those were the candidates of a single site; axes before and after them
        stay. What all share is not repeated.
        """
        axes = len(self._shape)
        own = array.shape[-axes - 1 : -1]
        if own not in self._found:
            self._found[own] = self._along(own)
        along = self._found[own]
        rows = array.reshape(*array.shape[: -axes - 1], -1, array.shape[-1])
        return rows if along is None else rows.take(along, axis=-2)

    def _along(self, own: tuple[int, ...]) -> Indices | None:
        """Places in an array with these axes, which are as long as those of the shape or 1; None where all are 1."""
        if math.prod(own) == 1:
            return None
        row: Indices = np.zeros(1, dtype=np.intp)
        for size, places in zip(own, self._places[-len(own) :], strict=True):
            row = row * size + (places if size > 1 else 0)
        return row


class Picked:
    """A struct of arrays of some candidates, each of them taken when it is first asked for.

    It has the methods of the struct as well. For a calculation that needs few of many arrays.
    """

    def __init__(self, node: msgspec.Struct, places: Places) -> None:
        """``node`` may hold arrays that broadcast, plain numbers, and structs of such."""
        self._node = node
        self._places = places

    def __getattr__(self, name: str) -> Any:
        """A field of those candidates, or a method or property of the struct."""
        if name not in self._node.__struct_fields__:
            return getattr(type(self._node), name).__get__(self)
        value = getattr(self._node, name)
        if isinstance(value, msgspec.Struct):
            value = Picked(value, self._places)
        elif isinstance(value, np.ndarray) and value.ndim:
            value = self._places.take(value)
        setattr(self, name, value)
        return value


def few(node: Any, chosen: Flags) -> Any:
    """The same as ``pick``, but of each array only once it is asked for: where few of many are needed."""
    return Picked(node, Places(chosen.shape, *np.nonzero(chosen)))


def pick(node: Any, chosen: Flags) -> Any:
    """``node``, a struct of arrays that broadcast, of those candidates alone that are ``chosen``.

    ``chosen`` are flags of (sites, candidates) or (candidates,). In arrays both axes become one, as if those
    were the candidates of a single site; axes before and after them stay, and so do plain numbers.
    """
    places = Places(chosen.shape, *np.nonzero(chosen))

    def picked(node: Any) -> Any:
        if isinstance(node, np.ndarray) and node.ndim:
            return places.take(node)
        if isinstance(node, msgspec.Struct):
            return type(node)(**{name: picked(getattr(node, name)) for name in node.__struct_fields__})
        return tuple(map(picked, node)) if isinstance(node, tuple) else node

    return picked(node)


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
