"""The comparison of contracts finds each kind of break, and lets its harmless counterpart pass."""

import copy
from typing import Any, Final

import pytest
from tests.contract.breaks import Break, breaks
from tests.contract.documents import DOCUMENT, SCHEMAS, Node

REMOVED: Final = object()

Change = tuple[str, Any]
"""Where in the contract, and what stands there then."""


def quantity(units: dict[str, float]) -> Node:
    """A quantity with a greatest value for each unit."""
    return {
        "anyOf": [
            {
                "type": "object",
                "properties": {
                    "value": {"type": "number", "minimum": 0, "maximum": most},
                    "unit": {"type": "string", "const": unit},
                },
                "required": ["value", "unit"],
                "additionalProperties": False,
            }
            for unit, most in units.items()
        ]
    }


FACTS: Node = {
    "type": "object",
    "properties": {
        "depth": {"$ref": "#/components/schemas/Depth"},
        "kind": {"type": "string", "enum": ["lift", "suction"]},
        "points": {"type": "integer", "minimum": 2, "maximum": 100, "default": 51},
        "name": {"type": "string", "minLength": 1, "maxLength": 64, "pattern": "^[a-z]+$"},
        "runs": {"type": "array", "items": {"type": "number", "exclusiveMinimum": 0}, "maxItems": 12},
        "supply": {
            "anyOf": [{"$ref": "#/components/schemas/Switch"}, {"$ref": "#/components/schemas/Drive"}]
        },
    },
    "required": ["depth"],
    "additionalProperties": False,
}
ANSWER: Node = {
    "type": "object",
    "properties": {
        "head": {
            "type": "object",
            "properties": {"value": {"type": "number"}, "unit": {"type": "string", "enum": ["ft", "m"]}},
            "required": ["value", "unit"],
        },
        "strokes": {"type": "integer"},
        "reasons": {"type": "array", "items": {"type": "string"}},
        "outcome": {"type": "string", "enum": ["fits", "stalls"]},
        "hint": {"type": "string"},
    },
    "required": ["head", "strokes", "reasons", "outcome"],
}


def supply(kind: str) -> Node:
    return {
        "type": "object",
        "properties": {"kind": {"type": "string", "const": kind}, "start": {"type": "number"}},
        "required": ["kind"],
    }


CONTRACT: Node = {
    "paths": {
        "/v1/sizings": {
            "post": {
                "operationId": "size_pump",
                "security": [{}],
                "parameters": [
                    {
                        "in": "query",
                        "name": "units",
                        "required": False,
                        "schema": {"type": "string", "enum": ["us", "si"], "default": "us"},
                    }
                ],
                "requestBody": {
                    "required": True,
                    "content": {"application/json": {"schema": {"$ref": "#/components/schemas/Facts"}}},
                },
                "responses": {
                    "200": {
                        "headers": {"X-Request-Id": {"schema": {"type": "string"}}},
                        "content": {"application/json": {"schema": {"$ref": "#/components/schemas/Answer"}}},
                    },
                    "422": {"content": {"application/problem+json": {"schema": {"type": "object"}}}},
                },
            }
        },
        "/v1/units": {"get": {"operationId": "list_units", "responses": {"200": {}}}},
    },
    "components": {
        "schemas": {
            "Facts": FACTS,
            "Answer": ANSWER,
            "Depth": quantity({"ft": 2000.0, "m": 600.0}),
            "Switch": supply("switch"),
            "Drive": supply("drive"),
        }
    },
}
OPERATION = "paths ~ /v1/sizings ~ post"
INPUT = "components ~ schemas ~ Facts"
FIELDS = f"{INPUT} ~ properties"
OUTPUT = "components ~ schemas ~ Answer"
DEPTH = "components ~ schemas ~ Depth ~ anyOf"
RESPONSES = f"{OPERATION} ~ responses"
BODY = f"{OPERATION} ~ requestBody"
NEW_PARAMETER: Node = {"in": "query", "name": "language", "schema": {"type": "string"}}
SWITCH: Node = {"$ref": "#/components/schemas/Switch"}
JSON_TEXT: Node = {"schema": {"type": "string"}}

