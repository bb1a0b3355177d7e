"""Writes src/upstroke/_models.py from the service's OpenAPI document.

    python sdk/generate.py

Run it whenever openapi/openapi.json changes; a test fails while the two differ.

Requests are strict: unknown fields are refused, words are closed lists. Answers are tolerant: unknown
fields are ignored, words are plain text, what is absent reads as None. Every schema of a value with its
unit becomes the one type Quantity, and every one of numbers with their unit the one type Series. A formula's
pairs of parameters, a value and its unit, become one quantity.
"""
# ruff: noqa: INP001, T201 - a command beside the package, not a part of it

import json
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from itertools import permutations
from pathlib import Path
from typing import Any, Final, Literal, TypeAlias, cast

ROOT: Final = Path(__file__).parents[1]
DOCUMENT: Final = ROOT / "openapi/openapi.json"
MODELS: Final = ROOT / "sdk/src/upstroke/_models.py"

Schema: TypeAlias = dict[str, Any]
Schemas: TypeAlias = dict[str, Schema]
Side: TypeAlias = Literal["request", "answer"]

HEADER: Final = '''\
"""The facts that go in and the answers that come out.

Written by sdk/generate.py from openapi/openapi.json; change the service's contract, not this file.
"""

from collections.abc import Mapping, Sequence
from typing import Annotated, Literal, Required, TypeAlias, TypedDict

from msgspec import UNSET, Meta, Struct, UnsetType

from ._columns import Series, Table
from ._display import Displayed
from ._quantity import Quantity, QuantityInput
'''
# Where a docstring's first line ends once it is longer than this.
SPLITS: Final = {". ": 90, "; ": 110, ": ": 110}
# What has more to it than its fields, by its schema's name: the base that holds that.
BASES: Final = {"Sizing": "Displayed"}
# Quantities in a query, by the first of their units: name and description.
QUERIED: Final = {
    "ft": ("QueryLength", "A length, height or diameter in the query of a formula."),
    "psi": ("QueryPressure", "A gauge pressure in the query of a formula."),
    "gal": ("QueryVolume", "A volume in the query of a formula."),
}
SCALARS: Final = {"string": "str", "number": "float", "integer": "int", "boolean": "bool"}
# The units that come first in messages; the others follow in the order of the document.
UNIT_ORDER: Final = ("ft", "in", "psi", "gal", "lbf", "degF", "gpm/ft", "m", "L", "W")


def render(document: Schema) -> str:
    """The text of _models.py for an OpenAPI document."""
    document = _united(document)
    schemas: Schemas = document["components"]["schemas"]
    operations = [operation for path in document["paths"].values() for operation in path.values()]
    roots = _references([operation.get("requestBody") for operation in operations])
    requests = _reachable(schemas, roots)
    answers = _reachable(schemas, _references([operation["responses"] for operation in operations]))
    if shared := {name for name in requests if name in answers}:
        raise ValueError(f"both in requests and in answers, which differ in strictness: {sorted(shared)}")
    tags = _tags(schemas)
    parts = [_quantity(name, schemas[name]) for name in requests if _units(schemas[name])]
    parts += [_request(name, schemas, tags.get(name)) for name in requests if not _units(schemas[name])]
    parts += [_keywords(name, schemas) for name in roots]
    formulas = [operation for operation in operations if "text/csv" in _told(operation)]
    parts += _queried(formulas)
    parts += [_formula(operation, schemas) for operation in formulas]
    parts += [_answer(name, schemas) for name in answers if name != "Series" and not _units(schemas[name])]
    return _formatted(HEADER + "\n" + "\n\n".join(parts))


def _united(document: Schema) -> Schema:
    """The document with one block in place of two that differ only in what they require.

    Users then describe a site once for every calculation; the service says what one of them lacks.
    """
    text = json.dumps(document)
    schemas: Schemas = document["components"]["schemas"]
    for strict, loose in permutations(schemas, 2):
        same_fields = schemas[strict].get("properties", strict) == schemas[loose].get("properties", loose)
        if same_fields and set(schemas[strict]["required"]) > set(schemas[loose]["required"]):
            text = text.replace(f'"#/components/schemas/{strict}"', f'"#/components/schemas/{loose}"')
    united: Schema = json.loads(text)
    return united


