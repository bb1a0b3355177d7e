"""The columns that a table of sites may have, taken from the structs of the contract.

A field is called by its name in plain words, with as much of its block in front as tells it from others:
"Static water level", "Tank count", "Run 1 length". Whatever is added to the contract is a column at once.
"""

import ast
import inspect as source
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final, Literal, TypeAlias, cast

import msgspec
from msgspec import inspect

from upstroke._models import SizingRequest

Kind: TypeAlias = Literal["quantity", "number", "integer", "flag", "word", "text", "texts"]

LISTED: Final = "#"
"""Stands in a path for the position of an item in a list."""

# Blocks whose name reads better behind their fields' names than in front: "Start pressure".
_BEHIND: Final = {"pressures": "pressure"}
_TAG: Final = "kind"


@dataclass(frozen=True)
class Column:
    """A field of the request, as a column.

    Attributes:
        path: names of the blocks down to the field; ``#`` stands for the position in a list.
        kind: how its cells are read.
        units: the units that a quantity may have.
        words: the words of a closed list.
        names: every name by which a header may call it, in lower case; ``#`` stands for the number.
        label: the one that a template shows.
    """

    path: tuple[str, ...]
    kind: Kind
    units: tuple[str, ...]
    words: tuple[str, ...]
    names: tuple[str, ...]
    label: str

    def header(self, position: int = 1, unit: str = "") -> str:
        """The header of this column for the item at a position, counted from 1."""
        text = self.label.replace(LISTED, str(position))
        return f"{text} [{unit}]" if unit else text

    def at(self, position: int) -> str:
        """JSON Pointer of the field for the item at a position, counted from 1."""
        return "/" + "/".join(str(position - 1) if part == LISTED else part for part in self.path)


@cache
def columns() -> tuple[Column, ...]:
    """Every field of a sizing's request, in the contract's order."""
    fields = list(_walk(inspect.type_info(SizingRequest), ()))
    called = {path: _names(path) for path, *_ in fields}
    count = Counter(name for names in called.values() for name in names)
    found: list[Column] = []
    for path, kind, units, words in fields:
        names = tuple(name for name in called[path] if count[name] == 1)
        plain = [name for name in names if " " in name] or list(names)
        found.append(Column(path, kind, units, words, names, plain[0][0].upper() + plain[0][1:]))
    return tuple(found)


@cache
def meanings() -> dict[tuple[str, ...], str]:
    """What each field means, by its path, from the docstrings of the contract's structs."""
    texts = _docstrings()
    found: dict[tuple[str, ...], str] = {}

    def visit(struct: type[msgspec.Struct], path: tuple[str, ...]) -> None:
        for field in cast("inspect.StructType", inspect.type_info(struct)).fields:
            kind, here = field.type, (*path, field.name)
            if isinstance(kind, inspect.ListType):
                kind, here = kind.item_type, (*here, LISTED)
            found[here] = found[(*path, field.name)] = texts.get((struct.__name__, field.name), "")
            for member in _members(kind):
                visit(member.cls, here)

    visit(SizingRequest, ())
    return found


def _docstrings() -> dict[tuple[str, str], str]:
    texts: dict[tuple[str, str], str] = {}
    for node in ast.parse(source.getsource(sys.modules[SizingRequest.__module__])).body:
        if not isinstance(node, ast.ClassDef):
            continue
        for field, following in zip(node.body, node.body[1:], strict=False):
            if (
                isinstance(field, ast.AnnAssign)
                and isinstance(field.target, ast.Name)
                and isinstance(following, ast.Expr)
                and isinstance(following.value, ast.Constant)
            ):
                texts[node.name, field.target.id] = " ".join(str(following.value.value).split())
    return texts


_Field: TypeAlias = tuple[tuple[str, ...], Kind, tuple[str, ...], tuple[str, ...]]


def _members(kind: inspect.Type) -> list[inspect.StructType]:
    """The structs that a field can hold: none, one, or those of a union told apart by a tag."""
    return [
        one
        for one in (kind.types if isinstance(kind, inspect.UnionType) else (kind,))
        if isinstance(one, inspect.StructType)
    ]


def _walk(kind: inspect.Type, path: tuple[str, ...]) -> Iterator[_Field]:
    if members := _members(kind):
        tags = tuple(str(member.tag) for member in members if member.tag is not None)
        if tags:
            yield (*path, members[0].tag_field or _TAG), "word", (), tags
        fields = {field.name: field.type for member in members for field in member.fields}
        for name, type_ in fields.items():
            yield from _walk(type_, (*path, name))
    elif isinstance(kind, inspect.ListType) and _members(kind.item_type):
        yield from _walk(kind.item_type, (*path, LISTED))
    else:
        yield path, *_scalar(kind)


def _scalar(kind: inspect.Type) -> tuple[Kind, tuple[str, ...], tuple[str, ...]]:
    if isinstance(kind, inspect.Metadata):
        extra = cast("dict[str, tuple[str, ...]]", kind.extra)  # pyright: ignore[reportUnknownMemberType]
        return "quantity", extra["units"], ()
    if isinstance(kind, inspect.LiteralType):
        return "word", (), tuple(str(value) for value in kind.values)
    plain: dict[type[inspect.Type], Kind] = {
        inspect.BoolType: "flag",
        inspect.IntType: "integer",
        inspect.FloatType: "number",
        inspect.StrType: "text",
        inspect.ListType: "texts",
    }
    return plain[type(kind)], (), ()


def _names(path: tuple[str, ...]) -> list[str]:
    """Every name of a field, the shortest first.

    A list's item is never called without its number, and a part of a part never without what it is a part of:
    "Inside diameter" alone could be that of anything.
    """
    parts: list[str] = []
    last = min(len(path) - 1, 1)
    for part in path:
        if part == LISTED:
            parts[-1] = f"{parts[-1].removesuffix('s')} {LISTED}"
            last = len(parts) - 1
        else:
            parts.append(part.replace("_", " "))
    names = [" ".join(parts[start:]) for start in range(last, -1, -1)]
    if behind := _BEHIND.get(path[0]):
        names.insert(0, f"{parts[-1]} {behind}")
    return names
