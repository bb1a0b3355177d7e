"""JSON Schemas of the contract, as strict as the service is."""

import functools
import inspect
from collections.abc import Iterable, Sequence
from typing import Any

import jsonschema_rs
import msgspec

from upstroke_service.contract.quantities import INPUTS

from .bounds import BOUNDS

Schema = dict[str, Any]

REFERENCE = "#/components/schemas/{name}"


def components(types: Iterable[Any]) -> dict[str, Schema]:
    """Component schemas of ``types`` and of all that they refer to."""
    _, schemas = msgspec.json.schema_components(types, ref_template=REFERENCE)
    for kind in INPUTS:
        if kind.__name__ in schemas:
            schemas[kind.__name__] = _quantity(kind, schemas[kind.__name__])
    return {name: _finished(schema) for name, schema in sorted(schemas.items())}


def _quantity(kind: Any, schema: Schema) -> Schema:
    """One closed object per unit, each with the bounds of that unit.

    Titles have no slash: what generates code makes names of them, some from what follows the last slash alone.
    """
    variants: list[Schema] = [
        {
            "title": f"{kind.__name__}_{unit.replace('/', '_per_')}",
            "type": "object",
            "properties": {
                "value": {
                    "type": "number",
                    "minimum": bounds.lowest,
                    "maximum": bounds.highest,
                    "description": f"Value in {unit}.",
                },
                "unit": {"type": "string", "const": unit, "description": "The unit."},
            },
            "required": ["value", "unit"],
            "additionalProperties": False,
        }
        for unit, bounds in BOUNDS[kind].items()
    ]
    named = {"title": kind.__name__, "description": schema["description"]}
    return {**variants[0], **named} if len(variants) == 1 else {**named, "anyOf": variants}


def _finished(node: Any) -> Any:
    """Enumerations with their type, and those of one word as constants."""
    if isinstance(node, list):
        return [_finished(item) for item in node]
    if not isinstance(node, dict):
        return node
    finished = {key: _finished(value) for key, value in node.items()}
    if isinstance(finished.get("description"), str):
        # A docstring keeps its indent before Python 3.13.
        finished["description"] = inspect.cleandoc(finished["description"])
    words: list[str] = finished.get("enum", [])
    if words and "type" not in finished:
        finished["type"] = "string"
        if len(words) == 1:
            finished["const"] = finished.pop("enum")[0]
            # What tells the variants of a union apart has no annotation in which to be described.
            finished.setdefault("description", "Tells this variant from the others.")
    return finished


@functools.cache
def _whole(kind: type[msgspec.Struct]) -> Schema:
    """Schema of one request type with all that it refers to."""
    return {"$ref": REFERENCE.format(name=kind.__name__), "components": {"schemas": components([kind])}}


def part(kind: type[msgspec.Struct], path: Sequence[str | int]) -> Any:
    """What the schema of a request type holds at the ``path`` that one of its errors names."""
    node: Any = _whole(kind)
    for step in path:
        node = node[step]
    return node


def variants(kind: type[msgspec.Struct], schema: Schema) -> tuple[str, list[str]]:
    """The member that tells the variants of a union in a request type apart, and its word for each."""
    listed = [
        part(kind, one["$ref"].removeprefix("#/").split("/")) if "$ref" in one else one
        for one in schema["anyOf"]
    ]
    constants = [
        {name: member["const"] for name, member in one["properties"].items() if "const" in member}
        for one in listed
    ]
    (member,) = constants[0]
    return member, [one[member] for one in constants]


@functools.cache
def validator(kind: type[msgspec.Struct]) -> jsonschema_rs.Draft202012Validator:
    """Validator of one request type, which finds every fault of a body at once."""
    return jsonschema_rs.Draft202012Validator(_whole(kind))
