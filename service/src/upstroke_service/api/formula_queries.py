"""The facts of a formula: each a query parameter, a quantity two of them, read as the body of a calculation.

A formula is an address that answers with one number, for programs that can only fetch addresses. Its facts are
those of the calculation that it stands for: described by the same schema, bounded by it, and refused by it.
"""

import functools
import itertools
import math
import re
from collections.abc import Mapping
from typing import Any, NamedTuple

import msgspec

from upstroke_service.contract.problems import ProblemError
from upstroke_service.contract.quantities import INPUTS
from upstroke_service.wording import said

from . import bodies
from .bounds import BOUNDS, Bounds
from .problems import RequestProblem
from .schemas import Schema, components

Step = str | int
Query = Mapping[str, list[str]]
"""Every value that a query gives to each name."""

CHOICES = {"units": ("us", "si"), "format": ("text", "csv")}
"""What every formula takes besides its facts: the first word of each is its default."""

_NUMBER = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?", re.ASCII)
_KINDS = {kind.__name__: kind for kind in INPUTS}


class Parameter(NamedTuple):
    """A fact as a query parameter: its name, its place in the body, and an invented example."""

    name: str
    path: tuple[Step, ...]
    example: float | str
    unit: str = ""
    """Unit of the example, where it is a quantity."""
    required: bool = False
    text: str = ""
    """What it means, where the body's own words need their surroundings."""
    beside: tuple[tuple[Step, ...], str] | None = None
    """Place and word of what the body needs beside it, such as the kind of a supply."""

    @property
    def unit_name(self) -> str:
        """Name of the parameter that holds its unit."""
        return f"{self.name}_unit"


class Described(NamedTuple):
    """What the schema of the body says of a parameter; ``bounds`` by unit where it is a quantity."""

    schema: Schema
    bounds: dict[str, Bounds]


@functools.cache
def described(kind: type[msgspec.Struct], path: tuple[Step, ...]) -> Described:
    """What the schema of the ``kind`` of body says at ``path``."""
    schemas = components([kind])
    node = schemas[kind.__name__]
    for step in path:
        whole = _resolved(node, schemas)
        if isinstance(step, int):
            node = whole["items"]
        else:
            variants = [_resolved(one, schemas) for one in whole.get("anyOf", [whole])]
            node = next(one["properties"][step] for one in variants if step in one["properties"])
    quantity = _KINDS.get(_reference(node))
    return Described(node, BOUNDS[quantity] if quantity else {})


def _reference(node: Schema) -> str:
    return str(node.get("$ref", "")).rpartition("/")[2]


def _resolved(node: Schema, schemas: dict[str, Schema]) -> Schema:
    return schemas[_reference(node)] if "$ref" in node else node


def read(query: Query, parameters: tuple[Parameter, ...], kind: type[msgspec.Struct]) -> dict[str, Any]:
    """The body that a query stands for. Raises RequestProblem 'invalid-field' with every fault at once."""
    faults = dict(_unknown(query, parameters))
    found: dict[str, Any] = {}
    for parameter in parameters:
        _read_fact(query, parameter, described(kind, parameter.path), found, faults)
    given = [parameter for parameter in parameters if parameter.name in found]
    body = _nested(
        dict(one.beside for one in given if one.beside) | {one.path: found[one.name] for one in given}
    )
    for fault in bodies.faults(body, kind):
        name = named(fault.pointer, parameters)
        if name:
            faults.setdefault(name, fault.detail)
    if faults:
        told = "one_parameter" if len(faults) == 1 else "many_parameters"
        raise RequestProblem(
            "invalid-field",
            said("fault", told, count=len(faults)),
            [ProblemError(pointer=bodies.pointer([name]), detail=text) for name, text in faults.items()][
                : bodies.MOST_FAULTS
            ],
        )
    return body