# Kind of break, the change that breaks, the change beside it that doesn't.
CASES: dict[str, tuple[str, Change, Change]] = {
    "path": ("operation removed", ("paths ~ /v1/units", REMOVED), ("paths ~ /v1/pumps", {})),
    "method": (
        "operation removed",
        ("paths ~ /v1/units ~ get", REMOVED),
        ("paths ~ /v1/units ~ post", {"responses": {}}),
    ),
    "operation id": (
        "operation id changed",
        (f"{OPERATION} ~ operationId", "size"),
        (f"{OPERATION} ~ summary", "Size a pump"),
    ),
    "answer field": (
        "answer field removed",
        (f"{OUTPUT} ~ properties ~ hint", REMOVED),
        (f"{OUTPUT} ~ properties ~ more", {"type": "string"}),
    ),
    "header of an answer": (
        "answer field removed",
        (f"{RESPONSES} ~ 200 ~ headers ~ X-Request-Id", REMOVED),
        (f"{RESPONSES} ~ 200 ~ headers ~ ETag", JSON_TEXT),
    ),
    "what an answer requires": (
        "answer field optional",
        (f"{OUTPUT} ~ required", ["head", "strokes", "reasons"]),
        (f"{OUTPUT} ~ required", ["head", "strokes", "reasons", "outcome", "hint"]),
    ),
    "type of an answer": (
        "answer type changed",
        (f"{OUTPUT} ~ properties ~ strokes ~ type", "number"),
        (f"{OUTPUT} ~ properties ~ head ~ properties ~ value ~ type", "integer"),
    ),
    "entries of an answer": (
        "answer type changed",
        (f"{OUTPUT} ~ properties ~ reasons ~ items", REMOVED),
        (f"{OUTPUT} ~ properties ~ reasons ~ items ~ enum", ["a word"]),
    ),
    "unit of an answer": (
        "unit removed",
        (f"{OUTPUT} ~ properties ~ head ~ properties ~ unit ~ enum", ["in", "m"]),
        (f"{OUTPUT} ~ properties ~ outcome ~ enum", ["fits", "fits_with_limits"]),
    ),
    "alternatives of an answer": (
        "answer alternatives changed",
        (f"{OUTPUT} ~ properties ~ hint", {"anyOf": [{"type": "string"}, SWITCH]}),
        (f"{OUTPUT} ~ properties ~ hint", {"anyOf": [{"type": "string"}]}),
    ),
    "required fact": (
        "input required",
        (f"{INPUT} ~ required", ["depth", "kind"]),
        (f"{INPUT} ~ required", []),
    ),
    "new fact": (
        "input required",
        (INPUT, {**FACTS, "properties": {**FACTS["properties"], "age": {}}, "required": ["depth", "age"]}),
        (INPUT, {**FACTS, "properties": {**FACTS["properties"], "age": {}}}),
    ),
    "new parameter": (
        "input required",
        (f"{OPERATION} ~ parameters ~ 1", {**NEW_PARAMETER, "required": True}),
        (f"{OPERATION} ~ parameters ~ 1", NEW_PARAMETER),
    ),
    "parameter": (
        "input removed",
        (f"{OPERATION} ~ parameters ~ 0", REMOVED),
        (f"{OPERATION} ~ parameters ~ 0 ~ description", "Units of the answer."),
    ),
    "fact": ("input removed", (f"{FIELDS} ~ name", REMOVED), (f"{FIELDS} ~ name ~ pattern", REMOVED)),
    "body": ("input removed", (BODY, REMOVED), (f"{BODY} ~ required", False)),
    "word of a fact": (
        "input narrowed",
        (f"{FIELDS} ~ kind ~ enum", ["lift"]),
        (f"{FIELDS} ~ kind ~ enum", ["lift", "suction", "rotary"]),
    ),
    "words where any text went": (
        "input narrowed",
        (f"{FIELDS} ~ name ~ enum", ["a"]),
        (f"{FIELDS} ~ kind ~ enum", REMOVED),
    ),
    "word of a parameter": (
        "input narrowed",
        (f"{OPERATION} ~ parameters ~ 0 ~ schema ~ enum", ["us"]),
        (f"{OPERATION} ~ parameters ~ 0 ~ schema ~ enum", ["us", "si", "imperial"]),
    ),
    "type of a fact": (
        "input narrowed",
        (f"{FIELDS} ~ runs ~ items ~ type", "integer"),
        (f"{FIELDS} ~ points ~ type", "number"),
    ),
    "unknown fields": (
        "input narrowed",
        ("components ~ schemas ~ Switch ~ additionalProperties", False),
        (f"{INPUT} ~ additionalProperties", True),
    ),
    "least value": (
        "bound tightened",
        (f"{FIELDS} ~ points ~ minimum", 3),
        (f"{FIELDS} ~ points ~ minimum", REMOVED),
    ),
    "least value, no longer allowed itself": (
        "bound tightened",
        (f"{FIELDS} ~ points", {"type": "integer", "exclusiveMinimum": 2, "maximum": 100, "default": 51}),
        (f"{FIELDS} ~ runs ~ items", {"type": "number", "minimum": 0}),
    ),
    "greatest value": (
        "bound tightened",
        (f"{FIELDS} ~ points ~ maximum", 99),
        (f"{FIELDS} ~ points ~ maximum", 101),
    ),
    "greatest value in a unit": (
        "bound tightened",
        (f"{DEPTH} ~ 1 ~ properties ~ value ~ maximum", 500.0),
        (f"{DEPTH} ~ 1 ~ properties ~ value ~ maximum", 700.0),
    ),
    "greatest length": (
        "bound tightened",
        (f"{FIELDS} ~ name ~ maxLength", 63),
        (f"{FIELDS} ~ name ~ maxLength", REMOVED),
    ),
    "least length": (
        "bound tightened",
        (f"{FIELDS} ~ name ~ minLength", 2),
        (f"{FIELDS} ~ name ~ minLength", 0),
    ),
    "number of entries": (
        "bound tightened",
        (f"{FIELDS} ~ runs ~ maxItems", 11),
        (f"{FIELDS} ~ runs ~ maxItems", 13),
    ),
    "pattern": (
        "bound tightened",
        (f"{FIELDS} ~ name ~ pattern", "^[a-c]+$"),
        (f"{FIELDS} ~ name ~ description", "A name."),
    ),
    "default": (
        "default changed",
        (f"{FIELDS} ~ points ~ default", 21),
        (f"{FIELDS} ~ kind ~ default", "lift"),
    ),
    "default of a parameter": (
        "default changed",
        (f"{OPERATION} ~ parameters ~ 0 ~ schema ~ default", "si"),
        (f"{OPERATION} ~ parameters ~ 0 ~ schema ~ description", "Units."),
    ),
    "media type of a request": (
        "media type removed",
        (f"{BODY} ~ content ~ application/json", REMOVED),
        (f"{BODY} ~ content ~ application/cbor", JSON_TEXT),
    ),
    "media type of an answer": (
        "media type removed",
        (f"{RESPONSES} ~ 200 ~ content", {"application/cbor": JSON_TEXT}),
        (f"{RESPONSES} ~ 200 ~ content ~ application/cbor", JSON_TEXT),
    ),
    "status": ("status removed", (f"{RESPONSES} ~ 422", REMOVED), (f"{RESPONSES} ~ 503", {})),
    "unit": (
        "unit removed",
        (f"{DEPTH} ~ 0", REMOVED),
        ("components ~ schemas ~ Depth", quantity({"m": 600.0, "ft": 2000.0, "in": 24000.0})),
    ),
    "alternative": (
        "input alternatives changed",
        (f"{FIELDS} ~ supply ~ anyOf ~ 1", REMOVED),
        (f"{FIELDS} ~ supply ~ anyOf ~ 2", supply("gravity")),
    ),
    "fact of an alternative": (
        "input removed",
        ("components ~ schemas ~ Drive ~ properties ~ start", REMOVED),
        ("components ~ schemas ~ Drive ~ properties ~ stop", {"type": "number"}),
    ),
    "security": (
        "security required",
        (f"{OPERATION} ~ security", [{"key": []}]),
        (f"{OPERATION} ~ security", [{"key": []}, {}]),
    ),
    "security of the whole contract": (
        "security required",
        ("security", [{"key": []}]),
        ("security", []),
    ),
}


