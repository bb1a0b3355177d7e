"""The committed contract, and ways to walk through it."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema_rs

Node = dict[str, Any]

FILE = Path(__file__).parents[2] / "openapi/openapi.json"
LINES = "application/x-ndjson"
WRITE = "python -m upstroke_service --write-contract openapi/openapi.json"


def committed() -> Node:
    """The contract that third parties build on."""
    document: Node = json.loads(FILE.read_text("utf-8"))
    return document


DOCUMENT = committed()
SCHEMAS: dict[str, Node] = DOCUMENT["components"]["schemas"]


def operations() -> Iterator[tuple[str, str, Node]]:
    """Path, method and description of every operation."""
    for path, methods in DOCUMENT["paths"].items():
        for method, operation in methods.items():
            yield path, method, operation


OPERATIONS = {operation["operationId"]: (path, method, operation) for path, method, operation in operations()}


def json_of(content: Node) -> Node:
    """What a body holds as JSON; of one in lines, what a line does."""
    held: dict[str, Node] = content["content"]
    return held.get("application/json") or held[LINES]


def in_lines(operation: Node) -> bool:
    """Whether an operation takes and gives one object a line."""
    return LINES in operation.get("requestBody", {}).get("content", {})


def validator(schema: Node) -> jsonschema_rs.Draft202012Validator:
    """Validator of a schema of the contract."""
    return jsonschema_rs.Draft202012Validator({**schema, "components": {"schemas": SCHEMAS}})


def answer_validator(operation_id: str) -> jsonschema_rs.Draft202012Validator:
    """Validator of the 200 answers of an operation."""
    return validator(json_of(OPERATIONS[operation_id][2]["responses"]["200"])["schema"])


def faults(check: jsonschema_rs.Draft202012Validator, instance: object) -> list[str]:
    """What is wrong with ``instance``, with the place of each fault."""
    return [f"{list(fault.instance_path)}: {fault.message}" for fault in check.iter_errors(instance)]


def objects(node: object, place: str) -> Iterator[tuple[str, Node]]:
    """Every schema below ``node`` that has properties, with its place."""
    if isinstance(node, dict):
        if isinstance(node.get("properties"), dict):
            yield place, node
        for key, value in node.items():
            yield from objects(value, f"{place}/{key}")
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from objects(value, f"{place}/{index}")


def reachable(name: str) -> set[str]:
    """Names of the schemas that the schema ``name`` uses, itself included."""
    found: set[str] = set()
    pending = [name]
    while pending:
        one = pending.pop()
        if one not in found:
            found.add(one)
            pending += [
                word for word in SCHEMAS if f'"#/components/schemas/{word}"' in json.dumps(SCHEMAS[one])
            ]
    return found