def _unknown(query: Query, parameters: tuple[Parameter, ...]) -> list[tuple[str, str]]:
    """Faults of names that are not known or given twice, and of the words that every formula takes."""
    facts = {one.name for one in parameters} | {one.unit_name for one in parameters if one.unit}
    found: list[tuple[str, str]] = []
    for name, values in query.items():
        if name not in facts | CHOICES.keys():
            accepts = ", ".join([*sorted(facts), *CHOICES])
            found.append((name[: bodies.MOST_ECHOED], said("fault", "unknown_parameter", accepts=accepts)))
        elif len(values) > 1:
            found.append((name, said("fault", "repeated")))
        elif name in CHOICES and values[0] not in CHOICES[name]:
            found.append((name, said("fault", "enum", words=", ".join(CHOICES[name]))))
    return found


def _read_fact(
    query: Query, parameter: Parameter, about: Described, found: dict[str, Any], faults: dict[str, str]
) -> None:
    """Read one fact of a query into ``found``, or what is wrong with it into ``faults``."""
    text = query.get(parameter.name, [None])[0]
    unit = query.get(parameter.unit_name, [None])[0] if about.bounds else None
    if text is None:
        if unit is not None:
            faults.setdefault(parameter.name, said("fault", "needed_with_unit", unit=parameter.unit_name))
        elif parameter.required:
            faults.setdefault(parameter.name, said("fault", "needed_parameter"))
        return
    value = _value(text, about)
    if value is None:
        faults.setdefault(parameter.name, said("fault", "not_a_number" if text else "empty"))
    if about.bounds and not unit:
        units = ", ".join(about.bounds)
        faults.setdefault(parameter.unit_name, said("fault", "needed_unit", name=parameter.name, units=units))
    elif value is not None:
        found[parameter.name] = {"value": value, "unit": unit} if about.bounds else value


def _value(text: str, about: Described) -> float | str | None:
    """What a text means as JSON, or None where it is no such value. No unit is ever read from it."""
    kind = "number" if about.bounds else about.schema["type"]
    if kind == "string":
        return text or None
    if not _NUMBER.fullmatch(text) or not math.isfinite(float(text)):
        return None
    number = float(text)
    return int(number) if kind == "integer" and number.is_integer() else number


def _nested(facts: dict[tuple[Step, ...], Any]) -> dict[str, Any]:
    """Facts at their places in one body; a list has one entry."""
    body: dict[str, Any] = {}
    for path, value in facts.items():
        node: Any = body
        for step, following in itertools.pairwise(path):
            empty: Any = [] if isinstance(following, int) else {}
            if isinstance(step, int):
                if not node:
                    node.append(empty)
                node = node[step]
            else:
                node = node.setdefault(step, empty)
        if isinstance(path[-1], int):
            node.append(value)
        else:
            node[path[-1]] = value
    return body


def named(pointer: str, parameters: tuple[Parameter, ...]) -> str:
    """Name of the parameter that stands for a place of the body; empty where none does."""
    for parameter in parameters:
        place = bodies.pointer(list(parameter.path))
        if pointer == f"{place}/unit":
            return parameter.unit_name
        if pointer == place or pointer.startswith(f"{place}/"):
            return parameter.name
    return ""


def documented(parameter: Parameter, kind: type[msgspec.Struct]) -> list[dict[str, Any]]:
    """A parameter as the OpenAPI document describes it: two where it is a quantity."""
    about = described(kind, parameter.path)
    text = parameter.text or about.schema["description"]
    common = {"in": "query", "required": parameter.required}
    if not about.bounds:
        schema = {key: value for key, value in about.schema.items() if key != "description"}
        return [
            {
                "name": parameter.name,
                **common,
                "description": text,
                "schema": schema,
                "example": parameter.example,
            }
        ]
    bounds = about.bounds.values()
    return [
        {
            "name": parameter.name,
            **common,
            "description": f"{text} In {parameter.unit_name}, whose bounds GET /v1/units lists.",
            "schema": {
                "type": "number",
                "minimum": min(one.lowest for one in bounds),
                "maximum": max(one.highest for one in bounds),
            },
            "example": parameter.example,
        },
        {
            "name": parameter.unit_name,
            **common,
            "description": f"Unit of {parameter.name}; needed where that is given.",
            "schema": {"type": "string", "enum": list(about.bounds)},
            "example": parameter.unit,
        },
    ]
