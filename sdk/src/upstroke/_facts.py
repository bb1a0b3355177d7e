"""Turns the facts of a request, in whatever form they were given, into plain JSON values."""

from collections.abc import Mapping
from functools import cache
from typing import TypeAlias, cast

from msgspec import UNSET, Struct, inspect

from ._errors import FactError
from ._quantity import Quantity, read_quantity

Facts: TypeAlias = Struct | Mapping[str, object]

_KNOWN: dict[type[object], inspect.Type] = {}


def plain(facts: Facts, kind: type[object]) -> dict[str, object]:
    """The request, or the query of a formula, as JSON values, every quantity in a unit that its field accepts.

    Everything else passes as it is given: the service judges it and names all faults at once.

    Raises:
        FactError: where a quantity can't be read.
    """
    return _block(facts, _info(kind), "")


def _block(given: Facts, kind: inspect.Type | None, pointer: str) -> dict[str, object]:
    if isinstance(given, Struct):
        config = given.__struct_config__
        tag = {config.tag_field: config.tag} if config.tag_field else {}
        kind = _info(type(given))
        given = tag | {name: getattr(given, name) for name in given.__struct_fields__}
    fields = _fields(kind, given)
    return {
        name: _value(value, fields.get(name), f"{pointer}/{name}")
        for name, value in given.items()
        if value is not UNSET
    }


def _value(given: object, kind: inspect.Type | None, pointer: str) -> object:
    if accepted := _accepted_units(kind):
        return _quantity(given, accepted, pointer)
    if isinstance(given, Struct | Mapping):
        return _block(cast("Facts", given), kind, pointer)
    if isinstance(given, list | tuple):
        item = kind.item_type if isinstance(kind, inspect.ListType) else None
        listed = cast("list[object] | tuple[object, ...]", given)
        return [_value(value, item, f"{pointer}/{position}") for position, value in enumerate(listed)]
    return given


def _accepted_units(kind: inspect.Type | None) -> tuple[str, ...]:
    """The units of a quantity; empty for any other kind of value."""
    if not isinstance(kind, inspect.Metadata):
        return ()
    extra = cast("dict[str, tuple[str, ...]] | None", kind.extra)  # pyright: ignore[reportUnknownMemberType]
    return (extra or {}).get("units", ())


def _quantity(given: object, accepted: tuple[str, ...], pointer: str) -> Quantity:
    try:
        return read_quantity(given, accepted)
    except ValueError as error:
        raise FactError(pointer, f"{error}; accepted units: {', '.join(accepted)}") from error


def _fields(kind: inspect.Type | None, given: Mapping[str, object]) -> Mapping[str, inspect.Type]:
    """The fields that a block can have; none where its kind can't be told."""
    members = kind.types if isinstance(kind, inspect.UnionType) else (kind,)
    for member in members:
        if isinstance(member, inspect.StructType) and (
            member.tag_field is None or given.get(member.tag_field) == member.tag
        ):
            return _fields_of(member.cls)
        if isinstance(member, inspect.TypedDictType):
            return _fields_of(member.cls)
    return {}


def _info(kind: type[object]) -> inspect.Type:
    """What a kind of facts consists of; finding out takes ten milliseconds, too long for each of many requests."""
    if kind not in _KNOWN:
        _KNOWN[kind] = inspect.type_info(kind)
    return _KNOWN[kind]


@cache
def _fields_of(block: type[object]) -> Mapping[str, inspect.Type]:
    kind = _info(block)
    if not isinstance(kind, inspect.StructType | inspect.TypedDictType):
        return {}
    return {field.name: field.type for field in kind.fields}
