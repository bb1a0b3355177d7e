"""What a new schema takes from those who built on an older one."""

import json
import math
from collections.abc import Iterator
from typing import Any, Literal, NamedTuple

Node = dict[str, Any]
Side = Literal["input", "answer"]

BOUNDS = ("minimum", "exclusiveMinimum", "maximum", "exclusiveMaximum")
SIZES = ("minLength", "minItems", "minProperties", "maxLength", "maxItems", "maxProperties")
RULES = ("pattern", "multipleOf", "format", "uniqueItems")
TYPES = frozenset({"null", "boolean", "object", "array", "number", "string"})
COMPARED = {
    *BOUNDS, *SIZES, *RULES, "$ref", "type", "const", "enum", "default", "properties", "required",
    "additionalProperties", "items", "anyOf", "oneOf",
}  # fmt: skip
SAYS_NOTHING = {"title", "description", "examples", "example", "discriminator", "deprecated"}


class Break(NamedTuple):
    """One thing that a client may have relied on and that is gone."""

    kind: str
    place: str
    detail: str

    def __str__(self) -> str:
        return ": ".join(part for part in self if part)


class SchemaComparison:
    """Compares the schemas of two documents; each pair of named schemas once for each side."""

    def __init__(self, old: Node, new: Node) -> None:
        self.old, self.new = old, new
        self._seen: set[tuple[str, str, Side]] = set()

    def between(self, old: Node, new: Node, place: str, side: Side) -> Iterator[Break]:
        """The breaks from one schema to another."""
        names = old.get("$ref", ""), new.get("$ref", "")
        if all(names):
            if (*names, side) in self._seen:
                # Only what stands beside the references can differ.
                yield from _defaults(old, new, place, side)
                return
            self._seen.add((*names, side))
        place = _named(old) or place
        yield from self._resolved(_resolve(old, self.old), _resolve(new, self.new), place, side)

    def _resolved(self, old: Node, new: Node, place: str, side: Side) -> Iterator[Break]:
        before, after = _variants(old), _variants(new)
        if before or after:
            yield from self._alternatives(before or [old], after or [new], place, side)
            return
        yield from _defaults(old, new, place, side)
        yield from _types(old, new, place, side)
        yield from _words(old, new, place, side)
        if side == "input":
            yield from _bounds(old, new, place)
        yield from self._properties(old, new, place, side)
        if "items" in old and "items" in new:
            yield from self.between(old["items"], new["items"], f"{place}[]", side)
        elif "items" in (new if side == "input" else old):
            kind = "input narrowed" if side == "input" else "answer type changed"
            yield Break(kind, place, "what the entries may be")

    def _properties(self, old: Node, new: Node, place: str, side: Side) -> Iterator[Break]:
        before, after = old.get("properties", {}), new.get("properties", {})
        required, now = set(old.get("required", [])), set(new.get("required", []))
        for name, schema in before.items():
            if name in after:
                yield from self.between(schema, after[name], f"{place}.{name}", side)
            else:
                yield Break(
                    f"{'input' if side == 'input' else 'answer field'} removed", f"{place}.{name}", ""
                )
        if side == "input":
            yield from (Break("input required", f"{place}.{name}", "") for name in sorted(now - required))
            if (
                old.get("additionalProperties", True) is not False
                and new.get("additionalProperties") is False
            ):
                yield Break("input narrowed", place, "unknown fields are refused")
        else:
            lost = sorted(name for name in required - now if name in after)
            yield from (Break("answer field optional", f"{place}.{name}", "") for name in lost)

    def _alternatives(self, old: list[Node], new: list[Node], place: str, side: Side) -> Iterator[Break]:
        """Each alternative of a request has to stay; an answer may have no others than it had."""
        before = [_resolve(one, self.old) for one in old]
        after = [_resolve(one, self.new) for one in new]
        named_before, named_after = [_named(one) for one in old], [_named(one) for one in new]
        names, others = (named_before, named_after) if side == "input" else (named_after, named_before)
        kept, among = (before, after) if side == "input" else (after, before)
        for name, one in zip(names, kept, strict=True):
            tag = _tag(one)
            same = [other for called, other in zip(others, among, strict=True) if name and called == name]
            # Without a tag, the name tells which is which: another could lack more and still look closer.
            twins = [other for other in among if _tag(other) == tag] if tag else same or among
            pairs = [(one, other) if side == "input" else (other, one) for other in twins]
            found = [self._tried(*pair, name or f"{place}{tag}", side) for pair in pairs]
            if not found:
                kind = (
                    "unit removed" if "unit=" in tag and side == "input" else f"{side} alternatives changed"
                )
                yield Break(kind, place, tag)
            else:
                yield from min(found, key=len)
        if side == "answer":
            gone = {_tag(one) for one in before} - {_tag(one) for one in after}
            yield from (Break("unit removed", place, tag) for tag in sorted(gone) if "unit=" in tag)

    def _tried(self, old: Node, new: Node, place: str, side: Side) -> list[Break]:
        """The breaks of one pairing of alternatives, as if nothing that only it holds had been seen."""
        seen = set(self._seen)
        found = list(self._resolved(old, new, place, side))
        self._seen = seen
        return found