def _references(node: object) -> list[str]:
    """Names of the schemas that a part of the document refers to, in order."""
    names: list[str] = []
    if isinstance(node, list):
        for item in cast("list[object]", node):
            names += _references(item)
    elif isinstance(node, dict):
        for key, value in cast("Schema", node).items():
            names += [_name(value)] if key == "$ref" else _references(value)
    return list(dict.fromkeys(names))


def _name(reference: str) -> str:
    return reference.rpartition("/")[2]


def _reachable(schemas: Schemas, roots: list[str]) -> list[str]:
    """Names of the schemas that the roots need, each after those that it needs itself."""
    ordered: dict[str, None] = {}

    def visit(name: str) -> None:
        if name not in ordered:
            for needed in _references(schemas[name]):
                visit(needed)
            ordered[name] = None

    for root in roots:
        visit(root)
    return list(ordered)


def _tags(schemas: Schemas) -> dict[str, tuple[str, str]]:
    """The field and the word that tell apart the members of a union, by the member's name."""
    return {
        _name(reference): (field["discriminator"]["propertyName"], word)
        for schema in schemas.values()
        for field in schema.get("properties", {}).values()
        if "discriminator" in field
        for word, reference in field["discriminator"]["mapping"].items()
    }


def _units(schema: Schema) -> list[str]:
    """The units of a quantity, which may come with one variant per unit; empty for any other schema."""
    variants: list[Schema] = schema.get("anyOf", [schema])
    if any(set(variant.get("properties", {})) != {"value", "unit"} for variant in variants):
        return []
    units = [unit for variant in variants for unit in _words(variant["properties"]["unit"])]
    return list(_ordered(units))


def _ordered(units: list[str]) -> tuple[str, ...]:
    """The units that come first in messages, then the others."""
    return tuple(
        sorted(units, key=lambda unit: UNIT_ORDER.index(unit) if unit in UNIT_ORDER else len(UNIT_ORDER))
    )


def _annotation(schema: Schema, schemas: Schemas, side: Side) -> str:
    if "$ref" in schema:
        name = _name(schema["$ref"])
        return "Quantity" if side == "answer" and _units(schemas[name]) else name
    if alternatives := schema.get("anyOf") or schema.get("oneOf"):
        return " | ".join(_annotation(alternative, schemas, side) for alternative in alternatives)
    if words := _words(schema):
        return "str" if side == "answer" else f"Literal[{', '.join(map(json.dumps, words))}]"
    if schema.get("type") == "array":
        item = _annotation(schema["items"], schemas, side)
        return f"tuple[{item}, ...]" if side == "answer" else f"Sequence[{item}]"
    return SCALARS[schema["type"]]


def _words(schema: Schema) -> list[str]:
    return [schema["const"]] if "const" in schema else schema.get("enum", [])


def _quantity(name: str, schema: Schema) -> str:
    units = tuple(_units(schema))
    return f"{name}: TypeAlias = Annotated[QuantityInput, Meta(extra={{'units': {units!r}}})]\n" + _docstring(
        schema["description"]
    )


def _request(name: str, schemas: Schemas, tag: tuple[str, str] | None) -> str:
    schema = schemas[name]
    tagged = f", tag_field={tag[0]!r}, tag={tag[1]!r}" if tag else ""
    lines = [f"class {name}(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True{tagged}):"]
    lines.append(_indented(_docstring(schema["description"])) + "\n")
    for field, described in _fields(schema):
        if tag and field == tag[0]:
            continue
        annotation = _annotation(described, schemas, "request")
        optional = "" if field in schema["required"] else " | UnsetType = UNSET"
        default = f" Default: {described['default']}." if "default" in described else ""
        lines.append(f"    {field}: {annotation}{optional}")
        lines.append(_indented(_docstring(described.get("description", "") + default)))
    return "\n".join(lines)


def _keywords(name: str, schemas: Schemas) -> str:
    lines = [f"class {name.removesuffix('Request')}Facts(TypedDict, total=False):"]
    lines.append(f'    """The fields of {name} as keyword arguments."""\n')
    for field, described in _fields(schemas[name]):
        mapping = " | Mapping[str, object]" if "$ref" in described else ""
        lines.append(f"    {field}: {_annotation(described, schemas, 'request')}{mapping}")
    return "\n".join(lines)


