"""What a form may ask and accept, made from the same schemas that judge a request: one source for both."""

from collections.abc import Iterator
from typing import Any

from upstroke_service.contract.requests import SizingRequest
from upstroke_service.sizing import defaults

from .schemas import REFERENCE, Schema, components

ASKED = ("well", "pump", "conduit", "tank", "pressures", "operator", "site", "needs")
"""Blocks of a sizing that people know something of; what is selected from is the dealer's to say."""

_PREFIX = REFERENCE.format(name="")


def fields() -> dict[str, Schema]:
    """Every fact of a sizing by its JSON Pointer, with the units and bounds or the words that it takes.

    A quantity has ``units``, each with its least and greatest value; a number ``least`` and ``most``, and ``whole``
    where it has no fractions; a word its ``words``. The first entry of a list stands for all. ``assumed`` are facts
    that the service assumes, and says so, where they are left out.
    """
    schemas = components([SizingRequest])
    request = schemas[SizingRequest.__name__]["properties"]
    found: dict[str, Schema] = {}
    for block in ASKED:
        for pointer, fact in _facts(f"/{block}", request[block], schemas):
            # Two kinds of supply share a pointer for what tells them apart.
            known = found.setdefault(pointer, fact)
            if "words" in fact and fact is not known:
                known["words"] = sorted({*known["words"], *fact["words"]})
    for pointer in defaults.table():
        if pointer in found:
            found[pointer]["assumed"] = True
    return found


def _facts(pointer: str, schema: Schema, schemas: dict[str, Schema]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The facts at and below ``pointer``."""
    schema = schemas[schema["$ref"].removeprefix(_PREFIX)] if "$ref" in schema else schema
    variants = [
        schemas[one["$ref"].removeprefix(_PREFIX)] if "$ref" in one else one
        for one in schema.get("anyOf", [schema])
    ]
    if all(_is_quantity(one) for one in variants):
        yield pointer, {"units": dict(_bounds(one) for one in variants)}
        return
    for one in variants:
        if "properties" in one:
            for name, member in one["properties"].items():
                yield from _facts(f"{pointer}/{name}", member, schemas)
        elif one["type"] == "array":
            yield from _facts(f"{pointer}/0", one["items"], schemas)
        elif "enum" in one or "const" in one:
            yield pointer, {"words": one["enum"] if "enum" in one else [one["const"]]}
        elif one["type"] in {"integer", "number"}:
            whole = {"whole": True} if one["type"] == "integer" else {}
            yield pointer, {"least": one["minimum"], "most": one["maximum"], **whole}


def _is_quantity(schema: Schema) -> bool:
    return set(schema.get("properties", ())) == {"value", "unit"}


def _bounds(schema: Schema) -> tuple[str, list[float]]:
    value, unit = schema["properties"]["value"], schema["properties"]["unit"]
    return unit["const"], [value["minimum"], value["maximum"]]
