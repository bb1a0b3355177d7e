"""Random facts within the bounds of the contract, its extremes included."""

import math
import random
from typing import Any

import msgspec
from hypothesis import strategies as st
from tests.contract.documents import SCHEMAS, Node
from tests.service.consistency import CONTEXT, settled

MOST_ITEMS = 4
CYLINDERS = [one.id for one in CONTEXT.catalogues.by_name["demo"].cylinders]


@st.composite
def requests(draw: st.DrawFn, kind: type[msgspec.Struct]) -> Any:
    """A request of a kind whose facts do not contradict each other."""
    body = _drawn(draw, SCHEMAS[kind.__name__], draw(st.sampled_from([0.15, 0.5, 0.85, 1.0])))
    selection = body.get("selection", {})
    if "cylinders" in selection:
        body["selection"] = {"cylinders": selection["cylinders"]}
    elif selection:
        ids = [CYLINDERS[len(one) % len(CYLINDERS)] for one in selection.get("ids", [])]
        body["selection"] = {"catalogue": "demo"} | ({"ids": ids} if ids else {})
    return settled(kind, body, random.Random(draw(st.integers(0, 2**32))))  # noqa: S311 - to vary


def _drawn(draw: st.DrawFn, schema: Node, density: float) -> Any:  # noqa: C901, PLR0911 - one for each kind of schema
    """Something that a schema allows, with about ``density`` of what it leaves optional."""
    if "$ref" in schema:
        return _drawn(draw, SCHEMAS[schema["$ref"].rpartition("/")[2]], density)
    if "anyOf" in schema:
        return _drawn(draw, draw(st.sampled_from(schema["anyOf"])), density)
    if "const" in schema:
        return schema["const"]
    if "enum" in schema:
        return draw(st.sampled_from(schema["enum"]))
    match schema["type"]:
        case "object":
            return _object(draw, schema, density)
        case "array":
            most = min(schema["maxItems"], MOST_ITEMS)
            count = draw(st.integers(schema.get("minItems", 0), most))
            return [_drawn(draw, schema["items"], density) for _ in range(count)]
        case "number":
            return draw(_number(schema["minimum"], schema["maximum"]))
        case "integer":
            return draw(st.integers(schema["minimum"], min(schema["maximum"], 60)))
        case "boolean":
            return draw(st.booleans())
        case "string":
            return draw(st.from_regex(r"[a-z0-9][a-z0-9-]{0,7}", fullmatch=True))
        case other:
            raise AssertionError(other)


def _object(draw: st.DrawFn, schema: Node, density: float) -> Node:
    required = schema.get("required", [])
    return {
        name: _drawn(draw, value, density)
        for name, value in schema["properties"].items()
        if name in required or draw(st.floats(0.0, 1.0)) < density
    }


def _number(lowest: float, highest: float) -> st.SearchStrategy[float]:
    """Extremes, even values, and values over many powers of ten."""
    even = st.floats(lowest, highest)
    if lowest < 0.0:
        return st.one_of(st.sampled_from([lowest, 0.0, highest]), even)
    small = math.log(max(lowest, highest * 1e-6))
    over_powers = st.floats(small, math.log(highest)).map(
        lambda power: min(max(math.exp(power), lowest), highest)
    )
    return st.one_of(st.sampled_from([lowest, highest]), even, over_powers)