def _told(operation: Schema) -> Schema:
    """What an operation answers, by media type."""
    content: Schema = operation["responses"].get("200", {}).get("content", {})
    return content


def _parameters(operation: Schema) -> Iterator[tuple[str, Schema, tuple[str, ...]]]:
    """The facts in the query of a formula: name, parameter, and the units of a quantity."""
    given = {one["name"]: one for one in operation["parameters"] if one["in"] == "query"}
    for name, parameter in given.items():
        unit = given.get(f"{name}_unit")
        # How it answers is the client's business.
        if name not in {"format", "units"} and name.removesuffix("_unit") not in given.keys() - {name}:
            yield name, parameter, _ordered(_words(unit["schema"])) if unit else ()


def _queried(formulas: list[Schema]) -> list[str]:
    kinds = {units for operation in formulas for _, _, units in _parameters(operation) if units}
    return [
        f"{QUERIED[units[0]][0]}: TypeAlias = Annotated[QuantityInput, Meta(extra={{'units': {units!r}}})]\n"
        + _docstring(QUERIED[units[0]][1])
        for units in sorted(kinds)
    ]


def _formula(operation: Schema, schemas: Schemas) -> str:
    words = operation["operationId"].removeprefix("get_").split("_")
    lines = [f"class {''.join(map(str.capitalize, words))}Query(TypedDict, total=False):"]
    lines.append(f'    """The facts of the formula {" ".join(words)} as keyword arguments."""\n')
    for name, parameter, units in _parameters(operation):
        kind = QUERIED[units[0]][0] if units else _annotation(parameter["schema"], schemas, "request")
        lines.append(f"    {name}: {f'Required[{kind}]' if parameter['required'] else kind}")
    return "\n".join(lines)


def _base(name: str, schema: Schema) -> str:
    """The base of an answer: a table where it has columns and nothing else."""
    fields = schema["properties"].values()
    column = [field.get("$ref", "").endswith("/Series") or field.get("type") == "array" for field in fields]
    series = sum(field.get("$ref", "").endswith("/Series") for field in fields)
    return "Table" if all(column) and series > 1 else BASES.get(name, "Struct")


def _answer(name: str, schemas: Schemas) -> str:
    schema = schemas[name]
    lines = [f"class {name}({_base(name, schema)}, frozen=True, kw_only=True, omit_defaults=True):"]
    lines.append(_indented(_docstring(schema["description"])) + "\n")
    for field, described in _fields(schema):
        optional = "" if field in schema["required"] else " | None = None"
        words = _words(described)
        known = f" Known words: {', '.join(words)}; more may come." if words else ""
        lines.append(f"    {field}: {_annotation(described, schemas, 'answer')}{optional}")
        lines.append(_indented(_docstring(described.get("description", "") + known)))
    return "\n".join(lines)


def _fields(schema: Schema) -> Iterator[tuple[str, Schema]]:
    yield from schema.get("properties", {}).items()


def _docstring(text: str) -> str:
    """A docstring whose first line is a sentence, or the head of a long one; nothing for no text."""
    if not text.strip():
        return ""
    first, *others = text.strip().split("\n\n")
    for mark, longest in SPLITS.items():
        if len(first) > longest:
            head, _, rest = first.partition(mark)
            first, others = (f"{head}.", [rest[0].upper() + rest[1:], *others]) if rest else (first, others)
    paragraphs = [first, *(textwrap.fill(" ".join(other.split()), 100) for other in others)]
    body = "\n\n".join(paragraphs)
    return f'"""{body}"""' if "\n" not in body else f'"""{body}\n"""'


def _indented(text: str) -> str:
    return textwrap.indent(text, "    ")


def _formatted(text: str) -> str:
    command = [sys.executable, "-m", "ruff", "format", "--stdin-filename", str(MODELS), "-"]
    done = subprocess.run(  # noqa: S603 - our own command
        command, input=text, capture_output=True, text=True, check=True
    )
    return done.stdout


if __name__ == "__main__":
    MODELS.write_text(render(json.loads(DOCUMENT.read_text())))
    print(f"wrote {MODELS.relative_to(ROOT)}")