def _named(schema: Node) -> str:
    return str(schema.get("$ref", "")).rpartition("/")[2]


def _variants(schema: Node) -> list[Node]:
    variants: list[Node] = schema.get("anyOf") or schema.get("oneOf") or []
    return variants


def _resolve(schema: Node, document: Node) -> Node:
    """The schema that is meant, with what stands beside the reference to it."""
    while "$ref" in schema:
        beside = {key: value for key, value in schema.items() if key != "$ref"}
        schema = {**document["components"]["schemas"][schema["$ref"].rpartition("/")[2]], **beside}
    unknown = schema.keys() - COMPARED - SAYS_NOTHING
    if unknown or isinstance(schema.get("additionalProperties"), dict):
        raise ValueError(
            f"the comparison of contracts can't read {sorted(unknown) or 'additionalProperties'}"
        )
    return schema


def _tag(schema: Node) -> str:
    """The constants that tell an alternative from others, such as ' unit=psi'."""
    constants = {
        name: value["const"] for name, value in schema.get("properties", {}).items() if "const" in value
    }
    return "".join(f" {name}={value}" for name, value in sorted(constants.items()))


def _defaults(old: Node, new: Node, place: str, side: Side) -> Iterator[Break]:
    if side == "input" and "default" in old and old["default"] != new.get("default"):
        yield Break("default changed", place, f"{old['default']} to {new.get('default')}")


def _allowed_words(schema: Node) -> set[str] | None:
    """The values listed, as JSON; None where any will do."""
    values = [schema["const"]] if "const" in schema else schema.get("enum")
    return None if values is None else {json.dumps(value, sort_keys=True) for value in values}


def _allowed_types(schema: Node) -> set[str]:
    stated = schema.get("type", sorted(TYPES))
    found = {stated} if isinstance(stated, str) else set(stated)
    return found | {"integer"} if "number" in found else found


def _types(old: Node, new: Node, place: str, side: Side) -> Iterator[Break]:
    """A request may not lose types, an answer may not gain any."""
    before, after = _allowed_types(old), _allowed_types(new)
    if side == "input" and before - after:
        yield Break("input narrowed", place, f"no longer {', '.join(sorted(before - after))}")
    if side == "answer" and after - before:
        yield Break("answer type changed", place, f"may be {', '.join(sorted(after - before))}")


def _words(old: Node, new: Node, place: str, side: Side) -> Iterator[Break]:
    """Requests keep every word, answers the units in which they come; answers may gain words."""
    before, after = _allowed_words(old), _allowed_words(new)
    of_units = place.endswith(".unit")
    if before is None:
        if side == "input" and after is not None:
            yield Break("input narrowed", place, f"only {', '.join(sorted(after))}")
        return
    lost = sorted(before - after) if after is not None else []
    if lost and (side == "input" or of_units):
        yield Break("unit removed" if of_units else "input narrowed", place, f"no longer {', '.join(lost)}")


def _bounds(old: Node, new: Node, place: str) -> Iterator[Break]:
    if _lowest(new) > _lowest(old):
        yield Break("bound tightened", place, f"least value {_lowest(old)[0]} to {_lowest(new)[0]}")
    if _highest(new) < _highest(old):
        yield Break("bound tightened", place, f"greatest value {_highest(old)[0]} to {_highest(new)[0]}")
    for keyword in SIZES:
        sign, loosest = (1, 0) if keyword.startswith("min") else (-1, math.inf)
        if sign * new.get(keyword, loosest) > sign * old.get(keyword, loosest):
            yield Break("bound tightened", place, f"{keyword} {old.get(keyword)} to {new[keyword]}")
    for keyword in RULES:
        if new.get(keyword, False) not in (old.get(keyword, False), False):
            yield Break("bound tightened", place, f"{keyword} {old.get(keyword)} to {new[keyword]}")


def _lowest(schema: Node) -> tuple[float, int]:
    """The least value, and whether it is itself ruled out."""
    return max((schema.get("minimum", -math.inf), 0), (schema.get("exclusiveMinimum", -math.inf), 1))


def _highest(schema: Node) -> tuple[float, int]:
    """The greatest value, and minus one where it is itself ruled out."""
    return min((schema.get("maximum", math.inf), 0), (schema.get("exclusiveMaximum", math.inf), -1))