def changed(document: Node, change: Change) -> Node:
    """The contract with one change."""
    where, value = change
    new = copy.deepcopy(document)
    *steps, last = where.split(" ~ ")
    place: Any = new
    for step in steps:
        place = place[int(step) if isinstance(place, list) else step]
    if isinstance(place, list):
        place[int(last) : int(last) + 1] = [] if value is REMOVED else [value]
    elif value is REMOVED:
        del place[last]
    else:
        place[last] = value
    return new


@pytest.mark.parametrize(("kind", "breaking"), [case[:2] for case in CASES.values()], ids=CASES)
def test_a_break_is_found(kind: str, breaking: Change) -> None:
    assert [one.kind for one in breaks(CONTRACT, changed(CONTRACT, breaking))] == [kind]


@pytest.mark.parametrize("harmless", [case[2] for case in CASES.values()], ids=CASES)
def test_its_harmless_counterpart_is_none(harmless: Change) -> None:
    new = changed(CONTRACT, harmless)

    assert new != CONTRACT
    assert breaks(CONTRACT, new) == []


def test_a_break_says_where_and_what() -> None:
    found = breaks(CONTRACT, changed(CONTRACT, (f"{FIELDS} ~ points ~ maximum", 99)))

    assert found == [Break("bound tightened", "Facts.points", "greatest value 100 to 99")]
    assert str(found[0]) == "bound tightened: Facts.points: greatest value 100 to 99"


def test_what_cannot_be_compared_is_refused() -> None:
    unknowns: list[Change] = [
        (f"{FIELDS} ~ name ~ not", {}),
        (f"{FIELDS} ~ name ~ additionalProperties", {"type": "string"}),
        (f"{RESPONSES} ~ 422", {"$ref": "#/components/responses/Problem"}),
        ("paths ~ /v1/units ~ parameters", []),
    ]
    for unknown in unknowns:
        with pytest.raises(ValueError, match="comparison of contracts"):
            breaks(CONTRACT, changed(CONTRACT, unknown))


def test_the_whole_contract_does_not_break_itself() -> None:
    assert breaks(DOCUMENT, DOCUMENT) == []


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_field_of_the_contract_is_compared(name: str) -> None:
    """The fields of each schema in turn are renamed, but for what tells alternatives apart: none goes unnoticed."""
    fields = {
        field: value for field, value in SCHEMAS[name].get("properties", {}).items() if "const" not in value
    }
    renamed = {
        f"{field}_" if field in fields else field: value
        for field, value in SCHEMAS[name].get("properties", {}).items()
    }
    schemas = {**SCHEMAS, name: {**SCHEMAS[name], "properties": renamed}}
    found = {one.place for one in breaks(DOCUMENT, {**DOCUMENT, "components": {"schemas": schemas}})}

    assert {f"{name}.{field}" for field in fields} <= found
