"""Single facts as a person types them: which value a fact takes, and where it goes among the others."""

from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Final, cast

from msgspec import inspect

from ._models import SizingRequest
from ._quantity import read_quantity

_SHORT: Final = {"y": "yes", "n": "no", "?": "unknown"}


@dataclass(frozen=True)
class Kind:
    """What a fact may be: a quantity in one of these units, one of these words, a number or a text."""

    units: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    whole: bool = False
    number: bool = False

    def __str__(self) -> str:
        """What may be typed."""
        if self.units:
            return f"a number and its unit: {', '.join(self.units)}"
        if self.words:
            return ", ".join(self.words)
        return "a whole number" if self.whole else "a number" if self.number else "text"


def kind_of(pointer: str) -> Kind | None:
    """The kind of the fact at a JSON Pointer of a sizing's request, or None where no single value stands there."""
    nodes: list[inspect.Type] = [inspect.type_info(SizingRequest)]
    words: list[str] = []
    for step in pointer.strip("/").split("/"):
        # The word that tells the members of a union apart is no field of theirs.
        structs = [node for node in nodes if isinstance(node, inspect.StructType)]
        words = [str(node.tag) for node in structs if node.tag_field == step]
        nodes = [found for node in nodes for found in _below(node, step)]
    for node in nodes:
        if isinstance(node, inspect.LiteralType):
            words += [str(value) for value in node.values]
    if words:
        return Kind(words=tuple(sorted(words, key=lambda word: (word == "unknown", word != "yes"))))
    for node in nodes:
        if isinstance(node, inspect.Metadata):
            extra = cast("dict[str, tuple[str, ...]] | None", node.extra)  # pyright: ignore[reportUnknownMemberType]
            return Kind(units=(extra or {}).get("units", ()))
        if isinstance(node, inspect.IntType | inspect.FloatType):
            return Kind(number=True, whole=isinstance(node, inspect.IntType))
        if isinstance(node, inspect.StrType):
            return Kind()
    return None


def _below(node: inspect.Type, step: str) -> Sequence[inspect.Type]:
    """What may stand one step below a node."""
    if isinstance(node, inspect.StructType):
        found = [field.type for field in node.fields if field.encode_name == step]
    elif isinstance(node, inspect.CollectionType) and step.isdigit():
        found = [node.item_type]
    else:
        found = []
    return [one for kind in found for one in (kind.types if isinstance(kind, inspect.UnionType) else (kind,))]


def read_entry(text: str, kind: Kind) -> object:
    """The value that a person typed.

    Raises:
        ValueError: where it is none of this kind; the message says what would be.
    """
    text = text.strip()
    if kind.units:
        quantity = read_quantity(text, kind.units)
        return {"value": quantity.value, "unit": quantity.unit}
    if kind.words:
        word = _SHORT.get(text.casefold(), text.casefold()).replace(" ", "_")
        if word not in kind.words:
            raise ValueError(f"{text!r} is none of them")
        return word
    if not kind.number:
        return text
    try:
        return int(text) if kind.whole else float(text)
    except ValueError:
        raise ValueError(f"{text!r} is not {kind}") from None


def with_fact(facts: Mapping[str, object], pointer: str, value: object) -> dict[str, object]:
    """A copy of the facts in which ``value`` stands at a JSON Pointer; an index goes one beyond the last at most.

    Raises:
        ValueError: where the facts have something else on the way there.
    """
    *way, last = pointer.strip("/").split("/")
    whole: dict[str, object] = deepcopy(dict(facts))
    node: object = whole
    for step, following in zip(way, [*way[1:], last], strict=True):
        empty: object = [] if following.isdigit() else {}
        node = _entered(node, step, empty, pointer, keep=True)
    _entered(node, last, value, pointer, keep=False)
    return whole


def _entered(node: object, step: str, value: object, pointer: str, *, keep: bool) -> object:
    """What stands at ``step`` of a node after ``value`` is put there; ``keep``: unless there is something already."""
    if isinstance(node, dict):
        members = cast("dict[str, object]", node)
        members[step] = members.get(step, value) if keep else value
        return members[step]
    if isinstance(node, list) and step.isdigit():
        entries = cast("list[object]", node)
        place = int(step)
        if place == len(entries):
            entries.append(value)
        elif place < len(entries) and not keep:
            entries[place] = value
        if place < len(entries):
            return entries[place]
    raise ValueError(f"{pointer}: the facts have something else at this place")
